//! Systems without the ways of Unix, Windows above all: what is closest to them.

use std::fs::{DirBuilder, File, Metadata, OpenOptions, Permissions};
use std::io;
use std::path::Path;
use std::process::{Child, Command};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use signal_hook::consts::{SIGINT, SIGTERM};

/// True where both names lead to the same file.
#[must_use]
pub fn is_same_file(one: &Path, other: &Path) -> bool {
    let place = |path: &Path| path.canonicalize().ok();
    place(one).is_some() && place(one) == place(other)
}

/// True where the name leads to a file; an open one cannot be removed there.
#[must_use]
pub fn leads_to(path: &Path, _: &File) -> bool {
    matches!(path.try_exists(), Ok(true))
}

/// No disk is put in the place of a folder there.
#[must_use]
pub fn is_on_the_disk_above(_: &Path) -> bool {
    false
}

/// The folder's own rule.
#[must_use]
pub fn of_a_new_file() -> Option<Permissions> {
    None
}

/// The folders of the user are his own there.
///
/// # Errors
/// None.
pub fn keep_private(_: &Path) -> io::Result<()> {
    Ok(())
}

/// Makes folders: those of the user are his own.
#[must_use]
pub fn private_folders() -> DirBuilder {
    DirBuilder::new()
}

/// Opens files: those of the user are his own.
#[must_use]
pub fn private_files() -> OpenOptions {
    OpenOptions::new()
}

/// What kind of thing lies there, in words.
#[must_use]
pub fn kind(meta: &Metadata) -> &'static str {
    if meta.is_dir() {
        tr!("a folder")
    } else {
        tr!("no file")
    }
}

/// There are no groups that a process could lead.
pub fn lead_a_group(_: &mut Command) {}

/// Large pages are not for the asking there.
pub fn take_large_pages(_: &mut Command) {}

/// Whether the process has ended.
#[must_use]
pub fn has_ended(child: &mut Child) -> bool {
    !matches!(child.try_wait(), Ok(None))
}

/// Ends a process; an engine ends what it has started when its input ends.
pub fn end_group(child: &mut Child) {
    // Already gone is as good as killed.
    child.kill().ok();
}

/// Such a system ends it by the end of its input.
pub fn end_group_numbered(_: u32) {}

/// What asks the program to end ends it there, and the pipes of its engines with it.
pub fn at_the_end(_: impl Fn() -> bool + Send + 'static) {}

/// Has the flag set by what asks the program to end.
///
/// # Errors
/// That cannot be watched.
pub fn stop_on_signals(flag: &Arc<AtomicBool>) -> io::Result<()> {
    let heed = |signal| signal_hook::flag::register(signal, flag.clone()).map(|_| ());
    [SIGTERM, SIGINT].into_iter().try_for_each(heed)
}

/// No shell asks a program to pause there.
///
/// # Errors
/// None.
pub fn pause_on_signal(_: &Arc<AtomicBool>) -> io::Result<()> {
    Ok(())
}

/// There is nothing to wait for.
pub fn wait_for_the_shell() {}

/// A program ends with its terminal there.
#[must_use]
pub fn terminal_is_gone() -> bool {
    false
}

/// The terminal itself, as far as standard output leads to it.
///
/// # Errors
/// None here.
pub fn terminal() -> io::Result<Box<dyn io::Write>> {
    Ok(Box::new(io::stdout()))
}
