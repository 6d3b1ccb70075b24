//! A sitting on lines of text.

use crate::app::AttemptId;
use crate::app::testing::app::Trial;
use crate::attempt::Attempt;
use crate::tree::NodeId;
use crate::tui::console::sitting::run;
use crate::tui::{Options, Start};

fn ran(trial: &Trial, lines: &str) -> String {
    on("saavedra-1895", trial, lines)
}

/// The last attempt, once all these words were printed.
fn kept_after(trial: &Trial, text: &str, wanted: &[&str]) -> (AttemptId, Attempt) {
    for words in wanted {
        assert!(text.contains(words), "no '{words}' in:\n{text}");
    }
    let id = trial.app.attempts().history().unwrap()[0].0.clone();
    let attempt = trial.app.attempts().attempt(&id).unwrap();
    (id, attempt)
}

fn on(drill: &str, trial: &Trial, lines: &str) -> String {
    let mut out = Vec::new();
    let start = Start::Drill(drill.to_owned());
    let mut input = lines.as_bytes();
    run(
        &trial.app,
        &start,
        Options::default(),
        (&mut input, &mut out),
    )
    .unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn a_whole_sitting_as_lines() {
    let trial = Trial::usual();
    let text = ran(
        &trial,
        "c7 Rd6+ Kc5 +-\n\nc7 Rd2\ngo c7\nxyz\ntree\nundo\nredo\nchoose\nno\nchoose\nyes\n\n",
    );
    let (before, after) = text.split_once("Locked 0:00.").unwrap();
    insta::assert_snapshot!(before, @r"
    Position 1.
    White: Kb6 c6
    Black: Ka1 Rd5
    White to move, move 1.
    No castling rights are left.
    Type 'help' for what can be typed.
    [8:00] candidate:
    [8:00] after c7 Rd6+ Kc5:
    [8:00] candidate:
    [8:00] after c7 Rd2:
    [8:00] after c7:
    'xyz' is not a move: 'x' does not begin a move; a piece letter (K Q R B N), a square or O-O does.
    [8:00] after c7:
      1.c7
        1...Rd6+ 2.Kc5 +-
        1...Rd2
    [8:00] after c7:
    [8:00] after c7:
    [8:00] after c7:
    Your choice: c7. Your tree:
    > 1.c7
        1...Rd6+ 2.Kc5 +-
        1...Rd2
    Lock the tree? It is final from then on and cannot be taken back.
    yes; no: write on; card: say who moves at the end, the material and your plan:
    [8:00] after c7:
    Your choice: c7. Your tree:
    > 1.c7
        1...Rd6+ 2.Kc5 +-
        1...Rd2
    Lock the tree? It is final from then on and cannot be taken back.
    yes; no: write on; card: say who moves at the end, the material and your plan:
    ");
    assert!(
        after.contains("What held:") || after.contains("1. "),
        "{after}"
    );
    assert_eq!(trial.app.attempts().history().unwrap().len(), 1);
}

/// Everything that the screens ask before and after the lock is asked and kept here too.
#[test]
fn what_the_screens_ask_is_asked_as_lines() {
    let trial = Trial::usual();
    let text = on(
        "knights",
        &trial,
        "Nd2 Kd7\nnote it looks natural\nnote\npause\nx\nchoose\nnonsense\n=\n\
         card\nme\n=\ncentralise\nyes\n1\nagain the king was passive\n\nsource\ntime\nagainst Nd4\nend\n",
    );
    let wanted = [
        "{it looks natural}",
        "The clock stands. Any line goes on.",
        "How do you judge the end of Nd2 Kd7?",
        "Which move did you mean by Nd2?\n1 N",
        "Kept.\n",
        "Depth in half-moves:",
        "a source that would tell something",
        "You then stand:",
    ];
    let (id, attempt) = kept_after(&trial, &text, &wanted);
    let end = NodeId(2);
    assert_eq!(
        attempt.tree().node(end).unwrap().comment,
        "it looks natural"
    );
    let card = attempt.end_card().unwrap();
    assert_eq!((card.node, card.plan.as_str()), (end, "centralise"));
    assert!(attempt.after().looked_again_ms().is_some());
    assert_eq!(attempt.doubts().len(), 1);
    assert!(
        trial
            .app
            .attempts()
            .locked(&id)
            .unwrap()
            .ambiguous()
            .is_empty()
    );
}

/// A finding is answered by its number: a cause of the list, words of his own, a note, struck and kept.
#[test]
fn findings_are_answered_as_lines() {
    let trial = Trial::usual();
    let text = ran(
        &trial,
        "c7 Kb1 c8=Q +-\nchoose\nyes\n\nwhy 1\nwhy 1 2\nwhy 1 was in a hurry\nnote 1 look again\n\
         strike 1\nstrike 1\n1\nwhy 99\nend\n",
    );
    let wanted = [
        "1 did not look for his best reply",
        "Kept: stopped one move too early.",
        "Kept: was in a hurry.",
        "You do not let it stand before your coach.",
        "It stands again.",
        "White: K",
    ];
    let (_, attempt) = kept_after(&trial, &text, &wanted);
    let after = attempt.after();
    assert!(after.contested().is_empty());
    let explained: Vec<_> = after
        .explained()
        .values()
        .map(|e| e.cause.as_str())
        .collect();
    assert_eq!(explained, ["was in a hurry"]);
    assert_eq!(after.remarks().values().collect::<Vec<_>>(), ["look again"]);
    assert_eq!(trial.app.causes().all().unwrap()[0], "was in a hurry");
}

#[test]
fn the_end_of_the_input_keeps_the_sitting() {
    let trial = Trial::usual();
    let text = ran(&trial, "c7 Rd6+\n");
    assert!(
        text.ends_with("The sitting is kept: go on with it any time.\n"),
        "{text}"
    );
    assert_eq!(trial.app.attempts().unfinished().unwrap()[0].moves, 2);
}

/// A possible and an impossible move are answered alike, and nothing of the drill is told.
#[test]
fn nothing_is_told_before_the_lock() {
    let trial = Trial::usual();
    let (one, other) = (ran(&trial, "c7 Rd6+\n"), ran(&trial, "c8 Rd1+\n"));
    assert_eq!(one.replace("c7", "c8").replace("Rd6", "Rd1"), other);
    for secret in ["underpromotion", "title", "source", "win"] {
        assert!(!one.contains(secret), "{secret}");
    }
}
