//! What will be asked soon is asked where a process of the judge would have nothing to do.

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

use super::super::{Review, Settings, review};
use crate::board::Line;
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::review::analysis::judge_client::JudgeClient;
use crate::review::tests::fixture::{Fixed, QUIET, input, tree};

/// A judge of so many processes, and what it was asked together.
struct SideBySide<'a> {
    judge: &'a Fixed,
    processes: usize,
    batches: Mutex<Vec<Vec<Question>>>,
}

impl<'a> SideBySide<'a> {
    fn new(judge: &'a Fixed, processes: usize) -> Self {
        Self {
            judge,
            processes,
            batches: Mutex::default(),
        }
    }

    fn batches(&self) -> Vec<Vec<Question>> {
        let batches = self.batches.lock();
        batches.unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// The nodes of what was asked together.
    fn nodes(&self) -> Vec<Vec<u64>> {
        let batches = self.batches();
        let nodes = batches.iter().map(|b| b.iter().map(|q| q.nodes).collect());
        nodes.collect()
    }
}

impl Judge for SideBySide<'_> {
    fn name(&self) -> String {
        "a table".to_owned()
    }

    fn side_by_side(&self) -> usize {
        self.processes
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let batches = self.batches.lock();
        let mut batches = batches.unwrap_or_else(PoisonError::into_inner);
        batches.push(questions.to_vec());
        drop(batches);
        self.judge.answer(questions)
    }
}

/// Questions about the root itself that differ by their nodes.
fn questions(root: &Line, nodes: &[u64]) -> Vec<Question> {
    let question = |nodes: &u64| Question {
        line: root.clone(),
        lines: 1,
        nodes: *nodes,
    };
    nodes.iter().map(question).collect()
}

/// What is asked together where some is asked and some is foreseen.
fn together(processes: usize, foreseen: &[u64], asked: &[&[u64]]) -> Vec<Vec<u64>> {
    let written = tree(QUIET, &["h3"]);
    let table = Fixed::new(written.root(), &[]);
    let judge = SideBySide::new(&table, processes);
    let mut watcher = |_, _| {};
    let mut client = JudgeClient::new(&judge, 200, &mut watcher);
    client.foresee(&questions(written.root(), foreseen));
    for asked in asked {
        let answers = client.ask(&questions(written.root(), asked)).unwrap();
        assert_eq!(answers.len(), asked.len());
    }
    judge.nodes()
}

#[test]
fn a_process_that_would_wait_takes_what_is_done_by_then() {
    // 400 would keep the one question waiting; 100 and 90 fill the time, and 20 no longer fits.
    let foreseen = [400, 100, 90, 20];
    assert_eq!(together(2, &foreseen, &[&[200]]), [vec![200, 100, 90]]);
    assert_eq!(
        together(3, &foreseen, &[&[200]]),
        [vec![200, 100, 90, 20]],
        "two others are free"
    );
    // What was taken is known when it is asked, and what is left comes along later.
    assert_eq!(
        together(2, &foreseen, &[&[200], &[100, 90], &[401]]),
        [vec![200, 100, 90], vec![401, 400]]
    );
    assert_eq!(together(2, &foreseen, &[&[100, 99]]), [vec![100, 99]]);
}

#[test]
fn what_is_asked_in_a_later_batch_is_not_taken_along_by_the_first() {
    // 4800 are a batch by themselves, at 200 an ordinary search.
    let (foreseen, asked) = ([200, 201, 60], [4800, 200, 201]);
    assert_eq!(
        together(2, &foreseen, &[&asked]),
        [vec![4800, 60], vec![200, 201]]
    );
    assert_eq!(together(2, &[60, 60, 50], &[&[110]]), [vec![110, 60, 50]]);
}

#[test]
fn one_process_is_given_nothing_that_was_not_asked() {
    assert_eq!(together(1, &[100], &[&[200]]), [vec![200]]);
}

fn reviewed(processes: usize) -> (Review, Vec<Vec<Question>>) {
    let lines = ["h3 h6 a3 a6 60%", "Nc3 d4 60%", "a3 a6 60%", "b3 Bg4 50%"];
    let written = tree(QUIET, &lines);
    let ends = [
        ("h3 h6", 0.60),
        ("h3 d4", 0.20),
        ("h3 h6 a3 Bg4", 0.10),
        ("Nc3 d4", 0.90),
        ("Nc3 Bg4", 0.30),
        ("a3 a6", 0.20),
        ("a3 Be6", 0.05),
        ("b3 Bg4", 0.90),
        ("c4", 0.95),
    ];
    let table = Fixed::new(written.root(), &ends);
    let judge = SideBySide::new(&table, processes);
    let settings = Settings::default();
    let found = review(&input(&written), &judge, &settings, &mut |_, _| {}).unwrap();
    (found, judge.batches())
}

/// Nodes until all is answered, the longest question of each batch first.
fn wait(batches: &[Vec<Question>], processes: usize) -> u64 {
    let one = |batch: &Vec<Question>| {
        let mut nodes: Vec<u64> = batch.iter().map(|q| q.nodes).collect();
        nodes.sort_unstable_by_key(|n| std::cmp::Reverse(*n));
        let mut loads = vec![0; processes];
        for nodes in nodes {
            *loads.iter_mut().min().unwrap() += nodes;
        }
        loads.into_iter().max().unwrap()
    };
    batches.iter().map(one).sum()
}

#[test]
fn the_review_is_the_same_and_nothing_is_asked_twice() {
    let (alone, one_by_one) = reviewed(1);
    assert!(alone.findings.len() > 2);
    for processes in [2, 3] {
        let (found, batches) = reviewed(processes);
        assert_eq!(format!("{found:?}"), format!("{alone:?}"));
        let all: Vec<String> = batches.iter().flatten().map(Question::signature).collect();
        let different: BTreeSet<&String> = all.iter().collect();
        assert_eq!(all.len(), different.len());
        let waits = (wait(&batches, processes), wait(&one_by_one, processes));
        assert!(waits.0 < waits.1, "{waits:?}");
    }
}
