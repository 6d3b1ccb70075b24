//! Moments of games whose scores are given by hand.

use super::choose::choose;
use super::kept::{KeptGame, OwnGame};
use super::moment::{Habits, Moment, Reason, moments};
use super::survey::{Liked, Ply, Settings, Surveyed, confirm, survey};
use super::wording::{in_the_game, sentence};
use crate::board::{Line, line};
use crate::judge::FixedJudge;
use shakmaty::Position;

fn own(text: &str, white: bool) -> OwnGame {
    let kept = KeptGame {
        id: "20260214-000001".to_owned(),
        white,
        pgn: text.to_owned(),
        moves: String::new(),
    };
    OwnGame::read(&kept).unwrap()
}

/// A game with the player's expected score before each half-move and after the last; where it falls at
/// his move, another move keeps it.
fn scored(game: OwnGame, worth: &[f64], second: f64) -> Surveyed {
    let lines = game.lines();
    let ply = |ply: usize, pair: &[f64]| {
        let played = game.game.main_moves[ply].clone();
        let moves = lines[ply].position().legal_moves();
        let other = moves.iter().find(|m| **m != played).cloned().unwrap();
        let held = pair[0] - pair[1] < 0.03;
        let best = if held { &played } else { &other };
        let next = if held { &other } else { &played };
        let liked = |mv: &shakmaty::Move, expected| Liked {
            expected,
            line: vec![mv.clone()],
        };
        let next_worth = if held { pair[0] - second } else { pair[1] };
        Ply {
            before: pair[0],
            after: pair[1],
            best: vec![liked(best, pair[0]), liked(next, next_worth)],
            legal: moves.len(),
        }
    };
    let plies = worth
        .windows(2)
        .enumerate()
        .map(|(i, w)| ply(i, w))
        .collect();
    Surveyed { game, plies }
}

fn reasons(surveyed: &Surveyed) -> Vec<(usize, Vec<Reason>)> {
    let games = [surveyed.clone()];
    let found = moments(&games, 0, &Habits::default(), &Settings::default());
    found.into_iter().map(|m| (m.ply, m.reasons)).collect()
}

const MOVES: &str = "1. e4 e5 2. Nf3 Nc6 3. Bc4 Nf6 4. d3 Bc5";

#[test]
fn every_loss_has_its_reason() {
    use Reason::*;
    let game = |result: &str| own(&format!("[Result \"{result}\"]\n{MOVES} {result}"), true);
    // Half-move 4 is his third move; before it the opponent moved.
    let cases = [
        ([0.75, 0.75, 0.60], AdvantageSlipped),
        ([0.50, 0.50, 0.35], EqualTurnedWorse),
        ([0.65, 0.65, 0.50], ReplyOverlooked),
        ([0.50, 0.70, 0.50], ChanceNotTaken),
        ([0.20, 0.45, 0.20], CouldBeSaved),
    ];
    for (at, reason) in cases {
        let worth = [
            at[0], at[0], at[0], at[0], at[1], at[2], at[2], at[2], at[2],
        ];
        let found = reasons(&scored(game("1-0"), &worth, 0.0));
        assert_eq!(found, [(4, vec![reason, OnlyMoveMissed])], "{reason:?}");
    }
}

#[test]
fn what_teaches_nothing_is_no_moment() {
    let game = own(&format!("{MOVES} 1-0"), true);
    // Decided on both sides of the drop, although the drop is large among the lost.
    let lost = [0.02; 9];
    assert_eq!(reasons(&scored(game.clone(), &lost, 0.0)), []);
    let won = [0.99, 0.99, 0.99, 0.99, 0.99, 0.98, 0.98, 0.98, 0.98];
    assert_eq!(reasons(&scored(game.clone(), &won, 0.5)), []);
    // The opponent's errors are not his.
    let theirs = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.8, 0.8, 0.8];
    assert_eq!(reasons(&scored(game, &theirs, 0.0)), []);
}

#[test]
fn a_recapture_is_no_moment_unless_it_was_the_wrong_one() {
    let game = own("1. e4 d5 2. exd5 Qxd5 3. Nc3 *", false);
    let good = [0.5; 6];
    assert_eq!(
        reasons(&scored(game.clone(), &good, 0.3)),
        [(1, vec![Reason::OnlyMoveFound])]
    );
    let bad = [0.5, 0.5, 0.5, 0.5, 0.3, 0.3];
    let found = reasons(&scored(game, &bad, 0.0));
    assert_eq!(
        found,
        [(3, vec![Reason::EqualTurnedWorse, Reason::OnlyMoveMissed])]
    );
}

#[test]
fn drift_is_lost_in_small_pieces() {
    let moves = "1. a3 a6 2. b3 b6 3. c3 c6 4. d3 d6 5. e3 e6 6. f3 f6 7. g3 g6 8. h3 h6 9. a4 a5 10. b4 b5 11. c4 c5 *";
    let mut worth = vec![0.6];
    for ply in 0..22 {
        let last = worth[ply];
        let lost = if ply == 6 { 0.05 } else { 0.015 };
        worth.push(if ply % 2 == 0 { last - lost } else { last });
    }
    let found = reasons(&scored(own(moves, true), &worth, 0.0));
    assert_eq!(found, [(6, vec![Reason::Drift])]);
}

fn with_times(seconds: &[u64]) -> OwnGame {
    let sans = MOVES.split(' ').filter(|w| !w.ends_with('.'));
    let moves: Vec<String> = sans
        .zip(seconds.iter().cycle())
        .map(|(san, s)| format!("{san} {{[%emt {}:{:02}]}}", s / 60, s % 60))
        .collect();
    own(&format!("{} 1-0", moves.join(" ")), true)
}

#[test]
fn a_long_think_and_a_fast_move_are_measured_by_his_own_times() {
    let plain = with_times(&[30]);
    let slow = with_times(&[30, 30, 30, 30, 600, 30, 20]);
    let flat = scored(plain, &[0.5; 9], 0.08);
    let loss = scored(slow, &[0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.3, 0.3], 0.08);
    let games = [loss, flat];
    let mut habits = Habits::of(&games);
    assert_eq!((habits.long_ms, habits.short_ms), (None, None));
    (habits.long_ms, habits.short_ms) = (Some(300_000), Some(20_000));
    let found = moments(&games[..1], 0, &habits, &Settings::default());
    let of = |ply| found.iter().find(|m| m.ply == ply).unwrap().reasons.clone();
    assert_eq!(of(4), [Reason::LongThink]);
    assert!(of(6).contains(&Reason::FastWhereItMattered));
    let at = found.iter().find(|m| m.ply == 4).unwrap();
    insta::assert_snapshot!(format!("{} {}", in_the_game(at, "3."), sentence(at, "3.")), @"In the game you took ten minutes and played 3.Bc4. A long think, and a good one: 3.Bc4.");
}

fn simple(game: usize, ply: usize, value: f64, reason: Reason) -> Moment {
    Moment {
        game,
        ply,
        reasons: vec![reason],
        value,
        before: 0.5,
        after: 0.4,
        needed: 3,
        spent_ms: None,
        best: "Nf3".to_owned(),
        played: "Nc3".to_owned(),
        reply: None,
        decided: false,
    }
}

#[test]
fn the_best_moments_are_chosen_apart_from_each_other_with_one_control_in_four() {
    let mut all: Vec<Moment> = (0..40)
        .map(|i| simple(0, 2 * i, 0.1 + i as f64 / 1000.0, Reason::ReplyOverlooked))
        .collect();
    all.extend((0..40).map(|i| simple(0, 2 * i, 0.01, Reason::Control)));
    let chosen = choose(all);
    assert_eq!(chosen.len(), 8);
    let controls = chosen.iter().filter(|m| m.reasons == [Reason::Control]);
    assert_eq!(controls.count(), 2);
    for pair in chosen.windows(2) {
        assert!(pair[1].ply - pair[0].ply > 6);
    }
    assert!(chosen.iter().any(|m| m.ply == 78), "the largest is there");
}

/// A game full of moments leaves no room three moves away from all of them: a control stands nearer then.
#[test]
fn a_quarter_are_controls_even_where_moments_stand_close() {
    let mut all: Vec<Moment> = (0..6)
        .map(|i| simple(0, 8 * i, 0.1, Reason::ReplyOverlooked))
        .collect();
    all.extend((0..48).map(|ply| simple(0, ply, 0.01, Reason::Control)));
    let chosen = choose(all);
    let controls: Vec<&Moment> = chosen
        .iter()
        .filter(|m| m.reasons == [Reason::Control])
        .collect();
    assert_eq!((chosen.len(), controls.len()), (8, 2));
    for pair in chosen.windows(2) {
        assert!(pair[1].ply - pair[0].ply > 2);
    }
}

#[test]
fn little_is_chosen_where_there_is_little() {
    let small = |i: usize| simple(0, 10 * i, 0.02, Reason::OutOfBook);
    assert_eq!(choose((0..8).map(small).collect()).len(), 3);
    assert_eq!(choose(vec![simple(0, 3, 0.01, Reason::LongThink)]), []);
    assert_eq!(choose(Vec::new()), []);
}

/// The judge as it is used: its scores are the mover's, the survey's are the player's.
#[test]
fn a_survey_speaks_for_the_player() {
    let judge = FixedJudge::new(|line: &Line| {
        let moves = line.position().legal_moves();
        let first = line::san(line.position(), &moves[0]);
        vec![(first, if line.turn().is_white() { 0.7 } else { 0.3 })]
    });
    let game = own(&format!("{MOVES} 1-0"), false);
    let settings = Settings::default();
    let mut count = 0;
    let mut surveyed = survey(&game, &judge, &settings, &mut |n| count += n).unwrap();
    assert_eq!(count, 9);
    for ply in &surveyed.plies {
        assert!((ply.before - 0.3).abs() < 1e-9 && (ply.after - 0.3).abs() < 1e-9);
    }
    let mut again = 0;
    confirm(&mut surveyed, &[1, 3], &judge, &settings, &mut |n| {
        again += n;
    })
    .unwrap();
    assert_eq!(again, 2);
    assert!((surveyed.plies[1].after - 0.3).abs() < 1e-9);
    let found = moments(&[surveyed], 0, &Habits::default(), &settings);
    assert_eq!(found, []);
}

#[test]
fn an_advantage_that_brought_half_a_point_is_told_with_the_move_that_let_it_go() {
    let game = own(&format!("[Result \"1/2-1/2\"]\n{MOVES} 1/2-1/2"), true);
    let surveyed = scored(game, &[0.5, 0.5, 0.5, 0.5, 0.75, 0.5, 0.5, 0.5, 0.5], 0.0);
    let heights = super::conversion::conversion(&[surveyed]);
    assert_eq!((heights[0].games, heights[0].slips.len()), (1, 1));
    assert!((heights[0].points - 0.5).abs() < 1e-9);
    let slip = &heights[0].slips[0];
    assert_eq!((slip.ply, slip.phase, slip.left_ms), (4, "opening", None));
    assert!((slip.lost - 0.25).abs() < 1e-9);
    assert_eq!(heights[1].games, 0);
}

#[test]
fn his_times_alone_are_counted() {
    let timed = scored(with_times(&[30]), &[0.5; 9], 0.08);
    let untimed = scored(own(MOVES, true), &[0.5; 9], 0.08);
    let clock = super::clock::clock(&[timed, untimed], &Habits::default(), &Settings::default());
    assert_eq!((clock.games, clock.without, clock.all.moves), (1, 1, 4));
    assert!((clock.all.mean() - 30.0).abs() < 1e-9);
    assert_eq!((clock.trouble.moves, clock.trouble_games), (0, 0));
}
