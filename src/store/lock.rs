//! One process at a time: the lock on the folder, and that of the library on its own file.
//!
//! A process that is being started has, for a moment, all that its parent had open, locks included. So
//! our lock is let go of by name, not by closing the file, and where the library's file still seems
//! held by another, which under our lock can only be such a moment, it is waited for.

use std::fs::{File, TryLockError};
use std::path::Path;
use std::time::{Duration, Instant};

use super::{StoreError, private};

/// How long a process that is being started may keep what it took along.
const STARTING: Duration = Duration::from_secs(5);
const PAUSE: Duration = Duration::from_millis(5);

/// Held by the one process that has the store open; let go of when dropped or when the process ends.
#[derive(Debug)]
pub(super) struct Lock(File);

impl Lock {
    pub(super) fn take(folder: &Path) -> Result<Self, StoreError> {
        let path = folder.join("lock");
        let file = private::options()
            .create(true)
            .truncate(false)
            .write(true)
            .open(&path)
            .map_err(|e| StoreError::io(&path, &e))?;
        match file.try_lock() {
            Ok(()) => Ok(Self(file)),
            Err(TryLockError::WouldBlock) => Err(StoreError::AlreadyOpen {
                path: folder.to_owned(),
            }),
            Err(TryLockError::Error(e)) => Err(StoreError::io(&path, &e)),
        }
    }

    #[cfg(test)]
    pub(super) fn twin(&self) -> File {
        self.0.try_clone().unwrap()
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // Where it fails, closing the file still lets go of it.
        let _ = self.0.unlock();
    }
}

/// Waits while somebody holds the library's file. What stands in the way for longer, the library says
/// itself when it opens.
pub(super) fn wait_for(database: &Path) {
    let Ok(file) = File::open(database.join("db")) else {
        return;
    };
    let since = Instant::now();
    while matches!(file.try_lock(), Err(TryLockError::WouldBlock)) && since.elapsed() < STARTING {
        std::thread::sleep(PAUSE);
    }
    let _ = file.unlock();
}
