//! The moves of all nodes on the path that is searched, one node's behind the other's, and what orders them.
//!
//! A value and the place of its move are packed into one number, its key, and keys lie apart from moves: so the best
//! of many is the largest number of a row, which the processor finds several at a time and without a branch that it
//! would guess wrong.

use super::types::*;

/// Bits of a key that hold the place: more than there are moves of 32 men.
const PLACES: i32 = 0x3ff;
const SHIFT: u32 = 10;

/// Room for moves is reserved once, before the search.
#[derive(Default)]
pub struct Moves {
    moves: Vec<Move>,
    keys: Vec<i32>,
    count: usize,
}

impl Moves {
    /// Room for so many moves.
    pub fn with_room(room: usize) -> Moves {
        Moves {
            moves: vec![Move::NONE; room],
            keys: vec![0; room],
            count: 0,
        }
    }

    pub fn len(&self) -> usize {
        self.count
    }

    /// The moves from `first` on.
    pub fn from(&self, first: usize) -> &[Move] {
        self.moves.get(first..self.count).unwrap_or_default()
    }

    pub fn get(&self, at: usize) -> Option<Move> {
        self.from(at).first().copied()
    }

    #[inline]
    pub fn push(&mut self, m: Move) {
        if self.count == self.moves.len() {
            self.grow();
        }
        self.moves[self.count] = m;
        self.count += 1;
    }

    #[cold]
    #[inline(never)]
    fn grow(&mut self) {
        let room = self.moves.len() + 256;
        self.moves.resize(room, Move::NONE);
        self.keys.resize(room, 0);
    }

    pub fn truncate(&mut self, count: usize) {
        self.count = self.count.min(count);
    }

    /// Puts a move into a place that is free again.
    pub fn put(&mut self, at: usize, m: Move) {
        self.moves[at] = m;
    }

    /// Keeps of the moves from `first` on, in their order, those that are wanted.
    pub fn retain(&mut self, first: usize, wanted: impl Fn(Move) -> bool) {
        let mut kept = first;
        for at in first..self.count {
            let m = self.moves[at];
            if wanted(m) {
                self.moves[kept] = m;
                kept += 1;
            }
        }
        self.truncate(kept);
    }

    /// Gives the moves from `first` on their values (at most 21 bits), to [`select`](Moves::select) by.
    #[inline(always)]
    pub fn rate(&mut self, first: usize, mut value: impl FnMut(Move) -> i32) {
        let moves = &self.moves[first..self.count];
        let keys = &mut self.keys[first..self.count];
        let mut place = PLACES;
        for (m, key) in moves.iter().zip(keys) {
            *key = value(*m) << SHIFT | place;
            place -= 1;
        }
    }

    /// Brings the best of the moves from `next` on to `next`, of equal ones the first; they have been rated from
    /// `first` on.
    #[inline(always)]
    pub fn select(&mut self, first: usize, next: usize) -> Option<Move> {
        let keys = self.keys.get_mut(next..self.count)?;
        let best = keys.iter().copied().max()?;
        let place = first + (PLACES - (best & PLACES)) as usize;
        // What gives way stands where the best stood.
        let other = keys[0];
        if let Some(key) = keys.get_mut(place - next) {
            *key = other & !PLACES | best & PLACES;
        }
        let m = *self.moves.get(place)?;
        self.moves[place] = self.moves[next];
        self.moves[next] = m;
        Some(m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::keys::mix;

    /// Held against the plain way: look for the first of the best, swap it to the front, go on behind it.
    #[test]
    fn the_best_come_first_and_of_equal_ones_those_that_stand_first() {
        for seed in 0..200 {
            let count = mix(seed) as usize % 90;
            let first = mix(seed + 1000) as usize % 5;
            let mut moves = Moves::with_room(8);
            let mut plain = Vec::new();
            (0..first).for_each(|_| moves.push(Move::NONE));
            for i in 0..count {
                let dice = mix(seed << 32 | i as u64);
                // Few values, so that many are equal, and the largest ones that histories give.
                let value = (dice % 7) as i32 * if dice & 64 == 0 { 1 } else { -21_845 };
                moves.push(Move::from_bits(i as u16 + 1));
                plain.push((Move::from_bits(i as u16 + 1), value));
            }
            let values = plain.clone();
            moves.rate(first, |m| values[usize::from(m.bits()) - 1].1);
            for next in 0..count {
                let best = plain[next..].iter().map(|p| p.1).max().unwrap();
                let at = plain[next..].iter().position(|p| p.1 == best).unwrap();
                plain.swap(next, next + at);
                assert_eq!(moves.select(first, first + next), Some(plain[next].0));
            }
            assert_eq!(moves.select(first, first + count), None);
        }
    }
}
