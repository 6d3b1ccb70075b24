//! The expected score as three shares: win, draw, loss.
//!
//! # Definition
//! The form of P. V. Rao and L. L. Kupper (Ties in paired-comparison experiments: a generalization of the Bradley-Terry
//! model, Journal of the American Statistical Association 62, 1967): with x for how far one side is ahead and t for how
//! drawish the position is, win = s(x - t), loss = s(-x - t), draw = the rest, s being the logistic function. x is chosen
//! so that win + draw / 2 is the expected score that the judge gives: the three bands never say anything else than the
//! one number, only how it is made up.
//!
//! t is a number for each kind of position, and goes by who plays: t = t of the kind + [`LEVEL`] + [`STRONGER`] for each hundred points
//! by which the two are rated above [`MIDDLE`] on average, - [`APART`] times the square of the hundreds of points between them. The
//! stronger both are the more is drawn, and the more unequal the less. All of it is fitted by maximum likelihood on the results of games between
//! players: 552 games, rated 1495 to 2782, told by what was fitted on the other half of them (`cargo bench --bench difficulty --
//! FILE.pgn --bands` prints the check; figures in `tests/bench/RESULTS.md`). Where no ratings stand in the game it is told as
//! between players of [`CLUB`].
//!
//! # Known errors
//! Kinds with few positions were drawn towards the other endings; bishops of opposite colours hardly came, and stand above rook
//! endings because the literature says so (common practice, no source), as pawn endings stand with middlegames. Material alone tells
//! kinds apart, so a fortress is no kind of its own. What the expected score itself gets wrong, the bands get wrong with it.

use serde::{Deserialize, Serialize};
use shakmaty::{Chess, Color, Position};

use crate::board::phase::{self, Phase};
use crate::tree::pgn::Game;

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
    pub fn words(self) -> &'static str {
        match self {
            Self::Opening => tr!("the opening"),
            Self::QueenMiddlegame => tr!("a middlegame with queens"),
            Self::QueenlessMiddlegame => tr!("a middlegame without queens"),
            Self::QueenEnding => tr!("a queen ending"),
            Self::RookEnding => tr!("a rook ending"),
            Self::OppositeBishops => tr!("bishops of opposite colours"),
            Self::MinorEnding => tr!("an ending of minor pieces"),
            Self::PawnEnding => tr!("a pawn ending"),
            Self::OtherEnding => tr!("an ending"),
        }
    }

    /// t of the definition without what goes by the players: fitted, see there.
    #[must_use]
    pub const fn threshold(self) -> f64 {
        match self {
            Self::Opening => 0.7,
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

/// The points of rating by which the next two are told.
pub const POINTS: f64 = 100.0;
/// What is added to the t of a kind between players of [`MIDDLE`] who are rated alike.
pub const LEVEL: f64 = 0.15;
/// For each [`POINTS`] above [`MIDDLE`], and for the square of how many are between the two.
pub const STRONGER: f64 = 0.04;
pub const APART: f64 = 0.04;
/// The rating from which [`STRONGER`] counts.
pub const MIDDLE: f64 = 2000.0;
/// As whom players without ratings are told: on average, and what is between them (the middle of the games of the fit; how strong a
/// club player is: common practice, no source).
pub const CLUB: (f64, f64) = (1900.0, 200.0);
/// Ratings and differences beyond those of the fit count as its last.
const RATED: (f64, f64) = (1500.0, 2800.0);
const APART_MAX: f64 = 600.0;
/// t never falls below this: a level position is drawn in ten of a hundred games at least.
const LEAST: f64 = 0.2;

/// Who plays, by his rating; `None` where the game does not say it.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, schemars::JsonSchema,
)]
pub struct Ratings {
    pub white: Option<u32>,
    pub black: Option<u32>,
}

impl Ratings {
    /// As the tags of the game have them (PGN standard 1994, 9.1.2).
    #[must_use]
    pub fn of(game: &Game) -> Self {
        let tag = |name| game.tag(name)?.trim().parse().ok().filter(|r| *r > 0);
        Self {
            white: tag("WhiteElo"),
            black: tag("BlackElo"),
        }
    }

    /// How strong they are on average, and what is between them, as far as the fit goes.
    #[must_use]
    pub fn mean_and_apart(self) -> (f64, f64) {
        let known: Vec<f64> = [self.white, self.black]
            .into_iter()
            .flatten()
            .map(|r| f64::from(r).clamp(RATED.0, RATED.1))
            .collect();
        let (mean, apart) = match known.as_slice() {
            [white, black] => ((white + black) / 2.0, (white - black).abs()),
            [one] => (*one, CLUB.1),
            _ => CLUB,
        };
        (mean, apart.min(APART_MAX))
    }

    /// t of a kind of position in their games.
    #[must_use]
    pub fn threshold(self, kind: Drawishness) -> f64 {
        self.threshold_by(kind, [LEVEL, STRONGER, APART])
    }

    /// The same with other constants in the place of [`LEVEL`], [`STRONGER`] and [`APART`]: what a fit tries.
    #[must_use]
    pub fn threshold_by(self, kind: Drawishness, [level, stronger, apart]: [f64; 3]) -> f64 {
        let (mean, between) = self.mean_and_apart();
        let by_players = stronger * (mean - MIDDLE) / POINTS - apart * (between / POINTS).powi(2);
        (kind.threshold() + level + by_players).max(LEAST)
    }

    /// How often their games are drawn goes by what.
    #[must_use]
    pub fn words(self) -> String {
        match (self.white, self.black) {
            (Some(white), Some(black)) => {
                tr!("How many are drawn goes by the ratings, {white} and {black}.")
            }
            (Some(one), None) | (None, Some(one)) => {
                tr!("How many are drawn goes by the one rating that stands there, {one}.")
            }
            (None, None) => tr!(
                "No ratings stand there: how many are drawn is told as among club players of {:.0}.",
                CLUB.0
            ),
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

/// The shares of a side in a position of their game, whose expected score there is this.
#[must_use]
pub fn shares_in(pos: &Chess, expected: f64, players: Ratings) -> Shares {
    shares(expected, players.threshold(Drawishness::of(pos)))
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

    /// The stronger the more draws, the more unequal the fewer; who has no rating is a club player.
    #[test]
    fn draws_go_by_who_plays() {
        let of = |white, black| Ratings { white, black };
        let draw =
            |players: Ratings| shares(0.5, players.threshold(Drawishness::QueenMiddlegame)).draw;
        let (club, masters) = (of(Some(1900), Some(1900)), of(Some(2600), Some(2600)));
        assert!(draw(masters) > draw(club) + 0.1);
        assert!(draw(of(Some(1700), Some(2100))) < draw(club) - 0.1);
        assert_eq!(draw(of(None, None)), draw(of(Some(1800), Some(2000))));
        assert_eq!(draw(of(Some(1900), None)), draw(of(None, None)));
        // t = .7 + .15 - .04 between two of 1900, by the definition.
        let wanted = 1.0 - 2.0 / (1.0 + 0.81f64.exp());
        assert!((draw(club) - wanted).abs() < 1e-6);
        // What lies beyond the fit is told as its end, and there are always some.
        assert_eq!(
            draw(of(Some(900), Some(900))),
            draw(of(Some(1500), Some(1500)))
        );
        assert!(draw(of(Some(100), Some(3400))) > 0.09);
        let game = crate::tree::pgn::games("[WhiteElo \"1850\"]\n[BlackElo \"-\"]\n\n1. e4 *");
        let game = game.filter_map(Result::ok).next().unwrap();
        assert_eq!(Ratings::of(&game), of(Some(1850), None));
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
