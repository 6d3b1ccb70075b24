//! The arguments of `foreply setup`.

use super::form::Format;

pub(super) const SETUP_EXAMPLE: &str = "\
Example: foreply setup

What you would type every time stands in settings.yaml in the home folder; the command line outranks it:

  engine: /opt/engine/bin/engine --uci
  tables: /srv/syzygy
  jobs: 2
  nodes: 400000
  ascii: true
  letters: german
  locale: de

A locale is a language, with a country where it has several (en-GB, pt_PT.UTF-8); system takes LC_ALL, LC_NUMERIC, LC_TIME
and LANG of the environment; C, or none, writes 0.38 and 2026-03-14. A day is typed as it is shown, or as 2026-03-14. JSON,
PGN, YAML and numbers in settings.yaml are the same in every locale.

Exit codes: 0 everything works, 1 settings or tables do not, 2 the terminal, 3 the engine, 4 the store.";

#[derive(Debug, clap::Args)]
pub(crate) struct Setup {
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}
