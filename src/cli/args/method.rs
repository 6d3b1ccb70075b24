//! The arguments of `foreply method`.

use super::form::PageTarget;

pub(super) const METHOD_EXAMPLE: &str = "\
Thresholds are the program's own constants, examples are computed, measured numbers were written by a test.

Examples:
  foreply method
  foreply method -o method.html";

#[derive(Debug, clap::Args)]
pub(crate) struct Method {
    #[command(flatten)]
    pub page: PageTarget,
}
