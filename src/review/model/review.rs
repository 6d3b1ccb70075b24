//! The result as a whole. Everything that screens and reports show is in here.

use super::finding::{Finding, FindingStatus};
use super::measures::{Coverage, Depth, Expected, Focus, Process};
use super::notes::{Credit, EndCardRead, MoveRead, Note, Unjudged};
use super::trial::Trials;

/// The result of comparing one written tree with the truth.
#[derive(Debug, Clone, PartialEq)]
pub struct Review {
    /// The judge's name, for the foot of the page.
    pub judge: String,
    /// Nodes per search.
    pub nodes: u64,
    /// The root position (FEN).
    pub root: String,
    /// Half-moves of the game before the root, where there is a game.
    pub ply_in_game: Option<usize>,
    /// The move the player chose, in SAN.
    pub choice: Option<String>,
    /// Worth of the position for the player.
    pub expected: Expected,
    /// One sentence: the decisive point, where it lies and what it cost; or that the tree holds.
    pub opening: String,
    /// What held, first and always.
    pub right: Vec<Credit>,
    /// Counted findings first, in order of effect; then close, aside and withheld ones.
    pub findings: Vec<Finding>,
    /// What he said of the board at the end of his line, held against that board; absent where he said
    /// nothing.
    pub end_card: Option<EndCardRead>,
    /// What is worth knowing and counts neither for nor against the tree.
    pub notes: Vec<Note>,
    /// What could not be judged, and why.
    pub unjudged: Vec<Unjudged>,
    /// Every move that stands in the tree, in the order of writing, with what it came to.
    pub moves: Vec<MoveRead>,
    pub depth: Depth,
    pub coverage: Coverage,
    pub focus: Focus,
    /// How the player went about it; absent for notes written after the event.
    pub process: Option<Process>,
    /// What is counted across attempts.
    pub trials: Trials,
}

impl Review {
    /// True where nothing is counted against the tree.
    #[must_use]
    pub fn is_clean(&self) -> bool {
        self.counted().next().is_none()
    }

    /// The findings that count.
    pub fn counted(&self) -> impl Iterator<Item = &Finding> {
        self.findings
            .iter()
            .filter(|f| f.class == FindingStatus::Counted)
    }
}
