//! `settings.yaml` in the home folder: what would else be typed on every command line.
//!
//! All of it may be left out; an argument on the command line outranks it:
//!
//! ```yaml
//! engine: /opt/engine/bin/engine --uci
//! tables: /srv/syzygy
//! jobs: 2
//! nodes: 400000
//! ascii: true
//! letters: german
//! locale: de
//! translation: german.po
//! ```

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::app::AppError;
use crate::notation::Letters;
use crate::text::LocaleName;
use crate::text::limits::SETTINGS_MAX;

/// The name of the file in the home folder.
pub const SETTINGS_FILE: &str = "settings.yaml";

/// What the file may hold.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Preset {
    /// A UCI engine, program and arguments.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub engine: Option<String>,
    /// A folder of Syzygy endgame tables.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tables: Option<PathBuf>,
    /// Engines side by side, 1 to 64.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub jobs: Option<u16>,
    /// Nodes a search, 100 to 1,000,000,000.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nodes: Option<u64>,
    /// Nothing but ASCII on the screens.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ascii: Option<bool>,
    /// Whose piece letters are typed and shown.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub letters: Option<Letters>,
    /// How numbers and dates are written: a locale by its name, or `system`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub locale: Option<LocaleName>,
    /// A translation of the texts, a PO file; a relative path begins in the home folder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub translation: Option<PathBuf>,
}

impl Preset {
    /// The settings of a home folder; without a file everything is at its default.
    ///
    /// # Errors
    /// The file cannot be read, or holds something that is no setting.
    pub fn read(home: &Path) -> Result<Self, AppError> {
        let path = home.join(SETTINGS_FILE);
        let wrong = |why: String| AppError::Settings {
            path: path.clone(),
            why,
        };
        match text(&path) {
            Ok(None) => Ok(Self::default()),
            Ok(Some(text)) => Self::parse(&text).map_err(wrong),
            Err(why) => Err(wrong(why)),
        }
    }

    /// The translation that the settings of a home folder name; settings that cannot be read name none.
    #[must_use]
    pub fn translation_of(home: &Path) -> Option<PathBuf> {
        Some(home.join(Self::read(home).ok()?.translation?))
    }

    /// The settings in a text.
    ///
    /// # Errors
    /// The reason, with the line.
    pub fn parse(text: &str) -> Result<Self, String> {
        if text.len() > SETTINGS_MAX {
            return Err(tr!("it is larger than {} KiB", SETTINGS_MAX / 1024));
        }
        let bare = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        let nothing = |line: &str| {
            let line = line.trim();
            line.is_empty() || line == "---" || line.starts_with('#')
        };
        if bare.lines().all(nothing) {
            return Ok(Self::default());
        }
        let preset: Self = serde_yaml::from_str(bare).map_err(|e| e.to_string())?;
        preset.checked()
    }

    /// The settings as a text that is read as the same ones.
    ///
    /// # Errors
    /// They cannot be written down.
    pub(crate) fn written(&self) -> Result<String, String> {
        if *self == Self::default() {
            return Ok(String::new());
        }
        serde_yaml::to_string(self).map_err(|e| e.to_string())
    }

    fn checked(self) -> Result<Self, String> {
        match (self.jobs, self.nodes) {
            (Some(0 | 65..), _) => Err(tr!("jobs: a number from 1 to 64").to_owned()),
            (_, Some(0..100 | 1_000_000_001..)) => {
                Err(tr!("nodes: a number from 100 to 1000000000").to_owned())
            }
            _ => Ok(self),
        }
    }
}

fn text(path: &Path) -> Result<Option<String>, String> {
    use std::io::ErrorKind::{NotADirectory, NotFound, PermissionDenied};
    let kind = match path.metadata() {
        // A home that is no folder, or may not be entered, is told of by the store.
        Err(e) if matches!(e.kind(), NotFound | NotADirectory | PermissionDenied) => {
            return Ok(None);
        }
        other => other.map_err(|e| e.to_string())?,
    };
    if !kind.is_file() {
        return Err(tr!("this is no regular file").to_owned());
    }
    let mut raw = Vec::new();
    File::open(path)
        .and_then(|f| f.take(SETTINGS_MAX as u64 + 1).read_to_end(&mut raw))
        .map_err(|e| e.to_string())?;
    String::from_utf8(raw)
        .map(Some)
        .map_err(|_| tr!("it is not UTF-8; save it as UTF-8").to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_out_is_at_its_default() {
        assert_eq!(Preset::parse("").unwrap(), Preset::default());
        assert_eq!(Preset::parse("# nothing\n").unwrap(), Preset::default());
        let some = Preset::parse("jobs: 2\nengine: /opt/e --uci\n").unwrap();
        assert_eq!(
            (some.jobs, some.engine.as_deref()),
            (Some(2), Some("/opt/e --uci"))
        );
        let home = tempfile::tempdir().unwrap();
        assert_eq!(Preset::read(home.path()).unwrap(), Preset::default());
    }

    #[test]
    fn what_is_no_setting_is_told_with_its_line() {
        let told = |text: &str| Preset::parse(text).unwrap_err();
        insta::assert_snapshot!(told("jobs: 2\nengin: x\n"), @"unknown field `engin`, expected one of `engine`, `tables`, `jobs`, `nodes`, `ascii`, `letters`, `locale`, `translation` at line 2 column 1");
        insta::assert_snapshot!(told("jobs: many\n"), @r#"jobs: invalid type: string "many", expected u16 at line 1 column 7"#);
        insta::assert_snapshot!(told("jobs: 0\n"), @"jobs: a number from 1 to 64");
        insta::assert_snapshot!(told("nodes: 3\n"), @"nodes: a number from 100 to 1000000000");
        insta::assert_snapshot!(told("- a\n"), @"invalid type: sequence, expected struct Preset");
        assert!(Preset::parse(&"# x\n".repeat(10_000)).is_err());
    }
}
