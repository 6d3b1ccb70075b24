//! `foreply history`: the list, its filters, and the short names that other commands take.

use serde_json::Value;

use crate::support::{Program, Ran};

const NOTES: &str = r#"[Event "Harrowmere Chess League"]
[Site "Harrowmere"]
[Date "2026.02.21"]
[White "Marrowby, Ilse"]
[Black "Pell, Doran"]
[Result "*"]
[SetUp "1"]
[FEN "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1"]

1. c7 (1. c7 Rd6+ 2. Kb5 Rd5+ 3. Kb4 $10) (1. Kc7 $14) *

[Event "Harrowmere Cup"]
[Site "Harrowmere"]
[Date "2026.02.28"]
[White "Verrick, Ansa"]
[Black "Quillan, Tove"]
[Result "*"]
[SetUp "1"]
[FEN "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1"]

1. g3 (1. g3 Kf8 $16) *
"#;

fn with_notes() -> Program {
    let program = Program::new();
    let notes = program.file("notes.pgn", NOTES);
    let kept = program.run(&["review", &notes, "--mine", "--over", "--nodes", "2000"]);
    assert_eq!(kept.code, 0, "{}", kept.err);
    program
}

fn json(ran: &Ran) -> Value {
    assert_eq!(ran.code, 0, "{}", ran.err);
    serde_json::from_str(&ran.out).unwrap()
}

fn entries(program: &Program, filter: &[&str]) -> Vec<Value> {
    let all = ["history", "--format", "json"];
    let document = json(&program.run(&[&all, filter].concat()));
    assert_eq!(document["format"], "foreply-history");
    document["entries"].as_array().unwrap().clone()
}

#[test]
fn every_name_that_is_listed_is_taken_by_the_other_commands() {
    let program = with_notes();
    let all = entries(&program, &[]);
    assert_eq!(all.len(), 2);
    for entry in &all {
        let name = entry["name"].as_str().unwrap();
        let review = program.run(&["review", name, "--nodes", "2000"]);
        assert_eq!(review.code, 0, "{}", review.err);
        assert!(
            review.out.contains(&format!("Attempt {name}")),
            "{}",
            review.out
        );
        let whole = entry["id"].as_str().unwrap();
        assert_eq!(
            program.run(&["review", whole, "--nodes", "2000"]).out,
            review.out
        );
        let letter = program.out(&format!("{name}.pgn"));
        let sent = program.run(&["coach", "send", name, "-o", letter.to_str().unwrap()]);
        assert_eq!(sent.code, 0, "{}", sent.err);
        let taken = program.run(&[
            "coach",
            "take",
            letter.to_str().unwrap(),
            "--attempt",
            name,
            "--dry-run",
            "--by",
            "Bram Oskarn",
        ]);
        assert_eq!(taken.code, 0, "{}", taken.err);
        let drill = program.run(&["drills", "from-attempt", name]);
        assert_ne!(drill.code, 2, "{}", drill.err);
        assert!(!drill.err.contains("there is no attempt"), "{}", drill.err);
    }
    let none = program.run(&["review", "zzzz9"]);
    insta::assert_snapshot!(program.plain(&none.err), @"foreply: there is no attempt 'zzzz9'; `foreply history` lists them all");
}

#[test]
fn the_list_is_sifted_and_says_by_what() {
    let program = with_notes();
    let text = program.run(&["history"]);
    assert!(
        text.out.contains("Marrowby, Ilse - Pell, Doran"),
        "{}",
        text.out
    );
    assert!(text.out.ends_with("\n2 entries.\n"), "{}", text.out);
    let width = text.out.lines().map(|l| l.chars().count()).max();
    assert!(width <= Some(80), "{}", text.out);
    assert_eq!(entries(&program, &["--opponent", "pell"]).len(), 1);
    assert_eq!(
        entries(&program, &["--opponent", "harrowmere cup"]).len(),
        1
    );
    assert_eq!(entries(&program, &["--kind", "drill"]).len(), 0);
    assert_eq!(entries(&program, &["--kind", "notes"]).len(), 2);
    assert_eq!(entries(&program, &["--limit", "1"]).len(), 1);
    assert_eq!(entries(&program, &["--unreviewed"]).len(), 0);
    assert_eq!(entries(&program, &["--to", "2001-01-01"]).len(), 0);
    assert_eq!(entries(&program, &["--from", "2001-01-01"]).len(), 2);
    // Ansa saw the reply and judged what came of it too low.
    let missed = entries(&program, &["--finding", "seen-misjudged"]);
    assert!(
        missed
            .iter()
            .any(|e| e["place"].as_str().unwrap().contains("Quillan")),
        "{missed:?}"
    );
    assert_eq!(entries(&program, &["--finding", "phantom-move"]).len(), 0);
    let empty = program.run(&["history", "--opponent", "oskarn", "--kind", "game"]);
    insta::assert_snapshot!(empty.out.trim_end(), @r"
    Nothing with 'oskarn', of the kind game; `foreply history` alone lists
    everything.
    ");
    let turned = program.run(&["history", "--from", "2026-03-01", "--to", "2026-02-01"]);
    assert_eq!(turned.code, 1);
    insta::assert_snapshot!(turned.err.trim_end(), @"foreply: --from 2026-03-01 is after --to 2026-02-01; nothing lies between them");
    assert_eq!(program.run(&["history", "--from", "soon"]).code, 2);
}

#[test]
fn an_empty_home_says_how_to_begin() {
    let program = Program::new();
    let ran = program.run(&["history"]);
    insta::assert_snapshot!(ran.out.trim_end(), @"No attempt is locked yet; `foreply` opens a position to begin with.");
    assert_eq!(entries(&program, &[]).len(), 0);
}

/// What came from a file is escaped on the page and safe on the terminal.
#[test]
fn a_page_holds_the_same_and_nothing_gets_out_of_it() {
    let program = Program::new();
    let hostile = NOTES.replace("Pell, Doran", "<script>alert(1)</script>");
    let notes = program.file("notes.pgn", &hostile);
    program.run(&["review", &notes, "--mine", "--over", "--nodes", "500"]);
    let page = program.run(&["history", "--format", "html"]);
    assert_eq!(page.code, 0, "{}", page.err);
    assert!(!page.out.contains("<script>alert"), "{}", page.out);
    assert!(
        page.out.contains("&#60;script&#62;alert") || page.out.contains("&lt;script&gt;alert"),
        "{}",
        page.out
    );
    for entry in entries(&program, &[]) {
        assert!(page.out.contains(entry["name"].as_str().unwrap()));
    }
}

/// Every command has a page of the manual and stands in the completions.
#[test]
fn the_program_describes_itself_to_shells_and_to_man() {
    let program = Program::new();
    let folder = program.out("man1");
    let ran = program.run(&["man", folder.to_str().unwrap()]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let help = program.run(&["--help"]).out;
    let commands = help
        .lines()
        .skip_while(|l| !l.starts_with("Commands:"))
        .skip(1);
    let commands: Vec<&str> = commands
        .take_while(|l| l.starts_with("  "))
        .filter(|l| !l.starts_with("    "))
        .map(|l| l.split_whitespace().next().unwrap())
        .collect();
    assert!(commands.len() > 10, "{help}");
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let script = program.run(&["completions", shell]);
        assert_eq!(script.code, 0, "{}", script.err);
        for command in &commands {
            assert!(
                script.out.contains(command),
                "{shell} does not know {command}"
            );
        }
    }
    for command in &commands {
        let page = std::fs::read_to_string(folder.join(format!("foreply-{command}.1"))).unwrap();
        assert!(page.contains(".SH SYNOPSIS"), "{command}: {page}");
    }
    assert!(folder.join("foreply-games-moments.1").exists());
    // Written again over its own, not over what somebody else wrote.
    assert_eq!(program.run(&["man", folder.to_str().unwrap()]).code, 0);
    std::fs::write(folder.join("foreply.1"), "mine").unwrap();
    let refused = program.run(&["man", folder.to_str().unwrap()]);
    assert_eq!(refused.code, 1, "{}", refused.err);
}

/// A completion that the shell itself does not read is none.
#[test]
fn bash_reads_the_completions() {
    let program = Program::new();
    let script = program.out("foreply.bash");
    std::fs::write(&script, program.run(&["completions", "bash"]).out).unwrap();
    let Ok(ran) = std::process::Command::new("bash")
        .arg("-n")
        .arg(&script)
        .output()
    else {
        crate::support::left_out("bash is not here");
        return;
    };
    assert!(
        ran.status.success(),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
}
