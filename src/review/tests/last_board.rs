//! A line that proves a finding must keep its promise on its last board.

use super::super::{FindingStatus, Settings, review};
use crate::judge::{Answer, Judge, JudgeError, MoverScore, Question};
use crate::review::tests::fixture::{Fixed, QUIET, input, tree, words};

const NODES: u64 = 200_000;

/// Thinks otherwise of the boards at which certain lines end, and from so many nodes on of everything.
struct Otherwise<'a> {
    first: &'a Fixed,
    boards: &'a [(&'a str, f64)],
    later: (u64, &'a Fixed),
}

impl Judge for Otherwise<'_> {
    fn name(&self) -> String {
        "a table with exceptions".to_owned()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let mut all = Vec::new();
        for question in questions {
            let (from, later) = self.later;
            let table = if question.nodes >= from {
                later
            } else {
                self.first
            };
            let mut answers = table.answer(std::slice::from_ref(question))?;
            let path = question.line.sans();
            let board = self.boards.iter().find(|(line, _)| words(line) == path);
            if let (Some((_, worth)), [answer]) = (board, answers.as_mut_slice()) {
                let is_players = question.line.turn() == question.line.player();
                answer.expected = MoverScore::new(if is_players { *worth } else { 1.0 - worth });
            }
            all.extend(answers);
        }
        Ok(all)
    }
}

/// What becomes of the reply 'd4', worth `worth`, where its line ends on a board worth `there`, and longer thought has another
/// line.
fn told(worth: f64, there: f64, later: &[(&str, f64)]) -> Vec<(String, FindingStatus, String)> {
    let tree = tree(QUIET, &["h3 h6 60%"]);
    let first = [("h3 h6", 0.60), ("h3 d4 a3 a5 a4 b6", worth)];
    let (first, later) = (
        Fixed::new(tree.root(), &first),
        Fixed::new(tree.root(), later),
    );
    let judge = Otherwise {
        first: &first,
        boards: &[("h3 d4 a3 a5", there)],
        later: (8 * NODES, &later),
    };
    let found = review(&input(&tree), &judge, &Settings::default(), &mut |_, _| {}).unwrap();
    let findings = found.findings.iter();
    let told = findings.map(|f| (f.resource.clone(), f.class, f.proof.join(" ")));
    told.filter(|t| t.0 == "d4").collect()
}

#[test]
fn a_line_that_does_not_keep_its_promise_counts_for_nothing() {
    let same = |worth| [("h3 h6", 0.60), ("h3 d4 a3 a5 a4 b6", worth)];
    let kept = told(0.36, 0.40, &same(0.36));
    assert_eq!(kept[0].1, FindingStatus::Counted);
    assert_eq!(kept[0].2, "d4 a3 a5");
    let broken = told(0.36, 0.55, &same(0.36));
    assert_eq!(broken[0].1, FindingStatus::Close);
    // Where much is at stake, what the whole shows with eight times the nodes outweighs it.
    let much = told(0.20, 0.55, &same(0.20));
    assert_eq!(much[0].1, FindingStatus::Counted);
    assert_eq!(much[0].2, "d4 a3", "what keeps the promise is told");
}

#[test]
fn longer_thought_may_find_the_line_that_keeps_it() {
    let other = [("h3 h6", 0.60), ("h3 d4 a3 e4 a4 b6", 0.36)];
    let found = told(0.36, 0.55, &other);
    assert_eq!(found[0].1, FindingStatus::Counted);
    assert_eq!(found[0].2, "d4 a3 e4");
    let nothing = [("h3 h6", 0.60), ("h3 d4 a3 e4 a4 b6", 0.58)];
    assert_eq!(told(0.36, 0.55, &nothing)[0].1, FindingStatus::Close);
}

/// Sees, in a position without what went before, that it can be left.
struct Fresh<'a> {
    table: &'a Fixed,
    root: &'a str,
    players: f64,
}

impl Judge for Fresh<'_> {
    fn name(&self) -> String {
        "a table that knows the circle".to_owned()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let mut answers = self.table.answer(questions)?;
        for (question, answer) in questions.iter().zip(&mut answers) {
            let from = crate::board::line::fen(question.line.start());
            // The root with a move left out is a threat, not the circle.
            let is_pass = question.line.turn().is_black() && question.line.ply() == 0;
            if from != self.root && !is_pass {
                answer.expected = MoverScore::new(self.players);
            }
        }
        Ok(answers)
    }
}

#[test]
fn a_repetition_saves_only_if_it_cannot_be_left() {
    let tree = tree(QUIET, &["h3 h6 -+"]);
    let table = Fixed::new(
        tree.root(),
        &[("h3 h6 Nh4 Nh7 Nf3 Nf6", 0.50), ("c4", 0.50)],
    );
    let told = |players| {
        let judge = Fresh {
            table: &table,
            root: QUIET,
            players,
        };
        let found = review(&input(&tree), &judge, &Settings::default(), &mut |_, _| {}).unwrap();
        let mut findings = found.findings.into_iter();
        let found = findings.find(|f| f.resource == "Nh4").unwrap();
        (found.class, found.sentence)
    };
    let (class, sentence) = told(0.50);
    assert_eq!(class, FindingStatus::Counted);
    assert!(sentence.contains("the position repeats"), "{sentence}");
    let (class, sentence) = told(0.05);
    assert_eq!(class, FindingStatus::Close, "{sentence}");
}
