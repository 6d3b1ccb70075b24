//! Whatever comes in from outside: no panic, no hang, nothing that steers a terminal.
//!
//! Each kind of input is made twice: of any characters, and of the pieces of its own grammar put together
//! wrongly. `FOREPLY_FUZZ=CASES cargo test --test integration hostile` runs as many as it says.

use foreply::app::Preset;
use foreply::board::{Line, line};
use foreply::judge::EngineCommand;
use foreply::store::{Record, Store, inspect};
use foreply::tree::pgn;
use foreply::{drill, notation, text};
use proptest::prelude::*;
use serde::{Deserialize, Serialize};

fn cases() -> ProptestConfig {
    let asked = std::env::var("FOREPLY_FUZZ")
        .ok()
        .and_then(|n| n.parse().ok());
    ProptestConfig {
        cases: asked.unwrap_or(48),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// Any text, or pieces of a grammar in any order, some of them broken.
fn mixed(pieces: &'static [&'static str]) -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        8 => proptest::sample::select(pieces).prop_map(str::to_owned),
        1 => any::<char>().prop_map(String::from),
        1 => "\\PC{0,12}",
    ];
    prop_oneof![
        3 => proptest::collection::vec(piece, 0..80).prop_map(|all| all.concat()),
        1 => any::<String>(),
    ]
}

const TYPED: &[&str] = &[
    "N",
    "K",
    "e4",
    "x",
    "O-O",
    "0-0-0",
    "=Q",
    "+",
    "#",
    "?!",
    "♘",
    "♟",
    "a",
    "8",
    "9",
    " ",
    "-",
    "e2e4",
    "\u{202e}",
    "ß",
    "\u{1b}[2J",
    "...",
    "1.",
];
const PGN: &[&str] = &[
    "[Event \"x\"]\n",
    "[FEN \"8/8/8/8/8/8/8/8 w - - 0 1\"]\n",
    "\n\n",
    "1. e4 ",
    "e5 ",
    "(",
    ")",
    "{",
    "}",
    ";",
    "$18 ",
    "$999999999999 ",
    "*",
    "1-0 ",
    "Nf3 ",
    "Ke9 ",
    "[%clk 1:00]",
    "%x\n",
    "\\",
    "\"",
    "--",
    "O-O ",
    "\u{feff}",
    "\0",
];
const FEN: &[&str] = &[
    "rnbqkbnr",
    "8",
    "/",
    "pppppppp",
    " w ",
    " b ",
    "KQkq",
    "-",
    "e3",
    " 0 1",
    "9",
    "K",
    "k",
    "99999999999999999999",
    "HAha",
];
const YAML: &[&str] = &[
    "- ",
    "id: a\n",
    "  title: T\n",
    "  fen: 8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\n",
    "  task: win\n",
    "  minutes: 8\n",
    "  source: s\n",
    "  themes: []\n",
    "  lines: [\"c7\"]\n",
    "&a ",
    "*a",
    "? ",
    ": ",
    "!!binary ",
    "{",
    "[",
    "|\n",
    ">\n",
    "'",
    "\"",
    "\t",
    "---\n",
    "jobs: 2\n",
    "engine: x\n",
];

#[derive(Serialize, Deserialize)]
struct Word(String);

impl Record for Word {
    const TABLE: &'static str = "word";
    const VERSION: u32 = 1;
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn typed_text(input in mixed(TYPED)) {
        let line = Line::new(shakmaty::Chess::default());
        if let Ok(token) = notation::parse(&input) {
            let _ = notation::resolve(&token, &line);
        }
    }

    #[test]
    fn positions(input in mixed(FEN)) {
        if let Ok(position) = line::read_fen(&input) {
            // What was accepted is written and read again as the same.
            prop_assert_eq!(line::read_fen(&line::fen(&position)).unwrap(), position);
        }
    }

    #[test]
    fn game_texts(input in mixed(PGN)) {
        for game in pgn::games(&pgn::decode(input.as_bytes())) {
            match game {
                Ok(game) => drop(pgn::written_trees(&game)),
                Err(e) => prop_assert!(!e.to_string().contains('\u{1b}'), "{e}"),
            }
        }
    }

    #[test]
    fn game_bytes(input in proptest::collection::vec(any::<u8>(), 0..2000)) {
        for game in pgn::games(&pgn::decode(&input)).flatten() {
            drop(pgn::written_trees(&game));
        }
    }

    #[test]
    fn drill_files(input in mixed(YAML)) {
        let _ = drill::load(&input, "a.yaml");
    }

    #[test]
    fn settings(input in mixed(YAML)) {
        let _ = Preset::parse(&input);
    }

    #[test]
    fn engine_commands(input in any::<String>()) {
        let _ = EngineCommand::parse(&input);
    }

    #[test]
    fn nothing_steers_the_terminal(input in any::<String>()) {
        let safe = text::safe(&input);
        let steers = |c: char| c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{2028}' | '\u{2029}');
        prop_assert!(!safe.contains(steers), "{safe:?}");
        prop_assert_eq!(text::width(&text::fit(&safe, 20)), 20);
    }

    #[test]
    fn backups(input in mixed(&["foreply-backup 1\n", "end 0 56200fed\n", "end ", "00000000", " 1 1 ", "r/word/a ", "e/word/a/00000000000000000000 ", "\"x\"", "\n", "f/../x "])) {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("b");
        std::fs::write(&file, &input).unwrap();
        if let Ok(held) = inspect(&file) {
            prop_assert_eq!(held.bytes, input.len() as u64);
        }
    }

    /// A journal of anybody: the store opens, says what it could not read, and works.
    #[test]
    fn store_records(input in mixed(&["foreply-journal 1\n", "foreply-journal ", "00000000 ", "1 1 ", "r/word/a ", "e/word/a/00000000000000000000 ", "\"x\"", "-", "\n"])) {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("journal"), &input).unwrap();
        if let Ok(store) = Store::open(folder.path()) {
            store.put("k", &Word("kept".to_owned())).unwrap();
            drop(store);
            let store = Store::open(folder.path()).unwrap();
            prop_assert_eq!(store.get::<Word>("k").unwrap().unwrap().0, "kept");
        }
    }
}
