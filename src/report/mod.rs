//! Values as text for people, as JSON for programs and as pages to read. No I/O: everything returns a
//! string.
//!
//! Takes reviews with a heading each, and the accounts of games that were played out; gives what a
//! command prints.

pub mod chart;
mod chart_bands;
mod collection;
mod collection_html;
mod desk;
mod eve;
mod event;
mod experiment;
mod game_account;
mod game_account_html;
pub mod games;
pub mod games_clock;
mod games_clock_html;
mod games_list;
pub mod games_openings;
mod games_openings_html;
pub mod games_plans;
mod games_plans_html;
mod history;
mod homework;
mod html;
mod json;
mod method;
mod moves;
mod opponent;
mod own_thoughts;
mod playout;
mod playout_html;
mod progress;
mod progress_html;
mod progress_json;
mod progress_parts;
mod progress_results;
#[cfg(test)]
mod progress_tests;
mod published;
mod quick;
mod schemas;
mod score_sheet;
mod setup;
mod sheet;
mod taken;
mod text;
mod translation;

use crate::attempt::FindingSelector;
use crate::coach::{CoachWord, Model};
use crate::review::{Finding, FindingStatus, Review};
use crate::tree::{NodeId, Tree};

pub use collection::{collection_json, collection_text};
pub use collection_html::{IndexedPage, collection_html, index_html};
pub use desk::desk;
pub use eve::{Eve, Solved, eve_html, eve_json, eve_text};
pub use event::{EventTold, event_html, event_json, event_text, events_list};
pub use experiment::{experiment_html, experiment_json, experiment_text};
pub use game_account::{
    AccountTold, account_of_game_json, account_of_game_stops, account_of_game_text,
};
pub use game_account_html::account_of_game_html;
pub use games_clock_html::clock_html;
pub use games_list::{GameRow, games_list, games_list_json};
pub use games_openings_html::openings_html;
pub use games_plans_html::plans_html;
pub use history::{HistoryRow, RowReview, history_html, history_json, history_text};
pub use homework::{
    Task, TaskDone, day, findings_to_rule, homework_html, homework_json, homework_text, to_rule,
};
pub use html::html;
pub use json::json;
pub use method::{method_html, method_json, method_text};
pub use opponent::{opponent_facts, opponent_html, opponent_json, opponent_text};
pub use own_thoughts::{
    ThoughtsTold, thoughts_html, thoughts_json, thoughts_read_html, thoughts_read_json,
    thoughts_read_text, thoughts_text,
};
pub use playout::{account_json, account_text, board_text};
pub use playout_html::account_html;
pub use progress::progress_text;
pub use progress_html::progress_html;
pub use progress_json::progress_json;
pub use quick::{quick_html, quick_json, quick_page, quick_text};
pub use schemas::{SchemaOf, schema, schemas};
pub use score_sheet::{sheet_json, sheet_pgn, sheet_text};
pub use setup::{SetupRow, SetupState, setup_json};
pub use taken::{SetTask, set_tasks, taken, taken_json};
use text::paragraph;
pub use text::{
    text, text_after, text_foot, text_head, text_of_finding, text_of_one, text_opening, text_right,
};
pub use translation::{translation_json, translation_text};

/// What is reviewed.
#[derive(Debug, Clone, PartialEq)]
pub struct Subject {
    /// The players and the move, or the drill; may come from a file, so it is not safe to print as it is.
    pub heading: String,
    /// Who wrote the tree, where it is known; may come from a file.
    pub student: Option<String>,
    /// What was written, with what a coach added to it.
    pub tree: Tree,
    pub choice: Option<NodeId>,
    /// The tree held against the coach's own, where he gave one.
    pub model: Option<Model>,
    /// What coaches said to it; may come from a file.
    pub coach: Vec<CoachWord>,
    /// When and how it was written, in sentences; empty where that is not known.
    pub circumstances: Vec<String>,
    /// What the player wrote in a second look before the review.
    pub second_look: Vec<String>,
    /// What he answered to the review: causes, notes, lines of his own.
    pub answers: Vec<String>,
}

impl Subject {
    /// What coaches said of one move of the tree, each with his name.
    fn said_at(&self, node: NodeId) -> impl Iterator<Item = String> + '_ {
        let here = self.coach.iter().filter(move |w| w.at == node);
        let here = here.filter(|w| !w.said.is_empty());
        here.map(|w| format!("{}: {}", w.by, w.said))
    }

    /// The sentence of a finding that does not count; of one that a coach struck with who did it and why.
    fn beside(&self, finding: &Finding) -> String {
        let names = |struck: &FindingSelector| {
            struck.names(&finding.paths, finding.kind.code(), &finding.resource)
        };
        let mut rulings = self.coach.iter();
        match rulings.find(|w| w.struck.as_ref().is_some_and(names)) {
            Some(ruling) if finding.class == FindingStatus::Overruled => {
                format!("{} {}", finding.sentence, ruling.sentence)
            }
            _ => finding.sentence.clone(),
        }
    }
}

/// One review and what it is of.
#[derive(Debug, Clone, PartialEq)]
pub struct Reviewed {
    pub of: Subject,
    pub review: Review,
}
