//! The settings in a backup: a file may come from anybody, so it never brings a program that is to be started, nor a
//! place on this machine.

use std::path::Path;

use crate::app::{Preset, SETTINGS_FILE};

/// What a restoring writes as settings: those of the backup, but engine, tables and translation as they are set here. What is left
/// out is told. `None` where nothing is to be written.
pub(super) fn sift(name: &str, path: &Path, text: &str, told: &mut Vec<String>) -> Option<String> {
    if name != SETTINGS_FILE {
        return None;
    }
    let brought = match Preset::parse(text) {
        Ok(preset) => preset,
        Err(why) => {
            told.push(tr!(
                "The settings of the backup cannot be read ({why}) and are left out."
            ));
            return None;
        }
    };
    let own = path.parent().and_then(|home| Preset::read(home).ok());
    let own = own.unwrap_or_default();
    if brought.engine != own.engine
        && let Some(command) = &brought.engine
    {
        told.push(left_out(
            tr!("an engine, which is a program to be started"),
            "engine",
            command,
            path,
        ));
    }
    if brought.tables != own.tables
        && let Some(folder) = &brought.tables
    {
        let folder = folder.display().to_string();
        told.push(left_out(
            tr!("a folder of endgame tables"),
            "tables",
            &folder,
            path,
        ));
    }
    if brought.translation != own.translation
        && let Some(file) = &brought.translation
    {
        let file = file.display().to_string();
        told.push(left_out(
            tr!("a translation, which is a file of its own"),
            "translation",
            &file,
            path,
        ));
    }
    let places = |of: &Preset| (of.engine.clone(), of.tables.clone(), of.translation.clone());
    if places(&brought) == places(&own) {
        return Some(text.to_owned());
    }
    let kept = Preset {
        engine: own.engine,
        tables: own.tables,
        translation: own.translation,
        ..brought
    };
    match kept.written() {
        Ok(text) => Some(text),
        Err(why) => {
            told.push(tr!("The settings of the backup are left out ({why})."));
            None
        }
    }
}

fn left_out(what: &str, key: &str, value: &str, path: &Path) -> String {
    tr!(
        "The settings of the backup name {what}. It is left out, since a backup may come from anybody; if you know \
         it, write this line into {} yourself: {key}: {value}",
        path.display()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sifted(here: Option<&str>, text: &str) -> (Option<String>, String) {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join(SETTINGS_FILE);
        if let Some(here) = here {
            std::fs::write(&path, here).unwrap();
        }
        let mut told = Vec::new();
        let kept = sift(SETTINGS_FILE, &path, text, &mut told);
        let home = home.path().display().to_string();
        (kept, told.join("\n").replace(&home, "HOME"))
    }

    #[test]
    fn a_backup_brings_no_program_and_no_place() {
        let (kept, told) = sifted(
            None,
            "engine: sh -c 'touch x'\ntables: /srv/tables\njobs: 2\n",
        );
        assert_eq!(kept.as_deref(), Some("jobs: 2\n"));
        insta::assert_snapshot!(told, @r"
        The settings of the backup name an engine, which is a program to be started. It is left out, since a backup may come from anybody; if you know it, write this line into HOME/settings.yaml yourself: engine: sh -c 'touch x'
        The settings of the backup name a folder of endgame tables. It is left out, since a backup may come from anybody; if you know it, write this line into HOME/settings.yaml yourself: tables: /srv/tables
        ");
    }

    #[test]
    fn what_is_set_here_stays() {
        let own = "engine: /opt/mine --uci\n";
        let (kept, told) = sifted(Some(own), "engine: /opt/other\nascii: true\n");
        let kept = Preset::parse(&kept.unwrap()).unwrap();
        assert_eq!(kept.engine.as_deref(), Some("/opt/mine --uci"));
        assert_eq!(kept.ascii, Some(true));
        assert!(told.contains("/opt/other"), "{told}");
        let (kept, told) = sifted(Some(own), "jobs: 3\n");
        assert_eq!(
            Preset::parse(&kept.unwrap()).unwrap().engine.as_deref(),
            Some("/opt/mine --uci")
        );
        assert_eq!(told, "");
    }

    #[test]
    fn harmless_settings_come_as_they_were_written() {
        let text = "# two engines at home\njobs: 2\n";
        assert_eq!(sifted(None, text), (Some(text.to_owned()), String::new()));
        let (kept, told) = sifted(None, "engin: x\n");
        assert_eq!(kept, None);
        assert!(told.contains("cannot be read"), "{told}");
    }
}
