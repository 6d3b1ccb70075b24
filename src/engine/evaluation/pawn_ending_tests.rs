//! The table of king and pawn held against a plain way to it, and against textbooks.

use super::*;

const STATES: usize = 2 * PAWNS * 64 * 64;

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Illegal,
    Open,
    Draw,
    Win,
}

/// Index of a state: turn, pawn (files a to d, ranks 2 to 7), kings.
fn index(weak_to_move: bool, pawn: usize, strong: usize, weak: usize) -> usize {
    let pawn = (pawn >> 3) * 4 - 4 + (pawn & 3);
    ((usize::from(weak_to_move) * PAWNS + pawn) * 64 + strong) * 64 + weak
}

fn pawn_square(slot: usize) -> usize {
    (slot / 4 + 1) * 8 + slot % 4
}

/// The same, position by position.
fn solved_one_by_one() -> Vec<State> {
    let mut states: Vec<State> = (0..STATES).map(first_look).collect();
    loop {
        let mut changed = false;
        for i in 0..STATES {
            if states[i] == State::Open {
                let state = look_again(i, &states);
                changed |= state != State::Open;
                states[i] = state;
            }
        }
        if !changed {
            break;
        }
    }
    states
}

fn parts(i: usize) -> (bool, Square, Square, Square) {
    let pawn = pawn_square(i / 4096 % PAWNS);
    (
        i / 4096 >= PAWNS,
        square(pawn),
        square(i / 64 % 64),
        square(i % 64),
    )
}

fn first_look(i: usize) -> State {
    let (weak_to_move, pawn, strong, weak) = parts(i);
    let hit = pawn_attacks(WHITE, pawn).contains(weak);
    if strong.distance(weak) <= 1 || strong == pawn || weak == pawn || (!weak_to_move && hit) {
        return State::Illegal;
    }
    let next = square(at(pawn) + 8);
    if !weak_to_move && at(pawn) >> 3 == 6 && next != strong && next != weak {
        // Promotes and is not taken.
        if weak.distance(next) > 1 || strong.distance(next) == 1 {
            return State::Win;
        }
    }
    if weak_to_move {
        let free = |to: Square| strong.distance(to) > 1 && !pawn_attacks(WHITE, pawn).contains(to);
        let moves = attacks::king_attacks(weak);
        let takes = moves.contains(pawn) && strong.distance(pawn) > 1;
        if takes || (!moves.into_iter().any(free) && !hit) {
            return State::Draw;
        }
        if hit
            && !moves
                .into_iter()
                .any(|to| free(to) || (to == pawn && takes))
        {
            return State::Win;
        }
    }
    State::Open
}

fn look_again(i: usize, states: &[State]) -> State {
    let (weak_to_move, pawn, strong, weak) = parts(i);
    let (good, bad) = if weak_to_move {
        (State::Draw, State::Win)
    } else {
        (State::Win, State::Draw)
    };
    let mut open = false;
    let mut look = |state: State| {
        open |= state == State::Open;
        state == good
    };
    if weak_to_move {
        for to in attacks::king_attacks(weak) {
            if look(states[index(false, at(pawn), at(strong), at(to))]) {
                return good;
            }
        }
    } else {
        for to in attacks::king_attacks(strong) {
            if look(states[index(true, at(pawn), at(to), at(weak))]) {
                return good;
            }
        }
        if at(pawn) >> 3 < 6
            && pawn_moves(pawn, strong, weak)
                .any(|to| look(states[index(true, to, at(strong), at(weak))]))
        {
            return good;
        }
    }
    if open { State::Open } else { bad }
}

/// Where the pawn can go, short of promotion.
fn pawn_moves(pawn: Square, strong: Square, weak: Square) -> impl Iterator<Item = usize> {
    let free = move |to: usize| to != at(strong) && to != at(weak);
    let steps = if at(pawn) >> 3 == 1 { 2 } else { 1 };
    (1..=steps)
        .map(move |n| at(pawn) + 8 * n)
        .take_while(move |to| free(*to))
}

#[test]
fn sets_of_squares_are_won_as_positions_one_by_one_are() {
    let table = solve();
    let mut won = 0;
    for (i, state) in solved_one_by_one().into_iter().enumerate() {
        let (weak_to_move, pawn, strong, weak) = parts(i);
        let sets = if weak_to_move {
            &table.weak
        } else {
            &table.strong
        };
        let claimed = sets[slot(at(pawn))][at(strong)].contains(weak);
        assert_eq!(
            claimed,
            state == State::Win,
            "{weak_to_move} {pawn} {strong} {weak}"
        );
        won += usize::from(claimed);
    }
    assert!(won > STATES / 3);
}

fn won(fen: &str) -> bool {
    use shakmaty::{CastlingMode, fen::Fen};
    let chess = fen
        .parse::<Fen>()
        .unwrap()
        .into_position(CastlingMode::Standard)
        .unwrap();
    let p = Position::from_chess(&chess).unwrap();
    wins(
        &p,
        if p.men(WHITE, PAWN).any() {
            WHITE
        } else {
            BLACK
        },
    )
}

/// Key squares, opposition and the rook's pawn: textbook endings, from memory.
#[test]
fn textbook_pawn_endings() {
    assert!(won("8/8/8/4k3/8/4K3/4P3/8 b - - 0 1"));
    assert!(!won("8/8/8/4k3/8/4K3/4P3/8 w - - 0 1"));
    assert!(won("4k3/8/4K3/4P3/8/8/8/8 w - - 0 1"));
    assert!(won("4k3/8/4K3/4P3/8/8/8/8 b - - 0 1"));
    assert!(!won("4k3/4P3/4K3/8/8/8/8/8 b - - 0 1"));
    assert!(!won("k7/8/1K6/P7/8/8/8/8 w - - 0 1"));
    assert!(won("8/8/8/8/8/1k6/7P/K7 w - - 0 1"));
    assert!(won("8/8/8/8/4p3/4k3/8/4K3 w - - 0 1"));
}
