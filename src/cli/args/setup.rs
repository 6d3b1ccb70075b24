//! The arguments of `foreply setup`.

use super::form::Format;

pub(super) const SETUP_EXAMPLE: &str = "\
Example: foreply setup

Exit codes: 0 everything works, 1 settings or tables do not, 2 the terminal, 3 the engine, 4 the store.";

#[derive(Debug, clap::Args)]
pub(crate) struct Setup {
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}
