//! What must hold of whatever comes in from outside, one function a kind of input: for the fuzzer, and for
//! `tests/hostile.rs` with inputs of its own.
//!
//! A panic or a failed assertion is a finding; that something is refused is none.

use std::path::Path;

use foreply::app::{EntryToken, Preset};
use foreply::board::{Line, line};
use foreply::games::names_in;
use foreply::judge::{EngineCommand, Question, overhear};
use foreply::notation::{self, Reading};
use foreply::store::{Record, Store, inspect};
use foreply::tree::pgn;
use foreply::{drill, text, tui};
use serde::{Deserialize, Serialize};
use shakmaty::Chess;

type Holds = fn(&[u8]);

/// Each kind of input, by the name of its target and of the folder of its starts.
pub const ALL: [(&str, Holds); 9] = [
    ("typed", typed),
    ("fen", fen),
    ("pgn", pgn),
    ("yaml", yaml),
    ("epd", epd),
    ("settings", settings),
    ("uci", uci),
    ("backup", backup),
    ("journal", journal),
];

/// Nothing in it can steer a terminal.
fn harmless(words: &str) {
    let steers = |c: char| {
        (c.is_control() && c != '\n')
            || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{2028}' | '\u{2029}')
    };
    assert!(!words.contains(steers), "{words:?}");
}

/// Lines of a sitting; the moves among them are played on one board.
pub fn typed(input: &[u8]) {
    let input = String::from_utf8_lossy(input);
    let safe = text::safe(&input);
    harmless(&safe);
    assert_eq!(text::width(&text::fit(&safe, 20)), 20);
    let mut line = Line::new(Chess::default());
    for row in input.lines() {
        let typed = tui::input::line_parser::read(row);
        if let Some((unreadable, span)) = typed.bad {
            harmless(&unreadable.to_string());
            assert!(row.get(span).is_some(), "a span outside of the line");
        }
        for piece in typed.pieces {
            if let EntryToken::Move(words) = piece {
                play(&words, &mut line);
            }
        }
    }
}

fn play(words: &str, line: &mut Line) {
    let Ok(token) = notation::parse(words) else {
        return;
    };
    let meant = notation::meanings(&token, line.position());
    let _ = notation::slips(&token, line);
    let _ = notation::false_mate_claim(&token, line);
    match notation::resolve(&token, line) {
        Reading::Legal(mv) => {
            assert!(meant.contains(&mv));
            line.push(&mv).expect("what is legal can be played");
        }
        Reading::Ambiguous(moves) => assert!(moves.iter().all(|mv| meant.contains(mv))),
        _ => {}
    }
}

/// A position: what is accepted is written and read again as the same.
pub fn fen(input: &[u8]) {
    let input = String::from_utf8_lossy(input);
    if let Ok(position) = line::read_fen(&input) {
        let again = line::read_fen(&line::fen(&position));
        assert_eq!(again.expect("our own FEN is read"), position);
        let _ = Line::new(position).rule();
    }
}

/// A file of games: each is read, cut into written trees, and written out.
pub fn pgn(input: &[u8]) {
    names_in(input);
    let decoded = pgn::decode(input);
    for game in pgn::games(&decoded) {
        match game {
            Ok(game) => {
                drop(pgn::written_trees(&game));
                let written = pgn::write_game(&game);
                let again = pgn::games(&written).next();
                assert!(matches!(again, Some(Ok(_))), "{written:?} gives {again:?}");
            }
            Err(e) => harmless(&e.to_string()),
        }
    }
    pgn::games_as_they_stand(&decoded).for_each(drop);
}

/// Written and read again they are the same, but for the form of their moves: what was read as `Rd2` is written
/// with the sign of check that it lacked.
fn same_again(drills: &[drill::Drill]) {
    let written = drill::write(drills).expect("what was read can be written");
    let again = drill::load(&written, "b.yaml").expect(&written);
    assert_eq!(drill::write(&again).expect("again"), written);
    let names = |drills: &[drill::Drill]| -> Vec<_> {
        let name = |d: &drill::Drill| (d.id.clone(), d.title.clone(), d.root.clone());
        drills.iter().map(name).collect()
    };
    assert_eq!(names(&again), names(drills));
}

/// A file of drills: what is accepted is written and read again as the same.
pub fn yaml(input: &[u8]) {
    let input = String::from_utf8_lossy(input);
    match drill::load(&input, "a.yaml") {
        Ok(drills) => same_again(&drills),
        Err(wrong) => wrong.iter().for_each(|e| harmless(&e.to_string())),
    }
}

/// The same as EPD and as PGN; what is accepted is written as YAML.
pub fn epd(input: &[u8]) {
    let folder = tempfile::tempdir().expect("a folder");
    for name in ["a.epd", "a.pgn"] {
        let path = folder.path().join(name);
        std::fs::write(&path, input).expect("a file");
        match drill::load_file(&path) {
            Ok(drills) => {
                let _ = drill::write_epd(&drills);
                same_again(&drills);
            }
            Err(wrong) => wrong.iter().for_each(|e| harmless(&e.to_string())),
        }
    }
}

/// Settings, and the command of an engine in them.
pub fn settings(input: &[u8]) {
    let input = String::from_utf8_lossy(input);
    if let Ok(preset) = Preset::parse(&input) {
        let _ = EngineCommand::parse(&preset.engine.unwrap_or_default());
    }
    let _ = EngineCommand::parse(&input);
}

/// What an engine says: only legal moves and worths from 0 to 1 come of it.
pub fn uci(input: &[u8]) {
    let input = String::from_utf8_lossy(input);
    let question = Question {
        line: Line::new(Chess::default()),
        lines: 3,
        nodes: 1000,
    };
    let Ok(answer) = overhear(&question, &input) else {
        return;
    };
    assert!((1..=3).contains(&answer.moves.len()));
    for ranked in &answer.moves {
        assert!((0.0..=1.0).contains(&ranked.expected.value()));
        let mut line = question.line.clone();
        for mv in &ranked.pv {
            line.push(mv).expect("a line of legal moves");
        }
    }
}

/// A line that begins with `!` gets the checksum that makes the rest believable: else the sum would keep
/// everything out.
fn believable(input: &[u8]) -> String {
    let text = String::from_utf8_lossy(input);
    let row = |row: &str| match row.strip_prefix('!') {
        Some(body) => format!("{:08x} {body}\n", crc32fast::hash(body.as_bytes())),
        None => format!("{row}\n"),
    };
    text.split('\n').map(row).collect()
}

#[derive(Serialize, Deserialize)]
struct Word(String);

impl Record for Word {
    const TABLE: &'static str = "word";
    const VERSION: u32 = 1;
}

/// A backup: looked into, and where it is sound, restored; nothing lies outside of the folder then.
pub fn backup(input: &[u8]) {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("b");
    let body = believable(input);
    let sum = crc32fast::hash(body.as_bytes());
    let count = body.lines().count().saturating_sub(1);
    std::fs::write(&file, format!("{body}end {count} {sum:08x}\n")).expect("a file");
    match inspect(&file) {
        Ok(_) => {
            let home = folder.path().join("home");
            let _ = foreply::app::restore(&home, &file, None, 0);
            let beside = std::fs::read_dir(folder.path()).expect("the folder");
            assert!(beside.count() <= 2, "something was written beside the home");
            works(&home);
        }
        Err(e) => harmless(&e.to_string()),
    }
}

/// A journal of anybody: the store opens, says what it could not read, and works.
pub fn journal(input: &[u8]) {
    let folder = tempfile::tempdir().expect("a folder");
    let body = believable(input);
    std::fs::write(folder.path().join("journal"), body).expect("a file");
    works(folder.path());
}

/// Where the store opens, what is put into it is there the next time.
fn works(home: &Path) {
    let Ok(store) = Store::open(home) else {
        return;
    };
    store.notices().iter().for_each(|n| harmless(n));
    let _ = store.get::<Word>("a");
    if store.put("k", &Word("kept".to_owned())).is_err() {
        // A newer program's value under this very key.
        return;
    }
    drop(store);
    let store = Store::open(home).expect("what opened once opens again");
    let word = store.get::<Word>("k").expect("it is whole");
    assert_eq!(word.expect("it is there").0, "kept");
}
