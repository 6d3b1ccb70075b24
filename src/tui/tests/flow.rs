//! Whole sittings on the screens.

use super::rig::Rig;
use crate::app::trial::Trial;
use crate::tui::Start;

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
    2                             You have 8 minutes from when you start.
    1  k
       a  b  c  d  e  f  g  h     Look first. Then write down every candidate move
                                  you consider, the lines you see and how you judge
                                  where they end. Nothing is said about it until you
                                  lock it.









    Enter start  f flip  c coordinates  x hide  F1 help  Esc leave
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
    7                                1…Rd6+ 2.Kc5 +-
    6     K  P                       1…Rd2
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


        Your choice
        +---------+
        |         |
        |   c 7   |
        |         |
        +---------+
        Clock used: 2:05 of 8:00

        At the end of c7 Rd6+ Kc5: +- White is winning.

        n    Write one more reply
        y    Lock the tree: it is final from then on
        Esc  Back







    y lock  n write one more reply  F1 help  Esc back
    ");
    rig.keys("y");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1


        Locked 2:05.

        Your tree is final. See now where it and the truth part, or later: it
        waits for you in the history.
















    Enter see the review  l later  F1 help
    ");
    rig.keys("<Enter>").wait_for("What held");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                            Locked 2:05.
    What held: You chose c7: nothing better was there. And 1 more (t).
    Depth in half-moves: needed 5, reached 3, sound 3.

    8                            1 of 1  misjudged (does not touch your choice)
    7    [K]                     Your line ends with Kb7. You judged: the position
    6    [ ] P                   is level. Best is Ka2 Ka6 Ka1 Ka7. Then you are
    5           r                lost.
    4                            At the end of the line: who would you rather be,
    3                            and why?
    2
    1  k
       a  b  c  d  e  f  g  h
      after Kb7: Black to move

      your line  1.Kb7 (ends here)
    > the truth  1.Kb7 [Ka2] 2.Ka6 Ka1 3.Ka7






    n next  Right step on  Space swap  e numbers  t tree  s source  F1 help  Esc ba…
    ");
    rig.keys("<Esc>");
    insta::assert_snapshot!(rig.text(), @r"
    Foreply                                            write it down before you move

    To practise                               Written last
      Position 1   White to move   8 min      2026-11-25  Position 1  2:05
    > Position 2   White to move   8 min


















    Enter open  h history  F1 help  Esc quit
    ");
    rig.keys("h");
    insta::assert_snapshot!(rig.text(), @r"
    Attempts                                                                1 in all

    > 2026-11-25  Position 1         2:05  c7       clean, needed 5 reached 3 sound…




















    Enter open  F1 help  Esc back
    ");
    rig.keys("<Enter>").wait_for("What held");
    rig.keys("<Esc><Esc>q");
    assert!(rig.shared.model().is_over());
}
