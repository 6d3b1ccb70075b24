//! The review screen: what held, the board of the moment, one finding, and the two lines.

use std::collections::HashSet;

use shakmaty::{Color, Position};

use crate::board::Line;
use crate::review::{Class, Finding, Review};
use crate::text;
use crate::tui::forms::drill_source::DrillSource;
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::screens::review::measures_pane;
use crate::tui::screens::review::open_review::{OpenReview, ReviewPane};
use crate::tui::screens::review::response_input::{CausePurpose, ResponseInput};
use crate::tui::widgets::board::{BoardView, Scale};
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
pub(super) struct ReviewView<'a>(pub &'a OpenReview);

impl ReviewView<'_> {
    pub fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let used = self.0.attempt.locked_ms().unwrap_or(0);
        let used = used.saturating_sub(self.0.attempt.started_ms().unwrap_or(0));
        let tree = self.0.attempt.tree();
        let choice = self.0.attempt.choice().map(|c| tree.san(c));
        let choice = choice.as_deref().unwrap_or("nothing");
        let title = format!("{}: you chose {choice}", self.0.label);
        chrome::title(canvas, &title, &format!("Locked {}.", text::clock(used)));
        let y = self.draw_held(canvas);
        let scale = Scale::fitting(canvas);
        self.draw_board(canvas, ctx, (0, y), scale);
        let x = scale.width() + 3;
        let lines = (y + scale.height() + 2).max(canvas.height().saturating_sub(BELOW));
        let area = (x, y, canvas.width() - x, lines - y - 1);
        let below = self.draw_rows(canvas, ctx, lines);
        match (self.0.pane, &self.0.source) {
            (ReviewPane::Tree, _) => self.draw_tree(canvas, ctx, area),
            (ReviewPane::Source, source) => {
                draw_source(canvas, area, source.as_ref(), &self.agreement());
            }
            (ReviewPane::Figures, _) => match self.0.snapshot.whole() {
                Some(review) => measures_pane::draw(canvas, area, review, ctx.display.glyphs.ascii),
                None => later(canvas, area),
            },
            (ReviewPane::Doubts, _) => self.draw_doubts(canvas, area),
            (ReviewPane::Findings, _) => self.draw_findings(canvas, area),
        }
        if self.0.numbers {
            let area = (0, below, canvas.width(), 2);
            match self.0.snapshot.whole() {
                Some(review) => {
                    canvas.put_wrapped(area, &numbers(review, self.0.finding()), TextStyle::QUIET);
                }
                None => later(canvas, area),
            }
        }
        self.draw_asking(canvas, area);
        if let Some(notice) = &self.0.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        let place = self
            .0
            .key_contexts()
            .first()
            .copied()
            .unwrap_or(KeyContext::Review);
        chrome::bar(canvas, place);
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
        match &self.0.asking {
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
        if self.0.requests.is_asking() {
            y = put(canvas, y, "Looking for an answer ...", TextStyle::QUIET);
        }
        for answered in self.0.requests.answered.iter().rev() {
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
        let earlier = self.0.attempt.doubts().len();
        let told = self
            .0
            .requests
            .answered
            .iter()
            .filter(|a| a.is_ok())
            .count();
        for (_, line) in self
            .0
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
        if self.0.requests.is_proving() {
            return "Asking whether the judge agrees ...".to_owned();
        }
        match &self.0.requests.proved {
            None => String::new(),
            Some(Err(words)) => format!("Whether the judge agrees is not known: {words}"),
            Some(Ok(proved)) if proved.doubts.is_empty() => "The judge agrees.".to_owned(),
            Some(Ok(proved)) => format!("The judge does not agree: {}.", proved.doubts.join("; ")),
        }
    }

    /// What the player has answered to the finding.
    fn answers(&self) -> Vec<String> {
        let why = self.0.explained().map(|e| match e.text.as_str() {
            "" => format!("You: {}.", e.cause),
            text => format!("You: {}; {text}.", e.cause),
        });
        let note = self.0.remarked().map(|r| format!("Your note: {r}"));
        let struck = self.0.contested();
        let struck = struck.then(|| "You do not let it stand before your coach.".to_owned());
        why.into_iter().chain(note).chain(struck).collect()
    }

    /// The first line is always what held.
    fn draw_held(&self, canvas: &mut Canvas) -> usize {
        let notes: Vec<&str> = self
            .0
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
        let y = canvas.put_wrapped((0, 1, canvas.width(), 2), &words, TextStyle::PLAIN);
        canvas.put_wrapped((0, y, canvas.width(), 2), &self.state(), TextStyle::QUIET);
        y + 2
    }

    /// How deep the calculation was, or how far the review has come.
    fn state(&self) -> String {
        match self.0.snapshot.state() {
            Ok(review) => {
                let depth = &review.depth;
                let (needed, reached, sound) = (depth.needed, depth.reached, depth.sound);
                format!("Depth in half-moves: needed {needed}, reached {reached}, sound {sound}.")
            }
            Err(state) => state,
        }
    }

    fn draw_board(&self, canvas: &mut Canvas, ctx: &Context, (x, y): (usize, usize), scale: Scale) {
        let line = self.0.position();
        let last = line.moves().last();
        let marked: Vec<_> = last
            .map(|mv| mv.from().into_iter().chain([mv.to()]).collect())
            .unwrap_or_default();
        let view = BoardView {
            board: line.position().board(),
            look: self.0.look,
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
        let all = self.0.snapshot.findings();
        if let Some(moment) = &self.0.moment {
            let words = format!("Not seen here: {}.", moment.words());
            let y = canvas.put_wrapped((x, y, width, 3), &words, TextStyle::ALERT.bold());
            // As long as the review is not whole, one may still come.
            if self.0.snapshot.whole().is_some() {
                let words = "No finding was made of it: it changed little, or another one tells it. \
                             n shows the findings.";
                canvas.put_wrapped((x, y, width, 4), words, TextStyle::PLAIN);
            }
            return;
        }
        let Some(finding) = self.0.finding() else {
            let words = "Nothing was overlooked: your tree holds.";
            canvas.put_wrapped((x, y, width, 2), words, TextStyle::PLAIN.bold());
            return;
        };
        let others = self.others();
        let bottom = y + height;
        let rows = height.saturating_sub(others.len() + 2);
        let so_far = if self.0.snapshot.whole().is_some() {
            ""
        } else {
            " so far"
        };
        let of = format!("{} of {}{so_far}", self.0.at + 1, all.len());
        let style = TextStyle::ALERT.bold();
        let behind = canvas.put(x, y, &of, style) + 2;
        let head = (behind, y, (x + width).saturating_sub(behind), 2);
        let told = canvas.put_wrapped(head, &heading(finding), style);
        let question = text::wrap(&finding.question, width).len().min(2);
        // A heading of two rows takes one from the sentence.
        let room = (rows + 1).saturating_sub(question + told - y);
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
        let all: Vec<_> = self.0.snapshot.findings().iter().enumerate().collect();
        let (before, from) = all.split_at(self.0.at.min(all.len()));
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
        let marks = self.0.marks();
        let cursor = self
            .0
            .attempt
            .tree()
            .nodes()
            .nth(self.0.scrolled)
            .map(|(id, _)| id);
        let view = TreeView {
            tree: self.0.attempt.tree(),
            choice: self.0.attempt.choice(),
            cursor,
            candidates_only: false,
            folded: &HashSet::new(),
            mark: &marks,
            ascii: ctx.display.glyphs.ascii,
        };
        view.draw(canvas, (x, y, width, height));
    }

    /// The two lines; gives the row below them.
    fn draw_rows(&self, canvas: &mut Canvas, ctx: &Context, y: usize) -> usize {
        let rows = self.0.rows();
        let first = first_number(self.0.attempt.tree().root());
        let mut row = LineRow {
            canvas,
            shared: rows.shared,
            first,
            ascii: ctx.display.glyphs.ascii,
            y,
        };
        if self.0.finding().is_none() && self.0.moment.is_none() {
            row.draw("your line", &rows.own, Some(self.0.step));
            return row.y;
        }
        row.draw("your line", &rows.own, self.0.own.then_some(self.0.step));
        let name = if self.0.his_side {
            "his plan"
        } else {
            "the truth"
        };
        row.draw(name, &rows.truth, (!self.0.own).then_some(self.0.step));
        row.y
    }
}

/// Number of the first half-move, White's first move of the game being 2.
fn first_number(root: &Line) -> usize {
    let full = usize::try_from(root.root().fullmoves().get()).unwrap_or(1);
    2 * full + usize::from(root.player() == Color::Black)
}

/// Column in which the moves of the two lines begin.
const INDENT: usize = 13;

struct LineRow<'a> {
    canvas: &'a mut Canvas,
    shared: usize,
    first: usize,
    ascii: bool,
    y: usize,
}

impl LineRow<'_> {
    /// Draws one line over at most two rows; `step` marks how far the board has followed it.
    fn draw(&mut self, name: &str, moves: &[String], step: Option<usize>) {
        let sign = if step.is_some() { ">" } else { " " };
        self.canvas.put(0, self.y, sign, TextStyle::ACCENT.bold());
        self.canvas.put(2, self.y, name, TextStyle::QUIET);
        let mut x = INDENT;
        for (i, san) in moves.iter().enumerate() {
            let number = number(self.first + i, i == 0, self.ascii);
            let differs = i == self.shared;
            // The underline is not visible everywhere: the brackets say it too.
            let san = if differs {
                format!("[{san}]")
            } else {
                san.clone()
            };
            if x > INDENT && x + text::width(&number) + text::width(&san) > self.canvas.width() {
                self.y += 1;
                x = INDENT;
            }
            x = self.canvas.put(x, self.y, &number, TextStyle::QUIET);
            let style = if differs {
                TextStyle::PLAIN.bold().underlined()
            } else {
                TextStyle::PLAIN
            };
            let style = style.turned(step == Some(i + 1));
            x = self.canvas.put(x, self.y, &san, style) + 1;
        }
        if moves.len() <= self.shared {
            self.end(x);
        }
        self.y += 1;
    }
}

impl LineRow<'_> {
    fn end(&mut self, x: usize) {
        const WORDS: &str = "(ends here)";
        let fits = x + WORDS.len() <= self.canvas.width();
        self.y += usize::from(!fits);
        self.canvas.put(
            if fits { x } else { INDENT },
            self.y,
            WORDS,
            TextStyle::QUIET,
        );
    }
}

fn number(half: usize, first: bool, ascii: bool) -> String {
    match (half % 2, first) {
        (0, _) => format!("{}.", half / 2),
        (_, true) if ascii => format!("{}...", half / 2),
        (_, true) => format!("{}…", half / 2),
        _ => String::new(),
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
        Class::Counted => "",
        Class::Close => " (close: not counted)",
        Class::Aside => " (does not touch your choice)",
        Class::Withheld => " (not counted: hardly to be found)",
        Class::Overruled => " (struck by your coach: not counted)",
    };
    format!("{}{aside}", finding.kind.words())
}

fn folded(finding: &Finding) -> String {
    let (kind, move_) = (finding.kind.words(), &finding.resource);
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
