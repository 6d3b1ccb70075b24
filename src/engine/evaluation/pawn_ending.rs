//! King and pawn against king, solved once for all when first asked.
//!
//! Retrograde analysis by repeated passes (T. Ströhlein, "Untersuchungen über kombinatorische
//! Spiele", 1970): a position with the stronger side to move wins if some move wins, with the other
//! to move if every move loses. The squares of the weaker king are taken together, as a set for each square of pawn and
//! stronger king: an engine that is started meets the first such ending within a blink of an eye. Always from the point of view of
//! a white pawn on files a to d; other cases are mirrored.

use std::sync::OnceLock;

use shakmaty::{Bitboard, Square, attacks};

use crate::engine::position::{Position, pawn_attacks};
use crate::engine::types::*;

const PAWNS: usize = 24;
const FILE_A: u64 = 0x0101_0101_0101_0101;
const FILE_H: u64 = 0x8080_8080_8080_8080;

/// Squares of the weaker king where the side with the pawn wins, by pawn and by stronger king.
type Won = [[Bitboard; 64]; PAWNS];

/// Which positions are won: with the stronger side to move, and with the weaker.
struct Table {
    strong: Won,
    weak: Won,
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Box<Table>> = OnceLock::new();
    TABLE.get_or_init(|| Box::new(solve()))
}

/// Number of a pawn on files a to d, ranks 2 to 7.
fn slot(pawn: usize) -> usize {
    (pawn >> 3) * 4 - 4 + (pawn & 3)
}

/// Whether the side `strong` with the only pawn wins.
pub fn wins(p: &Position, strong: Colour) -> bool {
    let Some(pawn) = p.men(strong, PAWN).first() else {
        return false;
    };
    let mirror = if at(pawn) & 7 > 3 { 7 } else { 0 };
    let seen = |s: Square| relative(strong, s) ^ mirror;
    let table = table();
    let won = if p.turn == strong {
        &table.strong
    } else {
        &table.weak
    };
    let row = won.get(slot(seen(pawn)));
    row.is_some_and(|row| row[seen(p.king(strong))].contains(square(seen(p.king(strong ^ 1)))))
}

/// Squares next to one of the set.
fn around(set: Bitboard) -> Bitboard {
    let sides = (set.0 << 1 & !FILE_A) | (set.0 >> 1 & !FILE_H);
    let row = set.0 | sides;
    Bitboard(sides | row << 8 | row >> 8)
}

fn solve() -> Table {
    let mut table = Table {
        strong: [[Bitboard::EMPTY; 64]; PAWNS],
        weak: [[Bitboard::EMPTY; 64]; PAWNS],
    };
    // A pawn only goes forward: those further up are done first.
    for pawn in (0..PAWNS).rev() {
        let pawn = square((pawn / 4 + 1) * 8 + pawn % 4);
        while pass(&mut table, pawn) {}
    }
    table
}

/// Adds what is won by what was known to be; whether anything came.
fn pass(table: &mut Table, pawn: Square) -> bool {
    let (row, hit) = (slot(at(pawn)), pawn_attacks(WHITE, pawn));
    let mut more = false;
    for king in Square::ALL.into_iter().filter(|king| *king != pawn) {
        let near = attacks::king_attacks(king);
        // Where the weaker king may stand when he is to move, and when he is not.
        let legal = !near.with(king).with(pawn);
        let quiet = legal & !hit;
        let mut won = queens(pawn, king) | steps(table, pawn, king);
        for to in near {
            won |= table.weak[row][at(to)];
        }
        let won = won & quiet;
        // He is lost if he cannot take, has no way out, and is in check or has a move at all.
        let takes = if near.contains(pawn) {
            Bitboard::EMPTY
        } else {
            attacks::king_attacks(pawn)
        };
        let lost = legal & !takes & !around(quiet & !won) & (around(quiet) | hit);
        more |= won != table.strong[row][at(king)] || lost != table.weak[row][at(king)];
        table.strong[row][at(king)] = won;
        table.weak[row][at(king)] = lost;
    }
    more
}

/// Where the weaker king does not keep the pawn from becoming a queen that stays.
fn queens(pawn: Square, king: Square) -> Bitboard {
    let next = square(at(pawn) + 8);
    if at(pawn) >> 3 != 6 || next == king {
        return Bitboard::EMPTY;
    }
    let near = attacks::king_attacks(next);
    let takes = if near.contains(king) {
        Bitboard::EMPTY
    } else {
        near
    };
    !takes.with(next)
}

/// Where the pawn wins by a step, or two from its own square, short of promotion.
fn steps(table: &Table, pawn: Square, king: Square) -> Bitboard {
    let mut won = Bitboard::EMPTY;
    let mut way = Bitboard::EMPTY;
    let most = match at(pawn) >> 3 {
        1 => 2,
        6 => 0,
        _ => 1,
    };
    for step in 1..=most {
        let to = at(pawn) + 8 * step;
        if to == at(king) {
            break;
        }
        way.add(square(to));
        won |= table.weak[slot(to)][at(king)] & !way;
    }
    won
}

#[cfg(test)]
#[path = "pawn_ending_tests.rs"]
mod tests;
