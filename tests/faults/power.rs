//! The power fails: what a command has done to its files since they were last flushed is there, partly there, or gone, in
//! any order. The operations are recorded from outside (`failing.c`), and disks are made of them as they could have been
//! left at any moment.
//!
//! The model is that of the block layer below a file system: a flush of a file makes all of its bytes durable, a
//! flush of a folder the names in it, and nothing else is promised (POSIX `fsync`; T. S. Pillai et al., 'All file systems are
//! not created equal', OSDI 2014, on what real ones do). A block is 512 bytes, written whole or not at all.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::Row;
use super::failing::{Desk, Step, missing};
use super::home::{Dice, copy, look};

const BLOCK: usize = 512;
/// What is done with the home; the review is left out, since a process of its own would be recorded with it.
const STEPS: [Step; 5] = [
    Step::Sit,
    Step::Send,
    Step::Take,
    Step::Backup,
    Step::Restore,
];

/// One row for each step, `trials` moments each.
pub fn rows(trials: u32) -> Vec<Row> {
    let folder = tempfile::tempdir().unwrap();
    let Some(desk) = Desk::of(folder.path()) else {
        return Vec::new();
    };
    STEPS.iter().map(|s| row(&desk, *s, trials)).collect()
}

fn row(desk: &Desk, step: Step, trials: u32) -> Row {
    let mut row = Row {
        what: format!("power lost in: {}", step.name()),
        ..Row::default()
    };
    let run = Recorded::new(desk, step);
    let mut dice = Dice(u64::from(trials));
    for _ in 0..trials {
        // Every fifth when it has ended: what it said then must hold.
        let at = match dice.below(5) {
            0 => run.done.len(),
            _ => dice.below(run.done.len() as u64) as usize,
        };
        run.fail(desk, at, &mut dice, &mut row);
    }
    row
}

/// One thing done to a file or a name.
#[derive(Clone, Debug)]
enum Done {
    Write(u64, usize, Vec<u8>),
    Length(u64, usize),
    Flush(u64),
    FlushFolder(PathBuf),
    Name(Name),
    Said(String),
}

/// One change of the names; they become durable with their folder.
#[derive(Clone, Debug)]
enum Name {
    Made(PathBuf, u64),
    Folder(PathBuf),
    Renamed(PathBuf, PathBuf),
    Removed(PathBuf),
    FolderRemoved(PathBuf),
}

impl Name {
    fn lies_in(&self, folder: &Path) -> bool {
        let (Self::Made(path, _)
        | Self::Folder(path)
        | Self::Renamed(_, path)
        | Self::Removed(path)
        | Self::FolderRemoved(path)) = self;
        path.parent() == Some(folder)
    }
}

/// What a disk holds: folders, names of files, and the files themselves.
#[derive(Clone, Debug, Default)]
struct Disk {
    folders: BTreeSet<PathBuf>,
    names: BTreeMap<PathBuf, u64>,
    files: BTreeMap<u64, Vec<u8>>,
    /// Length and time of change of the files that were there before. A time is only sure to be flushed with a new length.
    times: BTreeMap<u64, (usize, SystemTime)>,
}

impl Disk {
    /// What lies below a folder, named as from there.
    fn read(root: &Path, below: &Path, numbers: &mut dyn FnMut(&Path) -> u64) -> Self {
        let mut disk = Self::default();
        disk.take(root, below, numbers);
        disk
    }

    fn take(&mut self, root: &Path, folder: &Path, numbers: &mut dyn FnMut(&Path) -> u64) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.strip_prefix(root).unwrap().to_owned();
            if path.is_dir() {
                self.folders.insert(name);
                self.take(root, &path, numbers);
            } else {
                let number = numbers(&path);
                let time = path.metadata().unwrap().modified().unwrap();
                let content = std::fs::read(&path).unwrap();
                self.times.insert(number, (content.len(), time));
                self.files.insert(number, content);
                self.names.insert(name, number);
            }
        }
    }

    fn name(&mut self, change: &Name) {
        match change {
            Name::Made(path, number) => {
                self.names.insert(path.clone(), *number);
                self.files.entry(*number).or_default();
            }
            Name::Folder(path) => {
                self.folders.insert(path.clone());
            }
            // A folder goes with all that lies in it.
            Name::Renamed(from, to) => {
                let moved = |path: &PathBuf| Some(to.join(path.strip_prefix(from).ok()?));
                let plain = |path: PathBuf| path.components().collect::<PathBuf>();
                if let Some(number) = self.names.remove(from) {
                    self.names.insert(to.clone(), number);
                }
                self.names = std::mem::take(&mut self.names)
                    .into_iter()
                    .map(|(path, n)| (moved(&path).map_or(path, plain), n))
                    .collect();
                self.folders = std::mem::take(&mut self.folders)
                    .into_iter()
                    .map(|path| moved(&path).map_or(path, plain))
                    .collect();
            }
            Name::Removed(path) => {
                self.names.remove(path);
            }
            Name::FolderRemoved(path) => {
                self.folders.remove(path);
            }
        }
    }

    fn content(&mut self, change: &Done, block: impl Fn(usize) -> bool) {
        match change {
            Done::Write(number, at, bytes) => {
                let file = self.files.entry(*number).or_default();
                for (i, byte) in bytes.iter().enumerate() {
                    if block((at + i) / BLOCK) {
                        if file.len() <= at + i {
                            file.resize(at + i + 1, 0);
                        }
                        file[at + i] = *byte;
                    }
                }
            }
            Done::Length(number, len) => self.files.entry(*number).or_default().resize(*len, 0),
            _ => {}
        }
    }

    /// Makes it real. Names without a folder, as an order of its own can leave them, are nowhere.
    fn write(&self, root: &Path) {
        let stands = |path: &Path| {
            let above = path.ancestors().skip(1);
            above
                .filter(|f| !f.as_os_str().is_empty())
                .all(|f| self.folders.contains(f))
        };
        for folder in self.folders.iter().filter(|f| stands(f)) {
            std::fs::create_dir_all(root.join(folder)).unwrap();
        }
        for (name, number) in self.names.iter().filter(|(name, _)| stands(name)) {
            let content = &self.files[number];
            let mut file = std::fs::File::create(root.join(name)).unwrap();
            file.write_all(content).unwrap();
            if let Some((len, time)) = self.times.get(number)
                && *len == content.len()
            {
                file.set_modified(*time).unwrap();
            }
        }
    }
}

/// A command that ran to its end, with all it did.
struct Recorded {
    step: Step,
    before: Disk,
    done: Vec<Done>,
    /// The entries of the home afterwards, and the file that was written.
    after: BTreeMap<String, String>,
    out: Option<Vec<u8>>,
}

impl Recorded {
    fn new(desk: &Desk, step: Step) -> Self {
        let place = tempfile::tempdir().unwrap();
        let root = place.path();
        copy(&desk.model(), &root.join("home"));
        let before = Disk::read(root, root, &mut inode);
        let record = tempfile::NamedTempFile::new().unwrap();
        let mut command = desk.command(step, root);
        let ran = desk
            .preloaded(&mut command, root)
            .env("FAILING_RECORD", record.path())
            .output()
            .unwrap();
        assert!(ran.status.success(), "{ran:?}");
        let done = entries(&std::fs::read(record.path()).unwrap(), root);
        // The record is whole: all of it done gives what stands there.
        let mut all = before.clone();
        for change in &done {
            match change {
                Done::Name(change) => all.name(change),
                other => all.content(other, |_| true),
            }
        }
        let real = Disk::read(root, root, &mut inode);
        let (made, there): (Vec<_>, Vec<_>) =
            (all.names.keys().collect(), real.names.keys().collect());
        assert_eq!(made, there, "{}", step.name());
        for (name, number) in &real.names {
            let same = all.files[&all.names[name]] == real.files[number];
            assert!(same, "{}: {name:?} was written otherwise", step.name());
        }
        Self {
            step,
            before,
            done,
            out: std::fs::read(root.join("out")).ok(),
            after: look(&root.join("home"), root).entries,
        }
    }

    /// The power fails after so many operations.
    fn fail(&self, desk: &Desk, at: usize, dice: &mut Dice, row: &mut Row) {
        let place = tempfile::tempdir().unwrap();
        self.left(at, dice).write(place.path());
        let home = place.path().join("home");
        let seen = look(&home, place.path());
        row.faults += 1;
        row.opened += u32::from(seen.opened);
        row.panics += u32::from(seen.panicked());
        row.told += u32::from(!seen.said.trim().is_empty());
        let said: String = self.done[..at]
            .iter()
            .filter_map(|d| match d {
                Done::Said(text) => Some(text.as_str()),
                _ => None,
            })
            .collect();
        let (acknowledged, lost) = self.held(desk, &said, &seen.entries);
        row.acknowledged += acknowledged;
        row.lost += lost;
        // A file that is handed on is there whole, or not at all; once it was said, it is there.
        let out = std::fs::read(place.path().join("out")).ok();
        let whole = match &out {
            None => said.is_empty() || self.out.is_none(),
            Some(_) => out == self.out,
        };
        let right = seen.opened && lost == 0 && whole;
        row.recovered += u32::from(right);
        if !right {
            println!(
                "{}, operation {at} of {}: lost {lost}, file whole: {whole}, said: {}",
                self.step.name(),
                self.done.len(),
                seen.said
            );
        }
    }

    /// One of the disks that it could have been.
    fn left(&self, at: usize, dice: &mut Dice) -> Disk {
        let mut disk = self.before.clone();
        let mut names: Vec<&Name> = Vec::new();
        let mut contents: Vec<&Done> = Vec::new();
        for change in &self.done[..at] {
            match change {
                Done::Name(change) => names.push(change),
                Done::FlushFolder(folder) => {
                    // Names keep their order up to what is flushed.
                    if let Some(last) = names.iter().rposition(|n| n.lies_in(folder)) {
                        names.drain(..=last).for_each(|n| disk.name(n));
                    }
                }
                Done::Flush(number) => {
                    contents.retain(|c| {
                        let (Done::Write(of, ..) | Done::Length(of, _)) = c else {
                            return true;
                        };
                        if of == number {
                            disk.content(c, |_| true);
                        }
                        of != number
                    });
                }
                Done::Said(_) => {}
                content => contents.push(content),
            }
        }
        // A journaling file system keeps the order of names and may stop anywhere; another one keeps what it likes.
        let ordered = dice.below(2) == 0;
        let kept = dice.below(names.len() as u64 + 1) as usize;
        for (i, change) in names.iter().enumerate() {
            if (ordered && i < kept) || (!ordered && dice.below(2) == 0) {
                disk.name(change);
            }
        }
        // None of it, half of it, nearly all of it.
        let share = [0, 2, 5, 9, 10][dice.below(5) as usize];
        for change in contents {
            let seed = dice.below(u64::MAX);
            let whole = dice.below(10) < share;
            if whole || matches!(change, Done::Write(..)) {
                disk.content(change, |block| {
                    whole || Dice(seed ^ block as u64).below(10) < share
                });
            }
        }
        disk
    }

    /// How many entries must be there, and how many are not.
    fn held(&self, desk: &Desk, said: &str, seen: &BTreeMap<String, String>) -> (u64, u64) {
        let ended = !said.trim().is_empty();
        if self.step == Step::Restore && !ended {
            // All the old ones, or all the new ones.
            let lost = missing(desk.entries(), seen).min(missing(&self.after, seen));
            return (desk.entries().len() as u64, lost);
        }
        let whole = (ended && self.step != Step::Sit).then_some(&self.after);
        desk.missing(whole, said, seen)
    }
}

fn inode(path: &Path) -> u64 {
    use std::os::unix::fs::MetadataExt;
    path.metadata().unwrap().ino()
}

/// The record of `failing.c`, read back.
fn entries(record: &[u8], root: &Path) -> Vec<Done> {
    let mut done = Vec::new();
    // The number of a removed file is given to the next one that is made.
    let mut files: BTreeMap<u64, u64> = BTreeMap::new();
    let mut rest = record;
    while let Some(end) = rest.iter().position(|b| *b == b'\n') {
        let head = std::str::from_utf8(&rest[..end]).unwrap();
        let fields: Vec<&str> = head.split(' ').collect();
        let number = |i: usize| fields[i].parse::<usize>().unwrap();
        rest = &rest[end + 1..];
        let mut part = |len: usize| {
            let (taken, left) = rest.split_at(len);
            rest = left;
            taken
        };
        let (first, second) = (part(number(3)), part(number(4)));
        let data = part(number(5)).to_vec();
        let path = |bytes: &[u8]| {
            let path = Path::new(std::str::from_utf8(bytes).unwrap());
            path.strip_prefix(root).unwrap_or(path).to_owned()
        };
        let inode = number(1) as u64;
        if fields[0] == "c" {
            files.insert(inode, (1 << 60) + done.len() as u64);
        }
        let inode = files.get(&inode).copied().unwrap_or(inode);
        done.push(match fields[0] {
            "w" => Done::Write(inode, number(2), data),
            "t" => Done::Length(inode, number(2)),
            "s" => Done::Flush(inode),
            "f" => Done::FlushFolder(path(first)),
            "c" => Done::Name(Name::Made(path(first), inode)),
            "k" => Done::Name(Name::Folder(path(first))),
            "r" => Done::Name(Name::Renamed(path(first), path(second))),
            "u" => Done::Name(Name::Removed(path(first))),
            "x" => Done::Name(Name::FolderRemoved(path(first))),
            "o" => Done::Said(String::from_utf8(data).unwrap()),
            other => panic!("{other:?} is no entry of the record"),
        });
    }
    done
}
