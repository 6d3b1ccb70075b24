//! What `-o` may write.

use std::fs;
use std::io::Write;
use std::os::unix::fs::{FileTypeExt, PermissionsExt, symlink};
use std::process::{Command, Stdio};

use super::attempt;
use crate::support::Program;

const NOTES: &str = "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n1. c7 (1. Kb7 Rb5+) *\n";
const QUICK: [&str; 2] = ["--nodes", "100"];

#[test]
fn notes_are_not_replaced_by_their_review() {
    let program = Program::new();
    let notes = program.out("mine.pgn");
    fs::write(&notes, NOTES).unwrap();
    let path = notes.to_str().unwrap();
    let link = program.out("link.pgn");
    symlink(&notes, &link).unwrap();
    for target in [path, link.to_str().unwrap()] {
        let ran = program.run(&[&["review", path, "--force", "-o", target][..], &QUICK].concat());
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{target}");
        assert!(
            ran.err
                .contains("this is what is read; choose another name"),
            "{}",
            ran.err
        );
    }
    // The same through standard input.
    let mut command = program.command(&[&["review", "-", "-o", path][..], &QUICK].concat());
    let ran = command
        .stdin(fs::File::open(&notes).unwrap())
        .output()
        .unwrap();
    assert_eq!(ran.status.code(), Some(1));
    assert_eq!(fs::read_to_string(&notes).unwrap(), NOTES);
}

#[test]
fn the_coachs_answer_is_not_replaced_by_the_next_letter() {
    let program = Program::new();
    attempt(program.home.path());
    let letter = program.out("for-bram.pgn");
    let args = ["coach", "send", "last", "-o", letter.to_str().unwrap()];
    assert_eq!(program.run(&args).code, 0);
    // As it went out it may go out again.
    assert_eq!(program.run(&args).code, 0);
    let sent = fs::read_to_string(&letter).unwrap();
    let answer = sent.replace("1. c7", "1. c7 {Good. What then?}");
    assert_ne!(answer, sent);
    fs::write(&letter, &answer).unwrap();
    let ran = program.run(&args);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: DESK/for-bram.pgn: this file is there already, and not as this program left it; choose another name, or replace it with --force; nothing was changed");
    assert_eq!(fs::read_to_string(&letter).unwrap(), answer);
    assert_eq!(program.run(&[&args[..], &["--force"]].concat()).code, 0);
    assert_eq!(fs::read_to_string(&letter).unwrap(), sent);
}

/// Every command that writes: none writes into the home or over somebody's file.
#[test]
fn every_command_asks_before_it_writes() {
    let program = Program::new();
    let id = attempt(program.home.path());
    let games = program.file("games.pgn", "[White \"Verrick, Ansa\"]\n[Black \"Pell, Doran\"]\n[Result \"1-0\"]\n\n1. e4 e5 2. Nf3 1-0\n");
    assert_eq!(
        program
            .run(&["games", "add", &games, "--player", "Ansa Verrick"])
            .code,
        0
    );
    let letter = program.out("letter.txt");
    fs::write(&letter, "Dear Ilse").unwrap();
    let journal = program.home.path().join("journal");
    let before = fs::read(&journal).unwrap();
    let commands: [&[&str]; 8] = [
        &["review", "tests/data/harrowmere-homework.pgn", "-o"],
        &["review", &id.0, "-o"],
        &["progress", "-o"],
        &["progress", "--eve", "-o"],
        &["games", "clock", "-o"],
        &["games", "moments", "-o"],
        &["drills", "export"],
        &["drills", "from-attempt", &id.0, "-o"],
    ];
    for args in commands {
        for (target, why) in [
            (&letter, "not as this program left it"),
            (&journal, "lies in the home folder"),
        ] {
            let ran = program.run(&[args, &[target.to_str().unwrap()]].concat());
            assert_eq!(ran.code, 1, "{args:?}: {}", ran.err);
            assert!(ran.err.contains(why), "{args:?}: {}", ran.err);
        }
    }
    assert_eq!(fs::read_to_string(&letter).unwrap(), "Dear Ilse");
    assert_eq!(fs::read(&journal).unwrap(), before);
    let ran = program.run(&["backup", journal.to_str().unwrap()]);
    assert_eq!(ran.code, 4, "{}", ran.err);
    let lock = program.home.path().join("lock");
    assert_eq!(program.run(&["backup", lock.to_str().unwrap()]).code, 4);
    assert_eq!(fs::read(&journal).unwrap(), before);
    assert_eq!(lock.metadata().unwrap().len(), 0);
}

#[test]
fn a_hyphen_and_every_name_of_standard_output_are_standard_output() {
    let program = Program::new();
    let plain = program.run(&["progress"]);
    assert_eq!(plain.code, 0, "{}", plain.err);
    for name in ["-", "/dev/stdout"] {
        let ran = program.run(&["progress", "-o", name]);
        assert_eq!((ran.code, &ran.out), (0, &plain.out), "{name}: {}", ran.err);
    }
    // A file to which standard output goes is not replaced by another of its name.
    let page = program.out("page.txt");
    let mut to = fs::File::create(&page).unwrap();
    to.write_all(b"before\n").unwrap();
    let mut command = program.command(&["progress", "-o", "/dev/stdout"]);
    assert!(command.stdout(to).status().unwrap().success());
    let text = fs::read_to_string(&page).unwrap();
    assert_eq!(text, format!("before\n{}", plain.out));
}

#[test]
fn pipes_and_devices_stay_what_they_are() {
    let program = Program::new();
    let plain = program.run(&["progress"]).out;
    let pipe = program.out("pipe");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    let reader = Command::new("cat")
        .arg(&pipe)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let ran = program.run(&["progress", "-o", pipe.to_str().unwrap()]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(reader.wait_with_output().unwrap().stdout, plain.as_bytes());
    assert!(pipe.metadata().unwrap().file_type().is_fifo());
    let link = program.out("link");
    symlink("/dev/null", &link).unwrap();
    assert_eq!(
        program
            .run(&["progress", "-o", link.to_str().unwrap()])
            .code,
        0
    );
    assert!(link.symlink_metadata().unwrap().is_symlink());
    let full = program.run(&["progress", "-o", "/dev/full"]);
    assert_eq!(full.code, 1);
    insta::assert_snapshot!(program.plain(&full.err), @"foreply: /dev/full: No space left on device (os error 28)");
}

#[test]
fn a_planted_link_is_not_written_through_and_the_mode_stays() {
    let program = Program::new();
    let victim = program.out("victim");
    fs::write(&victim, "a stranger's").unwrap();
    for name in [".page.txt.part", ".all.backup.part"] {
        symlink(&victim, program.out(name)).unwrap();
    }
    for name in [
        "journal.new",
        "projection-attempts.new",
        ".settings.yaml.part",
    ] {
        symlink(&victim, program.home.path().join(name)).unwrap();
    }
    let page = program.out("page.txt");
    fs::write(&page, "").unwrap();
    fs::set_permissions(&page, fs::Permissions::from_mode(0o600)).unwrap();
    assert_eq!(
        program
            .run(&["progress", "-o", page.to_str().unwrap()])
            .code,
        0
    );
    let backup = program.out("all.backup");
    assert_eq!(program.run(&["backup", backup.to_str().unwrap()]).code, 0);
    assert_eq!(fs::read_to_string(&victim).unwrap(), "a stranger's");
    assert_eq!(page.metadata().unwrap().permissions().mode() & 0o777, 0o600);
}

/// The bidirectional controls of Unicode Standard Annex 9, a zero-width blank and an escape: a reader of a file that is handed on
/// must see what stands there.
#[test]
fn nothing_that_is_handed_on_reorders_or_hides_a_text() {
    const ODD: [char; 5] = ['\u{202E}', '\u{2066}', '\u{200B}', '\u{1b}', '\u{9b}'];
    let program = Program::new();
    let notes = program.out("odd.pgn");
    let odd: String = ODD.iter().collect();
    let text = format!(
        "[Event \"Harrow{odd}mere\"]\n[White \"Marrowby, {odd}Ilse\"]\n[Black \"?\"]\n[SetUp \"1\"]\n\
         [FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n{{Mine: no{odd}thing}} 1. c7 {{I {odd}queen}} Rd6+ *\n"
    );
    fs::write(&notes, text).unwrap();
    let notes = notes.to_str().unwrap();
    let kept = program.run(&[&["review", notes, "--mine"][..], &QUICK].concat());
    assert_eq!(kept.code, 0, "{}", kept.err);
    let commands: [&[&str]; 9] = [
        &["review", notes, "--nodes", "100"],
        &["review", notes, "--nodes", "100", "--format", "json"],
        &["review", notes, "--nodes", "100", "--format", "html"],
        &["history"],
        &["history", "--format", "json"],
        &["history", "--format", "html"],
        &["coach", "send", "last"],
        &["progress", "--format", "json"],
        &["drills", "from-attempt", "last"],
    ];
    let mut told = 0;
    for (n, args) in commands.iter().enumerate() {
        let end = match args.last() {
            Some(&"json") => "json",
            Some(&"html") => "html",
            _ if args[0] == "coach" => "pgn",
            _ if args[0] == "drills" => "yaml",
            _ => "txt",
        };
        let out = program.out(&format!("out-{n}.{end}"));
        let ran = program.run(&[*args, &["-o", out.to_str().unwrap()]].concat());
        let file = fs::read_to_string(&out).unwrap_or_default();
        told += u32::from(!file.is_empty());
        for c in ODD {
            assert!(!file.contains(c), "{args:?}: {c:?} in {file}");
            assert!(
                !ran.out.contains(c) && !ran.err.contains(c),
                "{args:?}: {c:?}"
            );
        }
        if args.contains(&"json") {
            let value: serde_json::Value = serde_json::from_str(&file).unwrap();
            // Programs read the words as they were written.
            let whole = value.to_string();
            assert!(n != 1 || whole.contains('\u{202E}'), "{whole}");
        }
    }
    assert!(told >= 8, "{told} files were written");
}
