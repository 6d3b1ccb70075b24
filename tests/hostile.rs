//! Whatever comes in from outside: no panic, no hang, nothing that steers a terminal.
//!
//! Each kind of input is made twice: of any characters, and of the pieces of its own grammar put together
//! wrongly. `FOREPLY_FUZZ=CASES cargo test --test integration hostile` runs as many as it says. What must hold
//! stands in `fuzz/holds.rs`, which the fuzzer (DEVELOPERS.md) calls too.

#[path = "fuzz/holds.rs"]
mod holds;

use proptest::prelude::*;

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

const EPD: &[&str] = &[
    "8/8/1KP5/3r4/8/8/8/k7 w - - ",
    "bm ",
    "pv ",
    "am ",
    "c7",
    " Rd6+",
    ";",
    "; ",
    "id \"a\";",
    "c0 \"",
    "hmvc 3;",
    "\n",
    "#",
    "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n",
    "[Event \"x 1895\"]\n\n",
    "1. c7 ",
    "(",
    ")",
    "{",
    "}",
];
const UCI: &[&str] = &[
    "id name E\n",
    "option name MultiPV type spin default 1 min 1 max 500\n",
    "uciok\n",
    "info",
    " depth 5",
    " score cp 30",
    " score mate -3",
    " wdl 90 850 60",
    " lowerbound",
    " multipv 2",
    " multipv 999999999999999999999",
    " nodes 4000",
    " pv e2e4 e7e5",
    " pv a1a1",
    " string ",
    "\n",
    "bestmove e2e4\n",
    "bestmove (none)\n",
    "\u{fffd}",
];
const BACKUP: &[&str] = &[
    "foreply-backup 1\n",
    "foreply-backup 2\n",
    "end ",
    "!1 1 ",
    "!2 1 ",
    "!3 9 ",
    "r/word/a ",
    "e/word/a/00000000000000000000 ",
    "\"x\"",
    "-",
    "\n",
    "f/../x ",
    "f/settings.yaml ",
];
const JOURNAL: &[&str] = &[
    "foreply-journal 1\n",
    "foreply-journal ",
    "00000000 ",
    "!1 1 ",
    "!2 1 ",
    "!18446744073709551615 1 ",
    "r/word/a ",
    "r/word/k ",
    "e/word/a/00000000000000000000 ",
    "\"x\"",
    "-",
    "\n",
];

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn typed_text(input in mixed(TYPED)) {
        holds::typed(input.as_bytes());
    }

    #[test]
    fn positions(input in mixed(FEN)) {
        holds::fen(input.as_bytes());
    }

    #[test]
    fn game_texts(input in mixed(PGN)) {
        holds::pgn(input.as_bytes());
    }

    #[test]
    fn game_bytes(input in proptest::collection::vec(any::<u8>(), 0..2000)) {
        holds::pgn(&input);
    }

    #[test]
    fn drill_files(input in mixed(YAML)) {
        holds::yaml(input.as_bytes());
    }

    #[test]
    fn drills_as_epd_and_pgn(input in mixed(EPD)) {
        holds::epd(input.as_bytes());
    }

    #[test]
    fn settings(input in mixed(YAML)) {
        holds::settings(input.as_bytes());
    }

    #[test]
    fn engines(input in mixed(UCI)) {
        holds::uci(input.as_bytes());
    }

    #[test]
    fn backups(input in mixed(BACKUP)) {
        holds::backup(input.as_bytes());
    }

    #[test]
    fn store_records(input in mixed(JOURNAL)) {
        holds::journal(input.as_bytes());
    }
}

/// The inputs that the fuzzer begins with, and those that it found something with.
#[test]
fn the_starts_of_the_fuzzer() {
    let starts = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/starts");
    for (name, holds) in holds::ALL {
        let files: Vec<_> = std::fs::read_dir(starts.join(name)).unwrap().collect();
        assert!(!files.is_empty(), "{name}");
        for file in files {
            holds(&std::fs::read(file.unwrap().path()).unwrap());
        }
    }
}
