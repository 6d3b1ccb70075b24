//! The hidden layer before it is clamped, kept up to date.
//!
//! Every ply holds the sums for the board it last saw, and the board at hand is reached from there, from
//! the ply before, or from the last board seen with the king on the same wing, by what differs. So nothing
//! has to be told about moves, and no sum can be out of step with its board.

use shakmaty::Bitboard;

use super::net::{INPUTS, Net, Row};
use crate::engine::position::Position;
use crate::engine::types::*;

/// With so many squares to change, the last board seen alike is as near.
const FAR: u32 = 10;
/// A move changes no more squares than this but for castling: then there is no nearer board to look for.
const ONE_MOVE: u32 = 3;

type Men = [[Bitboard; 6]; 2];

pub(super) fn men_of(p: &Position) -> Men {
    [WHITE, BLACK].map(|colour| std::array::from_fn(|kind| p.men(colour, kind)))
}

/// The sums as one side sees some board, and that board.
#[derive(Clone)]
pub(super) struct Half {
    sums: Row,
    men: Men,
    /// What squares are turned by: 56 for Black's ranks, 7 for mirrored files.
    turned: u8,
}

/// What squares are turned by for this side.
fn turned(p: &Position, colour: Colour) -> u8 {
    let king = relative(colour, p.king(colour));
    (56 * colour) as u8 | if king & 4 != 0 { 7 } else { 0 }
}

impl Half {
    /// No board: nothing is reached from here.
    pub fn nowhere(net: &Net) -> Half {
        Half::empty(net, u8::MAX)
    }

    /// The empty board with the king on the left and on the right wing.
    pub fn views(net: &Net, colour: Colour) -> Vec<Half> {
        [0, 7]
            .map(|mirror| Half::empty(net, (56 * colour) as u8 | mirror))
            .into()
    }

    fn empty(net: &Net, turned: u8) -> Half {
        Half {
            sums: net.bias.clone(),
            men: [[Bitboard::EMPTY; 6]; 2],
            turned,
        }
    }

    pub fn sums(&self) -> &Row {
        &self.sums
    }

    /// Brings these sums to the board at hand by the shortest way.
    #[inline(always)]
    pub fn update(
        &mut self,
        net: &Net,
        p: &Position,
        men: &Men,
        colour: Colour,
        parent: Option<&Half>,
        seen: &mut [Half],
    ) {
        let turned = turned(p, colour);
        let parent = parent.filter(|half| half.turned == turned);
        let far = parent.map_or(u32::MAX, |half| differences(&half.men, men));
        let own = if self.turned == turned && far > ONE_MOVE {
            differences(&self.men, men)
        } else {
            u32::MAX
        };
        if let Some(parent) = parent
            && far < own
            && far < FAR
        {
            let change = Change::between(&parent.men, men, colour, turned);
            change.apply(net, &mut self.sums, Some(&parent.sums));
        } else if own < FAR {
            if own == 0 {
                return;
            }
            let change = Change::between(&self.men, men, colour, turned);
            change.apply(net, &mut self.sums, None);
        } else {
            let kept = &mut seen[usize::from(turned & 1)];
            let change = Change::between(&kept.men, men, colour, turned);
            change.apply(net, &mut kept.sums, None);
            kept.men = *men;
            self.sums = kept.sums.clone();
        }
        self.men = *men;
        self.turned = turned;
    }
}

/// Squares on which two boards differ.
#[inline(always)]
fn differences(a: &Men, b: &Men) -> u32 {
    let mut squares = 0;
    for colour in 0..2 {
        for kind in 0..6 {
            squares |= a[colour][kind].0 ^ b[colour][kind].0;
        }
    }
    squares.count_ones()
}

/// Inputs that come and inputs that go; the board has no more than 32 men.
struct Change {
    added: [u16; 32],
    removed: [u16; 32],
    counts: [usize; 2],
}

impl Change {
    #[inline(always)]
    fn between(old: &Men, new: &Men, colour: Colour, turned: u8) -> Change {
        let mut change = Change {
            added: [0; 32],
            removed: [0; 32],
            counts: [0; 2],
        };
        let input = |first: usize, square| (first + (at(square) ^ usize::from(turned))) as u16;
        for side in 0..2 {
            for kind in 0..6 {
                let (o, n) = (old[side][kind], new[side][kind]);
                if o == n {
                    continue;
                }
                let first = (side ^ colour) * (INPUTS / 2) + kind * 64;
                for square in n & !o {
                    change.added[change.counts[0] & 31] = input(first, square);
                    change.counts[0] += 1;
                }
                for square in o & !n {
                    change.removed[change.counts[1] & 31] = input(first, square);
                    change.counts[1] += 1;
                }
            }
        }
        change
    }

    /// `to` becomes `from` with the change; without `from`, what `to` holds already.
    #[inline(always)]
    fn apply(&self, net: &Net, to: &mut Row, from: Option<&Row>) {
        let row = |i: u16| &net.inputs[usize::from(i)];
        let [mut a, mut r] = self.counts;
        match (from, a, r) {
            (Some(from), 1, 1) => {
                return exchange(to, from, row(self.added[0]), row(self.removed[0]));
            }
            (Some(from), 1, 2) => {
                let gone = [row(self.removed[0]), row(self.removed[1])];
                return exchange_two(to, from, row(self.added[0]), gone);
            }
            (Some(from), ..) => to.0.copy_from_slice(&from.0),
            _ => {}
        }
        while a > 0 && r > 0 {
            (a, r) = (a - 1, r - 1);
            replace(to, row(self.added[a]), row(self.removed[r]));
        }
        for &i in &self.added[..a] {
            add(to, row(i));
        }
        for &i in &self.removed[..r] {
            take(to, row(i));
        }
    }
}

#[inline(always)]
fn add(to: &mut Row, row: &Row) {
    for (t, r) in to.0.iter_mut().zip(&row.0) {
        *t = t.wrapping_add(*r);
    }
}

#[inline(always)]
fn take(to: &mut Row, row: &Row) {
    for (t, r) in to.0.iter_mut().zip(&row.0) {
        *t = t.wrapping_sub(*r);
    }
}

#[inline(always)]
fn replace(to: &mut Row, added: &Row, removed: &Row) {
    for ((t, a), r) in to.0.iter_mut().zip(&added.0).zip(&removed.0) {
        *t = t.wrapping_add(*a).wrapping_sub(*r);
    }
}

#[inline(always)]
fn exchange(to: &mut Row, from: &Row, added: &Row, removed: &Row) {
    for (i, t) in to.0.iter_mut().enumerate() {
        *t = from.0[i]
            .wrapping_add(added.0[i])
            .wrapping_sub(removed.0[i]);
    }
}

#[inline(always)]
fn exchange_two(to: &mut Row, from: &Row, added: &Row, [one, two]: [&Row; 2]) {
    for (i, t) in to.0.iter_mut().enumerate() {
        *t = from.0[i]
            .wrapping_add(added.0[i])
            .wrapping_sub(one.0[i])
            .wrapping_sub(two.0[i]);
    }
}
