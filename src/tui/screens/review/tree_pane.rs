//! His tree as the centre of the review: a cursor goes through it, and below it stands what became of the
//! move it is on; at the position itself his candidates side by side.

use std::collections::HashSet;

use crate::text;
use crate::tree::NodeId;
use crate::tui::forms::review_words::{
    CandidateRow, besides, candidates, heading, on_asking, read_of, truth,
};
use crate::tui::screens::review::open_review::OpenReview;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::page::TextPage;
use crate::tui::widgets::variation_tree::TreeView;

/// Columns of the table of candidates before the truth.
const MOVE: usize = 10;
const SPENT: usize = 7;
const SAID: usize = 5;

/// Draws the tree and, below it, what is known of the move under the cursor.
pub(super) fn draw(
    canvas: &mut Canvas,
    review: &OpenReview,
    (x, y, width, height): (usize, usize, usize, usize),
    ascii: bool,
) {
    let marks = review.marks();
    let view = TreeView {
        tree: review.shown_tree(),
        choice: review.attempt.choice(),
        cursor: Some(review.cursor),
        candidates_only: false,
        folded: &HashSet::new(),
        mark: &marks,
        ascii,
    };
    let page = page(review, width);
    // The page takes what it needs, but the tree keeps half.
    let wanted = height.saturating_sub(page.len() + 2).max(height / 2);
    let rows = view.rows(width).min(wanted);
    view.draw(canvas, (x, y, width, rows));
    let below = y + rows + 1;
    let room = (y + height).saturating_sub(below);
    page.draw(canvas, (x, below, room), &review.scroll);
}

fn page(review: &OpenReview, width: usize) -> TextPage {
    let mut page = TextPage::new(width);
    if review.cursor == NodeId::ROOT {
        position_page(review, &mut page);
    } else {
        move_page(review, &mut page);
    }
    coach(review, &mut page);
    missed(review, &mut page);
    if review.cursor == NodeId::ROOT {
        for words in review.attempt.after().second_look() {
            page.say(&words, TextStyle::QUIET);
        }
    }
    page
}

/// His candidates in the order of writing.
fn position_page(review: &OpenReview, page: &mut TextPage) {
    let Some(whole) = review.snapshot.whole() else {
        return page.say(tr!("This comes with the whole review."), TextStyle::QUIET);
    };
    page.say(
        tr!("Your candidates, in the order of writing:"),
        TextStyle::ACCENT,
    );
    for row in candidates(whole, &review.attempt) {
        page.hanging(&front(&row), &row.truth, TextStyle::PLAIN);
    }
}

fn front(row: &CandidateRow) -> String {
    let sign = if row.chosen { '>' } else { ' ' };
    let spent = row.spent_ms.map(text::clock).unwrap_or_default();
    let said = match row.said.as_str() {
        "" => "-",
        said => said,
    };
    format!(
        "{sign} {} {spent:>SPENT$} {} ",
        text::fit(&row.san, MOVE - 2),
        text::fit(said, SAID)
    )
}

/// His verdict, when he wrote it, and the truth.
fn move_page(review: &OpenReview, page: &mut TextPage) {
    let tree = review.attempt.tree();
    let way = review.shown_tree().sans(review.cursor).join(" ");
    page.say(&tr!("After {way}"), TextStyle::ACCENT);
    let Some(node) = tree.node(review.cursor) else {
        return page.say(tr!("Your coach wrote it."), TextStyle::PLAIN);
    };
    let start = review.attempt.started_ms().unwrap_or(0);
    if review.attempt.is_timed() {
        let at = text::clock(node.at_ms.saturating_sub(start));
        page.say(&tr!("Written at {at}."), TextStyle::QUIET);
    }
    let whole = review.snapshot.whole();
    let said = whole.and_then(|r| read_of(r, review.cursor)?.said.clone());
    match (node.verdict, said) {
        (Some(verdict), Some(said)) => {
            page.say(&tr!("Your verdict: {verdict}, {said}."), TextStyle::PLAIN);
        }
        (Some(verdict), None) => page.say(&tr!("Your verdict: {verdict}."), TextStyle::PLAIN),
        (None, _) => page.say(tr!("You gave no verdict here."), TextStyle::QUIET),
    }
    match whole {
        Some(whole) => {
            let words = truth(whole, tree, review.cursor);
            page.say(&tr!("The truth: {words}."), TextStyle::PLAIN.bold());
            if let (true, Some(read)) = (review.numbers, read_of(whole, review.cursor)) {
                let worth = read.worth.map_or("-".to_owned(), |w| w.to_string());
                page.say(&tr!("Expected score here: {worth}."), TextStyle::QUIET);
            }
        }
        None => page.say(
            tr!("The truth comes with the whole review."),
            TextStyle::QUIET,
        ),
    }
    let held = review.snapshot.right().iter();
    for right in held.filter(|r| r.node == review.cursor) {
        page.say(&right.note, TextStyle::PLAIN);
    }
    notes(review, page);
}

/// What is worth knowing here, and the end card where it speaks of this move.
fn notes(review: &OpenReview, page: &mut TextPage) {
    let Some(whole) = review.snapshot.whole() else {
        return;
    };
    let notes = whole.notes.iter().filter(|n| n.node == review.cursor);
    for note in notes {
        page.say(&note.sentence, TextStyle::PLAIN);
    }
    let card = whole.end_card.iter().filter(|c| c.node == review.cursor);
    for words in card.flat_map(|c| &c.sentences) {
        page.say(words, TextStyle::PLAIN);
    }
}

fn coach(review: &OpenReview, page: &mut TextPage) {
    for word in review.coach.iter().filter(|w| w.at == review.cursor) {
        page.say(&word.sentence, TextStyle::ACCENT);
    }
}

/// What was missed at the move under the cursor.
fn missed(review: &OpenReview, page: &mut TextPage) {
    for finding in review.findings_at(review.cursor) {
        page.say(&tr!("Here: {}", heading(finding)), TextStyle::ALERT);
        page.say(&finding.sentence, TextStyle::PLAIN);
        for words in besides(finding) {
            page.say(&words, TextStyle::PLAIN);
        }
        if review.numbers {
            page.say(&on_asking(finding), TextStyle::QUIET);
        }
    }
}
