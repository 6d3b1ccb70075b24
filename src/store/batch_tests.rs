//! Steps of several entries.

use super::journal::Entry;
use super::tests::{Note, expected, filled, home, note, open, texts, told};
use super::*;

/// What is written together is there at once, after closing too, and without the database as well.
#[test]
fn what_is_written_together_is_kept() {
    let home = home();
    let store = open(&home);
    let mut batch = store.batch();
    let events: Vec<Note> = (0..600).map(|n| note(&format!("event {n}"))).collect();
    batch.put_log("log", &events).unwrap();
    batch.put("x", &note("in it")).unwrap();
    assert!(store.events::<Note>("log").unwrap().is_empty());
    batch.keep().unwrap();
    let kept = |store: &Store| {
        assert_eq!(store.events::<Note>("log").unwrap().len(), 600);
        assert_eq!(store.get::<Note>("x").unwrap(), Some(note("in it")));
    };
    kept(&store);
    drop(store);
    kept(&open(&home));
    std::fs::remove_dir_all(home.path().join("sled")).unwrap();
    kept(&open(&home));
}

/// Of a batch with a value that cannot be written nothing is kept, and a log is never written over.
#[test]
fn a_batch_is_kept_whole_or_not_at_all() {
    let home = home();
    let store = open(&home);
    let mut batch = store.batch();
    batch.put_log("log", &[note("first")]).unwrap();
    batch.put("x", &note(&"x".repeat(5 << 20))).unwrap();
    assert!(matches!(batch.keep(), Err(StoreError::Form { .. })));
    assert!(store.log_ids::<Note>().unwrap().is_empty());
    store.append_event("log", 0, &note("first")).unwrap();
    let error = store.batch().put_log("log", &[note("other")]).unwrap_err();
    assert!(
        error.to_string().contains("the log is there already"),
        "{error}"
    );
    drop(store);
    let store = open(&home);
    assert_eq!(store.events::<Note>("log").unwrap(), [note("first")]);
}

/// A batch that takes a log further, puts a record and removes another one.
fn step(store: &Store) {
    let mut batch = store.batch();
    for seq in 1..4 {
        let event = note(&format!("event {seq}"));
        batch.append_event("log", seq, &event).unwrap();
    }
    batch.put("x", &note("new")).unwrap();
    batch.remove::<Note>("y").unwrap();
    batch.keep().unwrap();
}

/// Wherever the process is killed while the step is written, all of it is there or nothing.
#[test]
fn a_step_that_was_cut_off_has_not_happened() {
    let home = home();
    let store = open(&home);
    store.append_event("log", 0, &note("event 0")).unwrap();
    store.put("x", &note("old")).unwrap();
    store.put("y", &note("old")).unwrap();
    let path = home.path().join("journal");
    let before = std::fs::metadata(&path).unwrap().len();
    step(&store);
    drop(store);
    let journal = std::fs::read(&path).unwrap();
    let all = journal.len() as u64;
    for len in before..=all {
        let other = tempfile::tempdir().unwrap();
        let cut = &journal[..usize::try_from(len).unwrap()];
        std::fs::write(other.path().join("journal"), cut).unwrap();
        // As a second window reads it while it is being written, and as it is opened again.
        let reader = recover::read_only(
            other.path(),
            &StoreError::OnlyRead {
                path: other.path().to_owned(),
            },
        );
        let opened = open(&other);
        for store in [reader.unwrap(), opened] {
            let events = store.events::<Note>("log").unwrap().len();
            let x = store.get::<Note>("x").unwrap().unwrap();
            let y = store.get::<Note>("y").unwrap();
            match len == all {
                true => assert_eq!((events, x, y), (4, note("new"), None)),
                false => assert_eq!((events, x, y), (1, note("old"), Some(note("old"))), "{len}"),
            }
        }
        // What is written next stands behind whole steps alone.
        let store = open(&other);
        store.put("z", &note("next")).unwrap();
        drop(store);
        let store = open(&other);
        assert_eq!(store.notices(), [""; 0]);
        assert_eq!(store.get::<Note>("z").unwrap(), Some(note("next")));
    }
}

#[test]
fn events_of_a_step_have_no_gaps() {
    let home = home();
    let store = open(&home);
    store.append_event("log", 0, &note("event 0")).unwrap();
    let mut batch = store.batch();
    let gap = batch.append_event("log", 2, &note("event 2"));
    assert!(matches!(gap, Err(StoreError::Event { .. })), "{gap:?}");
    let other = batch.append_event("log", 0, &note("other"));
    assert!(matches!(other, Err(StoreError::Event { .. })), "{other:?}");
    // The same event once more is no event.
    batch.append_event("log", 0, &note("event 0")).unwrap();
    batch.append_event("log", 1, &note("event 1")).unwrap();
    batch.append_event("log", 2, &note("event 2")).unwrap();
    batch.keep().unwrap();
    assert_eq!(store.events::<Note>("log").unwrap().len(), 3);
}

/// A journal of the first form is read, and written on in this one.
#[test]
fn a_journal_of_the_first_form() {
    let home = home();
    let entry = Entry {
        seq: 1,
        joined: false,
        version: 2,
        key: "e/note/log/00000000000000000000".to_owned(),
        json: Some(serde_json::to_string(&note("event 0")).unwrap()),
    };
    let path = home.path().join("journal");
    std::fs::write(&path, format!("foreply-journal 1\n{}", entry.line())).unwrap();
    let store = open(&home);
    assert_eq!(store.events::<Note>("log").unwrap(), [note("event 0")]);
    store.put("y", &note("old")).unwrap();
    step(&store);
    drop(store);
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.starts_with("foreply-journal 2\n"), "{text}");
    let store = open(&home);
    assert_eq!(store.notices(), [""; 0]);
    assert_eq!(store.events::<Note>("log").unwrap().len(), 4);
}

/// The database refuses an entry that the journal has: it is kept, and nothing more is written until the next start.
#[test]
fn what_the_database_has_refused_is_there_at_the_next_start() {
    let home = home();
    filled(&home, 2);
    let store = open(&home);
    let key = Key::event("note", "a", 2).unwrap();
    let refused = Entry {
        seq: 3,
        joined: false,
        version: 2,
        json: Some(value::json(&key, &note("event 2")).unwrap()),
        key: key.as_str().to_owned(),
    };
    let mut writer = store.writer();
    writer
        .journal
        .append(std::slice::from_ref(&refused))
        .unwrap();
    let sled = home.path().join("sled");
    let full = std::io::Error::from(std::io::ErrorKind::StorageFull);
    let error = writer.refuse(home.path(), &StoreError::io(&sled, &full));
    drop(writer);
    let words = told(&home, error.to_string());
    insta::assert_snapshot!(words, @"HOME: the database could not be written (the disk is full). What you have written is kept in the journal: see to the disk, then start the program again, and it is there");
    // Tried again, and anything else: the same words, and the event is not written twice.
    let again = [
        store.append_event("a", 2, &note("event 2, later")),
        store.put("x", &note("next")),
    ];
    for error in again {
        assert_eq!(told(&home, error.unwrap_err().to_string()), words);
    }
    drop(store);
    let store = open(&home);
    assert_eq!(texts(&store), expected(3));
    assert_eq!(store.get::<Note>("x").unwrap(), None);
    store.put("x", &note("next")).unwrap();
    assert_eq!(store.get::<Note>("x").unwrap(), Some(note("next")));
}
