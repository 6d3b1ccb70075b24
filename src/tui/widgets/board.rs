//! The board in characters.

use shakmaty::{Board, Chess, Color, File, Position, Rank, Role, Square};

use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle, TextTone};
use crate::tui::widgets::men;

/// How the board is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BoardAppearance {
    /// The side at the bottom.
    pub below: Color,
    pub coordinates: bool,
    pub hidden: bool,
    /// Letters for the men where the terminal could show figures.
    pub letters: bool,
}

/// Which characters stand for the men, and how squares are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Glyphs {
    /// Letters instead of chess figures: capitals for White, small letters for Black.
    pub ascii: bool,
    /// No colours: dark squares carry a mark.
    pub plain: bool,
}

/// Columns and rows of one square.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BoardScale {
    pub columns: usize,
    pub rows: usize,
}

impl BoardScale {
    /// The largest board that leaves room for the rest of a screen.
    #[must_use]
    pub fn fitting(canvas: &Canvas) -> Self {
        let (columns, rows) = match (canvas.width(), canvas.height()) {
            (160.., 52..) => (11, 5),
            (140.., 44..) => (9, 4),
            (120.., 36..) => (7, 3),
            _ => (3, 1),
        };
        Self { columns, rows }
    }

    /// Columns the whole board takes, its edge included.
    #[must_use]
    pub fn width(self) -> usize {
        8 * self.columns + 2
    }

    /// Rows the whole board takes, its edge included.
    #[must_use]
    pub fn height(self) -> usize {
        8 * self.rows + 1
    }
}

impl BoardAppearance {
    /// The view of the side to move.
    #[must_use]
    pub fn of(position: &Chess) -> Self {
        Self {
            below: position.turn(),
            coordinates: true,
            hidden: false,
            letters: false,
        }
    }

    pub fn flip(&mut self) {
        self.below = self.below.other();
    }
}

/// A board to draw.
pub struct BoardView<'a> {
    pub board: &'a Board,
    pub look: BoardAppearance,
    pub glyphs: Glyphs,
    /// Squares set off by brackets: the last move of a line that is stepped through.
    pub marked: &'a [Square],
}

impl BoardView<'_> {
    /// Draws with the upper left corner at a place.
    pub fn draw(&self, canvas: &mut Canvas, x: usize, y: usize, scale: BoardScale) {
        if self.look.hidden {
            canvas.put(
                x + 2,
                y + 3 * scale.rows,
                tr!("The board is hidden."),
                TextStyle::QUIET,
            );
            return;
        }
        for row in 0..8 {
            for column in 0..8 {
                self.square(canvas, (x, y), (column, row), scale);
            }
        }
        if self.look.coordinates {
            self.edge(canvas, (x, y), scale);
        }
    }

    fn square(
        &self,
        canvas: &mut Canvas,
        (x, y): (usize, usize),
        at: (usize, usize),
        scale: BoardScale,
    ) {
        let square = self.at(at);
        let piece = self.board.piece_at(square);
        let style = TextStyle::of(TextTone::Square {
            light: square.is_light(),
            piece: piece.map(|p| p.color),
        });
        let style = if piece.is_some() { style.bold() } else { style };
        let (left, top) = (x + 2 + at.0 * scale.columns, y + at.1 * scale.rows);
        let man = piece.and_then(|p| self.shape(p.role, scale));
        for line in 0..scale.rows {
            let middle = line == scale.rows / 2;
            let text = match &man {
                Some(rows) => self.beside(square, middle, rows.get(line)),
                None if middle => self.middle(square, piece.map(|p| (p.color, p.role)), scale),
                None => " ".repeat(scale.columns),
            };
            canvas.put(left, top + line, &text, style);
        }
        canvas.clickable(
            left,
            top,
            scale.columns,
            scale.rows,
            ClickTarget::Square(square),
        );
    }

    /// The man drawn in blocks, where the signs of the terminal and its colours allow it: without colours a
    /// figure tells White from Black, and blocks would not.
    fn shape(&self, role: Role, scale: BoardScale) -> Option<Vec<String>> {
        let blocks = !self.glyphs.ascii && !self.glyphs.plain && !self.look.letters;
        blocks.then(|| men::drawn(role, scale.rows))?
    }

    /// One row of a drawn man, with the brackets of a marked square.
    fn beside(&self, square: Square, middle: bool, row: Option<&String>) -> String {
        let marked = middle && self.marked.contains(&square);
        let (open, close) = if marked { ('[', ']') } else { (' ', ' ') };
        let row = row.map_or("", String::as_str);
        format!("{open}{row}{close}")
    }

    fn middle(&self, square: Square, piece: Option<(Color, Role)>, scale: BoardScale) -> String {
        let sign = match piece {
            Some((color, role)) => figure(color, role, self.glyphs.ascii || self.look.letters),
            None if self.glyphs.plain && !square.is_light() => ':',
            None => ' ',
        };
        let marked = self.marked.contains(&square);
        let (open, close) = if marked { ('[', ']') } else { (' ', ' ') };
        let side = " ".repeat((scale.columns - 3) / 2);
        format!("{side}{open}{sign}{close}{side}")
    }

    fn edge(&self, canvas: &mut Canvas, (x, y): (usize, usize), scale: BoardScale) {
        for i in 0..8 {
            let square = self.at((i, i));
            let (file, rank) = (square.file().char(), square.rank().char());
            let (middle, top) = (scale.columns / 2, y + i * scale.rows + scale.rows / 2);
            canvas.put(x, top, &rank.to_string(), TextStyle::QUIET);
            let left = x + 2 + i * scale.columns + middle;
            canvas.put(
                left,
                y + 8 * scale.rows,
                &file.to_string(),
                TextStyle::QUIET,
            );
        }
    }

    /// The square drawn at a column and row, each 0 to 7 from the upper left.
    fn at(&self, (column, row): (usize, usize)) -> Square {
        let (column, row) = (column as u32 & 7, row as u32 & 7);
        match self.look.below {
            Color::White => Square::from_coords(File::new(column), Rank::new(7 - row)),
            Color::Black => Square::from_coords(File::new(7 - column), Rank::new(row)),
        }
    }
}

/// The character of a man.
#[must_use]
pub fn figure(color: Color, role: Role, ascii: bool) -> char {
    if ascii {
        return if color == Color::White {
            role.upper_char()
        } else {
            role.char()
        };
    }
    let figures = match color {
        Color::White => ['♙', '♘', '♗', '♖', '♕', '♔'],
        Color::Black => ['♟', '♞', '♝', '♜', '♛', '♚'],
    };
    let [pawn, knight, bishop, rook, queen, king] = figures;
    match role {
        Role::Pawn => pawn,
        Role::Knight => knight,
        Role::Bishop => bishop,
        Role::Rook => rook,
        Role::Queen => queen,
        Role::King => king,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(below: Color, glyphs: Glyphs) -> String {
        let position = Chess::default();
        let mut canvas = Canvas::new(26, 9);
        let look = BoardAppearance {
            below,
            coordinates: true,
            hidden: false,
            letters: false,
        };
        let view = BoardView {
            board: position.board(),
            look,
            glyphs,
            marked: &[Square::E2],
        };
        view.draw(
            &mut canvas,
            0,
            0,
            BoardScale {
                columns: 3,
                rows: 1,
            },
        );
        canvas.to_text()
    }

    #[test]
    fn white_stands_below_for_white() {
        let glyphs = Glyphs {
            ascii: true,
            plain: true,
        };
        insta::assert_snapshot!(drawn(Color::White, glyphs), @r"
        8  r  n  b  q  k  b  n  r
        7  p  p  p  p  p  p  p  p
        6     :     :     :     :
        5  :     :     :     :
        4     :     :     :     :
        3  :     :     :     :
        2  P  P  P  P [P] P  P  P
        1  R  N  B  Q  K  B  N  R
           a  b  c  d  e  f  g  h
        ");
    }

    /// In a large terminal the men grow with their squares.
    #[test]
    fn a_large_board_draws_its_men_in_blocks() {
        let position = Chess::default();
        let mut canvas = Canvas::new(140, 44);
        let scale = BoardScale::fitting(&canvas);
        assert_eq!((scale.columns, scale.rows), (9, 4));
        let view = BoardView {
            board: position.board(),
            look: BoardAppearance::of(&position),
            glyphs: Glyphs::default(),
            marked: &[Square::E2],
        };
        view.draw(&mut canvas, 0, 0, scale);
        let text = canvas.to_text();
        let ranks: Vec<&str> = text.lines().skip(24).take(9).collect();
        insta::assert_snapshot!(ranks.join("\n"), @r"
             ▄█▄      ▄█▄      ▄█▄      ▄█▄      ▄█▄      ▄█▄      ▄█▄      ▄█▄
        2    ▀█▀      ▀█▀      ▀█▀      ▀█▀   [  ▀█▀  ]   ▀█▀      ▀█▀      ▀█▀
            ▄███▄    ▄███▄    ▄███▄    ▄███▄    ▄███▄    ▄███▄    ▄███▄    ▄███▄
           ██▄█▄██    ▄██      ▄█▄    █  █  █    ▄█▄      ▄█▄      ▄██    ██▄█▄██
            ▀███▀   ▄█████    ██▄██   ██▄█▄██   ▄▄▀▄▄    ██▄██   ▄█████    ▀███▀
        1    ███    ▀▀▄███     ▀█▀     ▀███▀   ▀█████▀    ▀█▀    ▀▀▄███     ███
           ▄█████▄  ▄█████▄  ▄▄███▄▄  ▄█████▄  ▄▄███▄▄  ▄▄███▄▄  ▄█████▄  ▄█████▄
              a        b        c        d        e        f        g        h
        ");
    }

    #[test]
    fn black_stands_below_for_black() {
        let text = drawn(Color::Black, Glyphs::default());
        assert!(text.starts_with("1  ♖  ♘  ♗  ♔  ♕"), "{text}");
        assert!(text.ends_with("h  g  f  e  d  c  b  a"), "{text}");
    }
}
