//! The review screen: what held, the board of the moment, one finding, and the two lines.

use std::collections::HashSet;

use shakmaty::Position;

use crate::board::Line;
use crate::review::{Finding, FindingPart, FindingStatus, Review, depth_words};
use crate::text;
use crate::tui::forms::drill_source::DrillSource;
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::screens::review::measures_pane;
use crate::tui::screens::review::open_review::{OpenReview, ReviewPane};
use crate::tui::screens::review::response_input::{CausePurpose, ResponseInput};
use crate::tui::screens::review::two_lines;
use crate::tui::widgets::board::{BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::position_text;
use crate::tui::widgets::variation_tree::TreeView;

/// Findings that are listed beside the one that is told.
const LISTED: usize = 3;
/// Rows below the board and the findings: two for each of the two lines, two for the scores, the
/// bottom line, and one between.
const BELOW: usize = 8;

/// Shows the state.
pub(super) struct ReviewView<'a> {
    pub review: &'a OpenReview,
}

impl ReviewView<'_> {
    pub fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let used = self.review.attempt.locked_ms().unwrap_or(0);
        let used = used.saturating_sub(self.review.attempt.started_ms().unwrap_or(0));
        let tree = self.review.attempt.tree();
        let choice = self.review.attempt.choice().map(|c| tree.san(c));
        let choice = choice.as_deref().unwrap_or("nothing");
        let title = format!("{}: you chose {choice}", self.review.label);
        chrome::title(canvas, &title, &format!("Locked {}.", text::clock(used)));
        let y = self.draw_held(canvas);
        let scale = BoardScale::fitting(canvas);
        self.draw_board(canvas, ctx, (0, y), scale);
        let x = scale.width() + 3;
        let lines = (y + scale.height() + 2).max(canvas.height().saturating_sub(BELOW));
        let area = (x, y, canvas.width() - x, lines - y - 1);
        let below = two_lines::draw(canvas, self.review, lines, ctx.display.glyphs.ascii);
        match (self.review.pane, &self.review.source) {
            (ReviewPane::Tree, _) => self.draw_tree(canvas, ctx, area),
            (ReviewPane::Source, source) => {
                draw_source(canvas, area, source.as_ref(), &self.agreement());
            }
            (ReviewPane::Figures, _) => match self.review.snapshot.whole() {
                Some(review) => measures_pane::draw(canvas, area, review, ctx.display.glyphs.ascii),
                None => later(canvas, area),
            },
            (ReviewPane::Doubts, _) => self.draw_doubts(canvas, area),
            (ReviewPane::Findings, _) => self.draw_findings(canvas, area),
        }
        if self.review.numbers {
            let area = (0, below, canvas.width(), 2);
            match self.review.snapshot.whole() {
                Some(review) => {
                    canvas.put_wrapped(
                        area,
                        &numbers(review, self.review.finding()),
                        TextStyle::QUIET,
                    );
                }
                None => later(canvas, area),
            }
        }
        self.draw_asking(canvas, area);
        if let Some(notice) = &self.review.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        let context = self
            .review
            .key_contexts()
            .first()
            .copied()
            .unwrap_or(KeyContext::Review);
        chrome::bar(canvas, context);
    }

    /// What is typed at the foot, or picked in place of the findings.
    fn draw_asking(
        &self,
        canvas: &mut Canvas,
        (x, y, width, height): (usize, usize, usize, usize),
    ) {
        let bottom = canvas.height() - 2;
        let typed = |canvas: &mut Canvas, prompt: &str, line: &LineEditor| {
            canvas.clear((0, bottom - 1, canvas.width(), 2));
            chrome::entry_line(canvas, bottom, prompt, line);
        };
        match &self.review.asking {
            ResponseInput::Nothing => {}
            ResponseInput::Doubt(line) => typed(canvas, "I hold against it >", line),
            ResponseInput::Remark(line) => typed(canvas, "note >", line),
            ResponseInput::Strike(line) => typed(canvas, "coach: why >", line),
            ResponseInput::OwnCause(line) => typed(canvas, "because I >", line),
            ResponseInput::Reword(_, line) => typed(canvas, "in other words >", line),
            ResponseInput::Words(cause, line) => {
                typed(canvas, &format!("{cause}; in your words >"), line);
            }
            ResponseInput::Cause(causes, picking) => {
                canvas.clear((x, y, width, height));
                let head = match picking {
                    CausePurpose::Give => "Why did you miss it? Because you",
                    CausePurpose::Remove => "Which one goes from your list?",
                    CausePurpose::Reword => "Which one gets other words?",
                };
                let mut y = canvas.put_wrapped((x, y, width, 2), head, TextStyle::PLAIN.bold());
                for (i, cause) in causes.iter().enumerate() {
                    canvas.put(x, y, &(i + 1).to_string(), TextStyle::ACCENT.bold());
                    y = canvas.put_wrapped((x + 2, y, width - 2, 1), cause, TextStyle::PLAIN);
                }
                canvas.put(x, y, "0", TextStyle::ACCENT.bold());
                canvas.put(
                    x + 2,
                    y,
                    "another cause, in your own words",
                    TextStyle::PLAIN,
                );
            }
        }
    }

    /// His lines against the review, and what was answered.
    fn draw_doubts(
        &self,
        canvas: &mut Canvas,
        (x, y, width, height): (usize, usize, usize, usize),
    ) {
        let bottom = y + height;
        let mut y =
            canvas.put_wrapped((x, y, width, 1), "Your lines against it", TextStyle::ACCENT);
        let put = |canvas: &mut Canvas, y: usize, words: &str, style| {
            let rows = bottom.saturating_sub(y).min(3);
            canvas.put_wrapped((x, y, width, rows), words, style)
        };
        if self.review.requests.is_asking() {
            y = put(canvas, y, "Looking for an answer ...", TextStyle::QUIET);
        }
        for answered in self.review.requests.answered.iter().rev() {
            match answered {
                Err(words) => y = put(canvas, y, words, TextStyle::ALERT),
                Ok(answered) => {
                    let line = format!("You: {}.", answered.line.join(" "));
                    y = put(canvas, y, &line, TextStyle::PLAIN.bold());
                    let reply = match answered.reply.as_slice() {
                        [] => "The game is over there.".to_owned(),
                        moves => format!("Answer: {}.", moves.join(" ")),
                    };
                    y = put(canvas, y, &reply, TextStyle::PLAIN);
                    let words = format!("You then stand: {}.", answered.standing);
                    y = put(canvas, y, &words, TextStyle::PLAIN);
                }
            }
        }
        let earlier = self.review.attempt.doubts().len();
        let told = self
            .review
            .requests
            .answered
            .iter()
            .filter(|a| a.is_ok())
            .count();
        for (_, line) in self
            .review
            .attempt
            .doubts()
            .iter()
            .take(earlier.saturating_sub(told))
        {
            y = put(canvas, y, &format!("earlier: {line}"), TextStyle::QUIET);
        }
    }

    /// Whether the judge agrees with the published solution.
    fn agreement(&self) -> String {
        if self.review.requests.is_proving() {
            return "Asking whether the judge agrees ...".to_owned();
        }
        match &self.review.requests.proved {
            None => String::new(),
            Some(Err(words)) => format!("Whether the judge agrees is not known: {words}"),
            Some(Ok(proved)) if proved.doubts.is_empty() => "The judge agrees.".to_owned(),
            Some(Ok(proved)) => format!("The judge does not agree: {}.", proved.doubts.join("; ")),
        }
    }

    /// What the player has answered to the finding.
    fn answers(&self) -> Vec<String> {
        let why = self.review.explained().map(|e| match e.text.as_str() {
            "" => format!("You: {}.", e.cause),
            text => format!("You: {}; {text}.", e.cause),
        });
        let note = self.review.remarked().map(|r| format!("Your note: {r}"));
        let struck = self.review.contested();
        let struck = struck.then(|| "You do not let it stand before your coach.".to_owned());
        why.into_iter().chain(note).chain(struck).collect()
    }

    /// The sentence the review opens with, once it is whole, then what held.
    fn draw_held(&self, canvas: &mut Canvas) -> usize {
        let notes: Vec<&str> = self
            .review
            .snapshot
            .right()
            .iter()
            .map(|r| r.note.as_str())
            .collect();
        let words = match notes.as_slice() {
            [] => "What held: nothing yet that decided something.".to_owned(),
            [only] => format!("What held: {only}"),
            [first, rest @ ..] => format!("What held: {first} And {} more (t).", rest.len()),
        };
        // One row, so that the board keeps its place: the findings below say it in full.
        let opening = self.review.snapshot.whole().map(|r| r.opening.as_str());
        let style = TextStyle::PLAIN.bold();
        let y = opening.map_or(1, |words| {
            canvas.put_wrapped((0, 1, canvas.width(), 1), words, style)
        });
        let rows = if opening.is_some() { 1 } else { 2 };
        let y = canvas.put_wrapped((0, y, canvas.width(), rows), &words, TextStyle::PLAIN);
        canvas.put_wrapped(
            (0, y, canvas.width(), rows),
            &self.state(),
            TextStyle::QUIET,
        );
        y + rows
    }

    /// How deep the calculation was, or how far the review has come.
    fn state(&self) -> String {
        match self.review.snapshot.state() {
            Ok(review) => depth_words(&review.depth),
            Err(state) => state,
        }
    }

    fn draw_board(
        &self,
        canvas: &mut Canvas,
        ctx: &Context,
        (x, y): (usize, usize),
        scale: BoardScale,
    ) {
        let line = self.review.position();
        let last = line.moves().last();
        let marked: Vec<_> = last
            .map(|mv| mv.from().into_iter().chain([mv.to()]).collect())
            .unwrap_or_default();
        let view = BoardView {
            board: line.position().board(),
            look: self.review.look,
            glyphs: ctx.display.glyphs,
            marked: &marked,
        };
        view.draw(canvas, x, y, scale);
        canvas.put(x + 2, y + scale.height(), &caption(&line), TextStyle::QUIET);
    }

    fn draw_findings(
        &self,
        canvas: &mut Canvas,
        (x, y, width, height): (usize, usize, usize, usize),
    ) {
        let all = self.review.snapshot.findings();
        if let Some(moment) = &self.review.moment {
            let words = format!("Not seen here: {}.", moment.words());
            let y = canvas.put_wrapped((x, y, width, 3), &words, TextStyle::ALERT.bold());
            // As long as the review is not whole, one may still come.
            if self.review.snapshot.whole().is_some() {
                let words = "No finding was made of it: it changed little, or another one tells it. \
                             n shows the findings.";
                canvas.put_wrapped((x, y, width, 4), words, TextStyle::PLAIN);
            }
            return;
        }
        let Some(finding) = self.review.finding() else {
            let words = "Nothing was overlooked: your tree holds.";
            canvas.put_wrapped((x, y, width, 2), words, TextStyle::PLAIN.bold());
            return;
        };
        let others = self.others();
        let bottom = y + height;
        let rows = height.saturating_sub(others.len() + 2);
        let so_far = if self.review.snapshot.whole().is_some() {
            ""
        } else {
            " so far"
        };
        let of = format!("{} of {}{so_far}", self.review.at + 1, all.len());
        let style = TextStyle::ALERT.bold();
        let behind = canvas.put(x, y, &of, style) + 2;
        let head = (behind, y, (x + width).saturating_sub(behind), 2);
        let told = canvas.put_wrapped(head, &heading(finding), style);
        let question = text::wrap(&finding.question, width).len().min(2);
        // A heading of two rows takes one from the sentence.
        // What he has answered is not crowded out.
        let room = (rows + 1).saturating_sub(question + told - y + self.answers().len());
        let at = canvas.put_wrapped((x, told, width, room), &finding.sentence, TextStyle::PLAIN);
        let mut at = canvas.put_wrapped((x, at, width, 2), &finding.question, TextStyle::ACCENT);
        for words in self.answers() {
            let room = (bottom - others.len()).saturating_sub(at).min(2);
            at = canvas.put_wrapped((x, at, width, room), &words, TextStyle::QUIET);
        }
        for (i, (number, other)) in others.iter().enumerate() {
            let line = format!("{}  {}", number + 1, folded(other));
            canvas.put(x, bottom - others.len() + i, &line, TextStyle::QUIET);
        }
    }

    /// The findings that are only named: those after the present one first.
    fn others(&self) -> Vec<(usize, &Finding)> {
        let all: Vec<_> = self.review.snapshot.findings().iter().enumerate().collect();
        let (before, from) = all.split_at(self.review.at.min(all.len()));
        let mut others: Vec<_> = from.iter().skip(1).chain(before).copied().collect();
        others.truncate(LISTED - 1);
        others.sort_by_key(|(i, _)| *i);
        others
    }

    fn draw_tree(
        &self,
        canvas: &mut Canvas,
        ctx: &Context,
        (x, y, width, height): (usize, usize, usize, usize),
    ) {
        let marks = self.review.marks();
        let cursor = self
            .review
            .attempt
            .tree()
            .nodes()
            .nth(self.review.scrolled)
            .map(|(id, _)| id);
        let view = TreeView {
            tree: self.review.attempt.tree(),
            choice: self.review.attempt.choice(),
            cursor,
            candidates_only: false,
            folded: &HashSet::new(),
            mark: &marks,
            ascii: ctx.display.glyphs.ascii,
        };
        view.draw(canvas, (x, y, width, height));
    }
}

/// Whose move it is after which move.
fn caption(line: &Line) -> String {
    let turn = position_text::side(line.turn());
    match line.sans().last() {
        Some(san) => format!("after {san}: {turn} to move"),
        None => format!("{turn} to move"),
    }
}

fn heading(finding: &Finding) -> String {
    let aside = match finding.class {
        FindingStatus::Counted => "",
        FindingStatus::Close => " (close: not counted)",
        FindingStatus::Aside if finding.part == FindingPart::Choice => {
            " (on your way: not counted)"
        }
        FindingStatus::Aside => " (another candidate: not counted)",
        FindingStatus::Withheld => " (few would find it: not counted)",
        FindingStatus::Overruled => " (struck by your coach: not counted)",
    };
    format!("{}{aside}", finding.kind.label())
}

fn folded(finding: &Finding) -> String {
    let (kind, move_) = (finding.kind.label(), &finding.resource);
    match finding.paths.first().map(Vec::as_slice) {
        None | Some([]) => format!("{kind}: {move_}"),
        Some(path) => format!("{kind}: {move_} after {}", path.join(" ")),
    }
}

/// Expected scores, on asking only.
fn numbers(review: &Review, finding: Option<&Finding>) -> String {
    let choice = review
        .expected
        .choice
        .map_or("-".to_owned(), |e| e.to_string());
    let mut words = format!(
        "Expected score: best {}, your choice {choice}.",
        review.expected.best
    );
    if let Some(f) = finding {
        words.push_str(&format!(
            " Gap {:.2}, effect on your choice {:.2}.",
            f.gap, f.effect
        ));
    }
    words.push_str(&format!(
        " Judge: {}, {} nodes per search.",
        review.judge, review.nodes
    ));
    words
}

/// In place of what only the whole review knows.
fn later(canvas: &mut Canvas, (x, y, width, _): (usize, usize, usize, usize)) {
    let words = "This comes with the whole review.";
    canvas.put_wrapped((x, y, width, 2), words, TextStyle::QUIET);
}

fn draw_source(
    canvas: &mut Canvas,
    (x, y, width, height): (usize, usize, usize, usize),
    source: Option<&DrillSource>,
    agreement: &str,
) {
    let Some(source) = source else {
        let words = "This position comes from no collection.";
        canvas.put_wrapped((x, y, width, 2), words, TextStyle::QUIET);
        return;
    };
    let bottom = y + height;
    let mut y = canvas.put_wrapped((x, y, width, 2), &source.title, TextStyle::PLAIN.bold());
    y = canvas.put_wrapped((x, y, width, 2), &source.source, TextStyle::QUIET);
    let agreement = (!agreement.is_empty()).then(|| agreement.to_owned());
    let grade = source.grade.map(|g| format!("Difficulty: {g} of 5"));
    let about = source.lines.iter().chain(&source.note);
    for line in about.chain(&grade).chain(&agreement) {
        y = canvas.put_wrapped(
            (x, y, width, bottom.saturating_sub(y).min(4)),
            line,
            TextStyle::PLAIN,
        );
    }
}
