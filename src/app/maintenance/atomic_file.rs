//! Files that are written whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::Builder;

/// Writes a file by way of a neighbour of a random name that is renamed at the end, once it is on disk. A file that
/// stood there keeps its permissions.
///
/// # Errors
/// It cannot be written; what stood there before still stands.
pub fn write_whole(path: &Path, text: &str) -> io::Result<()> {
    if path.file_name().is_none() {
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "no file name"));
    }
    let mut beside = Builder::new();
    beside.prefix(".foreply-").suffix(".part");
    if let Some(permissions) = permissions(path)? {
        beside.permissions(permissions);
    }
    // The name of the neighbour is nobody's business: what the system says of it is enough.
    let plain = |e: io::Error| e.raw_os_error().map_or(e, io::Error::from_raw_os_error);
    let mut part = beside.tempfile_in(folder(path)).map_err(plain)?;
    part.write_all(text.as_bytes())?;
    part.as_file().sync_all()?;
    part.persist(path)?;
    Ok(())
}

fn folder(path: &Path) -> PathBuf {
    match path.parent() {
        Some(above) if !above.as_os_str().is_empty() => above.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// Those of the file that is to be replaced; for a new one what the system lets new files have.
fn permissions(path: &Path) -> io::Result<Option<fs::Permissions>> {
    match fs::metadata(path) {
        Ok(there) => Ok(Some(there.permissions())),
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(of_a_new_file()),
        Err(e) => Err(e),
    }
}

/// The system takes away what its mask says.
#[cfg(unix)]
fn of_a_new_file() -> Option<fs::Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(fs::Permissions::from_mode(0o666))
}

/// The folder's own rule.
#[cfg(not(unix))]
fn of_a_new_file() -> Option<fs::Permissions> {
    None
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
        fs::set_permissions(&file, fs::Permissions::from_mode(0o600)).unwrap();
        write_whole(&file, "new").unwrap();
        assert_eq!(
            fs::metadata(&file).unwrap().permissions().mode() & 0o777,
            0o600
        );
        assert_eq!(fs::read_to_string(&victim).unwrap(), "victim");
    }
}
