//! The worth of a position and its proof: rules first, then tables, then the cache, then a UCI engine.
//!
//! Takes [`Question`]s (a line, how many best moves, a budget in nodes); gives [`Answer`]s in
//! [`MoverScore`], the only measure of worth outside this room. The same question to the same judge
//! has the same answer, byte for byte: every search starts from an empty table, budgets are nodes,
//! and the order in which workers finish changes nothing. (An engine that ignores `go nodes` is given
//! time instead; its answers are repeatable only as far as its speed is, and its name says so.)
//!
//! * [`EngineJudge`]: any UCI engine as child processes, by default this program's own.
//! * [`CachedJudge`]: another judge, asked only what it was not asked before.
//! * [`TableJudge`]: another judge, asked only what endgame tables do not know.
//! * `away`: questions that are answered elsewhere, as lines of text.
//! * [`FixedJudge`]: answers from a table, for tests and for positions whose truth is known.

mod away;
mod cache;
mod command;
mod error;
mod fixed;
mod info;
mod own;
mod pool;
mod process;
mod question;
mod rules;
mod search;
mod session;
mod tables;

use shakmaty::{Color, Move};

use crate::board::{Line, Rule};

pub use crate::score::MoverScore;
pub use away::{PortableAnswer, PortableQuestion, ShardHead, line_of, of_line};
pub use cache::{CachedJudge, Kept};
pub use command::EngineCommand;
pub use error::JudgeError;
pub use fixed::FixedJudge;
pub use pool::{EngineJudge, Settings, Work};
pub use process::end_all;
pub use session::{Able, Limits, overhear};
pub use tables::{Class as TableClass, TableJudge, TableResult, Tables};

/// What is asked about the position that `line` has reached.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    pub line: Line,
    /// How many best moves are wanted, each searched to the same depth (UCI MultiPV); at least 1.
    pub lines: usize,
    /// Search budget in nodes.
    pub nodes: u64,
}

impl Question {
    /// Equal for questions that must have the same answer: the position with all that repetition and move
    /// counting can still depend on, the number of lines and the budget.
    #[must_use]
    pub fn signature(&self) -> String {
        question::signature(self)
    }
}

/// What is known of a position.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Worth for the side to move: that of its best move, or what the Laws give.
    pub expected: MoverScore,
    pub basis: Basis,
    /// The best moves in order, at most as many as asked; empty where the game is over. An engine
    /// without MultiPV gives one.
    pub moves: Vec<Ranked>,
}

impl Answer {
    /// The worth for one of the sides; `line` is what was asked about.
    #[must_use]
    pub fn worth_to(&self, side: Color, line: &Line) -> MoverScore {
        if line.turn() == side {
            self.expected
        } else {
            self.expected.flip()
        }
    }
}

/// One of the best moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranked {
    pub mv: Move,
    /// Worth of the move for the side that plays it.
    pub expected: MoverScore,
    /// Moves to mate counted from here, negative where the mover is mated; `None` where no mate was seen.
    pub mate: Option<i32>,
    /// The line the engine means, `mv` first; every move legal.
    pub pv: Vec<Move>,
}

/// What an answer rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// The Laws alone, or a claim under the Laws that is worth more than the best move.
    Rule(Rule),
    /// Endgame tables: the distance that they give, see [`TableResult::dtz`].
    Table { dtz: i32 },
    /// A search.
    Engine { depth: u32, nodes: u64 },
}

/// Answers questions about positions.
pub trait Judge: Send + Sync {
    /// The name to print at the foot of a review.
    fn name(&self) -> String;

    /// Everything on which the answers depend besides the question: two judges of equal identity
    /// answer alike. The name, unless the judge knows more.
    fn identity(&self) -> String {
        self.name()
    }

    /// How many questions are worked on at a time.
    fn side_by_side(&self) -> usize {
        1
    }

    /// Answers in the order of the questions.
    ///
    /// # Errors
    /// The engine could not be started or kept running; nothing else is lost by it.
    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError>;

    /// Answers one question.
    ///
    /// # Errors
    /// As [`Judge::answer`].
    fn answer_one(&self, question: Question) -> Result<Answer, JudgeError> {
        self.answer(&[question])?
            .pop()
            .ok_or_else(|| JudgeError::Table {
                what: tr!("a question was left without an answer").to_owned(),
            })
    }
}
