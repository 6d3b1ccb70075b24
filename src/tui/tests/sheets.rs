//! A score sheet typed on the screens.

use super::harness::{Rig, context};
use crate::app::testing::app::Trial;
use crate::tui::router::Router;
use crate::tui::screens::sheets::screen::SheetScreen;
use crate::tui::{Start, nav::context::Context};

fn rig(trial: &Trial, size: (usize, usize)) -> Rig {
    let ctx: Context = context(&trial.app);
    let screen = SheetScreen::open(&ctx).unwrap();
    Rig::with_router(Router::on(ctx, Box::new(screen)), size)
}

/// The Opera game (P. Morphy against the Duke of Brunswick and Count Isouard, Paris 1858), its first eleven moves.
const MOVES: &str =
    "e4 e5 Nf3 d6 d4 Bg4 dxe5 Bxf3 Qxf3 dxe5 Bc4 Nf6 Qb3 Qe7 Nc3 c6 Bg5 b5 Nxb5 cxb5 Bxb5 Nbd7";

#[test]
fn typed_mended_and_added() {
    let trial = Trial::usual();
    let mut rig = rig(&trial, (80, 24));
    assert!(
        rig.text().contains("Type the moves as they stand"),
        "{}",
        rig.text()
    );
    for key in ["<F2>", "<F5>", "<F10>"] {
        rig.keys(key);
        let text = rig.text();
        assert!(text.contains("No move is on the sheet yet."), "{text}");
    }
    rig.keys("White: Verrick, Ansa<Enter>Black: Pell, Doran<Enter>");
    // Knight and rook look alike in haste: no rook reaches f6.
    let slip = MOVES.replacen("Nf6", "Rf6 0:52", 1);
    rig.keys(&format!("{slip}<Enter>"));
    rig.wait_for("readings make the rest fit");
    let text = rig.text();
    assert!(
        text.contains("Black's 6th: 'Rf6' is not possible there"),
        "{text}"
    );
    assert!(text.contains("!Rf6 0:52:00"), "{text}");
    rig.keys("<F10>");
    assert!(rig.text().contains("does not fit yet"), "{}", rig.text());
    rig.keys("<F2>");
    let text = rig.text();
    assert!(
        text.contains(">1 Black's 6th was 6...Nf6, not 'Rf6'."),
        "{text}"
    );
    rig.keys("1").wait_for("Mended: Black's 6th");
    let draft = trial.app.games().begun_sheet().unwrap().unwrap().0;
    let texts: Vec<&str> = draft.entries.iter().map(|e| e.text.as_str()).collect();
    assert_eq!(texts.join(" "), MOVES);
    assert_eq!(draft.entries[11].clock_ms, Some(52 * 60_000));
    // Without a result it is asked once more; then which of the two he is.
    press(&mut rig, "<F10>", "No result is on the sheet");
    rig.keys("1-0<Enter>").wait_for("1-0");
    press(
        &mut rig,
        "<F10>",
        "Which of the two are you? w: Verrick, Ansa",
    );
    rig.keys("w");
    let games = trial.app.games().own_games().unwrap();
    assert_eq!((games.len(), games[0].plies()), (1, 22));
    assert!(games[0].is_his(0) && games[0].points() == Some(1.0));
    assert_eq!(trial.app.games().begun_sheet().unwrap(), None);
}

/// Presses a key until it has done what it should: while the sheet is being read it says so and does nothing.
fn press(rig: &mut Rig, key: &str, words: &str) {
    for _ in 0..2_000 {
        rig.keys(key);
        let text = rig.text();
        if text.contains(words) {
            return;
        }
        assert!(text.contains("The sheet is still being read."), "{text}");
        std::thread::sleep(std::time::Duration::from_millis(5));
        rig.pump();
    }
    panic!("'{words}' never came:\n{}", rig.text());
}

#[test]
fn an_earlier_move_is_typed_anew_and_moves_are_taken_off() {
    let trial = Trial::usual();
    let mut rig = rig(&trial, (140, 45));
    rig.keys("e4 e5 Nf3 Nc6 Bb5<Enter><Up><Left>");
    assert!(rig.text().contains("[Nf3]"), "{}", rig.text());
    rig.keys("Nc3 0:58<Enter>");
    let draft = || trial.app.games().begun_sheet().unwrap().unwrap().0;
    assert_eq!(draft().entries[2].text, "Nc3");
    assert!(rig.text().contains("3..."), "{}", rig.text());
    rig.keys("<F4>");
    assert_eq!(draft().entries.len(), 4);
    // What is impossible is cut off.
    rig.keys("Qxh7 Nf6<Enter>")
        .wait_for("is not possible there");
    press(&mut rig, "<F5>", "The last 2 moves are taken off");
    assert_eq!(draft().entries.len(), 4);
    // A line of the head that is wrong stays in the line.
    rig.keys("Result: two<Enter>");
    assert!(rig.text().contains("'two' is no result"), "{}", rig.text());
    rig.keys("<Esc>");
    // Only an empty sheet is put away.
    rig.keys("<F8>");
    assert!(rig.text().contains("Only an empty sheet"), "{}", rig.text());
    rig.keys("<F4><F4><F4><F4><F8>");
    assert_eq!(trial.app.games().begun_sheet().unwrap(), None);
}

/// Whatever key was the last: the next start has everything.
#[test]
fn interrupted_at_any_key_nothing_is_lost() {
    let mut trial = Trial::usual();
    let script = "White: Verrick, Ansa\n1. e4 e5 0:59\nNf3 ?\nNc6";
    let mut typed = String::new();
    let mut lines = 0;
    for (n, c) in script.chars().enumerate() {
        let mut rig = rig(&trial, (80, 24));
        match c {
            '\n' => {
                rig.keys("<Enter>");
                typed.clear();
                lines += 1;
            }
            c => {
                rig.keys(&c.to_string());
                typed.push(c);
            }
        }
        drop(rig);
        if n % 7 == 0 {
            trial = trial.restart();
        }
        let (draft, line) = trial.app.games().begun_sheet().unwrap().unwrap();
        assert_eq!(line, typed, "after {n} keys");
        let there = (draft.tags.len(), draft.entries.len());
        assert_eq!(
            there,
            [(0, 0), (1, 0), (1, 2), (1, 4)][lines],
            "after {n} keys"
        );
    }
    // The home screen offers to go on.
    let mut rig = Rig::new(&trial.app, &Start::Home);
    assert!(
        rig.text().contains("go on: a score sheet, 2 moves"),
        "{}",
        rig.text()
    );
    rig.keys("<Enter>");
    let text = rig.text();
    assert!(text.contains("Nc6") && text.contains("0:59:00"), "{text}");
}
