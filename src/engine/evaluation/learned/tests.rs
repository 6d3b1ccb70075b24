//! The network held against a plain computation of the same in wide numbers.

use shakmaty::{CastlingMode, Chess, Position as _, fen::Fen};

use super::net::{GROUPS, INPUTS, MOST_INPUT, MOST_OUTPUT, NET, WIDTH};
use super::*;
use crate::engine::bench::POSITIONS;
use crate::engine::keys::mix;

/// The value as the module's doc has it, man by man and unit by unit, with nothing kept.
fn plain(p: &Position) -> i32 {
    let mut total = 0_i64;
    let group = (p.occupied().count() as i64 - 2) / 4;
    for (place, side) in [p.turn, p.turn ^ 1].into_iter().enumerate() {
        let home = |s: usize| if side == BLACK { (63 - s) ^ 7 } else { s };
        let right = home(at(p.king(side))) % 8 > 3;
        let mut sums: Vec<i64> = NET.bias.numbers().map(i64::from).collect();
        for square in p.occupied() {
            let man = p.on(square);
            let seen = home(at(square));
            let seen = if right {
                seen / 8 * 8 + 7 - seen % 8
            } else {
                seen
            };
            let other = usize::from(colour_of(man) != side);
            let row = &NET.inputs[384 * other + 64 * kind_of(man) + seen];
            sums.iter_mut()
                .zip(row.numbers())
                .for_each(|(s, r)| *s += i64::from(r));
        }
        assert!(sums.iter().all(|s| i16::try_from(*s).is_ok()));
        let weights = NET.output[group as usize][place].numbers();
        let each = sums.iter().zip(weights);
        total += each
            .map(|(s, w)| s.clamp(&0, &255).pow(2) * i64::from(w))
            .sum::<i64>();
    }
    ((total / 255 + i64::from(NET.output_bias[group as usize])) * 200 / (255 * 64)) as i32
}

/// Walks as a search does, down, back and sideways, and visits some plies without evaluating them.
#[test]
fn sums_kept_up_to_date_are_those_from_scratch() {
    let mut learned = Learned::default();
    let (mut seed, mut asked) = (5, 0);
    for fen in POSITIONS {
        let setup: Fen = fen.parse().unwrap();
        let root: Chess = setup.into_position(CastlingMode::Standard).unwrap();
        let mut path = vec![root];
        for _ in 0..400 {
            seed = mix(seed);
            let top = path.last().unwrap().clone();
            let legal = top.legal_moves();
            if legal.is_empty() || path.len() > 60 || seed.is_multiple_of(4) {
                path.truncate((seed / 4) as usize % path.len() + 1);
            } else {
                let mut next = top;
                next.play_unchecked(&legal[seed as usize / 8 % legal.len()].clone());
                path.push(next);
            }
            let p = Position::from_chess(path.last().unwrap()).unwrap();
            // Mostly as the search does it; the value must not hang on it.
            if !seed.is_multiple_of(5) {
                learned.reach(&p, path.len() - 1);
            }
            if seed.is_multiple_of(3) {
                continue;
            }
            assert_eq!(learned.evaluate(&p, path.len() - 1), plain(&p));
            asked += 1;
        }
    }
    assert!(asked > 3_000);
}

/// What the 16-bit sums and products rest on.
#[test]
fn no_weight_is_larger_than_the_sums_can_hold() {
    let largest = |row: &Row| row.numbers().map(|w| i32::from(w).abs()).max().unwrap();
    assert_eq!(
        (NET.inputs.len(), NET.bias.numbers().count()),
        (INPUTS, WIDTH)
    );
    assert!(NET.inputs.iter().all(|row| largest(row) <= MOST_INPUT));
    assert!(
        NET.output
            .iter()
            .flatten()
            .all(|row| largest(row) <= MOST_OUTPUT)
    );
    assert!(32 * MOST_INPUT + largest(&NET.bias) <= i32::from(i16::MAX));
    assert!(QA * MOST_OUTPUT <= i32::from(i16::MAX));
    // Each unit gives at most QA QA w, and there are two halves of them.
    let worst = |rows: &[Row; 2]| -> i64 {
        let weights = rows.iter().flat_map(Row::numbers);
        weights
            .map(|w| i64::from(w).abs() * i64::from(QA * QA))
            .sum()
    };
    assert!(
        NET.output
            .iter()
            .all(|rows| worst(rows) < i64::from(i32::MAX))
    );
    assert_eq!((net::group(2), net::group(32)), (0, GROUPS - 1));
}

/// A net that knows nothing would pass everything above.
#[test]
fn a_queen_more_is_worth_much_and_the_start_little() {
    let value = |fen: &str| {
        let setup: Fen = fen.parse().unwrap();
        let chess: Chess = setup.into_position(CastlingMode::Standard).unwrap();
        Learned::default().evaluate(&Position::from_chess(&chess).unwrap(), 0)
    };
    assert!(value(POSITIONS[0]).abs() < 60);
    let without = "rnb1kbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR";
    assert!(value(&format!("{without} w KQkq - 0 1")) > 500);
    assert!(value(&format!("{without} b KQkq - 0 1")) < -500);
}
