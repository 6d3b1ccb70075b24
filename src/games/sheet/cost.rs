//! How little a repair changes what is written: the sum over its slips.
//!
//! The figures are ours: they order the repairs of games into which such slips were planted (tests/bench/RESULTS.md, 'Score
//! sheets'). 1 is a letter misread for its neighbour; what changes more of the word costs more.

use shakmaty::{CastlingSide, Chess, Move, Position, Role, Square};

use super::Entry;
use crate::board::exchange;
use crate::notation::{Claim, Shape, Token};

/// A way among several that the words leave open.
pub(super) const OPEN: f64 = 0.2;
/// What fitted as it was written is hardly less likely to be the slip than what does not: whether a wrong word happens to be
/// possible says nothing of how likely it was to be written.
pub(super) const FITTED: f64 = 0.1;
/// For each move between the slip and the place where it shows.
pub(super) const DISTANCE: f64 = 0.01;
/// A move of each side that is not there.
pub(super) const MISSING_PAIR: f64 = 2.6;
/// A move of one side that is not there.
pub(super) const MISSING_ONE: f64 = 3.2;
/// The same where the numbers on the sheet skip one.
pub(super) const NUMBER_SKIPPED: f64 = 0.6;
/// An entry too many that is no repetition.
pub(super) const TOO_MANY: f64 = 3.4;
/// An entry that stands there twice.
pub(super) const TWICE: f64 = 1.0;
/// Two own moves in the wrong order.
pub(super) const SWAPPED: f64 = 0.9;
/// A second slip, beyond its own cost.
pub(super) const ANOTHER_SLIP: f64 = 1.0;
/// An `x` without a capture, a `+` without a check.
const MARK: f64 = 0.6;
/// A capture without its `x`, where the sheet writes them.
const NO_MARK: f64 = 0.3;
/// The move gives material away, by the exchange on its square.
const GIVES_AWAY: f64 = 0.5;
/// The move wins material so.
const WINS: f64 = 0.2;
/// After the move the other side can win material so.
const HANGING: f64 = 0.35;
/// For each step away from the middle.
const EDGE: f64 = 0.07;

/// What the sheet does as a habit.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Habits {
    captures: bool,
    checks: bool,
}

impl Habits {
    pub(super) fn of(entries: &[Entry]) -> Self {
        let tokens = || entries.iter().filter_map(|e| e.token.as_ref().ok());
        let takes = |t: &&Token| matches!(t.shape, Shape::Step { capture: true, .. });
        Self {
            captures: tokens().any(|t| takes(&t)),
            checks: tokens().any(|t| t.claim != Claim::None),
        }
    }
}

/// What the marks of a token say against a move.
pub(super) fn marks(token: &Token, pos: &Chess, mv: &Move, habits: Habits) -> f64 {
    let written = matches!(token.shape, Shape::Step { capture: true, .. });
    let taking = match (written, mv.is_capture()) {
        (true, false) => MARK,
        (false, true) if habits.captures => NO_MARK,
        _ => 0.0,
    };
    let mut after = pos.clone();
    after.play_unchecked(mv);
    let checking = match (token.claim != Claim::None, after.is_check()) {
        (true, false) => MARK,
        (false, true) if habits.checks => NO_MARK,
        _ => 0.0,
    };
    taking + checking
}

/// What another move than the written one costs.
pub(super) fn another(entry: &Entry, pos: &Chess, mv: &Move, habits: Habits) -> f64 {
    let Ok(token) = &entry.token else {
        // Nothing that can be read stands there: any move, those of the sheet's own letters first.
        return 1.0 + unlikely(pos, mv) + letters(&entry.text, pos, mv);
    };
    unlikely(pos, mv) + marks(token, pos, mv, habits) + words(&token.shape, mv)
}

/// What speaks against a move of which the sheet says nothing: it gives material away, leaves something hanging, takes
/// nothing where something hung, or goes to the edge.
pub(super) fn unlikely(pos: &Chess, mv: &Move) -> f64 {
    let gained = exchange::after_move(pos, mv);
    let mut after = pos.clone();
    after.play_unchecked(mv);
    let left = exchange::best_capture(&after).map_or(0, |(gain, _)| gain.max(0));
    let material = match gained {
        ..0 => GIVES_AWAY,
        1.. => -WINS,
        0 => 0.0,
    };
    let hanging = if left > 0 { HANGING } else { 0.0 };
    material + hanging + EDGE * (edge(mv.to()) - mv.from().map_or(0.0, edge))
}

/// How far a square is from the middle: 0 to 3 for each of file and rank.
fn edge(square: Square) -> f64 {
    let far = |at: i32| f64::from((2 * at - 7).abs() - 1) / 2.0;
    far(square.file() as i32) + far(square.rank() as i32)
}

/// A move against text that is none: letters of it that the move's own text shares make it likelier.
fn letters(text: &str, pos: &Chess, mv: &Move) -> f64 {
    let san = crate::board::line::san(pos, mv);
    let shared = san.chars().filter(|c| text.contains(*c)).count();
    1.0 - shared as f64 / san.chars().count().max(1) as f64
}

fn words(written: &Shape, mv: &Move) -> f64 {
    match (written, mv) {
        (Shape::Castle(_), Move::Castle { .. }) => 0.9,
        (Shape::Castle(_), _) => 4.0,
        (Shape::Pass, _) => 2.0,
        (Shape::Takes { from, to }, mv) => {
            let from_it = mv.from().is_some_and(|s| s.file() == *from);
            let to_it = mv.to().file() == *to;
            let apart = f64::from(u8::from(!from_it)) + f64::from(u8::from(!to_it));
            piece(Some(Role::Pawn), mv.role()) + apart
        }
        (Shape::Step { role, to, .. }, Move::Castle { .. }) => {
            let king = role.is_none_or(|r| r == Role::King);
            let castled = mv.castling_side().map(|side| {
                let file = match side {
                    CastlingSide::KingSide => shakmaty::File::G,
                    CastlingSide::QueenSide => shakmaty::File::C,
                };
                to.file() == file
            });
            if king && castled == Some(true) {
                0.5
            } else {
                4.0
            }
        }
        (
            Shape::Step {
                role,
                file,
                rank,
                to,
                promotion,
                ..
            },
            mv,
        ) => {
            let from = mv.from();
            let origin = |wrong: bool| if wrong { 0.5 } else { 0.0 };
            let file_wrong = file.is_some_and(|f| from.is_some_and(|s| s.file() != f));
            let rank_wrong = rank.is_some_and(|r| from.is_some_and(|s| s.rank() != r));
            let promoted = if *promotion != mv.promotion() {
                0.6
            } else {
                0.0
            };
            piece(*role, mv.role())
                + square(*to, mv.to())
                + origin(file_wrong)
                + origin(rank_wrong)
                + promoted
        }
    }
}

/// Another piece than the written one.
fn piece(written: Option<Role>, moved: Role) -> f64 {
    use Role::{King, Knight, Pawn, Queen};
    match (written, moved) {
        (None, _) => 0.0,
        (Some(a), b) if a == b => 0.0,
        // K for a knight, and the two heaviest that stand side by side.
        (Some(King), Knight) | (Some(Knight), King) => 0.8,
        (Some(Queen), King) | (Some(King), Queen) => 1.1,
        // A letter forgotten.
        (Some(Pawn), _) => 0.9,
        (Some(_), Pawn) => 1.6,
        _ => 1.2,
    }
}

/// Another square than the written one.
fn square(written: Square, reached: Square) -> f64 {
    if written == reached {
        return 0.0;
    }
    let files = distance(written.file() as i32, reached.file() as i32);
    let ranks = distance(written.rank() as i32, reached.rank() as i32);
    match (files, ranks) {
        (1, 0) | (0, 1) => 1.0,
        // b and d, c and e, 1 and 7, 3 and 8 are taken for each other in handwriting.
        (0, _) if alike(written.rank() as i32, reached.rank() as i32) => 1.1,
        (2, 0) => 1.2,
        (0, _) | (_, 0) => 1.4,
        // Counted from the other side of the board.
        _ if reached == written.flip_vertical() || reached == written.rotate_180() => 1.4,
        (1, 1) => 1.8,
        _ => 2.4,
    }
}

fn distance(a: i32, b: i32) -> i32 {
    (a - b).abs()
}

/// Ranks, counted from 0, whose figures look alike.
fn alike(a: i32, b: i32) -> bool {
    matches!((a.min(b), a.max(b)), (0, 6) | (2, 7) | (4, 5))
}
