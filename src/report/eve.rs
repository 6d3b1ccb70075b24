//! The eve of a game: what was solved, two habits in words, nothing new.

use askama::Template;
use serde::Serialize;

use super::opponent::{self, opponent_facts, opponent_text};
use super::progress_parts::{heading, paragraph};
use super::published::{Published, document_json};
use super::sheet::sheet;
use crate::games::opponent::OpponentFacts;
use crate::text::safe;

/// A solved position: its drill, and minutes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Solved {
    pub drill: String,
    pub minutes: u32,
}

/// All that is looked at on the eve.
#[derive(Debug, Clone, Copy)]
pub struct Eve<'a> {
    pub drills: &'a [Solved],
    pub habits: &'a [String],
    /// What he took away from his last event, in his own words.
    pub takeaways: &'a [String],
    /// What the games of his opponent say, where he is known.
    pub opponent: Option<&'a OpponentFacts>,
}

impl Eve<'_> {
    fn first(&self) -> &'static str {
        match self.drills.is_empty() {
            true => tr!("No position is solved yet: nothing new tonight."),
            false => tr!("You have solved these before; nothing new tonight."),
        }
    }

    fn took_away(&self) -> Vec<String> {
        let words = self.takeaways.iter();
        words.map(|t| format!("'{}'", safe(t))).collect()
    }
}

const TOOK_AWAY: &str = tr_later!("What you took away from your last event:");

/// What to look at, as text.
#[must_use]
pub fn eve_text(of: &Eve<'_>) -> String {
    let mut out = heading(tr!("The eve of a game")).trim_start().to_owned();
    out.push_str(&paragraph(of.first()));
    for solved in of.drills {
        let minutes = solved.minutes;
        let line = tr!("  foreply practice {}   {minutes} min", solved.drill);
        out.push_str(&format!("{}\n", safe(&line)));
    }
    for habit in of.habits {
        out.push_str(&paragraph(habit));
    }
    if !of.takeaways.is_empty() {
        out.push_str(&paragraph(crate::translation::text(TOOK_AWAY)));
    }
    for takeaway in of.took_away() {
        out.push_str(&paragraph(&takeaway));
    }
    if let Some(opponent) = of.opponent {
        out.push('\n');
        out.push_str(&opponent_text(opponent));
    }
    out
}

/// The eve of a game: what was solved before, nothing new (`foreply progress --eve --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    drills: &'a [Solved],
    /// Habits in words.
    habits: &'a [String],
    /// What he took away from his last event, in his own words.
    takeaways: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    opponent: Option<&'a OpponentFacts>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-eve";
}

/// The same, format `foreply-eve`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn eve_json(of: &Eve<'_>) -> Result<String, serde_json::Error> {
    let document = Document {
        drills: of.drills,
        habits: of.habits,
        takeaways: of.takeaways,
        opponent: of.opponent,
    };
    document_json(&document)
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("The eve of a game") }}</h1>
<p>{{ eve.first() }}</p>
<ul>{% for d in eve.drills %}<li><code>foreply practice {{ d.drill }}</code> {{ d.minutes }} {{ tr!("min") }}</li>
{% endfor %}</ul>
{% for habit in eve.habits %}<p>{{ habit }}</p>
{% endfor %}
{% if !eve.takeaways.is_empty() %}<h2>{{ tr!("What you took away from your last event") }}</h2>
<ul>{% for t in eve.took_away() %}<li>{{ t }}</li>
{% endfor %}</ul>{% endif %}
{% if !facts.is_empty() %}<h2>{{ name }}</h2>
<ul>{% for fact in facts %}<li>{{ fact }}</li>
{% endfor %}</ul>{% endif %}
"#
)]
struct Html<'a> {
    eve: &'a Eve<'a>,
    name: String,
    facts: Vec<String>,
}

/// The same as a page.
///
/// # Errors
/// The template fails; ours does not.
pub fn eve_html(of: &Eve<'_>) -> Result<String, askama::Error> {
    let name = of.opponent.map(opponent::heading);
    let html = Html {
        eve: of,
        name: name.unwrap_or_default(),
        facts: of.opponent.map(opponent_facts).unwrap_or_default(),
    };
    sheet(tr!("the eve of a game"), &html)
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
        let takeaways = ["His checks first.".to_owned()];
        let eve = Eve {
            drills: &solved,
            habits: &habits,
            takeaways: &takeaways,
            opponent: None,
        };
        insta::assert_snapshot!(eve_text(&eve), @"
        The eve of a game
        -----------------
        You have solved these before; nothing new tonight.
          foreply practice saavedra-1895   8 min
        Before you decide, look once more for moves backward.
        What you took away from your last event:
        'His checks first.'
        ");
        let none = Eve {
            drills: &[],
            habits: &[],
            takeaways: &[],
            opponent: None,
        };
        assert!(eve_text(&none).contains("No position is solved yet"));
        let html = eve_html(&eve).unwrap();
        assert!(
            html.contains("<li>&#39;His checks first.&#39;</li>"),
            "{html}"
        );
        let json = eve_json(&eve).unwrap();
        assert!(
            json.contains("\"foreply-eve\"") && json.contains("saavedra"),
            "{json}"
        );
    }
}
