//! The entry screen: board fixed at the root at the left, the tree at the right, one line below.

use shakmaty::{Board, Color, Position, Square};

use crate::attempt::Sight;
use crate::notation::{self, Shape};
use crate::tree::{NodeId, Tree};
use crate::tui::input::bindings::Place;
use crate::tui::labels;
use crate::tui::router::Desk;
use crate::tui::screens::writing::screen::Entry;
use crate::tui::widgets::board::{BoardView, Scale};
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::variation_tree::{TreeView, as_typed, unmarked};

impl Entry {
    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let tree = self.sitting.tree();
        let turn = labels::side(tree.root().player());
        let clock = labels::clock(self.sitting.left_ms(), self.sitting.used_ms());
        chrome::title(page, &format!("{}: {turn} to move", self.label), &clock);
        if let Some(note) = self.time_note() {
            page.put_right(1, note, Ink::QUIET);
        }
        let scale = Scale::fitting(page);
        self.draw_board(page, desk, scale);
        self.draw_facts(page, 3 + scale.height(), scale.width() + 1);
        self.draw_tree(page, desk, scale.width() + 3);
        let bottom = page.height();
        if let Some(answer) = &self.answer {
            answer.draw(page, bottom - 3);
        }
        chrome::entry_line(page, bottom - 2, &self.prompt(), &self.line);
        chrome::bar(page, Place::Entry);
    }

    fn draw_board(&self, page: &mut Page, desk: &Desk, scale: Scale) {
        let tree = self.sitting.tree();
        let (board, to) = match self.sitting.attempt().opened().sight {
            Sight::Follow => followed(tree, self.cursor),
            Sight::Root | Sight::None => (tree.root().root().board().clone(), None),
        };
        let marked: Vec<Square> = to.into_iter().collect();
        let view = BoardView {
            board: &board,
            look: self.look,
            glyphs: desk.glyphs,
            marked: &marked,
        };
        view.draw(page, 0, 2, scale);
    }

    /// Rights and material of the root; they never follow a line.
    fn draw_facts(&self, page: &mut Page, y: usize, width: usize) {
        let root = self.sitting.tree().root();
        let bottom = page.height().saturating_sub(4);
        let mut y = y;
        let mut facts = labels::facts(root);
        facts.extend([Color::White, Color::Black].map(|c| labels::material(root.root(), c)));
        for fact in facts {
            let rows = bottom.saturating_sub(y).min(2);
            y = page.put_wrapped((0, y, width, rows), &fact, Ink::QUIET);
        }
    }

    fn draw_tree(&self, page: &mut Page, desk: &Desk, x: usize) {
        let tree = self.sitting.tree();
        let (width, height) = (page.width() - x, page.height() - 6);
        if tree.is_empty() {
            let words = "Type a candidate or a whole line (Nxe4 dxe4 Qxe4) and Enter. \
                         Behind a move: = +/= +- or 65% judges it, {words} comment on it.";
            page.put_wrapped((x, 2, width, 4), words, Ink::QUIET);
            return;
        }
        let view = TreeView {
            tree,
            choice: self.sitting.attempt().choice(),
            cursor: Some(self.cursor),
            candidates_only: self.candidates_only,
            folded: &self.folded,
            mark: &unmarked,
            ascii: desk.glyphs.ascii,
        };
        view.draw(page, (x, 2, width, height));
    }

    /// Where the line that is typed will stand.
    fn prompt(&self) -> String {
        match as_typed(self.sitting.tree(), self.cursor).as_slice() {
            [] => "candidate >".to_owned(),
            texts => format!("after {} >", texts.join(" ")),
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
