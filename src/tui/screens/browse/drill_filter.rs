//! Which positions of the collection are listed: by what the board shows anyway, and by whether he has
//! tried them.
//!
//! Themes, sources, names and the task of a drill tell something of its solution: nothing here depends
//! on them, except that positions made to be played out are told apart, as their own command does.

use std::collections::HashMap;

use shakmaty::{Chess, Color, Position};

use crate::app::HistoryEntry;
use crate::attempt::Origin;
use crate::board::phase;
use crate::drill::Drill;

/// One filter: what stands on the screen where everything passes, and each of its values.
struct FilterChoices {
    any: &'static str,
    values: &'static [&'static str],
}

/// The filters in the order of their digits.
const FILTERS: [FilterChoices; 5] = [
    FilterChoices {
        any: tr_later!("any task"),
        values: &[
            tr_later!("to calculate"),
            tr_later!("to play out"),
            tr_later!("own games"),
        ],
    },
    FilterChoices {
        any: tr_later!("any phase"),
        values: &[
            tr_later!("opening"),
            tr_later!("middlegame"),
            tr_later!("ending"),
        ],
    },
    // By the heaviest man beside the kings.
    FilterChoices {
        any: tr_later!("any men"),
        values: &[
            tr_later!("with queens"),
            tr_later!("rooks at most"),
            tr_later!("minor pieces"),
            tr_later!("pawns only"),
        ],
    },
    FilterChoices {
        any: tr_later!("tried or not"),
        values: &[tr_later!("not tried"), tr_later!("tried")],
    },
    FilterChoices {
        any: tr_later!("either side"),
        values: &[tr_later!("White moves"), tr_later!("Black moves")],
    },
];

/// Place of 'tried or not' among the filters, and its two values.
const TRIED: usize = 3;
const NOT_TRIED: usize = 0;
const WAS_TRIED: usize = 1;

/// What is known of one drill: the place of its value for every filter, and when it was tried last.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DrillTraits {
    values: [usize; FILTERS.len()],
    /// Wall-clock time of the last attempt, milliseconds since 1970-01-01 UTC.
    pub tried_ms: Option<i64>,
}

/// The filters as they are set; 0 lets everything pass, `n` the value `n - 1` alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct DrillFilter([usize; FILTERS.len()]);

impl DrillTraits {
    /// The traits of all drills, in their order.
    #[must_use]
    pub fn all<'a>(drills: &[Drill], history: impl Iterator<Item = &'a HistoryEntry>) -> Vec<Self> {
        let mut tried: HashMap<&str, i64> = HashMap::new();
        for summary in history {
            if let Origin::Drill(id) = &summary.origin {
                let last = tried.entry(id).or_insert(summary.wall_ms);
                *last = (*last).max(summary.wall_ms);
            }
        }
        let card = |drill: &Drill| Self::of(drill, tried.get(drill.id.as_str()).copied());
        drills.iter().map(card).collect()
    }

    fn of(drill: &Drill, tried_ms: Option<i64>) -> Self {
        let position = drill.root.position();
        let task = if drill.is_of_own_game() {
            2
        } else {
            usize::from(drill.is_of_the_ladder())
        };
        let tried = if tried_ms.is_some() {
            WAS_TRIED
        } else {
            NOT_TRIED
        };
        let side = usize::from(position.turn() == Color::Black);
        let values = [task, phase_of(position), heaviest(position), tried, side];
        Self { values, tried_ms }
    }
}

fn phase_of(position: &Chess) -> usize {
    match phase::of(position) {
        phase::Phase::Opening => 0,
        phase::Phase::Middlegame => 1,
        phase::Phase::Ending => 2,
    }
}

fn heaviest(position: &Chess) -> usize {
    let board = position.board();
    let classes = [
        board.queens(),
        board.rooks(),
        board.bishops() | board.knights(),
    ];
    let there = classes.iter().position(|men| men.any());
    there.unwrap_or(classes.len())
}

impl DrillFilter {
    /// To the next value of a filter, round the end; the first filter is 0.
    pub fn turn(&mut self, filter: usize) {
        if let (Some(set), Some(known)) = (self.0.get_mut(filter), FILTERS.get(filter)) {
            *set = (*set + 1) % (known.values.len() + 1);
        }
    }

    /// True for what is to be listed.
    #[must_use]
    pub fn passes(&self, card: &DrillTraits) -> bool {
        let pairs = self.0.iter().zip(card.values);
        pairs
            .into_iter()
            .all(|(set, value)| *set == 0 || *set == value + 1)
    }

    /// True where a drill would pass if 'tried or not' were 'not tried'.
    #[must_use]
    pub fn is_new(card: &DrillTraits) -> bool {
        card.values[TRIED] == NOT_TRIED
    }

    /// Each filter in words, and whether it is set.
    pub fn words(&self) -> impl Iterator<Item = (&'static str, bool)> + '_ {
        FILTERS.iter().zip(self.0).map(|(filter, set)| {
            let value = set.checked_sub(1).and_then(|v| filter.values.get(v));
            let words = value.copied().unwrap_or(filter.any);
            (crate::translation::text(words), value.is_some())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::testing::app;

    fn card(fen: &str) -> DrillTraits {
        DrillTraits::of(&app::drill("some", fen, ""), None)
    }

    fn passing(filter: usize, turns: usize, card: &DrillTraits) -> bool {
        let mut set = DrillFilter::default();
        (0..turns).for_each(|_| set.turn(filter));
        set.passes(card)
    }

    #[test]
    fn filters_go_round_and_let_their_own_pass() {
        let ending = card("8/8/1KP5/3r4/8/8/8/k7 w - - 0 1");
        for (filter, turns, passes) in [
            (0, 1, true),  // to calculate
            (0, 2, false), // to play out
            (1, 3, true),  // ending
            (1, 2, false), // middlegame
            (2, 2, true),  // rooks at most
            (2, 1, false), // with queens
            (3, 1, true),  // not tried
            (3, 2, false), // tried
            (4, 1, true),  // White moves
            (4, 2, false),
        ] {
            assert_eq!(passing(filter, turns, &ending), passes, "{filter} {turns}");
        }
        for (filter, known) in FILTERS.iter().enumerate() {
            assert!(passing(filter, known.values.len() + 1, &ending));
        }
        let black = card("8/8/1KP5/3r4/8/8/8/k7 b - - 0 1");
        assert!(passing(4, 2, &black) && !passing(4, 1, &black));
    }

    /// The same position passes the same filters whatever its name, source, task and themes are.
    #[test]
    fn what_tells_something_decides_nothing() {
        let one = app::drill("some", "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1", "c7");
        let mut other = app::drill("other", "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1", "Kb7");
        other.task = crate::drill::Task::Draw;
        other.themes = vec!["control".to_owned(), "counter-sacrifice".to_owned()];
        other.title.clear();
        other.source = "another".to_owned();
        assert_eq!(DrillTraits::of(&one, None), DrillTraits::of(&other, None));
    }
}
