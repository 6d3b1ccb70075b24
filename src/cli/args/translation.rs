//! The arguments of `foreply translation`.

use std::path::PathBuf;

use clap::Subcommand;

use super::form::Format;

#[derive(Debug, Subcommand)]
pub(crate) enum Translation {
    /// Writes the template of all texts, which a translation begins with
    #[command(after_help = TEMPLATE_EXAMPLE)]
    Template(Template),
    /// Says what a translation lacks, and what in it does not fit
    #[command(after_help = CHECK_EXAMPLE)]
    Check(CheckTranslation),
}

#[derive(Debug, clap::Args)]
pub(crate) struct Template {
    /// Writes to a file instead of standard output
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct CheckTranslation {
    /// The translation, a PO file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// As what
    #[arg(long, value_enum, default_value = "text")]
    pub format: Format,
}

pub(super) const TRANSLATION: &str = "\
The texts of the program are in English. A translation is one file in the PO format of GNU gettext, which every
editor for translations opens:

  foreply translation template -o german.po     all texts, with the places they come from
  foreply translation check german.po           what is still missing, what does not fit, line by line
  foreply --translation german.po               or for good, in settings.yaml: translation: german.po

The file's header names the language and its rule for plurals (Language, Plural-Forms). What the file does not
translate, or marks as fuzzy, is shown in English. {} and {name} are places for values: a translation has the same
ones in any order; {} are numbered {0}, {1} and so on. A translation that does not fit its text is refused with its
line. What programs read (JSON, PGN, YAML, UCI) and what is kept is the same in every language, and so are the names
of commands and options and the words that are typed.

What stands between the parts of a command line (Usage, Options, a wrong option) is said by a library, in English.";

const TEMPLATE_EXAMPLE: &str = "Example: foreply translation template -o german.po";

const CHECK_EXAMPLE: &str = "\
Example: foreply translation check german.po

Exit codes: 0 it may be used, 1 something does not fit, 2 wrong usage.";
