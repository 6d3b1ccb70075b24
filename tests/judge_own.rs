//! The judge with the embedded engine: what reviews rest on.

use foreply::board::{Line, line};
use foreply::judge::{Answer, CachedJudge, EngineCommand, EngineJudge, Judge, Question, Settings};

fn judge(jobs: usize) -> EngineJudge {
    let command = EngineCommand::new(env!("CARGO_BIN_EXE_foreply"), ["engine"]);
    let settings = Settings {
        jobs,
        ..Settings::default()
    };
    EngineJudge::start(command, settings).unwrap()
}

fn question(fen: &str, lines: usize, nodes: u64) -> Question {
    Question {
        line: Line::new(line::read_fen(fen).unwrap()),
        lines,
        nodes,
    }
}

/// Positions of studies and games from the built-in drills, whose sources stand there.
fn questions(nodes: u64) -> Vec<Question> {
    let drills = foreply::drill::builtin().unwrap();
    let lines = drills.iter().map(|drill| drill.root.clone());
    lines
        .take(8)
        .enumerate()
        .map(|(n, line)| Question {
            line,
            lines: 1 + n % 3,
            nodes,
        })
        .collect()
}

#[test]
fn the_embedded_engine_honours_what_reviews_need() {
    let judge = judge(1);
    let able = judge.able();
    assert!(
        able.nodes && able.searchmoves && able.wdl && able.lines >= 5,
        "{able:?}"
    );
}

#[test]
fn answers_are_the_same_whoever_finishes_first() {
    let questions = questions(20_000);
    let one = judge(1).answer(&questions).unwrap();
    let judge = judge(3);
    assert_eq!(judge.answer(&questions).unwrap(), one);
    let mut reversed: Vec<Question> = questions.clone();
    reversed.reverse();
    let mut answers: Vec<Answer> = judge.answer(&reversed).unwrap();
    answers.reverse();
    assert_eq!(answers, one);
    let cached = CachedJudge::new(judge, None);
    assert_eq!(cached.answer(&questions).unwrap(), one);
    assert_eq!(cached.answer(&questions).unwrap(), one);
}

/// The Fool's mate, given by G. Greco about 1620 (from memory).
#[test]
fn a_mate_is_certain_and_its_line_is_legal() {
    let fen = "rnbqkbnr/pppp1ppp/8/4p3/6P1/5P2/PPPPP2P/RNBQKBNR b KQkq - 0 2";
    let answer = judge(1)
        .answer(&[question(fen, 2, 20_000)])
        .unwrap()
        .remove(0);
    assert_eq!(answer.expected.value(), 1.0);
    assert_eq!((answer.moves[0].mate, answer.moves.len()), (Some(1), 2));
    let pv = line::sans(&line::read_fen(fen).unwrap(), &answer.moves[0].pv);
    assert_eq!(pv, ["Qh4#"]);
}

/// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory): promoting to a queen
/// allows `Rc4+` and stalemate, promoting to a rook wins.
#[test]
fn the_worth_of_both_promotions_of_the_saavedra_position() {
    let before = "8/2P5/8/8/3r4/8/2K5/k7 w - - 10 6";
    let root = Line::new(line::read_fen(before).unwrap());
    let worth = |san: &str| {
        let san: shakmaty::san::San = san.parse().unwrap();
        let mv = san.to_move(root.position()).unwrap();
        let question = Question {
            line: root.child(&mv).unwrap(),
            lines: 1,
            nodes: 200_000,
        };
        judge(1).answer(&[question]).unwrap()[0]
            .expected
            .flip()
            .value()
    };
    assert!((worth("c8=Q") - 0.5).abs() < 0.03, "{}", worth("c8=Q"));
    assert!(worth("c8=R") > 0.9, "{}", worth("c8=R"));
}
