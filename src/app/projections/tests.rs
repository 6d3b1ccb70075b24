//! The index against the log, whatever happens in whatever order.

use proptest::prelude::*;

use super::AttemptIndex;
use crate::app::attempts::records::OpenAttempt;
use crate::app::testing::app::Trial;
use crate::app::{EntryToken, GameSummary, HistoryEntry, PlayoutTerms, Subject};
use crate::attempt::BoardVisibility;
use crate::playout::{Goal, Level};
use crate::progress::{AttemptStatistics, Sighted};
use crate::store::Store;
use crate::tree::NodeId;

/// What is done in the program between two looks at the home screen.
#[derive(Debug, Clone, Copy)]
enum Step {
    /// A sitting on a drill is begun, and left.
    Begin(bool),
    /// The same, written and locked.
    Lock(bool),
    Review(u8),
    PutAside(u8),
    PlayOut,
    Resign,
    Restart,
    /// The program is killed: nothing is saved at the end.
    Kill,
    Look,
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        any::<bool>().prop_map(Step::Begin),
        any::<bool>().prop_map(Step::Lock),
        any::<u8>().prop_map(Step::Review),
        any::<u8>().prop_map(Step::PutAside),
        Just(Step::PlayOut),
        Just(Step::Resign),
        Just(Step::Restart),
        Just(Step::Kill),
        Just(Step::Look),
    ]
}

/// The index as the tables have it.
fn scanned(store: &Store) -> AttemptIndex {
    let sights = store.scan::<Sighted>().unwrap().into_iter();
    AttemptIndex {
        begun: keys(store.scan::<OpenAttempt>().unwrap()).collect(),
        history: store.scan::<HistoryEntry>().unwrap().into_iter().collect(),
        statistics: store
            .scan::<AttemptStatistics>()
            .unwrap()
            .into_iter()
            .collect(),
        first_sights: sights.map(|(root, s)| (root, s.attempt)).collect(),
        games: store.scan::<GameSummary>().unwrap().into_iter().collect(),
    }
}

fn keys<T>(rows: Vec<(String, T)>) -> impl Iterator<Item = String> {
    rows.into_iter().map(|(key, _)| key)
}

fn begin(trial: &Trial, saavedra: bool, lock: bool) {
    let (drill, moves) = match saavedra {
        true => ("saavedra-1895", ["c7", "Rd6+"]),
        false => ("knights", ["Nbd2", "Ke7"]),
    };
    let subject = Subject::Drill(drill.to_owned());
    let attempts = trial.app.attempts();
    let mut sitting = attempts
        .open_sitting(&subject, None, BoardVisibility::Root)
        .unwrap();
    sitting.start().unwrap();
    let moves = moves.map(|m| EntryToken::Move(m.to_owned()));
    sitting.write(NodeId::ROOT, &moves).unwrap();
    if lock {
        sitting.choose(NodeId(1)).unwrap();
        sitting.lock().unwrap();
    } else {
        sitting.leave().unwrap();
    }
}

fn one_of<T>(all: &[T], number: u8) -> Option<&T> {
    all.get(usize::from(number) % all.len().max(1))
}

fn take(trial: &Trial, step: Step) {
    let app = &trial.app;
    match step {
        Step::Begin(saavedra) => begin(trial, saavedra, false),
        Step::Lock(saavedra) => begin(trial, saavedra, true),
        Step::Review(number) => {
            if let Some((id, _)) = one_of(&app.attempts().history().unwrap(), number) {
                app.reviews().review(id, &mut |_, _| {}).unwrap();
            }
        }
        Step::PutAside(number) => {
            if let Some(begun) = one_of(&app.attempts().unfinished().unwrap(), number) {
                app.attempts().put_aside(&begun.id).unwrap();
            }
        }
        Step::PlayOut => {
            let terms = PlayoutTerms {
                side: None,
                goal: Goal::Win,
                level: Level::try_from(1).unwrap(),
                clock: None,
                write_every: None,
            };
            let subject = Subject::Drill("saavedra-1895".to_owned());
            app.playouts().open_playout(&subject, terms).unwrap();
        }
        Step::Resign => {
            let games = app.playouts().games_played_out().unwrap();
            if let Some((id, _)) = games.iter().find(|(_, g)| g.outcome.is_none()) {
                let mut game = app.playouts().resume_playout(id).unwrap();
                game.resign().unwrap();
            }
        }
        Step::Restart | Step::Kill | Step::Look => {}
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn the_index_is_the_fold_of_the_log(steps in prop::collection::vec(step(), 1..24)) {
        let mut trial = Trial::usual();
        for step in steps {
            take(&trial, step);
            trial.clock.advance(1_000);
            match step {
                Step::Restart => {
                    trial.app.maintenance().leave();
                    trial = trial.restart();
                }
                Step::Kill => trial = trial.restart(),
                _ => {}
            }
            if matches!(step, Step::Look | Step::Restart | Step::Kill) {
                let repository = trial.repository();
                prop_assert_eq!(&*repository.index().unwrap(), &scanned(repository.store()));
            }
        }
        let repository = trial.repository();
        prop_assert_eq!(&*repository.index().unwrap(), &scanned(repository.store()));
    }
}
