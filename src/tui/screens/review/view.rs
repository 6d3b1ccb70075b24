//! The review screen: the board of the moment, what is told of it, and the two lines.

use shakmaty::Position;

use crate::board::Line;
use crate::text;
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::screens::review::measures_pane;
use crate::tui::screens::review::open_review::{OpenReview, ReviewPane};
use crate::tui::screens::review::{answers, tree_pane, two_lines};
use crate::tui::widgets::board::{BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::page::TextPage;
use crate::tui::widgets::position_text;

/// Rows below the board and the page: three for each of the two lines, and the bottom line.
const BELOW: usize = 7;
/// Where board and page begin.
const TOP: usize = 2;
/// Most rows for how far the review has come, or why it stopped.
const STATE: usize = 3;

/// Shows the state.
pub(super) struct ReviewView<'a> {
    pub review: &'a OpenReview,
}

impl ReviewView<'_> {
    pub fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let top = self.draw_title(canvas);
        let scale = BoardScale::fitting(canvas);
        self.draw_board(canvas, ctx, (0, top), scale);
        let x = scale.width() + 3;
        let lines = (top + scale.height() + 2).max(canvas.height().saturating_sub(BELOW));
        let area = (x, top, canvas.width() - x, lines - top - 1);
        let rows = canvas.height().saturating_sub(lines + 1);
        let ascii = ctx.display.glyphs.ascii;
        two_lines::draw(canvas, self.review, (lines, rows), ascii);
        self.draw_pane(canvas, area, ascii);
        answers::draw(canvas, self.review, area);
        if let Some(notice) = &self.review.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        let contexts = self.review.key_contexts();
        let context = contexts.first().copied().unwrap_or(KeyContext::Review);
        chrome::bar(canvas, context);
    }

    /// Gives the row in which board and page begin.
    fn draw_title(&self, canvas: &mut Canvas) -> usize {
        let attempt = &self.review.attempt;
        let used = attempt.locked_ms().unwrap_or(0);
        let used = used.saturating_sub(attempt.started_ms().unwrap_or(0));
        let choice = attempt.choice().map(|c| attempt.tree().san(c));
        let choice = choice.as_deref().unwrap_or(tr!("nothing"));
        let title = tr!("{}: you chose {choice}", self.review.label);
        chrome::title(canvas, &title, &tr!("Locked {}.", text::clock(used)));
        // How far the review has come, as long as it is not whole.
        match self.review.snapshot.state() {
            Ok(_) => TOP,
            Err(state) => {
                let area = (0, 1, canvas.width(), STATE);
                canvas.put_wrapped(area, &state, TextStyle::QUIET) + 1
            }
        }
    }

    fn draw_pane(&self, canvas: &mut Canvas, area: (usize, usize, usize, usize), ascii: bool) {
        let (x, y, width, height) = area;
        let page = match self.review.pane {
            ReviewPane::Tree => return tree_pane::draw(canvas, self.review, area, ascii),
            ReviewPane::Figures => match self.review.snapshot.whole() {
                Some(review) => measures_pane::page(review, width, ascii),
                None => later(width),
            },
            ReviewPane::Source => answers::source(self.review, width),
            ReviewPane::Doubts => answers::doubts(self.review, width),
            ReviewPane::Findings => self.review.page(width),
        };
        page.draw(canvas, (x, y, height), &self.review.scroll);
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
}

/// Whose move it is after which move.
fn caption(line: &Line) -> String {
    let turn = position_text::side(line.turn());
    match line.sans().last() {
        Some(san) => tr!("after {san}: {turn} to move"),
        None => tr!("{turn} to move"),
    }
}

/// In place of what only the whole review knows.
fn later(width: usize) -> TextPage {
    let mut page = TextPage::new(width);
    page.say(tr!("This comes with the whole review."), TextStyle::QUIET);
    page
}
