//! The review screen: what held, the board of the moment, one finding, and the two lines.

use std::collections::HashSet;

use shakmaty::{Color, Position};

use crate::board::Line;
use crate::review::{Finding, FindingStatus, Review};
use crate::text;
use crate::tui::input::bindings::Place;
use crate::tui::router::Desk;
use crate::tui::screens::review::measures_pane;
use crate::tui::screens::review::responses::{Asking, Picking};
use crate::tui::screens::review::screen::{Pane, ReviewScreen, Source};
use crate::tui::widgets::board::{BoardView, Scale};
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::line_editor::EntryLine;
use crate::tui::widgets::variation_tree::TreeView;

/// Findings that are listed beside the one that is told.
const LISTED: usize = 3;
/// Rows below the board and the findings: two for each of the two lines, two for the scores, the
/// bottom line, and one between.
const BELOW: usize = 8;

impl ReviewScreen {
    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let used = self.attempt.locked_ms().unwrap_or(0);
        let used = used.saturating_sub(self.attempt.started_ms().unwrap_or(0));
        let tree = self.attempt.tree();
        let choice = self.attempt.choice().map(|c| tree.san(c));
        let choice = choice.as_deref().unwrap_or("nothing");
        let title = format!("{}: you chose {choice}", self.label);
        chrome::title(page, &title, &format!("Locked {}.", text::clock(used)));
        let y = self.draw_held(page);
        let scale = Scale::fitting(page);
        self.draw_board(page, desk, (0, y), scale);
        let x = scale.width() + 3;
        let lines = (y + scale.height() + 2).max(page.height().saturating_sub(BELOW));
        let area = (x, y, page.width() - x, lines - y - 1);
        let below = self.draw_rows(page, desk, lines);
        match (self.pane, &self.source) {
            (Pane::Tree, _) => self.draw_tree(page, desk, area),
            (Pane::Source, source) => {
                draw_source(page, area, source.as_ref(), &self.agreement());
            }
            (Pane::Figures, _) => match self.told.whole() {
                Some(review) => measures_pane::draw(page, area, review, desk.glyphs.ascii),
                None => later(page, area),
            },
            (Pane::Doubts, _) => self.draw_doubts(page, area),
            (Pane::Findings, _) => self.draw_findings(page, area),
        }
        if self.numbers {
            let area = (0, below, page.width(), 2);
            match self.told.whole() {
                Some(review) => {
                    page.put_wrapped(area, &numbers(review, self.finding()), Ink::QUIET);
                }
                None => later(page, area),
            }
        }
        self.draw_asking(page, area);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        let place = self.places().first().copied().unwrap_or(Place::Review);
        chrome::bar(page, place);
    }

    /// What is typed at the foot, or picked in place of the findings.
    fn draw_asking(&self, page: &mut Page, (x, y, width, height): (usize, usize, usize, usize)) {
        let bottom = page.height() - 2;
        let typed = |page: &mut Page, prompt: &str, line: &EntryLine| {
            page.clear((0, bottom - 1, page.width(), 2));
            chrome::entry_line(page, bottom, prompt, line);
        };
        match &self.asking {
            Asking::Nothing => {}
            Asking::Doubt(line) => typed(page, "I hold against it >", line),
            Asking::Remark(line) => typed(page, "note >", line),
            Asking::Strike(line) => typed(page, "coach: why >", line),
            Asking::OwnCause(line) => typed(page, "because I >", line),
            Asking::Reword(_, line) => typed(page, "in other words >", line),
            Asking::Words(cause, line) => {
                typed(page, &format!("{cause}; in your words >"), line);
            }
            Asking::Cause(causes, picking) => {
                page.clear((x, y, width, height));
                let head = match picking {
                    Picking::Give => "Why did you miss it? Because you",
                    Picking::Remove => "Which one goes from your list?",
                    Picking::Reword => "Which one gets other words?",
                };
                let mut y = page.put_wrapped((x, y, width, 2), head, Ink::PLAIN.bold());
                for (i, cause) in causes.iter().enumerate() {
                    page.put(x, y, &(i + 1).to_string(), Ink::ACCENT.bold());
                    y = page.put_wrapped((x + 2, y, width - 2, 1), cause, Ink::PLAIN);
                }
                page.put(x, y, "0", Ink::ACCENT.bold());
                page.put(x + 2, y, "another cause, in your own words", Ink::PLAIN);
            }
        }
    }

    /// His lines against the review, and what was answered.
    fn draw_doubts(&self, page: &mut Page, (x, y, width, height): (usize, usize, usize, usize)) {
        let bottom = y + height;
        let mut y = page.put_wrapped((x, y, width, 1), "Your lines against it", Ink::ACCENT);
        let put = |page: &mut Page, y: usize, words: &str, ink| {
            let rows = bottom.saturating_sub(y).min(3);
            page.put_wrapped((x, y, width, rows), words, ink)
        };
        if self.behind.is_asking() {
            y = put(page, y, "Looking for an answer ...", Ink::QUIET);
        }
        for answered in self.behind.answered.iter().rev() {
            match answered {
                Err(words) => y = put(page, y, words, Ink::ALERT),
                Ok(answered) => {
                    let line = format!("You: {}.", answered.line.join(" "));
                    y = put(page, y, &line, Ink::PLAIN.bold());
                    let reply = match answered.reply.as_slice() {
                        [] => "The game is over there.".to_owned(),
                        moves => format!("Answer: {}.", moves.join(" ")),
                    };
                    y = put(page, y, &reply, Ink::PLAIN);
                    let words = format!("You then stand: {}.", answered.standing);
                    y = put(page, y, &words, Ink::PLAIN);
                }
            }
        }
        let earlier = self.attempt.doubts().len();
        let told = self.behind.answered.iter().filter(|a| a.is_ok()).count();
        for (_, line) in self
            .attempt
            .doubts()
            .iter()
            .take(earlier.saturating_sub(told))
        {
            y = put(page, y, &format!("earlier: {line}"), Ink::QUIET);
        }
    }

    /// Whether the judge agrees with the published solution.
    fn agreement(&self) -> String {
        if self.behind.is_proving() {
            return "Asking whether the judge agrees ...".to_owned();
        }
        match &self.behind.proved {
            None => String::new(),
            Some(Err(words)) => format!("Whether the judge agrees is not known: {words}"),
            Some(Ok(proved)) if proved.doubts.is_empty() => "The judge agrees.".to_owned(),
            Some(Ok(proved)) => format!("The judge does not agree: {}.", proved.doubts.join("; ")),
        }
    }

    /// What the player has answered to the finding.
    fn answers(&self) -> Vec<String> {
        let why = self.explained().map(|e| match e.text.as_str() {
            "" => format!("You: {}.", e.cause),
            text => format!("You: {}; {text}.", e.cause),
        });
        let note = self.remarked().map(|r| format!("Your note: {r}"));
        let struck = self.contested();
        let struck = struck.then(|| "You do not let it stand before your coach.".to_owned());
        why.into_iter().chain(note).chain(struck).collect()
    }

    /// The first line is always what held.
    fn draw_held(&self, page: &mut Page) -> usize {
        let notes: Vec<&str> = self.told.right().iter().map(|r| r.note.as_str()).collect();
        let words = match notes.as_slice() {
            [] => "What held: nothing yet that decided something.".to_owned(),
            [only] => format!("What held: {only}"),
            [first, rest @ ..] => format!("What held: {first} And {} more (t).", rest.len()),
        };
        let y = page.put_wrapped((0, 1, page.width(), 2), &words, Ink::PLAIN);
        page.put_wrapped((0, y, page.width(), 2), &self.state(), Ink::QUIET);
        y + 2
    }

    /// How deep the calculation was, or how far the review has come.
    fn state(&self) -> String {
        match self.told.state() {
            Ok(review) => {
                let depth = &review.depth;
                let (needed, reached, sound) = (depth.needed, depth.reached, depth.sound);
                format!("Depth in half-moves: needed {needed}, reached {reached}, sound {sound}.")
            }
            Err(state) => state,
        }
    }

    fn draw_board(&self, page: &mut Page, desk: &Desk, (x, y): (usize, usize), scale: Scale) {
        let line = self.position();
        let last = line.moves().last();
        let marked: Vec<_> = last
            .map(|mv| mv.from().into_iter().chain([mv.to()]).collect())
            .unwrap_or_default();
        let view = BoardView {
            board: line.position().board(),
            look: self.look,
            glyphs: desk.glyphs,
            marked: &marked,
        };
        view.draw(page, x, y, scale);
        page.put(x + 2, y + scale.height(), &caption(&line), Ink::QUIET);
    }

    fn draw_findings(&self, page: &mut Page, (x, y, width, height): (usize, usize, usize, usize)) {
        let all = self.told.findings();
        if let Some(moment) = &self.moment {
            let words = format!("Not seen here: {}.", moment.words());
            let y = page.put_wrapped((x, y, width, 3), &words, Ink::ALERT.bold());
            // As long as the review is not whole, one may still come.
            if self.told.whole().is_some() {
                let words = "No finding was made of it: it changed little, or another one tells it. \
                             n shows the findings.";
                page.put_wrapped((x, y, width, 4), words, Ink::PLAIN);
            }
            return;
        }
        let Some(finding) = self.finding() else {
            let words = "Nothing was overlooked: your tree holds.";
            page.put_wrapped((x, y, width, 2), words, Ink::PLAIN.bold());
            return;
        };
        let others = self.others();
        let bottom = y + height;
        let rows = height.saturating_sub(others.len() + 2);
        let so_far = if self.told.whole().is_some() {
            ""
        } else {
            " so far"
        };
        let of = format!("{} of {}{so_far}", self.at + 1, all.len());
        let ink = Ink::ALERT.bold();
        let behind = page.put(x, y, &of, ink) + 2;
        let head = (behind, y, (x + width).saturating_sub(behind), 2);
        let told = page.put_wrapped(head, &heading(finding), ink);
        let question = text::wrap(&finding.question, width).len().min(2);
        // A heading of two rows takes one from the sentence.
        let room = (rows + 1).saturating_sub(question + told - y);
        let at = page.put_wrapped((x, told, width, room), &finding.sentence, Ink::PLAIN);
        let mut at = page.put_wrapped((x, at, width, 2), &finding.question, Ink::ACCENT);
        for words in self.answers() {
            let room = (bottom - others.len()).saturating_sub(at).min(2);
            at = page.put_wrapped((x, at, width, room), &words, Ink::QUIET);
        }
        for (i, (number, other)) in others.iter().enumerate() {
            let line = format!("{}  {}", number + 1, folded(other));
            page.put(x, bottom - others.len() + i, &line, Ink::QUIET);
        }
    }

    /// The findings that are only named: those after the present one first.
    fn others(&self) -> Vec<(usize, &Finding)> {
        let all: Vec<_> = self.told.findings().iter().enumerate().collect();
        let (before, from) = all.split_at(self.at.min(all.len()));
        let mut others: Vec<_> = from.iter().skip(1).chain(before).copied().collect();
        others.truncate(LISTED - 1);
        others.sort_by_key(|(i, _)| *i);
        others
    }

    fn draw_tree(
        &self,
        page: &mut Page,
        desk: &Desk,
        (x, y, width, height): (usize, usize, usize, usize),
    ) {
        let marks = self.marks();
        let cursor = self
            .attempt
            .tree()
            .nodes()
            .nth(self.scrolled)
            .map(|(id, _)| id);
        let view = TreeView {
            tree: self.attempt.tree(),
            choice: self.attempt.choice(),
            cursor,
            candidates_only: false,
            folded: &HashSet::new(),
            mark: &marks,
            ascii: desk.glyphs.ascii,
        };
        view.draw(page, (x, y, width, height));
    }

    /// The two lines; gives the row below them.
    fn draw_rows(&self, page: &mut Page, desk: &Desk, y: usize) -> usize {
        let rows = self.rows();
        let first = first_number(self.attempt.tree().root());
        let mut row = Row {
            page,
            shared: rows.shared,
            first,
            ascii: desk.glyphs.ascii,
            y,
        };
        if self.finding().is_none() && self.moment.is_none() {
            row.draw("your line", &rows.own, Some(self.step));
            return row.y;
        }
        row.draw("your line", &rows.own, self.own.then_some(self.step));
        let name = if self.his_side {
            "his plan"
        } else {
            "the truth"
        };
        row.draw(name, &rows.truth, (!self.own).then_some(self.step));
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

struct Row<'a> {
    page: &'a mut Page,
    shared: usize,
    first: usize,
    ascii: bool,
    y: usize,
}

impl Row<'_> {
    /// Draws one line over at most two rows; `step` marks how far the board has followed it.
    fn draw(&mut self, name: &str, moves: &[String], step: Option<usize>) {
        let sign = if step.is_some() { ">" } else { " " };
        self.page.put(0, self.y, sign, Ink::ACCENT.bold());
        self.page.put(2, self.y, name, Ink::QUIET);
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
            if x > INDENT && x + text::width(&number) + text::width(&san) > self.page.width() {
                self.y += 1;
                x = INDENT;
            }
            x = self.page.put(x, self.y, &number, Ink::QUIET);
            let ink = if differs {
                Ink::PLAIN.bold().underlined()
            } else {
                Ink::PLAIN
            };
            let ink = ink.turned(step == Some(i + 1));
            x = self.page.put(x, self.y, &san, ink) + 1;
        }
        if moves.len() <= self.shared {
            self.end(x);
        }
        self.y += 1;
    }
}

impl Row<'_> {
    fn end(&mut self, x: usize) {
        const WORDS: &str = "(ends here)";
        let fits = x + WORDS.len() <= self.page.width();
        self.y += usize::from(!fits);
        self.page
            .put(if fits { x } else { INDENT }, self.y, WORDS, Ink::QUIET);
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
    let turn = crate::tui::labels::side(line.turn());
    match line.sans().last() {
        Some(san) => format!("after {san}: {turn} to move"),
        None => format!("{turn} to move"),
    }
}

fn heading(finding: &Finding) -> String {
    let aside = match finding.class {
        FindingStatus::Counted => "",
        FindingStatus::Close => " (close: not counted)",
        FindingStatus::Aside => " (does not touch your choice)",
        FindingStatus::Withheld => " (not counted: hardly to be found)",
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
fn later(page: &mut Page, (x, y, width, _): (usize, usize, usize, usize)) {
    let words = "This comes with the whole review.";
    page.put_wrapped((x, y, width, 2), words, Ink::QUIET);
}

fn draw_source(
    page: &mut Page,
    (x, y, width, height): (usize, usize, usize, usize),
    source: Option<&Source>,
    agreement: &str,
) {
    let Some(source) = source else {
        let words = "This position comes from no collection.";
        page.put_wrapped((x, y, width, 2), words, Ink::QUIET);
        return;
    };
    let bottom = y + height;
    let mut y = page.put_wrapped((x, y, width, 2), &source.title, Ink::PLAIN.bold());
    y = page.put_wrapped((x, y, width, 2), &source.source, Ink::QUIET);
    let agreement = (!agreement.is_empty()).then(|| agreement.to_owned());
    let grade = source.grade.map(|g| format!("Difficulty: {g} of 5"));
    let about = source.lines.iter().chain(&source.note);
    for line in about.chain(&grade).chain(&agreement) {
        y = page.put_wrapped(
            (x, y, width, bottom.saturating_sub(y).min(4)),
            line,
            Ink::PLAIN,
        );
    }
}
