//! The eve of a game: what was solved, two habits in words, nothing new.

use serde::Serialize;

use super::progress::heading;
use super::progress_parts::paragraph;
use super::published::{Published, document_json};

/// A solved position: its drill, and minutes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Solved {
    pub drill: String,
    pub minutes: u32,
}

/// What to look at, as text.
#[must_use]
pub fn eve_text(drills: &[Solved], habits: &[String]) -> String {
    let mut out = heading("The eve of a game").trim_start().to_owned();
    if drills.is_empty() {
        out.push_str(&paragraph(
            "No position is solved yet: nothing new tonight.",
        ));
    } else {
        out.push_str(&paragraph(
            "You have solved these before; nothing new tonight.",
        ));
    }
    for solved in drills {
        let minutes = solved.minutes;
        let line = format!("  foreply practice {}   {minutes} min", solved.drill);
        out.push_str(&format!("{}\n", crate::text::safe(&line)));
    }
    for habit in habits {
        out.push_str(&paragraph(habit));
    }
    out
}

/// The eve of a game: what was solved before, nothing new (`foreply progress --eve --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    drills: &'a [Solved],
    /// Habits in words.
    habits: &'a [String],
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-eve";
}

/// The same, format `foreply-eve`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn eve_json(drills: &[Solved], habits: &[String]) -> Result<String, serde_json::Error> {
    document_json(&Document { drills, habits })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_eve_says_what_is_there() {
        let solved = [Solved {
            drill: "saavedra-1895".to_owned(),
            minutes: 8,
        }];
        let habits = ["Before you decide, look once more for moves backward.".to_owned()];
        insta::assert_snapshot!(eve_text(&solved, &habits), @"
        The eve of a game
        -----------------
        You have solved these before; nothing new tonight.
          foreply practice saavedra-1895   8 min
        Before you decide, look once more for moves backward.
        ");
        assert!(eve_text(&[], &[]).contains("No position is solved yet"));
        let json = eve_json(&solved, &habits).unwrap();
        assert!(
            json.contains("\"foreply-eve\"") && json.contains("saavedra"),
            "{json}"
        );
    }
}
