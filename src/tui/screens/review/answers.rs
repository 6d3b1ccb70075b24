//! What is typed or picked in answer to a review, and what the engine answers, drawn.

use crate::attempt::shown_cause;
use crate::tui::screens::review::open_review::OpenReview;
use crate::tui::screens::review::response_input::{CausePurpose, ResponseInput};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::page::{PageScroll, TextPage};

/// Draws what is typed at the foot, or picked in place of the findings.
pub(super) fn draw(
    canvas: &mut Canvas,
    review: &OpenReview,
    (x, y, width, height): (usize, usize, usize, usize),
) {
    let (prompt, about, line) = match &review.asking {
        ResponseInput::Nothing => return,
        ResponseInput::Cause(causes, purpose) => {
            canvas.clear((x, y, width, height));
            let page = list(causes, *purpose, width);
            return page.draw(canvas, (x, y, height), &review.scroll);
        }
        ResponseInput::Doubt(line) => (tr!("I hold against it >"), "", line),
        ResponseInput::Remark(line) => (tr!("note >"), "", line),
        ResponseInput::Strike(line) => (tr!("coach: why >"), "", line),
        ResponseInput::OwnCause(line) => (tr!("because I >"), "", line),
        ResponseInput::Reword(cause, line) => (tr!("in other words >"), cause.as_str(), line),
        ResponseInput::Words(cause, line) => (tr!("in your words >"), cause.as_str(), line),
    };
    let bottom = canvas.height() - 2;
    let mut page = TextPage::new(canvas.width());
    if !about.is_empty() {
        page.say(&tr!("You missed it because you: {about}"), TextStyle::PLAIN);
    }
    let top = bottom.saturating_sub(page.len());
    canvas.clear((0, top.min(bottom - 1), canvas.width(), page.len() + 2));
    page.draw(canvas, (0, top, page.len()), &PageScroll::default());
    chrome::entry_line(canvas, bottom, prompt, line);
}

fn list(causes: &[String], purpose: CausePurpose, width: usize) -> TextPage {
    let mut page = TextPage::new(width);
    let head = match purpose {
        CausePurpose::Give => tr!("Why did you miss it? Because you"),
        CausePurpose::Remove => tr!("Which one goes from your list?"),
        CausePurpose::Reword => tr!("Which one gets other words?"),
    };
    page.say(head, TextStyle::PLAIN.bold());
    for (i, cause) in causes.iter().enumerate() {
        page.hanging(&format!("{} ", i + 1), shown_cause(cause), TextStyle::PLAIN);
    }
    page.hanging(
        "0 ",
        tr!("another cause, in your own words"),
        TextStyle::PLAIN,
    );
    page
}

/// His lines against the review, and what was answered.
pub(super) fn doubts(review: &OpenReview, width: usize) -> TextPage {
    let mut page = TextPage::new(width);
    page.say(tr!("Your lines against it"), TextStyle::ACCENT);
    let requests = &review.requests;
    if requests.is_asking() {
        page.say(tr!("Looking for an answer ..."), TextStyle::QUIET);
    }
    for answered in requests.answered.iter().rev() {
        match answered {
            Err(words) => page.say(words, TextStyle::ALERT),
            Ok(answered) => {
                let line = tr!("You: {}.", answered.line.join(" "));
                page.say(&line, TextStyle::PLAIN.bold());
                let reply = match answered.reply.as_slice() {
                    [] => tr!("The game is over there.").to_owned(),
                    moves => tr!("Answer: {}.", moves.join(" ")),
                };
                page.say(&reply, TextStyle::PLAIN);
                let words = tr!("You then stand: {}.", answered.standing);
                page.say(&words, TextStyle::PLAIN);
            }
        }
    }
    let earlier = review.attempt.doubts().len();
    let told = requests.answered.iter().filter(|a| a.is_ok()).count();
    let before = review.attempt.doubts().iter();
    for (_, line) in before.take(earlier.saturating_sub(told)) {
        page.say(&tr!("earlier: {line}"), TextStyle::QUIET);
    }
    page
}

/// Where the position comes from, with its published solution and whether the judge agrees.
pub(super) fn source(review: &OpenReview, width: usize) -> TextPage {
    let mut page = TextPage::new(width);
    let Some(source) = &review.source else {
        let words = tr!("This position comes from no collection.");
        page.say(words, TextStyle::QUIET);
        circumstances(review, &mut page);
        return page;
    };
    page.say(&source.title, TextStyle::PLAIN.bold());
    page.say(&source.source, TextStyle::QUIET);
    let grade = source.grade.map(|g| tr!("Difficulty: {g} of 5"));
    let about = source.lines.iter().chain(&source.note);
    for line in about.chain(&grade) {
        page.say(line, TextStyle::PLAIN);
    }
    page.say(&agreement(review), TextStyle::PLAIN);
    circumstances(review, &mut page);
    page
}

/// When and how it was written.
fn circumstances(review: &OpenReview, page: &mut TextPage) {
    page.gap();
    for words in &review.circumstances {
        page.say(words, TextStyle::QUIET);
    }
}

/// Whether the judge agrees with the published solution.
fn agreement(review: &OpenReview) -> String {
    if review.requests.is_proving() {
        return tr!("Asking whether the judge agrees ...").to_owned();
    }
    match &review.requests.proved {
        None => String::new(),
        Some(Err(words)) => tr!("Whether the judge agrees is not known: {words}"),
        Some(Ok(proved)) if proved.doubts.is_empty() => tr!("The judge agrees.").to_owned(),
        Some(Ok(proved)) => tr!("The judge does not agree: {}.", proved.doubts.join("; ")),
    }
}
