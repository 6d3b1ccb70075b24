//! Two windows on one home: nothing that was kept is lost, taken twice or mixed, whichever closes first.

use std::fs;

use proptest::prelude::*;

use super::journal::Entry;
use super::tests::{Note, expected, filled, home, note, open, texts, told};
use super::*;

fn beside(home: &tempfile::TempDir) -> Store {
    Store::open_beside(home.path()).unwrap()
}

fn waiting(home: &tempfile::TempDir) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(home.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| name.starts_with(waiting::NAME))
        .collect();
    names.sort();
    names
}

fn kept(store: &Store) -> Vec<(String, String)> {
    let all = store.scan::<Note>().unwrap();
    all.into_iter().map(|(k, n)| (k, n.text)).collect()
}

fn pairs(wanted: &[(&str, &str)]) -> Vec<(String, String)> {
    let owned = |(k, v): &(&str, &str)| ((*k).to_owned(), (*v).to_owned());
    wanted.iter().map(owned).collect()
}

#[test]
fn a_second_window_that_only_reads_leaves_nothing_behind() {
    let home = home();
    filled(&home, 3);
    let first = open(&home);
    let second = beside(&home);
    assert!(second.is_beside() && !second.is_read_only());
    assert_eq!(texts(&second), expected(3));
    insta::assert_snapshot!(second.notices().join("\n"), @"Foreply is open in another window too. What you do here is kept beside it, and joined with the rest by itself.");
    assert_eq!(waiting(&home), [""; 0]);
    drop(second);
    drop(first);
}

#[test]
fn what_a_second_window_keeps_is_there_for_it_at_once_and_for_the_first_when_it_looks() {
    let home = home();
    filled(&home, 3);
    let first = open(&home);
    let second = beside(&home);
    second.put("x", &note("from the second")).unwrap();
    assert!(second.remove::<Note>("x").unwrap());
    second.put("x", &note("once more")).unwrap();
    second.append_event("b", 0, &note("begun here")).unwrap();
    assert_eq!(kept(&second), pairs(&[("x", "once more")]));
    assert_eq!(kept(&first), []);
    assert!(first.refresh().unwrap());
    assert!(!first.refresh().unwrap());
    assert_eq!(kept(&first), pairs(&[("x", "once more")]));
    assert_eq!(first.log_ids::<Note>().unwrap(), ["a", "b"]);
    first.put("y", &note("from the first")).unwrap();
    assert!(second.refresh().unwrap());
    assert!(!second.refresh().unwrap());
    let both = pairs(&[("x", "once more"), ("y", "from the first")]);
    assert_eq!(kept(&second), both);
    // The second closes: the first clears its file away.
    drop(second);
    assert_eq!(waiting(&home).len(), 2);
    first.refresh().unwrap();
    assert_eq!(waiting(&home), [""; 0]);
    drop(first);
    let again = open(&home);
    assert_eq!(kept(&again), both);
    assert!(again.notices().is_empty(), "{:?}", again.notices());
    assert_eq!(again.scan::<waiting::Taken>().unwrap(), []);
}

#[test]
fn where_the_first_closes_before_the_second_takes_in_itself() {
    let home = home();
    let first = open(&home);
    let second = beside(&home);
    second.put("x", &note("kept")).unwrap();
    drop(first);
    second.put("z", &note("after")).unwrap();
    drop(second);
    assert_eq!(waiting(&home), [""; 0]);
    assert_eq!(kept(&open(&home)), pairs(&[("x", "kept"), ("z", "after")]));
}

/// A third start while the second still writes: what is there is taken in, what comes later too.
#[test]
fn a_new_first_window_takes_in_what_a_living_second_one_has() {
    let home = home();
    let first = open(&home);
    let second = beside(&home);
    second.put("x", &note("one")).unwrap();
    drop(first);
    let third = open(&home);
    assert_eq!(kept(&third), pairs(&[("x", "one")]));
    second.put("x", &note("two")).unwrap();
    third.refresh().unwrap();
    assert_eq!(kept(&third), pairs(&[("x", "two")]));
    third.put("x", &note("three")).unwrap();
    third.refresh().unwrap();
    assert_eq!(kept(&third), pairs(&[("x", "three")]), "taken in twice");
}

#[test]
fn a_third_program_reads_what_waits() {
    let home = home();
    let _first = open(&home);
    let second = beside(&home);
    second.put("x", &note("waits")).unwrap();
    let third = Store::open_or_read(home.path()).unwrap();
    assert_eq!(kept(&third), pairs(&[("x", "waits")]));
    let file = home.path().join("all.backup");
    assert_eq!(third.backup(&file).unwrap().entries, 1);
}

#[test]
fn a_log_is_written_on_by_one_window() {
    let home = home();
    filled(&home, 3);
    let first = open(&home);
    let second = beside(&home);
    first.append_event("a", 3, &note("event 3")).unwrap();
    let refused = second.append_event("a", 3, &note("other")).unwrap_err();
    insta::assert_snapshot!(told(&home, refused), @"HOME: this is being written in another window; go on with it there, or close that window and try again");
    second.append_event("b", 0, &note("b 0")).unwrap();
    first.refresh().unwrap();
    let refused = first.append_event("b", 1, &note("other")).unwrap_err();
    assert!(matches!(refused, StoreError::OpenElsewhere { .. }));
    second.append_event("b", 1, &note("b 1")).unwrap();
    // Once the window has closed the other may go on.
    drop(second);
    first.refresh().unwrap();
    first.append_event("b", 2, &note("b 2")).unwrap();
    assert_eq!(first.events::<Note>("b").unwrap().len(), 3);
    drop(first);
    assert_eq!(texts(&open(&home)), expected(4));
}

/// The second window was opened when the log had three events; the first has added one and gone.
#[test]
fn a_log_that_has_grown_meanwhile_is_not_written_over() {
    let home = home();
    filled(&home, 3);
    let first = open(&home);
    let second = beside(&home);
    first.append_event("a", 3, &note("event 3")).unwrap();
    drop(first);
    let refused = second.append_event("a", 3, &note("other")).unwrap_err();
    insta::assert_snapshot!(refused.to_string(), @"event 3 cannot be added to the log 'e/note/a/': it has gone on in another window; open it again");
    second.append_event("a", 4, &note("event 4")).unwrap();
    drop(second);
    assert_eq!(texts(&open(&home)), expected(5));
}

/// What no window does: a file whose events fit nowhere. It is kept and named, the rest of it is taken in.
#[test]
fn events_that_fit_nowhere_stay_in_their_file_and_are_told() {
    let home = home();
    filled(&home, 3);
    let line = |seq, key: &str, text: &str| Entry {
        seq,
        joined: false,
        version: 2,
        key: key.to_owned(),
        json: Some(format!(r#"{{"text":"{text}","share":0.5}}"#)),
    };
    let at = |seq: u64| format!("e/note/a/{seq:020}");
    let entries = [
        line(1, &at(2), "not event 2"),
        line(2, &at(3), "behind it"),
        line(3, "r/note/x", "fits"),
    ];
    let path = home.path().join("waiting-1-0");
    drop(journal::Journal::create(&path, &entries).unwrap());
    let store = open(&home);
    assert_eq!(texts(&store), expected(3));
    assert_eq!(kept(&store), pairs(&[("x", "fits")]));
    insta::assert_snapshot!(told(&home, store.set_aside().sentences().join("\n")), @"a part of what a second window has kept (HOME/waiting-1-0.left-1) is left out, since it cannot be read (it had been written on in another window meanwhile); it stays where it is.");
    assert!(home.path().join("waiting-1-0.left-1").exists());
    drop(store);
    assert!(open(&home).set_aside().sentences().is_empty());
}

#[test]
fn nothing_is_restored_beside_a_living_window_and_what_waits_goes_into_the_safety_copy() {
    let home = home();
    let file = tempfile::tempdir().unwrap();
    let file = file.path().join("a.backup");
    filled(&home, 2);
    open(&home).backup(&file).unwrap();
    let knowledge = Knowledge {
        known: &|_| None,
        sift: &|_, _, _, _| None,
    };
    let restore = || Store::restore(home.path(), &file, true, "before-restore-1", &knowledge);
    let first = open(&home);
    let second = beside(&home);
    second.put("x", &note("waits")).unwrap();
    drop(first);
    assert!(matches!(restore(), Err(StoreError::AlreadyOpen { .. })));
    let alive = waiting(&home);
    // Killed: its file stays, and nobody holds it.
    std::mem::forget(second);
    let name = home.path().join(&alive[1]);
    fs::rename(&name, home.path().join("gone")).unwrap();
    let restored = restore().unwrap();
    assert_eq!(restored.before.unwrap().tables["note"], 3);
    assert_eq!(kept(&open(&home)), []);
    assert_eq!(waiting(&home), [""; 0]);
}

/// The file of a window that was taken in and cleared away gives its number to nobody as long as a later one waits: a log that
/// goes on from the later one is taken in after it.
#[test]
fn files_are_taken_in_in_the_order_in_which_they_were_begun() {
    let home = home();
    let first = open(&home);
    let one = beside(&home);
    one.put("x", &note("1")).unwrap();
    drop(one);
    let two = beside(&home);
    two.put("x", &note("2")).unwrap();
    // The first takes in both and clears the first of them away.
    first.refresh().unwrap();
    two.append_event("log", 0, &note("begun")).unwrap();
    drop(two);
    let three = beside(&home);
    assert_eq!(three.events::<Note>("log").unwrap().len(), 1);
    three.append_event("log", 1, &note("gone on")).unwrap();
    drop(first);
    drop(three);
    let store = open(&home);
    let found: Vec<String> = store
        .events::<Note>("log")
        .unwrap()
        .into_iter()
        .map(|n| n.text)
        .collect();
    assert_eq!(found, ["begun", "gone on"]);
    assert!(store.notices().is_empty(), "{:?}", store.notices());
}

/// How many notes there are, by their first letter.
#[derive(Debug, Clone, Default, PartialEq, Serialize, serde::Deserialize)]
struct Letters(std::collections::BTreeMap<String, String>);

impl Projection for Letters {
    const NAME: &'static str = "letters";
    const VERSION: u32 = 1;
    const SOURCES: &'static [&'static str] = &["note"];

    fn apply(&mut self, change: &Change<'_>) -> Result<(), StoreError> {
        match change.record::<Note>()? {
            Some(note) => self.0.insert(change.key.to_owned(), note.text),
            None => self.0.remove(change.key),
        };
        Ok(())
    }
}

#[derive(Debug, Clone)]
enum Move {
    Put(bool, u8, u8),
    Remove(bool, u8),
    Append(bool, u8),
    Look(bool),
    /// One window closes and is opened again.
    Close(bool),
}

fn moves() -> impl Strategy<Value = Vec<Move>> {
    let one = prop_oneof![
        4 => (any::<bool>(), 0..5u8, any::<u8>()).prop_map(|(w, k, v)| Move::Put(w, k, v)),
        1 => (any::<bool>(), 0..5u8).prop_map(|(w, k)| Move::Remove(w, k)),
        2 => (any::<bool>(), 0..3u8).prop_map(|(w, l)| Move::Append(w, l)),
        2 => any::<bool>().prop_map(Move::Look),
        1 => any::<bool>().prop_map(Move::Close),
    ];
    prop::collection::vec(one, 1..40)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Two windows do what they like, each on keys of its own and on logs that either may try. Whatever was accepted is
    /// there at the end, once, and each window's counts are those of what it sees.
    #[test]
    fn two_windows_lose_nothing(moves in moves()) {
        let home = home();
        let mut windows = [Some(open(&home)), Some(beside(&home))];
        let caches: [ProjectionCache<Letters>; 2] = Default::default();
        let mut notes = std::collections::BTreeMap::new();
        let mut logs: [Vec<String>; 3] = Default::default();
        let mut caches = caches;
        for (n, one) in moves.into_iter().enumerate() {
            match one {
                Move::Put(w, k, v) => {
                    let key = format!("{}-{k}", u8::from(w));
                    let store = windows[usize::from(w)].as_ref().unwrap();
                    store.put(&key, &note(&v.to_string())).unwrap();
                    notes.insert(key, v.to_string());
                }
                Move::Remove(w, k) => {
                    let key = format!("{}-{k}", u8::from(w));
                    let store = windows[usize::from(w)].as_ref().unwrap();
                    let stood = store.remove::<Note>(&key).unwrap();
                    prop_assert_eq!(stood, notes.remove(&key).is_some());
                }
                Move::Append(w, l) => {
                    let store = windows[usize::from(w)].as_ref().unwrap();
                    let log = format!("log-{l}");
                    let seq = store.events::<Note>(&log).unwrap().len() as u64;
                    let text = format!("{n}");
                    if store.append_event(&log, seq, &note(&text)).is_ok() {
                        prop_assert_eq!(seq as usize, logs[usize::from(l)].len());
                        logs[usize::from(l)].push(text);
                    }
                }
                Move::Look(w) => {
                    let store = windows[usize::from(w)].as_ref().unwrap();
                    store.refresh().unwrap();
                    let counted = caches[usize::from(w)].current(store).unwrap();
                    let seen: std::collections::BTreeMap<_, _> = kept(store).into_iter().collect();
                    prop_assert_eq!(&counted.0, &seen);
                }
                Move::Close(w) => {
                    let at = usize::from(w);
                    windows[at] = None;
                    caches[at] = ProjectionCache::default();
                    windows[at] = Some(beside(&home));
                }
            }
        }
        drop(windows);
        // The last to close could not always take in: the next start does.
        let store = open(&home);
        prop_assert!(store.notices().is_empty(), "{:?}", store.notices());
        prop_assert_eq!(kept(&store).into_iter().collect::<std::collections::BTreeMap<_, _>>(), notes);
        for (l, log) in logs.iter().enumerate() {
            let found: Vec<String> = store.events::<Note>(&format!("log-{l}")).unwrap().into_iter().map(|n| n.text).collect();
            prop_assert_eq!(&found, log);
        }
        prop_assert_eq!(waiting(&home), Vec::<String>::new());
    }
}
