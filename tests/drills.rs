//! The drills' files against independent libraries, and the commands that add, write and make drills.

use std::process::Command;

use foreply::board::line;
use foreply::drill::{builtin, grade};
use serde_json::Value;

use crate::support::{Program, left_out};

/// One position with its solution, made for the test.
const HOMEWORK: &str = "[Event \"For Tuesday\"]\n[SetUp \"1\"]\n[FEN \"4k3/8/8/3q1p2/4P3/8/8/4K3 w - - 0 1\"]\n\n1. exd5 *\n";

/// PyPI's `jsonschema`, `PyYAML` and `chess` (which reads EPD) are the independent readers.
#[test]
fn independent_libraries_read_our_files() {
    let program = Program::new();
    let epd = program.out("all.epd");
    let ran = program.run(&["--quiet", "drills", "export", epd.to_str().unwrap()]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/drills");
    let files = std::fs::read_dir(root).unwrap().map(|f| f.unwrap().path());
    let files = files.filter(|f| f.extension().is_some_and(|e| e == "yaml"));
    let python = Command::new("python3")
        .arg(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/python/check_drills.py"
        ))
        .arg(format!("{root}/schema.json"))
        .arg(&epd)
        .args(files)
        .output();
    let python = match python {
        Ok(run) if run.status.code() != Some(2) => run,
        _ => {
            left_out("python3 with chess, jsonschema and PyYAML is not there");
            return;
        }
    };
    assert!(
        python.status.success(),
        "{}",
        String::from_utf8_lossy(&python.stderr)
    );
    let found: Value = serde_json::from_slice(&python.stdout).unwrap();
    assert_eq!(found["faults"], serde_json::json!([]));
    let drills = builtin().unwrap();
    assert_eq!(found["records"], drills.len());
    let read = found["epd"].as_array().unwrap();
    assert_eq!(read.len(), drills.len());
    for (drill, read) in drills.iter().zip(read) {
        let mut best: Vec<String> = grade::published(drill).iter().map(line::uci).collect();
        best.sort();
        assert_eq!(read[1], serde_json::json!(best), "{}", drill.id);
        assert_eq!(read[2], drill.id.as_str());
    }
}

#[test]
fn drills_are_added_shown_exported_and_removed() {
    let program = Program::new();
    let file = program.file("h.pgn", HOMEWORK);
    let add = || program.run(&["drills", "add", &file]);
    assert_eq!(add().out, "1 added\n");
    assert_eq!(add().out, "1 there already\n");
    insta::assert_snapshot!(program.run(&["drills", "list", "--own"]).out, @"for-tuesday                               White to move    8 min");
    let shown = program.run(&["drills", "show", "for-tuesday"]);
    assert!(
        shown.out.contains("exd5") && shown.code == 0,
        "{}",
        shown.out
    );
    let practised = program.run(&["practice", "for-tuesday", "--plain"]);
    assert!(
        practised.out.contains("White: Ke1 e4"),
        "{}{}",
        practised.out,
        practised.err
    );
    let epd = program.out("mine.epd");
    let ran = program.run(&["drills", "export", epd.to_str().unwrap(), "--own"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    insta::assert_snapshot!(std::fs::read_to_string(&epd).unwrap(), @r#"4k3/8/8/3q1p2/4P3/8/8/4K3 w - - bm exd5; id "for-tuesday"; c0 "For Tuesday";"#);
    // The same position under another name, and a name of the collection.
    let twice = HOMEWORK.replace("Tuesday", "Friday");
    let ran = program.run(&["drills", "add", &program.file("t.pgn", &twice)]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.err.trim_end(), @"foreply: drill 'for-friday': its position is that of the drill 'for-tuesday'");
    let ran = program.run(&["drills", "remove", "for-tuesday"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let ran = program.run(&["drills", "remove", "for-tuesday"]);
    insta::assert_snapshot!(ran.err.trim_end(), @"foreply: no drill 'for-tuesday' was added by you; `foreply drills list --own` shows those that were");
    assert_eq!(program.run(&["drills", "list", "--own"]).out, "");
}

#[test]
fn a_file_with_one_bad_drill_adds_none() {
    let program = Program::new();
    let text = format!("{HOMEWORK}\n{}", HOMEWORK.replace("exd5", "exd6"));
    let ran = program.run(&["drills", "add", &program.file("h.pgn", &text)]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME/h.pgn:7: drill 'for-tuesday-2': 'exd6' is not legal in 4k3/8/8/3q1p2/4P3/8/8/4K3 w - - 0 1");
    assert_eq!(program.run(&["drills", "list", "--own"]).out, "");
}

#[test]
fn the_check_writes_grades_and_keeps_comments() {
    let program = Program::new();
    let text = "# mine\n- id: a-pawn-takes # short\n  title: A pawn takes\n  fen: 4k3/8/8/3q1p2/4P3/8/8/4K3 w - - 0 1\n  task: move\n  minutes: 2\n  source: made for a test\n  lines: [exd5]\n";
    let file = program.file("mine.yaml", text);
    let ran = program.run(&[
        "--quiet", "drills", "check", &file, "--nodes", "3000", "--grade",
    ]);
    assert_eq!(ran.code, 0, "{} {}", ran.out, ran.err);
    let graded = std::fs::read_to_string(&file).unwrap();
    let (before, after) = graded.split_once("  grade: ").unwrap();
    assert!(text.starts_with(before), "{graded}");
    assert!(
        text.ends_with(after.split_once('\n').unwrap().1),
        "{graded}"
    );
    assert!(ran.out.contains("only, next"), "{}", ran.out);
}

#[test]
fn an_attempt_becomes_a_drill() {
    let program = Program::new();
    let ran = program.run(&["drills", "from-attempt", "last"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("no locked attempt yet"), "{}", ran.err);
}
