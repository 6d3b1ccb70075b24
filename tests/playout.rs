//! Positions played out through the program itself: kept move by move, taken up again, gone through.

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, Stdio};

use crate::support::Program;

/// Lucena's position with the king to be driven out first (L. R. Lucena, 1497; the position itself in
/// A. Salvio, 1634, from memory).
const ROOK_ENDING: &str = "1K1k4/1P6/8/8/8/8/r7/2R5 w - - 0 1";

/// Exit code, what it printed and what it said beside.
fn talk(program: &Program, args: &[&str], input: &str) -> (i32, String, String) {
    let ran = program.typed(args, input);
    (ran.code, ran.out, ran.err)
}

/// What the account of the last game prints.
fn account_of_last(program: &Program, how: &[&str]) -> String {
    let args = ["playout", "--account", "last", "--nodes", "2000"];
    let (code, out, err) = talk(program, &[&args, how].concat(), "");
    assert_eq!(code, 0, "{err}");
    out
}

/// The name in 'Game NAME. You are ...'.
fn name(out: &str) -> String {
    let rest = out.split("Game ").nth(1).unwrap();
    rest.split(". ").next().unwrap().to_owned()
}

#[test]
fn a_game_from_the_first_move_to_the_account() {
    let program = Program::new();
    let input = "nonsense\nRc9\nplan the rook shields the king\nwrite\nRd1+ Ke7 Rd4 +-\n\nRd1+\nboard\nresign\n";
    let args = ["playout", "--fen", ROOK_ENDING, "--level", "1"];
    let (code, out, err) = talk(&program, &args, input);
    assert_eq!(code, 0, "{out}{err}");
    assert!(out.contains("'nonsense' is not a move"), "{out}");
    assert!(out.contains("'Rc9' is not a move"), "{out}");
    assert!(out.contains("you resigned (lost)"), "{out}");
    let account = account_of_last(&program, &[]);
    assert!(account.contains("Your plan before move"), "{account}");
    assert!(account.contains("You had White."), "{account}");
    assert!(account.contains("Then came: 1. Rd1+ "), "{account}");
    // Lucena's position is won: resigning gave that away, and no move.
    assert!(
        account.contains("In the last position you are winning."),
        "{account}"
    );
    let page = program.out("game.html");
    account_of_last(
        &program,
        &["--format", "html", "-o", page.to_str().unwrap()],
    );
    let page = std::fs::read_to_string(page).unwrap();
    assert!(page.contains("<svg ") && page.contains("1. Rd1+"), "{page}");
    assert!(account.contains("'the rook shields the king'"), "{account}");
    let json = account_of_last(&program, &["--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(value["format"], "foreply-playout");
    assert_eq!(value["outcome"], "lost");
    let written = value["moves"].as_array().unwrap();
    assert!(written.iter().any(|m| m["written"] == true), "{json}");
}

#[test]
fn a_game_that_goes_on_is_not_judged() {
    let program = Program::new();
    let args = ["playout", "--fen", ROOK_ENDING, "--level", "1"];
    let (code, out, _) = talk(&program, &args, "Rd1+\nadjourn\n");
    assert_eq!(code, 0);
    let id = name(&out);
    assert!(
        out.contains(&format!("foreply playout --resume {id}")),
        "{out}"
    );
    let (code, _, err) = talk(&program, &["playout", "--account", &id], "");
    assert_eq!(code, 1);
    assert_eq!(
        err.trim_end(),
        format!(
            "foreply: game '{id}' is not over, so it is not judged; finish it first (`foreply playout --resume {id}`)"
        )
    );
    let (_, list, _) = talk(&program, &["playout", "--list"], "");
    assert!(list.contains("goes on"), "{list}");
}

#[test]
fn a_game_in_which_nothing_was_played_is_not_kept() {
    let program = Program::new();
    let args = ["playout", "--fen", ROOK_ENDING, "--level", "1"];
    for input in ["adjourn\n", "", "help\n"] {
        let (code, out, err) = talk(&program, &args, input);
        assert_eq!(code, 0, "{err}");
        assert!(
            out.contains("Nothing was played, so nothing is kept."),
            "{out}"
        );
    }
    let (_, list, _) = talk(&program, &["playout", "--list"], "");
    assert!(list.starts_with("No games yet"), "{list}");
}

#[test]
fn bad_input_is_refused_with_what_to_do() {
    let program = Program::new();
    let told = |args: &[&str]| {
        let (code, _, err) = talk(&program, args, "");
        format!("{code} {}", err.trim_end())
    };
    insta::assert_snapshot!(told(&["playout", "--fen", ROOK_ENDING, "--clock", "soon"]), @"2 foreply: --clock soon: give minutes and seconds for each move, 15+10, or minutes alone, 15 (up to 300 and 300)");
    insta::assert_snapshot!(told(&["playout", "--resume", "last"]), @"1 foreply: there is no adjourned game; `foreply playout --ladder` shows positions to begin with");
    insta::assert_snapshot!(told(&["playout", "--account", "17"]), @"1 foreply: there is no game '17'; `foreply playout --list` shows them");
    insta::assert_snapshot!(told(&["playout", "--fen", "k7/1Q6/1K6/8/8/8/8/8 b - - 0 1"]), @"1 foreply: there is nothing to play out: it is checkmate");
}

/// Starts a game with a clock and waits for the engine's first move.
fn started(program: &Program) -> (Child, String) {
    let args = [
        "playout",
        "--fen",
        ROOK_ENDING,
        "--level",
        "1",
        "--clock",
        "5+0",
    ];
    let mut child = program
        .command(&args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.as_mut().unwrap().write_all(b"Rd1+\n").unwrap();
    let mut out = BufReader::new(child.stdout.as_mut().unwrap());
    let mut first = String::new();
    out.read_line(&mut first).unwrap();
    let id = name(&first);
    // The engine's answer is a row of its own: the prompt, the move.
    let mut row = String::new();
    while !row.contains("1... ") {
        row.clear();
        assert!(out.read_line(&mut row).unwrap() > 0, "no answer");
    }
    (child, id)
}

#[test]
fn a_killed_game_goes_on_at_the_same_move_with_the_same_clock() {
    let program = Program::new();
    let (mut child, id) = started(&program);
    child.kill().unwrap();
    child.wait().unwrap();
    let (code, out, err) = talk(&program, &["playout", "--resume", &id], "adjourn\n");
    assert_eq!(code, 0, "{err}");
    let prompt = out.lines().find(|l| l.starts_with("2. [")).unwrap();
    assert!(
        prompt.starts_with("2. [4:5") || prompt.starts_with("2. [5:00"),
        "{prompt}"
    );
}

#[test]
fn an_engine_that_dies_costs_nothing_but_time() {
    let program = Program::new();
    let args = [
        "playout",
        "--fen",
        ROOK_ENDING,
        "--level",
        "1",
        "--engine",
        "/bin/false",
    ];
    let (code, out, err) = talk(&program, &args, "Rd1+\n");
    assert_eq!(code, 3, "{out}{err}");
    let id = name(&out);
    assert!(
        out.contains(&format!(
            "Adjourned; it is kept. Go on with: foreply playout --resume {id}"
        )),
        "{out}"
    );
    // With an engine that works it goes on where it stood: the engine's answer first.
    let (code, out, err) = talk(&program, &["playout", "--resume", &id], "adjourn\n");
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("\n1... "), "{out}");
    assert!(out.contains("\n2. "), "{out}");
}

/// An engine that dies in the middle of a game is started anew, and the game goes on without a word of it.
#[test]
#[cfg(unix)]
fn an_engine_that_dies_in_the_middle_is_started_again() {
    let program = Program::new();
    let counted = program.home.path().join("starts");
    // Each process answers three searches and is gone at the fourth.
    let script = program.file(
        "mortal.sh",
        &format!(
            r#"echo x >> {}
n=0
while read -r row; do
  case $row in go*) n=$((n + 1)); [ $n -le 3 ] || exit 0;; esac
  printf '%s\n' "$row"
done | {} engine
"#,
            counted.display(),
            env!("CARGO_BIN_EXE_foreply")
        ),
    );
    let engine = format!("sh {script}");
    let args = [
        "playout",
        "--fen",
        ROOK_ENDING,
        "--level",
        "1",
        "--engine",
        &engine,
    ];
    let (code, out, err) = talk(&program, &args, "Rd1+\nRd2\nadjourn\n");
    assert_eq!(code, 0, "{out}{err}");
    let starts = std::fs::read_to_string(&counted).unwrap().lines().count();
    assert!(starts > 1, "the engine never died");
    assert!(out.contains("\n1... ") && out.contains("\n2... "), "{out}");
}
