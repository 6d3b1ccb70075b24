//! What a position is worth without searching: material, squares, activity, pawns, threats and the
//! safety of kings, tapered between a middlegame and an endgame value.
//!
//! Takes a [`Position`], gives centipawns for the side to move. The same code runs in two ways: with
//! a [`Sum`] it adds up weights, with a trace it writes down which terms count how often, which is
//! what the weights are fitted to. Tapering by the material left: common practice, described by
//! H. Berliner, "On the Construction of Evaluation Functions for Large Domains", IJCAI 1979.

mod endings;
mod king;
mod pawn_ending;
mod pawns;
mod pieces;
mod scale;
mod threats;

use shakmaty::Bitboard;

use super::position::Position;
use super::terms;
use super::types::*;
use super::weights::WEIGHTS;
pub use pawns::{Facts, PawnTable};

/// Phase of the starting position; 0 is bare kings and pawns.
pub const FULL_PHASE: i32 = 24;
const PHASE: [i32; 6] = [0, 1, 1, 2, 4, 0];

/// Where counted terms go.
pub trait Sink {
    /// `times` the term, for the side of `colour`.
    fn add(&mut self, colour: Colour, term: usize, times: i32);
    /// A term of the danger to `colour`'s king.
    fn danger(&mut self, colour: Colour, term: usize, times: i32);
    /// All terms of the danger to `colour`'s king are counted.
    fn close_danger(&mut self, colour: Colour);
}

/// Adds up weights.
#[derive(Default)]
pub struct Sum {
    pub score: Score,
    danger: i32,
}

/// What a danger of `units` costs: it grows with the square, since attackers help each other.
pub fn danger_cost(units: i32) -> Score {
    let units = units.clamp(0, 1600);
    Score::new(units * units / 2048, units / 16)
}

impl Sink for Sum {
    #[inline(always)]
    fn add(&mut self, colour: Colour, term: usize, times: i32) {
        let value = WEIGHTS[term] * times;
        if colour == WHITE {
            self.score += value
        } else {
            self.score -= value
        }
    }

    #[inline(always)]
    fn danger(&mut self, _: Colour, term: usize, times: i32) {
        self.danger += WEIGHTS[term].middle() * times;
    }

    #[inline(always)]
    fn close_danger(&mut self, colour: Colour) {
        let cost = danger_cost(self.danger);
        self.danger = 0;
        if colour == WHITE {
            self.score -= cost
        } else {
            self.score += cost
        }
    }
}

/// Sets of squares shared by all parts of one evaluation.
pub struct Board<'a> {
    pub p: &'a Position,
    pub occupied: Bitboard,
    /// Attacked squares by colour and kind.
    pub by: [[Bitboard; 6]; 2],
    pub all: [Bitboard; 2],
    pub twice: [Bitboard; 2],
    /// Squares where pieces count as mobile.
    pub area: [Bitboard; 2],
    /// The king's square and its neighbours, moved in from the edge.
    pub zone: [Bitboard; 2],
    /// Per attacked colour: how many pieces of each kind reach the zone, and hits beside the king.
    pub attackers: [[i32; 6]; 2],
    pub hits: [i32; 2],
}

/// Middlegame share of a position: 24 with all pieces, 0 with none.
pub fn phase(p: &Position) -> i32 {
    let count = |kind: Kind| p.kind(kind).count() as i32 * PHASE[kind];
    (count(KNIGHT) + count(BISHOP) + count(ROOK) + count(QUEEN)).min(FULL_PHASE)
}

/// Counts every term that is neither material, square nor pawn structure.
pub fn count_terms(p: &Position, facts: &Facts, sink: &mut impl Sink) {
    let mut board = Board::new(p);
    pieces::count(&mut board, WHITE, sink);
    pieces::count(&mut board, BLACK, sink);
    for colour in [WHITE, BLACK] {
        king::count_danger(&board, colour, sink);
        threats::count(&board, colour, sink);
        pawns::count_passed(&board, facts, colour, sink);
    }
    sink.add(p.turn, terms::TEMPO, 1);
}

/// Centipawns for the side to move.
pub fn evaluate(p: &Position, table: &mut PawnTable) -> i32 {
    let score = endings::known(p).unwrap_or_else(|| {
        let facts = *table.facts(p);
        let mut sum = Sum {
            score: p.sum + facts.score,
            danger: 0,
        };
        count_terms(p, &facts, &mut sum);
        taper(p, sum.score)
    });
    if p.turn == WHITE { score } else { -score }
}

/// One value from two, White's point of view.
fn taper(p: &Position, score: Score) -> i32 {
    let phase = phase(p);
    let end = score.end() * scale::of(p, score.end()) / scale::FULL;
    (score.middle() * phase + end * (FULL_PHASE - phase)) / FULL_PHASE
}

/// Counts all terms but material and squares; gives the share of the endgame value that counts.
pub fn trace(p: &Position, sink: &mut impl Sink) -> f64 {
    let facts = Facts::traced(p, sink);
    count_terms(p, &facts, sink);
    let mut table = PawnTable::default();
    let facts = *table.facts(p);
    let mut sum = Sum {
        score: p.sum + facts.score,
        danger: 0,
    };
    count_terms(p, &facts, &mut sum);
    f64::from(scale::of(p, sum.score.end())) / f64::from(scale::FULL)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::bench::POSITIONS;
    use shakmaty::{CastlingMode, Chess, FromSetup, Position as _, fen::Fen};

    fn position(chess: &Chess) -> Position {
        Position::from_chess(chess).unwrap()
    }

    /// Turned round and recoloured, a position is worth the same to the side to move.
    #[test]
    fn evaluation_is_symmetric() {
        let mut seed = 3;
        for fen in POSITIONS {
            let mut chess: Chess = fen
                .parse::<Fen>()
                .unwrap()
                .into_position(CastlingMode::Standard)
                .unwrap();
            for _ in 0..60 {
                let setup = chess.clone().into_setup(shakmaty::EnPassantMode::Legal);
                let mut turned = setup.clone();
                turned.board.flip_vertical();
                turned.board.swap_colors();
                turned.castling_rights = setup.castling_rights.flip_vertical();
                turned.ep_square = setup.ep_square.map(shakmaty::Square::flip_vertical);
                turned.turn = !setup.turn;
                let other = Chess::from_setup(turned, CastlingMode::Standard).unwrap();
                let mut table = PawnTable::default();
                let (a, b) = (
                    evaluate(&position(&chess), &mut table),
                    evaluate(&position(&other), &mut table),
                );
                assert_eq!(
                    a,
                    b,
                    "{}",
                    Fen::from_position(chess.clone(), shakmaty::EnPassantMode::Legal)
                );
                let legal = chess.legal_moves();
                seed = crate::engine::keys::mix(seed);
                let Some(m) = legal.get(seed as usize % legal.len().max(1)) else {
                    break;
                };
                chess.play_unchecked(&m.clone());
            }
        }
    }
}
