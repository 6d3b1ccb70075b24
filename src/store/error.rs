//! What can go wrong with the store: one message each, with the place and what to do.

use std::io;
use std::path::{Path, PathBuf};

/// The store could not do what was asked. What it had accepted before is still there.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    #[error(
        "{}", tr!("{path}: the store is already open in another window; close that one, or use another \
         folder with --home", path = path.display()))]
    AlreadyOpen { path: PathBuf },
    #[error(
        "{}", tr!("{path}: this is being written in another window; go on with it there, or close that window and try again", path = path.display()))]
    OpenElsewhere { path: PathBuf },
    #[error(
        "{}", tr!("{path}: no permission to write here; change its owner, or use another folder with --home", path = path.display()))]
    Permission { path: PathBuf },
    #[error("{}", tr!("{path}: this disk can only be read; use another folder with --home", path = path.display()))]
    ReadOnly { path: PathBuf },
    #[error("{}", tr!("{path}: the disk is full; nothing was lost: make room and try again", path = path.display()))]
    Full { path: PathBuf },
    #[error("{path}: {reason}")]
    Io { path: PathBuf, reason: String },
    #[error(
        "{}", tr!("{path}: the database could not be written ({reason}). What you have written is kept in the journal: see to \
         the disk, then start the program again, and it is there", path = path.display()))]
    Behind { path: PathBuf, reason: String },
    #[error(
        "{}", tr!("{path}: {what} was written by a newer version of this program (form {found}, this one \
         knows {known}); update the program; nothing was changed", path = path.display()))]
    Newer {
        path: PathBuf,
        what: String,
        found: u32,
        known: u32,
    },
    #[error(
        "{}", tr!("{path}: {what} was written by an old version of this program (form {found}), which this \
         one can no longer read; nothing was changed", path = path.display()))]
    Older {
        path: PathBuf,
        what: String,
        found: u32,
    },
    #[error(
        "{}", tr!("{path}: {what} is damaged ({reason}); start the program again: it mends the store from its journal", path = path.display()))]
    Damaged {
        path: PathBuf,
        what: String,
        reason: String,
    },
    #[error(
        "{}", tr!("{path}: it is no longer there; was its disk taken out, or the folder removed? Put it back and \
         start again: what was kept until now is in it", path = path.display()))]
    Gone { path: PathBuf },
    #[error(
        "{}", tr!("{path}: the folder it is to lie in is not there; connect its disk, or create the folder", path = path.display()))]
    NoParent { path: PathBuf },
    #[error(
        "{}", tr!("{path}: nothing is kept there, and the disk that belongs at {disk} (by /etc/fstab) is not mounted; \
         mount it, or use another folder with --home", path = path.display(), disk = disk.display()))]
    NotMounted { path: PathBuf, disk: PathBuf },
    #[error(
        "{}", tr!("{path}: the store is only read here, and nothing can be kept; make room on the disk, or see to the permissions of the folder", path = path.display()))]
    OnlyRead { path: PathBuf },
    #[error(
        "{}", tr!("{path}: {what} cannot be read ({reason}); all else is there: a backup may have it as it was, or update the \
         program", path = path.display()))]
    Unreadable {
        path: PathBuf,
        what: String,
        reason: String,
    },
    #[error(
        "{}", tr!("{path}: this is {found} where {wanted} belongs; move it away and start again: what it stood in place of \
         is made again from the other copies", path = path.display()))]
    Strange {
        path: PathBuf,
        found: &'static str,
        wanted: &'static str,
    },
    #[error("{}", tr!("{path}: this is no folder; name a folder with --home", path = path.display()))]
    NotAFolder { path: PathBuf },
    #[error("{}", tr!("{path}: {reason}; nothing was changed", path = path.display()))]
    Backup { path: PathBuf, reason: String },
    #[error(
        "{}", tr!("{path}: entries are kept here already; `foreply restore FILE --replace {path}` puts the backup in \
         their place, after a safety copy of them", path = path.display()))]
    NotEmpty { path: PathBuf },
    #[error("{}", tr!("'{name}' cannot be a name in the store: {reason}"))]
    Name { name: String, reason: &'static str },
    #[error("{}", tr!("event {seq} cannot be added to the log '{log}': {reason}"))]
    Event {
        log: String,
        seq: u64,
        reason: &'static str,
    },
    #[error("{}", tr!("{what} cannot be written down: {reason}"))]
    Form { what: String, reason: String },
}

impl StoreError {
    /// The error of the system on `path`, by what the user can do about it.
    pub(super) fn io(path: &Path, error: &io::Error) -> Self {
        let path = path.to_owned();
        match error.kind() {
            io::ErrorKind::PermissionDenied => Self::Permission { path },
            io::ErrorKind::ReadOnlyFilesystem => Self::ReadOnly { path },
            io::ErrorKind::StorageFull
            | io::ErrorKind::QuotaExceeded
            | io::ErrorKind::FileTooLarge => Self::Full { path },
            _ => Self::Io {
                path,
                reason: error.to_string(),
            },
        }
    }

    /// What the journal has and the database has not.
    pub(super) fn behind(path: &Path, reason: &str) -> Self {
        Self::Behind {
            path: path.to_owned(),
            reason: reason.to_owned(),
        }
    }

    /// Why, without the place and without what to do.
    pub(super) fn reason(&self) -> String {
        match self {
            Self::Permission { .. } => tr!("no permission to write").to_owned(),
            Self::ReadOnly { .. } => tr!("this disk can only be read").to_owned(),
            Self::Full { .. } => tr!("the disk is full").to_owned(),
            Self::Io { reason, .. } => reason.clone(),
            Self::Damaged { what, reason, .. } => tr!("{what} is damaged: {reason}"),
            other => other.to_string(),
        }
    }

    pub(super) fn damaged(path: &Path, what: &str, reason: impl Into<String>) -> Self {
        Self::Damaged {
            path: path.to_owned(),
            what: what.to_owned(),
            reason: reason.into(),
        }
    }

    pub(super) fn backup(path: &Path, reason: impl Into<String>) -> Self {
        Self::Backup {
            path: path.to_owned(),
            reason: reason.into(),
        }
    }

    pub(super) fn event(log: &str, seq: u64, reason: &'static str) -> Self {
        Self::Event {
            log: log.to_owned(),
            seq,
            reason,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_message_for_each_trouble_of_the_system() {
        let path = Path::new("/home/ansa/foreply");
        let told = |kind: std::io::ErrorKind| StoreError::io(path, &kind.into()).to_string();
        use std::io::ErrorKind::*;
        insta::assert_snapshot!(told(PermissionDenied), @"/home/ansa/foreply: no permission to write here; change its owner, or use another folder with --home");
        insta::assert_snapshot!(told(ReadOnlyFilesystem), @"/home/ansa/foreply: this disk can only be read; use another folder with --home");
        insta::assert_snapshot!(told(StorageFull), @"/home/ansa/foreply: the disk is full; nothing was lost: make room and try again");
        insta::assert_snapshot!(told(NotADirectory), @"/home/ansa/foreply: not a directory");
    }
}
