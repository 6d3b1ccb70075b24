//! The transposition table: what was found out about positions met before, in this search or one
//! move ago (R. Greenblatt, D. Eastlake, S. Crocker, "The Greenblatt Chess Program", 1967).
//!
//! Four entries of sixteen bytes share a bucket. Each entry carries the number of the game it was
//! written in, so that forgetting everything is one increment: entries of another game count as
//! empty and are the first to be overwritten, which keeps searches repeatable. Threads share the
//! table without locks; an entry whose two words do not belong together is taken as absent
//! (R. Hyatt, T. Mann, "A Lock-less Transposition Table Implementation", ICGA Journal 25(1), 2002).

use std::sync::atomic::{AtomicU32, AtomicU64, Ordering::Relaxed};

use prefetch_index::prefetch_index;

use super::types::*;

/// What a stored score says about the true one.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Bound {
    None = 0,
    Upper = 1,
    Lower = 2,
    Exact = 3,
}

impl Bound {
    /// Whether a score with this bound settles a question: one that is `above` what was asked must be a
    /// lower bound, any other an upper one.
    pub fn holds(self, above: bool) -> bool {
        self == Bound::Exact || self == if above { Bound::Lower } else { Bound::Upper }
    }
}

/// A stored result, as seen from the node that asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Found {
    pub mv: Move,
    pub score: i32,
    /// Static evaluation, or [`NO_EVAL`].
    pub eval: i32,
    pub depth: i32,
    pub bound: Bound,
    pub was_pv: bool,
}

/// Stands for "not evaluated" in an entry.
pub const NO_EVAL: i32 = -32_768;

const WAYS: usize = 4;

#[derive(Default)]
struct Slot {
    /// Upper key bits mixed with the data in the upper 48 bits, number of the game in the lower 16.
    tag: AtomicU64,
    /// Move 16, score 16, evaluation 16, depth 8, age 5, pv 1, bound 2 bits, from the lowest up.
    data: AtomicU64,
}

#[derive(Default)]
#[repr(align(64))]
struct Bucket([Slot; WAYS]);

pub struct Table {
    buckets: Box<[Bucket]>,
    /// Number of the current game, 1 to 65535; entries of other games are empty.
    game: AtomicU32,
    /// Number of the current search within the game, modulo 32.
    age: AtomicU32,
}

const KEY_PART: u64 = !0xffff;

fn depth_of(data: u64) -> i32 {
    (data >> 48 & 0xff) as i32
}

fn age_of(data: u64) -> u32 {
    (data >> 56 & 31) as u32
}

fn bound_of(data: u64) -> Bound {
    match data >> 62 {
        0 => Bound::None,
        1 => Bound::Upper,
        2 => Bound::Lower,
        _ => Bound::Exact,
    }
}

/// Mates are stored as distance from the node, used as distance from the root.
fn to_stored(score: i32, ply: usize) -> i32 {
    if score >= MATE_BOUND {
        score + ply as i32
    } else if score <= -MATE_BOUND {
        score - ply as i32
    } else {
        score
    }
}

fn from_stored(score: i32, ply: usize) -> i32 {
    if score >= MATE_BOUND {
        score - ply as i32
    } else if score <= -MATE_BOUND {
        score + ply as i32
    } else {
        score
    }
}

impl Table {
    /// A table of about `megabytes` (at least 1).
    pub fn new(megabytes: usize) -> Table {
        let count = (megabytes.max(1) << 20) / size_of::<Bucket>();
        let mut buckets = Vec::with_capacity(count);
        buckets.resize_with(count, Bucket::default);
        Table {
            buckets: buckets.into_boxed_slice(),
            game: AtomicU32::new(1),
            age: AtomicU32::new(0),
        }
    }

    /// Forgets everything. Constant time but for one call in 65535.
    pub fn forget(&self) {
        let game = self.game.load(Relaxed);
        self.age.store(0, Relaxed);
        if game < 0xffff {
            self.game.store(game + 1, Relaxed);
            return;
        }
        for slot in self.buckets.iter().flat_map(|b| &b.0) {
            slot.tag.store(0, Relaxed);
        }
        self.game.store(1, Relaxed);
    }

    /// Marks everything stored so far as older than what comes.
    pub fn new_search(&self) {
        self.age.store((self.age.load(Relaxed) + 1) & 31, Relaxed);
    }

    fn place(&self, key: u64) -> usize {
        ((u128::from(key) * self.buckets.len() as u128) >> 64) as usize
    }

    fn bucket(&self, key: u64) -> &Bucket {
        &self.buckets[self.place(key)]
    }

    /// Has the bucket for a key brought into the cache ahead of a probe: without it a quarter of the
    /// time of a search went into waiting for memory (perf, 16 MB table).
    pub fn touch(&self, key: u64) {
        prefetch_index(&self.buckets, self.place(key));
    }

    fn game_part(&self) -> u64 {
        u64::from(self.game.load(Relaxed))
    }

    /// The low bits decide here, the high ones chose the bucket.
    fn tag_for(key: u64, data: u64) -> u64 {
        ((key << 16) ^ data.wrapping_mul(0x9e37_79b9_7f4a_7c15)) & KEY_PART
    }

    /// What is known about the position with this key, scores counted from the root.
    pub fn probe(&self, key: u64, ply: usize) -> Option<Found> {
        let game = self.game_part();
        for slot in &self.bucket(key).0 {
            let data = slot.data.load(Relaxed);
            if slot.tag.load(Relaxed) == Table::tag_for(key, data) | game {
                return Some(Found {
                    mv: Move::from_bits(data as u16),
                    score: from_stored(i32::from((data >> 16) as i16), ply),
                    eval: i32::from((data >> 32) as i16),
                    depth: depth_of(data) - 1,
                    bound: bound_of(data),
                    was_pv: data >> 61 & 1 != 0,
                });
            }
        }
        None
    }

    /// Keeps a result, in place of the entry of its bucket that is worth least.
    pub fn store(&self, key: u64, ply: usize, found: Found) {
        let game = self.game_part();
        let age = self.age.load(Relaxed);
        let bucket = self.bucket(key);
        let mut victim = &bucket.0[0];
        let mut worth = i32::MAX;
        let mut mv = found.mv;
        for slot in &bucket.0 {
            let data = slot.data.load(Relaxed);
            let tag = slot.tag.load(Relaxed);
            if tag == Table::tag_for(key, data) | game {
                let fresh = found.bound == Bound::Exact || age_of(data) != age;
                if !fresh && found.depth + 5 <= depth_of(data) {
                    return;
                }
                if mv.is_none() {
                    mv = Move::from_bits(data as u16);
                }
                victim = slot;
                break;
            }
            let empty = tag & 0xffff != game;
            let kept = depth_of(data) - 4 * ((32 + age - age_of(data)) & 31) as i32;
            let value = if empty { i32::MIN } else { kept };
            if value < worth {
                (worth, victim) = (value, slot);
            }
        }
        let data = u64::from(mv.bits())
            | u64::from(to_stored(found.score, ply) as i16 as u16) << 16
            | u64::from(found.eval as i16 as u16) << 32
            | ((found.depth + 1).clamp(0, 255) as u64) << 48
            | u64::from(age) << 56
            | u64::from(found.was_pv) << 61
            | (found.bound as u64) << 62;
        victim.data.store(data, Relaxed);
        victim.tag.store(Table::tag_for(key, data) | game, Relaxed);
    }

    /// Share of entries written in this search, in permille, from a sample.
    pub fn fill(&self) -> usize {
        let (game, age) = (self.game_part(), self.age.load(Relaxed));
        let sample = self.buckets.len().min(1000);
        let used = self.buckets[..sample]
            .iter()
            .flat_map(|b| &b.0)
            .filter(|s| s.tag.load(Relaxed) & 0xffff == game && age_of(s.data.load(Relaxed)) == age)
            .count();
        used * 1000 / (sample * WAYS)
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::engine::keys::mix;
    use crate::engine::moves::Moves;
    use crate::engine::position::Position;
    use crate::engine::worker::{Limits, Worker};
    use crate::engine::{bench, generate};

    fn entry(score: i32, depth: i32) -> Found {
        Found {
            mv: Move::from_bits(77),
            score,
            eval: -12,
            depth,
            bound: Bound::Lower,
            was_pv: false,
        }
    }

    #[test]
    fn what_is_stored_is_found_again() {
        let table = Table::new(1);
        table.store(0xfeed_beef_1234_5678, 3, entry(-345, 9));
        assert_eq!(table.probe(0xfeed_beef_1234_5678, 3), Some(entry(-345, 9)));
        assert_eq!(table.probe(0xfeed_beef_1234_5679, 3), None);
    }

    #[test]
    fn mates_keep_their_distance_from_the_node() {
        let table = Table::new(1);
        table.store(42, 4, entry(MATE - 10, 9));
        assert_eq!(table.probe(42, 6).map(|f| f.score), Some(MATE - 12));
        table.store(43, 4, entry(-MATE + 10, 9));
        assert_eq!(table.probe(43, 6).map(|f| f.score), Some(-MATE + 12));
    }

    #[test]
    fn forgetting_leaves_nothing_even_after_a_full_round_of_games() {
        let table = Table::new(1);
        table.store(42, 0, entry(5, 9));
        for _ in 0..0x1_0000 {
            table.forget();
            assert_eq!(table.probe(42, 0), None);
        }
    }

    /// Threads write and read one bucket at once: what comes back for a key is what was stored for it,
    /// whole, or nothing.
    #[test]
    fn threads_never_see_half_an_entry() {
        let table = Table::new(1);
        let stored = |n: u64| Found {
            mv: Move::from_bits(n as u16 + 1),
            score: n as i32 * 37 - 5000,
            eval: 4000 - n as i32 * 11,
            depth: n as i32 % 60,
            bound: Bound::Exact,
            was_pv: n.is_multiple_of(2),
        };
        let hits = std::sync::atomic::AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for thread in 0..4 {
                let (table, hits) = (&table, &hits);
                scope.spawn(move || {
                    for i in 0..30_000 {
                        let n = mix(i ^ thread << 40) % 200;
                        if let Some(found) = table.probe(n + 1, 0) {
                            assert_eq!(found, stored(n));
                            hits.fetch_add(1, Relaxed);
                        }
                        table.store(n + 1, 0, stored(n));
                    }
                });
            }
        });
        assert!(hits.into_inner() > 0);
    }

    /// Entries forced onto one key from other positions: whatever comes back as a move is legal.
    #[test]
    fn moves_of_colliding_positions_are_refused() {
        let table = Table::new(1);
        for p in bench::positions() {
            for other in bench::positions() {
                let mut moves = Moves::default();
                generate::legal(&other, &mut moves);
                for &m in moves.from(0) {
                    table.store(
                        p.key,
                        0,
                        Found {
                            mv: m,
                            ..entry(0, 3)
                        },
                    );
                    let mv = table.probe(p.key, 0).unwrap().mv;
                    let mut legal = Moves::default();
                    generate::legal(&p, &mut legal);
                    let taken = p.is_pseudo_legal(mv) && p.is_legal(mv);
                    assert_eq!(taken, legal.from(0).contains(&mv), "{mv}");
                }
            }
        }
    }

    /// Puts nonsense (any move, score, depth, bound) under the keys of `p` and of what follows it.
    fn poison(table: &Table, p: &Position, seed: u64, plies: usize) {
        let dice = mix(p.key ^ seed);
        let bounds = [Bound::None, Bound::Upper, Bound::Lower, Bound::Exact];
        let found = Found {
            mv: Move::from_bits(dice as u16),
            score: (dice >> 16 & 0x7ff) as i32 - 1024,
            eval: (dice >> 27 & 0x7ff) as i32 - 1024,
            depth: (dice >> 38 & 7) as i32,
            bound: bounds[(dice >> 41 & 3) as usize],
            was_pv: dice >> 43 & 1 != 0,
        };
        table.store(p.key, 0, found);
        if plies > 0 {
            let mut moves = Moves::default();
            generate::legal(p, &mut moves);
            for &m in moves.from(0) {
                poison(table, &p.after(m), seed, plies - 1);
            }
        }
    }

    proptest::proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig::with_cases(48))]

        /// As if every probe hit an entry of another position: lines of a search stay legal.
        #[test]
        fn a_table_of_collisions_leads_to_no_illegal_move(seed: u64) {
            let table = Arc::new(Table::new(1));
            let first = bench::positions().nth(seed as usize % 16).unwrap();
            poison(&table, &first, seed, 2);
            let mut worker = Worker::new(table, Arc::default());
            let limits = Limits {
                depth: Some(4),
                lines: 2,
                ..Limits::default()
            };
            for root in worker.think(&first, &[first.key], &limits, &mut |_| ()) {
                let mut p = first;
                for &mv in &root.line {
                    let mut legal = Moves::default();
                    generate::legal(&p, &mut legal);
                    proptest::prop_assert!(legal.from(0).contains(&mv), "{mv}");
                    p = p.after(mv);
                }
            }
        }
    }
}
