//! Advantages, and what became of them: how often a game is won from .70, .85 and .95 on.
//!
//! Play-outs and own games are counted apart: a play-out begins with the advantage and can be repeated,
//! an own game had to reach it first. A game that stood at .95 stood at .70 as well and counts in both.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::stats::{Interval, Rate};
use crate::board::phase::Phase;
use crate::store::Record;

/// The heights, in the player's expected score.
pub const HEIGHTS: [f64; 3] = [0.70, 0.85, 0.95];
/// Games below which a rate says nothing.
pub const GAMES_MIN: u64 = 10;

/// How well the player stood in one game, and what he made of it. Kept for each own game that has been
/// judged and has a result, under its name; it can
/// be computed again.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Advantage {
    /// His expected score, 0 to 1: at the start of a play-out, the highest of an own game.
    pub from: f64,
    /// The part of the game in which he stood at the lowest of [`HEIGHTS`] first.
    pub phase: Option<Phase>,
    /// A play-out: it had a clock. An own game: he was short of time from there on. `None` where nothing
    /// is known of the time.
    pub clock: Option<bool>,
    pub won: bool,
}

impl Record for Advantage {
    const TABLE: &'static str = "advantages";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

/// A play-out that was to be won and is over.
#[derive(Debug, Clone, PartialEq)]
pub struct Played {
    /// Position and level: what was tried.
    pub what: String,
    /// `None` where nobody has judged the position yet.
    pub advantage: Option<Advantage>,
    pub won: bool,
}

/// All of it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Converting {
    pub play_outs: Vec<Row>,
    /// Play-outs whose start has not been judged.
    pub unjudged: usize,
    /// Positions won twice in a row at one level, of those that were tried.
    pub twice: Rate,
    pub own_games: Vec<Row>,
    /// Own games with a result that have been judged.
    pub judged: usize,
}

/// Games of one kind: won of all.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Row {
    pub words: &'static str,
    pub won: Rate,
    /// 95 % (Wilson).
    pub interval: Interval,
    pub enough: bool,
}

/// What the clock says of a play-out, and of an own game: where it holds, and where not.
const WITH_CLOCK: [&str; 2] = [tr_later!("with a clock"), tr_later!("without a clock")];
const SHORT: [&str; 2] = [
    tr_later!("short of time after that"),
    tr_later!("never short of time"),
];

/// The counts. `played` in the order in which they were played.
#[must_use]
pub fn converting(played: &[Played], own: &[Advantage]) -> Converting {
    let judged: Vec<Advantage> = played.iter().filter_map(|p| p.advantage).collect();
    Converting {
        play_outs: rows(&judged, WITH_CLOCK),
        unjudged: played.len() - judged.len(),
        twice: twice(played),
        own_games: rows(own, SHORT),
        judged: own.len(),
    }
}

fn rows(games: &[Advantage], clock: [&'static str; 2]) -> Vec<Row> {
    let clock = clock.map(crate::translation::text);
    let [lowest, ..] = HEIGHTS;
    let better: Vec<&Advantage> = games.iter().filter(|a| a.from >= lowest).collect();
    let words = [tr!("from .70 on"), tr!("from .85 on"), tr!("from .95 on")];
    let heights = words
        .into_iter()
        .zip(HEIGHTS)
        .map(|(words, height)| row(words, &better, |a| a.from >= height));
    let phases = [
        (tr!("in the opening"), Phase::Opening),
        (tr!("in the middlegame"), Phase::Middlegame),
        (tr!("in the ending"), Phase::Ending),
    ];
    let phases = phases.map(|(words, phase)| row(words, &better, |a| a.phase == Some(phase)));
    let clocks = clock
        .into_iter()
        .zip([true, false])
        .map(|(words, with)| row(words, &better, |a| a.clock == Some(with)));
    heights
        .chain(phases)
        .chain(clocks)
        .filter(|r| r.won.of > 0)
        .collect()
}

fn row(words: &'static str, games: &[&Advantage], belongs: impl Fn(&Advantage) -> bool) -> Row {
    let mut won = Rate::default();
    for game in games.iter().filter(|a| belongs(a)) {
        won.add(game.won);
    }
    Row {
        words,
        won,
        interval: won.wilson(),
        enough: won.of >= GAMES_MIN,
    }
}

/// Of the positions tried, those whose last two games were won.
fn twice(played: &[Played]) -> Rate {
    let tried: BTreeSet<&str> = played.iter().map(|p| p.what.as_str()).collect();
    let mut rate = Rate::default();
    for what in tried {
        let games = played.iter().rev().filter(|p| p.what == what);
        let last: Vec<bool> = games.take(2).map(|p| p.won).collect();
        rate.add(last == [true, true]);
    }
    rate
}

#[cfg(test)]
mod tests {
    use super::*;

    fn played(what: &str, from: Option<f64>, won: bool) -> Played {
        Played {
            what: what.to_owned(),
            advantage: from.map(|from| Advantage {
                from,
                phase: Some(Phase::Ending),
                clock: Some(false),
                won,
            }),
            won,
        }
    }

    fn won(rows: &[Row], words: &str) -> Option<Rate> {
        rows.iter().find(|r| r.words == words).map(|r| r.won)
    }

    #[test]
    fn a_game_counts_at_every_height_that_it_stood_at() {
        let games = [
            played("a", Some(0.96), true),
            played("b", Some(0.85), false),
            played("c", Some(0.70), true),
            // Never better, and never judged.
            played("d", Some(0.69), true),
            played("e", None, true),
        ];
        let all = converting(&games, &[]);
        assert_eq!(won(&all.play_outs, "from .70 on"), Some(Rate::new(2, 3)));
        assert_eq!(won(&all.play_outs, "from .85 on"), Some(Rate::new(1, 2)));
        assert_eq!(won(&all.play_outs, "from .95 on"), Some(Rate::new(1, 1)));
        assert_eq!(won(&all.play_outs, "in the ending"), Some(Rate::new(2, 3)));
        assert_eq!(won(&all.play_outs, "with a clock"), None);
        assert_eq!((all.unjudged, all.own_games.len()), (1, 0));
    }

    #[test]
    fn ten_games_are_enough() {
        let games: Vec<Played> = (0..9).map(|_| played("a", Some(0.8), true)).collect();
        assert!(!converting(&games, &[]).play_outs[0].enough);
        let own: Vec<Advantage> = [games.as_slice(), &games]
            .concat()
            .iter()
            .filter_map(|g| g.advantage)
            .collect();
        let row = converting(&[], &own).own_games[0];
        assert!(row.enough && row.interval.low > 0.8 && row.interval.high >= 1.0);
    }

    #[test]
    fn converted_is_won_twice_in_a_row() {
        let games = [
            played("a", None, false),
            played("a", None, true),
            played("b", None, true),
            played("a", None, true),
            played("c", None, true),
            played("c", None, false),
        ];
        assert_eq!(converting(&games, &[]).twice, Rate::new(1, 3));
    }
}
