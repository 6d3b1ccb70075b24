//! Which translation this run has: found before the command line is read, so that its help is translated too.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use super::args::{Args, Command, Global};
use crate::app::Preset;
use crate::cli::Failure;
use crate::cli::shell::po_file;
use crate::translation;

/// What the command line says before it is read as a whole: that a translation is named, and which home folder.
pub(crate) struct Said {
    translation: Option<PathBuf>,
    home: Option<PathBuf>,
    json: bool,
}

impl Said {
    /// Looks through the words of the command line.
    pub(crate) fn of(words: impl Iterator<Item = OsString>) -> Self {
        let mut said = Self {
            translation: None,
            home: None,
            json: false,
        };
        let mut words = words.skip(1).take_while(|word| word != "--");
        while let Some(word) = words.next() {
            let text = word.to_string_lossy();
            let (name, value) = match text.split_once('=') {
                Some((name, value)) => (name.to_owned(), Some(OsString::from(value))),
                None => (text.into_owned(), None),
            };
            let mut value = || value.clone().or_else(|| words.next());
            match name.as_str() {
                "--translation" => said.translation = value().map(PathBuf::from),
                "--home" => said.home = value().map(PathBuf::from),
                "--format" => said.json |= value().is_some_and(|v| v == "json"),
                "--output" | "-o" => {
                    let json = |v: OsString| Path::new(&v).extension().is_some_and(|e| e == "json");
                    said.json |= value().is_some_and(json);
                }
                _ => {}
            }
        }
        said
    }
}

/// Reads the translation that is named on the command line, or else in the settings, for help and all texts after it.
/// What programs read has English texts whatever is set.
///
/// # Errors
/// The translation that the command line names cannot be used, or that of the settings.
pub(crate) fn choose(said: &Said) -> Result<(), Failure> {
    if said.json {
        return Ok(());
    }
    let named = match &said.translation {
        Some(path) => Some(path.clone()),
        None => set(said),
    };
    let Some(path) = named else {
        return Ok(());
    };
    translation::choose(po_file::catalogue(&path)?);
    Ok(())
}

/// The translation that the settings name; settings that cannot be read are told by the command.
fn set(said: &Said) -> Option<PathBuf> {
    let home = match &said.home {
        Some(home) => home.clone(),
        None => Global::home_of_the_platform()?,
    };
    Preset::translation_of(&home)
}

/// True for the commands that say what is wrong with a translation, or nothing to people.
pub(crate) fn does_without(args: &Args) -> bool {
    matches!(
        args.command,
        Some(Command::Translation(_) | Command::Setup(_) | Command::Engine(_) | Command::Schema(_))
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(line: &str) -> (Option<PathBuf>, Option<PathBuf>, bool) {
        let said = Said::of(line.split(' ').map(OsString::from));
        (said.translation, said.home, said.json)
    }

    #[test]
    fn what_is_named_is_found_before_the_line_is_read() {
        let path = |p: &str| Some(PathBuf::from(p));
        assert_eq!(
            said("foreply --home /h review x --translation de.po"),
            (path("de.po"), path("/h"), false)
        );
        assert_eq!(
            said("foreply review --translation=de.po --format json"),
            (path("de.po"), None, true)
        );
        assert!(said("foreply review -o x.json").2);
        assert!(!said("foreply review -o x.html --format text").2);
        assert_eq!(said("foreply review -- --translation de.po").0, None);
    }
}
