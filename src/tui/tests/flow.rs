//! Whole sittings on the screens.

use std::sync::Arc;

use crate::app::testing::app::{Broken, Trial, drill};
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

#[test]
fn an_empty_store_opens_on_the_first_drill() {
    let trial = Trial::usual();
    let rig = Rig::new(&trial.app, &Start::Home);
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: White to move                                                   8:00

    8                             White to move, move 1.
    7                             No castling rights are left.
    6     K  P
    5           r                 White: king, pawn
    4                             Black: king, rook
    3
    2                             You have 8 minutes from when you start (+ -).
    1  k                          The board stays as it is while you write.
       a  b  c  d  e  f  g  h
                                  Look first. Then write down every candidate move
                                  you consider, the lines you see and how you judge
                                  where they end. Nothing is said about it until you
                                  lock it.








    Enter start  + more time  f flip  s sight  x hide  F1 help  Esc leave
    ");
}

#[test]
fn a_sitting_from_the_first_look_to_the_history() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>c7 Rd6+ Kc5 +-<Enter><Enter>c7 Rd2<Enter><Enter><Enter>Kb7 =<Enter>");
    trial.clock.advance(125_000);
    rig.pump();
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: White to move                                                   5:55

    8                              1.c7
    7                                1...Rd6+ 2.Kc5 +-
    6     K  P                       1...Rd2
    5           r                  1.Kb7 =
    4
    3
    2
    1  k
       a  b  c  d  e  f  g  h

    White to move, move 1.
    No castling rights are
    left.
    White: king, pawn
    Black: king, rook




    = the position is level.
    after Kb7 >
    F10 choose  Enter write  Tab candidate  F4 strike  F8 undo  F1 help  Esc leave
    ");
    rig.keys("<Tab><F10>");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: White to move                                                   5:55

      Your choice                             Your tree, as it will stand
      +---------+                           > 1.c7
      |         |                               1...Rd6+ 2.Kc5 +-
      |   c 7   |                               1...Rd2
      |         |                             1.Kb7 =
      +---------+
      Clock used: 2:05 of 8:00

      At the end of c7 Rd6+ Kc5: +- White
      is winning.

      n   Write one more reply
      e   Say who moves at the end, the
          material and your plan
      y   Lock the tree: it is final from
          then on and cannot be taken back
      Esc Back




    y lock  n write one more reply  e end card  F1 help  Esc back
    ");
    rig.keys("y");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1


        Locked 2:05.

        Your tree is final. See now where it and the truth part, or later: it
        waits for you in the history.

        If something is still going round in your head: press 2 and write it
        down first. It is kept apart from the tree.

        This position was the next of the collection.











    Enter see the review  2 look again  c coach first  l later  F1 help
    ");
    rig.keys("<Enter>").wait_for("Depth in half-moves");
    let text = rig.text();
    assert!(text.starts_with("Position 1: you chose c7"), "{text}");
    assert!(text.contains("your line  1.c7 Rd6+"), "{text}");
    rig.keys("<Esc>");
    insta::assert_snapshot!(rig.text(), @r"
    Foreply                                            write it down before you move

      To practise now                           Written last
    > Position 2    White to move    8 min      2026-11-25  Position 1
      for the 20 minutes you have (+ -)

      The whole collection
      2 positions, 1 tried

      Chosen from what comes back, what you
      miss and what is new; why is told after
      the lock.











    Enter open  n now  c collection  h history  g figures  o games  F1 help  q quit
    ");
    rig.keys("h");
    let text = rig.text();
    assert!(
        text.contains(
            "date       position                           time chosen   findings effect"
        ),
        "{text}"
    );
    assert!(
        text.contains("2026-11-25 Position 1                         2:05 c7"),
        "{text}"
    );
    rig.keys("<Enter>").wait_for("Depth in half-moves");
    rig.keys("<Esc><Esc>q");
    assert!(rig.router.lock().is_over());
}

#[test]
fn an_ambiguous_text_is_asked_about_after_the_lock_only() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Drill("knights".to_owned()));
    rig.keys("<Enter>Nd2 Ke7 Nc4 =<Enter><F10>");
    assert!(!rig.text().contains("Which"), "{}", rig.text());
    rig.keys("y");
    insta::assert_snapshot!(rig.text(), @r"
    Position 2


        Locked 0:00.

        Which move did you mean by Nd2?

          1  Nbd2
          2  Nfd2














    1 answer  s leave open  F1 help  Esc later
    ");
    rig.keys("9");
    assert!(rig.text().contains("Which move did you mean"));
    rig.keys("1");
    assert!(rig.text().contains("Your tree is final"), "{}", rig.text());
    rig.keys("<Enter>").wait_for("Depth in half-moves");
    assert!(rig.text().contains("you chose Nbd2"), "{}", rig.text());
}

#[test]
fn what_is_left_open_is_asked_again_from_the_history() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Drill("knights".to_owned()));
    rig.keys("<Enter>Nd2 =<Enter><F10>ys<Esc>h<Enter>");
    assert!(
        rig.text().contains("Which move did you mean by Nd2?"),
        "{}",
        rig.text()
    );
    rig.keys("s<Enter>").wait_for("Depth in half-moves");
    rig.keys("t");
    assert!(rig.text().contains("(not judged)"), "{}", rig.text());
}

#[test]
fn a_failing_engine_leaves_the_attempt_alone() {
    let drills = vec![drill(
        "saavedra-1895",
        "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1",
        "c7",
    )];
    let trial = Trial::new(drills, Arc::new(Broken));
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>c7 =<Enter><F10>y<Enter>")
        .wait_for("could not be made");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1


        The review could not be made.

        the engine 'no-such-engine' did not start: there is no such program;
        nothing else is affected; name another engine with --engine, or leave it
        out to use the embedded one

        Your attempt is kept as it is. Press r to try again, or leave: it can be
        reviewed any time from the history.












    r try again  F1 help  Esc leave
    ");
    rig.keys("r").wait_for("could not be made");
    rig.keys("<Esc>h");
    assert!(rig.text().contains("not reviewed yet"), "{}", rig.text());
}

#[test]
fn a_sitting_that_was_left_is_offered_first() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>c7 Rd6+<Enter>");
    trial.clock.advance(30_000);
    rig.keys("<Esc>");
    insta::assert_snapshot!(rig.text(), @r"
    Foreply                                            write it down before you move

      Begun                                     Written last
    > go on: Position 1, 2 moves, 0:30          nothing yet

      To practise now
      Position 2    White to move    8 min
      Position 1    White to move    8 min
      for the 20 minutes you have (+ -)

      The whole collection
      2 positions, 0 tried

      Chosen from what comes back, what you
      miss and what is new; why is told after
      the lock.






    The sitting is kept: go on with it any time.
    Enter open  n now  c collection  h history  g figures  o games  F1 help  q quit
    ");
    trial.clock.advance(1_000_000);
    rig.keys("<Enter>Kb5<Enter>");
    let text = rig.text();
    assert!(text.contains("1.c7 Rd6+ 2.Kb5"), "{text}");
    assert!(text.lines().next().unwrap().ends_with("7:30"), "{text}");
    rig.keys("<Esc>d");
    assert!(!rig.text().contains("go on"), "{}", rig.text());
}

/// As after kill -9: nothing is closed, the store is opened anew.
#[test]
fn a_sitting_survives_the_end_of_the_program() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>c7 Rd6+<Enter>Kb5");
    drop(rig);
    let trial = trial.restart();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    assert!(
        rig.text().contains("> go on: Position 1, 2 moves"),
        "{}",
        rig.text()
    );
    rig.keys("<Enter>");
    assert!(rig.text().contains("after c7 Rd6+ >"), "{}", rig.text());
}

#[test]
fn the_verdict_at_the_end_is_asked_for_once() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Drill("saavedra-1895".to_owned()));
    rig.keys("<Enter>c7 Rd6+ Kb5<Enter><F10>");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: White to move                                                   8:00

      Your choice                             Your tree, as it will stand
      +---------+                           > 1.c7 Rd6+ 2.Kb5
      |         |
      |   c 7   |
      |         |
      +---------+
      Clock used: 0:00 of 8:00

      How do you judge the end of c7 Rd6+
      Kb5?

      = level, +/= +/- +- White is better,
      clearly better, winning, =/+ -/+ -+
      the same for Black, 65% what you
      expect to score, ~ unclear. Enter
      alone leaves it open.




    verdict >
    Enter go on  F1 help  Esc back
    ");
    rig.keys("good<Enter>");
    assert!(
        rig.text().contains("'good' is not a verdict"),
        "{}",
        rig.text()
    );
    rig.keys("<Ctrl-U>+-<Enter>");
    assert!(rig.text().contains("At the end of c7 Rd6+ Kb5: +- White"));
    rig.keys("n");
    assert!(rig.text().contains("after c7 Rd6+ Kb5 >"), "{}", rig.text());
    rig.keys("<F10>");
    assert!(
        rig.text().contains("Write one more reply"),
        "{}",
        rig.text()
    );
}

/// What is seen after the lock is kept apart: the tree does not change.
#[test]
fn a_second_look_is_kept_apart_from_the_tree() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>c7 =<Enter><F10>y2");
    assert!(rig.text().contains("a second look"), "{}", rig.text());
    trial.clock.advance(30_000);
    rig.keys("c7 Rd6+ Kc5{x} oh<Enter>");
    assert!(rig.text().contains("  c7 Rd6+ Kc5{x} oh"), "{}", rig.text());
    assert!(rig.text().contains("1:30"), "{}", rig.text());
    trial.clock.advance(100_000);
    rig.keys("late<Enter>");
    assert!(
        rig.text().contains("two minutes are over"),
        "{}",
        rig.text()
    );
    rig.keys("<Esc>");
    assert!(rig.text().contains("Your tree is final"), "{}", rig.text());
    let (id, _) = trial.app.attempts().history().unwrap().remove(0);
    let attempt = trial.app.attempts().attempt(&id).unwrap();
    assert_eq!(attempt.tree().len(), 1);
    let seen = attempt.after().seen();
    assert_eq!(seen.len(), 1);
    assert_eq!(seen[0].1, "c7 Rd6+ Kc5{x} oh");
}

/// An end card is asked for on demand, in three lines, each of which may be left out.
#[test]
fn an_end_card_is_kept_as_said() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>c7 Rd6+ =<Enter><F10>e");
    assert!(
        rig.text().contains("Who is to move there?"),
        "{}",
        rig.text()
    );
    rig.keys("nobody<Enter>");
    assert!(rig.text().contains("Say 'me' or 'him'."), "{}", rig.text());
    rig.keys("<Ctrl-U>me<Enter>good<Enter>");
    assert!(
        rig.text().contains("'good' is no balance of material"),
        "{}",
        rig.text()
    );
    rig.keys("<Ctrl-U>rook down<Enter>take the rook's file<Enter>");
    let text = rig.text();
    assert!(text.contains("You are to move. Material: rook"), "{text}");
    assert!(text.contains("Lock the tree"), "{text}");
    let id = trial.app.attempts().unfinished().unwrap().remove(0).id;
    let attempt = trial.app.attempts().attempt(&id).unwrap();
    let card = attempt.end_card().unwrap();
    assert_eq!(card.plan, "take the rook's file");
    assert_eq!(card.material.as_ref().unwrap().points(), -5);
}

/// The player answers the review: why he missed it, a note, not for the coach, a line of his own.
#[test]
fn a_review_is_answered() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>Ka7 Rd7+ Kb8 +-<Enter><F10>y<Enter>")
        .wait_for("Depth in half-moves");
    rig.keys("nw");
    assert!(
        rig.text().contains("Why did you miss it?"),
        "{}",
        rig.text()
    );
    rig.keys("2by one check<Enter>");
    assert!(
        rig.text()
            .contains("You: stopped one move too early; by one"),
        "{}",
        rig.text()
    );
    rig.keys("w0my own reason<Enter>");
    assert!(rig.text().contains("You: my own reason."), "{}", rig.text());
    rig.keys("w");
    assert!(rig.text().contains("1 my own reason"), "{}", rig.text());
    rig.keys("<Esc>msome note<Enter>k");
    let text = rig.text();
    assert!(text.contains("You: my own reason."), "{text}");
    assert!(text.contains("Your note: some note"), "{text}");
    assert!(
        text.contains("not let it stand before your coach"),
        "{text}"
    );
    let (id, _) = trial.app.attempts().history().unwrap().remove(0);
    let after = trial.app.attempts().attempt(&id).unwrap().after().clone();
    assert_eq!(
        after.explained().values().next().unwrap().cause,
        "my own reason"
    );
    assert_eq!(after.contested().len(), 1);
    rig.keys("k");
    assert!(!rig.text().contains("before your coach"), "{}", rig.text());
    rig.keys("a<Ctrl-U>Kb7 Rd7+<Enter>")
        .wait_for("You: Kb7 Rd7+.");
    assert!(rig.text().contains("Answer: "), "{}", rig.text());
    rig.keys("a<Ctrl-U>Kb2<Enter>")
        .wait_for("'Kb2' is not a legal move");
    let attempt = trial.app.attempts().attempt(&id).unwrap();
    assert_eq!(attempt.doubts().len(), 1);
    assert_eq!(attempt.tree().len(), 3, "the tree stays as it was locked");
    rig.keys("g");
    assert!(rig.text().contains("needed      #"), "{}", rig.text());
    rig.keys("s").wait_for("The judge");
    rig.keys("so");
    assert!(rig.text().contains("his plan"), "{}", rig.text());
    assert!(
        rig.text().contains("h  g  f  e  d  c  b  a"),
        "{}",
        rig.text()
    );
}
