//! Hands out moves one by one, best guess first, and generates only what is asked for.
//!
//! Order: move from the table, captures and promotions that win material or keep it level, killers
//! and counter move, quiet moves by history, captures that lose material.

use super::exchange;
use super::generate;
use super::history::{History, Target};
use super::moves::Moves;
use super::position::{Checks, Position};
use super::types::*;

#[derive(Clone, Copy, PartialEq, Eq, Debug, PartialOrd)]
pub enum Stage {
    Table,
    MakeNoisy,
    GoodNoisy,
    Refutations,
    MakeQuiet,
    Quiet,
    BadNoisy,
    MakeChecks,
    Checks,
    Done,
}

/// Walks through the moves of one node. Its moves lie at the end of the shared stack of moves from
/// `start` on; whoever made the picker truncates the stack to `start` afterwards.
pub struct Picker {
    stage: Stage,
    table: Move,
    refutations: [Move; 3],
    skip_quiet: bool,
    skip_bad: bool,
    /// Quiet moves that give check come last.
    with_checks: bool,
    /// Exchange gain that a capture must reach to be good.
    threshold: i32,
    /// Captures of what is worth no more are left out.
    passed_over: i32,
    /// What tells about checks, once they are asked for.
    checks: Option<Checks>,
    tried: usize,
    start: usize,
    bad_end: usize,
    next: usize,
}

impl Picker {
    pub fn new(p: &Position, table: Move, start: usize) -> Picker {
        let usable = p.is_pseudo_legal(table);
        Picker {
            stage: if usable {
                Stage::Table
            } else {
                Stage::MakeNoisy
            },
            table: if usable { table } else { Move::NONE },
            refutations: [Move::NONE; 3],
            skip_quiet: false,
            skip_bad: false,
            with_checks: false,
            threshold: 0,
            passed_over: -1,
            checks: None,
            tried: 0,
            start,
            bad_end: start,
            next: start,
        }
    }

    /// All moves; killers and counter move are tried before other quiet moves.
    pub fn all(
        p: &Position,
        table: Move,
        start: usize,
        killers: [Move; 2],
        counter: Move,
    ) -> Picker {
        let mut picker = Picker::new(p, table, start);
        picker.refutations = [killers[0], killers[1], counter];
        picker
    }

    /// Only captures and promotions that gain at least `threshold` by static exchange.
    pub fn noisy(p: &Position, table: Move, start: usize, threshold: i32) -> Picker {
        let table = if table.is_noisy() { table } else { Move::NONE };
        let mut picker = Picker::new(p, table, start);
        picker.skip_quiet = true;
        picker.skip_bad = true;
        picker.threshold = threshold;
        picker
    }

    /// Captures and promotions that lose nothing, then quiet moves that give check.
    pub fn noisy_and_checks(p: &Position, table: Move, start: usize) -> Picker {
        let mut picker = Picker::noisy(p, table, start, 0);
        picker.with_checks = true;
        picker
    }

    pub fn stage(&self) -> Stage {
        self.stage
    }

    fn begin_bad(&mut self) {
        self.stage = Stage::BadNoisy;
        self.next = self.start;
    }

    /// Leaves out, from here on, captures of what is worth no more than this.
    pub fn pass_over(&mut self, worth: i32) {
        self.passed_over = worth;
    }

    /// Whether a quiet move that is handed out as a check opens a line on the enemy king.
    pub fn uncovers(&self, p: &Position, m: Move) -> bool {
        self.checks
            .as_ref()
            .is_some_and(|checks| p.uncovers(m, checks))
    }

    /// The next pseudo-legal move.
    #[inline(always)]
    pub fn next(
        &mut self,
        p: &Position,
        moves: &mut Moves,
        history: &History,
        before: &[Target; 3],
    ) -> Option<Move> {
        // Most moves are quiet ones.
        if self.stage == Stage::Quiet {
            if let Some(m) = self.quiet(moves) {
                return Some(m);
            }
            self.begin_bad();
        }
        self.step(p, moves, history, before)
    }

    /// The best quiet move that is left.
    #[inline(always)]
    fn quiet(&mut self, moves: &mut Moves) -> Option<Move> {
        while let Some(m) = moves.select(self.bad_end, self.next) {
            self.next += 1;
            if m != self.table && !self.refutations.contains(&m) {
                return Some(m);
            }
        }
        None
    }

    /// The next move, through all stages.
    #[inline(never)]
    fn step(
        &mut self,
        p: &Position,
        moves: &mut Moves,
        history: &History,
        before: &[Target; 3],
    ) -> Option<Move> {
        loop {
            match self.stage {
                Stage::Table => {
                    self.stage = Stage::MakeNoisy;
                    return Some(self.table);
                }
                Stage::MakeNoisy => self.make_noisy(p, moves, history),
                Stage::GoodNoisy => {
                    if let Some(m) = self.good_noisy(p, moves) {
                        return Some(m);
                    }
                    match (self.skip_quiet, self.skip_bad) {
                        (false, _) => self.stage = Stage::Refutations,
                        (true, false) => self.begin_bad(),
                        (true, true) if self.with_checks => self.stage = Stage::MakeChecks,
                        (true, true) => self.stage = Stage::Done,
                    }
                }
                Stage::Refutations => {
                    if let Some(m) = self.refutation(p) {
                        return Some(m);
                    }
                    self.stage = Stage::MakeQuiet;
                }
                Stage::MakeQuiet => self.make_quiet(p, moves, history, before),
                Stage::Quiet => match self.quiet(moves) {
                    Some(m) => return Some(m),
                    None => self.begin_bad(),
                },
                Stage::BadNoisy => {
                    if self.next < self.bad_end {
                        self.next += 1;
                        return moves.get(self.next - 1);
                    }
                    self.stage = Stage::Done;
                }
                Stage::MakeChecks => {
                    moves.truncate(self.start);
                    generate::quiet_checks(p, self.checks.insert(p.checks()), moves);
                    self.next = self.start;
                    self.stage = Stage::Checks;
                }
                Stage::Checks => {
                    let m = moves.get(self.next);
                    self.next += 1;
                    if m.is_some() {
                        return m;
                    }
                    self.stage = Stage::Done;
                }
                Stage::Done => return None,
            }
        }
    }

    fn make_noisy(&mut self, p: &Position, moves: &mut Moves, history: &History) {
        generate::noisy(p, moves);
        moves.rate(self.start, |m| {
            let gain = exchange::VALUE[kind_of(p.taken(m))];
            let promotion = if m.is_promotion() {
                exchange::VALUE[m.promoted()] - 800
            } else {
                0
            };
            8 * (gain + promotion) + history.capture(p, m) / 8
        });
        self.next = self.start;
        self.stage = Stage::GoodNoisy;
    }

    fn good_noisy(&mut self, p: &Position, moves: &mut Moves) -> Option<Move> {
        while let Some(m) = moves.select(self.start, self.next) {
            self.next += 1;
            let gain = exchange::VALUE[kind_of(p.taken(m))];
            if m == self.table || (gain <= self.passed_over && !m.is_promotion()) {
                continue;
            }
            let under = m.is_promotion() && m.promoted() != QUEEN;
            if !under && exchange::wins_at_least(p, m, self.threshold) {
                return Some(m);
            }
            // Places before `next` are free again: losing captures wait there.
            moves.put(self.bad_end, m);
            self.bad_end += 1;
        }
        None
    }

    fn refutation(&mut self, p: &Position) -> Option<Move> {
        while self.tried < 3 {
            let m = self.refutations[self.tried];
            self.tried += 1;
            let seen = m == self.table || self.refutations[..self.tried - 1].contains(&m);
            if seen || m.is_capture() || m.is_promotion() || !p.is_pseudo_legal(m) {
                // Must not hide the move from the quiet stage unless it was handed out.
                if !seen {
                    self.refutations[self.tried - 1] = Move::NONE;
                }
                continue;
            }
            return Some(m);
        }
        None
    }

    fn make_quiet(
        &mut self,
        p: &Position,
        moves: &mut Moves,
        history: &History,
        before: &[Target; 3],
    ) {
        moves.truncate(self.bad_end);
        generate::quiet(p, moves);
        let rater = history.rater(p, before);
        moves.rate(self.bad_end, |m| rater.value(p, m));
        self.next = self.bad_end;
        self.stage = Stage::Quiet;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::history::NO_TARGET;
    use shakmaty::{CastlingMode, Chess, Position as _, fen::Fen};

    fn set_up(fen: &str) -> (Chess, Position) {
        let chess: Chess = fen
            .parse::<Fen>()
            .unwrap()
            .into_position(CastlingMode::Standard)
            .unwrap();
        let p = Position::from_chess(&chess).unwrap();
        (chess, p)
    }

    /// Counts leaves with the picker, offering it doubtful moves from elsewhere.
    fn perft(p: &Position, depth: u32, moves: &mut Moves, history: &History, hint: Move) -> u64 {
        if depth == 0 {
            return 1;
        }
        let start = moves.len();
        let mut picker = Picker::all(
            p,
            hint,
            start,
            [Move::from_bits(hint.bits() ^ 0x41), hint],
            Move::NONE,
        );
        let mut nodes = 0;
        let mut last = hint;
        while let Some(m) = picker.next(p, moves, history, &[NO_TARGET; 3]) {
            if p.is_legal(m) {
                nodes += perft(&p.after(m), depth - 1, moves, history, last);
                last = m;
            }
        }
        moves.truncate(start);
        nodes
    }

    /// Published perft counts of well-known test positions (collected on the web since the 1990s;
    /// numbers from memory, also given by shakmaty's generator in the next test).
    #[test]
    fn staged_moves_count_to_published_perft_numbers() {
        let history = History::default();
        for (fen, depth, expected) in [
            (
                "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
                4,
                197_281,
            ),
            (
                "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
                3,
                97_862,
            ),
            ("8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - - 0 1", 5, 674_624),
            (
                "r3k2r/Pppp1ppp/1b3nbN/nP6/BBP1P3/q4N2/Pp1P2PP/R2Q1RK1 w kq - 0 1",
                4,
                422_333,
            ),
            (
                "rnbq1k1r/pp1Pbppp/2p5/8/2B5/8/PPP1NnPP/RNBQK2R w KQ - 1 8",
                3,
                62_379,
            ),
            (
                "r4rk1/1pp1qppp/p1np1n2/2b1p1B1/2B1P1b1/P1NP1N2/1PP1QPPP/R4RK1 w - - 0 10",
                3,
                89_890,
            ),
        ] {
            let (_, p) = set_up(fen);
            assert_eq!(
                perft(&p, depth, &mut Moves::default(), &history, Move::NONE),
                expected,
                "{fen}"
            );
        }
    }

    /// Random games: same moves, same keys and same checks as when set up afresh by shakmaty.
    #[test]
    fn random_games_agree_with_shakmaty() {
        let mut seed = 7;
        for start in super::super::bench::POSITIONS {
            let (mut chess, mut p) = set_up(start);
            for _ in 0..120 {
                let legal = chess.legal_moves();
                let fresh = Position::from_chess(&chess).unwrap();
                assert_eq!((p.key, p.pawn_key), (fresh.key, fresh.pawn_key));
                assert_eq!((p.checkers, p.pinned), (fresh.checkers, fresh.pinned));
                assert_eq!(p.in_check(), chess.is_check());
                let mut own: Vec<Move> = legal.iter().map(|m| p.pack(m).unwrap()).collect();
                let mut moves = Moves::default();
                generate::legal(&p, &mut moves);
                let mut ours: Vec<Move> = moves.from(0).to_vec();
                own.sort_by_key(|m| m.bits());
                ours.sort_by_key(|m| m.bits());
                assert_eq!(own, ours);
                let checks = p.checks();
                for &m in &ours {
                    assert_eq!(p.gives_check(m, &checks), p.after(m).in_check(), "{m}");
                }
                // Every bit pattern that passes the test for table moves is a generated move.
                for bits in (0..=u16::MAX).step_by(7) {
                    let m = Move::from_bits(bits);
                    if p.is_pseudo_legal(m) && p.is_legal(m) {
                        assert!(ours.contains(&m), "{m} tag {}", m.tag());
                    }
                }
                seed = super::super::keys::mix(seed);
                let Some(m) = legal.get(seed as usize % legal.len().max(1)) else {
                    break;
                };
                p = p.after(p.pack(m).unwrap());
                chess.play_unchecked(m);
            }
        }
    }
}
