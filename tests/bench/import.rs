//! Reading a large PGN file beside the bare speed of an independent reader, the crate `pgn-reader`:
//! `cargo bench --bench import [-- --mib N]`.
//!
//! Three files of the same size: games of other players, the player's own without variations, and his own of
//! which five in twelve hold variations that become attempts. Prints MB/s and the ratio to the bare reader, which
//! only finds the moves, while ours checks and keeps them.

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
        let speed = |seconds: f64| text.len() as f64 / 1e6 / seconds;
        println!(
            "{what:<26} {:>6.1} MB: bare reader {:>6.1} MB/s, games add {:>6.1} MB/s, ratio {:.2}",
            text.len() as f64 / 1e6,
            speed(reader),
            speed(ours),
            reader / ours
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

fn read(text: &str) -> f64 {
    let begun = Instant::now();
    let mut moves = Moves(0);
    BufferedReader::new(text.as_bytes())
        .read_all(&mut moves)
        .expect("the season can be read");
    assert!(moves.0 > 1000);
    begun.elapsed().as_secs_f64()
}

fn add(text: &str) -> f64 {
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
    let begun = Instant::now();
    app.add_games(text.as_bytes(), &whose, &mut |_| None, &mut |_| {})
        .expect("added");
    app.remember_notes().expect("kept");
    begun.elapsed().as_secs_f64()
}
