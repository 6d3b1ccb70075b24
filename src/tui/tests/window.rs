//! The window, clicks, and the help.

use crate::app::testing::app::Trial;
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

#[test]
fn a_small_window_says_so_and_takes_no_keys() {
    let trial = Trial::usual();
    let mut rig = Rig::sized(&trial.app, &Start::Home, (60, 20));
    insta::assert_snapshot!(rig.text().trim_end(), @r"
    Foreply needs 80 by 24; this window has 60 by 20. Make it
    larger: nothing is lost.
    ");
    rig.keys("<Enter>c7<Enter><Esc>");
    assert!(trial.app.attempts().unfinished().unwrap().is_empty());
    for size in [(1, 1), (0, 0), (79, 24), (80, 23)] {
        Rig::sized(&trial.app, &Start::Home, size);
    }
}

#[test]
fn a_large_window_is_used() {
    let trial = Trial::usual();
    let rig = Rig::sized(&trial.app, &Start::Home, (140, 50));
    let text = rig.text();
    assert!(text.contains("          K        P"), "{text}");
    assert!(
        text.lines().nth(49).unwrap().starts_with("Enter start"),
        "{text}"
    );
}

/// However long the tree has become, what was written last is on the screen, and so is the move that the cursor goes to.
#[test]
fn what_is_written_is_in_view() {
    for size in [(80, 24), (140, 45)] {
        let trial = Trial::usual();
        let start = Start::Drill("saavedra-1895".to_owned());
        let mut rig = Rig::sized(&trial.app, &start, size);
        rig.keys("<Enter>");
        let squares: Vec<String> = ('a'..='h')
            .flat_map(|file| (1..=6).map(move |rank| format!("{file}{rank}")))
            .collect();
        for square in &squares {
            rig.keys(&format!("K{square} Rd1 Kb2<Enter>"));
            let text = rig.text();
            assert!(
                text.contains(&format!("1.K{square} Rd1 2.Kb2")),
                "{size:?} {square}: {text}"
            );
            rig.keys("<Enter>");
        }
        for square in squares.iter().rev() {
            rig.keys("<Shift-Tab>");
            let text = rig.text();
            assert!(
                text.contains(&format!("1.K{square} Rd1")),
                "{size:?} {square}: {text}"
            );
        }
    }
}

#[test]
fn a_click_moves_the_cursor_and_types_a_square() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Drill("saavedra-1895".to_owned()));
    rig.keys("<Enter>c7 Rd6+ Kb5<Enter>");
    rig.click_on("Rd6+");
    assert!(rig.text().contains("after c7 Rd6+ >"), "{}", rig.text());
    // The square of the pawn: c6, in the row of rank 6.
    rig.keys("K")
        .click(2 + 3 * 2 + 1, 4)
        .keys("x<Backspace><Enter>");
    assert!(rig.text().contains("after c7 Rd6+ Kc6 >"), "{}", rig.text());
}

#[test]
fn help_comes_from_the_commands() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Drill("saavedra-1895".to_owned()));
    rig.keys("<Enter>c7<F1>");
    insta::assert_snapshot!(rig.text(), @r"
    What you type and press                                               more below

    Nxe4 dxe4 Qxe4        a line of moves, below the cursor; as you would write it
                          down, move numbers or not
    Sf3, Cf3, Кf3         the piece letters of your language: --letters german
    +- +/- +/= =          behind a move: White is winning, clearly better, better;
                          level
    -+ -/+ =/+ ~          the same for Black; unclear
    65%                   what you expect the player to score from there
    {any words}           a note on the move before; alone: on the move under the
                          cursor
    -- Qh7                if he passes: a threat. It is kept and shown, and never
                          judged as a move
    undo                  take the last line or change back
    redo                  bring back what was taken back
    strike                strike the move under the cursor out, or let it stand
                          again
    only                  name the move as a candidate only, without a line on
                          purpose
    note                  put the words on the move into the line, to change them
    fold                  fold what stands below the move, or unfold it
    pause                 stop the clock; board and tree are hidden until you go on
    choose                choose the candidate the cursor is in
    Down scroll  PgDn page  t tour  Esc back
    ");
    rig.keys("<Esc>");
    assert!(rig.text().contains("candidate > c7"), "{}", rig.text());
}
