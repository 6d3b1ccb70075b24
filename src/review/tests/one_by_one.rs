//! What the search of the root passes over is found by the search of the position after it.

use std::sync::{Mutex, PoisonError};

use shakmaty::{Move, Position};

use super::super::{FindingStatus, Review, Settings, review};
use crate::board::line;
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::review::tests::fixture::{Fixed, Heard, QUIET, input, tree};
use crate::tree::NodeId;

/// A judge that passes over a move where it is asked about the root itself, and what it was asked.
struct Blind<'a> {
    judge: &'a Fixed,
    to: &'a str,
    asked: Mutex<Vec<Question>>,
}

impl Judge for Blind<'_> {
    fn name(&self) -> String {
        self.judge.name()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let asked = self.asked.lock();
        let mut asked = asked.unwrap_or_else(PoisonError::into_inner);
        asked.extend_from_slice(questions);
        drop(asked);
        let mut answers = self.judge.answer(questions)?;
        for (question, answer) in questions.iter().zip(&mut answers) {
            let position = question.line.position();
            let is_seen = |mv: &Move| line::san(position, mv) != self.to;
            if question.line.moves().is_empty() {
                answer.moves.retain(|m| is_seen(&m.mv));
                let scores = answer.moves.iter().map(|m| m.expected);
                let best = scores.reduce(|a, b| if b > a { b } else { a });
                answer.expected = best.unwrap_or(answer.expected);
            }
        }
        Ok(answers)
    }
}

/// The review of one written move that leaves .45, where one other leaves so much and all others .40, and the nodes with
/// which each position after a first move was searched.
fn reviewed(to: &str, (other, worth): (&str, f64)) -> (Review, Vec<(String, u64)>) {
    let tree = tree(QUIET, &["h3 h6"]);
    let position = tree.root().position();
    let moves = position.legal_moves();
    let sans: Vec<String> = moves.iter().map(|mv| line::san(position, mv)).collect();
    let left = |san: &str| match san {
        "h3" => 0.45,
        san if san == other => worth,
        _ => 0.40,
    };
    let ends: Vec<(&str, f64)> = sans.iter().map(|s| (s.as_str(), left(s))).collect();
    let fixed = Fixed::new(tree.root(), &ends);
    let judge = Blind {
        judge: &fixed,
        to,
        asked: Mutex::default(),
    };
    let review = review(
        &input(&tree),
        &judge,
        &Settings::default(),
        &mut Heard::default(),
    );
    let asked = judge.asked.into_inner();
    let asked = asked.unwrap_or_else(PoisonError::into_inner);
    let first = asked.into_iter().filter_map(|q| {
        let [san] = q.line.sans().try_into().ok()?;
        Some((san, q.nodes))
    });
    (review.unwrap(), first.collect())
}

#[test]
fn what_the_search_of_the_root_passes_over_is_found() {
    let (seen, _) = reviewed("", ("c4", 0.62));
    let [finding] = seen.findings.as_slice() else {
        panic!("{:?}", seen.findings);
    };
    assert_eq!(
        (finding.resource.as_str(), finding.at),
        ("c4", NodeId::ROOT)
    );
    assert_eq!(finding.class, FindingStatus::Counted);
    let (blind, _) = reviewed("c4", ("c4", 0.62));
    assert_eq!(blind.findings, seen.findings);
}

#[test]
fn every_other_move_is_looked_at_and_none_that_is_no_better_searched_in_full() {
    let (review, first) = reviewed("c4", ("c4", 0.46));
    assert!(review.is_clean());
    let nodes = Settings::default().nodes;
    let tree = tree(QUIET, &[]);
    let legal = tree.root().position().legal_moves();
    let looked = |san: &str| first.iter().filter(|f| f.0 == san).map(|f| f.1).max();
    for mv in &legal {
        let san = line::san(tree.root().position(), mv);
        let most = looked(&san).unwrap_or_default();
        assert_eq!(
            most >= nodes,
            san == "h3",
            "{san} was searched with {most} nodes"
        );
        assert!(most >= nodes / 40, "{san} was not looked at");
    }
}
