//! A plan for a pawn structure, in the player's own words, the coach's beside them. Nobody marks words.

use serde::{Deserialize, Serialize};

use crate::store::Record;

/// Longest text of one field, in characters.
pub const WORDS_MAX: usize = 2000;
/// Most remarks of a coach on one card.
pub const REMARKS_MAX: usize = 100;

/// The plan card of one structure; it lies under the structure's key.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, schemars::JsonSchema)]
pub struct PlanCard {
    /// The pawn break that is played for.
    pub pawn_break: String,
    pub good_piece: String,
    pub bad_piece: String,
    /// The exchange that he wants.
    pub trade: String,
    /// What the other side wants.
    pub other_side: String,
    pub coach: Vec<Remark>,
    /// The games in which it was tried, by their identifiers.
    pub tried: Vec<String>,
}

/// What a coach said about it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Remark {
    pub by: String,
    pub words: String,
}

impl Record for PlanCard {
    const TABLE: &'static str = "structure-plans";
    const VERSION: u32 = 1;
}

/// What is written on a card, or taken from it: `None` leaves a field as it is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Written {
    pub pawn_break: Option<String>,
    pub good_piece: Option<String>,
    pub bad_piece: Option<String>,
    pub trade: Option<String>,
    pub other_side: Option<String>,
    pub coach: Option<Remark>,
    pub tried: Vec<String>,
    pub not_tried: Vec<String>,
}

impl PlanCard {
    /// The fields with their words, in the order of the card.
    #[must_use]
    pub fn fields(&self) -> [(&'static str, &str); 5] {
        [
            (tr!("the break"), self.pawn_break.as_str()),
            (tr!("good piece"), self.good_piece.as_str()),
            (tr!("bad piece"), self.bad_piece.as_str()),
            (tr!("the trade you want"), self.trade.as_str()),
            (tr!("the other side wants"), self.other_side.as_str()),
        ]
    }

    /// True where nothing stands on it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Writes on the card. An empty text takes the words of a field away.
    ///
    /// # Errors
    /// A text is longer than [`WORDS_MAX`] characters, or there are [`REMARKS_MAX`] remarks already; the
    /// card is as it was.
    pub fn write(&mut self, written: Written) -> Result<(), String> {
        let mut card = self.clone();
        let fields = [
            (&mut card.pawn_break, written.pawn_break),
            (&mut card.good_piece, written.good_piece),
            (&mut card.bad_piece, written.bad_piece),
            (&mut card.trade, written.trade),
            (&mut card.other_side, written.other_side),
        ];
        for (field, words) in fields {
            if let Some(words) = words {
                *field = checked(&words)?;
            }
        }
        if let Some(remark) = written.coach {
            if card.coach.len() >= REMARKS_MAX {
                return Err(tr!("a card holds at most {REMARKS_MAX} remarks of a coach"));
            }
            let (by, words) = (checked(&remark.by)?, checked(&remark.words)?);
            card.coach.push(Remark { by, words });
        }
        for game in written.tried {
            if !card.tried.contains(&game) {
                card.tried.push(game);
            }
        }
        card.tried.retain(|game| !written.not_tried.contains(game));
        *self = card;
        Ok(())
    }
}

fn checked(words: &str) -> Result<String, String> {
    let words = words.trim();
    match words.chars().count() {
        n if n > WORDS_MAX => Err(tr!(
            "a text on a plan card has at most {WORDS_MAX} characters; this one has {n}"
        )),
        _ => Ok(words.to_owned()),
    }
}
