//! Reading a translation from its file.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use crate::cli::Failure;
use crate::translation::{Catalogue, Fault};

/// The largest translation that is read, in bytes; the template has a twentieth of it.
const FILE_MAX: u64 = 8 * 1024 * 1024;

/// The text of a translation.
///
/// # Errors
/// It cannot be read.
pub(crate) fn text(path: &Path) -> Result<String, Failure> {
    let fail = |why: String| {
        Failure::input(tr!(
            "{}: {why}; name another translation with --translation, or take it out of settings.yaml",
            path.display()
        ))
    };
    let mut raw = Vec::new();
    let file = File::open(path).map_err(|e| fail(e.to_string()))?;
    let read = file.take(FILE_MAX + 1).read_to_end(&mut raw);
    read.map_err(|e| fail(e.to_string()))?;
    if raw.len() as u64 > FILE_MAX {
        return Err(fail(tr!(
            "it is larger than {} MiB",
            FILE_MAX / 1024 / 1024
        )));
    }
    String::from_utf8(raw).map_err(|_| fail(tr!("it is not UTF-8; save it as UTF-8").to_owned()))
}

/// The translation in a file.
///
/// # Errors
/// It cannot be read, or does not fit the texts.
pub(crate) fn catalogue(path: &Path) -> Result<Catalogue, Failure> {
    Catalogue::read(&text(path)?).map_err(|faults| refused(path, &faults))
}

/// The first thing that is wrong, and how many more there are.
fn refused(path: &Path, faults: &[Fault]) -> Failure {
    let first = faults.first().map(Fault::to_string).unwrap_or_default();
    let more = match faults.len().saturating_sub(1) {
        0 => String::new(),
        n => tr!(n; " (and {n} more message)" | " (and {n} more messages)"),
    };
    Failure::input(tr!(
        "{}, {first}{more}; `foreply translation check FILE` lists all, --translation names another one",
        path.display()
    ))
}
