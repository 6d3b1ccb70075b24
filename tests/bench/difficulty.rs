//! How far the difficulty of a position orders the errors of real games, and whether the three bands are true:
//! `cargo bench --bench difficulty -- FILE.pgn [--keep FILE.jsonl] [--part I/N] [--games N] [--skip N] [--every N] [--from MOVE]
//! [--rated LOW-HIGH] [--label NODES] [--jobs N] [--bands]`, and `cargo bench --bench difficulty -- FILE.jsonl ...`, which
//! asks nothing and reports what such runs have kept.
//!
//! Of every so many positions from a move on: the difficulty as the account of a game tells it, and whether the player
//! gave away .10 or more there, judged with more nodes. Positions that are decided count for neither. `--rated` takes
//! the moves of players rated so alone. `--bands` asks for the bands alone, which costs one search a position. `--keep` writes
//! each position down as soon as it is known, and passes over what is written; with `--part 1/16` to `16/16` sixteen processes,
//! each with a file of its own, do it together:
//!
//!     for i in $(seq 16); do cargo bench --bench difficulty -- FILE.pgn --rated 0-2300 --every 3 --label 200000 --jobs 1 \
//!         --part $i/16 --keep part-$i.jsonl > /dev/null & done; wait; cargo bench --bench difficulty -- part-*.jsonl
//!
//! The games are given by path; none is shipped.

#[path = "difficulty/again.rs"]
mod again;
#[path = "difficulty/bands.rs"]
mod bands;
#[path = "difficulty/collect.rs"]
mod collect;
#[path = "difficulty/curve.rs"]
mod curve;

use std::fs;

use collect::{Seen, Wanted, collect, read};
use foreply::judge::{self, EngineCommand, EngineJudge};
use foreply::tree::pgn;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let after = |name: &str| {
        let at = words.iter().position(|word| word == name)?;
        words.get(at + 1).map(String::as_str)
    };
    let number = |name: &str| after(name)?.parse::<usize>().ok();
    let pair = |name: &str, between: char| {
        let (one, other) = after(name)?.split_once(between)?;
        Some((one.parse::<usize>().ok()?, other.parse::<usize>().ok()?))
    };
    let kept = words.iter().filter(|w| w.ends_with(".jsonl"));
    let seen: Vec<Seen> = match words.iter().find(|w| w.ends_with(".pgn")) {
        Some(path) => {
            let bytes = fs::read(path).expect("the file can be read");
            let rated = pair("--rated", '-').unwrap_or((0, 9_999));
            let wanted = Wanted {
                skip: number("--skip").unwrap_or(0),
                games: number("--games").unwrap_or(usize::MAX),
                every: number("--every").unwrap_or(4),
                from: number("--from").unwrap_or(9),
                rated: (rated.0 as u32, rated.1 as u32),
                label: number("--label").unwrap_or(50_000) as u64,
                bands: words.iter().any(|w| w == "--bands"),
                part: pair("--part", '/').unwrap_or((1, 1)),
            };
            let judge = engine(number("--jobs").unwrap_or(2));
            collect(&pgn::decode(&bytes), &wanted, &judge, after("--keep"))
        }
        None => kept.flat_map(|file| read(file)).collect(),
    };
    if seen.is_empty() {
        println!("left out: no games given; cargo bench --bench difficulty -- FILE.pgn");
    }
    curve::curve(&seen);
    bands::bands(&seen);
}

fn engine(jobs: usize) -> EngineJudge {
    let own = env!("CARGO_BIN_EXE_foreply").to_owned();
    let program = std::env::var("FOREPLY_BENCH_ENGINE").unwrap_or(own);
    let settings = judge::Settings {
        jobs,
        ..judge::Settings::default()
    };
    EngineJudge::start(EngineCommand::new(program, ["engine"]), settings).expect("an engine")
}
