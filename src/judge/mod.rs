//! The worth of a position and its proof: rules first, then the cache, then a UCI engine.
//!
//! Takes [`Question`]s (a line, how many best moves, a budget in nodes); gives [`Answer`]s in
//! [`Expectation`], the only measure of worth outside this room. The same question to the same judge
//! has the same answer, byte for byte: every search starts from an empty table, budgets are nodes,
//! and the order in which workers finish changes nothing.

mod expectation;

use shakmaty::Move;

use crate::board::{Line, Rule};

pub use expectation::Expectation;

/// What is asked about the position that `line` has reached.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    pub line: Line,
    /// How many best moves are wanted, each searched to the same depth (UCI MultiPV); at least 1.
    pub lines: usize,
    /// Search budget in nodes.
    pub nodes: u64,
}

/// What is known of a position.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Worth for the side to move.
    pub expected: Expectation,
    pub basis: Basis,
    /// The best moves in order, at most as many as asked; empty where the game is over.
    pub moves: Vec<Ranked>,
}

/// One of the best moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranked {
    pub mv: Move,
    /// Worth of the move for the side that plays it.
    pub expected: Expectation,
    /// Moves to mate counted from here, negative where the mover is mated; `None` where no mate was seen.
    pub mate: Option<i32>,
    /// The line the engine means, `mv` first; every move legal.
    pub pv: Vec<Move>,
}

/// What an answer rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The Laws alone.
    Rule(Rule),
    /// A search.
    Engine { depth: u32, nodes: u64 },
}

/// Answers questions about positions.
pub trait Judge: Send + Sync {
    /// The name to print at the foot of a review.
    fn name(&self) -> String;

    /// Answers in the order of the questions.
    ///
    /// # Errors
    /// The engine could not be started or kept running; nothing else is lost by it.
    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError>;
}

/// The engine failed. One message that says what happened and what to do.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum JudgeError {
    #[error("the engine '{command}' did not start: {reason}")]
    Start { command: String, reason: String },
}
