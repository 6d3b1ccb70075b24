//! Written variations to a coach and back, with a PGN editor of somebody else's in between.

mod collection;
mod desk;
mod homework;
mod page;
mod whose;

use std::path::Path;
use std::process::Command;

use foreply::app::{App, AttemptId, Config, EntryToken, Subject};
use foreply::attempt::BoardVisibility;
use foreply::board::{Line, line::read_fen};
use foreply::tree::{NodeId, Verdict};

use crate::support::{Program, left_out};

/// O. Bernstein - J. R. Capablanca, Moscow 1914, before 27.Nxc3 (from memory); the notes are invented.
const BERNSTEIN: &str = "3r2k1/p4ppp/1q6/1Nrn4/8/2p1P3/P1R1QPPP/2R3K1 w - - 8 27";

/// Writes and locks an attempt as the screens do.
pub fn attempt(home: &Path) -> AttemptId {
    let mut config = Config::new(home.to_owned());
    config.ahead = false;
    let app = App::open(config).unwrap();
    let root = Line::new(read_fen(BERNSTEIN).unwrap());
    let subject = Subject::Position(root);
    let mut sitting = app
        .attempts()
        .open_sitting(&subject, Some(10), BoardVisibility::Root)
        .unwrap();
    sitting.start().unwrap();
    let moves = |text: &str| -> Vec<EntryToken> {
        text.split(' ')
            .map(|m| EntryToken::Move(m.to_owned()))
            .collect()
    };
    let first = sitting.write(NodeId::ROOT, &moves("Nxc3")).unwrap();
    let end = sitting.write(first, &moves("Nxc3 Rxc3 Rxc3 Rxc3")).unwrap();
    let said = [
        EntryToken::Verdict(Verdict::parse("+-").unwrap()),
        EntryToken::Comment("A \"healthy\" pawn (up) <b>&amp;</b> \u{1b}[31mred".to_owned()),
    ];
    sitting.write(end, &said).unwrap();
    let other = sitting.write(NodeId::ROOT, &moves("Nd4 Qa5 Nb3")).unwrap();
    sitting
        .write(other, &[EntryToken::Verdict(Verdict::Percent(45))])
        .unwrap();
    sitting.write(NodeId::ROOT, &moves("Qh8#")).unwrap();
    sitting.choose(first).unwrap();
    sitting.lock().unwrap();
    sitting.id().clone()
}

/// False where python-chess is not there to edit with.
fn edited(how: &str, from: &str, to: &str) -> bool {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/python/edit_pgn.py");
    let Ok(run) = Command::new("python3")
        .args([script, how, from, to])
        .output()
    else {
        left_out("there is no python3");
        return false;
    };
    if run.status.code() == Some(2) {
        left_out(String::from_utf8_lossy(&run.stderr).trim());
        return false;
    }
    assert!(
        run.status.success(),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    true
}

/// The independent reader complains about nothing that we send, and what its writer makes of it is the
/// same to us, in whatever order its variations stand.
#[test]
fn an_independent_editor_in_between() {
    let program = Program::new();
    let id = attempt(program.home.path());
    let sent = program.out("sent.pgn").to_str().unwrap().to_owned();
    let back = program.file("back.pgn", "");
    let ran = program.run(&[
        "coach",
        "send",
        &id.0,
        "--player",
        "Marrowby, Ilse",
        "-o",
        &sent,
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let answers = |how: &str| -> Option<String> {
        if !edited(how, &sent, &back) {
            return None;
        }
        let ran = program.run(&["coach", "take", &back]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        assert!(
            !ran.out.contains('\u{1b}'),
            "a terminal escape was let through"
        );
        Some(ran.out.replace(&id.0, "ID"))
    };
    let Some(unchanged) = answers("none") else {
        return;
    };
    insta::assert_snapshot!(unchanged, @"Attempt ID: nothing new from coach.");
    insta::assert_snapshot!(answers("shuffle").unwrap(), @r#"
Attempt ID: nothing new from coach.
  = not in the file, stays: the choice Nxc3 (the file's main line is Nd4 now)
"#);
    insta::assert_snapshot!(answers("coach").unwrap(), @r#"
Attempt ID: Oskarn, "Bram" added 1 line, set 2 verdicts, wrote
2 comments, set 1 as homework.
  + Nxc3 Kh8
  $ after Nxc3: $1
  $ after Nxc3 Kh8: the position is level
  : Nxc3: (not this) "why not" & <b>more</b>. Homework: look again.
  : Nxc3 Kh8: The coach's line.
  = not in the file, stays: the choice Nxc3 (the file's main line is Nd4 now)
"#);
    insta::assert_snapshot!(answers("coach").unwrap(), @r#"
Attempt ID: nothing new from Oskarn, "Bram".
  = not in the file, stays: the choice Nxc3 (the file's main line is Nd4 now)
"#);
}

#[test]
fn what_is_no_answer_is_refused_with_the_reason() {
    let program = Program::new();
    let id = attempt(program.home.path());
    let take = |text: String| {
        let file = program.file("x.pgn", &text);
        let ran = program.run(&["coach", "take", &file]);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{text}");
        program.plain(&ran.err).replace(&id.0, "ID")
    };
    let played = "1. e4 e5 *\n".to_owned();
    insta::assert_snapshot!(take(played), @"foreply: HOME/x.pgn: line 1 (game 1): nothing taken: it has no FEN tag: it is a game that was played, and no attempt");
    let other =
        format!("[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n[Attempt \"{id}\"]\n\n1. c7 *\n");
    insta::assert_snapshot!(take(other), @"foreply: HOME/x.pgn: line 1 (game 1): nothing taken: it begins in another position than attempt ID: this is another game");
    let unknown = "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n1. c7 *\n".to_owned();
    insta::assert_snapshot!(take(unknown), @"foreply: HOME/x.pgn: line 1 (game 1): nothing taken: no attempt of yours begins in its position");
    let moves = format!("[FEN \"{BERNSTEIN}\"]\n\n27. a3 *\n");
    insta::assert_snapshot!(take(moves), @"foreply: HOME/x.pgn: line 1 (game 1): nothing taken: it has none of the moves that were written in attempt ID: this is another game");
    insta::assert_snapshot!(take("%\n".to_owned()), @"foreply: HOME/x.pgn: no game in it");
}
