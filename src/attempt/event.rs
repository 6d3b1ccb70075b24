//! What can happen in a sitting.

use serde::{Deserialize, Serialize};

use super::{EndCard, FindingSelector, Remark, SentFinding};
use crate::tree::{NodeId, Verdict};

/// One thing that happened, with its time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TimedAttemptEvent {
    /// Milliseconds of sitting time: since the sitting was opened, without the time between a crash
    /// (or leaving) and the resumption. Never decreases along a log.
    pub at_ms: u64,
    pub what: AttemptEvent,
}

/// The kinds of event. Stored by name: names may be added, never changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "event")]
pub enum AttemptEvent {
    /// The first event of every log, and only the first.
    Opened(Opened),
    /// The player has seen enough of the position and starts to write; the clock of the entry runs.
    Started,
    /// A half-move was written below `parent`.
    Added { parent: NodeId, text: String },
    /// A move was struck out, with what stands below it.
    Struck { node: NodeId },
    /// A struck move stands again.
    Restored { node: NodeId },
    /// A move got another place among its alternatives (0 is the first).
    Reordered { node: NodeId, place: usize },
    /// A verdict was set, or cleared with `None`.
    Judged {
        node: NodeId,
        verdict: Option<Verdict>,
    },
    /// The player's words on a move; empty clears them.
    Commented { node: NodeId, text: String },
    /// The move he is going to play, or none again.
    Chosen { node: Option<NodeId> },
    /// Before the lock: what the player says of the board at the end of his choice's line. A later card
    /// takes the place of an earlier one; an empty card takes it back.
    EndStated(EndCard),
    /// A move went, with what stands below it, to another place in the tree.
    Moved { node: NodeId, parent: NodeId },
    /// A move got another text; what stands below it stayed.
    Retyped { node: NodeId, text: String },
    /// A move is named as a candidate only, without a line on purpose; or no longer so.
    Only { node: NodeId, only: bool },
    /// A move leads, as the player sees it, to the same position as another; or no longer so.
    SameAs { node: NodeId, other: Option<NodeId> },
    /// The last edit (`Added` to `SameAs`) that still counts was taken back.
    Undone,
    /// The edit that was taken back last stands again; a new edit leaves nothing to redo.
    Redone,
    /// The player went away without locking; the time until here counts.
    Left,
    /// The sitting was taken up again after he had left, or after the program had ended.
    Resumed,
    /// The tree is final: from here on it can only be added to by others, with author and time.
    Locked,
    /// After the lock: which of its meanings an ambiguous text has.
    Clarified { node: NodeId, uci: String },
    /// After the lock: a line from the root that the player holds against the review. Kept apart from
    /// the tree, which stays as it was locked.
    Doubted { line: String },
    /// After the lock and before the review: the player looks once more.
    SecondLook,
    /// What he sees now: a line or words, apart from the tree.
    NowSeen { text: String },
    /// Why he missed what a finding tells: one of his causes, and words of his own. The last one for a
    /// spot counts.
    Explained {
        spot: FindingId,
        cause: String,
        text: String,
    },
    /// The player's words on a finding; empty clears them.
    Remarked { spot: FindingId, text: String },
    /// The player lets a finding not stand before his coach, or lets it stand again.
    Contested { spot: FindingId, struck: bool },
    /// After the lock: the tree went out to a coach, with these findings of the review (none where he
    /// was to think first).
    Sent {
        wall_ms: i64,
        findings: Vec<SentFinding>,
        /// What was said of homework in the file.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        homework: Vec<String>,
        /// The player's name in the file.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        player: Option<String>,
    },
    /// After the lock: a coach wrote something to it. Never part of the player's tree.
    Coached {
        by: String,
        wall_ms: i64,
        remark: Remark,
    },
    /// After the lock: a coach struck a finding of the review; his judgement outranks the engine's.
    Overruled {
        by: String,
        wall_ms: i64,
        finding: FindingSelector,
        reason: String,
    },
    /// After the lock: he let it stand again.
    Upheld {
        by: String,
        wall_ms: i64,
        finding: FindingSelector,
    },
}

/// A finding, told by where it is and what it is about: the same in every review of the same tree.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct FindingId {
    /// The written move after which it is.
    pub at: NodeId,
    /// The kind of finding, by its name in kebab case.
    pub kind: String,
    /// The move it is about, in SAN.
    pub resource: String,
}

/// The circumstances of a sitting, fixed when it is opened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Opened {
    /// Where the position comes from.
    pub origin: Origin,
    /// The position in which the known moves start (FEN).
    pub start_fen: String,
    /// The game's moves from there to the root, in UCI notation; empty where there is no game.
    pub past: Vec<String>,
    /// Thinking time in milliseconds; `None` for no limit.
    pub budget_ms: Option<u64>,
    pub sight: BoardVisibility,
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    /// In quick calculation the number of its ladder: when the time is over no line is written any more. `None` in every other
    /// sitting, and in logs of an older program.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quick: Option<u8>,
}

/// Where the position of a sitting comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Origin {
    /// A drill, by its identifier.
    Drill(String),
    /// A position given by hand.
    Position,
    /// A position of a game that is played out: its name, and the moves made in it before.
    Playout { game: String, ply: usize },
    /// Notes in a PGN file: the game's players and the move, in words.
    Notes(String),
    /// A position that a coach set as homework: his name, which may come from a file.
    Homework { by: String },
}

/// What of the board the player saw while writing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BoardVisibility {
    /// The board stayed at the root.
    #[default]
    Root,
    /// The board followed the cursor through the written moves.
    Follow,
    /// The board was hidden after a first look.
    None,
}
