//! Bytes flipped, pages zeroed, files cut and removed, in every file of the store.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use super::Row;
use super::home::{Dice, Seen, copy, look};

#[derive(Clone, Copy, PartialEq)]
pub enum Kind {
    Flip,
    /// A byte flipped with the time of the file left as it was: what a failing disk does.
    Rot,
    Zero,
    Cut,
    Remove,
}

pub const KINDS: [Kind; 5] = [Kind::Flip, Kind::Rot, Kind::Zero, Kind::Cut, Kind::Remove];

impl Kind {
    fn name(self) -> &'static str {
        match self {
            Self::Flip => "one byte flipped",
            Self::Rot => "one byte flipped, time kept",
            Self::Zero => "4 KiB zeroed",
            Self::Cut => "file cut off",
            Self::Remove => "file removed",
        }
    }
}

pub fn row(kind: Kind, faults: u32) -> Row {
    let mut row = Row {
        what: kind.name().to_owned(),
        ..Row::default()
    };
    let model = tempfile::tempdir().unwrap();
    let whole = sound(model.path());
    let mut dice = Dice(kind as u64 * 1000 + 7);
    for _ in 0..faults {
        once(kind, &mut dice, model.path(), &whole, &mut row);
    }
    row
}

/// A home with some sittings, closed as it should be, and what it holds.
fn sound(folder: &Path) -> Seen {
    let home = folder.join("home");
    let mut child = Command::new(std::env::current_exe().unwrap())
        .arg("child")
        .arg(&home)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(Duration::from_millis(1500));
    child.kill().unwrap();
    child.wait().unwrap();
    // Mends what the kill left, and closes.
    look(&home, folder);
    let seen = look(&home, folder);
    assert!(
        seen.opened && seen.said.is_empty() && seen.entries.len() > 20,
        "{}",
        seen.said
    );
    seen
}

fn once(kind: Kind, dice: &mut Dice, model: &Path, whole: &Seen, row: &mut Row) {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    copy(&model.join("home"), &home);
    hurt(kind, dice, &home);
    row.faults += 1;
    row.acknowledged += whole.entries.len() as u64;
    // The first start may do no more than say that the second one mends.
    let first = look(&home, folder.path());
    let second = look(&home, folder.path());
    let told = !first.said.is_empty();
    let right = first.entries == whole.entries;
    row.told += u32::from(told);
    row.idle += u32::from(!told && right);
    row.unnoticed += u32::from(!told && !right);
    row.opened += u32::from(first.opened || second.opened);
    row.recovered += u32::from(second.entries == whole.entries);
    row.panics += u32::from(first.panicked() || second.panicked());
    let there = |key: &&String| second.entries.contains_key(*key);
    row.lost += (whole.entries.len() - whole.entries.keys().filter(there).count()) as u64;
}

/// One random bit in each of the three copies. An entry may only be lost where both journals are hit in its line.
pub fn in_each_copy(faults: u32) -> Row {
    let mut row = Row {
        what: "one bit in each copy".to_owned(),
        ..Row::default()
    };
    let model = tempfile::tempdir().unwrap();
    let whole = sound(model.path());
    let mut dice = Dice(2026);
    for _ in 0..faults {
        let folder = tempfile::tempdir().unwrap();
        let home = folder.path().join("home");
        copy(&model.path().join("home"), &home);
        let hit =
            ["journal", "journal-copy", "sled/db"].map(|name| flip(&home.join(name), &mut dice));
        let first = look(&home, folder.path());
        let second = look(&home, folder.path());
        row.faults += 1;
        row.acknowledged += whole.entries.len() as u64;
        let there = |key: &&String| second.entries.contains_key(*key);
        let lost = (whole.entries.len() - whole.entries.keys().filter(there).count()) as u64;
        let same_entry = hit[0] == hit[1];
        row.told += u32::from(!first.said.is_empty());
        row.unnoticed += u32::from(first.said.is_empty() && lost > 0);
        row.opened += u32::from(first.opened || second.opened);
        row.panics += u32::from(first.panicked() || second.panicked());
        row.lost += if same_entry { 0 } else { lost };
        row.recovered += u32::from(second.entries == whole.entries || same_entry);
    }
    row
}

/// Flips a bit where the file holds something; gives the number of its line.
fn flip(file: &Path, dice: &mut Dice) -> usize {
    let mut raw = std::fs::read(file).unwrap();
    let used = raw.iter().rposition(|b| *b != 0).map_or(1, |at| at + 1);
    let at = dice.below(used as u64) as usize;
    raw[at] ^= 1 << dice.below(8);
    let line = raw[..at].iter().filter(|b| **b == b'\n').count();
    std::fs::write(file, raw).unwrap();
    line
}

fn hurt(kind: Kind, dice: &mut Dice, home: &Path) {
    let mut files: Vec<PathBuf> = vec![home.join("journal"), home.join("journal-copy")];
    for entry in std::fs::read_dir(home.join("sled")).unwrap() {
        let path = entry.unwrap().path();
        if path.is_file() {
            files.push(path);
        }
    }
    files.sort();
    // The two that hold the entries are hit most often.
    let big: Vec<PathBuf> = files
        .iter()
        .filter(|f| f.ends_with("journal") || f.ends_with("db"))
        .cloned()
        .collect();
    let list = if dice.below(4) > 0 { &big } else { &files };
    let file = &list[dice.below(list.len() as u64) as usize];
    let time = file.metadata().unwrap().modified().unwrap();
    let mut raw = std::fs::read(file).unwrap();
    // Where the library has set room aside, nothing is to be hurt.
    let used = raw.iter().rposition(|b| *b != 0).map_or(1, |at| at + 1);
    let at = dice.below(used as u64) as usize;
    match kind {
        Kind::Flip | Kind::Rot => {
            if let Some(byte) = raw.get_mut(at) {
                *byte ^= 1 << dice.below(8);
            }
        }
        Kind::Zero => {
            let end = (at + 4096).min(raw.len());
            raw[at..end].fill(0);
        }
        Kind::Cut => raw.truncate(at),
        Kind::Remove => return std::fs::remove_file(file).unwrap(),
    }
    std::fs::write(file, raw).unwrap();
    if kind == Kind::Rot {
        let file = std::fs::File::options().write(true).open(file).unwrap();
        file.set_modified(time).unwrap();
    }
}
