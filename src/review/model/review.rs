//! What a review consists of. Plain values: everything that screens and reports show is in here.

use serde::Serialize;

use crate::review::measures::trials::Trials;

use crate::board::motif::Motif;
use crate::board::sacrifice::Gives;
use crate::judge::Expectation;
use crate::tree::NodeId;

/// The thresholds of a review, in expected score (0 to 1), and its budget.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Two moves differ when their expected scores do by this much. Default .10.
    pub delta: f64,
    /// Two moves are equally good when their expected scores differ by at most this. Default .03.
    pub equal: f64,
    /// A position is decided when both expected scores are at least this, or at most 1 - this.
    /// Default .90.
    pub decided: f64,
    /// Nodes per search. Default 200,000.
    pub nodes: u64,
    /// How many times `nodes` a finding is confirmed with. Default 4.
    pub confirm: u64,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            delta: 0.10,
            equal: 0.03,
            decided: 0.90,
            nodes: 200_000,
            confirm: 4,
        }
    }
}

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
    /// What held, first and always.
    pub right: Vec<Right>,
    /// Counted findings first, in order of effect; then close, aside and withheld ones.
    pub findings: Vec<Finding>,
    /// What he said of the board at the end of his line, held against that board; absent where he said
    /// nothing.
    pub end_card: Option<EndCardRead>,
    /// What is worth knowing and counts neither for nor against the tree.
    pub notes: Vec<Note>,
    /// What could not be judged, and why.
    pub unjudged: Vec<Unjudged>,
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
        self.findings.iter().filter(|f| f.class == Class::Counted)
    }
}

/// Expected scores of the player at the root.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Expected {
    /// With the best move.
    pub best: Expectation,
    /// With the chosen move; `None` where nothing judgeable was chosen.
    pub choice: Option<Expectation>,
}

/// Something the player saw that mattered.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Right {
    /// Moves from the root in SAN.
    pub path: Vec<String>,
    /// One sentence.
    pub note: String,
    #[serde(skip)]
    pub node: NodeId,
}

/// The kinds of finding.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, serde::Deserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    MissedCandidate,
    WrongChoice,
    FearedTooMuch,
    MissedThreat,
    MissedResource,
    MissedDefence,
    MissedCounterSacrifice,
    SeenMisjudged,
    StoppedShort,
    Misjudged,
    PhantomMove,
    BareCandidate,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 12] = [
        Self::MissedCandidate,
        Self::WrongChoice,
        Self::FearedTooMuch,
        Self::MissedThreat,
        Self::MissedResource,
        Self::MissedDefence,
        Self::MissedCounterSacrifice,
        Self::SeenMisjudged,
        Self::StoppedShort,
        Self::Misjudged,
        Self::PhantomMove,
        Self::BareCandidate,
    ];

    /// The kind's name in reports and logs: its words, joined by hyphens.
    #[must_use]
    pub fn name(self) -> String {
        self.words().replace(", ", "-").replace(' ', "-")
    }

    /// The kind's name in plain words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::MissedCandidate => "missed candidate",
            Self::WrongChoice => "wrong choice",
            Self::FearedTooMuch => "feared too much",
            Self::MissedThreat => "missed threat",
            Self::MissedResource => "missed resource",
            Self::MissedDefence => "missed defence",
            Self::MissedCounterSacrifice => "missed counter-sacrifice",
            Self::SeenMisjudged => "seen, misjudged",
            Self::StoppedShort => "stopped short",
            Self::Misjudged => "misjudged",
            Self::PhantomMove => "phantom move",
            Self::BareCandidate => "bare candidate",
        }
    }
}

/// Whether a finding counts against the tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    /// It changes what the tree is worth, and was confirmed.
    Counted,
    /// The gap is between half of delta and delta: not counted.
    Close,
    /// True, but it does not touch the choice (effect under half of delta).
    Aside,
    /// The truth rests on what few would find at the board, or on an engine that finds no way in.
    Withheld,
    /// A coach struck it: kept and shown as struck, part of no figure.
    Overruled,
}

/// One place where the tree and the truth part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    pub kind: Kind,
    pub class: Class,
    /// The ways through the written tree to the place, in SAN; more than one where lines transpose.
    pub paths: Vec<Vec<String>>,
    /// The move that was overlooked, or misjudged, in SAN (a phantom move as typed).
    pub resource: String,
    /// What follows, from the place on and starting with the resource, in SAN.
    pub proof: Vec<String>,
    /// Expected score that the oversight is worth at its place, 0 to 1.
    pub gap: f64,
    /// Change of the choice's backed-up expected score in the player's own tree once the resource is
    /// added, 0 to 1.
    pub effect: f64,
    /// Half-move of the resource, counted from the root, the first being 1.
    pub ply: usize,
    pub turn: Turn,
    pub motifs: Vec<Motif>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sacrifice: Option<Sacrifice>,
    /// The finding in one or two plain sentences.
    pub sentence: String,
    /// One question to ask next time.
    pub question: String,
    /// The written node the place is at: the resource would stand below it.
    #[serde(skip)]
    pub at: NodeId,
    /// What the player wrote instead, in SAN from the place on; empty where his line ends there.
    #[serde(skip)]
    pub instead: Vec<String>,
}

/// Whose move it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    Player,
    Opponent,
}

/// What a sacrifice gives up, and how.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Sacrifice {
    pub gives: Gives,
    /// The moved piece itself can be taken; else a piece that was left where it stood.
    pub active: bool,
    /// The material is back, or mate comes, within three moves (R. Spielmann, Richtig opfern!, 1935).
    pub sham: bool,
}

/// Something worth knowing that is no finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Note {
    pub about: NoteKind,
    /// Moves from the root in SAN, to the place it is about; a threat note as typed.
    pub path: Vec<String>,
    /// One sentence.
    pub sentence: String,
    #[serde(skip)]
    pub node: NodeId,
}

/// What a note is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoteKind {
    /// A threat note (`--` and what stands below it) that is true.
    ThreatHolds,
    /// A threat note that is not.
    NoThreat,
    /// The position was won anyway, and a mate was there.
    MateWasThere,
    /// The position was won anyway, and a simpler way was there.
    Simpler,
    /// The position was lost anyway, and another move would have held out longest.
    LongestResistance,
}

/// The end card, held against the board at the end of the line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EndCardRead {
    /// Moves from the root in SAN, to the end that the card speaks of.
    pub path: Vec<String>,
    /// Who moves there: 'you' or 'he'. Absent where he did not say, or the game is over there, or there is
    /// no such board.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mover: Option<Held>,
    /// The balance of material, from his side. Absent like `mover`, but compared where the game is over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub material: Option<Held>,
    /// His plan as typed; never judged.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub plan: String,
    /// What the judge expects from there, in SAN, to be set beside the plan.
    pub follows: Vec<String>,
    /// All of it in plain sentences.
    pub sentences: Vec<String>,
    #[serde(skip)]
    pub node: NodeId,
}

/// Something the player said of the board, and what stands there.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Held {
    pub said: String,
    pub is: String,
    pub holds: bool,
}

/// A written move that could not be judged.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Unjudged {
    pub path: Vec<String>,
    /// Why, in words.
    pub why: String,
    #[serde(skip)]
    pub node: NodeId,
}

/// How far the calculation had to go, went, and held. All in half-moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Depth {
    /// Until the position under the choice is settled.
    pub needed: usize,
    /// Under the choice, along its best written replies.
    pub reached: usize,
    /// The longest written line anywhere.
    pub longest: usize,
    /// Of the choice's main line before the first finding.
    pub sound: usize,
}

/// How much of what a sound calculation contains was written.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Coverage {
    /// Weighted share, 0 to 1.
    pub share: f64,
    pub written: usize,
    pub of: usize,
}

/// How much of what was written matters.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Focus {
    /// 0 to 1.
    pub share: f64,
    pub written: usize,
    pub of: usize,
}

/// How the player went about it, from the times of his entries. Entry times are typing times.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Process {
    pub first_candidate_ms: Option<u64>,
    pub first_reply_ms: Option<u64>,
    /// Candidates written before the first line went deeper than one half-move.
    pub candidates_before_depth: usize,
    /// Time per candidate in the order of writing: SAN, milliseconds.
    pub per_candidate: Vec<(String, u64)>,
    /// How often he came back to a candidate he had left (A. Kotov, Think Like a Grandmaster, 1971,
    /// wants none; A. de Groot, Het denken van den schaker, 1946, found that experts do: reported, not
    /// judged).
    pub returns: usize,
    pub half_moves: usize,
    pub spent_ms: u64,
    /// Time over the budget; 0 where there was none.
    pub over_ms: u64,
}
