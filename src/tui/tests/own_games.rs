//! Own games from the screens: his thoughts, the trees in them, the lock, and what is told then.

use crate::app::Whose;
use crate::app::testing::app::Trial;
use crate::games::thoughts::Thoughts;
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

/// An invented game in which the queen is left to the knight at move 5.
const GAME: &str = "[Event \"Harrowmere Chess League\"]\n[Date \"2026.02.14\"]\n[Round \"7\"]\n\
    [White \"Verrick, Ansa\"]\n[Black \"Pell, Doran\"]\n[Result \"0-1\"]\n\n\
    1. e4 e5 2. Nf3 Nc6 3. d4 exd4 4. Nxd4 Nf6 5. Qg4 Nxg4 6. Nc3 Nxd4 0-1\n";

fn with_game() -> Trial {
    let trial = Trial::usual();
    let whose = Whose {
        player: Some("Ansa Verrick".to_owned()),
        ..Whose::default()
    };
    let games = trial.app.games();
    let added = games.add_games(GAME.as_bytes(), &whose, &mut |_| None, &mut |_| {});
    assert_eq!(added.unwrap().new, 1);
    trial
}

fn thoughts(trial: &Trial) -> Thoughts {
    let game = trial.app.games().own_game("last").unwrap();
    trial.app.games().thoughts(&game).unwrap()
}

#[test]
fn a_game_is_gone_through_marked_and_locked() {
    let trial = with_game();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>o");
    let text = rig.text();
    assert!(text.contains("2026.02.14  White  Pell, Doran"), "{text}");
    rig.keys("<Enter>");
    // To move 5, marked with what he felt and feared; the trees are written on the usual screens.
    rig.keys("<Down><Down><Down><Down>v+/=<Enter>athe knight<Enter>");
    insta::assert_snapshot!(rig.text(), @r"
    Verrick, Ansa - Pell, Doran, Harrowmere Chess League, 2026.02.14        1 marked

    8  r     b  q  k  b     r    1.e4 e5 2.Nf3 Nc6 3.d4 exd4 4.Nxd4 Nf6 [5.Qg4*]
    7  p  p  p  p     p  p  p    Nxg4 6.Nc3 Nxd4
    6        n       [n]
    5                            Move 5: a moment of yours
    4           N  P             White is slightly better.
    3                            Afraid of: the knight
    2  P  P  P        P  P  P    w what you saw: candidates and lines
    1  R  N  B  Q  K  B     R
       a  b  c  d  e  f  g  h    s one sentence on the game
                                 Marked: move 5.











    m mark  w what you saw  v felt  a afraid  s sentence  l lock  F1 help  Esc back
    ");
    rig.keys("w<Enter>Qg4 d6 =<Enter><F10>y<Esc>");
    let text = rig.text();
    assert!(
        text.contains("What you saw is written and locked."),
        "{text}"
    );
    // Not his move: nothing is marked there.
    rig.keys("<Right>m");
    assert!(rig.text().contains("it was your move"), "{}", rig.text());
    rig.keys("sI wanted mate.<Enter>l");
    assert!(rig.text().contains("Lock your thoughts"), "{}", rig.text());
    assert!(thoughts(&trial).locked_ms.is_none());
    rig.keys("y").wait_for("1 moments were marked.");
    let locked = thoughts(&trial);
    assert!(locked.locked_ms.is_some() && locked.marks[0].attempt.is_some());
    rig.keys("<Esc>");
    assert!(rig.text().contains("thoughts locked"), "{}", rig.text());
    // Once more: they are read, not written.
    rig.keys("t").wait_for("1 moments were marked.");
    // The account: the moment beside a board, move by move, and the whole of it.
    rig.keys("<Esc><Enter>").wait_for("Half of it.");
    let text = rig.text();
    assert!(text.contains("3.d4 exd4 [4.Nxd4]"), "{text}");
    assert!(text.contains("Of a hundred such games:"), "{text}");
    rig.keys("<Right>");
    assert!(
        rig.text().contains("[Nf6]") && !rig.text().contains("Half of it."),
        "{}",
        rig.text()
    );
    rig.keys("p");
    assert!(rig.text().contains("Half of it."), "{}", rig.text());
    rig.keys("g").wait_for("12 moves are told.");
    rig.keys("<Esc><Esc>e").wait_for("1 rounds are told.");
    rig.keys("<Esc>o").wait_for("Pell, Doran is told.");
}

/// What he takes away from an event comes back on the home screen, and on the eve.
#[test]
fn a_takeaway_comes_back() {
    let trial = with_game();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>owHis checks first. [luck]<Enter>");
    assert!(
        rig.text().contains("'luck' cannot be counted"),
        "{}",
        rig.text()
    );
    rig.keys("<Ctrl-U>His checks first. [reply-overlooked]<Enter>");
    let text = rig.text();
    assert!(
        text.contains("One takeaway is kept for Harrowmere Chess League."),
        "{text}"
    );
    rig.keys("<Esc>");
    let text = rig.text();
    assert!(
        text.contains("You took away from your last event:"),
        "{text}"
    );
    assert!(text.contains("His checks first."), "{text}");
    rig.keys("e");
    assert!(
        rig.text().contains("You took away: His checks"),
        "{}",
        rig.text()
    );
    let event = trial.app.games().game_event("last").unwrap();
    let kept = trial.app.games().takeaways(&event).unwrap().takeaways;
    assert_eq!(kept[0].words, "His checks first.");
    assert!(kept[0].tied.is_some());
}

/// Whatever was written is there again after the program was left in the middle, and a tree that was begun goes on.
#[test]
fn nothing_of_it_is_lost_in_the_middle() {
    let trial = with_game();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>o<Enter><Down><Down><Down><Down>w<Enter>Qg4<Enter><Esc>");
    assert_eq!(thoughts(&trial).marks.len(), 1);
    rig.keys("ly");
    assert!(
        rig.text()
            .contains("what you saw at move 5 is begun and not locked"),
        "{}",
        rig.text()
    );
    drop(rig);
    let trial = trial.restart();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("o<Enter><Down><Down><Down><Down>w");
    let text = rig.text();
    assert!(
        text.contains("Qg4"),
        "the tree that was begun goes on: {text}"
    );
    // A tree that is locked elsewhere, from the home screen, is taken in too.
    rig.keys("<F10><Enter>y<Esc>");
    assert!(
        rig.text().contains("What you saw is written and locked."),
        "{}",
        rig.text()
    );
}
