//! The opponent of the next round: what his games say, as counts. No advice, and no engine.
//!
//! # Definitions
//!
//! - **First moves**: with White his first move; with Black his answer to each first move of White's.
//! - **An exchange that he could take**: at his turn a man of the same worth could be taken for nothing or for the man that
//!   takes (by the exchange on its square, kings and pawns apart), and the move before was no capture there: a recapture
//!   is no choice. Exchange values: pawn 1, knight and bishop 3, rook 5, queen 9 (common practice).
//! - **Time trouble** as for the player himself.

use std::collections::BTreeMap;

use serde::Serialize;
use shakmaty::{Move, Position, Role};

use super::kept::OwnGame;
use crate::board::{exchange, line};

/// First moves that are told of each kind.
const TOLD: usize = 5;
/// The moves at which his clock is read.
const READ_AT: [usize; 2] = [15, 30];
/// The move before which the queens go off early.
const EARLY: usize = 25;

/// All that is counted.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct OpponentFacts {
    pub name: String,
    /// His games with White and with Black, and how many of all have times.
    pub white: usize,
    pub black: usize,
    pub timed: usize,
    /// His results: won, drawn, lost.
    pub results: [usize; 3],
    pub firsts: Vec<FirstMoves>,
    /// Mean seconds that he had used before these moves, and in how many games.
    pub used: Vec<UsedAt>,
    /// Timed games in which he was short of time.
    pub trouble: usize,
    /// Exchanges that he could take, and those that he took.
    pub offered: usize,
    pub taken: usize,
    /// Games in which both queens were off before the 25th move, of those that went so far or ended.
    pub queens_off: usize,
    /// Draws, and their mean length in moves; those of fewer than 30 moves.
    pub draws: usize,
    pub draw_moves: Option<f64>,
    pub short_draws: usize,
    /// Dates of the first and last of his games.
    pub from: String,
    pub to: String,
}

/// What he plays first, in one situation.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct FirstMoves {
    /// With White, or against which move.
    pub against: Option<String>,
    pub games: usize,
    /// Moves with their counts, the most frequent first.
    pub moves: Vec<(String, usize)>,
}

/// How much time he had used before a move.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct UsedAt {
    pub before_move: usize,
    pub games: usize,
    pub seconds: f64,
}

/// The facts; `side` of each game is his.
#[must_use]
pub fn facts(name: &str, games: &[OwnGame]) -> OpponentFacts {
    let mut of = OpponentFacts {
        name: name.to_owned(),
        white: games.iter().filter(|g| g.side.is_white()).count(),
        timed: games.iter().filter(|g| !g.times.is_empty()).count(),
        firsts: firsts(games),
        used: used(games),
        from: games
            .iter()
            .map(OwnGame::date)
            .min()
            .unwrap_or_default()
            .to_owned(),
        to: games
            .iter()
            .map(OwnGame::date)
            .max()
            .unwrap_or_default()
            .to_owned(),
        ..OpponentFacts::default()
    };
    of.black = games.len() - of.white;
    let mut lengths = Vec::new();
    for game in games {
        match game.points() {
            Some(p) if p >= 1.0 => of.results[0] += 1,
            Some(p) if p > 0.0 => {
                of.results[1] += 1;
                lengths.push(game.plies().div_ceil(2));
            }
            Some(_) => of.results[2] += 1,
            None => {}
        }
        of.trouble += usize::from(is_short(game));
        one_game(game, &mut of);
    }
    of.draws = lengths.len();
    of.short_draws = lengths.iter().filter(|n| **n < 30).count();
    let sum: usize = lengths.iter().sum();
    of.draw_moves = (!lengths.is_empty()).then(|| sum as f64 / lengths.len() as f64);
    of
}

fn firsts(games: &[OwnGame]) -> Vec<FirstMoves> {
    let mut found: BTreeMap<Option<String>, BTreeMap<String, usize>> = BTreeMap::new();
    for game in games.iter().filter(|g| !g.game.from_fen) {
        let own = usize::from(!game.side.is_white());
        let san = |ply: usize| {
            let mv = game.game.main_moves.get(ply)?;
            Some(line::san(game.line_to(ply).position(), mv))
        };
        let Some(first) = san(own) else {
            continue;
        };
        let against = if own == 0 { None } else { san(0) };
        *found.entry(against).or_default().entry(first).or_default() += 1;
    }
    let mut all: Vec<FirstMoves> = found
        .into_iter()
        .map(|(against, moves)| {
            let mut moves: Vec<(String, usize)> = moves.into_iter().collect();
            moves.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
            let games = moves.iter().map(|m| m.1).sum();
            moves.truncate(TOLD);
            FirstMoves {
                against,
                games,
                moves,
            }
        })
        .collect();
    all.sort_by_key(|f| (f.against.is_some(), std::cmp::Reverse(f.games)));
    all
}

fn used(games: &[OwnGame]) -> Vec<UsedAt> {
    let at = |number: usize| {
        let seconds: Vec<f64> = games
            .iter()
            .filter_map(|g| super::opening::used_seconds(g, g.his_ply(number)?))
            .collect();
        (!seconds.is_empty()).then(|| UsedAt {
            before_move: number,
            games: seconds.len(),
            seconds: seconds.iter().sum::<f64>() / seconds.len() as f64,
        })
    };
    READ_AT.into_iter().filter_map(at).collect()
}

fn is_short(game: &OwnGame) -> bool {
    let limit = game.times.trouble_ms();
    (0..game.plies()).filter(|p| game.is_his(*p)).any(|p| {
        let left = game.times.before(p).zip(limit);
        left.is_some_and(|(left, limit)| left < limit)
    })
}

/// Exchanges and queens of one game.
fn one_game(game: &OwnGame, of: &mut OpponentFacts) {
    let mut pos = game.game.start.clone();
    let mut before: Option<&Move> = None;
    let mut off = false;
    for (ply, mv) in game.game.main_moves.iter().enumerate() {
        if game.is_his(ply) {
            let exchanges: Vec<Move> = pos
                .capture_moves()
                .into_iter()
                .filter(|m| before.is_none_or(|b| !(b.is_capture() && b.to() == m.to())))
                .filter(|m| is_even(&pos, m))
                .collect();
            of.offered += usize::from(!exchanges.is_empty());
            of.taken += usize::from(exchanges.contains(mv));
        }
        pos.play_unchecked(mv);
        off |= game.number(ply) < EARLY && pos.board().queens().is_empty();
        before = Some(mv);
    }
    of.queens_off += usize::from(off);
}

/// A piece is given for one of the same worth.
fn is_even(pos: &shakmaty::Chess, mv: &Move) -> bool {
    let Some(taken) = mv.capture() else {
        return false;
    };
    let pieces = taken != Role::Pawn && mv.role() != Role::Pawn && mv.role() != Role::King;
    pieces
        && exchange::value(taken) == exchange::value(mv.role())
        && exchange::after_move(pos, mv) == 0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::games::KeptGame;

    fn game(white: bool, pgn: &str) -> OwnGame {
        OwnGame::read(&KeptGame {
            id: "x".to_owned(),
            white,
            pgn: pgn.to_owned(),
            moves: String::new(),
        })
        .unwrap()
    }

    #[test]
    fn facts_are_counts() {
        let games = [
            game(true, "[Date \"2026.01.02\"]\n\n1. e4 e5 2. Nf3 Nc6 1/2-1/2"),
            game(true, "[Date \"2026.01.01\"]\n\n1. d4 d5 0-1"),
            game(true, "1. e4 c5 1-0"),
            // The queens: he may take, and does; White takes back.
            game(
                false,
                "1. e4 e5 2. d4 exd4 3. Qxd4 Qf6 4. Nf3 Qxd4 5. Nxd4 0-1",
            ),
            // He may take, and does not.
            game(false, "1. e4 e5 2. d4 exd4 3. Qxd4 Qf6 4. Nf3 Nc6 *"),
        ];
        let of = facts("Pell, Doran", &games);
        assert_eq!((of.white, of.black, of.results), (3, 2, [2, 1, 1]));
        let first = &of.firsts[0];
        assert_eq!((first.against.as_deref(), first.games), (None, 3));
        assert_eq!(first.moves, [("e4".to_owned(), 2), ("d4".to_owned(), 1)]);
        assert_eq!(of.firsts[1].against.as_deref(), Some("e4"));
        assert_eq!((of.offered, of.taken, of.queens_off), (2, 1, 1));
        assert_eq!((of.draws, of.draw_moves, of.short_draws), (1, Some(2.0), 1));
        assert_eq!((of.timed, of.trouble), (0, 0));
    }
}
