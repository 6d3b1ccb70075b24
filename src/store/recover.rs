//! Opening: take the lock, compare database and journal, mend what differs.

use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use super::base::{Base, Meta};
use super::journal::{self, Journal};
use super::{Store, StoreError, Writer};

pub(super) fn open(folder: &Path) -> Result<Store, StoreError> {
    std::fs::create_dir_all(folder).map_err(|e| StoreError::io(folder, &e))?;
    let lock = lock(folder)?;
    let mut mender = Mender::new(folder);
    let written = mender.journal_state()?;
    let (base, meta) = mender.base(written)?;
    let (journal, meta) = mender.level(&base, meta, written)?;
    Ok(Store {
        folder: folder.to_owned(),
        base,
        writer: Mutex::new(Writer::new(journal, meta)),
        notices: mender.notices,
        _lock: lock,
    })
}

fn lock(folder: &Path) -> Result<File, StoreError> {
    let path = folder.join("lock");
    let file = OpenOptions::new()
        .create(true)
        .truncate(false)
        .write(true)
        .open(&path)
        .map_err(|e| StoreError::io(&path, &e))?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(StoreError::AlreadyOpen {
            path: folder.to_owned(),
        }),
        Err(TryLockError::Error(e)) => Err(StoreError::io(&path, &e)),
    }
}

/// What the end of the journal says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Written {
    /// There is no journal.
    Absent,
    /// It ends with this entry.
    UpTo(u64),
    /// Its last entry is not as it was written.
    Damaged,
}

struct Mender {
    journal: PathBuf,
    sled: PathBuf,
    notices: Vec<String>,
}

impl Mender {
    fn new(folder: &Path) -> Self {
        Self {
            journal: folder.join("journal"),
            sled: folder.join("sled"),
            notices: Vec::new(),
        }
    }

    fn journal_state(&mut self) -> Result<Written, StoreError> {
        if !exists(&self.journal)? {
            return Ok(Written::Absent);
        }
        if journal::cut_torn_tail(&self.journal)? {
            self.say(
                "The last entry of the journal had been cut off, as happens when the power fails \
                 while it is written; it had not been shown as kept.",
            );
        }
        Ok(journal::last_seq(&self.journal)?.map_or(Written::Damaged, Written::UpTo))
    }

    /// The database, sound: as it is, or moved aside and begun anew. Only where there is a journal to
    /// build it from, or nothing else left to try, is it moved.
    fn base(&mut self, written: Written) -> Result<(Base, Meta), StoreError> {
        let existed = exists(&self.sled)?;
        let tried = Base::open(&self.sled).and_then(Base::checked);
        match tried {
            Err(StoreError::Damaged { what, reason, .. }) => {
                let aside = aside(&self.sled)?;
                self.say(&format!(
                    "The database was damaged ({what}: {reason}). It was moved to {}.",
                    aside.display()
                ));
                Ok((Base::open(&self.sled)?, Meta::default()))
            }
            Ok((base, meta)) => {
                let lost =
                    meta.seq == 0 && written != Written::Absent && written != Written::UpTo(0);
                if lost {
                    let how = if existed { "empty" } else { "missing" };
                    self.say(&format!("The database was {how}."));
                }
                Ok((base, meta))
            }
            Err(other) => Err(other),
        }
    }

    /// Brings the one that is behind up to the other.
    fn level(
        &mut self,
        base: &Base,
        meta: Meta,
        written: Written,
    ) -> Result<(Journal, Meta), StoreError> {
        match written {
            Written::UpTo(seq) if seq == meta.seq => Ok((Journal::append_to(&self.journal)?, meta)),
            Written::UpTo(seq) if seq > meta.seq => {
                let meta = self.catch_up(base, meta)?;
                Ok((Journal::append_to(&self.journal)?, meta))
            }
            Written::Absent if meta.seq == 0 => Ok((Journal::create(&self.journal, &[])?, meta)),
            _ => self.rewrite(base, meta, written),
        }
    }

    /// Carries over what only the journal has.
    fn catch_up(&mut self, base: &Base, meta: Meta) -> Result<Meta, StoreError> {
        let contents = journal::read(&self.journal)?;
        let missing = contents.entries.partition_point(|e| e.seq <= meta.seq);
        let missing = &contents.entries[missing..];
        let meta = base.apply_all(meta, missing)?;
        // One entry is what a process that was killed between journal and database leaves behind:
        // nothing was damaged, and there is nothing to tell.
        if missing.len() > 1 || contents.bad > 0 {
            self.say(&format!(
                "{} were carried over from the journal.",
                counted(missing.len(), "entry", "entries")
            ));
        }
        self.tell_bad(contents.bad);
        Ok(meta)
    }

    /// Writes the journal again: what the damaged one still has goes into the database first.
    fn rewrite(
        &mut self,
        base: &Base,
        meta: Meta,
        written: Written,
    ) -> Result<(Journal, Meta), StoreError> {
        let mut meta = meta;
        if written == Written::Absent {
            self.say("The journal was missing; it was written again from the database.");
        } else {
            if journal::read(&self.journal)?.last_seq() > meta.seq {
                meta = self.catch_up(base, meta)?;
            }
            let aside = aside(&self.journal)?;
            self.say(&format!(
                "The journal was damaged or behind; it was moved to {} and written again from the \
                 database.",
                aside.display()
            ));
        }
        let mut entries = base.entries()?;
        // The last number must be the database's; those before it only have to rise, and there are
        // never more values than there were entries.
        let first = meta.seq + 1 - (entries.len() as u64).min(meta.seq);
        for (seq, entry) in (first..).zip(&mut entries) {
            entry.seq = seq;
        }
        Ok((Journal::create(&self.journal, &entries)?, meta))
    }

    fn tell_bad(&mut self, bad: usize) {
        if bad > 0 {
            self.say(&format!(
                "{} of the journal could not be read.",
                counted(bad, "line", "lines")
            ));
        }
    }

    fn say(&mut self, sentence: &str) {
        self.notices.push(sentence.to_owned());
    }
}

fn counted(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

fn exists(path: &Path) -> Result<bool, StoreError> {
    path.try_exists().map_err(|e| StoreError::io(path, &e))
}

/// Renames what is damaged to the first free `NAME.damaged-N`.
fn aside(path: &Path) -> Result<PathBuf, StoreError> {
    let mut n = 1;
    loop {
        let to = path.with_extension(format!("damaged-{n}"));
        if !exists(&to)? {
            std::fs::rename(path, &to).map_err(|e| StoreError::io(path, &e))?;
            return Ok(to);
        }
        n += 1;
    }
}
