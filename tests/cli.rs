//! The command line as a new user meets it: what it prints, what it refuses, how it exits.

use crate::support::Program;

const NOTES: &str = "[Event \"Harrowmere Chess League\"]\n[White \"Marrowby, Ilse\"]\n[Black \"Quillan, Tove\"]\n[Result \"*\"]\n\n\
1. e4 e5 2. Nf3 (2. Bc4 Nf6 3. d3 $10) 2... Nc6 *\n";

#[test]
fn help_says_what_it_must_not_be_used_for() {
    let ran = Program::new().run(&["--help"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.contains("article 11.3"), "{}", ran.out);
    assert!(ran.out.contains("outranks"), "{}", ran.out);
}

#[test]
fn wrong_usage_exits_with_2() {
    for args in [
        &["reviw"][..],
        &["review"],
        &["review", "x.pgn", "--nodes", "3"],
        &["practice", "--minutes", "0"],
    ] {
        let ran = Program::new().run(args);
        assert_eq!(ran.code, 2, "{args:?}: {}", ran.err);
        assert!(ran.out.is_empty() && !ran.err.is_empty(), "{args:?}");
    }
}

#[test]
fn a_file_that_is_not_there() {
    let ran = Program::new().run(&["review", "missing.pgn"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.err.trim_end(), @"foreply: missing.pgn: No such file or directory (os error 2); give a PGN file, - for standard input, or the name of an attempt");
}

#[test]
fn a_game_without_notes() {
    let program = Program::new();
    let ran = program.run(&["review", &program.file("bare.pgn", "1. e4 e5 2. Nf3 *\n")]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME/bare.pgn: no written variations; put what you saw behind a move in brackets: 17. Nd4 (17. Rd1 Qe7 18. c4)");
}

#[test]
fn an_attempt_that_is_not_there() {
    let ran = Program::new().run(&["review", "20260214"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.err.trim_end(), @"foreply: there is no attempt '20260214'; `foreply history` lists them all");
}

#[test]
fn a_bad_game_is_told_and_the_rest_is_reviewed() {
    let program = Program::new();
    let text = format!("[Event \"?\"]\n\n1. e4 e5 2. Kz9 *\n\n{NOTES}");
    let ran = program.run(&["review", &program.file("two.pgn", &text), "--nodes", "500"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME/two.pgn: line 3, column 13 (game 1): 'Kz9': 'z' is no file; files are a to h");
    assert!(
        ran.out
            .contains("Marrowby, Ilse - Quillan, Tove, Harrowmere Chess League: move 2, White"),
        "{}",
        ran.out
    );
}

#[test]
fn an_engine_that_does_not_start_exits_with_3() {
    let program = Program::new();
    let ran = program.run(&[
        "review",
        &program.file("n.pgn", NOTES),
        "--engine",
        "/nowhere/engine --uci",
    ]);
    assert_eq!(ran.code, 3);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: the engine 'engine --uci' did not start: No such file or directory (os error 2); nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn a_position_that_is_none() {
    for (fen, _) in [("8/8/8/8/8/8/8/8 w - - 0 1", ""), ("not a position", "")] {
        let ran = Program::new().run(&["practice", "--fen", fen]);
        assert_eq!(ran.code, 1, "{}", ran.err);
    }
    let ran = Program::new().run(&["practice", "--fen", "8/8/8/8/8/8/8/8 w - - 0 1"]);
    insta::assert_snapshot!(ran.err.trim_end(), @"foreply: '8/8/8/8/8/8/8/8 w - - 0 1' is not a possible position: the board is empty; a king is missing");
}

#[test]
fn a_drill_that_is_not_there() {
    let ran = Program::new().run(&["drills", "show", "no-such"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.err.trim_end(), @"foreply: there is no drill 'no-such'; `foreply drills list` shows them");
}

#[test]
fn the_list_of_drills_gives_nothing_away() {
    let ran = Program::new().run(&["drills", "list"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.lines().count() >= 12);
    for word in ["sacrifice", "stalemate", "win", "draw", "underpromotion"] {
        assert!(!ran.out.contains(word), "'{word}' in the list");
    }
}

#[test]
fn a_drill_file_with_faults_is_told_by_line() {
    let program = Program::new();
    let text = "- id: one\n  title: One\n  fen: 8/8/8/8/8/8/8/8 w - - 0 1\n  task: win\n  minutes: 8\n  source: s\n  themes: []\n  lines: [\"Ke2\"]\n";
    let ran = program.run(&["drills", "check", &program.file("bad.yaml", text)]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME/bad.yaml:3:3: drill 'one': '8/8/8/8/8/8/8/8 w - - 0 1' is not a possible position: the board is empty; a king is missing");
}

#[test]
fn output_goes_to_a_file_whole_or_not_at_all() {
    let program = Program::new();
    let notes = program.file("n.pgn", NOTES);
    let target = program.out("review.json");
    let path = target.to_str().unwrap();
    let ran = program.run(&[
        "review", &notes, "--nodes", "500", "--format", "json", "-o", path,
    ]);
    assert_eq!((ran.code, ran.out.as_str()), (0, ""), "{}", ran.err);
    let json: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(&target).unwrap()).unwrap();
    assert_eq!(json["format"], "foreply-review");
    let ran = program.run(&[
        "review",
        &notes,
        "--nodes",
        "500",
        "-o",
        "/nowhere/review.txt",
    ]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.err.trim_end(), @"foreply: /nowhere/review.txt: No such file or directory (os error 2)");
}

/// The same text, whether it is told as it is found or written at the end.
#[test]
fn what_is_told_as_it_is_found_is_what_is_written_at_the_end() {
    let program = Program::new();
    let notes = "tests/data/harrowmere-homework.pgn";
    let target = program.out("review.txt");
    let args = ["review", notes, "--nodes", "2000"];
    let told = program.run(&args);
    assert_eq!(told.code, 0, "{}", told.err);
    let written = program.run(&[&args[..], &["-o", target.to_str().unwrap()]].concat());
    assert_eq!((written.code, written.out.as_str()), (0, ""));
    assert_eq!(told.out, std::fs::read_to_string(&target).unwrap());
    assert!(told.out.contains("\n1. "), "{}", told.out);
    // Nothing is told twice, and every review opens with its one sentence.
    for mark in ["\nChosen: ", "The decisive point:"] {
        let trees = told.out.matches("\n----").count();
        assert!(told.out.matches(mark).count() <= trees, "{}", told.out);
    }
}

#[test]
fn one_engine_or_two_warm_or_cold_the_same_bytes() {
    let (first, second) = (Program::new(), Program::new());
    let notes = first.file("n.pgn", NOTES);
    let args = |jobs| {
        [
            "review",
            notes.as_str(),
            "--nodes",
            "3000",
            "--format",
            "json",
            "--jobs",
            jobs,
        ]
    };
    let cold = first.run(&args("1"));
    assert_eq!(cold.code, 0, "{}", cold.err);
    assert_eq!(cold.out, first.run(&args("1")).out, "warm");
    assert_eq!(cold.out, second.run(&args("2")).out, "two engines");
}

/// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895: the tree that queens is told of the
/// rook sacrifice that follows, and why it draws.
#[test]
fn the_saavedra_position_end_to_end() {
    let ran = Program::new().run(&[
        "review",
        "tests/data/harrowmere-homework.pgn",
        "--format",
        "json",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    let finding = &json["attempts"][0]["findings"][0];
    assert_eq!(finding["resource"], "Rc4+", "{finding:#}");
    assert_eq!(
        (finding["class"].as_str(), finding["ply"].as_u64()),
        (Some("counted"), Some(12))
    );
    let sentence = finding["sentence"].as_str().unwrap();
    assert!(
        sentence.contains("stops with 6.c8=Q") && sentence.contains("stalemate: a draw"),
        "{sentence}"
    );
}

/// Notes of one's own are attempts from memory, once, and counted apart from sittings.
#[test]
fn notes_of_ones_own_are_counted_once_and_apart() {
    let program = Program::new();
    let notes = program.file("mine.pgn", NOTES);
    for _ in 0..2 {
        let ran = program.run(&["--quiet", "review", &notes, "--mine", "--nodes", "300"]);
        assert_eq!(ran.code, 0, "{}", ran.err);
    }
    let told = program.run(&["progress"]).out;
    assert!(
        told.contains("1  notes written from memory, first sight"),
        "{told}"
    );
}

/// Whoever reads the sitting may leave, as with `| head`: quiet, and kept.
#[test]
fn a_sitting_that_nobody_reads_any_more_ends_quietly() {
    use std::io::Write;
    let program = Program::new();
    let mut child = program
        .command(&["practice", "saavedra-1895", "--plain"])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    // It may have ended already, and then does not read.
    let _ = child.stdin.take().unwrap().write_all(b"c7 Rd6+\n=\ntree\n");
    let ran = child.wait_with_output().unwrap();
    assert_eq!(ran.status.code(), Some(0));
    assert_eq!(String::from_utf8(ran.stderr).unwrap(), "");
    let again = program.run(&["practice", "--plain"]);
    assert!(again.out.contains("White: Kb6 c6"), "{}", again.out);
}

#[test]
fn a_home_that_is_a_file() {
    let program = Program::new();
    let file = program.file("home", "");
    let ran = std::process::Command::new(env!("CARGO_BIN_EXE_foreply"))
        .args(["--home", &file, "practice", "--plain"])
        .output()
        .unwrap();
    let said = String::from_utf8(ran.stderr).unwrap();
    assert_eq!(ran.status.code(), Some(4), "{said}");
    assert!(!said.contains("settings"), "{said}");
}
