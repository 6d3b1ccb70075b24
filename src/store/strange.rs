//! What stands where a file of the store belongs and is none: a pipe would be waited for, a device read for ever.

use std::fs::Metadata;
use std::path::Path;

use super::StoreError;
use crate::platform;

const FILES: [&str; 5] = ["lock", "journal", "journal-copy", "closed", "claims"];
const FILES_THAT_BEGIN: [&str; 2] = ["projection-", super::waiting::NAME];
const DATABASE: &str = "sled";

/// # Errors
/// Something else than a regular file, or than a folder for the database, stands there; or the home is no folder.
pub(super) fn refuse(folder: &Path) -> Result<(), StoreError> {
    if folder.symlink_metadata().is_ok() && !folder.is_dir() {
        return Err(StoreError::NotAFolder {
            path: folder.to_owned(),
        });
    }
    for name in FILES {
        file(&folder.join(name))?;
    }
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        if FILES_THAT_BEGIN.iter().any(|begin| name.starts_with(begin)) {
            file(&entry.path())?;
        }
    }
    database(&folder.join(DATABASE), 0)
}

fn file(path: &Path) -> Result<(), StoreError> {
    match looked_at(path)? {
        Some(meta) if !meta.is_file() => Err(strange(
            path,
            platform::kind(&meta),
            tr!("a file of the store"),
        )),
        _ => Ok(()),
    }
}

fn database(path: &Path, level: u8) -> Result<(), StoreError> {
    match looked_at(path)? {
        Some(meta) if !meta.is_dir() => {
            return Err(strange(
                path,
                platform::kind(&meta),
                tr!("the folder of the database"),
            ));
        }
        None => return Ok(()),
        Some(_) => {}
    }
    for entry in std::fs::read_dir(path).into_iter().flatten().flatten() {
        let path = entry.path();
        match looked_at(&path)? {
            Some(meta) if meta.is_dir() && level < 2 => database(&path, level + 1)?,
            _ => file(&path)?,
        }
    }
    Ok(())
}

/// What is found under a name, links followed; `None` where nothing is.
fn looked_at(path: &Path) -> Result<Option<Metadata>, StoreError> {
    if path.symlink_metadata().is_err() {
        // Nothing, or something that may not be looked at, which is told of where it is opened.
        return Ok(None);
    }
    match path.metadata() {
        Ok(meta) => Ok(Some(meta)),
        Err(e) if e.kind() == std::io::ErrorKind::PermissionDenied => Ok(None),
        Err(_) => Err(strange(
            path,
            tr!("a link that leads nowhere"),
            tr!("a part of the store"),
        )),
    }
}

fn strange(path: &Path, found: &'static str, wanted: &'static str) -> StoreError {
    StoreError::Strange {
        path: path.to_owned(),
        found,
        wanted,
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::super::tests::{expected, filled, home, open, texts, told};
    use super::super::{Store, StoreError};
    use std::fs;
    use std::os::unix::fs::symlink;
    use std::path::Path;
    use std::process::Command;

    fn pipe(path: &Path) {
        assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
    }

    /// Puts something in the place of a part of the store; the store refuses, and once it is moved away is whole again.
    fn replaced(name: &str, by: &dyn Fn(&Path)) -> String {
        let home = home();
        filled(&home, 4);
        let path = home.path().join(name);
        let kept = home.path().join("kept");
        let stood = fs::rename(&path, &kept).is_ok();
        by(&path);
        let refused = Store::open(home.path()).unwrap_err();
        assert!(matches!(refused, StoreError::Strange { .. }), "{refused}");
        let read = Store::open_or_read(home.path()).unwrap_err();
        assert_eq!(read.to_string(), refused.to_string());
        let refused = told(&home, refused);
        fs::remove_file(&path)
            .or_else(|_| fs::remove_dir_all(&path))
            .unwrap();
        if stood && name == "lock" {
            fs::rename(&kept, &path).unwrap();
        }
        assert_eq!(texts(&open(&home)), expected(4), "{name}");
        refused
    }

    #[test]
    fn what_is_no_file_is_named_and_not_waited_for() {
        let device = |path: &Path| symlink("/dev/zero", path).unwrap();
        let folder = |path: &Path| fs::create_dir(path).unwrap();
        let circle = |path: &Path| symlink(path, path).unwrap();
        insta::assert_snapshot!(replaced("journal", &pipe), @"HOME/journal: this is a pipe where a file of the store belongs; move it away and start again: what it stood in place of is made again from the other copies");
        insta::assert_snapshot!(replaced("journal", &device), @"HOME/journal: this is a device where a file of the store belongs; move it away and start again: what it stood in place of is made again from the other copies");
        insta::assert_snapshot!(replaced("journal", &circle), @"HOME/journal: this is a link that leads nowhere where a part of the store belongs; move it away and start again: what it stood in place of is made again from the other copies");
        insta::assert_snapshot!(replaced("lock", &pipe), @"HOME/lock: this is a pipe where a file of the store belongs; move it away and start again: what it stood in place of is made again from the other copies");
        insta::assert_snapshot!(replaced("journal", &folder), @"HOME/journal: this is a folder where a file of the store belongs; move it away and start again: what it stood in place of is made again from the other copies");
        insta::assert_snapshot!(replaced("sled", &pipe), @"HOME/sled: this is a pipe where the folder of the database belongs; move it away and start again: what it stood in place of is made again from the other copies");
        replaced("closed", &pipe);
        replaced("projection-attempts", &pipe);
        replaced("sled/db", &pipe);
    }
}
