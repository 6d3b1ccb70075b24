//! Nothing runs, nothing is overwritten and nothing is lost unasked: the real program as a stranger and a careless
//! owner would use it.

#![cfg(unix)]

mod output;
mod streams;

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::time::{Duration, Instant};

use foreply::app::{App, AttemptId, Config, EntryToken, SetClock, Subject};
use foreply::attempt::BoardVisibility;
use foreply::board::{Line, line::read_fen};
use foreply::judge::FixedJudge;
use foreply::review::Settings;
use foreply::store::{Record, Store};
use foreply::tree::NodeId;
use serde::{Deserialize, Serialize};

use crate::support::{Program, Ran};

/// The position after which F. Saavedra's study is named (Glasgow Weekly Citizen, 1895).
const POSITION: &str = "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1";

/// A locked attempt.
fn attempt(home: &Path) -> AttemptId {
    let mut config = Config::new(home.to_owned());
    config.ahead = false;
    locked(&App::open(config).unwrap())
}

fn locked(app: &App) -> AttemptId {
    let subject = Subject::Position(Line::new(read_fen(POSITION).unwrap()));
    let attempts = app.attempts();
    let mut sitting = attempts
        .open_sitting(&subject, None, BoardVisibility::Root)
        .unwrap();
    sitting.start().unwrap();
    let first = sitting
        .write(NodeId::ROOT, &[EntryToken::Move("c7".to_owned())])
        .unwrap();
    sitting.choose(first).unwrap();
    sitting.lock().unwrap();
    sitting.id().clone()
}

/// A computer whose clock stands before 1970, as it does when its battery is empty: everything is kept with that time, and told.
#[test]
fn a_clock_before_1970_stops_nothing() {
    // Three days and a half before 1970-01-01 UTC.
    const BEFORE: i64 = -302_400_000;
    let program = Program::new();
    let sat = {
        let judge = Arc::new(FixedJudge::new(|_: &Line| vec![("c7".to_owned(), 0.5)]));
        let clock = Arc::new(SetClock::new(BEFORE));
        let app = App::with_parts(
            program.home.path(),
            judge,
            Vec::new(),
            Settings::default(),
            clock,
        )
        .unwrap();
        locked(&app).to_string()
    };
    let json = program.run(&["history", "--format", "json"]);
    assert_eq!(json.code, 0, "{}", json.err);
    assert!(json.out.contains("1969-12-28"), "{}", json.out);
    let commands: [&[&str]; 5] = [
        &["history"],
        &["review", &sat, "--nodes", "100"],
        &["progress"],
        &["setup"],
        &["drills", "list"],
    ];
    for args in commands {
        let ran = program.run(args);
        assert_eq!(ran.code, 0, "{args:?}: {}", ran.err);
        assert!(!ran.err.contains("internal error"), "{}", ran.err);
    }
    let letter = program.out("letter.pgn");
    let sent = program.run(&["coach", "send", "last", "-o", letter.to_str().unwrap()]);
    assert_eq!(sent.code, 0, "{}", sent.err);
    let letter = fs::read_to_string(letter).unwrap();
    assert!(letter.contains("[Date \"1969.12.28\"]"), "{letter}");
}

/// Runs it, and ends the test where it does not end.
fn in_time(mut command: Command) -> Ran {
    let mut child = command
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    let began = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if began.elapsed() > Duration::from_secs(60) {
            child.kill().unwrap();
            panic!("it waits for something that never comes");
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    let ran = child.wait_with_output().unwrap();
    Ran {
        code: ran.status.code().unwrap_or(-1),
        out: String::from_utf8_lossy(&ran.stdout).into_owned(),
        err: String::from_utf8_lossy(&ran.stderr).into_owned(),
    }
}

/// The lines of a backup with these settings, as anybody can forge them.
fn forged(settings: &str) -> String {
    let json = serde_json::to_string(settings).unwrap();
    let body = format!("1 1 f/settings.yaml {json}");
    let mut text = format!(
        "foreply-backup 1\n{:08x} {body}\n",
        crc32fast::hash(body.as_bytes())
    );
    let sum = crc32fast::hash(text.as_bytes());
    text.push_str(&format!("end 1 {sum:08x}\n"));
    text
}

#[test]
fn a_forged_backup_runs_nothing() {
    let program = Program::new();
    let victim = program.out("victim");
    let file = program.out("forged.backup");
    let settings = format!(
        "engine: touch {}\ntables: /srv/strange\njobs: 1\n",
        victim.display()
    );
    fs::write(&file, forged(&settings)).unwrap();
    let ran = program.run(&["restore", file.to_str().unwrap()]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(
        ran.err
            .contains("It is left out, since a backup may come from anybody")
            && ran.err.contains("engine: touch ")
            && ran.err.contains("tables: /srv/strange"),
        "{}",
        ran.err
    );
    let ran = program.run(&["setup"]);
    assert_eq!(ran.code, 0, "{}", ran.out);
    assert!(ran.out.contains("jobs: 1"), "{}", ran.out);
    program.run(&[
        "review",
        "tests/data/harrowmere-homework.pgn",
        "--nodes",
        "100",
    ]);
    assert!(!victim.exists(), "a program was started");
}

#[test]
fn the_home_is_for_its_owner_alone_whatever_the_mask() {
    let program = Program::new();
    let home = program.out("home");
    let command = program.command(&[]);
    let run = |args: &str| {
        let script = format!(
            "umask 000; exec {} --home {} {args}",
            command.get_program().to_str().unwrap(),
            home.display()
        );
        let ran = Command::new("sh").arg("-c").arg(script).output().unwrap();
        assert!(
            ran.status.success(),
            "{}",
            String::from_utf8_lossy(&ran.stderr)
        );
    };
    let page = program.out("page.txt");
    run(&format!("backup {}", program.out("all.backup").display()));
    run(&format!("progress -o {}", page.display()));
    let mut open = Vec::new();
    readable(&home, &mut open);
    assert!(open.is_empty(), "{open:?}");
    let mode = |path: &Path| path.metadata().unwrap().permissions().mode() & 0o777;
    // All that is kept is in a backup; what is asked for with -o is as the mask wants it.
    assert_eq!(
        [mode(&program.out("all.backup")), mode(&page)],
        [0o600, 0o666]
    );
}

fn readable(path: &Path, found: &mut Vec<PathBuf>) {
    if path.metadata().unwrap().permissions().mode() & 0o077 != 0 {
        found.push(path.to_owned());
    }
    for entry in fs::read_dir(path).into_iter().flatten().flatten() {
        readable(&entry.path(), found);
    }
}

#[test]
fn what_is_no_file_in_the_home_is_refused_and_not_waited_for() {
    for name in [
        "journal",
        "lock",
        "closed",
        "settings.yaml",
        "projection-attempts",
    ] {
        let program = Program::new();
        let path = program.home.path().join(name);
        let made = Command::new("mkfifo").arg(&path).status().unwrap();
        assert!(made.success());
        let ran = in_time(program.command(&["progress"]));
        assert!(matches!(ran.code, 1 | 4), "{name}: {}", ran.err);
        let told = program.plain(&ran.err);
        assert!(
            told.starts_with(&format!("foreply: HOME/{name}: this is ")),
            "{told}"
        );
        assert_eq!(told.lines().count(), 1, "{told}");
    }
}

/// The history's rows, as no program would write them.
#[derive(Serialize, Deserialize)]
struct Forged(String);

impl Record for Forged {
    const TABLE: &'static str = "summaries";
    const VERSION: u32 = 1;
}

#[test]
fn one_record_that_cannot_be_read_stops_no_command() {
    let program = Program::new();
    let id = attempt(program.home.path());
    let store = Store::open(program.home.path()).unwrap();
    store
        .put("0000000000000-0000", &Forged("no summary".to_owned()))
        .unwrap();
    drop(store);
    let file = program.out("all.backup");
    for args in [
        &["progress"][..],
        &["review", "last", "--nodes", "100"],
        &["playout", "--list"],
        &["backup", file.to_str().unwrap()],
    ] {
        let ran = program.run(args);
        assert_eq!(ran.code, 0, "{args:?}: {}", ran.err);
    }
    let app = App::open(Config::new(program.home.path().to_owned())).unwrap();
    let short = app.attempts().short_names().unwrap();
    drop(app);
    let ran = program.run(&["review", "last", "--nodes", "100"]);
    let name = short.shown(&id.0);
    assert!(
        ran.out.contains(&format!("Attempt {name}\n")),
        "{}",
        ran.out
    );
    let ran = program.run(&["setup"]);
    let told = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains(
            "'0000000000000-0000' in the table 'summaries' is left out, since it cannot be read"
        ),
        "{told}"
    );
}

/// A number names a drill of the collection: nobody could open one of his own under it.
#[test]
fn a_drill_is_not_called_by_a_number() {
    let program = Program::new();
    let text = "- id: \"12\"\n  title: One\n  fen: 8/8/4k3/8/3K4/8/3P4/8 w - - 0 1\n  task: win\n  minutes: 8\n  source: from memory, 1900\n  themes: []\n  lines: [\"Ke4\"]\n";
    let ran = program.run(&["drills", "add", &program.file("twelve.yaml", text)]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: drill '12': a name of digits alone is the number of a drill of the collection; give it a letter");
}

#[test]
fn games_in_another_encoding_are_read_or_named() {
    let program = Program::new();
    let game = "[White \"Verrick, Ansa\"]\n[Black \"Müller, Tove\"]\n[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n1. c7 (1. Kb7 Rb5+) *\n";
    let mut bytes = vec![0xFF, 0xFE];
    bytes.extend(game.encode_utf16().flat_map(u16::to_le_bytes));
    let file = program.out("utf16.pgn");
    fs::write(&file, bytes).unwrap();
    let file = file.to_str().unwrap();
    let ran = program.run(&["games", "add", file, "--player", "Ansa Verrick"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: DESK/utf16.pgn: this file is UTF-16; save it as UTF-8 and add it again");
    let ran = program.run(&["review", file, "--nodes", "100"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
}
