//! A finding as it is told and kept.

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::board::motif::Motif;
use crate::board::sacrifice::Gives;
use crate::score::ScoreDiff;
use crate::tree::NodeId;

/// The kinds of finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FindingKind {
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
    IllegalMove,
    BareCandidate,
}

impl FindingKind {
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
        Self::IllegalMove,
        Self::BareCandidate,
    ];

    /// The kind's stable identifier in the store, in files and in reports: frozen for ever, whatever the words
    /// become.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::MissedCandidate => "missed-candidate",
            Self::WrongChoice => "wrong-choice",
            Self::FearedTooMuch => "feared-too-much",
            Self::MissedThreat => "missed-threat",
            Self::MissedResource => "missed-resource",
            Self::MissedDefence => "missed-defence",
            Self::MissedCounterSacrifice => "missed-counter-sacrifice",
            Self::SeenMisjudged => "seen-misjudged",
            Self::StoppedShort => "stopped-short",
            Self::Misjudged => "misjudged",
            Self::IllegalMove => "phantom-move",
            Self::BareCandidate => "bare-candidate",
        }
    }

    /// The kind with this identifier; `None` for one of a later version.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.code() == code)
    }

    /// The kind in plain words, as it is shown.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::MissedCandidate => tr!("missed candidate"),
            Self::WrongChoice => tr!("wrong choice"),
            Self::FearedTooMuch => tr!("feared too much"),
            Self::MissedThreat => tr!("missed threat"),
            Self::MissedResource => tr!("missed resource"),
            Self::MissedDefence => tr!("missed defence"),
            Self::MissedCounterSacrifice => tr!("missed counter-sacrifice"),
            Self::SeenMisjudged => tr!("seen, misjudged"),
            Self::StoppedShort => tr!("stopped short"),
            Self::Misjudged => tr!("misjudged"),
            Self::IllegalMove => tr!("phantom move"),
            Self::BareCandidate => tr!("bare candidate"),
        }
    }
}

crate::text::coded!(FindingKind);

impl Serialize for FindingKind {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.code())
    }
}

/// A kind as it is kept: one that only a later version knows is not lost.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StoredFindingKind {
    Known(FindingKind),
    /// The identifier as it was read.
    Later(String),
}

impl StoredFindingKind {
    #[must_use]
    pub fn code(&self) -> &str {
        match self {
            Self::Known(kind) => kind.code(),
            Self::Later(code) => code,
        }
    }

    /// The kind in plain words, as it is shown.
    #[must_use]
    pub fn label(&self) -> &'static str {
        match self {
            Self::Known(kind) => kind.label(),
            Self::Later(_) => tr!("of a later version"),
        }
    }
}

impl From<FindingKind> for StoredFindingKind {
    fn from(kind: FindingKind) -> Self {
        Self::Known(kind)
    }
}

impl schemars::JsonSchema for StoredFindingKind {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "StoredFindingKind".into()
    }

    /// Any text: a later version may know more kinds.
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        String::json_schema(generator)
    }
}

impl Serialize for StoredFindingKind {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.code())
    }
}

impl<'de> Deserialize<'de> for StoredFindingKind {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let code = String::deserialize(from)?;
        Ok(FindingKind::from_code(&code).map_or(Self::Later(code), Self::Known))
    }
}

/// Whether a finding counts against the tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FindingStatus {
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

impl FindingStatus {
    pub const ALL: [Self; 5] = [
        Self::Counted,
        Self::Close,
        Self::Aside,
        Self::Withheld,
        Self::Overruled,
    ];

    /// The stable identifier in reports.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Counted => "counted",
            Self::Close => "close",
            Self::Aside => "aside",
            Self::Withheld => "withheld",
            Self::Overruled => "overruled",
        }
    }
}

crate::text::coded!(FindingStatus);

impl Serialize for FindingStatus {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.code())
    }
}

/// In which part of the tree a finding lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FindingPart {
    /// On the way that was chosen, the choice itself included.
    Choice,
    OtherCandidate,
}

impl FindingPart {
    pub const ALL: [Self; 2] = [Self::Choice, Self::OtherCandidate];

    /// The stable identifier in reports.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Choice => "choice",
            Self::OtherCandidate => "other-candidate",
        }
    }
}

crate::text::coded!(FindingPart);

impl Serialize for FindingPart {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.code())
    }
}

/// Under which heading a finding that does not count is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FindingHeading {
    OnYourWay,
    OtherCandidates,
    HardAtTheBoard,
    Struck,
}

impl FindingHeading {
    /// All of them, in the order of telling.
    pub const ALL: [Self; 4] = [
        Self::OnYourWay,
        Self::OtherCandidates,
        Self::HardAtTheBoard,
        Self::Struck,
    ];

    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::OnYourWay => tr!("On the way you chose, not counted"),
            Self::OtherCandidates => tr!("In your other candidates, not counted"),
            Self::HardAtTheBoard => tr!("Hard at the board, not counted"),
            Self::Struck => tr!("Struck by your coach, not counted"),
        }
    }
}

impl Finding {
    /// Its heading; `None` where it counts.
    #[must_use]
    pub const fn heading(&self) -> Option<FindingHeading> {
        match (self.class, self.part) {
            (FindingStatus::Counted, _) => None,
            (FindingStatus::Overruled, _) => Some(FindingHeading::Struck),
            (FindingStatus::Withheld, _) => Some(FindingHeading::HardAtTheBoard),
            (FindingStatus::Close | FindingStatus::Aside, FindingPart::Choice) => {
                Some(FindingHeading::OnYourWay)
            }
            (FindingStatus::Close | FindingStatus::Aside, FindingPart::OtherCandidate) => {
                Some(FindingHeading::OtherCandidates)
            }
        }
    }
}

/// One place where the tree and the truth part.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Finding {
    pub kind: FindingKind,
    pub class: FindingStatus,
    pub part: FindingPart,
    /// The ways through the written tree to the place, in SAN; more than one where lines transpose.
    pub paths: Vec<Vec<String>>,
    /// The ways to other places at which the same move was overlooked, in SAN.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub also: Vec<Vec<String>>,
    /// The move that was overlooked, or misjudged, in SAN (a phantom move as typed).
    pub resource: String,
    /// What follows, from the place on and starting with the resource, in SAN, to the point; of a sacrifice the line
    /// that takes it.
    pub proof: Vec<String>,
    /// What follows where the other side does not take what is offered, if that is better for it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub declined: Vec<String>,
    /// Expected score that the oversight is worth at its place, 0 to 1.
    pub gap: ScoreDiff,
    /// Change of the choice's backed-up expected score in the player's own tree once the resource is
    /// added, 0 to 1.
    pub effect: ScoreDiff,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    Player,
    Opponent,
}

impl Turn {
    pub const ALL: [Self; 2] = [Self::Player, Self::Opponent];

    /// The stable identifier in reports.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Player => "player",
            Self::Opponent => "opponent",
        }
    }
}

crate::text::coded!(Turn);

impl Serialize for Turn {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.code())
    }
}

/// What a sacrifice gives up, and how.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Sacrifice {
    pub gives: Gives,
    /// The moved piece itself can be taken; else a piece that was left where it stood.
    pub active: bool,
    /// The material is back, or mate comes, within three moves (R. Spielmann, Richtig opfern!, 1935).
    pub sham: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written<T: Serialize>(value: &T) -> String {
        let json = serde_json::to_value(value).unwrap();
        json.as_str().unwrap().to_owned()
    }

    /// They stand in the logs of attempts, in records and in files: one may be added, none may be changed.
    #[test]
    fn the_codes_are_frozen() {
        let kinds = FindingKind::ALL.map(FindingKind::code).join(" ");
        insta::assert_snapshot!(kinds, @"missed-candidate wrong-choice feared-too-much missed-threat missed-resource missed-defence missed-counter-sacrifice seen-misjudged stopped-short misjudged phantom-move bare-candidate");
        let classes = FindingStatus::ALL.map(FindingStatus::code).join(" ");
        insta::assert_snapshot!(classes, @"counted close aside withheld overruled");
        insta::assert_snapshot!(FindingPart::ALL.map(FindingPart::code).join(" "), @"choice other-candidate");
        insta::assert_snapshot!(Turn::ALL.map(Turn::code).join(" "), @"player opponent");
    }

    #[test]
    fn every_kind_is_read_as_it_was_written() {
        for kind in FindingKind::ALL {
            assert_eq!(FindingKind::from_code(kind.code()), Some(kind));
            assert_eq!(written(&kind), kind.code());
            let kept = serde_json::to_string(&StoredFindingKind::from(kind)).unwrap();
            let read: StoredFindingKind = serde_json::from_str(&kept).unwrap();
            assert_eq!((&read, read.label()), (&kind.into(), kind.label()));
        }
        for class in FindingStatus::ALL {
            assert_eq!(written(&class), class.code());
        }
        for turn in Turn::ALL {
            assert_eq!(written(&turn), turn.code());
        }
    }

    #[test]
    fn a_kind_of_a_later_version_is_kept_as_it_is() {
        let kept = r#"["misjudged","seen-too-late"]"#;
        let kinds: Vec<StoredFindingKind> = serde_json::from_str(kept).unwrap();
        assert_eq!(kinds[1].label(), "of a later version");
        assert_eq!(serde_json::to_string(&kinds).unwrap(), kept);
    }
}
