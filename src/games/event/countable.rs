//! What a resolution can be tied to: something that is counted in every judged game.
//!
//! Each count is a share, and each has a good direction: games *without* such an oversight, games with enough time left,
//! advantages won, turning points named.

use serde::{Deserialize, Serialize};

use crate::games::height;
use crate::games::moment::{Moment, Reason};
use crate::games::survey::Surveyed;
use crate::games::thoughts::compare::Compared;

/// The move at which the clock is read, and the height from which an advantage counts.
const CLOCK_MOVE: usize = 30;
const HEIGHT: f64 = 0.85;

/// Something that can be counted. Stored by [`Countable::code`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Countable {
    /// Games without this oversight.
    Oversight(Oversight),
    /// Games with so many minutes left before his 30th move.
    #[serde(rename = "clock-at-30")]
    ClockAt30 { minutes: u32 },
    /// Games won, of those in which he stood at .85 or more.
    Converted,
    /// Turning points that he named before the judge spoke.
    Recognised,
}

/// The reasons of moments that are oversights.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Oversight {
    CouldHaveBeenSaved,
    ChanceNotTaken,
    AdvantageLetSlip,
    LevelTurnedWorse,
    ReplyOverlooked,
    OnlyMoveMissed,
    FastWhereItMattered,
    Drift,
}

impl Oversight {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::CouldHaveBeenSaved,
        Self::ChanceNotTaken,
        Self::AdvantageLetSlip,
        Self::LevelTurnedWorse,
        Self::ReplyOverlooked,
        Self::OnlyMoveMissed,
        Self::FastWhereItMattered,
        Self::Drift,
    ];

    /// The reason of a moment that it is.
    #[must_use]
    pub const fn reason(self) -> Reason {
        match self {
            Self::CouldHaveBeenSaved => Reason::CouldBeSaved,
            Self::ChanceNotTaken => Reason::ChanceNotTaken,
            Self::AdvantageLetSlip => Reason::AdvantageSlipped,
            Self::LevelTurnedWorse => Reason::EqualTurnedWorse,
            Self::ReplyOverlooked => Reason::ReplyOverlooked,
            Self::OnlyMoveMissed => Reason::OnlyMoveMissed,
            Self::FastWhereItMattered => Reason::FastWhereItMattered,
            Self::Drift => Reason::Drift,
        }
    }
}

/// A judged game with what is counted of it.
#[derive(Debug, Clone, Copy)]
pub struct CountedGame<'a> {
    pub surveyed: &'a Surveyed,
    pub moments: &'a [Moment],
    /// His thoughts held against it, where he wrote them before the judge spoke.
    pub compared: Option<&'a Compared>,
}

/// So many of so many.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, schemars::JsonSchema)]
pub struct Count {
    pub part: u64,
    pub of: u64,
}

impl Count {
    fn add(&mut self, holds: bool) {
        self.part += u64::from(holds);
        self.of += 1;
    }
}

impl Countable {
    /// As it is typed and kept: the code of a reason, `clock:MINUTES`, `converted`, `recognised`.
    ///
    /// # Errors
    /// It is none of these; the text lists them.
    pub fn parse(text: &str) -> Result<Self, String> {
        let text = text.trim();
        if let Some(minutes) = text.strip_prefix("clock:") {
            let minutes = minutes.parse().ok().filter(|m| (1..=600).contains(m));
            return minutes
                .map(|minutes| Self::ClockAt30 { minutes })
                .ok_or_else(|| tr!("'{text}': give whole minutes from 1 to 600, as in clock:20"));
        }
        match text {
            "converted" => return Ok(Self::Converted),
            "recognised" => return Ok(Self::Recognised),
            _ => {}
        }
        let found = Oversight::ALL
            .into_iter()
            .find(|o| o.reason().code() == text);
        found.map(Self::Oversight).ok_or_else(|| {
            let codes = Oversight::ALL.map(|o| o.reason().code());
            tr!(
                "'{text}' cannot be counted; these can: {}, clock:MINUTES, converted, recognised",
                codes.join(", ")
            )
        })
    }

    /// What [`Countable::parse`] reads.
    #[must_use]
    pub fn code(self) -> String {
        match self {
            Self::Oversight(o) => o.reason().code().to_owned(),
            Self::ClockAt30 { minutes } => tr!("clock:{minutes}"),
            Self::Converted => "converted".to_owned(),
            Self::Recognised => "recognised".to_owned(),
        }
    }

    /// What is counted, in words.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Oversight(o) => tr!("games without '{}'", o.reason().words()),
            Self::ClockAt30 { minutes } => {
                tr!(minutes;
                    "games with {minutes} minute or more left before move 30"
                    | "games with {minutes} minutes or more left before move 30"
                )
            }
            Self::Converted => tr!("games won from .85 on").to_owned(),
            Self::Recognised => tr!("turning points named before the judge spoke").to_owned(),
        }
    }

    /// The count over some games.
    #[must_use]
    pub fn count<'a>(self, games: impl Iterator<Item = CountedGame<'a>>) -> Count {
        let mut count = Count::default();
        for game in games {
            self.add(&game, &mut count);
        }
        count
    }

    fn add(self, of: &CountedGame<'_>, count: &mut Count) {
        let game = &of.surveyed.game;
        match self {
            Self::Oversight(o) => {
                let with = of.moments.iter().any(|m| m.reasons.contains(&o.reason()));
                count.add(!with);
            }
            Self::ClockAt30 { minutes } => {
                let left = game.his_ply(CLOCK_MOVE).and_then(|p| game.times.before(p));
                if let Some(left) = left {
                    count.add(left >= u64::from(minutes) * 60_000);
                }
            }
            Self::Converted => {
                let best = height::peak(of.surveyed).map_or(0.0, |peak| peak.1);
                if let Some(points) = game.points().filter(|_| best >= HEIGHT) {
                    count.add(points >= 1.0);
                }
            }
            Self::Recognised => {
                for turned in of.compared.iter().flat_map(|c| &c.turning) {
                    count.add(turned.recognised);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_what_is_kept() {
        for text in [
            "reply-overlooked",
            "drift",
            "clock:20",
            "converted",
            "recognised",
        ] {
            let read = Countable::parse(text).unwrap();
            assert_eq!(read.code(), text);
        }
        for oversight in Oversight::ALL {
            let code = oversight.reason().code();
            assert_eq!(Countable::parse(code), Ok(Countable::Oversight(oversight)));
            // The stored name and the name of the reason are the same word.
            assert_eq!(
                serde_json::to_string(&oversight).unwrap(),
                format!("\"{code}\"")
            );
        }
        assert!(Countable::parse("clock:0").is_err());
        assert!(
            Countable::parse("luck")
                .unwrap_err()
                .contains("reply-overlooked")
        );
    }
}
