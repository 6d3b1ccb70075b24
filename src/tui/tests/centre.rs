//! The review as it opens, his tree as its centre, and what a coach said in it.

use crate::app::testing::app::Trial;
use crate::attempt::{AttemptEvent, Remark};
use crate::coach::CoachImport;
use crate::tree::NodeId;
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

/// A sitting with an end card and a second look, locked; its review is open.
fn reviewed(trial: &Trial, size: (usize, usize)) -> Rig {
    let mut rig = Rig::sized(&trial.app, &Start::Home, size);
    rig.keys("<Enter>c7 Rd6+ Kc5 +-<Enter><Enter>");
    trial.clock.advance(100_000);
    rig.keys("Kb7 Rd7+ ={a draw}<Enter><Tab>");
    trial.clock.advance(60_000);
    rig.keys("<F10>eme<Enter>+1<Enter>queen the pawn<Enter>y2now I see Rd1<Enter><Esc><Enter>")
        .wait_for("Depth in half-moves");
    rig
}

fn coached(trial: &Trial) {
    let (id, _) = trial.app.attempts().history().unwrap().remove(0);
    let by = "Bram Oskarn".to_owned();
    let said = |remark| AttemptEvent::Coached {
        by: by.clone(),
        wall_ms: 0,
        remark,
    };
    let events = vec![
        said(Remark::Added {
            parent: NodeId(2),
            text: "Kb5".to_owned(),
        }),
        said(Remark::Marked {
            node: NodeId(1),
            nags: vec![3],
        }),
    ];
    let none: Vec<String> = Vec::new();
    let import = CoachImport {
        attempt: id.0,
        by,
        lines: Vec::new(),
        judged: none.clone(),
        said: Vec::new(),
        overruled: none.clone(),
        upheld: none.clone(),
        homework: Vec::new(),
        tasks: Vec::new(),
        conflicts: none.clone(),
        kept: none,
        events,
    };
    trial.app.coach().keep_taken(&import).unwrap();
}

#[test]
fn the_review_opens_with_what_it_comes_to() {
    let trial = Trial::usual();
    let rig = reviewed(&trial, (80, 24));
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                            Locked 2:40.

    8                            Your tree holds in what counts.
    7
    6     K  P                   What held: You chose 1.c7: nothing better was
    5           r                there.
    4                            Depth in half-moves: 4 needed, 3 reached, 3 sound.
    3
    2                            Where your tree and the truth part (n):
    1  k                         1 missed counter-sacrifice (hard at the board: not
       a  b  c  d  e  f  g  h      counted): Ka2 after c7 Rd6+ Kc5
      White to move              2 missed defence (hard at the board: not counted):
                                   Ka2 after Kb7
                                 Then: the end of your line as you saw it.

                                 (2 more below: Down)

    > your line  1.c7 Rd6+ 2.Kc5 (ends here)





    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
}

#[test]
fn a_cursor_goes_through_his_tree() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial, (80, 24));
    rig.keys("t");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                            Locked 2:40.

    8                            > 1.c7 (held) Rd6+ 2.Kc5 +- (missed here)
    7                              1.Kb7 (missed here) Rd7+ = {a draw}
    6     K  P
    5           r                Your candidates, in the order of writing:
    4                            > c7          0:00 +-    you are lost
    3                              Kb7         1:40 =     you are lost
    2                            Your second look, before the review:
    1  k                         0:00 in: now I see Rd1
       a  b  c  d  e  f  g  h
      White to move





    > your line  1.c7 Rd6+ 2.Kc5 (ends here)





    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
    rig.keys("<Right><Right>");
    let text = rig.text();
    assert!(text.contains("After c7 Rd6+"), "{text}");
    assert!(text.contains("after Rd6+: White to move"), "{text}");
    rig.keys("<Right>");
    let text = rig.text();
    assert!(
        text.contains("Your verdict: +-, you are winning."),
        "{text}"
    );
    assert!(text.contains("The truth: "), "{text}");
    // The next candidate, and back over the first row to the position.
    rig.keys("<Tab>");
    assert!(rig.text().contains("After Kb7"), "{}", rig.text());
    rig.keys("<Up><Up>");
    assert!(
        rig.text().contains("in the order of writing"),
        "{}",
        rig.text()
    );
    rig.keys("<Esc>");
    assert!(rig.text().contains("What held:"), "{}", rig.text());
}

#[test]
fn what_a_coach_said_comes_before_the_findings() {
    let trial = Trial::usual();
    reviewed(&trial, (80, 24));
    coached(&trial);
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("h<Enter>").wait_for("Depth in half-moves");
    assert!(
        rig.text().contains("What your coach said comes first"),
        "{}",
        rig.text()
    );
    rig.keys("n");
    let text = rig.text();
    assert!(text.contains("Your coach, 1 of 2"), "{text}");
    assert!(text.contains("after c7: a very good move"), "{text}");
    rig.keys("n");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                            Locked 2:40.

    8                            Your coach, 2 of 2
    7        P                   Bram Oskarn, after c7 Rd6+: adds Kb5.
    6     K    [r]
    5          [ ]               A coach's judgement outranks an engine's number.
    4
    3
    2
    1  k
       a  b  c  d  e  f  g  h
      after Rd6+: White to move





      your line  1.c7 Rd6+ 2.[Kc5]
    > the coach  1.c7 Rd6+ 2.[Kb5]




    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
    rig.keys("t");
    let text = rig.text();
    assert!(text.contains("by Bram Oskarn"), "{text}");
    rig.keys("<Esc>n");
    assert!(rig.text().contains("1 of "), "{}", rig.text());
}

#[test]
fn the_end_card_is_held_against_the_board() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial, (80, 24));
    for _ in 0..12 {
        if rig.text().contains("The end of your line, as you saw it") {
            break;
        }
        rig.keys("n");
    }
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                            Locked 2:40.

    8                            The end of your line, as you saw it
    7        P                   At the end of your line you took it to be your
    6    [ ]    r                move; it is his.
    5       [K]                  At the end of your line you counted '+1'; on the
    4                            board there he has a rook for a pawn.
    3                            Your plan was: queen the pawn. What should come
    2                            there: 2...Ka2.
    1  k
       a  b  c  d  e  f  g  h
      after Kc5: Black to move





      your line  1.c7 Rd6+ 2.Kc5 (ends here)
    > then       1.c7 Rd6+ 2.Kc5 [Ka2]




    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
}

#[test]
fn a_large_terminal_shows_it_all_at_once() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial, (140, 45));
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                                                                                        Locked 2:40.

                                                                                 Your tree holds in what counts.

    8                                                                            What held: You chose 1.c7: nothing better was there.
                                                                                 Depth in half-moves: 4 needed, 3 reached, 3 sound.

                                                                                 Where your tree and the truth part (n):
    7                                                                            1 missed counter-sacrifice (hard at the board: not counted):
                                                                                   Ka2 after c7 Rd6+ Kc5
                                                                                 2 missed defence (hard at the board: not counted): Ka2 after
                                                                                   Kb7
    6              K        P                                                    Then: the end of your line as you saw it.

                                                                                 Your second look, before the review:
                                                                                 0:00 in: now I see Rd1
    5                                r



    4



    3



    2



    1     k

          a        b        c        d        e        f        g        h
      White to move


    > your line  1.c7 Rd6+ 2.Kc5 (ends here)





    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
    rig.keys("t");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                                                                                        Locked 2:40.

                                                                                 > 1.c7 (held) Rd6+ 2.Kc5 +- (missed here)
                                                                                   1.Kb7 (missed here) Rd7+ = {a draw}
    8
                                                                                 Your candidates, in the order of writing:
                                                                                 > c7          0:00 +-    you are lost
                                                                                   Kb7         1:40 =     you are lost
    7                                                                            Your second look, before the review:
                                                                                 0:00 in: now I see Rd1


    6              K        P



    5                                r



    4



    3



    2



    1     k

          a        b        c        d        e        f        g        h
      White to move


    > your line  1.c7 Rd6+ 2.Kc5 (ends here)





    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
}
