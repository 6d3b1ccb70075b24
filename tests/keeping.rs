//! Backup, restore, setup and settings, through the real program.

use std::fs;

use crate::support::Program;

#[test]
fn a_backup_goes_out_and_comes_back() {
    let (old, new) = (Program::new(), Program::new());
    let file = old.home.path().join("all.backup");
    let file = file.to_str().unwrap();
    let ran = old.run(&["backup", file]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.starts_with("Written: "), "{}", ran.out);
    assert_eq!(new.run(&["restore", file]).code, 0);
    let ran = old.run(&["backup", "--check", file]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    fs::write(file, "foreply-backup 1\nend 0 00000000\n").unwrap();
    let ran = new.run(&["restore", file]);
    assert_eq!(ran.code, 4);
    insta::assert_snapshot!(old.plain(&ran.err), @"foreply: HOME/all.backup: this backup is damaged: line 2 the sum at its end does not fit; nothing was changed");
}

#[test]
fn replacing_names_the_folder() {
    let program = Program::new();
    let home = program.home.path();
    fs::write(home.join("settings.yaml"), "jobs: 1\n").unwrap();
    let file = home.join("all.backup");
    let file = file.to_str().unwrap();
    assert_eq!(program.run(&["backup", file]).code, 0);
    let ran = program.run(&["restore", file]);
    assert_eq!(ran.code, 4);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME: entries are kept here already; `foreply restore FILE --replace HOME` puts the backup in their place, after a safety copy of them");
    let ran = program.run(&["restore", file, "--replace", "/tmp"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: --replace names /tmp, but the home folder is HOME; name the folder whose entries are to be replaced; nothing was changed");
    let ran = program.run(&["restore", file, "--replace", home.to_str().unwrap()]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.starts_with("What was kept before: "), "{}", ran.out);
}

#[test]
fn settings_that_are_wrong_are_named_with_their_line() {
    let program = Program::new();
    program.file("settings.yaml", "jobs: 2\nengin: x\n");
    let ran = program.run(&["backup", "/tmp/never-written.backup"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME/settings.yaml: unknown field `engin`, expected one of `engine`, `tables`, `jobs`, `nodes`, `ascii`, `letters`, `locale`, `translation` at line 2 column 1; mend the file or take it away: everything in it may be left out");
}

#[test]
fn settings_stand_in_for_arguments() {
    let program = Program::new();
    program.file("settings.yaml", "engine: /nowhere/engine --uci\n");
    let ran = program.run(&["setup"]);
    assert_eq!(ran.code, 3, "{}", ran.out);
    assert!(
        ran.out
            .contains("BAD   engine    the engine 'engine --uci' did not start"),
        "{}",
        ran.out
    );
}

#[test]
fn setup_tells_what_it_found() {
    let program = Program::new();
    let stub = format!(
        "sh {}/tests/support/stub_engine.sh ordinary {}/pids",
        env!("CARGO_MANIFEST_DIR"),
        program.home.path().display()
    );
    let ran = program.run(&["setup", "--engine", &stub]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    for row in [
        "note  terminal  output goes to no terminal now",
        "ok    store     ",
        "0 attempts",
        "ok    engine    Stub 1.0: answers",
    ] {
        assert!(ran.out.contains(row), "'{row}' is not in\n{}", ran.out);
    }
    let ran = program.run(&["setup", "--format", "json", "--engine", "/nowhere/engine"]);
    assert_eq!(ran.code, 3);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(json["findings"][3]["state"], "bad", "{json:#}");
}

/// One window has the store open: everything works beside it, but for what would put another store in its place.
#[test]
fn a_second_program_works_beside_the_first() {
    let program = Program::new();
    let _first = foreply::store::Store::open(program.home.path()).unwrap();
    let file = program.home.path().join("beside.backup");
    let ran = program.run(&["backup", file.to_str().unwrap()]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: Foreply is open in another window too. What you do here is kept beside it, and joined with the rest by itself.");
    let ran = program.run(&["restore", file.to_str().unwrap()]);
    assert_eq!(ran.code, 4);
}
