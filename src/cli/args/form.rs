//! The form in which something is written: by a flag, by the name of the file, or refused where the two differ.

use std::path::{Path, PathBuf};

use clap::ValueEnum;

use crate::cli::shell::error::Failure;

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Text,
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Page {
    Text,
    Json,
    /// One page to read and to print
    Html,
}

/// The forms in which drills are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DrillForm {
    Yaml,
    Epd,
    Pgn,
}

/// Endings that name a form; a file with any other ending may hold what it likes.
const ENDINGS: [(&str, &str); 9] = [
    ("json", "JSON"),
    ("html", "HTML"),
    ("htm", "HTML"),
    ("txt", "plain text"),
    ("yaml", "YAML"),
    ("yml", "YAML"),
    ("epd", "EPD"),
    ("pgn", "PGN"),
    ("csv", "a table of comma-separated values"),
];

/// What the ending of a name says, where it says something: the ending and what is written under it.
fn ending(path: &Path) -> Option<(&'static str, &'static str)> {
    let ending = path.extension()?.to_string_lossy().to_ascii_lowercase();
    ENDINGS.into_iter().find(|(known, _)| *known == ending)
}

// As what a page is told, and where to. No doc comment: the library would show it as what the command does.
#[derive(Debug, clap::Args)]
pub(crate) struct PageTarget {
    /// As what [default: what the name of the file says, else text]
    #[arg(long, value_enum)]
    pub format: Option<Page>,
    /// Writes to a file instead of standard output
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

impl PageTarget {
    /// Whether a program reads it. A target that will be refused is for nobody.
    pub(super) fn is_json(&self) -> bool {
        Page::asked(self.format, self.output.as_deref()) == Ok(Page::Json)
    }
}

impl Page {
    /// The form that is asked for: by the flag, else by the name of the file, else text.
    ///
    /// # Errors
    /// The name is that of another form.
    pub(crate) fn asked(flag: Option<Self>, output: Option<&Path>) -> Result<Self, Failure> {
        let Some((output, (end, named))) = output.and_then(|o| Some((o, ending(o)?))) else {
            return Ok(flag.unwrap_or(Self::Text));
        };
        let by_name = match end {
            "json" => Self::Json,
            "html" | "htm" => Self::Html,
            "txt" => Self::Text,
            _ => {
                return Err(Failure::input(tr!(
                    "{}: the name says {named}, which this command does not write; end it with .txt, .json or .html",
                    output.display()
                )));
            }
        };
        match flag {
            Some(flag) if flag != by_name => Err(Failure::input(tr!(
                "{}: the name says {named}, --format says {}; give the file the ending .{}, or leave --format out",
                output.display(),
                flag.word(),
                flag.word().replace("text", "txt"),
            ))),
            _ => Ok(by_name),
        }
    }

    const fn word(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Json => "json",
            Self::Html => "html",
        }
    }
}

impl DrillForm {
    /// The form that the name of a file asks for.
    ///
    /// # Errors
    /// It asks for none in which drills are written.
    pub(crate) fn asked(path: &Path) -> Result<Self, Failure> {
        match ending(path) {
            Some(("yaml" | "yml", _)) => Ok(Self::Yaml),
            Some(("epd", _)) => Ok(Self::Epd),
            Some(("pgn", _)) => Ok(Self::Pgn),
            Some((_, named)) => Err(Failure::input(tr!(
                "{}: the name says {named}, in which no drills are written; end it with .yaml, .epd or .pgn",
                path.display()
            ))),
            None => Err(Failure::input(tr!(
                "{}: the name does not say in which form; end it with .yaml, .epd or .pgn",
                path.display()
            ))),
        }
    }
}

/// Refuses a name that says another form than the one that is written.
///
/// # Errors
/// The name is that of another form.
pub(crate) fn only(output: Option<&Path>, ends: &[&str], written: &str) -> Result<(), Failure> {
    let Some((output, (end, named))) = output.and_then(|o| Some((o, ending(o)?))) else {
        return Ok(());
    };
    if ends.contains(&end) {
        return Ok(());
    }
    Err(Failure::input(tr!(
        "{}: the name says {named}, and what is written is {written}; end it with .{}",
        output.display(),
        ends.first().unwrap_or(&"txt")
    )))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(flag: Option<Page>, name: &str) -> Result<Page, String> {
        Page::asked(flag, Some(Path::new(name))).map_err(|f| f.into_messages().join(" "))
    }

    #[test]
    fn the_name_decides_and_a_flag_that_differs_is_refused() {
        assert_eq!(page(None, "a.json"), Ok(Page::Json));
        assert_eq!(page(None, "a.HTM"), Ok(Page::Html));
        assert_eq!(page(Some(Page::Html), "a.html"), Ok(Page::Html));
        assert_eq!(page(Some(Page::Json), "a.page"), Ok(Page::Json));
        assert_eq!(page(None, "a"), Ok(Page::Text));
        insta::assert_snapshot!(page(Some(Page::Json), "a.html").unwrap_err(), @"a.html: the name says HTML, --format says json; give the file the ending .json, or leave --format out");
        insta::assert_snapshot!(page(Some(Page::Text), "a.html").unwrap_err(), @"a.html: the name says HTML, --format says text; give the file the ending .txt, or leave --format out");
        insta::assert_snapshot!(page(None, "a.pgn").unwrap_err(), @"a.pgn: the name says PGN, which this command does not write; end it with .txt, .json or .html");
        let drills =
            |name: &str| DrillForm::asked(Path::new(name)).map_err(|f| f.into_messages().join(" "));
        assert_eq!(drills("x.PGN"), Ok(DrillForm::Pgn));
        insta::assert_snapshot!(drills("x").unwrap_err(), @"x: the name does not say in which form; end it with .yaml, .epd or .pgn");
    }
}
