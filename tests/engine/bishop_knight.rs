//! King, bishop and knight against king, solved backwards from every mate (T. Ströhlein, Untersuchungen über
//! kombinatorische Spiele, dissertation, Munich 1970; from memory), since no table of distances is at hand; and the
//! engine against the best defence.
//!
//! The bishop stands on light squares; on dark ones everything is the same with the board mirrored.

use std::path::Path;

use shakmaty::{
    CastlingMode, Chess, Color, Move, Outcome, Piece, Position, Role, Setup, Square, uci::UciMove,
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

const KING: [(isize, isize); 8] = [
    (1, 0),
    (1, 1),
    (0, 1),
    (-1, 1),
    (-1, 0),
    (-1, -1),
    (0, -1),
    (1, -1),
];
const KNIGHT: [(isize, isize); 8] = [
    (1, 2),
    (2, 1),
    (2, -1),
    (1, -2),
    (-1, -2),
    (-2, -1),
    (-2, 1),
    (-1, 2),
];
const DIAGONALS: [(isize, isize); 4] = [(1, 1), (1, -1), (-1, 1), (-1, -1)];

fn step(square: usize, (file, rank): (isize, isize)) -> Option<usize> {
    let file = (square % 8).checked_add_signed(file).filter(|f| *f < 8)?;
    let rank = (square / 8).checked_add_signed(rank).filter(|r| *r < 8)?;
    Some(rank * 8 + file)
}

fn steps(square: usize, ways: &[(isize, isize)]) -> impl Iterator<Item = usize> {
    ways.iter().filter_map(move |way| step(square, *way))
}

/// Squares that a bishop reaches over empty ones, and the first men it meets.
fn diagonals(square: usize, men: [usize; 3]) -> impl Iterator<Item = usize> {
    DIAGONALS.into_iter().flat_map(move |way| {
        let mut at = Some(square);
        std::iter::from_fn(move || {
            at = step(at?, way);
            let here = at?;
            if men.contains(&here) {
                at = None;
            }
            Some(here)
        })
    })
}

fn are_near(a: usize, b: usize) -> bool {
    (a % 8).abs_diff(b % 8) <= 1 && (a / 8).abs_diff(b / 8) <= 1
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

    fn are_apart(self) -> bool {
        let all = [self.white, self.black, self.bishop, self.knight];
        let apart = (1..4).all(|n| !all[..n].contains(&all[n]));
        apart && !are_near(self.white, self.black)
    }

    fn is_check(self) -> bool {
        steps(self.knight, &KNIGHT).any(|s| s == self.black)
            || diagonals(self.bishop, [self.white, self.knight, self.black])
                .any(|s| s == self.black)
    }

    /// Legal with White to move.
    fn is_whites(self) -> bool {
        self.are_apart() && !self.is_check()
    }

    /// White's moves, and as well the moves that lead here from his side: none of them takes anything.
    fn whites(self) -> impl Iterator<Item = Self> {
        let king = steps(self.white, &KING).map(move |white| Self { white, ..self });
        let knight = steps(self.knight, &KNIGHT).map(move |knight| Self { knight, ..self });
        let bishop = diagonals(self.bishop, [self.white, self.black, self.knight]);
        let bishop = bishop.map(move |bishop| Self { bishop, ..self });
        king.chain(knight).chain(bishop).filter(|m| m.are_apart())
    }

    /// The black king's moves that take nothing, or those that lead here.
    fn blacks(self) -> impl Iterator<Item = Self> {
        let moved = steps(self.black, &KING).map(move |black| Self { black, ..self });
        moved.filter(|m| m.are_apart())
    }

    /// Whether the black king can take a man, and so draw.
    fn can_take(self) -> bool {
        let bishop = || {
            !are_near(self.white, self.bishop)
                && !steps(self.knight, &KNIGHT).any(|s| s == self.bishop)
        };
        let knight = || {
            !are_near(self.white, self.knight)
                && !diagonals(self.bishop, [self.white, self.knight, self.knight])
                    .any(|s| s == self.knight)
        };
        (are_near(self.black, self.bishop) && bishop())
            || (are_near(self.black, self.knight) && knight())
    }
}

impl Distances {
    /// Every position, from the mates backwards. Takes some seconds.
    fn solve() -> Self {
        let mut found = Self {
            white: vec![NEVER; ALL],
            black: vec![NEVER; ALL],
        };
        // Black's moves that are not yet known to lose.
        let mut left = vec![NEVER; ALL];
        let mut layer = Vec::new();
        for (index, left) in left.iter_mut().enumerate() {
            let men = Men::of(index);
            if !men.are_apart() || men.can_take() {
                continue;
            }
            let moves = men.blacks().filter(|m| !m.is_check()).count();
            *left = u8::try_from(moves).unwrap();
            if moves == 0 && men.is_check() {
                found.black[index] = 0;
                layer.push(men);
            }
        }
        for plies in (1..NEVER - 1).step_by(2) {
            let mut won = Vec::new();
            for before in layer.iter().flat_map(|men| men.whites()) {
                let known = &mut found.white[before.index()];
                if *known == NEVER && before.is_whites() {
                    *known = plies;
                    won.push(before);
                }
            }
            layer.clear();
            for before in won.iter().flat_map(|men| men.blacks()) {
                let index = before.index();
                if left[index] == NEVER || left[index] == 0 {
                    continue;
                }
                left[index] -= 1;
                if left[index] == 0 {
                    found.black[index] = plies + 1;
                    layer.push(before);
                }
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
    for (square, color, role) in [
        (men.white, Color::White, Role::King),
        (men.black, Color::Black, Role::King),
        (men.bishop, Color::White, Role::Bishop),
        (men.knight, Color::White, Role::Knight),
    ] {
        let square = Square::new(u32::try_from(square).unwrap());
        setup.board.set_piece_at(square, Piece { color, role });
    }
    setup.position(CastlingMode::Standard).unwrap()
}

fn men(chess: &Chess) -> Men {
    let board = chess.board();
    let only = |squares: shakmaty::Bitboard| usize::from(squares.first().unwrap());
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
fn random(dice: &mut Dice) -> (Men, Color) {
    loop {
        let men = Men::of(usize::try_from(dice.below(ALL as u64)).unwrap());
        let turn = [Color::White, Color::Black][usize::try_from(dice.below(2)).unwrap()];
        let is_legal = men.are_apart() && (turn == Color::Black || !men.is_check());
        if is_legal {
            return (men, turn);
        }
    }
}

/// 33 moves at most (complete tables, from memory); won and drawn are the same positions as in R. de Man's tables of
/// results (2013; `tests/data/syzygy-results`).
#[test]
fn bishop_and_knight_mate_in_33_moves() {
    let distances = Distances::solve();
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
        let (at, turn) = random(&mut dice);
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
        let (at, turn) = random(&mut dice);
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
