//! The screen of writing: board fixed at the root at the left, the tree at the right, one line below.

use shakmaty::{Board, Color, Position, Square};

use crate::attempt::BoardVisibility;
use crate::notation::{self, Shape};
use crate::tree::{NodeId, Tree};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::sessions::OpenAttempt;
use crate::tui::widgets::board::{BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome::{self, Notice};
use crate::tui::widgets::clock;
use crate::tui::widgets::page::{PageScroll, TextPage};
use crate::tui::widgets::position_text;
use crate::tui::widgets::tree_cursor::as_typed;
use crate::tui::widgets::variation_tree::{TreeView, unmarked};

/// What is drawn.
pub(super) struct WritingView<'a> {
    pub open: &'a OpenAttempt,
    pub notice: Option<&'a Notice>,
}

impl WritingView<'_> {
    pub fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let tree = self.open.sitting.tree();
        let turn = position_text::side(tree.root().player());
        let clock = clock::clock(self.open.sitting.left_ms(), self.open.sitting.used_ms());
        chrome::title(canvas, &tr!("{}: {turn} to move", self.open.label), &clock);
        if let Some(note) = self.open.time_note() {
            canvas.put_right(1, note, TextStyle::QUIET);
        }
        let scale = BoardScale::fitting(canvas);
        self.draw_board(canvas, ctx, scale);
        self.draw_facts(canvas, 3 + scale.height(), scale.width() + 1);
        self.draw_tree(canvas, ctx, scale.width() + 3);
        let bottom = canvas.height();
        if let Some(notice) = self.notice {
            notice.draw(canvas, bottom - 3);
        }
        chrome::entry_line(canvas, bottom - 2, &self.prompt(), &self.open.line);
        chrome::bar(canvas, KeyContext::Writing);
    }

    fn draw_board(&self, canvas: &mut Canvas, ctx: &Context, scale: BoardScale) {
        let tree = self.open.sitting.tree();
        let (board, to) = match self.open.sitting.attempt().opened().sight {
            BoardVisibility::Follow => followed(tree, self.open.cursor),
            BoardVisibility::Root | BoardVisibility::None => {
                (tree.root().root().board().clone(), None)
            }
        };
        let marked: Vec<Square> = to.into_iter().collect();
        let view = BoardView {
            board: &board,
            look: self.open.look,
            glyphs: ctx.display.glyphs,
            marked: &marked,
        };
        view.draw(canvas, 0, 2, scale);
    }

    /// Rights and material of the root; they never follow a line.
    fn draw_facts(&self, canvas: &mut Canvas, y: usize, width: usize) {
        let root = self.open.sitting.tree().root();
        let room = canvas.height().saturating_sub(y + 3);
        let page = |men: &dyn Fn(Color) -> String| {
            let mut page = TextPage::new(width);
            for fact in position_text::facts(root) {
                page.say(&fact, TextStyle::QUIET);
            }
            for color in [Color::White, Color::Black] {
                page.say(&men(color), TextStyle::QUIET);
            }
            page
        };
        // Where the words of all men have no room their letters have.
        let words = page(&|color| position_text::material(root.root(), color));
        let page = if words.len() <= room {
            words
        } else {
            page(&|color| position_text::material_letters(root.root(), color))
        };
        page.draw(canvas, (0, y, room), &PageScroll::default());
    }

    fn draw_tree(&self, canvas: &mut Canvas, ctx: &Context, x: usize) {
        let tree = self.open.sitting.tree();
        let (width, height) = (canvas.width() - x, canvas.height() - 6);
        if tree.is_empty() {
            let words = tr!(
                "Type a candidate or a whole line (Nxe4 dxe4 Qxe4) and Enter. \
                         Behind a move: = +/= +- or 65% judges it, {{words}} comment on it."
            );
            canvas.put_wrapped((x, 2, width, 4), words, TextStyle::QUIET);
            return;
        }
        let view = TreeView {
            tree,
            choice: self.open.sitting.attempt().choice(),
            cursor: Some(self.open.cursor),
            candidates_only: self.open.candidates_only,
            folded: &self.open.folded,
            mark: &unmarked,
            ascii: ctx.display.glyphs.ascii,
        };
        view.draw(canvas, (x, 2, width, height));
    }

    /// Where the line that is typed will stand.
    fn prompt(&self) -> String {
        match as_typed(self.open.sitting.tree(), self.open.cursor).as_slice() {
            [] => tr!("candidate >").to_owned(),
            texts => tr!("after {} >", texts.join(" ")),
        }
    }
}

/// The board after the moves to a node, made as a hand makes them where they are not possible.
fn followed(tree: &Tree, node: NodeId) -> (Board, Option<Square>) {
    let mut exact = Some(tree.root().clone());
    let mut board = tree.root().root().board().clone();
    let mut mover = tree.root().player();
    let mut to = None;
    for id in tree.path(node) {
        let Some(step) = tree.node(id) else { break };
        exact = exact.and_then(|line| line.child(tree.legal(id)?).ok());
        board = match &exact {
            Some(line) => line.position().board().clone(),
            None => notation::by_hand(&board, mover, &step.token),
        };
        to = match step.token.shape {
            Shape::Step { to, .. } => Some(to),
            _ => None,
        };
        mover = mover.other();
    }
    (board, to)
}
