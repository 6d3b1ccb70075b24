//! Games from the screens: their terms, what is kept of them, what the history tells.

use crate::app::testing::app::Trial;
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

/// The collection with the first position marked, and its terms asked for.
fn terms(trial: &Trial) -> Rig {
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>cx");
    rig
}

#[test]
fn side_level_and_clock_are_asked() {
    let trial = Trial::usual();
    let mut rig = terms(&trial);
    insta::assert_snapshot!(rig.text(), @r"
    Play it out

    8                            White to move.
    7
    6     K  P                   s  Your side: White
    5           r                +- His level: 10, full strength
    4                            c  Clock: none
    3
    2                            Enter begins the game; you are to win it. Until a
    1  k                         move is made, or a plan or a line written, nothing
       a  b  c  d  e  f  g  h    of it is kept. Holding a worse position, and
                                 writing before every so many moves: foreply
                                 playout.










    Enter begin  s side  + stronger  - weaker  c clock  F1 help  Esc back
    ");
    rig.keys("s---cccc");
    let text = rig.text();
    assert!(text.contains("Your side: Black"), "{text}");
    assert!(text.contains("His level: 7 of 10"), "{text}");
    assert!(text.contains("15 minutes, 10 seconds added"), "{text}");
    rig.keys("++++++cc");
    let text = rig.text();
    assert!(text.contains("10, full strength"), "{text}");
    assert!(text.contains("Clock: none"), "{text}");
    rig.keys("<Esc>");
    assert!(rig.text().contains("Positions"), "{}", rig.text());
}

/// A game in which nothing has happened is none.
#[test]
fn an_unstarted_game_leaves_nothing_behind() {
    let trial = Trial::usual();
    let mut rig = terms(&trial);
    rig.keys("<Enter>");
    assert!(
        rig.text().contains("You are White, to win"),
        "{}",
        rig.text()
    );
    trial.clock.advance(60_000);
    rig.keys("<Esc>");
    assert!(
        rig.text().contains("Positions"),
        "one step back: {}",
        rig.text()
    );
    assert!(trial.app.playouts().games_played_out().unwrap().is_empty());
    let mut rig = terms(&trial);
    rig.keys("<Enter>plan push the pawn<Enter><Esc>");
    let games = trial.app.playouts().games_played_out().unwrap();
    assert_eq!(games.len(), 1);
    assert!(rig.text().contains("Adjourned"), "{}", rig.text());
}

/// Before a move lines are written as in a sitting: below the cursor, with arrows, undo and strikes.
#[test]
fn lines_before_a_move_are_written_as_in_a_sitting() {
    let trial = Trial::usual();
    let mut rig = terms(&trial);
    rig.keys("<Enter><F2>c7 Rd6+ +-<Enter>");
    assert!(rig.text().contains("after c7 Rd6+ >"), "{}", rig.text());
    rig.keys("<Left>Rd2<Enter>");
    let text = rig.text();
    assert!(text.contains("1...Rd6+ +-"), "{text}");
    assert!(text.contains("1...Rd2"), "{text}");
    rig.keys("<F8>");
    assert!(!rig.text().contains("Rd2"), "{}", rig.text());
    assert!(rig.text().contains("after c7 >"), "{}", rig.text());
    rig.keys("<Enter>");
    assert!(rig.text().contains("candidate >"), "{}", rig.text());
    rig.keys("+-<Enter>");
    assert!(rig.text().contains("belongs to a move"), "{}", rig.text());
    rig.keys("<Ctrl-U>Kb7 Rd6<Enter>");
    assert!(rig.text().contains("1.Kb7 Rd6"), "{}", rig.text());
    // A move in the middle is corrected, what stands below it stays; and the verdict is told in words.
    rig.keys("<Left><Ctrl-F>");
    assert!(rig.text().contains("> correct Kb7"), "{}", rig.text());
    rig.keys("<Ctrl-U>correct Kc5<Enter>");
    assert!(rig.text().contains("1.Kc5 Rd6"), "{}", rig.text());
    rig.keys("<F8>");
    assert!(rig.text().contains("1.Kb7 Rd6"), "{}", rig.text());
    rig.keys("<F9>");
    assert!(rig.text().contains("1.Kc5 Rd6"), "{}", rig.text());
    rig.keys("=<Enter>");
    assert!(
        rig.text().contains("= the position is level."),
        "{}",
        rig.text()
    );
    // What cannot be read stays in the line, what comes before it is kept.
    rig.keys("Rd8 zzz<Enter>");
    assert!(rig.text().contains("1...Rd8"), "{}", rig.text());
    assert!(rig.text().contains("> zzz"), "{}", rig.text());
}

#[test]
fn the_history_tells_games_with_level_and_result() {
    let trial = Trial::usual();
    let mut rig = terms(&trial);
    rig.keys("---<Enter>resign<Enter><Enter>");
    rig.wait_for("No single move");
    rig.keys("<Esc>");
    assert!(
        rig.text().contains("Positions"),
        "one step back: {}",
        rig.text()
    );
    rig.keys("<Esc>h");
    let text = rig.text();
    assert!(
        text.contains("Position 1, played out: level 7, 0 moves, lost"),
        "{text}"
    );
    rig.keys("<Enter>").wait_for("No single move");
    rig.keys("<Esc>");
    assert!(rig.text().contains("Attempts and games"), "{}", rig.text());
    // A filter that is on is named, and an empty result says so.
    rig.keys("/level 7<Enter>");
    assert!(
        rig.text().contains("Only what holds: level 7."),
        "{}",
        rig.text()
    );
    rig.keys("/ zebra<Enter>");
    assert!(
        rig.text().contains("Nothing holds all of: level 7 zebra."),
        "{}",
        rig.text()
    );
    rig.keys("/<Esc>");
    assert!(rig.text().contains("1 in all"), "{}", rig.text());
    rig.keys("c");
    assert!(rig.text().contains("A game is not sent"), "{}", rig.text());
    rig.keys("t");
    assert!(rig.text().contains("Play it out"), "{}", rig.text());
}
