//! The documents that programs read, against the schemas that the program itself gives, with an independent validator (PyPI's
//! `jsonschema`).

use std::process::Command;

use serde_json::Value;

use crate::support::{Program, left_out};

const DATA: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data");

/// Runs the program and keeps what it printed as a file.
fn printed(program: &Program, name: &str, args: &[&str]) -> String {
    let ran = program.run(&[&["--quiet"], args].concat());
    assert_eq!(ran.code, 0, "{args:?}: {}", ran.err);
    let file = program.out(name);
    std::fs::write(&file, ran.out).unwrap();
    file.to_str().unwrap().to_owned()
}

/// A sitting that is sent to a coach and comes back with all that he can say; gives the file.
fn coached(program: &Program) -> String {
    let id = super::coach::attempt(program.home.path());
    let sent = program.out("sent.pgn");
    let out = sent.to_str().unwrap();
    let ran = program.run(&["coach", "send", &id.0, "-o", out]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let text = std::fs::read_to_string(&sent).unwrap();
    let said = "$1 {Homework by 2031-12-05: try it. Overruled: he saw it.} 30. Re1 $18 *\n";
    program.file(
        "back.pgn",
        &(text.trim_end().trim_end_matches('*').to_owned() + said),
    )
}

#[test]
fn what_is_printed_is_what_the_schemas_say() {
    let program = Program::new();
    let at = |name: &str| format!("{DATA}/{name}");
    let (notes, season) = (at("harrowmere-homework.pgn"), at("harrowmere-season.pgn"));
    let added = program.run(&["games", "add", &season, "--player", "Verrick, Ansa"]);
    assert_eq!(added.code, 0, "{}", added.err);
    let back = coached(&program);
    let blocks = ["--habit", "captures", "--habit", "checks"];
    let drawn = program.run(&[&["experiment", "start"], &blocks[..]].concat());
    assert_eq!(drawn.code, 0, "{}", drawn.err);
    let few = ["--nodes", "300", "--format", "json"];
    let json = ["--format", "json"];
    let opponent = "pell";
    let sheet = program.file("sheet.txt", "1. e4 e5 2. Nf3 Nc6 3. Bb5 a7 1-0\n");
    let documents: Vec<(&str, Vec<&str>)> = vec![
        (
            "taken",
            [&["coach", "take", &back, "--by", "Bram Oskarn"], &json[..]].concat(),
        ),
        ("homework", [&["coach", "homework"], &json[..]].concat()),
        (
            "review",
            [&["review", &notes, "--model", &notes], &few[..]].concat(),
        ),
        ("review", [&["review", "last"], &few[..]].concat()),
        ("history", [&["history"], &json[..]].concat()),
        ("progress", [&["progress"], &json[..]].concat()),
        ("eve", [&["progress", "--eve"], &json[..]].concat()),
        ("quick", [&["quick"], &json[..]].concat()),
        ("experiment", [&["experiment", "show"], &json[..]].concat()),
        ("moments", [&["games", "moments"], &few[..]].concat()),
        ("clock", [&["games", "clock"], &few[..]].concat()),
        ("openings", [&["games", "openings"], &json[..]].concat()),
        ("plans", [&["games", "plan"], &json[..]].concat()),
        ("game-list", [&["games", "list"], &json[..]].concat()),
        (
            "thoughts",
            [&["games", "recall", "last"], &few[..]].concat(),
        ),
        (
            "game-account",
            [&["games", "account", "last"], &few[..]].concat(),
        ),
        ("event", [&["games", "event"], &few[..]].concat()),
        (
            "opponent",
            [&["games", "opponent", opponent], &json[..]].concat(),
        ),
    ];
    let mut pairs = Vec::new();
    for (number, (schema, args)) in documents.iter().enumerate() {
        let of = printed(
            &program,
            &format!("{schema}.schema.json"),
            &["schema", schema],
        );
        pairs.extend([of, printed(&program, &format!("{number}.json"), args)]);
    }
    // These end with another code where something is to be mended or nothing was written.
    for (schema, args) in [
        ("setup", vec!["setup", "--format", "json"]),
        ("sheet", vec!["games", "sheet", &sheet, "--format", "json"]),
    ] {
        let of = printed(
            &program,
            &format!("{schema}.schema.json"),
            &["schema", schema],
        );
        let file = program.out(&format!("{schema}.json"));
        std::fs::write(&file, program.run(&args).out).unwrap();
        pairs.extend([of, file.to_str().unwrap().to_owned()]);
    }
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/python/check_json.py");
    let run = match Command::new("python3").arg(script).args(&pairs).output() {
        Ok(run) if run.status.code() != Some(2) => run,
        _ => return left_out("python3 with jsonschema is not there"),
    };
    assert!(
        run.status.success(),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    let found: Value = serde_json::from_slice(&run.stdout).unwrap();
    assert_eq!(found["faults"], serde_json::json!([]));
    assert_eq!(found["checked"], 20);
}

#[test]
fn every_format_is_listed_and_an_unknown_one_is_refused() {
    let program = Program::new();
    let list = program.run(&["schema"]);
    let unknown = program.run(&["schema", "nothing"]);
    assert_eq!((list.code, unknown.code), (0, 1));
    for name in ["drills", "game-account", "playout", "review", "taken"] {
        assert!(list.out.contains(&format!("\n{name} ")), "{}", list.out);
        assert!(unknown.err.contains(name), "{}", unknown.err);
        let schema = program.run(&["schema", name]);
        let schema: Value = serde_json::from_str(&schema.out).unwrap();
        assert_eq!(
            schema["$schema"],
            "https://json-schema.org/draft/2020-12/schema"
        );
    }
}
