//! A translation, as somebody makes and uses one: the template, a check, an option and a setting, what is refused; and that
//! what a person reads comes from the template, and what a program reads does not.

use std::collections::BTreeSet;
use std::process::Command;

use crate::support::{Program, left_out};

#[path = "../src/translation/foreign.rs"]
mod foreign;

const TEMPLATE: &str = include_str!("../src/translation/foreply.pot");
const SAAVEDRA: &str = "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1";

/// The false translation in a file.
fn false_translation(program: &Program) -> String {
    let path = program.out("false.po").to_str().unwrap().to_owned();
    std::fs::write(&path, foreign::translation(TEMPLATE)).unwrap();
    path
}

/// Own games and a locked attempt, the texts of the sitting in that language.
fn home(translation: &[&str]) -> Program {
    let program = Program::new();
    let season = "tests/data/harrowmere-season.pgn";
    program.ok(&[
        &["games", "add", season, "--player", "Verrick, Ansa"],
        translation,
    ]
    .concat());
    let sitting = ["practice", "--fen", SAAVEDRA, "--plain"];
    let lines = "c7 Rd6+ Kb5 Rd5+ {back} Kb4 =\nchoose\nyes\nlater\n";
    let args = [&sitting[..], translation].concat();
    program.typed(&args, lines).ok(&args);
    program
}

#[test]
fn the_template_is_a_po_file_for_the_trades_own_tools() {
    let program = Program::new();
    assert_eq!(program.ok(&["translation", "template"]), TEMPLATE);
    let path = false_translation(&program);
    let written = program.out("all.po").to_str().unwrap().to_owned();
    program.ok(&["translation", "template", "-o", &written]);
    assert_eq!(std::fs::read_to_string(&written).unwrap(), TEMPLATE);
    // GNU gettext's own check of the form, of plurals and of line breaks at both ends.
    for file in [&path, &written] {
        let check = ["--check-format", "-o", "/dev/null", file];
        match Command::new("msgfmt").args(check).output() {
            Ok(ran) => assert!(
                ran.status.success(),
                "{}",
                String::from_utf8_lossy(&ran.stderr)
            ),
            Err(e) => left_out(&format!("msgfmt: {e}")),
        }
    }
}

/// All that is not of the template in what these commands print. The list may become shorter: it is what was typed
/// ('back'), the names of drills, their themes and files (the home's, and false.po), and what the history keeps of notes that came in
/// ('from memory: ..., move 13').
#[test]
fn what_a_person_reads_comes_from_the_template() {
    let plain = home(&[]);
    let path = false_translation(&plain);
    let desk = plain.desk.path().to_str().unwrap();
    let commands: &[&[&str]] = &[
        &["setup"],
        &["review", "last", "--nodes", "500"],
        &["review", "last", "--nodes", "500", "--format", "html"],
        &["history"],
        &["history", "--format", "html"],
        &["games", "list"],
        &["games", "moments", "--nodes", "300", "--limit", "3"],
        &["games", "clock", "--nodes", "300"],
        &["games", "clock", "--nodes", "300", "--format", "html"],
        &["games", "openings", "--nodes", "300"],
        &["games", "openings", "--nodes", "300", "--format", "html"],
        &["games", "account", "last", "--nodes", "300"],
        &[
            "games", "account", "last", "--nodes", "300", "--format", "html",
        ],
        &["games", "event", "--nodes", "300"],
        &["games", "event", "--nodes", "300", "--format", "html"],
        &["games", "opponent", "Pell, Doran"],
        &["games", "plan"],
        &["progress"],
        &["progress", "--format", "html"],
        &["progress", "--eve"],
        &["quick"],
        &["quick", "--format", "html"],
        &["experiment", "show"],
        &["coach", "homework"],
        &["drills", "list"],
        &["playout", "--list"],
        &["playout", "--ladder"],
    ];
    let mut left = BTreeSet::new();
    for command in commands {
        let ran = plain.ok(&[command, &["--translation", &path][..]].concat());
        let seen = visible(&plain.plain(&ran).replace(desk, ""));
        assert!(
            seen.chars().any(|c| ('а'..='я').contains(&c)),
            "{command:?} is not translated:\n{seen}"
        );
        left.extend(foreign::words(&seen));
    }
    for name in NAMES.iter().chain(&MONTHS) {
        left.remove(*name);
    }
    let left: Vec<String> = left.into_iter().collect();
    insta::assert_snapshot!(left.join(" "), @"Chess Foreply League back false from ladder memory move own saavedra settings yaml");
}

/// In dates, which are not of the template.
const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// Players.
const NAMES: &[&str] = &[
    "Ansa",
    "Doran",
    "Dunmarsh",
    "Edda",
    "Fennick",
    "Halvar",
    "Harrowmere",
    "Ilse",
    "Joram",
    "Marrowby",
    "Nessa",
    "Ostrell",
    "Pell",
    "Pim",
    "Quillan",
    "Tarrowdale",
    "Tove",
    "Verrick",
    "Wick",
];

/// What is seen of a page.
fn visible(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('<') {
        out.push_str(before);
        out.push(' ');
        let hidden = ["style", "script"]
            .into_iter()
            .find(|tag| after.starts_with(tag));
        rest = match hidden {
            Some(tag) => after
                .split_once(&format!("</{tag}>"))
                .map_or("", |(_, rest)| rest),
            None if after
                .starts_with(|c: char| c.is_ascii_alphabetic() || matches!(c, '/' | '!')) =>
            {
                after.split_once('>').map_or("", |(_, rest)| rest)
            }
            None => after,
        };
    }
    (out + rest).replace("&nbsp;", " ")
}

#[test]
fn what_programs_read_and_what_is_kept_is_the_same_in_every_language() {
    let plain = home(&[]);
    let path = false_translation(&plain);
    let foreign = home(&["--translation", &path]);
    let other = |words: &[&'static str]| with(words, &path);
    let commands: &[&[&str]] = &[
        &["review", "last", "--nodes", "500", "--format", "json"],
        &["progress", "--format", "json"],
        &["games", "clock", "--nodes", "300", "--format", "json"],
        &["games", "moments", "--nodes", "300", "--format", "json"],
        &[
            "games", "account", "last", "--nodes", "300", "--format", "json",
        ],
        &["method", "--format", "json"],
        &["schema", "review"],
    ];
    for command in commands {
        assert_eq!(plain.ok(command), plain.ok(&other(command)), "{command:?}");
    }
    foreign.ok(&other(&[
        "games", "moments", "--nodes", "300", "--limit", "3",
    ]));
    foreign.ok(&other(&["review", "last", "--nodes", "500"]));
    let sent = foreign.out("sent.pgn").to_str().unwrap().to_owned();
    let send = ["coach", "send", "last", "--with-review", "-o", &sent];
    foreign.ok(&with(&send, &path));
    let pgn = std::fs::read_to_string(&sent).unwrap();
    assert!(pgn.contains("Review 1, "), "{pgn}");
    // It comes back in English, and nothing of it is taken for the coach's words.
    let back = foreign.ok(&["coach", "take", &sent, "--by", "Bram Oskarn"]);
    for what in [pgn, back, kept(&foreign)] {
        // Three of them are a word, and no accident of what is no text.
        let words = what.split(|c| !('а'..='я').contains(&c));
        let word = words.into_iter().find(|word| word.chars().count() > 2);
        assert_eq!(word, None);
    }
}

fn with<'a>(words: &[&'a str], translation: &'a str) -> Vec<&'a str> {
    [words, &["--translation", translation][..]].concat()
}

/// All that lies in the home folder, as far as it is text.
fn kept(program: &Program) -> String {
    let mut out = String::new();
    let mut folders = vec![program.home.path().to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            match path.is_dir() {
                true => folders.push(path),
                false => out.push_str(&String::from_utf8_lossy(&std::fs::read(&path).unwrap())),
            }
        }
    }
    assert!(out.contains("Harrowmere"), "nothing was kept");
    out
}

#[test]
fn an_option_and_a_setting_choose_it() {
    let program = Program::new();
    let path = false_translation(&program);
    let help = program.ok(&["history", "--help", "--translation", &path]);
    assert!(
        help.contains(&foreign::letters("Opened on this day or later")),
        "{help}"
    );
    assert!(
        help.contains(&foreign::letters("Exit codes: 0 done")),
        "{help}"
    );
    let told = foreign::letters("Nothing tried at speed yet.");
    assert!(!program.ok(&["quick"]).contains(&told));
    // A path in the settings begins in the home folder.
    std::fs::copy(&path, program.home.path().join("mine.po")).unwrap();
    program.file("settings.yaml", "translation: mine.po\n");
    assert!(program.ok(&["quick"]).contains(&told));
    let setup = program.run(&["setup"]);
    assert!(setup.out.contains("translation: mine.po"), "{}", setup.out);
    // What cannot be used is found by `setup`, and refused by every other command.
    let bad = "msgid \"\"\nmsgstr \"Plural-Forms: nplurals=1; plural=0;\\n\"\n\nmsgid \"after {}\"\nmsgstr \"x\"\n";
    std::fs::write(program.home.path().join("mine.po"), bad).unwrap();
    let setup = program.run(&["setup"]);
    assert_eq!(setup.code, 1);
    assert!(setup.out.contains("BAD   translation"), "{}", setup.out);
    assert_eq!(program.run(&["quick"]).code, 1);
    // A text that the file does not have is English.
    let few = "msgid \"\"\nmsgstr \"\"\n\"Plural-Forms: nplurals=1; plural=0;\\n\"\n\n";
    let one = format!("{few}msgid \"Nothing kept.\"\nmsgstr \"x\"\n");
    std::fs::write(program.home.path().join("mine.po"), one).unwrap();
    assert!(
        program
            .ok(&["quick"])
            .contains("Nothing tried at speed yet.")
    );
}

#[test]
fn what_does_not_fit_is_refused_with_file_and_line() {
    let program = Program::new();
    let po = program.out("bad.po").to_str().unwrap().to_owned();
    let head = "msgid \"\"\nmsgstr \"\"\n\"Language: qps\\n\"\n\"Plural-Forms: nplurals=2; plural=(n != 1);\\n\"\n\n";
    let wrong = "msgid \"there is no attempt '{0}'; `foreply history` lists them all\"\nmsgstr \"niet {1}\"\n\nmsgid \"after {}\"\nmsgstr \"nach\"\n";
    std::fs::write(&po, format!("{head}{wrong}")).unwrap();
    let ran = program.run(&["history", "--translation", &po]);
    assert_eq!(ran.code, 1);
    let err = ran.err.replace(&po, "FILE");
    insta::assert_snapshot!(err, @"foreply: FILE, line 6: {1} is no place for a value in the English text (and 1 more message); `foreply translation check FILE` lists all, --translation names another one");
    let ran = program.run(&["translation", "check", &po]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.out.contains("line 6:") && ran.out.contains("line 9:"),
        "{}",
        ran.out
    );
    let json = program
        .run(&["translation", "check", &po, "--format", "json"])
        .out;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["unfit"][1]["line"], 9);
    assert_eq!(json["translated"], 2);
    let ran = program.run(&["history", "--translation", "nowhere.po"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("nowhere.po: "), "{}", ran.err);
}
