//! What a player cannot see on a board, in words: rights, material, the move before.

use shakmaty::{ByRole, CastlingSide, Chess, Color, EnPassantMode, Position, Rank};

use crate::board::{Line, line};
use crate::notation::{MEN, piece_name};

/// `White` or `Black`.
#[must_use]
pub fn side(color: Color) -> &'static str {
    match color {
        Color::White => tr!("White"),
        Color::Black => tr!("Black"),
    }
}

/// Everything about the root that the board does not show, one sentence each.
#[must_use]
pub fn facts(root: &Line) -> Vec<String> {
    let position = root.root();
    let mut facts = vec![tr!(
        "{} to move, move {}.",
        side(position.turn()),
        position.fullmoves()
    )];
    facts.extend(last_move(root));
    facts.push(castling(position));
    facts
}

/// The move before the root, where it is known; a double step also without its game, since it
/// decides about en passant.
fn last_move(root: &Line) -> Option<String> {
    let mover = side(root.player().other());
    if let Some(san) = line::sans(root.start(), root.past()).pop() {
        return Some(tr!("{mover} has just played {san}."));
    }
    let target = root.root().ep_square(EnPassantMode::Always)?;
    let (from, to) = if target.rank() == Rank::Third {
        (Rank::Second, Rank::Fourth)
    } else {
        (Rank::Seventh, Rank::Fifth)
    };
    let file = target.file().char();
    Some(tr!(
        "{mover} has just played {file}{}-{file}{}; en passant is on.",
        from.char(),
        to.char()
    ))
}

fn castling(position: &Chess) -> String {
    let rights = |color| {
        let has = |s| position.castles().has(color, s);
        match (has(CastlingSide::KingSide), has(CastlingSide::QueenSide)) {
            (true, true) => Some(tr!("{} may castle on both sides", side(color))),
            (true, false) => Some(tr!("{} may castle kingside", side(color))),
            (false, true) => Some(tr!("{} may castle queenside", side(color))),
            (false, false) => None,
        }
    };
    let all: Vec<String> = [Color::White, Color::Black]
        .into_iter()
        .filter_map(rights)
        .collect();
    if all.is_empty() {
        return tr!("No castling rights are left.").to_owned();
    }
    format!("{}.", all.join("; "))
}

/// The men of one side: `king, queen, 2 rooks, 5 pawns`.
#[must_use]
pub fn material(position: &Chess, color: Color) -> String {
    let men: ByRole<u8> = *position.board().material().get(color);
    let words: Vec<String> = MEN
        .into_iter()
        .map(|role| (men.get(role), piece_name(role)))
        .filter_map(|(n, word)| match n {
            0 => None,
            1 => Some(word.to_owned()),
            n => Some(format!("{n} {word}s")),
        })
        .collect();
    format!("{}: {}", side(color), words.join(", "))
}

/// The same in letters: `White: K Q 2R 5P`.
#[must_use]
pub fn material_letters(position: &Chess, color: Color) -> String {
    let men: ByRole<u8> = *position.board().material().get(color);
    let words: Vec<String> = MEN
        .into_iter()
        .filter_map(|role| match men.get(role) {
            0 => None,
            1 => Some(role.upper_char().to_string()),
            n => Some(format!("{n}{}", role.upper_char())),
        })
        .collect();
    format!("{}: {}", side(color), words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(fen: &str) -> Line {
        Line::new(line::read_fen(fen).unwrap())
    }

    #[test]
    fn rights_and_the_double_step_are_told_in_words() {
        let root = line("r3k2r/8/8/3pP3/8/8/8/R3K2R w KQq d6 0 20");
        let facts = facts(&root);
        assert_eq!(
            facts,
            [
                "White to move, move 20.",
                "Black has just played d7-d5; en passant is on.",
                "White may castle on both sides; Black may castle queenside.",
            ]
        );
    }

    #[test]
    fn material_is_counted() {
        let root = line("8/8/1KP5/3r4/8/8/8/k7 w - - 0 1");
        assert_eq!(material(root.root(), Color::White), "White: king, pawn");
        assert_eq!(material(root.root(), Color::Black), "Black: king, rook");
        let start = Line::new(Chess::default());
        let letters = material_letters(start.root(), Color::White);
        assert_eq!(letters, "White: K Q 2R 2B 2N 8P");
        assert_eq!(
            material(start.root(), Color::Black),
            "Black: king, queen, 2 rooks, 2 bishops, 2 knights, 8 pawns"
        );
    }
}
