//! Long use: sittings with their reviews through the real program, one start each, and how it grows.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

use super::home;

/// Typed in each sitting, whatever the position: what is not legal there is kept as it is. Enter alone leaves
/// open what is asked before the lock, 'open' what is asked behind it (a move that can mean two).
const TYPED: &[u8] =
    b"Kd4 Ke6\n=\n\nQd1 a6 Nf3\n+-\n\nRe1\n{quiet}\nchoose\n\n\n\nyes\nopen\nopen\nopen\n\n\n";
/// Sittings at positions of the collection, in turn.
const POSITIONS: u32 = 400;
/// Starts over which processor time is taken, since the system counts hundredths of a second.
const STARTS: u32 = 20;

/// One line for each power of ten and for the last sitting; true where every sitting was locked and reviewed.
pub fn run(sittings: u32) -> bool {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("settings.yaml"), "nodes: 100\n").unwrap();
    println!("attempts  journal  each   database  memory of the last  start");
    for number in 1..=sittings {
        let memory = sitting(folder.path(), number % POSITIONS + 1);
        if number == sittings || number == 10_u32.pow(number.ilog10()) {
            tell(folder.path(), memory);
        }
    }
    reviewed(folder.path()) == sittings
}

/// The attempts of which a review has left its moments.
fn reviewed(home: &Path) -> u32 {
    let journal = std::fs::read_to_string(home.join("journal")).unwrap();
    let keys = journal.lines().filter_map(|line| line.split(' ').nth(3));
    let reviewed = keys.filter(|key| key.starts_with("r/moments/"));
    u32::try_from(reviewed.collect::<BTreeSet<_>>().len()).unwrap()
}

fn tell(home: &Path, memory: u64) {
    let attempts = reviewed(home);
    let journal = home.join("journal").metadata().unwrap().len();
    let before = children_ms();
    for _ in 0..STARTS {
        home::run(home, &["review", "last"]);
    }
    let start = (children_ms() - before) / u64::from(STARTS);
    println!(
        "{attempts:>8}{:>7} kB{:>5.1} kB{:>7} kB{memory:>17} kB{start:>5} ms",
        journal / 1000,
        journal as f64 / 1000.0 / f64::from(attempts.max(1)),
        size(&home.join("sled")) / 1000,
    );
}

/// The most memory it has had, in kB (proc(5): `VmHWM`).
fn sitting(home: &Path, position: u32) -> u64 {
    let number = position.to_string();
    let mut child = home::program(home, &["practice", &number, "--plain"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::inherit())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(TYPED).unwrap();
    let status = format!("/proc/{}/status", child.id());
    let mut most = 0;
    loop {
        let text = std::fs::read_to_string(&status).unwrap_or_default();
        let line = text.lines().find_map(|l| l.strip_prefix("VmHWM:"));
        let now = line.and_then(|l| l.trim().trim_end_matches(" kB").parse().ok());
        most = most.max(now.unwrap_or(0));
        if let Some(ended) = child.try_wait().unwrap() {
            assert!(ended.success(), "{ended}");
            return most;
        }
        std::thread::sleep(Duration::from_millis(2));
    }
}

/// Processor time of all children that have ended (proc(5): fields 16 and 17 of `stat`, in hundredths of a
/// second).
fn children_ms() -> u64 {
    let text = std::fs::read_to_string("/proc/self/stat").unwrap();
    let fields = text.rsplit(')').next().unwrap().split_whitespace();
    let ticks: u64 = fields
        .skip(13)
        .take(2)
        .map(|f| f.parse::<u64>().unwrap())
        .sum();
    ticks * 10
}

fn size(folder: &Path) -> u64 {
    let entries = std::fs::read_dir(folder).unwrap().flatten();
    entries
        .map(|e| match e.metadata().unwrap() {
            meta if meta.is_dir() => size(&e.path()),
            meta => meta.len(),
        })
        .sum()
}
