//! Each single operation fails once: the n-th write, flush, rename, open or truncation of a whole command, for n = 1, 2,
//! 3 and so on to its end. From outside, by a library that stands before that of C (`failing.c`).

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use super::Row;
use super::home::{Seen, copy, look, program, run};

/// How the n-th operation fails.
const HOW: [&str; 4] = ["io", "late", "full", "short"];
/// A command that has not ended by then hangs.
const LIMIT: Duration = Duration::from_secs(60);

/// What is done with a home.
#[derive(Clone, Copy, PartialEq)]
pub enum Step {
    Sit,
    Review,
    Send,
    Take,
    Backup,
    Restore,
}

pub const STEPS: [Step; 6] = [
    Step::Sit,
    Step::Review,
    Step::Send,
    Step::Take,
    Step::Backup,
    Step::Restore,
];

impl Step {
    pub fn name(self) -> &'static str {
        match self {
            Self::Sit => "start, write, lock",
            Self::Review => "review",
            Self::Send => "coach send",
            Self::Take => "coach take",
            Self::Backup => "backup",
            Self::Restore => "restore",
        }
    }
}

/// One row for each step, every `stride`-th operation.
pub fn rows(stride: u64) -> Vec<Row> {
    let folder = tempfile::tempdir().unwrap();
    let Some(desk) = Desk::of(folder.path()) else {
        return Vec::new();
    };
    STEPS.iter().map(|step| desk.row(*step, stride)).collect()
}

fn library(folder: &Path) -> Option<PathBuf> {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults/failing.c");
    let library = folder.join("failing.so");
    let made = Command::new("cc")
        .args(["-shared", "-fPIC", "-O1", "-o"])
        .arg(&library)
        .arg(source)
        .arg("-ldl")
        .status();
    made.is_ok_and(|s| s.success()).then_some(library)
}

/// A home with a locked attempt, and what comes in from outside.
pub struct Desk {
    folder: PathBuf,
    library: PathBuf,
    before: Seen,
    /// What restoring brings.
    other: BTreeMap<String, String>,
}

impl Desk {
    /// `None` where the library cannot be made here.
    pub fn of(folder: &Path) -> Option<Self> {
        let made = library(folder);
        if made.is_none() {
            super::left_out("there is no C compiler for the library that makes operations fail");
        }
        made.map(|library| Self::new(folder, library))
    }

    fn new(folder: &Path, library: PathBuf) -> Self {
        let model = folder.join("model");
        let sat = sitter(&model).output().unwrap();
        assert!(sat.status.success(), "{}", said(&sat));
        let file = |name: &str| folder.join(name).to_str().unwrap().to_owned();
        let letter = file("letter.pgn");
        let sent = run(&model, &["coach", "send", "last", "-o", &letter]);
        assert!(sent.status.success(), "{}", said(&sent));
        let text = std::fs::read_to_string(&letter).unwrap();
        let answer = text.replacen(" *", " {Good. And then?} *", 1);
        assert_ne!(answer, text);
        std::fs::write(file("answer.pgn"), answer).unwrap();
        let other = folder.join("other");
        let sat = sitter(&other).output().unwrap();
        assert!(sat.status.success(), "{}", said(&sat));
        let backed = run(&other, &["backup", &file("other.backup")]);
        assert!(backed.status.success(), "{}", said(&backed));
        Self {
            folder: folder.to_owned(),
            library,
            before: look(&model, folder),
            other: look(&other, folder).entries,
        }
    }

    fn row(&self, step: Step, stride: u64) -> Row {
        let mut row = Row {
            what: format!("each operation of: {}", step.name()),
            ..Row::default()
        };
        let all = self.operations(step);
        for at in (1..=all).step_by(usize::try_from(stride).unwrap()) {
            for how in HOW {
                self.once(step, at, how, &mut row);
            }
        }
        row
    }

    /// How many there are when nothing fails.
    fn operations(&self, step: Step) -> u64 {
        let place = tempfile::tempdir().unwrap();
        let ran = self.fail(step, place.path(), 0, "io");
        assert!(ran.status.success(), "{}", said(&ran));
        let counts = std::fs::read_to_string(place.path().join("count")).unwrap();
        counts.lines().filter_map(|l| l.parse().ok()).max().unwrap()
    }

    pub fn model(&self) -> PathBuf {
        self.folder.join("model")
    }

    /// What the home holds before anything is done with it.
    pub fn entries(&self) -> &BTreeMap<String, String> {
        &self.before.entries
    }

    /// The command with the library before that of C, which heeds what lies below `under`.
    pub fn preloaded<'c>(&self, command: &'c mut Command, under: &Path) -> &'c mut Command {
        command
            .env("LD_PRELOAD", &self.library)
            .env("FAILING_UNDER", under)
    }

    pub fn command(&self, step: Step, place: &Path) -> Command {
        let home = place.join("home");
        let out = place.join("out").to_str().unwrap().to_owned();
        let from = |name: &str| self.folder.join(name).to_str().unwrap().to_owned();
        match step {
            Step::Sit => sitter(&home),
            Step::Review => program(&home, &["review", "last", "--nodes", "100", "--jobs", "1"]),
            Step::Send => program(&home, &["coach", "send", "last", "-o", &out]),
            Step::Take => program(
                &home,
                &["coach", "take", &from("answer.pgn"), "--by", "Bram Oskarn"],
            ),
            Step::Backup => program(&home, &["backup", &out]),
            Step::Restore => program(
                &home,
                &[
                    "restore",
                    &from("other.backup"),
                    "--replace",
                    home.to_str().unwrap(),
                ],
            ),
        }
    }

    fn fail(&self, step: Step, place: &Path, at: u64, how: &str) -> Output {
        copy(&self.model(), &place.join("home"));
        let mut command = self.command(step, place);
        self.preloaded(&mut command, place)
            .env("FAILING_AT", at.to_string())
            .env("FAILING_HOW", how)
            .env("FAILING_COUNT", place.join("count"));
        in_time(&mut command)
    }

    fn once(&self, step: Step, at: u64, how: &str, row: &mut Row) {
        let place = tempfile::tempdir().unwrap();
        let ran = self.fail(step, place.path(), at, how);
        let seen = look(&place.path().join("home"), place.path());
        row.faults += 1;
        row.opened += u32::from(seen.opened);
        let told = said(&ran);
        row.panics += u32::from(
            seen.panicked() || told.contains("panicked") || told.contains("internal error"),
        );
        row.told += u32::from(!ran.status.success());
        let (acknowledged, lost) = self.held_against(step, &ran, &seen);
        row.acknowledged += acknowledged;
        row.lost += lost;
        // In words that a person can use, and never that somebody else has written what he is writing.
        let plain = !told.contains("Os {") && !told.contains("another event");
        let honest = plain
            && (ran.status.success() || (!told.trim().is_empty() && ran.status.code().is_some()));
        let right = seen.opened && lost == 0 && honest;
        row.recovered += u32::from(right);
        if !right {
            println!(
                "{}, operation {at}, {how}: lost {lost}, said: {told}{}",
                step.name(),
                seen.said
            );
        }
    }

    /// How many entries must be there, and how many are not.
    fn held_against(&self, step: Step, ran: &Output, seen: &Seen) -> (u64, u64) {
        if step == Step::Restore {
            // What it says is what is there: the new entries, or all the old ones.
            let wanted = if ran.status.success() {
                &self.other
            } else {
                self.entries()
            };
            return (wanted.len() as u64, missing(wanted, &seen.entries));
        }
        let said = String::from_utf8_lossy(&ran.stdout);
        self.missing(None, &said, &seen.entries)
    }

    /// How many entries must be there, and how many are not: those of before, or all of `instead`, and each of those that the
    /// sitting has said are kept.
    pub fn missing(
        &self,
        instead: Option<&BTreeMap<String, String>>,
        said: &str,
        seen: &BTreeMap<String, String>,
    ) -> (u64, u64) {
        let told = said
            .lines()
            .filter_map(|l| l.strip_prefix("event ")?.split_once(' '));
        let mut wanted = instead.unwrap_or(self.entries()).clone();
        for (id, n) in told {
            for seq in 0..n.parse::<u64>().unwrap_or(0) {
                wanted.insert(format!("e/attempts/{id}/{seq:020}"), String::new());
            }
        }
        (wanted.len() as u64, missing(&wanted, seen))
    }
}

/// How many keys of the one are not in the other.
pub fn missing(wanted: &BTreeMap<String, String>, seen: &BTreeMap<String, String>) -> u64 {
    wanted.keys().filter(|k| !seen.contains_key(*k)).count() as u64
}

fn sitter(home: &Path) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.arg("once").arg(home);
    command
}

fn said(ran: &Output) -> String {
    String::from_utf8_lossy(&ran.stderr).into_owned()
}

/// Its output; where it hangs, that of one who was killed.
fn in_time(command: &mut Command) -> Output {
    let mut child = command
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let began = Instant::now();
    while child.try_wait().unwrap().is_none() && began.elapsed() < LIMIT {
        std::thread::sleep(Duration::from_millis(5));
    }
    let _ = child.kill();
    child.wait_with_output().unwrap()
}
