//! Questions to the judge, each asked once.

use std::collections::{HashMap, HashSet};

use shakmaty::Move;

use crate::board::Line;
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::review::Watcher;

/// The judge is handed questions for so many ordinary searches together. Large enough that no engine waits long for
/// the last of them, small enough that the count keeps moving; no answer depends on it.
const BATCH: u64 = 24;

/// Asks in batches, so that the judge can work on them side by side, and remembers.
pub(crate) struct Asker<'a> {
    judge: &'a dyn Judge,
    /// Nodes of an ordinary search.
    pub(crate) nodes: u64,
    known: HashMap<String, Answer>,
    asked: usize,
    watcher: &'a mut dyn Watcher,
}

impl<'a> Asker<'a> {
    pub(crate) fn new(judge: &'a dyn Judge, nodes: u64, watcher: &'a mut dyn Watcher) -> Self {
        Self {
            judge,
            nodes,
            known: HashMap::new(),
            asked: 0,
            watcher,
        }
    }

    pub(crate) fn watcher(&mut self) -> &mut dyn Watcher {
        self.watcher
    }

    /// The answers in the order of the questions.
    pub(crate) fn ask(&mut self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let mut new = HashSet::new();
        let is_fresh = |q: &&Question| {
            let signature = q.signature();
            !self.known.contains_key(&signature) && new.insert(signature)
        };
        let fresh: Vec<Question> = questions.iter().filter(is_fresh).cloned().collect();
        self.fetch(&fresh)?;
        Ok(questions
            .iter()
            .filter_map(|q| self.known.get(&q.signature()).cloned())
            .collect())
    }

    /// One answer.
    pub(crate) fn ask_one(
        &mut self,
        line: &Line,
        lines: usize,
        nodes: u64,
    ) -> Result<Option<Answer>, JudgeError> {
        let question = Question {
            line: line.clone(),
            lines,
            nodes,
        };
        Ok(self
            .ask(std::slice::from_ref(&question))?
            .into_iter()
            .next())
    }

    /// Worth of the position that `line` has reached, for the player at its root, searched alone.
    pub(crate) fn alone(&mut self, line: &Line, nodes: u64) -> Result<f64, JudgeError> {
        let answer = self.ask_one(line, 1, nodes)?;
        Ok(answer.map_or(0.5, |a| for_player(line, &a)))
    }

    /// The last move of each line, its position searched alone: what it is worth to the player at the
    /// root, and what is expected to follow, that move first.
    pub(crate) fn after_moves(
        &mut self,
        lines: &[Line],
        nodes: u64,
    ) -> Result<Vec<(f64, Vec<Move>)>, JudgeError> {
        let question = |line: &Line| Question {
            line: line.clone(),
            lines: 1,
            nodes,
        };
        let questions: Vec<Question> = lines.iter().map(question).collect();
        let answers = self.ask(&questions)?;
        let searched = lines.iter().zip(answers).map(|(line, answer)| {
            let worth = for_player(line, &answer);
            let mut pv: Vec<Move> = line.moves().last().cloned().into_iter().collect();
            pv.extend(
                answer
                    .moves
                    .into_iter()
                    .next()
                    .map(|m| m.pv)
                    .unwrap_or_default(),
            );
            (worth, pv)
        });
        Ok(searched.collect())
    }

    /// Small batches keep the count moving; their size does not change any answer.
    fn fetch(&mut self, fresh: &[Question]) -> Result<(), JudgeError> {
        self.asked += fresh.len();
        for batch in self.batches(fresh) {
            self.watcher.progress(self.known.len(), self.asked);
            let answers = self.judge.answer(batch)?;
            for (question, answer) in batch.iter().zip(answers) {
                self.known.insert(question.signature(), answer);
            }
        }
        self.watcher.progress(self.known.len(), self.asked);
        Ok(())
    }

    fn batches<'q>(&self, questions: &'q [Question]) -> Vec<&'q [Question]> {
        let most = self.nodes.saturating_mul(BATCH);
        let mut batches = Vec::new();
        let mut rest = questions;
        while !rest.is_empty() {
            let mut nodes: u64 = 0;
            let fits = rest.iter().take_while(|q| {
                let begun = nodes;
                nodes = nodes.saturating_add(q.nodes);
                begun < most
            });
            let (batch, later) = rest.split_at(fits.count().max(1));
            batches.push(batch);
            rest = later;
        }
        batches
    }
}

/// An answer's worth for the player at the root of the line.
pub(crate) fn for_player(line: &Line, answer: &Answer) -> f64 {
    answer.worth_to(line.player(), line).value()
}
