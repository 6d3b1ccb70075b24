//! The hidden layer before it is clamped, kept up to date.
//!
//! Every ply holds the sums for the board it last saw, and the board at hand is reached from there, from
//! the ply before, or from the last board seen with the king on the same wing, by what differs. So nothing
//! has to be told about moves, and no sum can be out of step with its board.

use shakmaty::Bitboard;

use super::net::{INPUTS, Net, Row};
use crate::engine::position::Board;
use crate::engine::types::*;

/// With so many squares to change, the last board seen alike is as near.
const FAR: usize = 10;
/// A move changes no more squares than this but for castling: then there is no nearer board to look for.
const ONE_MOVE: usize = 3;
/// Nor more than this with it.
const FROM_PARENT: usize = 4;

/// A board, and the sums as each side sees it.
#[derive(Clone)]
pub(super) struct Ply {
    board: Board,
    /// What squares are turned by for each side; [`NOWHERE`] if nothing is reached from here.
    turned: [u8; 2],
    sums: [Row; 2],
    /// The board that the search has reached here, whether it was evaluated or not.
    reached: Board,
}

const NOWHERE: u8 = u8::MAX;

/// The last board that one side saw with its king on one wing.
pub(super) struct Seen {
    board: Board,
    sums: Row,
}

/// All plies of a search, and what both sides saw last on each wing of their king.
pub(super) struct Sums {
    pub net: &'static Net,
    plies: Vec<Ply>,
    seen: Box<[[Seen; 2]; 2]>,
}

/// What squares are turned by for each side: 56 for Black's ranks, 7 for mirrored files.
fn turned(board: &Board) -> [u8; 2] {
    [WHITE, BLACK].map(|colour| {
        let king = relative(colour, board.king(colour));
        (56 * colour) as u8 | if king & 4 != 0 { 7 } else { 0 }
    })
}

impl Sums {
    pub fn new(net: &'static Net, plies: usize) -> Sums {
        let nowhere = Ply {
            board: Board::EMPTY,
            turned: [NOWHERE; 2],
            sums: [net.bias.clone(), net.bias.clone()],
            reached: Board::EMPTY,
        };
        let empty = || Seen {
            board: Board::EMPTY,
            sums: net.bias.clone(),
        };
        Sums {
            net,
            plies: vec![nowhere; plies],
            seen: Box::new([[empty(), empty()], [empty(), empty()]]),
        }
    }

    /// Notes which board the search has reached at a ply: those below it are one move away.
    pub fn reach(&mut self, ply: usize, board: &Board) {
        self.plies[ply].reached = *board;
    }

    /// The sums of the board at hand as White and as Black see it.
    #[inline(always)]
    pub fn of(&mut self, ply: usize, board: &Board) -> &[Row; 2] {
        let turned = turned(board);
        let (before, here) = self.plies.split_at_mut(ply);
        let here = &mut here[0];
        if let Some(parent) = before.last()
            && parent.turned == turned
            && parent.board.differences(board).count() <= ONE_MOVE
        {
            here.step(self.net, parent, board);
        } else {
            self.come_from_far(ply, board, turned);
        }
        &self.plies[ply].sums
    }

    /// The same where one move is not all that lies between.
    #[inline(never)]
    fn come_from_far(&mut self, ply: usize, board: &Board, turned_here: [u8; 2]) {
        // The ply before was not evaluated: done now, it serves all boards that are reached from it.
        if let Some(above) = ply.checked_sub(1) {
            let reached = self.plies[above].reached;
            let near = reached.differences(board).count() <= FROM_PARENT;
            if near && self.plies[above].board.differences(&reached).any() {
                self.bring_from_nearest(above, &reached, turned(&reached));
            }
        }
        self.bring_from_nearest(ply, board, turned_here);
    }

    /// Brings the sums of a ply to a board from whichever board is the nearest.
    fn bring_from_nearest(&mut self, ply: usize, board: &Board, turned: [u8; 2]) {
        let (before, here) = self.plies.split_at_mut(ply);
        let here = &mut here[0];
        let net = self.net;
        let own = here.board.differences(board);
        for colour in [WHITE, BLACK] {
            let turned = turned[colour];
            let to = &mut here.sums[colour];
            let parent = before
                .last()
                .filter(|ply| ply.turned[colour] == turned)
                .map(|ply| (ply, ply.board.differences(board)));
            let far = parent.map_or(64, |(_, squares)| squares.count());
            let near = if here.turned[colour] == turned {
                own.count()
            } else {
                64
            };
            if let Some((ply, squares)) = parent
                && far < near.min(FAR)
            {
                let change = Change::between(&ply.board, board, squares);
                change.apply(net, colour, turned, to, Some(&ply.sums[colour]));
            } else if near < FAR {
                let change = Change::between(&here.board, board, own);
                change.apply(net, colour, turned, to, None);
            } else {
                let kept = &mut self.seen[colour][usize::from(turned & 1)];
                let squares = kept.board.differences(board);
                let change = Change::between(&kept.board, board, squares);
                change.apply(net, colour, turned, &mut kept.sums, None);
                kept.board = *board;
                *to = kept.sums.clone();
            }
        }
        here.board = *board;
        here.turned = turned;
    }
}

impl Ply {
    /// Brings these sums one move on from those of the ply before.
    #[inline(always)]
    fn step(&mut self, net: &Net, parent: &Ply, board: &Board) {
        let squares = parent.board.differences(board);
        let change = Change::between(&parent.board, board, squares);
        for colour in [WHITE, BLACK] {
            let from = Some(&parent.sums[colour]);
            let turned = parent.turned[colour];
            change.apply(net, colour, turned, &mut self.sums[colour], from);
        }
        self.board = *board;
        self.turned = parent.turned;
    }
}

/// Men that come and men that go, with their squares; a board has no more than 32.
struct Change {
    added: [(Piece, u8); 32],
    removed: [(Piece, u8); 32],
    counts: [usize; 2],
}

/// The input of a man as one side sees it.
fn input(colour: Colour, turned: u8, (man, square): (Piece, u8)) -> usize {
    let other = usize::from(colour_of(man) != colour);
    other * (INPUTS / 2) + kind_of(man) * 64 + usize::from(square ^ turned)
}

impl Change {
    #[inline(always)]
    fn between(old: &Board, new: &Board, squares: Bitboard) -> Change {
        let mut change = Change {
            added: [(0, 0); 32],
            removed: [(0, 0); 32],
            counts: [0; 2],
        };
        for square in squares {
            let (gone, come) = (old.on(square), new.on(square));
            if come != EMPTY {
                change.added[change.counts[0] & 31] = (come, square as u8);
                change.counts[0] += 1;
            }
            if gone != EMPTY {
                change.removed[change.counts[1] & 31] = (gone, square as u8);
                change.counts[1] += 1;
            }
        }
        change
    }

    /// `to` becomes `from` with the change; without `from`, what `to` holds already.
    #[inline(always)]
    fn apply(&self, net: &Net, colour: Colour, turned: u8, to: &mut Row, from: Option<&Row>) {
        let row = |man| &net.inputs[input(colour, turned, man)];
        let [mut a, mut r] = self.counts;
        match (from, a, r) {
            (Some(from), 1, 1) => {
                return to.exchange(from, row(self.added[0]), row(self.removed[0]));
            }
            (Some(from), 1, 2) => {
                let gone = [row(self.removed[0]), row(self.removed[1])];
                return to.exchange_two(from, row(self.added[0]), gone);
            }
            (Some(from), ..) => *to = from.clone(),
            _ => {}
        }
        while a > 0 && r > 0 {
            (a, r) = (a - 1, r - 1);
            to.replace(row(self.added[a]), row(self.removed[r]));
        }
        for &man in &self.added[..a] {
            to.add(row(man));
        }
        for &man in &self.removed[..r] {
            to.take(row(man));
        }
    }
}

impl Row {
    #[inline(always)]
    fn add(&mut self, row: &Row) {
        for (t, r) in self.0.iter_mut().zip(&row.0) {
            *t += *r;
        }
    }

    #[inline(always)]
    fn take(&mut self, row: &Row) {
        for (t, r) in self.0.iter_mut().zip(&row.0) {
            *t -= *r;
        }
    }

    #[inline(always)]
    fn replace(&mut self, added: &Row, removed: &Row) {
        for ((t, a), r) in self.0.iter_mut().zip(&added.0).zip(&removed.0) {
            *t = *t + *a - *r;
        }
    }

    #[inline(always)]
    fn exchange(&mut self, from: &Row, added: &Row, removed: &Row) {
        for (i, t) in self.0.iter_mut().enumerate() {
            *t = from.0[i] + added.0[i] - removed.0[i];
        }
    }

    #[inline(always)]
    fn exchange_two(&mut self, from: &Row, added: &Row, [one, two]: [&Row; 2]) {
        for (i, t) in self.0.iter_mut().enumerate() {
            *t = from.0[i] + added.0[i] - one.0[i] - two.0[i];
        }
    }
}
