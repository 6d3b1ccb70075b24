//! Files that are written whole or not at all.
//!
//! A draft has a random name and is created exclusively, so that nothing that was planted under a name that can be
//! guessed is ever written through; it takes its name by one rename, once it is on disk.

use crate::platform;
use std::fs::{self, File, Permissions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, NamedTempFile};

/// What the name of every draft begins and ends with.
pub(super) const DRAFT: (&str, &str) = (".foreply-", ".part");

/// Who may read a new file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Readers {
    /// Whoever the system lets read new files; a file that is replaced keeps its permissions.
    AsUsual,
    /// Nobody but the owner, whatever stood there before.
    Owner,
}

/// A file on its way to its name.
pub(super) struct Draft {
    part: NamedTempFile,
    target: PathBuf,
}

impl Draft {
    pub(super) fn beside(target: &Path, readers: Readers) -> io::Result<Self> {
        if target.file_name().is_none() {
            return Err(io::Error::new(
                io::ErrorKind::InvalidInput,
                tr!("no file name"),
            ));
        }
        let mut beside = Builder::new();
        beside.prefix(DRAFT.0).suffix(DRAFT.1);
        let kept = match readers {
            Readers::Owner => None,
            Readers::AsUsual => permissions_of(target)?,
        };
        if let Some(usual) = platform::of_a_new_file().filter(|_| readers == Readers::AsUsual) {
            beside.permissions(usual);
        }
        let folder = folder(target);
        fs::metadata(&folder)?;
        let part = beside.tempfile_in(folder).map_err(bare)?;
        if let Some(kept) = kept {
            // Said once more: of what a new file is given, the system takes away what its mask says.
            part.as_file().set_permissions(kept)?;
        }
        Ok(Self {
            part,
            target: target.to_owned(),
        })
    }

    /// Where it lies until then.
    pub(super) fn path(&self) -> &Path {
        self.part.path()
    }

    /// Writes it, and waits until the disk has it.
    pub(super) fn fill(
        &mut self,
        fill: impl FnOnce(&mut BufWriter<&File>) -> io::Result<()>,
    ) -> io::Result<()> {
        self.try_out(fill)?;
        self.part.as_file().sync_all()
    }

    /// Writes it without waiting for the disk: for what will never get a name.
    pub(super) fn try_out(
        &mut self,
        fill: impl FnOnce(&mut BufWriter<&File>) -> io::Result<()>,
    ) -> io::Result<()> {
        let mut out = BufWriter::new(self.part.as_file());
        fill(&mut out)?;
        out.flush()
    }

    /// Gives it its name, in place of what stood there.
    pub(super) fn persist(self) -> io::Result<()> {
        let part = self.part.into_temp_path();
        fs::rename(&part, &self.target)?;
        if let Ok(folder) = File::open(folder(&self.target)) {
            // Some systems cannot sync a folder; there the rename is as durable as they make it.
            folder.sync_all().ok();
        }
        Ok(())
    }
}

/// Writes a text by way of a draft. A file that stood there keeps its permissions.
///
/// # Errors
/// It cannot be written; what stood there before still stands.
pub fn write_whole(path: &Path, text: &str) -> io::Result<()> {
    write(path, text, Readers::AsUsual)
}

/// The same, for files that nobody but the owner shall read.
///
/// # Errors
/// As [`write_whole`].
pub fn write_private(path: &Path, text: &str) -> io::Result<()> {
    write(path, text, Readers::Owner)
}

fn write(path: &Path, text: &str, readers: Readers) -> io::Result<()> {
    let mut draft = Draft::beside(path, readers)?;
    draft.fill(|out| out.write_all(text.as_bytes()))?;
    draft.persist()
}

/// Without the random name that the library adds: nobody has asked for it.
fn bare(error: io::Error) -> io::Error {
    match error.raw_os_error() {
        Some(_) => error,
        None => io::Error::from(error.kind()),
    }
}

fn folder(path: &Path) -> PathBuf {
    match path.parent() {
        Some(above) if !above.as_os_str().is_empty() => above.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// Those of the file that is to be replaced.
fn permissions_of(path: &Path) -> io::Result<Option<Permissions>> {
    match fs::metadata(path) {
        Ok(there) => Ok(Some(there.permissions())),
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(e) => Err(e),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_written_whole_and_leaves_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("page.html");
        write_whole(&file, "first").unwrap();
        write_whole(&file, "second").unwrap();
        assert_eq!(fs::read_to_string(&file).unwrap(), "second");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        assert!(write_whole(&folder.path().join("no/such/page"), "x").is_err());
        assert!(write_whole(folder.path(), "x").is_err());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[cfg(unix)]
    #[test]
    fn permissions_stay_and_links_planted_beside_it_are_not_followed() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (file, victim) = (folder.path().join("page"), folder.path().join("victim"));
        fs::write(&file, "old").unwrap();
        fs::write(&victim, "victim").unwrap();
        symlink(&victim, folder.path().join(".page.part")).unwrap();
        for mode in [0o600, 0o640, 0o666] {
            fs::set_permissions(&file, Permissions::from_mode(mode)).unwrap();
            write_whole(&file, "new").unwrap();
            let now = fs::metadata(&file).unwrap().permissions().mode();
            assert_eq!(now & 0o777, mode);
        }
        write_private(&file, "new").unwrap();
        let now = fs::metadata(&file).unwrap().permissions().mode();
        assert_eq!(now & 0o777, 0o600);
        assert_eq!(fs::read_to_string(&victim).unwrap(), "victim");
    }
}
