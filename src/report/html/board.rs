//! A board as SVG, with pieces drawn for this project.

use askama::Template;
use shakmaty::{Board, Chess, Color, Piece, Position, Square};

use crate::notation::{MEN, piece_name};
use crate::text::list;

/// Side of a square in user units.
const SIDE: u32 = 45;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<svg class="board" viewBox="-18 -4 384 388" role="img" aria-label="{{ words }}" data-flip="{{ flip }}">
<rect class="frame" x="-2" y="-2" width="364" height="364"/>
{% for s in squares %}<rect class="{{ s.class }}" x="{{ s.x }}" y="{{ s.y }}" width="45" height="45"/>
{% endfor %}<g class="men">{% for m in men %}<use href="#{{ m.symbol }}" x="{{ m.x }}" y="{{ m.y }}"/>{% endfor %}</g>
<g class="names" aria-hidden="true">{% for n in names %}<text x="{{ n.x }}" y="{{ n.y }}">{{ n.text }}</text>{% endfor %}</g>
</svg>"##
)]
pub(in crate::report) struct BoardSvg {
    words: String,
    flip: bool,
    squares: Vec<Square8>,
    men: Vec<Man>,
    names: Vec<Name>,
}

struct Square8 {
    class: &'static str,
    x: u32,
    y: u32,
}

struct Man {
    symbol: String,
    x: u32,
    y: u32,
}

struct Name {
    text: char,
    x: i32,
    y: i32,
}

impl BoardSvg {
    /// The board seen from `side`.
    pub(in crate::report) fn new(position: &Chess, side: Color) -> Self {
        let flip = side == Color::Black;
        let squares = Square::ALL.iter().map(|s| {
            let (x, y) = place(*s, flip);
            let class = if s.is_light() { "light" } else { "dark" };
            Square8 { class, x, y }
        });
        let men = position.board().clone().into_iter().map(|(square, piece)| {
            let (x, y) = place(square, flip);
            let symbol = symbol(piece);
            Man { symbol, x, y }
        });
        Self {
            words: in_words(position),
            flip,
            squares: squares.collect(),
            men: men.collect(),
            names: names(flip),
        }
    }
}

fn place(square: Square, flip: bool) -> (u32, u32) {
    let (file, rank) = (u32::from(square.file()), u32::from(square.rank()));
    if flip {
        ((7 - file) * SIDE, rank * SIDE)
    } else {
        (file * SIDE, (7 - rank) * SIDE)
    }
}

fn symbol(piece: Piece) -> String {
    let side = if piece.color.is_white() { 'w' } else { 'b' };
    format!("{side}{}", piece.role.upper_char())
}

fn names(flip: bool) -> Vec<Name> {
    let mut names = Vec::new();
    for (i, (file, rank)) in (0..8).zip(('a'..='h').zip('1'..='8')) {
        let (x, y) = if flip { (7 - i, i) } else { (i, 7 - i) };
        names.push(Name {
            text: file,
            x: x * 45 + 22,
            y: 376,
        });
        names.push(Name {
            text: rank,
            x: -10,
            y: y * 45 + 27,
        });
    }
    names
}

/// The position in words: 'White: king g1, rooks c1 and c2. Black: king g8. White to move.'
pub(super) fn in_words(position: &Chess) -> String {
    let side = |color| men_in_words(position.board(), color);
    let turn = if position.turn().is_white() {
        tr!("White")
    } else {
        tr!("Black")
    };
    tr!(
        "White: {}. Black: {}. {turn} to move.",
        side(Color::White),
        side(Color::Black)
    )
}

fn men_in_words(board: &Board, color: Color) -> String {
    let parts = MEN.into_iter().filter_map(|role| {
        let name = piece_name(role);
        let squares = board.by_piece(role.of(color)).into_iter();
        let squares: Vec<String> = squares.map(|s| s.to_string()).collect();
        let s = if squares.len() > 1 { "s" } else { "" };
        (!squares.is_empty()).then(|| format!("{name}{s} {}", list(&squares)))
    });
    parts.collect::<Vec<_>>().join(", ")
}
