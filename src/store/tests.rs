use super::journal::{Entry, Journal};
use super::*;
use serde::Deserialize;
use std::fs;

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Note {
    pub(super) text: String,
    share: f64,
}

impl Record for Note {
    const TABLE: &'static str = "note";
    const VERSION: u32 = 2;

    fn from_older(version: u32, json: &str) -> Option<Self> {
        // Version 1 was the bare text.
        let text = serde_json::from_str(json).ok().filter(|_| version == 1)?;
        Some(Self { text, share: 0.0 })
    }
}

/// The same table as an older and as a newer program know it.
#[derive(Serialize, Deserialize)]
struct OldNote(String);

impl Record for OldNote {
    const TABLE: &'static str = "note";
    const VERSION: u32 = 1;
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct NewNote(pub(super) u8);

impl Record for NewNote {
    const TABLE: &'static str = "note";
    const VERSION: u32 = 3;
}

#[derive(Debug, PartialEq, Serialize, Deserialize)]
struct Sum(u64);

impl Record for Sum {
    const TABLE: &'static str = "sum";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

pub(super) fn note(text: &str) -> Note {
    Note {
        text: text.to_owned(),
        share: 0.1 + 0.2,
    }
}

pub(super) fn home() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

pub(super) fn open(home: &tempfile::TempDir) -> Store {
    Store::open(home.path()).unwrap()
}

/// As after a start of a program that kept no second copy of the journal.
pub(super) fn without_copy(home: &tempfile::TempDir) {
    fs::remove_file(home.path().join("journal-copy")).unwrap();
}

/// A message with the folder of the test taken out.
pub(super) fn told(home: &tempfile::TempDir, message: impl ToString) -> String {
    let home = home.path().display().to_string();
    message.to_string().replace(&home, "HOME")
}

/// A store with a log of `n` events, closed again.
pub(super) fn filled(home: &tempfile::TempDir, n: u64) {
    let store = open(home);
    for seq in 0..n {
        let event = note(&format!("event {seq}"));
        store.append_event("a", seq, &event).unwrap();
    }
}

pub(super) fn texts(store: &Store) -> Vec<String> {
    let events: Vec<Note> = store.events("a").unwrap();
    events.into_iter().map(|n| n.text).collect()
}

pub(super) fn expected(n: u64) -> Vec<String> {
    (0..n).map(|seq| format!("event {seq}")).collect()
}

#[test]
fn what_is_put_is_got_in_the_order_of_keys() {
    let home = home();
    let store = open(&home);
    store.put("b", &note("two")).unwrap();
    store.put("a", &note("one")).unwrap();
    store.put("b", &note("two again")).unwrap();
    assert_eq!(store.get::<Note>("b").unwrap(), Some(note("two again")));
    assert_eq!(store.get::<Note>("c").unwrap(), None);
    let keys: Vec<String> = store
        .scan::<Note>()
        .unwrap()
        .into_iter()
        .map(|k| k.0)
        .collect();
    assert_eq!(keys, ["a", "b"]);
    assert!(store.remove::<Note>("a").unwrap());
    assert!(!store.remove::<Note>("a").unwrap());
    drop(store);
    let store = open(&home);
    assert_eq!(
        store.scan::<Note>().unwrap(),
        [("b".to_owned(), note("two again"))]
    );
    assert!(store.notices().is_empty(), "{:?}", store.notices());
}

#[test]
fn logs_grow_without_gaps_and_stand_apart() {
    let home = home();
    let store = open(&home);
    for seq in 0..12 {
        store
            .append_event("a", seq, &note(&seq.to_string()))
            .unwrap();
    }
    store.append_event("ab", 0, &note("other")).unwrap();
    store.append_event("a", 3, &note("3")).unwrap();
    assert_eq!(
        texts(&store),
        (0..12).map(|n| n.to_string()).collect::<Vec<_>>()
    );
    assert_eq!(store.log_ids::<Note>().unwrap(), ["a", "ab"]);
    let gap = store.append_event("a", 13, &note("13")).unwrap_err();
    insta::assert_snapshot!(gap, @"event 13 cannot be added to the log 'a': the event before it is missing");
    let twice = store.append_event("a", 3, &note("x")).unwrap_err();
    insta::assert_snapshot!(twice, @"event 3 cannot be added to the log 'a': another event has this number");
}

#[test]
fn names_that_would_break_the_journal_are_refused() {
    let home = home();
    let store = open(&home);
    let bad = |key: &str| store.put(key, &note("x")).unwrap_err().to_string();
    insta::assert_snapshot!(bad(""), @"'' cannot be a name in the store: it is empty");
    insta::assert_snapshot!(bad("a\nb"), @"'a?b' cannot be a name in the store: it holds blanks or control characters");
    insta::assert_snapshot!(bad(&"x".repeat(600)), @"'xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx' cannot be a name in the store: it is longer than 512 bytes");
    let log = store.append_event("a/b", 0, &note("x")).unwrap_err();
    insta::assert_snapshot!(log, @"'a/b' cannot be a name in the store: it holds a slash");
}

#[test]
fn a_second_window_is_told_so() {
    let home = home();
    let first = open(&home);
    let second = Store::open(home.path()).unwrap_err();
    insta::assert_snapshot!(told(&home, second), @"HOME: the store is already open in another window; close that one, or use another folder with --home");
    drop(first);
    open(&home);
}

#[test]
fn older_forms_are_read_and_newer_ones_left_untouched() {
    let home = home();
    let store = open(&home);
    store.put("old", &OldNote("from before".into())).unwrap();
    assert_eq!(
        store.get::<Note>("old").unwrap().unwrap().text,
        "from before"
    );
    store.put("new", &NewNote(7)).unwrap();
    let read = store.get::<Note>("new").unwrap_err();
    insta::assert_snapshot!(told(&home, read), @"HOME: the table 'note' was written by a newer version of this program (form 3, this one knows 2); update the program; nothing was changed");
    assert!(matches!(
        store.put("new", &note("x")),
        Err(StoreError::Newer { .. })
    ));
    assert!(matches!(
        store.remove::<Note>("new"),
        Err(StoreError::Newer { .. })
    ));
    assert_eq!(store.get::<NewNote>("new").unwrap().unwrap().0, 7);
    let lost = store.get::<NewNote>("old").unwrap_err();
    insta::assert_snapshot!(told(&home, lost), @"HOME: the table 'note' was written by an old version of this program (form 1), which this one can no longer read; nothing was changed");
}

#[test]
fn a_newer_journal_is_left_untouched() {
    let home = home();
    filled(&home, 2);
    let path = home.path().join("journal");
    let newer = fs::read_to_string(&path)
        .unwrap()
        .replace("foreply-journal 2", "foreply-journal 9");
    fs::write(&path, &newer).unwrap();
    fs::write(home.path().join("journal-copy"), &newer).unwrap();
    let refused = Store::open(home.path()).unwrap_err();
    insta::assert_snapshot!(told(&home, refused), @"HOME/journal: the journal was written by a newer version of this program (form 9, this one knows 2); update the program; nothing was changed");
    assert_eq!(fs::read_to_string(&path).unwrap(), newer);
}

#[test]
fn disposable_values_leave_no_trace_in_the_journal() {
    let home = home();
    let store = open(&home);
    store.put("x", &Sum(5)).unwrap();
    assert_eq!(store.get::<Sum>("x").unwrap(), Some(Sum(5)));
    drop(store);
    assert_eq!(
        fs::read_to_string(home.path().join("journal")).unwrap(),
        "foreply-journal 2\n"
    );
    assert_eq!(open(&home).get::<Sum>("x").unwrap(), Some(Sum(5)));
}

#[test]
fn a_missing_database_is_built_again() {
    let home = home();
    filled(&home, 5);
    fs::remove_dir_all(home.path().join("sled")).unwrap();
    let store = open(&home);
    assert_eq!(texts(&store), expected(5));
    insta::assert_snapshot!(store.notices().join("\n"), @r"
    The database was missing.
    5 entries were carried over from the journal.
    ");
}

#[test]
fn an_emptied_database_is_built_again() {
    let home = home();
    filled(&home, 5);
    // What stack measurements showed to open silently as empty.
    fs::remove_file(home.path().join("sled/db")).unwrap();
    let store = open(&home);
    assert_eq!(texts(&store), expected(5));
    assert!(!store.notices().is_empty());
}

/// Puts, overwritings and removals of the same keys, in one piece as a rebuilding does them.
#[test]
fn a_rebuilt_database_counts_as_the_first_one_did() {
    let home = home();
    let store = open(&home);
    for n in 0..1500 {
        let key = format!("k{}", n % 7);
        match n % 5 {
            0 => assert!(store.remove::<Note>(&key).is_ok()),
            _ => store.put(&key, &note(&n.to_string())).unwrap(),
        }
    }
    let (before, meta) = (store.scan::<Note>().unwrap(), store.writer().meta);
    drop(store);
    fs::remove_dir_all(home.path().join("sled")).unwrap();
    let store = open(&home);
    assert_eq!(store.scan::<Note>().unwrap(), before);
    assert_eq!(store.writer().meta, meta);
    drop(store);
    assert!(open(&home).notices().is_empty());
}

#[test]
fn a_missing_journal_is_written_again() {
    let home = home();
    filled(&home, 5);
    without_copy(&home);
    let before = fs::read_to_string(home.path().join("journal")).unwrap();
    fs::remove_file(home.path().join("journal")).unwrap();
    let store = open(&home);
    assert_eq!(texts(&store), expected(5));
    insta::assert_snapshot!(store.notices().join("\n"), @"The journal was missing; it was written again from the database.");
    assert_eq!(
        fs::read_to_string(home.path().join("journal")).unwrap(),
        before
    );
    store.append_event("a", 5, &note("event 5")).unwrap();
    drop(store);
    assert!(open(&home).notices().is_empty());
}

#[test]
fn a_cut_last_line_is_cut_off_and_writing_goes_on() {
    let home = home();
    filled(&home, 3);
    let path = home.path().join("journal");
    let mut text = fs::read_to_string(&path).unwrap();
    text.push_str("0badc0de 4 2 e/note/a/000");
    fs::write(&path, &text).unwrap();
    let store = open(&home);
    insta::assert_snapshot!(store.notices().join("\n"), @"The last entry of the journal had been cut off, as happens when the power fails while it is written; it had not been shown as kept.");
    store.append_event("a", 3, &note("event 3")).unwrap();
    drop(store);
    fs::remove_dir_all(home.path().join("sled")).unwrap();
    assert_eq!(texts(&open(&home)), expected(4));
}

#[test]
fn an_entry_only_the_journal_has_is_carried_over_silently() {
    let home = home();
    filled(&home, 3);
    let key = Key::event("note", "a", 3).unwrap();
    let entry = Entry {
        seq: 4,
        joined: false,
        version: 2,
        json: Some(value::json(&key, &note("event 3")).unwrap()),
        key: key.as_str().to_owned(),
    };
    Journal::append_to(&home.path().join("journal"))
        .unwrap()
        .append(&[entry])
        .unwrap();
    let store = open(&home);
    assert_eq!(texts(&store), expected(4));
    assert!(store.notices().is_empty());
}

/// Every kind of damage measured on the library's files (one byte flipped, a block zeroed, cut short)
/// at many places: nothing is lost, nothing panics, and the damaged files are still there.
#[test]
fn a_damaged_database_never_costs_an_entry() {
    let mut mended = 0;
    for trial in 0..24u64 {
        let home = home();
        filled(&home, 40);
        let db = home.path().join("sled/db");
        let mut raw = fs::read(&db).unwrap();
        let used = raw.iter().rposition(|b| *b != 0).unwrap_or(0).max(1);
        let at = (trial * 7919 % 1000) as usize * used / 1000;
        match trial % 3 {
            0 => raw[at] ^= 0x40,
            1 => {
                let end = (at + 4096).min(raw.len());
                raw[at..end].fill(0);
            }
            _ => raw.truncate(at),
        }
        fs::write(&db, raw).unwrap();
        let store = open(&home);
        assert_eq!(
            texts(&store),
            expected(40),
            "trial {trial}: {:?}",
            store.notices()
        );
        store.append_event("a", 40, &note("event 40")).unwrap();
        mended += usize::from(!store.notices().is_empty());
    }
    // Else the trials would prove nothing.
    assert!(mended >= 8, "only {mended} of 24 trials hit something");
}

#[test]
fn a_damaged_end_of_the_journal_is_written_again_from_the_database() {
    let home = home();
    filled(&home, 6);
    without_copy(&home);
    let path = home.path().join("journal");
    let text = fs::read_to_string(&path)
        .unwrap()
        .replace("event 5", "event X");
    fs::write(&path, &text).unwrap();
    let store = open(&home);
    assert_eq!(texts(&store), expected(6));
    insta::assert_snapshot!(told(&home, store.notices().join("\n")), @"The journal was damaged or behind; it was moved to HOME/journal.damaged-1 and written again from the database.");
    assert_eq!(
        fs::read_to_string(home.path().join("journal.damaged-1")).unwrap(),
        text
    );
    drop(store);
    fs::remove_dir_all(home.path().join("sled")).unwrap();
    assert_eq!(texts(&open(&home)), expected(6));
}

#[test]
fn a_file_in_the_place_of_the_folder_is_named() {
    let home = home();
    let path = home.path().join("file");
    fs::write(&path, "").unwrap();
    let refused = Store::open(&path).unwrap_err();
    insta::assert_snapshot!(told(&home, refused), @"HOME/file: this is no folder; name a folder with --home");
}

/// `/dev/full` refuses every write for want of room.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_refuses_the_entry_and_keeps_the_rest() {
    let home = home();
    let mut store = open(&home);
    store.put("a", &note("before")).unwrap();
    let journal = Journal::append_to(Path::new("/dev/full")).unwrap();
    let meta = store.writer().meta;
    let healthy = store
        .writer
        .replace(Mutex::new(Writer::new(journal, None, meta)));
    let refused = store.put("a", &note("after")).unwrap_err();
    insta::assert_snapshot!(refused, @"/dev/full: the disk is full; nothing was lost: make room and try again");
    assert_eq!(store.get::<Note>("a").unwrap(), Some(note("before")));
    store.writer = healthy;
    store.put("a", &note("after")).unwrap();
    assert_eq!(store.get::<Note>("a").unwrap(), Some(note("after")));
}

#[test]
fn threads_share_it() {
    fn shareable<T: Send + Sync>(_: &T) {}
    let home = home();
    let store = open(&home);
    shareable(&store);
    std::thread::scope(|scope| {
        for log in ["a", "b", "c"] {
            let store = &store;
            scope.spawn(move || {
                for seq in 0..20 {
                    let event = note(&format!("event {seq}"));
                    store.append_event(log, seq, &event).unwrap();
                }
            });
        }
    });
    drop(store);
    let store = open(&home);
    assert_eq!(texts(&store), expected(20));
    assert!(store.notices().is_empty(), "{:?}", store.notices());
}

#[test]
fn a_long_last_entry_is_found_from_the_end() {
    let home = home();
    let long = "x".repeat(300_000);
    let store = open(&home);
    store.put("a", &note("short")).unwrap();
    store.put("b", &note(&long)).unwrap();
    drop(store);
    assert_eq!(
        journal::last_seq(&home.path().join("journal")).unwrap(),
        Some(2)
    );
    assert_eq!(open(&home).get::<Note>("b").unwrap(), Some(note(&long)));
}

/// What stands there already costs no entry of the journal.
#[test]
fn an_equal_value_is_not_written_again() {
    let home = home();
    let store = open(&home);
    let size = || {
        std::fs::metadata(home.path().join("journal"))
            .unwrap()
            .len()
    };
    store.put("x", &note("same")).unwrap();
    let before = size();
    store.put("x", &note("same")).unwrap();
    assert_eq!(size(), before);
    store.put("x", &note("other")).unwrap();
    assert!(size() > before);
}
