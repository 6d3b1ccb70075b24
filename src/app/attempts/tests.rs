//! Use cases from beginning to end, without an engine.

use std::sync::{Arc, Mutex};

use crate::app::testing::app::{Counting, Trial};
use crate::app::{AppError, AttemptSession, EntryToken, Subject};
use crate::attempt::{Attempt, BoardVisibility, Stage};
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::tree::{NodeId, Verdict};

fn open(trial: &Trial, drill: &str) -> AttemptSession {
    let subject = Subject::Drill(drill.to_owned());
    let mut sitting = trial
        .app
        .attempts()
        .open_sitting(&subject, None, BoardVisibility::Root)
        .unwrap();
    sitting.start().unwrap();
    sitting
}

fn moves(text: &str) -> Vec<EntryToken> {
    text.split_whitespace()
        .map(|t| match Verdict::parse(t) {
            Ok(verdict) => EntryToken::Verdict(verdict),
            Err(_) => EntryToken::Move(t.to_owned()),
        })
        .collect()
}

#[test]
fn a_sitting_survives_the_end_of_the_program_without_the_gap() {
    let trial = Trial::usual();
    let mut sitting = open(&trial, "saavedra-1895");
    trial.clock.advance(60_000);
    let end = sitting
        .write(NodeId::ROOT, &moves("c7 Rd6+ Kb5 +-"))
        .unwrap();
    let (id, before) = (sitting.id().clone(), sitting.attempt().clone());
    drop(sitting);
    let trial = trial.restart();
    trial.clock.advance(3_600_000);
    let unfinished = trial.app.attempts().unfinished().unwrap();
    assert_eq!(unfinished.len(), 1);
    assert_eq!((&unfinished[0].id, unfinished[0].moves), (&id, 3));
    let again = trial.app.attempts().resume(&id).unwrap();
    assert_eq!(again.tree(), before.tree());
    assert_eq!(again.used_ms(), 60_000);
    assert_eq!(again.left_ms(), Some(420_000));
    assert_eq!(again.tree().sans(end), ["c7", "Rd6+", "Kb5"]);
}

#[test]
fn what_is_kept_is_what_is_shown() {
    let trial = Trial::usual();
    let mut sitting = open(&trial, "saavedra-1895");
    sitting.write(NodeId::ROOT, &moves("c7 Rd7")).unwrap();
    sitting.write(NodeId(1), &moves("Rd6+")).unwrap();
    sitting.strike(NodeId(2), true).unwrap();
    sitting.reorder(NodeId(3), 0).unwrap();
    sitting.undo().unwrap();
    sitting.choose(NodeId(1)).unwrap();
    let kept: Attempt = trial.app.attempts().attempt(sitting.id()).unwrap();
    assert_eq!(&kept, sitting.attempt());
    assert!(kept.tree().node(NodeId(2)).unwrap().struck);
}

#[test]
fn a_refused_piece_keeps_nothing_of_its_line() {
    let trial = Trial::usual();
    let mut sitting = open(&trial, "saavedra-1895");
    let before = sitting.attempt().clone();
    let error = sitting
        .write(NodeId::ROOT, &moves("c7 Rd6+ xyz"))
        .unwrap_err();
    assert!(
        error.to_string().starts_with("'xyz' is not a move:"),
        "{error}"
    );
    assert_eq!(sitting.attempt(), &before);
    assert_eq!(
        &trial.app.attempts().attempt(sitting.id()).unwrap(),
        &before
    );
}

#[test]
fn the_lock_wants_a_choice_and_is_final() {
    let trial = Trial::usual();
    let mut sitting = open(&trial, "saavedra-1895");
    sitting.write(NodeId::ROOT, &moves("c7")).unwrap();
    insta::assert_snapshot!(sitting.lock().unwrap_err(), @"choose the move you would play before you lock the tree");
    sitting.choose(NodeId(1)).unwrap();
    sitting.lock().unwrap();
    assert_eq!(sitting.stage(), Stage::Locked);
    let error = sitting.write(NodeId::ROOT, &moves("Kb7")).unwrap_err();
    insta::assert_snapshot!(error, @"the tree is locked: it can no longer be changed");
}

#[test]
fn what_an_ambiguous_text_means_is_settled_after_the_lock() {
    let trial = Trial::usual();
    let mut sitting = open(&trial, "knights");
    sitting.write(NodeId::ROOT, &moves("Nd2 Kd7")).unwrap();
    insta::assert_snapshot!(sitting.clarify(NodeId(1), "b1d2").unwrap_err(), @"the tree is not locked yet");
    sitting.choose(NodeId(1)).unwrap();
    sitting.lock().unwrap();
    assert_eq!(sitting.ambiguous(), [NodeId(1)]);
    sitting.clarify(NodeId(1), "b1d2").unwrap();
    assert_eq!(sitting.ambiguous(), []);
    let again = trial.app.attempts().attempt(sitting.id()).unwrap();
    assert_eq!(again.tree().sans(NodeId(2)), ["Nbd2", "Kd7"]);
}

#[test]
fn the_history_knows_an_attempt_before_and_after_its_review() {
    let trial = Trial::usual();
    let mut sitting = open(&trial, "saavedra-1895");
    trial.clock.advance(90_000);
    sitting
        .write(NodeId::ROOT, &moves("c7 Rd6+ Kc5 +-"))
        .unwrap();
    sitting.choose(NodeId(1)).unwrap();
    sitting.lock().unwrap();
    let id = sitting.id().clone();
    let (_, summary) = trial.app.attempts().history().unwrap().remove(0);
    assert_eq!((summary.used_ms, summary.choice.as_str()), (90_000, "c7"));
    assert_eq!(summary.reviewed, None);
    let mut steps = 0;
    let review = trial
        .app
        .reviews()
        .review(&id, &mut |_, _| steps += 1)
        .unwrap();
    assert!(steps > 0);
    let (_, summary) = trial.app.attempts().history().unwrap().remove(0);
    let reviewed = summary.reviewed.unwrap();
    assert_eq!(reviewed.findings, review.counted().count());
    assert_eq!(reviewed.needed, review.depth.needed);
    assert!(trial.app.attempts().unfinished().unwrap().is_empty());
}

#[test]
fn a_summary_that_got_lost_is_made_again() {
    let trial = Trial::usual();
    let mut sitting = open(&trial, "saavedra-1895");
    sitting.write(NodeId::ROOT, &moves("c7")).unwrap();
    sitting.choose(NodeId(1)).unwrap();
    // As after a kill between the lock and the summary.
    sitting
        .record(crate::attempt::AttemptEvent::Locked)
        .unwrap();
    assert!(trial.app.attempts().history().unwrap().is_empty());
    assert!(trial.app.attempts().unfinished().unwrap().is_empty());
    assert_eq!(trial.app.attempts().history().unwrap().len(), 1);
}

#[test]
fn a_sitting_that_was_only_looked_at_is_not_offered_again() {
    let trial = Trial::usual();
    let subject = Subject::Drill("knights".to_owned());
    let sitting = trial
        .app
        .attempts()
        .open_sitting(&subject, Some(3), BoardVisibility::None)
        .unwrap();
    assert_eq!(sitting.attempt().opened().budget_ms, Some(180_000));
    assert!(trial.app.attempts().unfinished().unwrap().is_empty());
    let kept = trial.app.attempts().attempt(sitting.id());
    assert!(matches!(kept, Err(AppError::NoSuchAttempt(_))));
}

#[test]
fn a_sitting_put_aside_is_kept_but_not_offered() {
    let trial = Trial::usual();
    let mut sitting = open(&trial, "knights");
    sitting.write(NodeId::ROOT, &moves("Nd2")).unwrap();
    trial.app.attempts().put_aside(sitting.id()).unwrap();
    assert!(trial.app.attempts().unfinished().unwrap().is_empty());
    let kept = trial.app.attempts().attempt(sitting.id()).unwrap();
    assert_eq!(&kept, sitting.attempt());
}

#[test]
fn names_of_sittings_sort_by_time() {
    let trial = Trial::usual();
    let first = open(&trial, "knights");
    let second = open(&trial, "knights");
    trial.clock.advance(1);
    let third = open(&trial, "knights");
    assert!(first.id() < second.id() && second.id() < third.id());
}

#[test]
fn what_does_not_exist_is_named() {
    let trial = Trial::usual();
    let id = crate::app::AttemptId("nowhere".to_owned());
    let none = Subject::Drill("nowhere".to_owned());
    let drill = trial
        .app
        .attempts()
        .open_sitting(&none, None, BoardVisibility::Root);
    insta::assert_snapshot!(drill.err().unwrap(), @"there is no drill 'nowhere'; `foreply drills list` shows them");
    insta::assert_snapshot!(trial.app.attempts().attempt(&id).unwrap_err(), @"there is no attempt 'nowhere'; `foreply history` lists them all");
    let sitting = open(&trial, "knights");
    let early = trial.app.reviews().review(sitting.id(), &mut |_, _| {});
    assert!(matches!(early, Err(AppError::NotLocked)));
    insta::assert_snapshot!(early.unwrap_err(), @"this attempt is not locked yet; go on with it and lock it first");
}

/// Counts the questions it is asked for the first time; the others come from its memory.
struct Remembering(Mutex<Vec<Question>>);

impl Judge for Remembering {
    fn name(&self) -> String {
        Counting.name()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let mut known = self.0.lock().unwrap();
        for question in questions {
            if !known.contains(question) {
                known.push(question.clone());
            }
        }
        Counting.answer(questions)
    }
}

fn asked(judge: &Remembering) -> usize {
    judge.0.lock().unwrap().len()
}

/// The sitting in which the engine thought ahead has the same review, and the review has nothing
/// left to ask.
#[test]
fn thinking_ahead_changes_nothing_but_the_time() {
    let plain = Trial::usual();
    let judge = Arc::new(Remembering(Mutex::default()));
    let eager = Trial::new(plain.app.drills().all().to_vec(), judge.clone()).thinking_ahead();
    let mut reviews = Vec::new();
    let mut before_the_lock = 0;
    for (trial, ahead) in [(&plain, false), (&eager, true)] {
        let mut sitting = open(trial, "saavedra-1895");
        sitting
            .write(NodeId::ROOT, &moves("c7 Rd6+ Kb5 +-"))
            .unwrap();
        sitting.choose(NodeId(1)).unwrap();
        if ahead {
            before_the_lock = settled(&judge);
        }
        sitting.lock().unwrap();
        reviews.push(
            trial
                .app
                .reviews()
                .review(sitting.id(), &mut |_, _| {})
                .unwrap(),
        );
    }
    assert!(before_the_lock > 0, "the engine did not think ahead");
    assert_eq!(reviews[0], reviews[1]);
    assert_eq!(asked(&judge), before_the_lock);
}

/// Number of questions once no new ones come.
fn settled(judge: &Remembering) -> usize {
    let mut last = 0;
    for _ in 0..30 {
        std::thread::sleep(std::time::Duration::from_secs(1));
        let now = asked(judge);
        if now > 0 && now == last {
            break;
        }
        last = now;
    }
    last
}

/// The same move in two forms stands in the tree twice; the review says nothing against either.
#[test]
fn a_move_in_two_forms_is_reviewed_as_one() {
    let trial = Trial::usual();
    let review = |text: &str| {
        let mut sitting = open(&trial, "saavedra-1895");
        for line in text.split(';') {
            sitting.write(NodeId::ROOT, &moves(line)).unwrap();
        }
        sitting.choose(NodeId(1)).unwrap();
        sitting.lock().unwrap();
        let review = trial
            .app
            .reviews()
            .review(sitting.id(), &mut |_, _| {})
            .unwrap();
        let told = review.counted().map(|f| (f.kind, f.resource.clone()));
        told.collect::<Vec<_>>()
    };
    assert_eq!(review("c7 Rd6+;c6c7 Rd6+"), review("c7 Rd6+"));
}
