//! Faults in several copies at once, what is lost where all of them are hit, and records that nobody understands.

use std::fs;
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::journal::Journal;
use super::safety_tests::restore;
use super::tests::{Note, expected, filled, home, note, open, texts, told, without_copy};
use super::*;

/// Makes one entry unreadable.
fn hurt(path: &Path, event: &str) {
    let text = fs::read_to_string(path).unwrap();
    assert!(text.contains(event));
    fs::write(path, text.replace(event, "event X")).unwrap();
}

fn without_database(home: &tempfile::TempDir) {
    fs::remove_dir_all(home.path().join("sled")).unwrap();
}

#[test]
fn copies_hurt_in_different_entries_are_joined() {
    let home = home();
    filled(&home, 8);
    hurt(&home.path().join("journal"), "event 2");
    hurt(&home.path().join("journal"), "event 7");
    hurt(&home.path().join("journal-copy"), "event 5");
    without_database(&home);
    let store = open(&home);
    assert_eq!(texts(&store), expected(8));
    insta::assert_snapshot!(told(&home, store.notices().join("\n")), @r"
    The journal was damaged; it was moved to HOME/journal.damaged-1 and mended from its copy.
    The database was missing.
    8 entries were carried over from the journal.
    The second copy of the journal was damaged; it was moved to HOME/journal-copy.damaged-1 and written again.
    ");
    assert_eq!(store.lost(), 0);
    drop(store);
    let store = open(&home);
    assert!(store.notices().is_empty(), "{:?}", store.notices());
    assert_eq!(
        fs::read(home.path().join("journal")).unwrap(),
        fs::read(home.path().join("journal-copy")).unwrap()
    );
}

#[test]
fn what_is_in_no_copy_is_told_until_a_backup_is_restored() {
    let home = home();
    filled(&home, 6);
    let file = home.path().join("whole.backup");
    open(&home).backup(&file).unwrap();
    for copy in ["journal", "journal-copy"] {
        hurt(&home.path().join(copy), "event 2");
    }
    without_database(&home);
    let store = open(&home);
    assert!(
        store
            .notices()
            .iter()
            .any(|n| n.contains("1 entry is in no copy any more")),
        "{:?}",
        store.notices()
    );
    let torn = store.events::<Note>("a").unwrap_err();
    insta::assert_snapshot!(told(&home, torn), @"HOME: event 2 of 'a' in the table 'note' cannot be read (it is missing); all else is there: a backup may have it as it was, or update the program");
    drop(store);
    let store = open(&home);
    assert_eq!((store.lost(), store.notices().len()), (1, 0));
    drop(store);
    restore(home.path(), &file, true).unwrap();
    let store = open(&home);
    assert_eq!((store.lost(), texts(&store)), (0, expected(6)));
}

/// As the homes of older programs are: no copy, and no database either.
#[test]
fn a_damaged_line_of_the_only_copy_is_named() {
    let home = home();
    filled(&home, 6);
    without_copy(&home);
    hurt(&home.path().join("journal"), "event 2");
    without_database(&home);
    let store = open(&home);
    assert!(store.events::<Note>("a").is_err());
    insta::assert_snapshot!(told(&home, store.notices().join("\n")), @r"
    The database was missing.
    5 entries were carried over from the journal.
    1 line of the journal could not be read.
    1 entry is in no copy any more; a backup may have what is lost.
    The journal was damaged or behind; it was moved to HOME/journal.damaged-1 and written again from the database.
    ");
}

/// The same entry in both journals, and the database has it still.
#[test]
fn the_database_helps_where_both_journals_are_hit() {
    let home = home();
    filled(&home, 6);
    for copy in ["journal", "journal-copy"] {
        hurt(&home.path().join(copy), "event 2");
        hurt(&home.path().join(copy), "event 5");
    }
    let store = open(&home);
    assert_eq!((store.lost(), texts(&store)), (0, expected(6)));
}

#[test]
fn a_missing_journal_is_written_again_from_its_copy() {
    let home = home();
    filled(&home, 5);
    fs::remove_file(home.path().join("journal")).unwrap();
    without_database(&home);
    let store = open(&home);
    assert_eq!(texts(&store), expected(5));
    insta::assert_snapshot!(store.notices().join("\n"), @r"
    The journal was missing; it was written again from its copy.
    The database was missing.
    5 entries were carried over from the journal.
    ");
}

/// One bit makes a 3 of the 2 in the first line, and a journal of this program one of a newer program.
#[test]
fn a_damaged_first_line_is_no_newer_program() {
    for touched in [true, false] {
        let home = home();
        filled(&home, 3);
        let path = home.path().join("journal");
        let time = path.metadata().unwrap().modified().unwrap();
        let text = fs::read_to_string(&path).unwrap();
        fs::write(&path, text.replacen("journal 2", "journal 3", 1)).unwrap();
        if !touched {
            let file = fs::File::options().write(true).open(&path).unwrap();
            file.set_modified(time).unwrap();
        }
        assert_eq!(texts(&open(&home)), expected(3));
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
    }
}

#[test]
fn an_old_copy_brings_nothing_back_after_restoring() {
    let (small, large) = (home(), home());
    filled(&small, 3);
    filled(&large, 8);
    let file = small.path().join("small.backup");
    open(&small).backup(&file).unwrap();
    restore(large.path(), &file, true).unwrap();
    assert_eq!(texts(&open(&large)), expected(3));
    without_database(&large);
    fs::remove_file(large.path().join("journal")).unwrap();
    assert_eq!(texts(&open(&large)), expected(3));
}

#[test]
fn a_copy_that_cannot_be_written_stops_nothing_and_is_told() {
    let home = home();
    filled(&home, 3);
    fs::remove_file(home.path().join("journal-copy")).unwrap();
    let store = open(&home);
    store.writer().copy = Some(Journal::append_to(Path::new("/dev/full")).unwrap());
    store.append_event("a", 3, &note("event 3")).unwrap();
    store.append_event("a", 4, &note("event 4")).unwrap();
    drop(store);
    let store = open(&home);
    assert_eq!(texts(&store), expected(5));
    drop(store);
    fs::remove_file(home.path().join("journal")).unwrap();
    without_database(&home);
    assert_eq!(texts(&open(&home)), expected(5));
}

/// A random bit in each of the three copies, many times: an entry is lost only where both journals are hit in it.
#[test]
fn one_bit_in_each_copy() {
    let mut mended = 0;
    for trial in 0..40u64 {
        let home = home();
        filled(&home, 30);
        let mut lines = Vec::new();
        for (n, name) in ["journal", "journal-copy", "sled/db"]
            .into_iter()
            .enumerate()
        {
            let path = home.path().join(name);
            let mut raw = fs::read(&path).unwrap();
            let used = raw.iter().rposition(|b| *b != 0).unwrap() + 1;
            let at = (trial * 7919 + n as u64 * 104_729) as usize * 31 % used;
            lines.push(raw[..at].iter().filter(|b| **b == b'\n').count());
            raw[at] ^= 1 << (trial % 8);
            fs::write(&path, raw).unwrap();
        }
        let store = open(&home);
        if lines[0] != lines[1] {
            assert_eq!(
                texts(&store),
                expected(30),
                "trial {trial}: {:?}",
                store.notices()
            );
            assert_eq!(store.lost(), 0);
            mended += 1;
        }
    }
    assert!(mended > 30, "{mended}");
}

/// The table of notes, as nobody here would write it.
#[derive(Serialize, Deserialize)]
struct Strange(Vec<u8>);

impl Record for Strange {
    const TABLE: &'static str = "note";
    const VERSION: u32 = 2;
}

#[test]
fn a_record_that_cannot_be_read_is_passed_over_and_told() {
    let home = home();
    let store = open(&home);
    store.put("a", &note("one")).unwrap();
    store.put("b", &Strange(vec![1])).unwrap();
    store.put("c", &super::tests::NewNote(3)).unwrap();
    store.put("d", &note("two")).unwrap();
    let read: Vec<String> = store
        .scan::<Note>()
        .unwrap()
        .into_iter()
        .map(|n| n.0)
        .collect();
    assert_eq!(read, ["a", "d"]);
    assert_eq!(store.get::<Note>("b").unwrap(), None);
    assert_eq!(store.keys::<Note>().unwrap(), ["a", "b", "c", "d"]);
    insta::assert_snapshot!(store.set_aside().sentences().join("\n"), @r"
    'b' in the table 'note' is left out, since it cannot be read (invalid type: integer `1`, expected a string at line 1 column 2); it stays where it is.
    'c' in the table 'note' is left out, since it cannot be read (a newer version of this program has written it); it stays where it is.
    ");
    // What is passed over goes into a backup all the same.
    let file = home.path().join("all.backup");
    assert_eq!(store.backup(&file).unwrap().entries, 4);
}
