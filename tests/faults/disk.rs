//! A disk that takes no more: by a limit on the size of files, and by a full file system.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use super::Row;
use super::home::{Dice, entries, look};

pub fn rows(faults: u32) -> Vec<Row> {
    let mut rows = vec![row("limit on the size of files", faults, &limited)];
    if small_disk_can_be_made() {
        rows.push(row("full file system", faults, &on_a_small_disk));
    } else {
        super::left_out("no small file system can be made here: it needs the right to mount");
    }
    rows
}

/// A disk without a free byte: what is kept there is read, reviewed, sent and backed up to another disk.
pub fn reading(faults: u32) -> Option<Row> {
    if !small_disk_can_be_made() {
        return None;
    }
    let model = tempfile::tempdir().unwrap();
    let made = Command::new(std::env::current_exe().unwrap())
        .arg("once")
        .arg(model.path().join("home"))
        .stdout(Stdio::null())
        .status();
    assert!(made.unwrap().success());
    let whole = look(&model.path().join("home"), model.path());
    let mut row = Row {
        what: "no free byte, reading".to_owned(),
        ..Row::default()
    };
    for trial in 0..faults {
        let folder = tempfile::tempdir().unwrap();
        let ran = on_a_full_disk(&model.path().join("home"), folder.path(), trial);
        row.faults += 1;
        let text = std::fs::read_to_string(folder.path().join("seen.backup")).unwrap_or_default();
        let seen = entries(&text);
        row.acknowledged += whole.entries.len() as u64;
        row.lost += whole
            .entries
            .keys()
            .filter(|k| !seen.contains_key(*k))
            .count() as u64;
        let said = String::from_utf8_lossy(&ran.stderr);
        row.told += u32::from(!said.is_empty());
        row.panics += u32::from(said.contains("panicked") || said.contains("internal error"));
        row.opened += u32::from(ran.status.success());
        row.recovered += u32::from(ran.status.success() && seen == whole.entries);
        if !ran.status.success() {
            println!("no free byte, trial {trial}: {said}");
        }
    }
    Some(row)
}

/// In turn: closed as it should be, killed, without its database, without the second journal.
fn on_a_full_disk(model: &Path, folder: &Path, trial: u32) -> std::process::Output {
    let gone = ["nothing", "closed", "sled", "journal-copy"][trial as usize % 4];
    let script = format!(
        "mkdir -p \"$1/m\" && mount -t tmpfs -o size=40m tmpfs \"$1/m\" && cp -a \"$2\" \"$1/m/home\" || exit 9
         rm -rf \"$1/m/home/{gone}\"; cat /dev/zero > \"$1/m/fill\" 2>/dev/null
         p=\"$0 --home $1/m/home\"
         $p backup \"$1/seen.backup\" && $p review last --nodes 100 --jobs 1 >\"$1/review\" &&
         $p coach send last -o \"$1/letter.pgn\" && test -s \"$1/letter.pgn\" && $p progress > \"$1/progress\"
         code=$?; umount \"$1/m\"; exit $code"
    );
    Command::new("unshare")
        .args(["-m", "sh", "-c"])
        .arg(script)
        .arg(env!("CARGO_BIN_EXE_foreply"))
        .arg(folder)
        .arg(model)
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

/// Sits in a home until the disk refuses; gives what was acknowledged.
type Fill = dyn Fn(&Path, &mut Dice) -> BTreeMap<String, u64>;

fn row(what: &str, faults: u32, fill: &Fill) -> Row {
    let mut row = Row {
        what: what.to_owned(),
        ..Row::default()
    };
    let mut dice = Dice(99);
    for _ in 0..faults {
        let folder = tempfile::tempdir().unwrap();
        row.faults += 1;
        let told = fill(folder.path(), &mut dice);
        let seen = look(&folder.path().join("home"), folder.path());
        row.acknowledged += told.values().sum::<u64>();
        row.opened += u32::from(seen.opened);
        row.panics += u32::from(seen.panicked());
        row.told += u32::from(!seen.said.is_empty());
        let lost: u64 = told
            .iter()
            .map(|(id, n)| {
                let there = |seq: &u64| {
                    seen.entries
                        .contains_key(&format!("e/attempts/{id}/{seq:020}"))
                };
                n - (0..*n).filter(there).count() as u64
            })
            .sum();
        row.lost += lost;
        row.recovered += u32::from(lost == 0);
    }
    row
}

fn limited(folder: &Path, dice: &mut Dice) -> BTreeMap<String, u64> {
    let blocks = 8 + dice.below(400);
    let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" child \"$1\"");
    acknowledged(
        Command::new("sh")
            .arg("-c")
            .arg(script)
            .arg(std::env::current_exe().unwrap())
            .arg(folder.join("home")),
    )
}

/// A file system in memory of some hundred kilobytes, in a name space of its own; copied out at the end.
fn on_a_small_disk(folder: &Path, dice: &mut Dice) -> BTreeMap<String, u64> {
    let size = 600 + dice.below(2000);
    let script = format!(
        "mkdir -p \"$1/m\" && mount -t tmpfs -o size={size}k tmpfs \"$1/m\" && \"$0\" child \"$1/m/home\"; cp -a \"$1/m/home\" \"$1/home\"; umount \"$1/m\""
    );
    acknowledged(
        Command::new("unshare")
            .args(["-m", "sh", "-c"])
            .arg(script)
            .arg(std::env::current_exe().unwrap())
            .arg(folder),
    )
}

fn small_disk_can_be_made() -> bool {
    let script = "d=$(mktemp -d) && mount -t tmpfs -o size=64k tmpfs $d && umount $d && rmdir $d";
    Command::new("unshare")
        .args(["-m", "sh", "-c", script])
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|s| s.success())
}

/// What was told until it ended by itself, which a full disk makes it do.
fn acknowledged(command: &mut Command) -> BTreeMap<String, u64> {
    let mut child = command
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut out = child.stdout.take().unwrap();
    let reader = std::thread::spawn(move || {
        let mut text = String::new();
        std::io::Read::read_to_string(&mut out, &mut text).unwrap();
        text
    });
    for _ in 0..600 {
        if child.try_wait().unwrap().is_some() {
            break;
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    let _ = child.kill();
    child.wait().unwrap();
    let text = reader.join().unwrap();
    let event = |line: &str| {
        let (id, n) = line.strip_prefix("event ")?.split_once(' ')?;
        Some((id.to_owned(), n.parse().ok()?))
    };
    text.lines().filter_map(event).collect()
}
