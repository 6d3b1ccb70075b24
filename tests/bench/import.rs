//! Reading a large PGN file beside the bare speed of an independent reader, the crate `pgn-reader`:
//! `cargo bench --bench import [-- --mib N]`.
//!
//! Three files of the same size: games of other players, the player's own without variations, and his own of
//! which five in twelve hold variations that become attempts. Prints MB/s and the ratio to the bare reader, which
//! only finds the moves, while ours checks and keeps them. The ratio is one of processor time where the system tells
//! it: what waits for the disk, or for others who use the machine, is no speed of a reader.

use std::time::Instant;

use foreply::app::{App, Config, Whose};
use pgn_reader::{BufferedReader, SanPlus, Skip, Visitor};

const SEASON: &str = include_str!("../data/harrowmere-season.pgn");
const PLAYER: &str = "Verrick, Ansa";

struct Moves(usize);

impl Visitor for Moves {
    type Result = ();

    fn san(&mut self, _: SanPlus) {
        self.0 += 1;
    }

    fn begin_variation(&mut self) -> Skip {
        Skip(false)
    }

    fn end_game(&mut self) -> Self::Result {}
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|w| w == "--mib");
    let size = at
        .and_then(|at| words.get(at + 1)?.parse().ok())
        .unwrap_or(8)
        << 20;
    let own = season(size, dated);
    let bare = season(size, |game, number| {
        dated(&without_variations(game), number)
    });
    let others = own.replace(PLAYER, "Somebody, Else");
    for (what, text) in [
        ("games of others", &others),
        ("his own, no variations", &bare),
        ("his own, with variations", &own),
    ] {
        let (reader, ours) = (read(text), add(text));
        let megabytes = text.len() as f64 / 1e6;
        println!(
            "{what:<26} {megabytes:>6.1} MB: bare reader {:>6.1} MB/s, games add {:>6.1} MB/s, ratio {:.2}; {:.2} s on the clock",
            megabytes / reader.worked,
            megabytes / ours.worked,
            reader.worked / ours.worked,
            ours.clock
        );
    }
}

/// The season again and again, each game another one, until the size is reached.
fn season(size: usize, make: impl Fn(&str, usize) -> String) -> String {
    let games: Vec<&str> = SEASON.split("\n\n[Event").collect();
    let mut out = String::new();
    let mut number = 0;
    while out.len() < size {
        for game in &games {
            let game = game.trim_start_matches("[Event");
            let game = game.find("[Event").map_or(game, |i| &game[i + 6..]);
            out += &make(&format!("[Event{game}"), number);
            out += "\n\n";
            number += 1;
        }
    }
    out
}

/// The game under a date of its own, so that no two are the same game.
fn dated(game: &str, number: usize) -> String {
    let date = format!(
        "[Date \"{:04}.{:02}.{:02}\"]",
        1900 + number / 336,
        1 + number / 28 % 12,
        1 + number % 28
    );
    let lines = game.lines().map(|line| match line.starts_with("[Date ") {
        true => date.as_str(),
        false => line,
    });
    lines.collect::<Vec<_>>().join("\n")
}

fn without_variations(game: &str) -> String {
    let mut depth = 0;
    let kept = game.chars().filter(|c| {
        depth += i32::from(*c == '(');
        let keep = depth == 0;
        depth -= i32::from(*c == ')');
        keep
    });
    kept.collect()
}

/// Seconds.
struct Took {
    /// Of all processors together.
    worked: f64,
    clock: f64,
}

fn took(work: impl FnOnce()) -> Took {
    let (begun, before) = (Instant::now(), worked());
    work();
    let clock = begun.elapsed().as_secs_f64();
    let worked = before.zip(worked()).map(|(before, after)| after - before);
    Took {
        worked: worked.unwrap_or(clock),
        clock,
    }
}

/// Processor time of this process in seconds (proc(5): fields `utime` and `stime`, hundredths of a second).
fn worked() -> Option<f64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    let fields: Vec<&str> = stat.rsplit_once(')')?.1.split_whitespace().collect();
    let ticks = |at: usize| fields.get(at)?.parse::<f64>().ok();
    Some((ticks(11)? + ticks(12)?) / 100.0)
}

/// Often enough for hundredths of a second to say something.
const TIMES: u32 = 10;

fn read(text: &str) -> Took {
    let ten = took(|| {
        for _ in 0..TIMES {
            let mut moves = Moves(0);
            BufferedReader::new(text.as_bytes())
                .read_all(&mut moves)
                .expect("the season can be read");
            assert!(moves.0 > 1000);
        }
    });
    Took {
        worked: ten.worked / f64::from(TIMES),
        clock: ten.clock / f64::from(TIMES),
    }
}

fn add(text: &str) -> Took {
    let home = tempfile::tempdir().expect("a folder");
    let mut config = Config::new(home.path().to_owned());
    config.writing = true;
    config.ahead = false;
    let app = App::open(config).expect("a store");
    let whose = Whose {
        player: Some(PLAYER.to_owned()),
        also: Vec::new(),
        not: Vec::new(),
    };
    took(|| {
        app.games()
            .add_games(text.as_bytes(), &whose, &mut |_| None, &mut |_| {})
            .expect("added");
        app.games().remember_notes().expect("kept");
    })
}
