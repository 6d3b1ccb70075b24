//! Where a command's output goes: standard output, or a file that may be written, with a message where it may not.

use std::path::Path;

use super::error::print_as_it_is;
use crate::app::{Asked, Output, is_same_file};
use crate::cli::Failure;

/// Asked for before the work begins, so that a refusal costs no work.
pub(crate) enum Target {
    Standard,
    File(Output),
}

impl Target {
    /// `None` and '-' are standard output, and so is any name of it.
    pub(crate) fn of(output: Option<&Path>, asked: &Asked<'_>) -> Result<Self, Failure> {
        match output {
            Some(path) if !is_standard_output(path) => {
                Ok(Self::File(Output::to(path, asked).map_err(Failure::input)?))
            }
            _ => Ok(Self::Standard),
        }
    }

    pub(crate) fn is_file(&self) -> bool {
        matches!(self, Self::File(_))
    }

    /// What is told to people or programs, as text, JSON or a page.
    pub(crate) fn tell(&self, text: &str) -> Result<(), Failure> {
        self.write(&crate::cli::letters::told(text))
    }

    /// What other programs read: PGN, YAML, EPD.
    pub(crate) fn write(&self, text: &str) -> Result<(), Failure> {
        match self {
            Self::Standard => print_as_it_is(text),
            Self::File(output) => output.write(text).map_err(Failure::input),
        }
    }
}

/// A file to which standard output goes must not be replaced under it.
fn is_standard_output(path: &Path) -> bool {
    path.as_os_str() == "-" || is_same_file(path, Path::new("/dev/stdout"))
}
