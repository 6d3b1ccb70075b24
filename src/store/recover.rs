//! Opening: take the lock, compare database and journal, mend what differs.

use std::collections::{BTreeMap, HashSet};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use super::base::{Base, Meta};
use super::journal::{self, Contents, Entry, Journal};
use super::lock::Lock;
use super::mount;
pub(super) use super::places::{aside, exists};
use super::snapshot::Snapshot;
use super::source::Source;
use super::stamp::{self, Closing};
use super::{
    SetAside, Store, StoreError, Writer, claims, lost, private, room, second, strange, take_in,
};

pub(super) fn open(folder: &Path) -> Result<Store, StoreError> {
    create(folder)?;
    open_locked(folder, Lock::take(folder)?)
}

pub(super) fn open_locked(folder: &Path, lock: Lock) -> Result<Store, StoreError> {
    let untouched = stamp::take(folder);
    let mut mender = Mender::new(folder);
    second::heal(folder, !untouched, &mut |told| mender.notices.push(told))?;
    let written = mender.journal_state(!untouched)?;
    let (base, meta) = mender.base(written, untouched)?;
    let (journal, meta) = mender.level(&base, meta, written)?;
    let copy = second::settle(folder, !untouched, &mut |told| mender.notices.push(told));
    mender.notices.extend(private::keep_private(folder));
    claims::forget(folder);
    let closing = Closing::new(folder, base.failed_to_close());
    let mut store = Store {
        folder: folder.to_owned(),
        source: Source::Base(base),
        writer: Some(Mutex::new(Writer::new(journal, copy, meta))),
        window: None,
        claims: Mutex::default(),
        notices: mender.notices,
        set_aside: SetAside::default(),
        checked: !untouched,
        closing: Some(closing),
        _lock: Some(lock),
    };
    if let Err(e) = take_in::all(&store) {
        store.notices.push(tr!(
            "What another window has kept could not be taken in yet ({e}); it waits beside the store for the next start."
        ));
    }
    Ok(store)
}

/// For reading only, from the journal, whatever another process does with the store.
pub(super) fn read_only(folder: &Path, why: &StoreError) -> Result<Store, StoreError> {
    let told = tr!("The store is only read, and nothing new is kept ({why}).");
    from_journal(folder, told)
}

/// The store as its journal tells it, and one sentence on why so.
pub(super) fn from_journal(folder: &Path, told: String) -> Result<Store, StoreError> {
    strange::refuse(folder)?;
    let snapshot = Snapshot::of_home(folder)?;
    let mut notices = vec![told];
    if snapshot.bad > 0 {
        notices.push(journal::unreadable(snapshot.bad));
    }
    Ok(Store {
        folder: folder.to_owned(),
        source: Source::snapshot(snapshot),
        writer: None,
        window: None,
        claims: Mutex::default(),
        notices,
        set_aside: SetAside::default(),
        checked: true,
        closing: None,
        _lock: None,
    })
}

/// The folder, but not the folders above it ([`could_begin`] says why).
pub(super) fn create(folder: &Path) -> Result<(), StoreError> {
    could_begin(folder)?;
    strange::refuse(folder)?;
    match private::create_dir(folder) {
        Err(e) if e.kind() == ErrorKind::AlreadyExists && folder.is_dir() => Ok(()),
        made => made.map_err(|e| StoreError::io(folder, &e)),
    }
}

/// Whether the disk is there on which the folder lies: where the folders above it are missing, or where it would
/// lie on an empty mount point, a new store would look like a lost one.
pub(super) fn could_begin(folder: &Path) -> Result<(), StoreError> {
    let path = folder.to_owned();
    if ["journal", second::NAME, "sled"]
        .iter()
        .any(|p| folder.join(p).exists())
    {
        return Ok(());
    }
    let above = folder.parent().filter(|p| !p.as_os_str().is_empty());
    match above.map(Path::metadata) {
        Some(Err(e)) if e.kind() == ErrorKind::NotFound => Err(StoreError::NoParent { path }),
        _ => match mount::absent(folder) {
            Some(disk) => Err(StoreError::NotMounted { path, disk }),
            None => Ok(()),
        },
    }
}

/// What a damaged database still has, under what the journal has.
pub(super) fn salvage(folder: &Path, entries: Vec<Entry>) -> Result<Vec<Entry>, StoreError> {
    let base = Base::open(&folder.join("sled"));
    let readable = base.map(Base::readable).unwrap_or_default();
    let mut all: BTreeMap<String, Entry> = readable.into_iter().map(keyed).collect();
    all.extend(entries.into_iter().map(keyed));
    Ok(all.into_values().collect())
}

fn keyed(entry: Entry) -> (String, Entry) {
    (entry.key.clone(), entry)
}

/// What the end of the journal says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Written {
    /// There is no journal.
    Absent,
    /// It ends with this entry.
    UpTo(u64),
    /// An entry in it is not as it was written.
    Damaged,
}

struct Mender {
    folder: PathBuf,
    journal: PathBuf,
    sled: PathBuf,
    /// What a database that had to be moved aside still had.
    salvaged: Vec<Entry>,
    notices: Vec<String>,
}

impl Mender {
    fn new(folder: &Path) -> Self {
        Self {
            folder: folder.to_owned(),
            journal: folder.join("journal"),
            sled: folder.join("sled"),
            salvaged: Vec::new(),
            notices: Vec::new(),
        }
    }

    /// With `thorough` every line of it is looked at, else only the last.
    fn journal_state(&mut self, thorough: bool) -> Result<Written, StoreError> {
        if !exists(&self.journal)? {
            return Ok(Written::Absent);
        }
        if journal::cut_torn_tail(&self.journal)? {
            self.say(tr!(
                "The last entry of the journal had been cut off, as happens when the power fails \
                 while it is written; it had not been shown as kept."
            ));
        }
        if thorough && !journal::is_sound(&self.journal)? {
            return Ok(Written::Damaged);
        }
        Ok(journal::last_seq(&self.journal)?.map_or(Written::Damaged, Written::UpTo))
    }

    /// The database, sound: as it is, or moved aside and begun anew. Only where there is a journal to
    /// build it from, or nothing else left to try, is it moved.
    fn base(&mut self, written: Written, untouched: bool) -> Result<(Base, Meta), StoreError> {
        let existed = exists(&self.sled)?;
        let tried = Base::open(&self.sled).and_then(|base| match untouched {
            true => base.trusted(),
            false => base.checked(&mut self.salvaged),
        });
        match tried {
            Err(StoreError::Damaged { what, reason, .. }) => {
                room::needed(&self.folder)?;
                let aside = aside(&self.sled, "damaged")?;
                self.say(&tr!(
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
                    self.say(&tr!("The database was {how}."));
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
        let missing = contents.entries.get(missing..).unwrap_or_default();
        let meta = base.apply_all(meta, missing)?;
        // One entry is what a process that was killed between journal and database leaves behind:
        // nothing was damaged, and there is nothing to tell.
        if missing.len() > 1 || contents.bad > 0 {
            self.say(&tr!(
                "{} were carried over from the journal.",
                tr!(missing.len(); "{} entry" | "{} entries", missing.len())
            ));
        }
        self.tell_bad(contents.bad);
        Ok(meta)
    }

    /// What stood on a line of the journal that cannot be read may still stand in the database that was
    /// moved aside.
    fn add_salvaged(&mut self, base: &Base, meta: Meta) -> Result<Meta, StoreError> {
        if self.salvaged.is_empty() {
            return Ok(meta);
        }
        let told = journal::read(&self.journal)?.entries;
        let told: HashSet<&str> = told.iter().map(|e| e.key.as_str()).collect();
        let mut missing = std::mem::take(&mut self.salvaged);
        missing.retain(|e| !told.contains(e.key.as_str()));
        for (seq, entry) in (meta.seq + 1..).zip(&mut missing) {
            entry.seq = seq;
        }
        if !missing.is_empty() {
            let found = tr!(missing.len(); "{} entry" | "{} entries", missing.len());
            self.say(&tr!("{found} were found in the damaged database."));
        }
        base.apply_all(meta, &missing)
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
            self.say(tr!(
                "The journal was missing; it was written again from the database."
            ));
        } else {
            let read = journal::read(&self.journal)?;
            let lost = missing(&read, meta.seq);
            if read.last_seq() > meta.seq {
                meta = self.catch_up(base, meta)?;
            }
            let before = meta.count;
            meta = self.add_salvaged(base, meta)?;
            self.tell_lost(lost.saturating_sub(meta.count - before))?;
            let aside = aside(&self.journal, "damaged")?;
            self.say(&tr!(
                "The journal was damaged or behind; it was moved to {} and written again from the \
                 database.",
                aside.display()
            ));
        }
        second::forget(&self.folder)?;
        let mut entries = base.entries()?;
        // The last number must be the database's; those before it only have to rise, and there are
        // never more values than there were entries.
        let first = meta.seq + 1 - (entries.len() as u64).min(meta.seq);
        for (seq, entry) in (first..).zip(&mut entries) {
            entry.seq = seq;
        }
        Ok((Journal::create(&self.journal, &entries)?, meta))
    }

    fn tell_lost(&mut self, entries: u64) -> Result<(), StoreError> {
        if entries == 0 {
            return Ok(());
        }
        lost::note(&self.folder, entries)?;
        let entries = usize::try_from(entries).unwrap_or(usize::MAX);
        self.say(&tr!(entries;
            "{entries} entry is in no copy any more; a backup may have what is lost."
            | "{entries} entries are in no copy any more; a backup may have what is lost."
        ));
        Ok(())
    }

    fn tell_bad(&mut self, bad: usize) {
        if bad > 0 {
            self.say(&journal::unreadable(bad));
        }
    }

    fn say(&mut self, sentence: &str) {
        self.notices.push(sentence.to_owned());
    }
}

/// How many entries a journal has lost that a database which has come up to `seq` has not either.
fn missing(read: &Contents, seq: u64) -> u64 {
    if seq == 0 {
        return read.bad as u64;
    }
    let behind = read.entries.iter().filter(|e| e.seq > seq).count() as u64;
    let end = u64::from(read.damaged_end && read.last_seq() >= seq && behind > 0);
    read.last_seq().saturating_sub(seq).saturating_sub(behind) + end
}
