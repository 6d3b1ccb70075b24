//! The arguments of `foreply history`.

use clap::ValueEnum;

use super::form::PageTarget;
use crate::app::HistoryKind;
use crate::review::FindingKind;
use crate::text::TypedDate;

pub(super) const HISTORY_EXAMPLES: &str = "\
Examples:
  foreply history --opponent pell           what you wrote at games against Doran Pell
  foreply history --finding missed-defence --from 2026-10-01
  foreply review k7fd                       the name in the first column, or a beginning of it that fits one alone";

#[derive(Debug, clap::Args)]
pub(crate) struct History {
    /// Opened on this day or later (YYYY-MM-DD, or as your locale has it)
    #[arg(long, value_name = "DATE")]
    pub from: Option<TypedDate>,
    /// Opened on this day or earlier (YYYY-MM-DD, or as your locale has it)
    #[arg(long, value_name = "DATE")]
    pub to: Option<TypedDate>,
    /// Words that its description holds: an opponent, an event
    #[arg(long, value_name = "WORDS")]
    pub opponent: Option<String>,
    /// Only what comes from there
    #[arg(long, value_enum)]
    pub kind: Option<Kind>,
    /// Only where the review counted a finding of this kind
    #[arg(long, value_name = "KIND", value_parser = finding())]
    pub finding: Option<String>,
    /// Only attempts that were not reviewed yet
    #[arg(long)]
    pub unreviewed: bool,
    /// The newest N only
    #[arg(long, value_name = "N")]
    pub limit: Option<usize>,
    #[command(flatten)]
    pub page: PageTarget,
}

fn finding() -> clap::builder::PossibleValuesParser {
    let codes = FindingKind::ALL.iter().map(|kind| kind.code());
    clap::builder::PossibleValuesParser::new(codes)
}

/// From where an entry comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Kind {
    /// Positions of the collection, or that you added
    Drill,
    /// Positions of your own games
    Game,
    /// Positions given by hand
    Position,
    /// Positions that a coach set
    Homework,
    /// Notes in PGN files
    Notes,
    /// Written in games that were played out
    InPlayout,
    /// Games that were played out
    Playout,
}

impl From<Kind> for HistoryKind {
    fn from(kind: Kind) -> Self {
        match kind {
            Kind::Drill => Self::Drill,
            Kind::Game => Self::Game,
            Kind::Position => Self::Position,
            Kind::Homework => Self::Homework,
            Kind::Notes => Self::Notes,
            Kind::InPlayout => Self::InPlayout,
            Kind::Playout => Self::Playout,
        }
    }
}
