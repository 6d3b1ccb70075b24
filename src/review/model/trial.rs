//! What is counted across attempts, as a value.

use shakmaty::Role;

use super::finding::Turn;
use crate::board::motif::Motif;
use crate::board::phase::Phase;
use crate::score::PlayerScore;

/// All that is counted across attempts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Trials {
    /// The moments, from the root down.
    pub moments: Vec<Trial>,
    pub verdicts: Vec<Stated>,
    /// Moves at the root within delta of the best, as far as they were compared.
    pub plausible: usize,
    /// The player's expected score at the root with the best move, 0 to 1.
    pub standing: PlayerScore,
}

/// One moment in which something was to be seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    pub turn: Turn,
    /// Half-move of what was to be seen, counted from the root, the first being 1.
    pub ply: usize,
    pub seen: bool,
    /// Moves from the root to the moment, in SAN.
    pub path: Vec<String>,
    /// What was to be seen, in SAN: the best move.
    pub resource: String,
    /// One of [`Motif::FORCING`].
    pub class: Motif,
    /// The other motifs that all of the equally good moves have in common.
    pub motifs: Vec<Motif>,
    pub piece: Role,
    /// It gives up more than a pawn.
    pub gives_up: bool,
    pub phase: Phase,
    /// The position was written with little time left; `None` where there was no clock.
    pub pressed: Option<bool>,
}

/// A verdict and the truth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated {
    /// The player's expected score as his verdict says it, 0 to 1.
    pub stated: PlayerScore,
    /// The same by the judge, on the scale of verdicts.
    pub truth: PlayerScore,
    pub phase: Phase,
    /// Half-move after which it stands.
    pub ply: usize,
}
