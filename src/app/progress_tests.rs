//! Attempts from the first move to what is practised next, with a judge that counts men.

use std::sync::Arc;

use super::progress::Next;
use super::sitting::Piece;
use super::trial::{Counting, Trial, drill};
use super::{App, AppError, SittingId, Subject};
use crate::attempt::Sight;
use crate::progress::{Outcome, Source};
use crate::tree::NodeId;

const DAY_MS: u64 = 86_400_000;

/// Writes one move in a drill and locks it.
fn attempt(app: &App, drill: &str, line: &str) -> SittingId {
    let subject = Subject::Drill(drill.to_owned());
    let mut sitting = app.open_sitting(&subject, None, Sight::Root).unwrap();
    sitting.start().unwrap();
    let pieces: Vec<Piece> = line.split(' ').map(|m| Piece::Move(m.to_owned())).collect();
    sitting.write(NodeId::ROOT, &pieces).unwrap();
    let first = sitting.tree().children(NodeId::ROOT)[0];
    sitting.choose(first).unwrap();
    sitting.lock().unwrap();
    sitting.id().clone()
}

fn drills(next: &[Next]) -> Vec<&str> {
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
        app.review(id, &mut |_, _| {}).unwrap();
    }
    let counted = app.counted().unwrap();
    let first = &counted[0].1;
    assert_eq!(counted.len(), 2);
    assert_eq!((first.first, counted[1].1.first), (true, false));
    assert_eq!(first.source, Source::Sitting);
    assert_eq!(first.root, "8/8/1KP5/3r4/8/8/8/k7_w_-_-");
    assert_eq!(counted[1].1.trials.len(), {
        let review = app.review(&again, &mut |_, _| {}).unwrap();
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
    assert_eq!(drills(&app.next(20).unwrap()), ["queen", "knights"]);
    let id = attempt(app, "queen", "Nc4 Qa5+");
    assert_eq!(drills(&app.next(20).unwrap()), ["knights"]);
    app.review(&id, &mut |_, _| {}).unwrap();
    assert_eq!(app.counted().unwrap()[0].1.outcome, Outcome::Failed);
    trial.clock.advance(2 * DAY_MS - 1);
    assert_eq!(drills(&app.next(20).unwrap()), ["knights"]);
    trial.clock.advance(DAY_MS);
    assert_eq!(drills(&app.next(20).unwrap()), ["queen", "knights"]);
    // Solved this time: it rests again, and may be shown on the eve of a game.
    let id = attempt(app, "queen", "Nxd5");
    app.review(&id, &mut |_, _| {}).unwrap();
    assert_eq!(drills(&app.next(20).unwrap()), ["knights"]);
    assert_eq!(app.counted().unwrap()[1].1.outcome, Outcome::Solved);
    assert_eq!(app.eve().unwrap().drills, ["queen"]);
}

#[test]
fn why_is_told_after_the_commit_only() {
    let trial = Trial::usual();
    let app = &trial.app;
    app.next(20).unwrap();
    let subject = Subject::Drill("saavedra-1895".to_owned());
    let mut sitting = app.open_sitting(&subject, None, Sight::Root).unwrap();
    sitting.start().unwrap();
    sitting
        .write(NodeId::ROOT, &[Piece::Move("c7".to_owned())])
        .unwrap();
    let id = sitting.id().clone();
    assert!(matches!(app.why_chosen(&id), Err(AppError::NotLocked)));
    let first = sitting.tree().children(NodeId::ROOT)[0];
    sitting.choose(first).unwrap();
    sitting.lock().unwrap();
    let why = app.why_chosen(&id).unwrap().unwrap();
    insta::assert_snapshot!(why, @"This position was the next of the collection.");
}

#[test]
fn nothing_attempted_is_no_fault() {
    let trial = Trial::usual();
    assert!(trial.app.habits().unwrap().is_empty());
    assert_eq!(trial.app.eve().unwrap(), super::Eve::default());
}
