//! A home folder of the campaign, looked at only through the real program.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// What the program says of a home.
pub struct Seen {
    /// It opened the store and wrote a backup of it.
    pub opened: bool,
    /// Every entry, as the backup has it: key and JSON.
    pub entries: BTreeMap<String, String>,
    /// What it said besides.
    pub said: String,
}

impl Seen {
    pub fn panicked(&self) -> bool {
        self.said.contains("panicked") || self.said.contains("internal error")
    }
}

pub fn program(home: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_foreply"));
    command
        .arg("--home")
        .arg(home)
        .args(args)
        .stdin(Stdio::null());
    command
}

/// Runs the program and gives what it printed on standard error; its panics would stand there.
pub fn run(home: &Path, args: &[&str]) -> Output {
    program(home, args).output().unwrap()
}

/// Has the program open the store and write all it holds to a file outside.
pub fn look(home: &Path, beside: &Path) -> Seen {
    let file: PathBuf = beside.join("seen.backup");
    let _ = std::fs::remove_file(&file);
    let ran = run(home, &["backup", file.to_str().unwrap()]);
    let text = std::fs::read_to_string(&file).unwrap_or_default();
    Seen {
        opened: ran.status.success(),
        entries: entries(&text),
        said: String::from_utf8_lossy(&ran.stderr).into_owned(),
    }
}

/// The lines `CHECKSUM SEQ VERSION KEY JSON` of a backup, read without the program's own code.
pub fn entries(text: &str) -> BTreeMap<String, String> {
    let field = |line: &str| {
        let mut parts = line.splitn(5, ' ').skip(3);
        Some((parts.next()?.to_owned(), parts.next()?.to_owned()))
    };
    text.lines().filter_map(field).collect()
}

/// Copies a home, two levels deep.
pub fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), &target).unwrap();
            // The mark of the last closing tells of times.
            let time = entry.metadata().unwrap().modified().unwrap();
            let file = std::fs::File::options().write(true).open(&target).unwrap();
            file.set_modified(time).unwrap();
        }
    }
}

/// Numbers without a pattern, from a seed.
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, n: u64) -> u64 {
        let mut numbers = foreply::board::random::SplitMix(self.0);
        let rolled = numbers.roll();
        self.0 = numbers.0;
        rolled % n.max(1)
    }
}
