//! Taking in what second windows have kept (`waiting.rs`): each entry once, its step whole or not at all.
//!
//! How far a file has been taken in stands in the store itself and changes in the same step as what was taken, so a kill
//! at any moment neither loses an entry nor takes one twice. A log that was written on in two windows is not mixed: the
//! events that came second stay in their file, which is moved aside and named.

use std::collections::BTreeSet;
use std::path::Path;

use super::journal::{self, Entry};
use super::key::Key;
use super::source::Source;
use super::waiting::{self, Taken};
use super::{Record, Store, StoreError, places, value};

/// Takes in the files of all second windows; true where something came.
pub(super) fn all(store: &Store) -> Result<bool, StoreError> {
    let mut some = false;
    for path in waiting::files(&store.folder) {
        some |= one(store, &path)?;
    }
    Ok(some)
}

fn one(store: &Store, path: &Path) -> Result<bool, StoreError> {
    let name = waiting::name(path);
    // Looked at before its entries: what is written after this the next look takes in.
    let alive = waiting::is_alive(path);
    let contents = journal::read(path)?;
    let mut taken: Taken = store.get(&name)?.unwrap_or_default();
    let news: Vec<Entry> = contents
        .entries
        .into_iter()
        .filter(|e| e.seq > taken.seq)
        .collect();
    let some = !news.is_empty();
    for step in news.chunk_by(|before, _| before.joined) {
        take(store, &name, &mut taken, step)?;
    }
    if !alive {
        finish(store, path, &name, &taken, contents.bad)?;
    }
    Ok(some)
}

/// One step of the file, with how far it has been taken in.
fn take(store: &Store, name: &str, taken: &mut Taken, step: &[Entry]) -> Result<(), StoreError> {
    let mut next = taken.clone();
    next.seq = step.last().map_or(taken.seq, |e| e.seq);
    let mut kept = Vec::new();
    for entry in step {
        match entry.key.strip_prefix(waiting::DISPOSABLE) {
            Some(key) => carry_disposable(store, key, entry)?,
            None if fits(store, &kept, entry, &mut next.left)? => kept.push(entry.clone()),
            None => {}
        }
    }
    let disposable = step.iter().all(|e| e.key.starts_with(waiting::DISPOSABLE));
    *taken = next;
    // What can be computed again may be taken in twice, and costs no entry of the journal.
    if disposable {
        return Ok(());
    }
    let key = Key::record(Taken::TABLE, name)?;
    let json = value::json(&key, taken)?;
    kept.push(Entry {
        seq: 0,
        joined: false,
        version: Taken::VERSION,
        key: key.as_str().to_owned(),
        json: Some(json),
    });
    store.write_unclaimed(kept)
}

fn carry_disposable(store: &Store, key: &str, entry: &Entry) -> Result<(), StoreError> {
    let Source::Base(base) = &store.source else {
        return Ok(());
    };
    let json = entry.json.as_deref();
    base.set_disposable(key, json.map(|json| value::wrap(key, entry.version, json)))
}

/// Whether an entry goes on where the store stands. A record's later value counts; an event has its place in its log.
fn fits(
    store: &Store,
    step: &[Entry],
    entry: &Entry,
    left: &mut BTreeSet<String>,
) -> Result<bool, StoreError> {
    let Some((log, seq)) = entry.event() else {
        return Ok(true);
    };
    let stands = |key: &str| -> Result<bool, StoreError> {
        let here = step.iter().any(|e| e.key == key);
        Ok(here || store.ask(|s| s.get(key, false))?.is_some())
    };
    let goes_on = !left.contains(log)
        && match store.ask(|s| s.get(&entry.key, false))? {
            Some(raw) => {
                value::open(&entry.key, &raw).map(|(_, json)| json) == entry.json.as_deref()
            }
            None => seq == 0 || stands(&format!("{log}{:020}", seq - 1))?,
        };
    if !goes_on {
        left.insert(log.to_owned());
    }
    Ok(goes_on)
}

/// The window has gone: its file goes too, or aside where something is left in it.
fn finish(
    store: &Store,
    path: &Path,
    name: &str,
    taken: &Taken,
    bad: usize,
) -> Result<(), StoreError> {
    if taken.left.is_empty() && bad == 0 {
        waiting::clear(path)?;
    } else {
        let aside = places::aside(path, "left")?;
        waiting::clear(path)?;
        let why = match taken.left.is_empty() {
            true => journal::unreadable(bad),
            false => tr!("it had been written on in another window meanwhile").to_owned(),
        };
        let what = tr!(
            "a part of what a second window has kept ({})",
            aside.display()
        );
        store.set_aside().add(&what, why);
    }
    store.remove::<Taken>(name).map(|_| ())
}
