//! Pawn structures that he keeps meeting.
//!
//! # The key
//! The pawns of the files c, d and e of both sides, White's first, each side's from c to e and by rank:
//! `d4e3-c6d5` is the structure of the exchange variation of the queen's gambit (H. Kmoch, Pawn Power in
//! Chess, 1959, and A. Soltis, Pawn Structure Chess, 1976, both from memory, name structures by their centre
//! pawns). A side without such a pawn is `0`. The player's colour stands before it: `w-d4e3-c6d5`, since
//! the two sides of a structure need two plans.
//!
//! # When a game has one
//! It stood for eight half-moves in a row at least, between half-moves 12 and 80, and holds two pawns or more
//! (common practice, no source: what is exchanged at once asks for no plan). So a game can have several, and
//! one without any is possible.
//!
//! # Known errors
//! Pawns of the other files (a minority on the b-file, an attack on the f-file) do not tell structures apart.

use std::collections::BTreeMap;

use shakmaty::{Chess, Color, File, Position, Square};

use super::kept::OwnGame;

/// Half-moves that a structure has to stand.
const STANDS: usize = 8;
/// Where it has to stand, in half-moves.
const BETWEEN: std::ops::Range<usize> = 12..81;
/// Pawns that it holds at least.
const PAWNS: usize = 2;

/// A structure as one colour meets it, and in which games.
#[derive(Debug, Clone, PartialEq)]
pub struct Met {
    /// Its key, the player's colour included.
    pub key: String,
    pub white: bool,
    /// The games by their places in what was given.
    pub games: Vec<usize>,
    /// The position in which it first stood in the last of them.
    pub example: Chess,
}

/// The key of a position for a player of one colour.
#[must_use]
pub fn key(pos: &Chess, side: Color) -> String {
    let of = |color| {
        let pawns = pos.board().pawns() & pos.board().by_color(color);
        let mut squares: Vec<Square> = pawns.into_iter().filter(|s| is_central(*s)).collect();
        squares.sort_by_key(|s| (s.file(), s.rank()));
        let text: String = squares.iter().map(Square::to_string).collect();
        if text.is_empty() {
            "0".to_owned()
        } else {
            text
        }
    };
    format!(
        "{}-{}-{}",
        side.fold_wb("w", "b"),
        of(Color::White),
        of(Color::Black)
    )
}

fn is_central(square: Square) -> bool {
    matches!(square.file(), File::C | File::D | File::E)
}

/// The key with nothing but squares and signs in their places, or `None` where a text is no key.
#[must_use]
pub fn is_key(text: &str) -> bool {
    let mut parts = text.split('-');
    let side = parts.next().is_some_and(|s| s == "w" || s == "b");
    let mut pawns = || parts.next().is_some_and(is_pawns);
    side && pawns() && pawns() && parts.next().is_none()
}

fn is_pawns(text: &str) -> bool {
    let square = |pair: &[u8]| matches!(pair, [b'c'..=b'e', b'2'..=b'7']);
    text == "0" || (!text.is_empty() && text.len() <= 16 && text.as_bytes().chunks(2).all(square))
}

/// A key in words: `White d4 e3, Black c6 d5; you have White`.
#[must_use]
pub fn words(key: &str) -> String {
    let mut parts = key.split('-');
    let side = if parts.next() == Some("w") {
        tr!("White")
    } else {
        tr!("Black")
    };
    let mut pawns = || match parts.next() {
        None | Some("0") => tr!("none").to_owned(),
        Some(text) => {
            let pairs = text.as_bytes().chunks(2);
            let pairs = pairs.map(|p| String::from_utf8_lossy(p).into_owned());
            pairs.collect::<Vec<_>>().join(" ")
        }
    };
    let (white, black) = (pawns(), pawns());
    tr!("White {white}, Black {black}; you have {side}")
}

/// Pawns of a key: one letter each, beside that of the colour.
fn pawns(key: &str) -> usize {
    let letters = key.bytes().filter(u8::is_ascii_lowercase);
    letters.count().saturating_sub(1)
}

/// The structures of a game, each with the half-move at which it first stood.
#[must_use]
pub fn of_game(game: &OwnGame) -> Vec<(String, usize)> {
    let lines = game.lines();
    let keys = lines
        .iter()
        .enumerate()
        .map(|(ply, line)| (ply, key(line.position(), game.side)));
    let mut runs: Vec<(String, usize, usize)> = Vec::new();
    for (ply, key) in keys.filter(|(ply, _)| BETWEEN.contains(ply)) {
        match runs.last_mut() {
            Some((last, _, length)) if *last == key => *length += 1,
            _ => runs.push((key, ply, 1)),
        }
    }
    let mut found: Vec<(String, usize)> = Vec::new();
    for (key, ply, _) in runs.into_iter().filter(|r| r.2 >= STANDS) {
        if pawns(&key) >= PAWNS && !found.iter().any(|(k, _)| *k == key) {
            found.push((key, ply));
        }
    }
    found
}

/// The structures that stood in at least `least` of the games, the most frequent first.
#[must_use]
pub fn met(games: &[OwnGame], least: usize) -> Vec<Met> {
    let mut found: BTreeMap<String, Met> = BTreeMap::new();
    for (at, game) in games.iter().enumerate() {
        for (key, ply) in of_game(game) {
            let example = game.line_to(ply).position().clone();
            let entry = found.entry(key.clone()).or_insert_with(|| Met {
                white: game.side.is_white(),
                games: Vec::new(),
                example: example.clone(),
                key,
            });
            entry.games.push(at);
            entry.example = example;
        }
    }
    let mut met: Vec<Met> = found
        .into_values()
        .filter(|m| m.games.len() >= least)
        .collect();
    met.sort_by(|a, b| {
        b.games
            .len()
            .cmp(&a.games.len())
            .then_with(|| a.key.cmp(&b.key))
    });
    met
}
