//! His games by their first moves: a tree that branches where they do, with what each branch brought.
//!
//! Branches are told apart by the moves alone: a position that is reached by another order of moves stands in
//! another branch. The opening counts as over at move 12, and again at move 20 (common practice, no source):
//! all that is measured is measured there, before the 13th and the 21st move are made.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use shakmaty::{Color, Move};

use super::kept::OwnGame;
use super::worth::GameScores;
use crate::board::line;

/// After these moves the opening is over.
pub const MARKS: [usize; 2] = [12, 20];
/// Half-moves that may tell one branch from another.
const DEPTH: usize = 2 * MARKS[0];
/// Under this mean expected score a branch leaves him worse: the bound of 'level' in a review.
pub const WORSE: f64 = 0.45;
/// More time than this times his own mean is much (common practice, no source).
pub const SLOW: f64 = 1.25;

/// A game, and what the judge said of it where it has spoken.
pub struct Known<'a> {
    pub game: &'a OwnGame,
    pub worth: Option<&'a GameScores>,
}

/// What stood on the board and on the clock after so many moves.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Mark {
    /// After which move.
    pub after_move: usize,
    /// Games that went on longer, those of them that are judged, and those with times.
    pub games: usize,
    pub judged: usize,
    pub timed: usize,
    /// Mean expected score of the judged ones, 0 to 1.
    pub expected: Option<f64>,
    /// Mean of the player's time to there, in seconds.
    pub used_seconds: Option<f64>,
}

/// Games with the same first moves.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Branch {
    /// Its number on the page, from 1.
    pub number: usize,
    /// Half-moves before its own ones.
    pub from: usize,
    /// Its moves in SAN, from where it leaves its trunk to where its games part.
    pub moves: Vec<String>,
    /// The games by their places in what was given.
    pub games: Vec<usize>,
    /// ECO codes of their tags.
    pub eco: Vec<String>,
    /// Points of the games with a result, and how many those are.
    pub points: f64,
    pub finished: usize,
    pub marks: Vec<Mark>,
    /// Those of its branches that hold enough games to be told.
    pub branches: Vec<Branch>,
}

/// The openings of one colour.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Side {
    pub white: bool,
    pub all: Branch,
}

/// The trees of both colours; a branch of fewer than `least` games is not told by itself. Games that begin
/// from another position than the first are left out.
#[must_use]
pub fn openings(games: &[Known<'_>], least: usize) -> Vec<Side> {
    let mut number = 0;
    Color::ALL
        .into_iter()
        .filter_map(|side| {
            let of = |(_, k): &(usize, &Known<'_>)| k.game.side == side && !k.game.game.from_fen;
            let places = games.iter().enumerate().filter(of).map(|(i, _)| i);
            let places: Vec<usize> = places.collect();
            (!places.is_empty()).then(|| Side {
                white: side.is_white(),
                all: branch(games, places, 0, least.max(1), &mut number),
            })
        })
        .collect()
}

impl Branch {
    /// This branch and all below it, in the order of their numbers.
    #[must_use]
    pub fn all(&self) -> Vec<&Branch> {
        let below = self.branches.iter().flat_map(Branch::all);
        std::iter::once(self).chain(below).collect()
    }

    /// The mark at which he stood worse on average, if there is one.
    #[must_use]
    pub fn worse(&self) -> Option<&Mark> {
        self.marks
            .iter()
            .find(|m| m.expected.is_some_and(|e| e < WORSE))
    }

    /// The mark to which he took much more time than in all games together.
    #[must_use]
    pub fn slow<'a>(&'a self, all: &'a [Mark]) -> Option<(&'a Mark, f64)> {
        self.marks.iter().zip(all).find_map(|(own, all)| {
            let (used, mean) = own.used_seconds.zip(all.used_seconds)?;
            (used > SLOW * mean).then_some((own, mean))
        })
    }
}

fn branch(
    games: &[Known<'_>],
    places: Vec<usize>,
    from: usize,
    least: usize,
    number: &mut usize,
) -> Branch {
    *number += 1;
    let own = *number;
    let to = parting(games, &places, from);
    let first = places.first().and_then(|p| games.get(*p));
    let mut branches: Vec<Vec<usize>> = Vec::new();
    if to < DEPTH {
        let mut groups: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for place in &places {
            if let Some(mv) = next(games, *place, to) {
                groups.entry(line::uci(mv)).or_default().push(*place);
            }
        }
        branches = groups.into_values().filter(|g| g.len() >= least).collect();
        // The most frequent first; of the same number, the one that was played first.
        branches.sort_by_key(|g| (std::cmp::Reverse(g.len()), g.first().copied()));
        // A lone game tells no more below.
        branches.retain(|_| places.len() > 1);
    }
    let (points, finished) = points(games, &places);
    Branch {
        number: own,
        from,
        moves: first.map(|k| sans(k.game, from, to)).unwrap_or_default(),
        eco: eco(games, &places),
        points,
        finished,
        marks: marks(games, &places),
        branches: branches
            .into_iter()
            .map(|group| branch(games, group, to, least, number))
            .collect(),
        games: places,
    }
}

fn next<'a>(games: &[Known<'a>], place: usize, ply: usize) -> Option<&'a Move> {
    games.get(place)?.game.game.main_moves.get(ply)
}

/// The half-move at which the games part; of a lone game one move behind its trunk.
fn parting(games: &[Known<'_>], places: &[usize], from: usize) -> usize {
    let most = if places.len() > 1 { DEPTH } else { from + 2 };
    let mut to = from;
    while to < most {
        let mut nexts = places.iter().map(|p| next(games, *p, to));
        let Some(Some(first)) = nexts.next() else {
            break;
        };
        if !nexts.all(|mv| mv == Some(first)) {
            break;
        }
        to += 1;
    }
    to
}

fn sans(game: &OwnGame, from: usize, to: usize) -> Vec<String> {
    let root = game.line_to(from);
    let moves = game.game.main_moves.get(from..to).unwrap_or_default();
    line::sans(root.position(), moves)
}

fn eco(games: &[Known<'_>], places: &[usize]) -> Vec<String> {
    let of = |p: &usize| games.get(*p)?.game.game.tag("ECO").map(str::to_owned);
    let codes: BTreeSet<String> = places.iter().filter_map(of).collect();
    codes.into_iter().collect()
}

fn points(games: &[Known<'_>], places: &[usize]) -> (f64, usize) {
    let of = |p: &usize| games.get(*p)?.game.points();
    let points: Vec<f64> = places.iter().filter_map(of).collect();
    (points.iter().sum(), points.len())
}

/// The marks of some of the games.
#[must_use]
pub fn marks(games: &[Known<'_>], places: &[usize]) -> Vec<Mark> {
    MARKS
        .iter()
        .map(|after_move| {
            let ply = 2 * after_move;
            let long = places
                .iter()
                .filter_map(|p| games.get(*p))
                .filter(|k| k.game.plies() > ply);
            let (expected, used): (Vec<Option<f64>>, Vec<Option<f64>>) = long
                .map(|k| (expected(k, ply), used_seconds(k.game, ply)))
                .unzip();
            let (games, expected, used) = (expected.len(), mean(&expected), mean(&used));
            Mark {
                after_move: *after_move,
                games,
                judged: expected.1,
                timed: used.1,
                expected: expected.0,
                used_seconds: used.0,
            }
        })
        .collect()
}

fn expected(known: &Known<'_>, ply: usize) -> Option<f64> {
    known.worth?.before(ply)
}

/// The player's time up to a half-move; his very first move may be without one.
#[must_use]
pub fn used_seconds(game: &OwnGame, ply: usize) -> Option<f64> {
    let mut own = (0..ply).filter(|p| game.is_his(*p));
    let first = own.next().and_then(|p| game.times.spent(p)).unwrap_or(0);
    let rest: Option<u64> = own.map(|p| game.times.spent(p)).sum();
    Some((first + rest?) as f64 / 1000.0)
}

/// The mean of what is known, and of how many.
fn mean(values: &[Option<f64>]) -> (Option<f64>, usize) {
    let known: Vec<f64> = values.iter().flatten().copied().collect();
    let count = known.len();
    (
        (count > 0).then(|| known.iter().sum::<f64>() / count as f64),
        count,
    )
}

/// The half-moves of a game at which the player first has to move when the opening is over.
#[must_use]
pub fn ends(game: &OwnGame) -> Vec<usize> {
    let first = |mark: &usize| (2 * mark..game.plies()).find(|p| game.is_his(*p));
    MARKS.iter().filter_map(first).collect()
}
