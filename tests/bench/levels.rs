//! Levels of the play-out's opponent against each other: is each stronger than the one below?
//!
//! `cargo bench --bench levels -- [--low N] [--high N] [--positions N] [--seed N]`
//! From each of the first `--positions` rungs of the ladder, counted from the top where the advantage is
//! least, level N and level N + 1 play twice with sides changed. Both play as the opponent does
//! ([`foreply::playout::reply`]); draws are claimed. Counts are wins, draws and losses of the higher level.

use std::process::ExitCode;

use foreply::board::Line;
use foreply::drill;
use foreply::judge::{Judge, Question};
use foreply::playout::{Level, reply};
use shakmaty::Color;

#[path = "../support/table_judge.rs"]
mod table_judge;

/// Half-moves after which a game is decided by a search of so many nodes.
const PLIES: usize = 160;
const NODES: u64 = 100_000;
/// From this expected score on it is decided then.
const DECIDED: f64 = 0.9;

/// Points of White, doubled.
fn play(root: &Line, white: Level, black: Level, seed: u64, judge: &dyn Judge) -> u32 {
    let mut at = root.clone();
    for _ in 0..PLIES {
        if let Some(rule) = at.rule() {
            return rule.winner(at.turn()).map_or(1, |side| side.fold_wb(2, 0));
        }
        let level = at.turn().fold_wb(white, black);
        let Some(said) = reply(&at, level, seed, judge).unwrap() else {
            break;
        };
        at = at.child(&said.mv).unwrap();
    }
    let question = Question {
        line: at.clone(),
        lines: 1,
        nodes: NODES,
    };
    let worth = judge.answer_one(question).unwrap();
    match worth.worth_to(Color::White, &at).value() {
        w if w >= DECIDED => 2,
        w if w <= 1.0 - DECIDED => 0,
        _ => 1,
    }
}

/// Losses, draws and wins of the higher level, from each position with either side.
fn compare(roots: &[&Line], low: Level, high: Level, seed: u64, judge: &dyn Judge) -> [u32; 3] {
    let mut counts = [0; 3];
    for root in roots {
        counts[play(root, high, low, seed, judge) as usize] += 1;
        counts[2 - play(root, low, high, seed, judge) as usize] += 1;
    }
    counts
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let number = |name: &str, default: u64| {
        let at = words.iter().position(|w| w == name);
        at.and_then(|i| words.get(i + 1)?.parse().ok())
            .unwrap_or(default)
    };
    // What `cargo test --benches` starts it with is no order to play for an hour.
    if !words.iter().any(|w| w.starts_with("--low")) {
        println!("nothing to do: name a level, as in -- --low 1 --high 6 --positions 6");
        return ExitCode::SUCCESS;
    }
    let (low, high) = (number("--low", 1) as u8, number("--high", 6) as u8);
    let ladder = drill::builtin().unwrap().iter();
    let mut roots: Vec<&Line> = ladder
        .filter(|d| d.is_of_the_ladder())
        .map(|d| &d.root)
        .collect();
    roots.reverse();
    roots.truncate(number("--positions", 6) as usize);
    let judge = table_judge::judge();
    for pair in low..high {
        let (one, two) = (Level::try_from(pair), Level::try_from(pair + 1));
        let [lost, drawn, won] = compare(
            &roots,
            one.unwrap(),
            two.unwrap(),
            number("--seed", 1),
            &judge,
        );
        println!("level {} against {pair}: +{won} ={drawn} -{lost}", pair + 1);
    }
    ExitCode::SUCCESS
}
