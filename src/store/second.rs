//! The second copy of the journal, byte for byte the same, and what both know together.
//!
//! An entry is written to the journal, synced, then to the copy, then to the database. The copy is synced when the store
//! is closed: it is no help against a power failure, which the journal and the database survive, but against bytes that
//! rot on the disk. One fault in each of the three loses nothing unless both journals are hit in the same entry: a line
//! that cannot be read in one is taken from the other, by its number.
//!
//! A copy that does not belong to the journal (both have an entry of the same number, and not the same one) helps in
//! nothing; it is written again. Who replaces the journal takes the copy away first ([`forget`]).

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, BufRead, BufReader};
use std::path::Path;

use super::StoreError;
use super::journal::{self, Contents, Entry, Journal};
use super::places::{aside, exists};
use super::whole::{Draft, Readers};

pub(super) const NAME: &str = "journal-copy";

/// Takes the copy away: it must not mend a journal that is replaced.
pub(super) fn forget(folder: &Path) -> Result<(), StoreError> {
    let path = folder.join(NAME);
    match std::fs::remove_file(&path) {
        Err(e) if e.kind() != io::ErrorKind::NotFound => Err(StoreError::io(&path, &e)),
        _ => Ok(()),
    }
}

/// What journal and copy have together; `bad` counts what is in neither.
pub(super) fn read(folder: &Path) -> Result<Contents, StoreError> {
    let (path, copy) = (folder.join("journal"), folder.join(NAME));
    let one = match exists(&path)? {
        true => Some(journal::read_whatever_its_head(&path)?),
        false => None,
    };
    let right = one.is_some() && journal::has_right_head(&path)?;
    match one {
        Some(one) if right && one.bad == 0 && !one.torn => Ok(one),
        Some(one) if exists(&copy)? && (right || journal::has_right_head(&copy)?) => {
            let other = journal::read_whatever_its_head(&copy)?;
            Ok(united(&one, &other).unwrap_or(one))
        }
        // An error where the head says that a newer program has written it.
        Some(_) => journal::read(&path),
        None if exists(&copy)? => journal::read(&copy),
        None => Ok(Contents::default()),
    }
}

/// Both together; `None` where they do not belong together.
fn united(one: &Contents, other: &Contents) -> Option<Contents> {
    let mut all: BTreeMap<u64, &Entry> = other.entries.iter().map(|e| (e.seq, e)).collect();
    for entry in &one.entries {
        if all.insert(entry.seq, entry).is_some_and(|old| old != entry) {
            return None;
        }
    }
    let mut entries: Vec<Entry> = all.into_values().cloned().collect();
    let last = entries.last().map_or(0, |e| e.seq);
    // The damaged line at the end of the one is none of those that the other has.
    let open_end = one.damaged_end && last == one.last_seq();
    if !open_end {
        // A step whose last entry was never written has not happened.
        while entries.pop_if(|e| e.joined).is_some() {}
    }
    let gaps = entries.windows(2).map(|pair| match pair {
        [a, b] => usize::try_from(b.seq - a.seq - 1).unwrap_or(usize::MAX),
        _ => 0,
    });
    Some(Contents {
        bad: gaps.sum::<usize>() + usize::from(open_end),
        damaged_end: open_end,
        torn: false,
        entries,
    })
}

/// Mends the journal by its copy, before anything else is read of it. With `thorough` every line is looked at, else
/// the head alone.
pub(super) fn heal(
    folder: &Path,
    thorough: bool,
    say: &mut dyn FnMut(String),
) -> Result<(), StoreError> {
    let (path, copy) = (folder.join("journal"), folder.join(NAME));
    if !exists(&copy)? || !journal::has_right_head(&copy)? && !exists(&path)? {
        return Ok(());
    }
    if !exists(&path)? {
        let contents = journal::read(&copy)?;
        if !contents.entries.is_empty() {
            Journal::write(&path, &contents)?;
            say(tr!("The journal was missing; it was written again from its copy.").to_owned());
        }
        return Ok(());
    }
    let right_head = journal::has_right_head(&path)?;
    if right_head && !thorough {
        return Ok(());
    }
    let one = journal::read_whatever_its_head(&path)?;
    let other = journal::read_whatever_its_head(&copy)?;
    let helps = journal::has_right_head(&copy)? || right_head;
    let damaged = one.bad > 0 || !right_head;
    let Some(both) = united(&one, &other).filter(|_| helps) else {
        return Ok(());
    };
    let found = both.entries.len().saturating_sub(one.entries.len());
    if !damaged && found == 0 {
        return Ok(());
    }
    if damaged && found == 0 && both.bad > 0 && right_head {
        // The copy has no more than the journal: the database is asked next.
        return Ok(());
    }
    let old = aside(&path, "damaged")?;
    Journal::write(&path, &both)?;
    say(tr!(
        "The journal was damaged; it was moved to {} and mended from its copy.",
        old.display()
    ));
    Ok(())
}

/// The copy, as the journal is now, to be written on. `None` where it cannot be written, which is told: everything is
/// kept all the same, only not a second time.
pub(super) fn settle(
    folder: &Path,
    thorough: bool,
    say: &mut dyn FnMut(String),
) -> Option<Journal> {
    match try_settle(folder, thorough, say) {
        Ok(copy) => Some(copy),
        Err(e) => {
            say(tr!(
                "The second copy of the journal could not be written ({e}). Everything is kept, and the copy is \
                 made by the next start that can."
            ));
            None
        }
    }
}

fn try_settle(
    folder: &Path,
    thorough: bool,
    say: &mut dyn FnMut(String),
) -> Result<Journal, StoreError> {
    let (path, copy) = (folder.join("journal"), folder.join(NAME));
    if exists(&copy)? {
        if is_same(&path, &copy, thorough)? {
            return Journal::append_to(&copy);
        }
        // One that is only behind, as after a power failure, or belongs to another journal, is no damage.
        let read = journal::read_whatever_its_head(&copy)?;
        if read.bad > 0 || !journal::has_right_head(&copy)? {
            let old = aside(&copy, "damaged")?;
            say(tr!(
                "The second copy of the journal was damaged; it was moved to {} and written again.",
                old.display()
            ));
        }
    }
    let fail = |e: io::Error| StoreError::io(&copy, &e);
    let mut from = File::open(&path).map_err(|e| StoreError::io(&path, &e))?;
    let mut draft = Draft::beside(&copy, Readers::Owner).map_err(fail)?;
    let filled = draft.fill(|out| io::copy(&mut from, out).map(|_| ()));
    filled.and_then(|()| draft.persist()).map_err(fail)?;
    Journal::append_to(&copy)
}

/// True where both are the same: in every byte, or where nobody has touched them, in length and last entry.
fn is_same(path: &Path, copy: &Path, thorough: bool) -> Result<bool, StoreError> {
    let len = |p: &Path| {
        p.metadata()
            .map(|m| m.len())
            .map_err(|e| StoreError::io(p, &e))
    };
    if len(path)? != len(copy)? {
        return Ok(false);
    }
    match thorough {
        true => same_bytes(path, copy).map_err(|e| StoreError::io(copy, &e)),
        false => Ok(journal::has_right_head(copy)? && journal::last(path)? == journal::last(copy)?),
    }
}

fn same_bytes(one: &Path, other: &Path) -> io::Result<bool> {
    let mut one = BufReader::new(File::open(one)?);
    let mut other = BufReader::new(File::open(other)?);
    loop {
        let (a, b) = (one.fill_buf()?, other.fill_buf()?);
        let n = a.len().min(b.len());
        if a.get(..n) != b.get(..n) {
            return Ok(false);
        }
        if n == 0 {
            return Ok(a.is_empty() && b.is_empty());
        }
        one.consume(n);
        other.consume(n);
    }
}
