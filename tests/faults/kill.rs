//! SIGKILL at random moments.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Read;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use super::Row;
use super::home::{Dice, Seen, look, program, run};

/// Sittings in two windows on one home at once.
pub const TWO: &str = "two windows at once";

/// Kills `what` that many times, on homes that live through ten kills each.
pub fn row(what: &str, faults: u32) -> Row {
    let mut row = Row {
        what: format!(
            "kill -9, {}",
            if what == "sittings" {
                "sittings, reviews"
            } else {
                what
            }
        ),
        ..Row::default()
    };
    let mut dice = Dice(u64::from(faults) ^ what.len() as u64);
    let mut left = faults;
    while left > 0 {
        let folder = tempfile::tempdir().unwrap();
        let mut past = Past {
            span_ms: span_ms(what),
            ..Past::default()
        };
        for _ in 0..left.min(10) {
            once(what, folder.path(), &mut dice, &mut past, &mut row);
            left -= 1;
        }
    }
    row
}

/// What has happened in a home so far.
#[derive(Default)]
struct Past {
    /// How long the command takes that is killed.
    span_ms: u64,
    /// Events of each attempt that were acknowledged.
    told: BTreeMap<String, u64>,
    /// What was there after the kill before.
    there: BTreeSet<String>,
}

/// The time that the command takes when nobody kills it: most kills must hit it at work.
fn span_ms(what: &str) -> u64 {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    if what != "imports" {
        fill(&home);
    }
    let mut command = match what {
        "sittings" => return 400,
        TWO => return 800,
        "imports" => importer(folder.path(), &home),
        "backups" => backuper(folder.path(), &home),
        _ => restorer(folder.path(), &home),
    };
    let began = Instant::now();
    assert!(command.output().unwrap().status.success());
    u64::try_from(began.elapsed().as_millis()).unwrap() * 11 / 10
}

fn once(what: &str, folder: &Path, dice: &mut Dice, past: &mut Past, row: &mut Row) {
    let home = folder.join("home");
    row.faults += 1;
    if what == "imports" {
        // A home that has all games already has nothing left to be killed in.
        let _ = std::fs::remove_dir_all(&home);
        past.there.clear();
    }
    if what == "backups" || what == "restores" {
        fill(&home);
    }
    let command = match what {
        "sittings" | TWO => sitter(&home),
        "imports" => importer(folder, &home),
        "backups" => backuper(folder, &home),
        _ => restorer(folder, &home),
    };
    let (first, second) = (dice.below(past.span_ms), dice.below(past.span_ms));
    // Whichever is killed first, the other goes on beside it, or takes in what it has left.
    let other = (what == TWO).then(|| {
        let beside = sitter(&home);
        std::thread::spawn(move || kill(beside, second))
    });
    let mut said = kill(command, first);
    said.extend(other.map(|other| other.join().unwrap()));
    for line in said.lines() {
        if let Some((id, n)) = line.strip_prefix("event ").and_then(|l| l.split_once(' ')) {
            past.told.insert(id.to_owned(), n.parse().unwrap());
        }
    }
    let seen = look(&home, folder);
    row.opened += u32::from(seen.opened);
    row.panics += u32::from(seen.panicked());
    row.told += u32::from(!seen.said.is_empty());
    if what == "imports" {
        past.there = seen.entries.keys().cloned().collect();
    }
    row.acknowledged += past.told.values().sum::<u64>() + past.there.len() as u64;
    let lost = match what {
        "restores" => u64::from(!is_old_or_new(&seen)),
        "backups" => u64::from(!backup_is_whole(folder, &home)),
        _ => past.missing(&seen),
    };
    row.lost += lost;
    row.recovered += u32::from(lost == 0 && (what != "imports" || finishes(folder, &home, &seen)));
}

/// Runs the command and kills it after so many milliseconds; what it had said until then.
fn kill(mut command: Command, after_ms: u64) -> String {
    let mut child = command
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut out = child.stdout.take().unwrap();
    let reader = std::thread::spawn(move || {
        let mut text = String::new();
        out.read_to_string(&mut text)
            .map(|_| text)
            .unwrap_or_default()
    });
    std::thread::sleep(Duration::from_millis(after_ms));
    child.kill().unwrap();
    child.wait().unwrap();
    let text = reader.join().unwrap();
    // A last line without its end was not said to the end.
    text.rfind('\n')
        .map_or(String::new(), |end| text[..=end].to_owned())
}

fn sitter(home: &Path) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.arg("child").arg(home);
    command
}

/// Games of the season, and those among them with a variation that becomes an attempt.
const GAMES: usize = 300;
const NOTED: usize = GAMES / 3;

/// A season of the invented league, no two games and no two positions with a variation the same; what he saw at
/// the board becomes attempts.
fn season(folder: &Path) -> String {
    const WHITE: [&str; 15] = [
        "a3", "a4", "b3", "b4", "c3", "c4", "d3", "d4", "e3", "e4", "f4", "g3", "g4", "h3", "h4",
    ];
    const BLACK: [&str; 20] = [
        "a6", "a5", "b6", "b5", "c6", "c5", "d6", "d5", "e6", "e5", "f6", "f5", "g6", "g5", "h6",
        "h5", "Na6", "Nc6", "Nf6", "Nh6",
    ];
    let file = folder.join("season.pgn");
    if !file.exists() {
        let games = (0..GAMES).map(|n| {
            let (first, reply) = (WHITE[n % WHITE.len()], BLACK[n / WHITE.len()]);
            let noted = ["(2. Nc3 Nc6 3. Ne4 {a plan}) ", "", ""][n % 3];
            format!(
                "[Event \"Harrowmere Chess League\"]\n[Date \"{}.01.01\"]\n[White \"Verrick, Ansa\"]\n[Black \"Pell, Doran\"]\n[Result \"*\"]\n\n1. {first} {reply} 2. Nf3 {noted}*\n\n",
                1600 + n
            )
        });
        std::fs::write(&file, games.collect::<String>()).unwrap();
    }
    file.to_str().unwrap().to_owned()
}

fn importer(folder: &Path, home: &Path) -> Command {
    program(
        home,
        &["games", "add", &season(folder), "--player", "Verrick, Ansa"],
    )
}

/// After the kill the same import runs to its end: what there was is there, and every attempt once.
fn finishes(folder: &Path, home: &Path, before: &Seen) -> bool {
    let ran = importer(folder, home).output().unwrap().status.success();
    let after = look(home, folder);
    let kept = before.entries.keys().all(|k| after.entries.contains_key(k));
    let names = after.entries.keys();
    ran && kept && names.filter(|k| k.starts_with("r/summaries/")).count() == NOTED
}

fn fill(home: &Path) {
    if !home.exists() {
        kill(sitter(home), 400);
    }
}

fn backuper(folder: &Path, home: &Path) -> Command {
    program(
        home,
        &["backup", folder.join("all.backup").to_str().unwrap()],
    )
}

/// Whatever stands under the name of the backup is a whole one.
fn backup_is_whole(folder: &Path, home: &Path) -> bool {
    let file = folder.join("all.backup");
    !file.exists()
        || run(home, &["backup", "--check", file.to_str().unwrap()])
            .status
            .success()
}

const OTHER: &str = "other.backup";

/// Restores an empty backup over the home, so that what is there afterwards tells which of both it is.
fn restorer(folder: &Path, home: &Path) -> Command {
    let other = folder.join(OTHER);
    if !other.exists() {
        let empty = folder.join("empty");
        run(&empty, &["backup", other.to_str().unwrap()]);
    }
    let args = [
        "restore",
        other.to_str().unwrap(),
        "--replace",
        home.to_str().unwrap(),
    ];
    program(home, &args)
}

/// Nothing at all, or the log of the first sitting from its first event on.
fn is_old_or_new(seen: &Seen) -> bool {
    seen.entries.is_empty()
        || seen
            .entries
            .keys()
            .any(|k| k.ends_with("/00000000000000000000"))
}

impl Past {
    fn missing(&self, seen: &Seen) -> u64 {
        let event = |id: &str, seq: u64| format!("e/attempts/{id}/{seq:020}");
        let told = self.told.iter();
        let told = told.flat_map(|(id, n)| (0..*n).map(move |seq| event(id, seq)));
        let gone = |key: &String| !seen.entries.contains_key(key);
        told.filter(gone).count() as u64 + self.there.iter().filter(|k| gone(k)).count() as u64
    }
}
