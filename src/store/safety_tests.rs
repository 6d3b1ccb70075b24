//! Backups, reading beside another process, opening without reading everything, and what happens when
//! both copies are hurt.

use std::fs;
use std::path::{Path, PathBuf};

use super::journal::Entry;
use super::tests::{NewNote, Note, expected, filled, home, note, open, texts, told};
use super::*;

/// As a program that knows the table 'note' in its second form.
fn known(table: &str) -> Option<u32> {
    (table == "note").then_some(2)
}

pub(super) fn restore(folder: &Path, file: &Path, replace: bool) -> Result<Restored, StoreError> {
    let knowledge = Knowledge {
        known: &known,
        sift: &|_, _, text, _| Some(text.to_owned()),
    };
    Store::restore(folder, file, replace, "before-1.backup", &knowledge)
}

/// A home with six events and a record, and a backup of it.
fn backed_up() -> (tempfile::TempDir, PathBuf) {
    let home = home();
    filled(&home, 6);
    let store = open(&home);
    store.put("x", &note("first")).unwrap();
    store.put("x", &note("second")).unwrap();
    store.put("gone", &note("removed")).unwrap();
    store.remove::<Note>("gone").unwrap();
    let file = home.path().join("a.backup");
    let done = store.backup(&file).unwrap();
    assert_eq!(done, inspect(&file).unwrap());
    assert_eq!((done.entries, done.tables["note"]), (7, 7));
    drop(store);
    (home, file)
}

#[test]
fn a_backup_restores_into_an_empty_folder() {
    let (_old, file) = backed_up();
    let new = home();
    let done = restore(new.path(), &file, false).unwrap();
    assert_eq!((done.now.entries, done.before.is_some()), (7, false));
    let store = open(&new);
    assert!(store.notices().is_empty(), "{:?}", store.notices());
    assert_eq!(texts(&store), expected(6));
    assert_eq!(store.get::<Note>("x").unwrap(), Some(note("second")));
    assert_eq!(store.get::<Note>("gone").unwrap(), None);
    store.append_event("a", 6, &note("event 6")).unwrap();
}

#[test]
fn what_is_kept_is_replaced_only_by_name_and_after_a_copy() {
    let (_old, file) = backed_up();
    let new = home();
    open(&new).put("mine", &note("mine")).unwrap();
    let refused = restore(new.path(), &file, false).unwrap_err();
    insta::assert_snapshot!(told(&new, refused), @"HOME: entries are kept here already; `foreply restore FILE --replace HOME` puts the backup in their place, after a safety copy of them");
    assert_eq!(open(&new).get::<Note>("mine").unwrap(), Some(note("mine")));
    let before = restore(new.path(), &file, true).unwrap().before.unwrap();
    assert_eq!(before.entries, 1);
    let store = open(&new);
    assert_eq!(texts(&store), expected(6));
    assert_eq!(store.get::<Note>("mine").unwrap(), None);
    drop(store);
    // And back again from the safety copy.
    fs::rename(&before.path, new.path().join("b")).unwrap();
    restore(new.path(), &new.path().join("b"), true).unwrap();
    assert_eq!(open(&new).get::<Note>("mine").unwrap(), Some(note("mine")));
}

#[test]
fn an_open_store_is_not_restored_into() {
    let (home, file) = backed_up();
    let _open = open(&home);
    let refused = restore(home.path(), &file, true).unwrap_err();
    assert!(
        matches!(refused, StoreError::AlreadyOpen { .. }),
        "{refused}"
    );
}

/// A process that is being started has, for a moment, every file of its parent.
#[test]
fn what_a_starting_process_took_along_keeps_nobody_out() {
    let home = home();
    filled(&home, 6);
    let store = open(&home);
    let taken_along = store._lock.as_ref().unwrap().twin();
    drop(store);
    let library = fs::File::open(home.path().join("sled/db")).unwrap();
    library.lock().unwrap();
    let starting = std::thread::spawn(move || {
        std::thread::sleep(std::time::Duration::from_millis(50));
        drop(library);
    });
    let store = open(&home);
    assert!(store.notices().is_empty(), "{:?}", store.notices());
    assert_eq!(texts(&store), expected(6));
    starting.join().unwrap();
    drop(taken_along);
}

/// Every byte of a backup counts: whichever is changed, and wherever it is cut, it is refused, and the
/// home that it was to go into stays empty.
#[test]
fn a_damaged_backup_is_refused() {
    let (_old, file) = backed_up();
    let whole = fs::read(&file).unwrap();
    let new = home();
    let hurt = new.path().join("hurt");
    for at in 0..whole.len() {
        let mut raw = whole.clone();
        raw[at] ^= 1 << (at % 8);
        fs::write(&hurt, &raw).unwrap();
        assert!(inspect(&hurt).is_err(), "byte {at} changed");
        fs::write(&hurt, &whole[..at]).unwrap();
        assert!(inspect(&hurt).is_err(), "cut at {at}");
    }
    fs::write(&hurt, &whole[..whole.len() - 3]).unwrap();
    let refused = restore(new.path(), &hurt, false).unwrap_err();
    insta::assert_snapshot!(told(&new, refused), @"HOME/hurt: this backup is damaged: line 9 is cut off or too long; nothing was changed");
    assert!(!new.path().join("journal").exists());
    fs::write(&hurt, "something else\n").unwrap();
    insta::assert_snapshot!(told(&new, inspect(&hurt).unwrap_err()), @"HOME/hurt: this is no backup of foreply; nothing was changed");
}

#[test]
fn newer_backups_and_newer_tables_are_refused_untouched() {
    let (_old, file) = backed_up();
    let new = home();
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, text.replace("foreply-backup 1", "foreply-backup 2")).unwrap();
    let refused = restore(new.path(), &file, false).unwrap_err();
    assert!(
        matches!(refused, StoreError::Newer { found: 2, .. }),
        "{refused}"
    );
    let newer = home();
    let store = open(&newer);
    store.put("n", &NewNote(1)).unwrap();
    store.backup(&newer.path().join("b")).unwrap();
    let refused = restore(new.path(), &newer.path().join("b"), false).unwrap_err();
    insta::assert_snapshot!(told(&newer, refused), @"HOME/b: the table 'note' was written by a newer version of this program (form 3, this one knows 2); update the program; nothing was changed");
    assert!(!new.path().join("journal").exists());
}

#[test]
fn a_backup_never_replaces_something_else() {
    let (home, file) = backed_up();
    let store = open(&home);
    let other = home.path().join("thesis.txt");
    fs::write(&other, "years of work").unwrap();
    let refused = store.backup(&other).unwrap_err();
    insta::assert_snapshot!(told(&home, refused), @"HOME/thesis.txt: this is something else than a backup and is not written over; choose another name; nothing was changed");
    assert_eq!(fs::read_to_string(&other).unwrap(), "years of work");
    store.put("y", &note("new")).unwrap();
    assert_eq!(store.backup(&file).unwrap().entries, 8);
}

#[test]
fn a_store_that_was_closed_is_opened_without_reading_it_all() {
    let home = home();
    filled(&home, 40);
    assert!(
        !open(&home).checked,
        "the mark of the last closing is not believed"
    );
    let mut killed = open(&home);
    assert!(!killed.checked);
    std::mem::forget(killed.closing.take());
    drop(killed);
    assert!(open(&home).checked, "believed without a mark");
}

/// So many events that the library, which has read its log to the end, does not look at all of it again.
fn large(home: &tempfile::TempDir) {
    let events: Vec<Note> = expected(6000).iter().map(|text| note(text)).collect();
    let store = open(home);
    let mut batch = store.batch();
    batch.put_log("a", &events).unwrap();
    batch.keep().unwrap();
    drop(store);
    drop(open(home));
}

/// Hurts the database and leaves size and time of its file as they were, as a failing disk does.
fn rot(home: &tempfile::TempDir, hurt: impl FnOnce(&mut [u8])) {
    let db = home.path().join("sled/db");
    let changed = fs::metadata(&db).unwrap().modified().unwrap();
    let mut raw = fs::read(&db).unwrap();
    hurt(&mut raw);
    fs::write(&db, raw).unwrap();
    let file = fs::File::options().write(true).open(&db).unwrap();
    file.set_modified(changed).unwrap();
}

/// The opening believes the mark, the check that follows finds the damage, and the opening after that
/// mends it.
#[test]
fn damage_behind_the_mark_is_found_by_the_check() {
    let mut found = 0;
    for trial in 0..12u64 {
        let home = home();
        filled(&home, 40);
        rot(&home, |raw| {
            let used = raw.iter().rposition(|b| *b != 0).unwrap();
            raw[(trial * 7919 % 1000) as usize * used / 1000] ^= 0x10;
        });
        let store = open(&home);
        let noticed = store.check().is_err() || !store.notices().is_empty();
        found += usize::from(noticed);
        drop(store);
        let store = open(&home);
        assert_eq!(texts(&store), expected(40), "trial {trial}");
        assert!(!noticed || store.check().is_ok());
    }
    assert!(found >= 4, "only {found} of 12 trials hit something");
}

/// A command that meets the damage and ends with it leaves no mark: the next one does not meet it again. Where
/// in its files the database looks at opening is not the same each time; of the places hurt here it mostly
/// does not look at several.
#[test]
fn damage_that_a_reader_meets_is_mended_by_the_next_opening() {
    let mut met = 0;
    for seq in (170..5900).step_by(700) {
        let words = format!("\"event {seq}\"");
        let home = home();
        large(&home);
        rot(&home, |raw| {
            for at in 0..raw.len() - words.len() {
                if raw[at..].starts_with(words.as_bytes()) {
                    raw[at] ^= 0x10;
                }
            }
        });
        let store = open(&home);
        let read = store.backup(&home.path().join("all.backup"));
        let meets = !store.checked && matches!(read, Err(StoreError::Damaged { .. }));
        met += usize::from(meets);
        drop(store);
        let store = open(&home);
        assert!(!meets || store.checked, "{seq}: believed again");
        assert_eq!(texts(&store), expected(6000), "{seq}");
    }
    assert!(met > 0, "the opening has found them all");
}

/// Wherever the end of the database is lost, the journal has it all.
#[test]
fn a_database_that_is_cut_off_is_mended() {
    for percent in (50..100).step_by(5) {
        let home = home();
        large(&home);
        let db = home.path().join("sled/db");
        let file = fs::File::options().write(true).open(&db).unwrap();
        file.set_len(file.metadata().unwrap().len() * percent / 100)
            .unwrap();
        drop(file);
        let store = open(&home);
        assert_eq!(texts(&store), expected(6000), "{percent} %");
    }
}

#[test]
fn a_damaged_line_in_a_sound_store_is_noticed_and_written_again() {
    let home = home();
    filled(&home, 6);
    let path = home.path().join("journal");
    let text = fs::read_to_string(&path)
        .unwrap()
        .replace("event 2", "event X");
    fs::write(&path, text).unwrap();
    let store = open(&home);
    assert_eq!(texts(&store), expected(6));
    insta::assert_snapshot!(told(&home, store.notices().join("\n")), @"The journal was damaged; it was moved to HOME/journal.damaged-1 and mended from its copy.");
    assert!(journal::is_sound(&path).unwrap());
}

/// One entry is hurt in the journal, another in the database: each has what the other lacks.
#[test]
fn two_damaged_copies_make_one_whole() {
    let home = home();
    filled(&home, 6);
    let store = open(&home);
    let Source::Base(base) = &store.source else {
        unreachable!()
    };
    let key = Key::event("note", "a", 4).unwrap();
    base.hurt(key.as_str());
    drop(store);
    let path = home.path().join("journal");
    let text = fs::read_to_string(&path)
        .unwrap()
        .replace("event 2", "event X");
    fs::write(&path, text).unwrap();
    let store = open(&home);
    assert_eq!(texts(&store), expected(6), "{:?}", store.notices());
    drop(store);
    let store = open(&home);
    assert_eq!(texts(&store), expected(6));
    assert!(store.notices().is_empty(), "{:?}", store.notices());
}

#[test]
fn a_value_that_is_too_large_is_refused_not_lost() {
    let home = home();
    let store = open(&home);
    let refused = store.put("big", &note(&"x".repeat(5 << 20))).unwrap_err();
    insta::assert_snapshot!(refused, @"r/note/big cannot be written down: it is larger than 4 MiB");
    store.put("small", &note("x")).unwrap();
}

#[cfg(unix)]
#[test]
fn a_folder_that_goes_away_is_noticed_before_anything_is_lost() {
    let home = home();
    let store = open(&home);
    store.put("a", &note("1")).unwrap();
    let away = home.path().join("journal.away");
    fs::rename(home.path().join("journal"), &away).unwrap();
    let refused = store.put("a", &note("2")).unwrap_err();
    insta::assert_snapshot!(told(&home, refused), @"HOME/journal: it is no longer there; was its disk taken out, or the folder removed? Put it back and start again: what was kept until now is in it");
    fs::rename(&away, home.path().join("journal")).unwrap();
    store.put("a", &note("3")).unwrap();
}

#[test]
fn a_home_on_a_disk_that_is_not_there_is_not_begun_anew() {
    let home = home();
    let refused = Store::open(&home.path().join("disk/foreply")).unwrap_err();
    insta::assert_snapshot!(told(&home, refused), @"HOME/disk/foreply: the folder it is to lie in is not there; connect its disk, or create the folder");
}

#[test]
fn settings_travel_with_a_backup() {
    let (old, file) = backed_up();
    fs::write(old.path().join("settings.yaml"), "jobs: 2\n").unwrap();
    open(&old).backup(&file).unwrap();
    let new = home();
    restore(new.path(), &file, false).unwrap();
    let set = fs::read_to_string(new.path().join("settings.yaml")).unwrap();
    assert_eq!(set, "jobs: 2\n");
    // A name in a backup is never a path: this one would leave the folder.
    let text = fs::read_to_string(&file)
        .unwrap()
        .replace("f/settings.yaml", "f/../escaped.txt");
    let entries: Vec<Entry> = text
        .lines()
        .filter_map(|line| {
            let body = line.split_once(' ')?.1;
            Entry::read(&format!("{:08x} {body}", crc32fast::hash(body.as_bytes())))
        })
        .collect();
    assert!(entries.iter().any(|e| e.key == "f/../escaped.txt"));
    let forged = old.path().join("forged");
    super::backup::write(&forged, entries).unwrap();
    let other = home();
    let inner = other.path().join("home");
    restore(&inner, &forged, false).unwrap();
    assert!(!other.path().join("escaped.txt").exists());
}
