//! Attempts from the first move to what is practised next, with a judge that counts men.

use std::sync::Arc;

use jiff::tz::TimeZone;

use crate::app::Recommendation;
use crate::app::attempts::session::EntryToken;
use crate::app::testing::app::{Counting, Trial, drill};
use crate::app::{App, AppError, AttemptId, PlayoutTerms, Subject};
use crate::attempt::BoardVisibility;
use crate::playout::{Goal, Level, Side};
use crate::progress::stats::Rate;
use crate::progress::{Outcome, Source};
use crate::tree::{NodeId, Verdict};

const DAY_MS: u64 = 86_400_000;

/// Writes one move in a drill and locks it.
fn attempt(app: &App, drill: &str, line: &str) -> AttemptId {
    let subject = Subject::Drill(drill.to_owned());
    let mut sitting = app
        .attempts()
        .open_sitting(&subject, None, BoardVisibility::Root)
        .unwrap();
    sitting.start().unwrap();
    let piece = |word: &str| match word.strip_suffix('%') {
        Some(percent) => EntryToken::Verdict(Verdict::Percent(percent.parse().unwrap())),
        None => EntryToken::Move(word.to_owned()),
    };
    let pieces: Vec<EntryToken> = line.split(' ').map(piece).collect();
    sitting.write(NodeId::ROOT, &pieces).unwrap();
    let first = sitting.tree().children(NodeId::ROOT)[0];
    sitting.choose(first).unwrap();
    sitting.lock().unwrap();
    sitting.id().clone()
}

fn drills(next: &[Recommendation]) -> Vec<&str> {
    next.iter().map(|n| n.drill.as_str()).collect()
}

#[test]
fn a_review_is_counted_once_and_a_repeat_apart() {
    let trial = Trial::usual();
    let app = &trial.app;
    let first = attempt(app, "saavedra-1895", "Kb7 Rd1");
    trial.clock.advance(3 * DAY_MS);
    let again = attempt(app, "saavedra-1895", "c7 Rd6+");
    // Reviewed in the other order, and twice: what came first stays first.
    for id in [&again, &first, &first] {
        app.reviews().review(id, &mut |_, _| {}).unwrap();
    }
    let counted = app.progress().counted().unwrap();
    let first = &counted[0].1;
    assert_eq!(counted.len(), 2);
    assert_eq!((first.first, counted[1].1.first), (true, false));
    assert_eq!(first.source, Source::Sitting);
    assert_eq!(first.root, "8/8/1KP5/3r4/8/8/8/k7_w_-_-");
    assert_eq!(counted[1].1.trials.len(), {
        let review = app.reviews().review(&again, &mut |_, _| {}).unwrap();
        review.trials.moments.len()
    });
}

/// A queen can be taken, and need not be.
fn with_a_queen_to_take() -> Trial {
    let queen = drill("queen", "4k3/8/8/3q4/8/4N3/8/4K3 w - - 0 1", "Nxd5");
    let knights = drill("knights", "4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 30", "Nbd2");
    Trial::new(vec![queen, knights], Arc::new(Counting))
}

#[test]
fn a_failed_position_comes_back_after_two_days() {
    let trial = with_a_queen_to_take();
    let app = &trial.app;
    assert_eq!(
        drills(&app.practice().next(20).unwrap()),
        ["queen", "knights"]
    );
    let id = attempt(app, "queen", "Nc4 Qa5+");
    assert_eq!(drills(&app.practice().next(20).unwrap()), ["knights"]);
    app.reviews().review(&id, &mut |_, _| {}).unwrap();
    assert_eq!(
        app.progress().counted().unwrap()[0].1.outcome,
        Outcome::Failed
    );
    trial.clock.advance(2 * DAY_MS - 1);
    assert_eq!(drills(&app.practice().next(20).unwrap()), ["knights"]);
    trial.clock.advance(DAY_MS);
    assert_eq!(
        drills(&app.practice().next(20).unwrap()),
        ["queen", "knights"]
    );
    // Solved this time: it rests again, and may be shown on the eve of a game.
    let id = attempt(app, "queen", "Nxd5");
    app.reviews().review(&id, &mut |_, _| {}).unwrap();
    assert_eq!(drills(&app.practice().next(20).unwrap()), ["knights"]);
    assert_eq!(
        app.progress().counted().unwrap()[1].1.outcome,
        Outcome::Solved
    );
    assert_eq!(drills(&app.practice().eve().unwrap().drills), ["queen"]);
}

#[test]
fn why_is_told_after_the_commit_only() {
    let trial = Trial::usual();
    let app = &trial.app;
    app.practice().next(20).unwrap();
    let subject = Subject::Drill("saavedra-1895".to_owned());
    let mut sitting = app
        .attempts()
        .open_sitting(&subject, None, BoardVisibility::Root)
        .unwrap();
    sitting.start().unwrap();
    sitting
        .write(NodeId::ROOT, &[EntryToken::Move("c7".to_owned())])
        .unwrap();
    let id = sitting.id().clone();
    assert!(matches!(
        app.practice().why_chosen(&id),
        Err(AppError::NotLocked)
    ));
    let first = sitting.tree().children(NodeId::ROOT)[0];
    sitting.choose(first).unwrap();
    sitting.lock().unwrap();
    let why = app.practice().why_chosen(&id).unwrap().unwrap();
    insta::assert_snapshot!(why, @"This position was the next of the collection.");
}

#[test]
fn what_he_expected_is_held_against_what_came() {
    let trial = with_a_queen_to_take();
    let app = &trial.app;
    // Once at a sitting before, and once in the game itself; the game from the other side is another.
    attempt(app, "knights", "Nbd2 80%");
    let terms = |side| PlayoutTerms {
        side,
        goal: Goal::Win,
        level: Level::FULL,
        clock: None,
        write_every: None,
    };
    let knights = Subject::Drill("knights".to_owned());
    let mut game = app.playouts().open_playout(&knights, terms(None)).unwrap();
    let mut sitting = game.write().unwrap();
    sitting.start().unwrap();
    let line = [
        EntryToken::Move("Nbd2".to_owned()),
        EntryToken::Verdict(Verdict::Percent(60)),
    ];
    sitting.write(NodeId::ROOT, &line).unwrap();
    game.play_written(&mut sitting, "Nbd2").unwrap();
    game.resign().unwrap();
    let mut other = app
        .playouts()
        .open_playout(&knights, terms(Some(Side::Black)))
        .unwrap();
    other.resign().unwrap();

    let zone = TimeZone::UTC;
    assert_eq!(app.progress().report(&zone).unwrap().converting.unjudged, 2);
    app.progress().count_all(&mut |_, _| {}).unwrap();
    let report = app.progress().report(&zone).unwrap();
    let against = &report.judgement.results[0];
    assert_eq!((against.games, against.brier.count), (1, 2));
    assert!((against.brier.score - (0.64 + 0.36) / 2.0).abs() < 1e-6);
    assert!(!against.enough);
    let converting = &report.converting;
    assert_eq!(
        (converting.unjudged, converting.twice),
        (0, Rate::new(0, 1))
    );
    let apart: Vec<&str> = report.groups.iter().map(|g| g.words.as_str()).collect();
    assert!(apart.contains(&"play-outs, repeats"), "{apart:?}");
}

#[test]
fn nothing_attempted_is_no_fault() {
    let trial = Trial::usual();
    assert!(trial.app.progress().blind_spots().unwrap().is_empty());
    assert_eq!(
        trial.app.practice().eve().unwrap(),
        crate::app::PreGamePlan::default()
    );
}

/// The clock of the machine was wrong, and is put right: the attempt that came first stays the first, whatever its date.
#[test]
fn a_clock_that_was_set_back_makes_no_repeat_the_first_sight() {
    let trial = with_a_queen_to_take();
    let app = &trial.app;
    let first = attempt(app, "queen", "Nc4 Qa5+");
    trial.clock.set_back(5 * i64::try_from(DAY_MS).unwrap());
    let again = attempt(app, "queen", "Nc4 Qa5+");
    for id in [&again, &first] {
        app.reviews().review(id, &mut |_, _| {}).unwrap();
    }
    let counted = app.progress().counted().unwrap();
    let is_first = |id: &AttemptId| {
        let found = counted.iter().find(|(name, _)| *name == id.0);
        found.unwrap().1.first
    };
    assert_eq!((is_first(&first), is_first(&again)), (true, false));
    let report = app.progress().report(&TimeZone::UTC).unwrap();
    assert_eq!((report.attempts, report.future), (2, 1));
    // Failed, and not due before two days after the later date.
    assert_eq!(drills(&app.practice().next(20).unwrap()), ["knights"]);
}

#[test]
fn a_drill_that_changed_or_went_leaves_its_attempts() {
    let trial = with_a_queen_to_take();
    let ids = [
        attempt(&trial.app, "queen", "Nc4 Qa5+"),
        attempt(&trial.app, "knights", "Nbd2"),
    ];
    for id in &ids {
        trial.app.reviews().review(id, &mut |_, _| {}).unwrap();
    }
    let before = trial.app.progress().report(&TimeZone::UTC).unwrap();
    assert_eq!((before.attempts, before.gone), (2, 0));
    let other = drill("queen", "4k3/8/8/2q5/8/4N3/8/4K3 w - - 0 1", "Kd2");
    let trial = trial.restart_with(vec![other]);
    let app = &trial.app;
    let report = app.progress().report(&TimeZone::UTC).unwrap();
    assert_eq!((report.attempts, report.gone), (2, 2));
    assert_eq!(report.spots, before.spots);
    assert_eq!(app.attempts().history().unwrap().len(), 2);
    for id in &ids {
        app.reviews().review(id, &mut |_, _| {}).unwrap();
    }
    // The position under the old name is new.
    assert_eq!(drills(&app.practice().next(20).unwrap()), ["queen"]);
}
