//! King, bishop and knight against king, solved backwards from every mate (T. Ströhlein, Untersuchungen über
//! kombinatorische Spiele, dissertation, Munich 1970; from memory), since no table of distances is at hand; and the
//! engine against the best defence.
//!
//! The bishop stands on light squares; on dark ones everything is the same with the board mirrored.

use std::path::Path;

use shakmaty::{
    Bitboard, CastlingMode, Chess, Color, Move, Outcome, Piece, Position, Role, Setup, Square,
    attacks, uci::UciMove,
};
use shakmaty_syzygy::{Tablebase, Wdl};

use super::tables::fen_of;
use super::{Dice, Engine, best};

/// Squares 0 (a1) to 63 (h8).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Men {
    white: usize,
    black: usize,
    bishop: usize,
    knight: usize,
}

/// Half-moves until mate; [`NEVER`] where there is none.
struct Distances {
    /// White to move.
    white: Vec<u8>,
    /// Black to move.
    black: Vec<u8>,
}

const NEVER: u8 = u8::MAX;
const ALL: usize = 64 * 64 * 32 * 64;

fn square(number: usize) -> Square {
    Square::new(u32::try_from(number).unwrap())
}

/// Visits the squares of a set, from the lowest. (Sets are bits and this is a plain loop: the tests are compiled
/// without optimisation, and all of eight million positions are looked at several times.)
fn each(mut set: u64, mut visit: impl FnMut(usize)) {
    while set != 0 {
        visit(set.trailing_zeros() as usize);
        set &= set - 1;
    }
}

/// What a king and a knight attack from each square.
struct Steps {
    king: [u64; 64],
    knight: [u64; 64],
}

impl Steps {
    fn new() -> Self {
        Self {
            king: std::array::from_fn(|s| attacks::king_attacks(square(s)).0),
            knight: std::array::from_fn(|s| attacks::knight_attacks(square(s)).0),
        }
    }
}

impl Men {
    fn index(self) -> usize {
        ((self.white * 64 + self.black) * 32 + self.bishop / 2) * 64 + self.knight
    }

    fn of(index: usize) -> Self {
        let half = index / 64 % 32;
        let on_second_rank = half / 4 % 2;
        Self {
            white: index / 64 / 32 / 64,
            black: index / 64 / 32 % 64,
            // Light squares: b1, d1, f1, h1, a2, c2 and so on.
            bishop: half * 2 + 1 - on_second_rank,
            knight: index % 64,
        }
    }

    fn occupied(self) -> u64 {
        1 << self.white | 1 << self.black | 1 << self.bishop | 1 << self.knight
    }

    /// No two on one square, and the kings not side by side.
    fn are_apart(self, steps: &Steps) -> bool {
        self.occupied().count_ones() == 4 && steps.king[self.white] & 1 << self.black == 0
    }

    /// What the bishop attacks past these men.
    fn by_bishop(self, men: u64) -> u64 {
        attacks::bishop_attacks(square(self.bishop), Bitboard(men)).0
    }

    fn is_check(self, steps: &Steps) -> bool {
        let attacked = steps.knight[self.knight] | self.by_bishop(self.occupied());
        attacked & 1 << self.black != 0
    }

    /// White's moves, and as well the moves that lead here from his side: none of them takes anything.
    fn whites(self, steps: &Steps, mut visit: impl FnMut(Self)) {
        let free = !self.occupied();
        let king = steps.king[self.white] & !steps.king[self.black];
        each(king & free, |white| visit(Self { white, ..self }));
        each(steps.knight[self.knight] & free, |knight| {
            visit(Self { knight, ..self });
        });
        each(self.by_bishop(!free) & free, |bishop| {
            visit(Self { bishop, ..self });
        });
    }

    /// Where the black king can go without taking anything, or came from.
    fn blacks(self, steps: &Steps) -> u64 {
        steps.king[self.black] & !steps.king[self.white] & !self.occupied()
    }

    /// How many squares the black king can go to without taking anything.
    fn ways_out(self, steps: &Steps) -> u32 {
        let past = 1 << self.white | 1 << self.knight;
        let attacked = steps.knight[self.knight] | self.by_bishop(past);
        (self.blacks(steps) & !attacked).count_ones()
    }

    /// Whether the black king can take a man, and so draw.
    fn can_take(self, steps: &Steps) -> bool {
        let (bishop, knight) = (1 << self.bishop, 1 << self.knight);
        let king = steps.king[self.white];
        let guarded = king | steps.knight[self.knight];
        let near = steps.king[self.black];
        near & bishop & !guarded != 0
            || near & knight & !(king | self.by_bishop(1 << self.white)) != 0
    }
}

impl Distances {
    /// Every position, from the mates backwards.
    fn solve(steps: &Steps) -> Self {
        let mut found = Self {
            white: vec![NEVER; ALL],
            black: vec![NEVER; ALL],
        };
        // Black's moves that are not yet known to lose.
        let mut left = vec![NEVER; ALL];
        let mut layer = Vec::new();
        for (index, left) in left.iter_mut().enumerate() {
            let men = Men::of(index);
            if !men.are_apart(steps) || men.can_take(steps) {
                continue;
            }
            let ways = men.ways_out(steps);
            *left = u8::try_from(ways).unwrap();
            if ways == 0 && men.is_check(steps) {
                found.black[index] = 0;
                layer.push(men);
            }
        }
        for plies in (1..NEVER - 1).step_by(2) {
            let mut won = Vec::new();
            for men in &layer {
                men.whites(steps, |before| {
                    let known = &mut found.white[before.index()];
                    if *known == NEVER && !before.is_check(steps) {
                        *known = plies;
                        won.push(before);
                    }
                });
            }
            layer.clear();
            for men in &won {
                each(men.blacks(steps), |black| {
                    let before = Men { black, ..*men };
                    let index = before.index();
                    if left[index] == NEVER || left[index] == 0 {
                        return;
                    }
                    left[index] -= 1;
                    if left[index] == 0 {
                        found.black[index] = plies + 1;
                        layer.push(before);
                    }
                });
            }
            if layer.is_empty() {
                break;
            }
        }
        found
    }
}

fn chess(men: Men, turn: Color) -> Chess {
    let mut setup = Setup::empty();
    setup.turn = turn;
    for (at, color, role) in [
        (men.white, Color::White, Role::King),
        (men.black, Color::Black, Role::King),
        (men.bishop, Color::White, Role::Bishop),
        (men.knight, Color::White, Role::Knight),
    ] {
        setup.board.set_piece_at(square(at), Piece { color, role });
    }
    setup.position(CastlingMode::Standard).unwrap()
}

fn men(chess: &Chess) -> Men {
    let board = chess.board();
    let only = |squares: Bitboard| usize::from(squares.first().unwrap());
    Men {
        white: only(board.kings() & board.white()),
        black: only(board.kings() & board.black()),
        bishop: only(board.bishops()),
        knight: only(board.knights()),
    }
}

impl Distances {
    fn of(&self, chess: &Chess) -> u8 {
        let index = men(chess).index();
        chess.turn().fold_wb(self.white[index], self.black[index])
    }

    /// The longest way; a capture ends the attempt.
    fn defence(&self, chess: &Chess) -> Move {
        let last = |m: &Move| {
            let mut next = chess.clone();
            next.play_unchecked(m);
            if m.is_capture() {
                NEVER
            } else {
                self.of(&next)
            }
        };
        chess.legal_moves().into_iter().max_by_key(last).unwrap()
    }
}

/// The engine with White against the best defence: half-moves until mate, if it comes within fifty moves.
fn mates(engine: &Engine, distances: &Distances, start: &Chess) -> Option<usize> {
    let mut chess = start.clone();
    let mut moves = String::new();
    engine.send("ucinewgame");
    for ply in 0..100 {
        match chess.outcome() {
            Some(Outcome::Decisive { .. }) => return Some(ply),
            Some(Outcome::Draw) => return None,
            None => {}
        }
        let m = if chess.turn() == Color::White {
            engine.send(&format!("position fen {} moves{moves}", fen_of(start)));
            engine.send("go nodes 50000");
            let lines = engine.until("bestmove");
            let uci: UciMove = best(&lines).parse().unwrap();
            uci.to_move(&chess).expect("a legal move")
        } else {
            distances.defence(&chess)
        };
        moves += &format!(" {}", m.to_uci(CastlingMode::Standard));
        chess.play_unchecked(&m);
    }
    None
}

/// A legal position of these men, and who is to move.
fn random(dice: &mut Dice, steps: &Steps) -> (Men, Color) {
    loop {
        let men = Men::of(usize::try_from(dice.below(ALL as u64)).unwrap());
        let turn = [Color::White, Color::Black][usize::try_from(dice.below(2)).unwrap()];
        let is_legal = men.are_apart(steps) && (turn == Color::Black || !men.is_check(steps));
        if is_legal {
            return (men, turn);
        }
    }
}

/// 33 moves at most (complete tables, from memory); won and drawn are the same positions as in R. de Man's tables of
/// results (2013; `tests/data/syzygy-results`).
#[test]
fn bishop_and_knight_mate_in_33_moves() {
    let steps = Steps::new();
    let distances = Distances::solve(&steps);
    let won = || distances.white.iter().filter(|d| **d != NEVER);
    let longest = *won().max().unwrap();
    assert_eq!(longest.div_ceil(2), 33);

    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let mut base = Tablebase::<Chess>::new();
    for folder in ["syzygy", "syzygy-results"] {
        base.add_directory(data.join(folder)).unwrap();
    }
    let mut dice = Dice(3);
    let mut drawn = 0;
    for _ in 0..4000 {
        let (at, turn) = random(&mut dice, &steps);
        let chess = chess(at, turn);
        assert_eq!(men(&chess), at);
        let is_drawn = base.probe_wdl_after_zeroing(&chess).unwrap() == Wdl::Draw;
        assert_eq!(distances.of(&chess) == NEVER, is_drawn, "{chess:?}");
        drawn += u32::from(is_drawn);
    }
    assert!(drawn > 300, "{drawn} drawn");

    // Within fifty moves (FIDE Laws 9.3) whatever the defence: from where it takes longest, and from random squares.
    let engine = Engine::start();
    let hardest = (0..ALL).filter(|at| distances.white[*at] == longest);
    let hardest: Vec<Men> = hardest.map(Men::of).collect();
    let some = hardest.iter().step_by(hardest.len() / 3);
    let mut starts: Vec<Chess> = some.map(|at| chess(*at, Color::White)).collect();
    while starts.len() < 12 {
        let (at, turn) = random(&mut dice, &steps);
        let start = chess(at, turn);
        if distances.of(&start) != NEVER && !start.is_game_over() {
            starts.push(start);
        }
    }
    for start in starts {
        let plies = mates(&engine, &distances, &start);
        let least = usize::from(distances.of(&start));
        assert!(
            plies.is_some_and(|p| p >= least),
            "{}: {plies:?}",
            fen_of(&start)
        );
    }
}
