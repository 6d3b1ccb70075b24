//! An own game gone through half-move by half-move: its board, and the moves around the cursor.

use shakmaty::{Position, Square};

use crate::board::line;
use crate::games::OwnGame;
use crate::tui::widgets::board::{BoardAppearance, BoardScale, BoardView, Glyphs};
use crate::tui::widgets::canvas::Canvas;

/// Half-moves that stand before the cursor.
const BEFORE: usize = 8;

/// Draws the position before the half-move `ply`, the move that led to it set off; gives the column where the words beside
/// it begin.
pub fn draw_board(
    canvas: &mut Canvas,
    game: &OwnGame,
    ply: usize,
    look: BoardAppearance,
    glyphs: Glyphs,
) -> usize {
    let scale = BoardScale::fitting(canvas);
    let here = game.line_to(ply);
    let last = ply.checked_sub(1);
    let last = last.and_then(|p| game.game.main_moves.get(p));
    let squares: Vec<Square> = last.map(|mv| mv.to()).into_iter().collect();
    let view = BoardView {
        board: here.position().board(),
        look,
        glyphs,
        marked: &squares,
    };
    view.draw(canvas, 0, 2, scale);
    scale.width() + 3
}

/// The moves around the cursor as they stand on a score sheet, the next one in brackets, so many half-moves behind it; `mark`
/// is put behind a move.
#[must_use]
pub fn moves_around(
    game: &OwnGame,
    cursor: usize,
    after: usize,
    mark: impl Fn(usize) -> &'static str,
) -> String {
    let from = cursor.saturating_sub(BEFORE);
    let to = (cursor + after).min(game.plies());
    let mut words = Vec::new();
    for ply in from..to {
        let position = game.line_to(ply);
        let Some(mv) = game.game.main_moves.get(ply) else {
            break;
        };
        let san = line::san(position.position(), mv);
        let number = if position.turn().is_white() || ply == from {
            game.numbered(ply)
        } else {
            String::new()
        };
        let move_text = format!("{number}{san}{}", mark(ply));
        words.push(if ply == cursor {
            format!("[{move_text}]")
        } else {
            move_text
        });
    }
    words.join(" ")
}
