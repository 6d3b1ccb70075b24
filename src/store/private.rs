//! Nobody but the owner reads what is kept: the home folder 0700, its files 0600, whatever the mask of the system says
//! and whoever has made them.
//!
//! The library and older versions of this program make files that others may read; so what is there is looked at when
//! the store is opened and when it is closed. What is not ours is left alone, and so is the mode of a folder that holds
//! something else besides: somebody may have named his whole desktop with `--home`.

use std::ffi::OsStr;
use std::fs;
use std::path::Path;
use std::time::{Duration, SystemTime};

use super::waiting;
use super::whole::DRAFT;
use crate::platform;

/// Names of the program's own files and folders in the home folder, and how its others begin.
const NAMES: [&str; 7] = [
    "lock",
    "claims",
    "closed",
    "settings.yaml",
    "sled",
    "for-coach",
    "written",
];
const BEGINNINGS: [&str; 6] = [
    "journal",
    "sled.",
    "projection-",
    "before-restore-",
    "lost",
    waiting::NAME,
];
/// A draft that is older was left behind by a process that was killed.
const DRAFT_AGE: Duration = Duration::from_secs(3600);

/// True for a name that this program gives to something in its home folder.
pub(super) fn is_ours(name: &OsStr) -> bool {
    let Some(name) = name.to_str() else {
        return false;
    };
    NAMES.contains(&name) || BEGINNINGS.iter().any(|b| name.starts_with(b)) || is_draft(name)
}

fn is_draft(name: &str) -> bool {
    name.starts_with(DRAFT.0) && name.ends_with(DRAFT.1)
}

/// Takes from others what they may do with the home folder and what is ours in it; to be called under the lock.
/// Where that cannot be done, the reason, as a sentence.
pub(super) fn keep_private(folder: &Path) -> Option<String> {
    let mut failed = None;
    let mut alone = true;
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        if !is_ours(&name) {
            alone = false;
            continue;
        }
        let path = entry.path();
        if name.to_str().is_some_and(is_draft) && is_left_behind(&path) {
            let _ = fs::remove_file(&path);
            continue;
        }
        failed = failed.or(below(&path, 0).err());
    }
    if alone {
        failed = failed.or(platform::keep_private(folder).err());
    }
    let why = failed?;
    Some(tr!(
        "Other users of this computer may be able to read {}, and that could not be changed ({why}); see to its \
         permissions, or use another folder with --home.",
        folder.display()
    ))
}

fn is_left_behind(path: &Path) -> bool {
    let changed = path.symlink_metadata().and_then(|m| m.modified());
    let age = changed.map(|at| SystemTime::now().duration_since(at));
    matches!(age, Ok(Ok(age)) if age > DRAFT_AGE)
}

/// A file, or a folder with what is in it; never what a link leads to.
fn below(path: &Path, level: u8) -> std::io::Result<()> {
    let meta = path.symlink_metadata()?;
    if meta.is_file() {
        return platform::keep_private(path);
    }
    if !meta.is_dir() {
        return Ok(());
    }
    platform::keep_private(path)?;
    if level < 2 {
        for entry in fs::read_dir(path)? {
            below(&entry?.path(), level + 1)?;
        }
    }
    Ok(())
}

/// Makes the folder, for its owner alone from the first moment on.
pub(super) fn create_dir(path: &Path) -> std::io::Result<()> {
    platform::private_folders().create(path)
}

/// How files of the home folder are opened: for their owner alone where they are new.
pub(super) fn options() -> fs::OpenOptions {
    platform::private_files()
}

#[cfg(all(test, unix))]
mod tests {
    use super::super::tests::{filled, home, open};
    use super::*;
    use std::os::unix::fs::PermissionsExt;

    fn loosen(path: &Path) {
        let dir = path.is_dir();
        let mode = if dir { 0o755 } else { 0o644 };
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
        for entry in fs::read_dir(path).into_iter().flatten().flatten() {
            loosen(&entry.path());
        }
    }

    /// Everything below that somebody else may read.
    fn readable(path: &Path, found: &mut Vec<String>) {
        if path.metadata().unwrap().permissions().mode() & 0o077 != 0 {
            found.push(path.display().to_string());
        }
        for entry in fs::read_dir(path).into_iter().flatten().flatten() {
            readable(&entry.path(), found);
        }
    }

    #[test]
    fn a_home_that_was_made_earlier_is_closed_to_others() {
        let home = home();
        filled(&home, 3);
        fs::write(home.path().join("settings.yaml"), "jobs: 1\n").unwrap();
        loosen(home.path());
        let store = open(&home);
        let mut found = Vec::new();
        readable(home.path(), &mut found);
        assert!(found.is_empty(), "{found:?}");
        assert!(store.notices().is_empty(), "{:?}", store.notices());
        drop(store);
        readable(home.path(), &mut found);
        assert!(found.is_empty(), "after closing: {found:?}");
    }

    #[test]
    fn a_folder_with_other_things_in_it_stays_open_and_our_files_do_not() {
        let home = home();
        fs::write(home.path().join("letter.txt"), "Dear Ilse").unwrap();
        loosen(home.path());
        drop(open(&home));
        let mode = |name: &str| {
            let meta = home.path().join(name).metadata().unwrap();
            meta.permissions().mode() & 0o777
        };
        assert_eq!([mode(""), mode("letter.txt")], [0o755, 0o644]);
        assert_eq!([mode("journal"), mode("sled")], [0o600, 0o700]);
    }

    #[test]
    fn drafts_of_killed_processes_go_away_and_those_of_living_ones_stay() {
        let home = home();
        filled(&home, 1);
        let old = home.path().join(".foreply-old.part");
        let new = home.path().join(".foreply-new.part");
        fs::write(&old, "x").unwrap();
        fs::write(&new, "x").unwrap();
        let file = fs::File::options().write(true).open(&old).unwrap();
        file.set_modified(SystemTime::now() - 2 * DRAFT_AGE)
            .unwrap();
        drop(open(&home));
        assert_eq!([old.exists(), new.exists()], [false, true]);
    }
}
