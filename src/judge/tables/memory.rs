//! Table files held in memory: a table is asked thousands of times for one answer, and a read from disk
//! each time costs more than all the rest.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::{fs, io};

use shakmaty_syzygy::filesystem::{Filesystem, OsFilesystem, RandomAccessFile, ReadHint};

/// Bytes of all tables together that are held: the tables of three and four men (30 MB) and those of
/// five that one sitting is likely to touch. Tables beyond that are read where they lie.
const HELD_MAX: u64 = 256 << 20;

/// Reads a file whole when it is first used, while there is room.
pub(super) struct Memory {
    disk: OsFilesystem,
    room: AtomicU64,
}

impl Memory {
    pub(super) fn new() -> Self {
        Self {
            disk: OsFilesystem::new(),
            room: AtomicU64::new(HELD_MAX),
        }
    }

    /// True where there was room for so many bytes, which are taken from it.
    fn takes(&self, size: u64) -> bool {
        let less = |room: u64| room.checked_sub(size);
        self.room
            .fetch_update(Ordering::Relaxed, Ordering::Relaxed, less)
            .is_ok()
    }
}

impl Filesystem for Memory {
    fn regular_file_size(&self, path: &Path) -> io::Result<u64> {
        self.disk.regular_file_size(path)
    }

    fn read_dir(&self, path: &Path) -> io::Result<Vec<PathBuf>> {
        self.disk.read_dir(path)
    }

    fn open(&self, path: &Path) -> io::Result<Box<dyn RandomAccessFile>> {
        if self.takes(self.regular_file_size(path)?) {
            Ok(Box::new(Held(fs::read(path)?)))
        } else {
            self.disk.open(path)
        }
    }
}

struct Held(Vec<u8>);

impl RandomAccessFile for Held {
    fn read_at(&self, buf: &mut [u8], offset: u64, _: ReadHint) -> io::Result<usize> {
        let start = usize::try_from(offset).unwrap_or(usize::MAX);
        let rest = self.0.get(start..).unwrap_or_default();
        let mut read = 0;
        for (into, byte) in buf.iter_mut().zip(rest) {
            *into = *byte;
            read += 1;
        }
        Ok(read)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_are_the_files_and_room_runs_out() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("x");
        fs::write(&path, b"abcdef").unwrap();
        let memory = Memory::new();
        let (held, read) = (
            memory.open(&path).unwrap(),
            |file: &dyn RandomAccessFile, at| {
                let mut buf = [0; 4];
                let n = file.read_at(&mut buf, at, ReadHint::Data).unwrap();
                buf[..n].to_vec()
            },
        );
        memory.room.store(5, Ordering::Relaxed);
        let disk = memory.open(&path).unwrap();
        for at in [0, 1, 4, 6, 99] {
            assert_eq!(read(&*held, at), read(&*disk, at), "at {at}");
        }
        assert_eq!(memory.room.load(Ordering::Relaxed), 5);
    }
}
