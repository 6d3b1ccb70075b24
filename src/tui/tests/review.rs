//! The review screen, from a review made by hand: the Saavedra position (F. Saavedra, after
//! G. Barbier, Glasgow Weekly Citizen, 1895), a tree that queens.

use std::sync::Arc;

use crate::app::testing::app::Trial;
use crate::app::{EntryToken, Subject};
use crate::attempt::{Attempt, BoardVisibility};
use crate::review::{
    Coverage, Credit, Depth, Expected, Finding, FindingKind, FindingPart, FindingStatus, Focus,
    Review, Turn, Unjudged,
};
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::{NodeId, Sign, Verdict};
use crate::tui::router::Router;
use crate::tui::screens::review::open_review::OpenReview;
use crate::tui::screens::review::partial::ReviewSnapshot;
use crate::tui::screens::review::screen::ReviewScreen;
use crate::tui::tests::harness::{Rig, context};

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}

fn finding(
    kind: FindingKind,
    class: FindingStatus,
    path: &str,
    instead: &str,
    proof: &str,
    at: u32,
) -> Finding {
    Finding {
        kind,
        class,
        part: FindingPart::Choice,
        also: Vec::new(),
        declined: Vec::new(),
        paths: vec![words(path)],
        resource: words(proof).remove(0),
        proof: words(proof),
        gap: ScoreDiff::new(0.5),
        effect: ScoreDiff::new(0.48),
        ply: words(path).len() + 1,
        turn: Turn::Opponent,
        motifs: Vec::new(),
        sacrifice: None,
        sentence: format!("A sentence about {}.", words(proof)[0]),
        question: "A question for next time?".to_owned(),
        at: NodeId(at),
        instead: words(instead),
    }
}

const MAIN: &str = "c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4 c8=Q";

fn review(findings: Vec<Finding>) -> Review {
    Review {
        judge: "a hand".to_owned(),
        nodes: 1,
        root: String::new(),
        ply_in_game: None,
        choice: Some("c7".to_owned()),
        expected: Expected {
            best: PlayerScore::WON,
            choice: Some(PlayerScore::LEVEL),
        },
        opening: "The decisive point stands here.".to_owned(),
        right: vec![Credit {
            path: words("c7"),
            note: "c7 is the only move that wins.".to_owned(),
            node: NodeId(1),
        }],
        findings,
        end_card: None,
        notes: Vec::new(),
        unjudged: vec![Unjudged {
            path: words("Kb7"),
            why: String::new(),
            node: NodeId(13),
        }],
        moves: Vec::new(),
        depth: Depth {
            needed: 13,
            reached: 11,
            longest: 11,
            sound: 10,
        },
        coverage: Coverage::default(),
        focus: Focus::default(),
        process: None,
        trials: Default::default(),
    }
}

fn attempt(trial: &Trial) -> Attempt {
    let subject = Subject::Drill("saavedra-1895".to_owned());
    let mut sitting = trial
        .app
        .attempts()
        .open_sitting(&subject, None, BoardVisibility::Root)
        .unwrap();
    sitting.start().unwrap();
    let mut line: Vec<EntryToken> = words(MAIN).into_iter().map(EntryToken::Move).collect();
    line.push(EntryToken::Verdict(Verdict::Sign(Sign::WhiteWins)));
    sitting.write(NodeId::ROOT, &line).unwrap();
    for text in ["Rd1", "Kb7"] {
        sitting
            .write(NodeId::ROOT, &[EntryToken::Move(text.to_owned())])
            .unwrap();
    }
    sitting.choose(NodeId(1)).unwrap();
    trial.clock.advance(872_000);
    sitting.lock().unwrap();
    sitting.attempt().clone()
}

fn rig(findings: Vec<Finding>) -> Rig {
    let trial = Trial::usual();
    let ctx = context(&trial.app);
    let attempt = attempt(&trial);
    let snapshot = ReviewSnapshot::Whole(Arc::new(review(findings)));
    let state = OpenReview::new(&ctx, "Position 1", snapshot, attempt);
    let screen = ReviewScreen::telling(state);
    let router = Router::on(ctx, Box::new(screen));
    Rig::with_router(router, (80, 24))
}

/// On the first finding.
fn usual() -> Rig {
    let mut rig = summary();
    rig.keys("n");
    rig
}

fn summary() -> Rig {
    rig(vec![
        finding(
            FindingKind::MissedCounterSacrifice,
            FindingStatus::Counted,
            MAIN,
            "",
            "Rc4+ Qxc4",
            11,
        ),
        finding(
            FindingKind::MissedDefence,
            FindingStatus::Aside,
            "c7 Rd6+",
            "Kb5 Rd5+",
            "Kc5 Rd1",
            2,
        ),
        finding(
            FindingKind::IllegalMove,
            FindingStatus::Counted,
            "",
            "Rd1",
            "Rd1",
            12,
        ),
        finding(
            FindingKind::Misjudged,
            FindingStatus::Close,
            "Kb7",
            "",
            "Rd7+",
            13,
        ),
    ])
}

#[test]
fn a_finding_is_shown_at_its_moment() {
    let rig = usual();
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                           Locked 14:32.

    8       [Q]                  1 of 4: missed counter-sacrifice
    7       [ ]                  A sentence about Rc4+.
    6                            A question for next time?
    5
    4           r
    3
    2        K
    1  k
       a  b  c  d  e  f  g  h
      after c8=Q: Black to move





      your line  1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+ 4.Kb3 Rd3+ 5.Kc2 Rd4 6.c8=Q
                 (ends here)
    > the truth  1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+ 4.Kb3 Rd3+ 5.Kc2 Rd4 6.c8=Q [Rc4+]
                 7.Qxc4


    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
}

#[test]
fn the_board_steps_through_either_line() {
    let mut rig = usual();
    rig.keys("<Right>");
    assert!(
        rig.text().contains("after Rc4+: White to move"),
        "{}",
        rig.text()
    );
    rig.keys("<Right><Right><Right>");
    assert!(
        rig.text().contains("after Qxc4: Black to move"),
        "{}",
        rig.text()
    );
    rig.keys("<Left><Left><Left><Left>");
    assert!(
        rig.text().contains("after Kc2: Black to move"),
        "{}",
        rig.text()
    );
    rig.keys("n");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                           Locked 14:32.

    8                            2 of 4: missed defence (on your way: not counted)
    7        P                   A sentence about Kc5.
    6     K    [r]               A question for next time?
    5          [ ]
    4
    3
    2
    1  k
       a  b  c  d  e  f  g  h
      after Rd6+: White to move





      your line  1.c7 Rd6+ 2.[Kb5] Rd5+
    > the truth  1.c7 Rd6+ 2.[Kc5] Rd1




    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
    rig.keys(" <Right>");
    assert!(
        rig.text().contains("after Kb5: Black to move"),
        "{}",
        rig.text()
    );
    assert!(rig.text().contains("> your line"), "{}", rig.text());
    rig.keys("p");
    assert!(rig.text().contains("1 of 4"), "{}", rig.text());
    rig.keys("pf");
    assert!(
        rig.text().contains("   h  g  f  e  d  c  b  a"),
        "{}",
        rig.text()
    );
}

/// The board cannot follow a move that is not possible.
#[test]
fn a_phantom_move_is_shown_but_not_played() {
    let mut rig = usual();
    rig.keys("nn<Right>");
    let text = rig.text();
    assert!(text.contains("3 of 4: phantom move"), "{text}");
    assert!(text.contains("  White to move"), "{text}");
    assert!(text.contains("[Rd1]"), "{text}");
}

#[test]
fn scores_only_on_asking() {
    let mut rig = usual();
    assert!(!rig.text().contains("Expected score"), "{}", rig.text());
    rig.keys("e");
    let text = rig.text();
    assert!(
        text.contains("Gap 0.50, effect on your choice 0.48.")
            && text.contains("best 1, your choice .50"),
        "{text}"
    );
    rig.keys("e");
    assert!(!rig.text().contains("Expected score"), "{}", rig.text());
}

#[test]
fn the_tree_says_what_became_of_each_move() {
    let mut rig = usual();
    rig.keys("t");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: you chose c7                                           Locked 14:32.

    8       [Q]                  > 1.c7 (held) Rd6+ (missed here) 2.Kb5 Rd5+ 3.Kb4
    7       [ ]                        Rd4+ 4.Kb3 Rd3+ 5.Kc2 Rd4 6.c8=Q +- (missed
    6                                  here)
    5                              1.Rd1 (not possible)
    4           r                  1.Kb7 (missed here)
    3
    2        K                   After c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4
    1  k                         c8=Q
       a  b  c  d  e  f  g  h    Written at 0:00.
      after c8=Q: Black to move  Your verdict: +-.
                                 The truth: no position to judge.
                                 Here: missed counter-sacrifice
                                 A sentence about Rc4+.


    > your line  1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+ 4.Kb3 Rd3+ 5.Kc2 Rd4 6.c8=Q
                 (ends here)
      the truth  1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+ 4.Kb3 Rd3+ 5.Kc2 Rd4 6.c8=Q [Rc4+]
                 7.Qxc4


    n next  Space swap  t tree  g figures  w why  a against  F1 help  Esc back
    ");
}

#[test]
fn the_origin_and_the_published_solution_are_shown_now() {
    let mut rig = usual();
    rig.keys("s");
    let text = rig.text();
    assert!(
        text.contains("a source that would tell something"),
        "{text}"
    );
    assert!(text.contains("c7 Rd6+ Kb5 Rd5+"), "{text}");
    rig.keys("s");
    assert!(rig.text().contains("1 of 4"), "{}", rig.text());
}

#[test]
fn a_clean_review_says_so() {
    let mut rig = rig(Vec::new());
    assert!(
        rig.text()
            .contains("Nothing was overlooked: your tree holds."),
        "{}",
        rig.text()
    );
    rig.keys("n");
    assert!(
        rig.text().contains("What could not be judged"),
        "{}",
        rig.text()
    );
    rig.keys("p <Right>");
    assert!(
        rig.text().contains("after c7: Black to move"),
        "{}",
        rig.text()
    );
}
