//! The end card: what the player says of the board at the end of his line, before he locks.
//!
//! Three things, each of which may be left out: who moves there, the material, and the plan in one
//! sentence. Nothing here knows whether they are right; only a text that is no statement of material at
//! all is refused.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::tree::NodeId;

/// Longest plan that is kept, in characters: it is to be one sentence.
pub const PLAN_MAX: usize = 400;

/// Opens the comment that is an end card.
const OPENS: &str = "At the end:";

/// What the player states of the position at the end of a line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct EndCard {
    /// The last written move of the line.
    pub node: NodeId,
    /// Who is to move there; `None` where he did not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mover: Option<Mover>,
    /// The material there; `None` where he did not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<Material>,
    /// What he would do then, in his words; may be empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub plan: String,
}

impl EndCard {
    /// An empty card.
    #[must_use]
    pub fn new(node: NodeId) -> Self {
        Self {
            node,
            mover: None,
            material: None,
            plan: String::new(),
        }
    }

    /// The card as one comment: 'At the end: I am to move; material pawn up; then h4'.
    #[must_use]
    pub fn words(&self) -> String {
        let mover = self.mover.map(|m| match m {
            Mover::Me => "I am to move".to_owned(),
            Mover::Him => "he is to move".to_owned(),
        });
        let material = self.material.as_ref().map(|m| format!("material {m}"));
        let plan = Some(self.plan.clone()).filter(|p| !p.trim().is_empty());
        let said: Vec<String> = [mover, material, plan].into_iter().flatten().collect();
        format!("{OPENS} {}", said.join("; "))
    }

    /// The card that a comment of that form holds, in small letters or large, its parts in any order; `None`
    /// where no line of the comment opens so. A balance of material that cannot be read is given beside it.
    #[must_use]
    pub fn in_comment(comment: &str, node: NodeId) -> Option<(Self, Option<NotMaterial>)> {
        let said = comment.lines().find_map(|line| {
            let (opens, said) = line.trim().split_at_checked(OPENS.len())?;
            opens.eq_ignore_ascii_case(OPENS).then_some(said)
        })?;
        let (mut card, mut unread, mut plan) = (Self::new(node), None, Vec::new());
        for part in said.split(';').map(str::trim).filter(|p| !p.is_empty()) {
            let small = part.trim_end_matches('.').to_lowercase();
            if let Some(mover) = Mover::read(&small) {
                card.mover = Some(mover);
            } else if let Some(material) = small.strip_prefix("material ") {
                match Material::parse(material) {
                    Ok(material) => card.material = Some(material),
                    Err(error) => unread = Some(error),
                }
            } else {
                plan.push(part);
            }
        }
        card.plan = plan.join("; ").chars().take(PLAN_MAX).collect();
        Some((card, unread))
    }

    /// True where nothing is said on it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.mover.is_none() && self.material.is_none() && self.plan.trim().is_empty()
    }
}

/// Who is to move, as the player says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mover {
    /// The player himself.
    Me,
    /// The opponent.
    Him,
}

impl Mover {
    /// Reads who is to move, in small letters: `me`, `I am to move`, `his move` and the like.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let who = text.strip_suffix(" to move").unwrap_or(text);
        match who {
            "me" | "i" | "i am" | "my move" => Some(Self::Me),
            "him" | "he" | "her" | "she" | "he is" | "she is" | "his move" | "her move" => {
                Some(Self::Him)
            }
            _ => None,
        }
    }
}

/// The balance of material from the player's side, as typed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Material {
    typed: String,
    points: i32,
}

/// A text that says nothing of material.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{0}' is no balance of material; say it from your side: '=', '+1', '-3', 'pawn up', 'exchange down', '2 pawns up', 'rook for knight'"
)]
pub struct NotMaterial(String);

impl Material {
    /// Reads a balance: `=` or `level` or `equal`; a number of points with its sign (a pawn is 1, a minor
    /// piece 3, a rook 5, a queen 9: common practice, no source); what one is ahead or behind in words
    /// (`pawn up`, `up a pawn`, `the exchange down`, `2 pawns up`, `a piece and a pawn down`), or what one has
    /// for what (`rook for knight`, `queen for two rooks`).
    ///
    /// # Errors
    /// The text is none of these.
    pub fn parse(text: &str) -> Result<Self, NotMaterial> {
        let typed = text.trim();
        let points = points(&typed.to_lowercase()).ok_or_else(|| NotMaterial(typed.to_owned()))?;
        Ok(Self {
            typed: typed.to_owned(),
            points,
        })
    }

    /// From the player's side, in points.
    #[must_use]
    pub fn points(&self) -> i32 {
        self.points
    }
}

impl fmt::Display for Material {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.typed)
    }
}

impl TryFrom<String> for Material {
    type Error = NotMaterial;

    fn try_from(text: String) -> Result<Self, NotMaterial> {
        Self::parse(&text)
    }
}

impl From<Material> for String {
    fn from(material: Material) -> Self {
        material.typed
    }
}

fn points(text: &str) -> Option<i32> {
    if matches!(text, "=" | "level" | "equal" | "even" | "same") {
        return Some(0);
    }
    if let Some(signed) = number(text) {
        return Some(signed);
    }
    if let Some((mine, his)) = text.split_once(" for ") {
        return Some(men(mine)? - men(his)?);
    }
    // 'a pawn up' and 'up a pawn'.
    let last = text.rsplit_once(' ').map(|(what, side)| (side, what));
    let ends = [last, text.split_once(' ')].into_iter().flatten();
    ends.into_iter().find_map(|(side, what)| {
        let what = what.strip_prefix("by ").unwrap_or(what);
        match side {
            "up" | "ahead" | "more" => men(what),
            "down" | "behind" | "less" => men(what).map(|n| -n),
            _ => None,
        }
    })
}

/// A number with its sign, at most two digits; a bare number but 0 could mean either side.
fn number(text: &str) -> Option<i32> {
    let digits = text.trim_start_matches(['+', '-']);
    let plain = !digits.is_empty()
        && digits.len() <= 2
        && text.len() - digits.len() <= 1
        && digits.bytes().all(|b| b.is_ascii_digit());
    let n: i32 = text.parse().ok().filter(|_| plain)?;
    (n == 0 || text.len() > digits.len()).then_some(n)
}

/// The worth of men in words: 'a rook and 2 pawns'.
fn men(text: &str) -> Option<i32> {
    let parts = text.split([',', '+', '&']).flat_map(|p| p.split(" and "));
    parts.map(|part| some_men(part.trim())).sum()
}

fn some_men(text: &str) -> Option<i32> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (count, name) = match words[..] {
        [name] => (1, name),
        [count, name] => (counted(count)?, name),
        _ => return None,
    };
    let worth = match name.strip_suffix('s').unwrap_or(name) {
        "pawn" => 1,
        "exchange" => 2,
        "piece" | "knight" | "bishop" => 3,
        "rook" => 5,
        "queen" => 9,
        _ => return None,
    };
    Some(count * worth)
}

fn counted(word: &str) -> Option<i32> {
    const WORDS: [&str; 8] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight",
    ];
    match word {
        "a" | "an" | "the" => Some(1),
        "no" => Some(0),
        _ => match WORDS.iter().position(|w| *w == word) {
            Some(at) => i32::try_from(at + 1).ok(),
            None => word.parse().ok().filter(|n| (0..=8).contains(n)),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn balances_are_read_from_the_players_side() {
        // The values are the usual ones of textbooks (common practice, no source).
        for (text, points) in [
            ("=", 0),
            ("Level", 0),
            ("0", 0),
            ("+1", 1),
            ("-3", -3),
            ("pawn up", 1),
            ("a piece and a pawn down", -4),
            ("the exchange up", 2),
            ("two pawns ahead", 2),
            ("2 pawns down", -2),
            ("rook for knight", 2),
            ("queen for two rooks", -1),
            ("knight for 3 pawns", 0),
            ("up a pawn", 1),
            ("Down the exchange", -2),
            ("ahead by two pawns", 2),
        ] {
            assert_eq!(Material::parse(text).unwrap().points(), points, "{text}");
        }
    }

    #[test]
    fn what_is_no_balance_is_refused() {
        for text in [
            "",
            "3",
            "+",
            "-",
            "--1",
            "+123",
            "up",
            "king up",
            "up king",
            "up a pawn down",
            "9 pawns up",
            "rook for",
            "good",
        ] {
            assert!(Material::parse(text).is_err(), "{text}");
        }
        insta::assert_snapshot!(Material::parse(" good ").unwrap_err(), @"'good' is no balance of material; say it from your side: '=', '+1', '-3', 'pawn up', 'exchange down', '2 pawns up', 'rook for knight'");
    }

    #[test]
    fn a_card_is_kept_as_typed_and_may_be_partly_empty() {
        let mut card = EndCard::new(NodeId(3));
        assert!(card.is_empty());
        card.material = Some(Material::parse("Pawn up").unwrap());
        let text = serde_json::to_string(&card).unwrap();
        assert_eq!(text, r#"{"node":3,"material":"Pawn up"}"#);
        assert_eq!(serde_json::from_str::<EndCard>(&text).unwrap(), card);
        assert!(!card.is_empty());
    }

    #[test]
    fn a_card_is_the_same_after_it_was_written_as_a_comment() {
        let card = EndCard {
            mover: Some(Mover::Him),
            material: Material::parse("the exchange up").ok(),
            plan: "go for the a-pawn; then h4".to_owned(),
            ..EndCard::new(NodeId(3))
        };
        let words = card.words();
        assert_eq!(
            words,
            "At the end: he is to move; material the exchange up; go for the a-pawn; then h4"
        );
        let comment = format!("Seen late.\n{words}");
        assert_eq!(EndCard::in_comment(&comment, NodeId(3)), Some((card, None)));
    }

    #[test]
    fn a_card_in_a_comment_is_read_as_people_write() {
        let read = |text| EndCard::in_comment(text, NodeId(1));
        let (card, unread) = read("at the end: Material +1; my move.").unwrap();
        assert_eq!(card.mover, Some(Mover::Me));
        assert_eq!(card.material.map(|m| m.points()), Some(1));
        assert!(unread.is_none() && card.plan.is_empty());
        let (card, unread) = read("At the end: material fine").unwrap();
        assert!(card.is_empty() && unread.is_some());
        assert!(read("At the end he is lost.").is_none());
        assert!(read("").is_none());
    }
}
