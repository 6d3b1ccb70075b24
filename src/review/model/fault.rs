//! What is wrong at one place of a tree, each kind with the moves that show it.

use shakmaty::Move;

use super::finding::{FindingKind, FindingStatus};
use super::thresholds::MANY_EQUALS;
use crate::tree::NodeId;

/// Why the player preferred the worse of two written moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ChoiceCause {
    /// His own verdicts said so.
    AgainstOwnVerdicts,
    /// Something below the choice was overlooked.
    RefutationMissed,
    /// The end of the choice's line was judged wrongly.
    EndMisjudged,
    /// The better move was never calculated.
    NeverCalculated,
    /// None of these can be shown.
    Unknown,
}

/// What is wrong with the verdict at the end of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum EndError {
    /// It agrees with a count of the pieces, but something comes.
    StoppedShort,
    /// The critical reply that ends the line was seen and judged wrongly.
    SeenMisjudged,
    /// Not even a count of the pieces says so.
    Misjudged,
}

/// Why a true finding is not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum HeldBack {
    /// It rests on what few would find at the board.
    FewWouldFindIt,
    /// The better side makes no progress by best play.
    NoWayIn,
}

/// What a finding counts for, with the reason where it is held back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ruling {
    Counted,
    Close,
    Aside,
    Withheld(HeldBack),
    Overruled,
}

impl Ruling {
    pub(crate) fn class(self) -> FindingStatus {
        match self {
            Self::Counted => FindingStatus::Counted,
            Self::Close => FindingStatus::Close,
            Self::Aside => FindingStatus::Aside,
            Self::Withheld(_) => FindingStatus::Withheld,
            Self::Overruled => FindingStatus::Overruled,
        }
    }

    pub(crate) fn held_back(self) -> Option<HeldBack> {
        match self {
            Self::Withheld(why) => Some(why),
            _ => None,
        }
    }

    /// True where it is told as something true of the tree and its moves.
    pub(crate) fn is_sure(self) -> bool {
        matches!(self, Self::Counted | Self::Aside)
    }
}

/// What is wrong. Each variant carries what its kind needs, and nothing else.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Fault {
    /// The root's best move was not written, nor one of the others that are as good.
    MissedCandidate { best: Move, equal: Vec<Move> },
    /// A written candidate was better than the chosen one.
    WrongChoice {
        better: Move,
        node: NodeId,
        cause: ChoiceCause,
    },
    /// At his own turn further on, something better was not written.
    MissedResource { resource: Move },
    /// A reply of the opponent was not written that leaves the player less.
    MissedReply { reply: Move, gives_up: bool },
    /// The verdict at the end of a line does not allow for what comes next.
    EndOfLine {
        next: Move,
        error: EndError,
        /// What comes is the opponent giving something up.
        gives_up: bool,
    },
    /// The game is over at the end of a line, and not as the verdict says.
    GameOver,
    /// The critical reply was seen, and the verdict at it, with more below it, is wrong.
    SeenMisjudged { next: Move },
    /// A candidate was rejected for a reply that does no harm; this is the answer to it.
    FearedReply { answer: Move },
    /// What the opponent would play anyway stands in no line.
    MissedThreat { threat: Move },
    /// A written move that cannot be played; what was meant, where it was a slip of the pen.
    IllegalMove { node: NodeId, meant: Option<Move> },
    /// A legal move written as mate; the way out.
    FalseMate { escape: Move },
    /// The choice without one reply to it; his best one.
    BareCandidate { reply: Move },
}

impl Fault {
    /// A better move was not written, but so many are better that none of them is 'the' move: the fault is the choice's.
    pub(crate) fn is_one_of_many(&self) -> bool {
        matches!(self, Self::MissedCandidate { equal, .. } if equal.len() + 1 >= MANY_EQUALS)
    }

    pub(crate) fn kind(&self) -> FindingKind {
        match self {
            Self::MissedCandidate { .. } => FindingKind::MissedCandidate,
            Self::WrongChoice { .. } => FindingKind::WrongChoice,
            Self::MissedResource { .. } => FindingKind::MissedResource,
            Self::MissedReply { gives_up: true, .. } | Self::EndOfLine { gives_up: true, .. } => {
                FindingKind::MissedCounterSacrifice
            }
            Self::MissedReply { .. } => FindingKind::MissedDefence,
            Self::EndOfLine { error, .. } => match error {
                EndError::StoppedShort => FindingKind::StoppedShort,
                EndError::SeenMisjudged => FindingKind::SeenMisjudged,
                EndError::Misjudged => FindingKind::Misjudged,
            },
            Self::GameOver => FindingKind::Misjudged,
            Self::SeenMisjudged { .. } => FindingKind::SeenMisjudged,
            Self::FearedReply { .. } => FindingKind::FearedTooMuch,
            Self::MissedThreat { .. } => FindingKind::MissedThreat,
            Self::IllegalMove { .. } | Self::FalseMate { .. } => FindingKind::IllegalMove,
            Self::BareCandidate { .. } => FindingKind::BareCandidate,
        }
    }

    /// The move that was overlooked or misjudged; `None` for an impossible move and where the game is over.
    pub(crate) fn resource(&self) -> Option<&Move> {
        match self {
            Self::MissedCandidate { best: mv, .. }
            | Self::WrongChoice { better: mv, .. }
            | Self::MissedResource { resource: mv }
            | Self::MissedReply { reply: mv, .. }
            | Self::EndOfLine { next: mv, .. }
            | Self::SeenMisjudged { next: mv }
            | Self::FearedReply { answer: mv }
            | Self::MissedThreat { threat: mv }
            | Self::FalseMate { escape: mv }
            | Self::BareCandidate { reply: mv } => Some(mv),
            Self::GameOver | Self::IllegalMove { .. } => None,
        }
    }

    /// It compares the choice with something else at the root: its effect is what that would have gained.
    pub(crate) fn is_about_the_root(&self) -> bool {
        matches!(
            self,
            Self::MissedCandidate { .. }
                | Self::WrongChoice { .. }
                | Self::FearedReply { .. }
                | Self::MissedThreat { .. }
        )
    }

    /// Two moves are held against each other.
    pub(crate) fn compares_moves(&self) -> bool {
        matches!(
            self,
            Self::MissedCandidate { .. }
                | Self::WrongChoice { .. }
                | Self::MissedResource { .. }
                | Self::MissedReply { .. }
                | Self::MissedThreat { .. }
        )
    }

    /// What the board was taken to allow was wrong: an impossible move, or a mate that is none.
    pub(crate) fn is_picture_of_the_board(&self) -> bool {
        matches!(self, Self::IllegalMove { .. } | Self::FalseMate { .. })
    }

    /// No search can confirm or deny it.
    pub(crate) fn is_by_the_board(&self) -> bool {
        self.is_picture_of_the_board() || self.is_bare()
    }

    pub(crate) fn is_bare(&self) -> bool {
        matches!(self, Self::BareCandidate { .. })
    }

    /// Says whether what the opponent does gives something up.
    pub(crate) fn set_gives_up(&mut self, does: bool) {
        if let Self::MissedReply { gives_up, .. } | Self::EndOfLine { gives_up, .. } = self {
            *gives_up = does;
        }
    }

    /// The opponent gives something up by it.
    pub(crate) fn gives_up(&self) -> bool {
        self.kind() == FindingKind::MissedCounterSacrifice
    }
}
