//! Whatever keys are pressed: nothing panics, no event is lost, and everything can be taken back.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::app::testing::app::Trial;
use crate::app::{App, AttemptId};
use crate::attempt::TimedAttemptEvent;
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

/// Keys and texts in the notation of the rig. Moves and orders are frequent, so that trees grow.
const KEYS: &[&str] = &[
    "c7<Enter>",
    "Rd6+<Enter>",
    "Kb5 Rd5+ Kb4 +-<Enter>",
    "Kb7 Rd7+<Enter>",
    "-- Rd1<Enter>",
    "Rh9<Enter>",
    "Kb2 {words}<Enter>",
    "65%<Enter>",
    "{a note<Enter>",
    "xyz<Enter>",
    "undo<Enter>",
    "redo<Enter>",
    "strike<Enter>",
    "only<Enter>",
    "note<Enter>",
    "fold<Enter>",
    "pause<Enter>",
    "choose<Enter>",
    "same as c7<Enter>",
    "move to<Enter>",
    "leave<Enter>",
    "help<Enter>",
    "<Enter>",
    "<Enter>",
    "<Esc>",
    "<Tab>",
    "<Shift-Tab>",
    "<Up>",
    "<Down>",
    "<Left>",
    "<Right>",
    "<Shift-Up>",
    "<Shift-Down>",
    "<Home>",
    "<End>",
    "<PgUp>",
    "<PgDn>",
    "<Backspace>",
    "<Delete>",
    "<F1>",
    "<F2>",
    "<F3>",
    "<F4>",
    "<F5>",
    "<F6>",
    "<F7>",
    "<F8>",
    "<F8>",
    "<F9>",
    "<F10>",
    "<F12>",
    "<Ctrl-A>",
    "<Ctrl-E>",
    "<Ctrl-G>",
    "<Ctrl-H>",
    "<Ctrl-K>",
    "<Ctrl-N>",
    "<Ctrl-O>",
    "<Ctrl-P>",
    "<Ctrl-R>",
    "<Ctrl-T>",
    "<Ctrl-U>",
    "<Ctrl-W>",
    "<Ctrl-X>",
    "?",
    "/",
    "+",
    "-",
    "=",
    " ",
    "~",
    "0",
    "1",
    "2",
    "3",
    "4",
    "5",
    "y",
    "y",
    "n",
    "a",
    "b",
    "c",
    "d",
    "e",
    "f",
    "g",
    "h",
    "k",
    "l",
    "m",
    "o",
    "p",
    "r",
    "s",
    "t",
    "w",
    "x",
    "me",
    "♞",
    "é",
    "e\u{301}",
    "漢",
    "\u{202e}",
    "\u{7}",
    "{",
    "}",
];

/// The logs of all sittings that were begun and of those that are locked.
fn logs(app: &App) -> Vec<(AttemptId, Vec<TimedAttemptEvent>)> {
    let begun = app
        .attempts()
        .unfinished()
        .unwrap()
        .into_iter()
        .map(|u| u.id);
    let locked = app
        .attempts()
        .history()
        .unwrap()
        .into_iter()
        .map(|(id, _)| id);
    let ids: Vec<AttemptId> = begun.chain(locked).collect();
    let log = |id: AttemptId| {
        let log = app.attempts().attempt(&id).unwrap().log().to_vec();
        (id, log)
    };
    ids.into_iter().map(log).collect()
}

/// Every log goes on where it stood; only a sitting that he puts aside is no longer listed.
fn nothing_is_lost(app: &App, before: &[(AttemptId, Vec<TimedAttemptEvent>)]) {
    for (id, old) in before {
        let now = app.attempts().attempt(id).unwrap();
        assert!(now.log().starts_with(old), "{id} has lost events");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn keys_never_lose_anything(keys in vec(select(KEYS), 1..120)) {
        let trial = Trial::usual();
        let mut rig = Rig::new(&trial.app, &Start::Home);
        let mut before = Vec::new();
        for key in keys {
            rig.keys(key);
            trial.clock.advance(700);
            nothing_is_lost(&trial.app, &before);
            before = logs(&trial.app);
            if rig.router.lock().is_over() {
                break;
            }
        }
        for begun in trial.app.attempts().unfinished().unwrap() {
            let mut sitting = trial.app.attempts().resume(&begun.id).unwrap();
            while sitting.undo().is_ok() {}
            prop_assert!(sitting.tree().is_empty());
        }
    }
}
