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

/// What a screen reader reads out in a whole sitting, from the position to the answers: every line stands by
/// itself, and nothing is told by its place or its colour.
#[test]
fn a_screen_reader_reads_the_whole_sitting() {
    let trial = Trial::usual();
    let text = ran(
        &trial,
        "c7 Rd6+ Kc5 +-\n\nKb7 Rd7+ =\ngo c7\nchoose\ncard\nme\npawn up\nqueen it\nyes\n\
         again now I see Rd1\n\n1\ncandidates\ntree\nfigures\nnumbers\nwhy 1 2\nend\n",
    );
    insta::assert_snapshot!(text, @r"
    Position 1.
    White: Kb6 c6
    Black: Ka1 Rd5
    White to move, move 1.
    No castling rights are left.
    Type 'help' for what can be typed.
    [8:00] candidate:
    [8:00] after c7 Rd6+ Kc5:
    [8:00] candidate:
    [8:00] after Kb7 Rd7+:
    [8:00] after c7:
    Your choice: c7. Your tree:
    > 1.c7 Rd6+ 2.Kc5 +-
      1.Kb7 Rd7+ =
    Lock the tree? It is final from then on and cannot be taken back.
    yes; no: write on; card: say who moves at the end, the material and your plan:
    Who is to move there? 'me' or 'him'. Enter alone leaves it open.
    How does the material stand, from your side? '=', '+1', 'pawn up', 'exchange
    down'. Enter alone leaves it open.
    What would you do then? One sentence. Enter alone leaves it open.
    You are to move. Material: pawn up. Plan: queen it
    Lock the tree? It is final from then on and cannot be taken back.
    yes; no: write on; card: say who moves at the end, the material and your plan:
    Locked 0:00.
    Enter alone compares the tree with the truth.
    again WORDS: what you see now, a second look; kept apart from the tree.
    later: leave; the review waits in the history.
    Kept.
    Enter alone compares the tree with the truth.
    again WORDS: what you see now, a second look; kept apart from the tree.
    later: leave; the review waits in the history.
    Comparing your tree with the truth ...
    Your tree holds in what counts.
    What held: You chose 1.c7: nothing better was there.
    Depth in half-moves: 4 needed, 3 reached, 3 sound.
    1. missed counter-sacrifice (hard at the board: not counted)
    Your line stops with 2.Kc5 and it is his turn. You judged: you are winning.
    One move on he lets you take a rook with 2...Ka2: 3.c8=Q Ka1 4.Kxd6. Then you
    are lost, in spite of the material. The engine finds no way in: ask your
    coach.
    You: c7 Rd6+ Kc5
    The truth: c7 Rd6+ Kc5 Ka2 c8=Q Ka1 Kxd6
    What would he gain by giving up a rook here?
    2. missed defence (hard at the board: not counted)
    After 1.Kb7 you had 1...Rd7+. He also has 1...Ka2: 2.Ka6 Ka1. Then you are
    lost. The engine finds no way in: ask your coach.
    You: Kb7 Rd7+
    The truth: Kb7 Ka2 Ka6 Ka1
    Where does his king stand best here?
    At the end of your line you took it to be your move; it is his.
    At the end of your line you counted 'pawn up'; on the board there he has a
    rook for a pawn.
    Your plan was: queen it. What should come there: 2...Ka2.
    Your second look, before the review:
    0:00 in: now I see Rd1
    Type 'help' for what you can answer, Enter alone to leave.
    1. missed counter-sacrifice (hard at the board: not counted)
    Your line stops with 2.Kc5 and it is his turn. You judged: you are winning.
    One move on he lets you take a rook with 2...Ka2: 3.c8=Q Ka1 4.Kxd6. Then you
    are lost, in spite of the material. The engine finds no way in: ask your
    coach.
    You: c7 Rd6+ Kc5
    The truth: c7 Rd6+ Kc5 Ka2 c8=Q Ka1 Kxd6
    What would he gain by giving up a rook here?
    White: Kc5 c7
    Black: Ka1 Rd6
    Black to move.
    Your candidates, in the order of writing:
    1. c7, your choice. 0:00 spent. Your verdict: +-. The truth: you are lost.
    2. Kb7. 0:00 spent. Your verdict: =. The truth: you are lost.
    c7 (your choice), at 0:00. The truth: you are lost.
    c7 Rd6+, at 0:00. The truth: you are lost.
    c7 Rd6+ Kc5, at 0:00. Your verdict: you are winning. The truth: you are lost.
    Missed here, finding 1: missed counter-sacrifice (hard at the board: not
    counted).
    Kb7, at 0:00. The truth: you are lost.
    Missed here, finding 2: missed defence (hard at the board: not counted).
    Kb7 Rd7+, at 0:00. Your verdict: the position is level. The truth: you are
    slightly better.
    Depth in half-moves: 4 needed, 3 reached, 3 sound.
    Written: 4 of the 9 moves that a sound calculation contains.
    Of 5 written moves 4 matter.
    Your longest line has 3 half-moves.
    You wrote 5 half-moves in 0:00.
    First candidate: 0:00.
    First reply: 0:00.
    Candidates named before the first reply: 1.
    c7: 0:00
    Kb7: 0:00
    Expected score: best .09, your choice .09. Judge: a counter of men, 200000
    nodes per search.
    Position: 8/8/1KP5/3r4/8/8/8/k7 w - - 0 1.
    1. Gap 0.80, effect on your choice 0.78. His move, half-move 4 from the
    position. What kind of move: quiet, king move. It gives up a rook by a man
    that is left where it stands.
    2. Gap 0.55, effect on your choice 0.00. His move, half-move 2 from the
    position. What kind of move: quiet, king move.
    c7: .09
    c7 Rd6+: .09
    c7 Rd6+ Kc5: .09
    Kb7: .09
    Kb7 Rd7+: .64
    Kept: stopped one move too early.
    ");
}
