//! The expected score as three shares: win, draw, loss.
//!
//! # Definition
//! The form of P. V. Rao and L. L. Kupper (Ties in paired-comparison experiments: a generalization of the Bradley-Terry
//! model, Journal of the American Statistical Association 62, 1967): with x for how far one side is ahead and t for how
//! drawish the position is, win = s(x - t), loss = s(-x - t), draw = the rest, s being the logistic function. x is chosen
//! so that win + draw / 2 is the expected score that the judge gives: the three bands never say anything else than the
//! one number, only how it is made up.
//!
//! t is a number for each kind of position, fitted by maximum likelihood on the results of games between players (see
//! `cargo bench --bench difficulty -- FILE.pgn`, which prints fit and check; figures in `tests/bench/RESULTS.md`).
//!
//! # Known errors
//! How many games are drawn depends on who plays: of the strongest 140 games that were looked at (2100 to 2780) half, of the others (1500 to
//! 2700) three in ten. t follows the latter, who are nearer to a club: it was fitted on one half of them, by game, and checked on the other. The
//! kinds stand to each other as in the first fit, on all 140, where each had more positions. Kinds with few were drawn towards
//! the other endings; bishops of opposite colours hardly came, and stand above rook endings because the literature says so
//! (common practice, no source), as pawn endings stand with middlegames. Material alone tells kinds apart, so a fortress is
//! no kind of its own.

use serde::{Deserialize, Serialize};
use shakmaty::{Chess, Color, Position};

use crate::board::phase::{self, Phase};

/// Win, draw and loss of one side, each 0 to 1; their sum is 1.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Shares {
    pub win: f64,
    pub draw: f64,
    pub loss: f64,
}

/// Kinds of positions that are told apart by how often they are drawn.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Drawishness {
    Opening,
    /// With queens, or without.
    QueenMiddlegame,
    QueenlessMiddlegame,
    /// Endings by what is left besides kings and pawns.
    QueenEnding,
    RookEnding,
    /// One bishop a side, on squares of different colour, and nothing else.
    OppositeBishops,
    MinorEnding,
    PawnEnding,
    OtherEnding,
}

impl Drawishness {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::Opening,
        Self::QueenMiddlegame,
        Self::QueenlessMiddlegame,
        Self::QueenEnding,
        Self::RookEnding,
        Self::OppositeBishops,
        Self::MinorEnding,
        Self::PawnEnding,
        Self::OtherEnding,
    ];

    /// The kind of a position.
    #[must_use]
    pub fn of(pos: &Chess) -> Self {
        let board = pos.board();
        let minors = board.knights() | board.bishops();
        match phase::of(pos) {
            Phase::Opening => Self::Opening,
            Phase::Middlegame if board.queens().any() => Self::QueenMiddlegame,
            Phase::Middlegame => Self::QueenlessMiddlegame,
            Phase::Ending => match (board.queens().any(), board.rooks().any(), minors.any()) {
                (true, false, _) => Self::QueenEnding,
                (false, true, false) => Self::RookEnding,
                (false, false, true) if are_opposite(pos) => Self::OppositeBishops,
                (false, false, true) => Self::MinorEnding,
                (false, false, false) => Self::PawnEnding,
                _ => Self::OtherEnding,
            },
        }
    }

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Opening => "the opening",
            Self::QueenMiddlegame => "a middlegame with queens",
            Self::QueenlessMiddlegame => "a middlegame without queens",
            Self::QueenEnding => "a queen ending",
            Self::RookEnding => "a rook ending",
            Self::OppositeBishops => "bishops of opposite colours",
            Self::MinorEnding => "an ending of minor pieces",
            Self::PawnEnding => "a pawn ending",
            Self::OtherEnding => "an ending",
        }
    }

    /// t of the definition: fitted, see there.
    #[must_use]
    pub const fn threshold(self) -> f64 {
        match self {
            Self::Opening => 0.9,
            Self::QueenMiddlegame => 0.7,
            Self::QueenlessMiddlegame => 1.0,
            Self::QueenEnding => 1.5,
            Self::RookEnding => 1.6,
            Self::OppositeBishops => 1.8,
            Self::MinorEnding => 1.6,
            Self::PawnEnding => 0.7,
            Self::OtherEnding => 1.5,
        }
    }
}

/// One bishop a side on squares of different colour, and besides them kings and pawns alone.
fn are_opposite(pos: &Chess) -> bool {
    let board = pos.board();
    let of = |side: Color| board.bishops() & board.by_color(side);
    let light = |side| of(side).into_iter().next().map(shakmaty::Square::is_light);
    board.knights().is_empty()
        && of(Color::White).count() == 1
        && of(Color::Black).count() == 1
        && light(Color::White) != light(Color::Black)
}

/// The logistic function.
fn s(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

/// The shares of a side whose expected score is this, 0 to 1, in a position that is so drawish.
#[must_use]
pub fn shares(expected: f64, threshold: f64) -> Shares {
    let expected = expected.clamp(0.0, 1.0);
    let score = |x: f64| s(x - threshold) + (1.0 - s(x - threshold) - s(-x - threshold)) / 2.0;
    // The score grows with x, so halving the interval finds it.
    let (mut low, mut high) = (-40.0, 40.0);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if score(middle) < expected {
            low = middle;
        } else {
            high = middle;
        }
    }
    let x = (low + high) / 2.0;
    let (win, loss) = (s(x - threshold), s(-x - threshold));
    Shares {
        win,
        draw: (1.0 - win - loss).max(0.0),
        loss,
    }
}

/// The shares of a side in a position, whose expected score there is this.
#[must_use]
pub fn shares_in(pos: &Chess, expected: f64) -> Shares {
    shares(expected, Drawishness::of(pos).threshold())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;

    #[test]
    fn the_three_make_up_the_one() {
        for threshold in [0.2, 1.0, 2.5] {
            for step in 0..=100 {
                let expected = f64::from(step) / 100.0;
                let got = shares(expected, threshold);
                let sum = got.win + got.draw + got.loss;
                assert!((sum - 1.0).abs() < 1e-9, "{got:?}");
                let back = got.win + got.draw / 2.0;
                assert!((back - expected).abs() < 1e-6, "{expected} {got:?}");
                let other = shares(1.0 - expected, threshold);
                assert!((other.win - got.loss).abs() < 1e-6, "{got:?} {other:?}");
            }
        }
    }

    /// At a level score the draws are 1 - 2 / (1 + e^t), from the definition.
    #[test]
    fn a_level_position_is_as_drawish_as_its_kind() {
        let got = shares(0.5, 1.5);
        let wanted = 1.0 - 2.0 / (1.0 + 1.5f64.exp());
        assert!((got.draw - wanted).abs() < 1e-6, "{got:?}");
        assert!(shares(0.5, 2.0).draw > got.draw);
    }

    #[test]
    fn kinds_by_material() {
        for (fen, kind) in [
            (
                "4k3/3b4/8/8/8/8/4BP2/4K3 w - - 0 1",
                Drawishness::MinorEnding,
            ),
            (
                "4k3/2b5/8/8/8/8/2BP4/4K3 w - - 0 1",
                Drawishness::OppositeBishops,
            ),
            (
                "4k3/2r5/8/8/8/8/2RP4/4K3 w - - 0 1",
                Drawishness::RookEnding,
            ),
            ("4k3/2p5/8/8/8/8/3P4/4K3 w - - 0 1", Drawishness::PawnEnding),
            (
                "4k3/2q5/8/8/8/8/2QP4/4K3 w - - 0 1",
                Drawishness::QueenEnding,
            ),
            (
                "4k3/2r1b3/8/8/8/8/2RP4/4K3 w - - 0 1",
                Drawishness::OtherEnding,
            ),
        ] {
            assert_eq!(Drawishness::of(&read_fen(fen).unwrap()), kind, "{fen}");
        }
    }
}
