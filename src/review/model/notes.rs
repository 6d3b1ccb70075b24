//! What is told besides the findings.

use serde::{Serialize, Serializer};

use crate::score::PlayerScore;
use crate::tree::NodeId;

/// What one written move came to, beside what he said of it.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct MoveRead {
    /// Moves from the root in SAN, the last being the move itself.
    pub path: Vec<String>,
    /// His verdict as seen from his side, in words; absent where he gave none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub said: Option<String>,
    /// The truth in words; absent where there is no position to judge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub truth: Option<String>,
    /// The player's expected score after it, 0 to 1; absent like `truth`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worth: Option<PlayerScore>,
    #[serde(skip)]
    pub node: NodeId,
}

/// Something the player saw that mattered.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Credit {
    /// Moves from the root in SAN.
    pub path: Vec<String>,
    /// One sentence.
    pub note: String,
    #[serde(skip)]
    pub node: NodeId,
}

/// Something worth knowing that is no finding.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
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

impl NoteKind {
    pub const ALL: [Self; 5] = [
        Self::ThreatHolds,
        Self::NoThreat,
        Self::MateWasThere,
        Self::Simpler,
        Self::LongestResistance,
    ];

    /// The stable identifier in reports.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::ThreatHolds => "threat-holds",
            Self::NoThreat => "no-threat",
            Self::MateWasThere => "mate-was-there",
            Self::Simpler => "simpler",
            Self::LongestResistance => "longest-resistance",
        }
    }
}

crate::text::coded!(NoteKind);

impl Serialize for NoteKind {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.code())
    }
}

/// The end card, held against the board at the end of the line.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
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
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Held {
    pub said: String,
    pub is: String,
    pub holds: bool,
}

/// A written move that could not be judged.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Unjudged {
    pub path: Vec<String>,
    /// Why, in words.
    pub why: String,
    #[serde(skip)]
    pub node: NodeId,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// They stand in reports: one may be added, none may be changed.
    #[test]
    fn the_codes_are_frozen() {
        let codes = NoteKind::ALL.map(NoteKind::code);
        insta::assert_snapshot!(codes.join(" "), @"threat-holds no-threat mate-was-there simpler longest-resistance");
        for kind in NoteKind::ALL {
            assert_eq!(serde_json::to_value(kind).unwrap(), kind.code());
        }
    }
}
