//! What a line wins, by counting the pieces at both ends.

use shakmaty::{Color, Position, Role};

use crate::board::Line;
use crate::text;

/// What one side wins between two positions of one line, as 'he wins a rook for a piece'; `None` where
/// nothing is won, a promotion makes the count say something else, or the balance points the other way.
/// `by_opponent` tells who is expected to win something.
pub(super) fn won(from: &Line, to: &Line, by_opponent: bool) -> Option<String> {
    let player = from.player();
    let (winner, loser, who) = if by_opponent {
        (player.other(), player, "he wins")
    } else {
        (player, player.other(), "you win")
    };
    let mut gains = lost(from, to, loser)?;
    let mut costs = lost(from, to, winner)?;
    cancel(&mut gains, &mut costs);
    if worth(&gains) <= worth(&costs) {
        return None;
    }
    let price = if costs.iter().all(|n| *n == 0) {
        String::new()
    } else {
        format!(" for {}", words(&costs))
    };
    Some(format!("{who} {}{price}", words(&gains)))
}

/// How the material stands for the player, like set against like: 'you have a rook for a piece'.
pub(in super::super) fn stands(line: &Line) -> String {
    let player = line.player();
    let (mut mine, mut his) = (count(line, player), count(line, player.other()));
    cancel(&mut mine, &mut his);
    // On the board it is a queen; in a line that wins it, the queen.
    let words = |pieces: &[u8; 4]| words(pieces).replace("the queen", "a queen");
    match (worth(&mine), worth(&his)) {
        (0, 0) => "the material is level".to_owned(),
        (_, 0) => format!("you have {} more", words(&mine)),
        (0, _) => format!("he has {} more", words(&his)),
        (a, b) if a >= b => format!("you have {} for {}", words(&mine), words(&his)),
        _ => format!("he has {} for {}", words(&his), words(&mine)),
    }
}

/// The same of a board that a count of the captures leads to.
pub(in super::super) fn stands_after_captures(end: &Line) -> String {
    format!("{} once the captures are over", stands(end))
}

/// Pawns, minor pieces, rooks and queens that `side` has lost; `None` where it has more of one kind
/// than before.
fn lost(from: &Line, to: &Line, side: Color) -> Option<[u8; 4]> {
    let before = count(from, side);
    let after = count(to, side);
    let mut lost = [0; 4];
    for ((lost, before), after) in lost.iter_mut().zip(before).zip(after) {
        *lost = before.checked_sub(after)?;
    }
    Some(lost)
}

fn count(line: &Line, side: Color) -> [u8; 4] {
    let pieces = line.position().board().material_side(side);
    let minors = pieces.get(Role::Knight) + pieces.get(Role::Bishop);
    [
        *pieces.get(Role::Pawn),
        minors,
        *pieces.get(Role::Rook),
        *pieces.get(Role::Queen),
    ]
}

fn cancel(a: &mut [u8; 4], b: &mut [u8; 4]) {
    for (a, b) in a.iter_mut().zip(b) {
        let both = (*a).min(*b);
        *a -= both;
        *b -= both;
    }
}

/// In pawns; the usual values (common practice, no source).
fn worth(pieces: &[u8; 4]) -> u32 {
    pieces
        .iter()
        .zip([1, 3, 5, 9])
        .map(|(n, value)| u32::from(*n) * value)
        .sum()
}

fn words(pieces: &[u8; 4]) -> String {
    const NAMES: [(&str, &str); 4] = [
        ("a pawn", "pawns"),
        ("a piece", "pieces"),
        ("a rook", "rooks"),
        ("the queen", "queens"),
    ];
    let named = pieces.iter().zip(NAMES).rev().filter(|(n, _)| **n > 0);
    let items: Vec<String> = named
        .map(|(n, (one, many))| match n {
            1 => one.to_owned(),
            n => format!("{} {many}", text::number(usize::from(*n))),
        })
        .collect();
    text::list(&items)
}
