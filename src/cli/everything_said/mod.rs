//! Everything that is said reaches every surface: each value of a review, an attempt with its coach's layer,
//! the account of a game and a progress report is filled with something that cannot be mistaken, and looked
//! for on each surface. What is not there stands in a list with its reason; a reason for something that is
//! there is a fault too. Values are taken apart without `..`, so that a new one is met here first.

mod account;
mod attempt;
mod collection;
mod eve;
mod event;
mod experiment;
mod figures;
mod filled;
mod filled_progress;
mod games;
mod past_the_locale;
mod progress;
mod quick;
mod review;
mod sitting;

use std::fmt::Write;

use past_the_locale::elsewhere;

/// Where values are looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Surface {
    /// The screens at 80 by 24.
    Small,
    /// The screens at 140 by 45.
    Large,
    /// The sitting on lines of text.
    Plain,
    Text,
    Html,
    Json,
}

use Surface::{Html, Json, Large, Plain, Small, Text};

/// The screens, whatever their size.
const SCREENS: &[Surface] = &[Small, Large];
const ALL: &[Surface] = &[Small, Large, Plain, Text, Html, Json];

/// One value and what it is looked for as.
pub(super) struct Value {
    name: &'static str,
    marks: Vec<String>,
}

pub(super) fn value(name: &'static str, mark: impl ToString) -> Value {
    Value {
        name,
        marks: vec![mark.to_string()],
    }
}

/// A value that is told in one of several forms.
pub(super) fn any_of(name: &'static str, marks: &[&str]) -> Value {
    Value {
        name,
        marks: marks.iter().map(|m| (*m).to_owned()).collect(),
    }
}

/// Cells that stay empty: the value, the surfaces, and why.
pub(super) type Empty = (&'static str, &'static [Surface], &'static str);

/// Holds values against what the surfaces show.
pub(super) fn held(values: &[Value], shown: &[(Surface, String)], empty: &[Empty]) {
    let mut faults = String::new();
    for (surface, text) in shown {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for value in values {
            let there = value.marks.iter().any(|mark| text.contains(mark));
            let reason = empty
                .iter()
                .find(|(name, surfaces, _)| *name == value.name && surfaces.contains(surface));
            let wrong = match (there, reason) {
                (true, None) | (false, Some(_)) => continue,
                (true, Some(_)) => "is there, though a reason is given why not",
                (false, None) => "is not there",
            };
            let _ = writeln!(
                faults,
                "{surface:?}: {} ({}) {wrong}",
                value.name,
                value.marks.join(" or ")
            );
        }
    }
    for (name, _, why) in empty {
        if !values.iter().any(|v| v.name == *name) {
            let _ = writeln!(faults, "no value is called {name}: {why}");
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
}
