//! The game on the screen: the board with the last move, the score sheet or what he writes, one line.

use std::collections::HashSet;

use shakmaty::Square;

use crate::app::{AttemptSession, PlayoutSession};
use crate::playout::{Game, Goal};
use crate::text;
use crate::tree::NodeId;
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::widgets::board::{BoardAppearance, BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome::{self, Notice};
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::position_text::side;
use crate::tui::widgets::tree_cursor::as_typed;
use crate::tui::widgets::variation_tree::{TreeView, unmarked};

/// What is drawn.
pub(super) struct GameView<'a> {
    pub playing: &'a PlayoutSession,
    pub look: BoardAppearance,
    pub line: &'a LineEditor,
    pub notice: Option<&'a Notice>,
    pub ascii: bool,
    /// The engine is.
    pub thinking: bool,
    /// What he writes before his move.
    pub written: Option<&'a AttemptSession>,
    pub writing: bool,
    /// Where the next line goes.
    pub cursor: NodeId,
}

impl GameView<'_> {
    pub fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let game = self.playing.game();
        let level = u8::from(game.opened().level);
        let side = side(game.side());
        let goal = match game.opened().goal {
            Goal::Win => tr!("to win").to_owned(),
            Goal::Hold { moves } => tr!("to hold for {moves} moves"),
        };
        let clock = self.playing.left_ms().map_or(String::new(), text::clock);
        chrome::title(
            canvas,
            &tr!("You are {side}, {goal}; level {level}"),
            &clock,
        );
        let scale = BoardScale::fitting(canvas);
        let position = game.line().position();
        let last = game.moves().last();
        let marked: Vec<Square> = last.map(|m| m.mv.to()).into_iter().collect();
        let view = BoardView {
            board: shakmaty::Position::board(position),
            look: self.look,
            glyphs: ctx.display.glyphs,
            marked: &marked,
        };
        view.draw(canvas, 0, 2, scale);
        let x = scale.width() + 3;
        self.draw_side(canvas, x);
        let bottom = canvas.height();
        if let Some(notice) = self.notice {
            notice.draw(canvas, bottom - 3);
        }
        chrome::entry_line(canvas, bottom - 2, &self.prompt(), self.line);
        chrome::bar(canvas, KeyContext::Game);
    }

    /// The score sheet, or what he writes.
    fn draw_side(&self, canvas: &mut Canvas, x: usize) {
        let (width, rows) = (canvas.width() - x, canvas.height().saturating_sub(7));
        if let Some(sitting) = self.written {
            let tree = sitting.tree();
            canvas.put(x, 2, tr!("Before your move"), TextStyle::ACCENT.bold());
            let view = TreeView {
                tree,
                choice: None,
                cursor: Some(self.cursor),
                candidates_only: false,
                folded: &HashSet::new(),
                mark: &unmarked,
                ascii: self.ascii,
            };
            return view.draw(canvas, (x, 4, width, rows.saturating_sub(2)));
        }
        let lines = sheet(self.playing.game());
        let first = lines.len().saturating_sub(rows);
        for (row, line) in lines.iter().skip(first).enumerate() {
            canvas.put(x, 2 + row, line, TextStyle::PLAIN);
        }
        if let Some(end) = self.playing.end() {
            let game = self.playing.game();
            let outcome = game.outcome().map_or("", |o| o.word());
            let said = tr!(
                "The game is over: {} ({outcome}). Enter shows where it slipped.",
                end.words(game.side())
            );
            let y = 3 + lines.len().min(rows);
            canvas.put_wrapped((x, y, width, 4), &said, TextStyle::PLAIN.bold());
        }
    }

    fn prompt(&self) -> String {
        if self.playing.end().is_some() {
            return tr!("over").to_owned();
        }
        if let Some(sitting) = self.written.filter(|_| self.writing) {
            return match as_typed(sitting.tree(), self.cursor).as_slice() {
                [] => tr!("candidate >").to_owned(),
                texts => tr!("after {} >", texts.join(" ")),
            };
        }
        if self.thinking {
            return tr!("his move").to_owned();
        }
        tr!("your move").to_owned()
    }
}

/// The moves two by two, as on a score sheet.
fn sheet(game: &Game) -> Vec<String> {
    use shakmaty::Position;
    let mut rows: Vec<String> = Vec::new();
    for (ply, san) in game.line().sans().into_iter().enumerate() {
        let Some(pos) = game.line().position_at(ply) else {
            break;
        };
        let number = pos.fullmoves();
        match (pos.turn().is_white(), rows.last_mut()) {
            (true, _) => rows.push(format!("{number:>3}. {san:<8}")),
            (false, Some(row)) if ply > 0 => row.push_str(&san),
            (false, _) => rows.push(format!("{number:>3}. {:<8}{san}", "...")),
        }
    }
    rows
}
