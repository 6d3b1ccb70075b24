//! Whether the disk that a new store is to lie on is there: an empty mount point looks like a home in which
//! nothing was ever kept.
//!
//! A disk that is missing is told where the folder above the home is missing too, and where the home is new and lies on
//! an empty mount point of `/etc/fstab` on which nothing is mounted. Below any other empty mount point it looks like a new one:
//! nothing is lost, but nothing says so either.

use crate::platform;
use std::path::{Path, PathBuf};

/// Which disks belong where (fstab(5)); a system without it has none of them checked.
const TABLE: &str = "/etc/fstab";

/// The place above `folder` at which the system's table puts a disk, where none is mounted there.
pub(super) fn absent(folder: &Path) -> Option<PathBuf> {
    let table = std::fs::read(TABLE).ok()?;
    absent_by(&String::from_utf8_lossy(&table), folder)
}

fn absent_by(table: &str, folder: &Path) -> Option<PathBuf> {
    let there = real(folder)?;
    let points = table.lines().filter_map(point);
    points
        .filter(|p| there.starts_with(p))
        .find(|p| platform::is_on_the_disk_above(p) && is_empty_but_for(p, &there))
}

/// A mount point in use without its disk (a container with the table of another system) has something in it.
fn is_empty_but_for(point: &Path, there: &Path) -> bool {
    let entries = std::fs::read_dir(point).into_iter().flatten();
    entries
        .flatten()
        .all(|entry| there.starts_with(entry.path()))
}

/// The folder without symbolic links; it need not be there itself.
fn real(folder: &Path) -> Option<PathBuf> {
    let folder = std::path::absolute(folder).ok()?;
    if let Ok(there) = folder.canonicalize() {
        return Some(there);
    }
    let above = folder.parent()?.canonicalize().ok()?;
    Some(above.join(folder.file_name()?))
}

/// The mount point of a line, where what is mounted there is another file system: a folder that is bound to a
/// second place need not be.
fn point(line: &str) -> Option<PathBuf> {
    let mut fields = line.split_whitespace();
    fields.next().filter(|device| !device.starts_with('#'))?;
    let (point, _, options) = (fields.next()?, fields.next()?, fields.next().unwrap_or(""));
    let bound = options.split(',').any(|o| matches!(o, "bind" | "rbind"));
    let point = PathBuf::from(unescaped(point));
    // The root is always mounted, and 'none' stands for what has no place.
    (!bound && point.is_absolute() && point.parent().is_some()).then_some(point)
}

/// A blank in a field stands as `\040`, a tab as `\011`, a backslash as `\134`.
fn unescaped(field: &str) -> String {
    let escapes = [("\\040", " "), ("\\011", "\t"), ("\\134", "\\")];
    escapes.iter().fold(field.to_owned(), |text, (code, char)| {
        text.replace(code, char)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A folder with two folders in it, and a table by which disks belong on them.
    fn places(options: &str) -> (tempfile::TempDir, PathBuf, String) {
        let home = tempfile::tempdir().unwrap();
        let root = home.path().canonicalize().unwrap();
        std::fs::create_dir(root.join("my disk")).unwrap();
        std::fs::create_dir(root.join("other")).unwrap();
        let escaped = root
            .join("my disk")
            .display()
            .to_string()
            .replace(' ', "\\040");
        let table = format!(
            "# a table\n/dev/one / ext4 defaults 0 1\n/dev/two {escaped} ext4 {options} 0 2\n\
             /dev/three none swap sw 0 0\n/dev/four\n"
        );
        (home, root, table)
    }

    #[test]
    fn a_disk_that_is_not_mounted_is_named() {
        let (_home, root, table) = places("noauto,user");
        let disk = root.join("my disk");
        assert_eq!(absent_by(&table, &disk), Some(disk.clone()));
        assert_eq!(absent_by(&table, &disk.join("foreply")), Some(disk.clone()));
        assert_eq!(absent_by(&table, &root.join("other/foreply")), None);
        std::fs::create_dir(disk.join("foreply")).unwrap();
        assert_eq!(absent_by(&table, &disk.join("foreply")), Some(disk.clone()));
        // Above the folder nothing is there: that has a message of its own.
        assert_eq!(absent_by(&table, &disk.join("not/there")), None);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_to_a_disk_is_the_disk() {
        let (_home, root, table) = places("defaults");
        let link = root.join("link");
        std::os::unix::fs::symlink(root.join("my disk"), &link).unwrap();
        assert_eq!(
            absent_by(&table, &link.join("foreply")),
            Some(root.join("my disk"))
        );
    }

    #[test]
    fn a_mount_point_with_something_in_it_is_in_use() {
        let (_home, root, table) = places("defaults");
        let disk = root.join("my disk");
        std::fs::create_dir(disk.join("letters")).unwrap();
        assert_eq!(absent_by(&table, &disk.join("foreply")), None);
    }

    #[test]
    fn what_is_only_bound_there_is_not_asked_about() {
        let (_home, root, table) = places("defaults,bind");
        assert_eq!(absent_by(&table, &root.join("my disk/foreply")), None);
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_disk_that_is_mounted_is_there() {
        // Always another file system than the root on Linux.
        let table = "proc /proc proc defaults 0 0\n";
        assert_eq!(absent_by(table, Path::new("/proc/self")), None);
    }
}
