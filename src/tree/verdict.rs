//! A player's judgement of a position, as a sign or as his own expected score.

use std::fmt;

use shakmaty::Color;

/// A sign of position evaluation. `+` is White whoever is to move; the numbers are the Numeric
/// Annotation Glyphs of the PGN standard 1994, section 10.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Hash,
    PartialOrd,
    Ord,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Sign {
    BlackWins,
    BlackClear,
    BlackSlight,
    Level,
    WhiteSlight,
    WhiteClear,
    WhiteWins,
}

/// What the player thinks of a position.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Hash,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    Sign(Sign),
    /// His own expected score in percent, 0 to 100, of the player at the root.
    Percent(u8),
    /// `$13`: he declares that he cannot say. Never scored.
    Unclear,
}

/// Text that is no verdict.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", tr!("'{0}' is not a verdict: use = +/= =/+ +/- -/+ +- -+ ~ or a percentage such as 65%", _0))]
pub struct VerdictError(pub String);

const SIGNS: [(Sign, &str, &[&str], u8, &str); 7] = [
    (Sign::BlackWins, "-+", &["--+"], 19, "Black is winning"),
    (
        Sign::BlackClear,
        "-/+",
        &["∓"],
        17,
        "Black is clearly better",
    ),
    (
        Sign::BlackSlight,
        "=/+",
        &["=+", "⩱"],
        15,
        "Black is slightly better",
    ),
    (Sign::Level, "=", &["=="], 10, "the position is level"),
    (
        Sign::WhiteSlight,
        "+/=",
        &["+=", "⩲"],
        14,
        "White is slightly better",
    ),
    (
        Sign::WhiteClear,
        "+/-",
        &["±"],
        16,
        "White is clearly better",
    ),
    (Sign::WhiteWins, "+-", &["+--"], 18, "White is winning"),
];

impl Sign {
    /// As typed and printed in plain text.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        SIGNS.iter().find(|s| s.0 == self).map_or("=", |s| s.1)
    }

    /// How far the sign leans to `side`: 3 winning, 2 clear, 1 slight, 0 level, negative for the other.
    #[must_use]
    pub fn steps_for(self, side: Color) -> i8 {
        let white = match self {
            Self::BlackWins => -3,
            Self::BlackClear => -2,
            Self::BlackSlight => -1,
            Self::Level => 0,
            Self::WhiteSlight => 1,
            Self::WhiteClear => 2,
            Self::WhiteWins => 3,
        };
        if side == Color::White { white } else { -white }
    }
}

impl Verdict {
    /// Reads a verdict as typed: `=`, `+/=`, `=/+`, `+/-`, `-/+`, `+-`, `-+`, their printed signs, `~`
    /// or `∞` for unclear, or a whole percentage.
    ///
    /// # Errors
    /// The text is none of these.
    pub fn parse(text: &str) -> Result<Self, VerdictError> {
        let text = text.trim();
        if let Some(number) = text.strip_suffix('%') {
            let percent = number.trim().parse::<u8>().ok().filter(|p| *p <= 100);
            return percent
                .map(Self::Percent)
                .ok_or_else(|| VerdictError(text.to_owned()));
        }
        if matches!(text, "~" | "∞" | "unclear") {
            return Ok(Self::Unclear);
        }
        SIGNS
            .iter()
            .find(|s| s.1 == text || s.2.contains(&text))
            .map(|s| Self::Sign(s.0))
            .ok_or_else(|| VerdictError(text.to_owned()))
    }

    /// The verdict of a Numeric Annotation Glyph (PGN standard 1994, section 10): $10 to $21 as far as
    /// they judge the position; `None` for every other glyph.
    #[must_use]
    pub fn from_nag(nag: u8) -> Option<Self> {
        let sign = match nag {
            10..=12 => Sign::Level,
            13 => return Some(Self::Unclear),
            20 => Sign::WhiteWins,
            21 => Sign::BlackWins,
            n => SIGNS.iter().find(|s| s.3 == n)?.0,
        };
        Some(Self::Sign(sign))
    }

    /// The glyph to write; `None` for a percentage, which PGN has no glyph for.
    #[must_use]
    pub fn nag(self) -> Option<u8> {
        match self {
            Self::Sign(sign) => SIGNS.iter().find(|s| s.0 == sign).map(|s| s.3),
            Self::Unclear => Some(13),
            Self::Percent(_) => None,
        }
    }

    /// The verdict in words, so that a mistyped sign is noticed; says nothing about its truth.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Sign(sign) => SIGNS
                .iter()
                .find(|s| s.0 == sign)
                .map_or("", |s| crate::translation::text(s.4))
                .to_owned(),
            Self::Percent(p) => tr!("your expected score is {p} percent"),
            Self::Unclear => tr!("unclear: you do not judge it").to_owned(),
        }
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Sign(sign) => f.write_str(sign.symbol()),
            Self::Percent(p) => write!(f, "{p}%"),
            Self::Unclear => f.write_str("~"),
        }
    }
}
