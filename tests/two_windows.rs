//! Two programs on one home at the same time, both ways: he practises while his games are judged.

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, Stdio};

use crate::support::Program;

const GAME: &str = r#"[Event "Harrowmere Chess League"]
[Date "2026.02.14"]
[White "Verrick, Ansa"]
[Black "Pell, Doran"]
[Result "0-1"]

1. e4 e5 2. Nf3 Nc6 3. d4 exd4 4. Nxd4 Nf6 5. Qg4 Nxg4 6. Nc3 Nxd4 0-1
"#;

const LINE: &[u8] = b"c7 Rd6+ Kb5 Rd5+\n=\n";
const LOCK: &[u8] = b"choose\ny\n\n";

fn practice(program: &Program) -> Child {
    program
        .command(&["practice", "saavedra-1895", "--plain"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Reads on until a line holds the words.
fn until(shown: &mut impl BufRead, words: &str) {
    let mut line = String::new();
    while !line.contains(words) {
        line.clear();
        assert_ne!(
            shown.read_line(&mut line).unwrap(),
            0,
            "'{words}' was never shown"
        );
    }
}

fn reviewed_and_judged(program: &Program) {
    // Whichever ended last has taken in what waited.
    let left = std::fs::read_dir(program.home.path()).unwrap();
    let left: Vec<_> = left.map(|e| e.unwrap().file_name()).collect();
    let waits = |name: &&std::ffi::OsString| name.to_string_lossy().starts_with("waiting-");
    assert_eq!(left.iter().find(waits), None, "{left:?}");
    let last = program.run(&["review", "last", "--nodes", "300"]);
    assert_eq!(last.code, 0, "{}", last.err);
    assert!(last.out.contains("Chosen: c7"), "{}", last.out);
    assert_eq!(program.plain(&last.err), "");
    let config = foreply::app::Config::new(program.home.path().to_owned());
    let app = foreply::app::App::open(config).unwrap();
    let own = app.drills().all().iter().filter(|d| d.is_of_own_game());
    let own: Vec<&str> = own.map(|d| d.id.as_str()).collect();
    assert!(own.iter().any(|id| id.ends_with("-5w")), "{own:?}");
}

#[test]
fn he_practises_while_his_games_are_judged() {
    let program = Program::new();
    let games = program.file("games.pgn", GAME);
    program.run(&["games", "add", &games, "--player", "Verrick, Ansa"]);
    let mut judging = program
        .command(&["games", "moments", "--nodes", "400000"])
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // The mark of the last closing goes away when the store is opened.
    while program.home.path().join("closed").exists() {
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    let mut sitting = practice(&program);
    let mut lines = sitting.stdin.take().unwrap();
    let mut shown = BufReader::new(sitting.stdout.take().unwrap());
    lines.write_all(LINE).unwrap();
    until(&mut shown, "after c7 Rd6+ Kb5 Rd5+:");
    assert!(
        judging.try_wait().unwrap().is_none(),
        "judged too soon to tell anything"
    );
    lines.write_all(LOCK).unwrap();
    drop(lines);
    until(&mut shown, "Depth in half-moves");
    let ran = sitting.wait_with_output().unwrap();
    let err = String::from_utf8(ran.stderr).unwrap();
    assert_eq!(ran.status.code(), Some(0), "{err}");
    assert_eq!(
        err.trim_end(),
        "foreply: Foreply is open in another window too. What you do here is kept beside it, and joined with the rest by itself."
    );
    let ran = judging.wait_with_output().unwrap();
    let err = String::from_utf8(ran.stderr).unwrap();
    assert!(ran.status.success(), "{err}");
    reviewed_and_judged(&program);
}

#[test]
fn his_games_are_judged_while_he_practises() {
    let program = Program::new();
    let games = program.file("games.pgn", GAME);
    let mut sitting = practice(&program);
    let mut out = BufReader::new(sitting.stdout.take().unwrap());
    out.read_line(&mut String::new()).unwrap();
    let added = program.run(&["games", "add", &games, "--player", "Verrick, Ansa"]);
    assert_eq!(added.code, 0, "{}", added.err);
    let judged = program.run(&["games", "moments", "--nodes", "300"]);
    assert_eq!(judged.code, 0, "{}", judged.err);
    let mut lines = sitting.stdin.take().unwrap();
    lines.write_all(LINE).unwrap();
    lines.write_all(LOCK).unwrap();
    drop(lines);
    std::io::copy(&mut out, &mut std::io::sink()).unwrap();
    assert!(sitting.wait().unwrap().success());
    reviewed_and_judged(&program);
}
