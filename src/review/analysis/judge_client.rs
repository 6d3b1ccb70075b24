//! Questions to the judge, each asked once.

use std::cmp::Reverse;
use std::collections::{HashMap, HashSet};

use shakmaty::Move;

use crate::board::{Line, line as board_line};
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::review::model::input::ReviewObserver;
use crate::score::PlayerScore;

/// The judge is handed questions for so many ordinary searches together. Large enough that no engine waits long for
/// the last of them, small enough that the count keeps moving; no answer depends on it.
const BATCH: u64 = 24;

/// A move with what it leaves the player, and what is expected to follow, that move first.
pub(crate) type AfterMove = (PlayerScore, Vec<Move>);

/// Asks in batches, so that the judge can work on them side by side, and remembers.
pub(crate) struct JudgeClient<'a> {
    judge: &'a dyn Judge,
    /// Nodes of an ordinary search.
    pub(crate) nodes: u64,
    known: HashMap<String, Answer>,
    /// What will most likely be asked soon: not yet asked, each once.
    foreseen: Vec<Question>,
    asked: usize,
    watcher: &'a mut dyn ReviewObserver,
}

impl<'a> JudgeClient<'a> {
    pub(crate) fn new(
        judge: &'a dyn Judge,
        nodes: u64,
        watcher: &'a mut dyn ReviewObserver,
    ) -> Self {
        Self {
            judge,
            nodes,
            known: HashMap::new(),
            foreseen: Vec::new(),
            asked: 0,
            watcher,
        }
    }

    pub(crate) fn watcher(&mut self) -> &mut dyn ReviewObserver {
        self.watcher
    }

    /// Names what will most likely be asked next, in that order, in place of what was named before: it is asked where a
    /// process would have nothing to do, and changes no answer.
    pub(crate) fn foresee(&mut self, questions: &[Question]) {
        self.foreseen = self.fresh(questions);
    }

    /// The answers in the order of the questions, one for each.
    pub(crate) fn ask(&mut self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let fresh = self.fresh(questions);
        self.fetch(&fresh)?;
        let known = |q: &Question| {
            let answer = self.known.get(&q.signature());
            answer.cloned().ok_or(JudgeError::Unanswered)
        };
        questions.iter().map(known).collect()
    }

    /// Those that were not answered yet, each once.
    fn fresh(&self, questions: &[Question]) -> Vec<Question> {
        let mut new = HashSet::new();
        let is_fresh = |q: &&Question| {
            let signature = q.signature();
            !self.known.contains_key(&signature) && new.insert(signature)
        };
        questions.iter().filter(is_fresh).cloned().collect()
    }

    /// One answer.
    pub(crate) fn ask_one(
        &mut self,
        line: &Line,
        lines: usize,
        nodes: u64,
    ) -> Result<Answer, JudgeError> {
        self.answer(Question {
            line: line.clone(),
            lines,
            nodes,
        })
    }

    /// The answer to one question.
    pub(crate) fn answer(&mut self, question: Question) -> Result<Answer, JudgeError> {
        let answer = self.ask(&[question])?.pop();
        answer.ok_or(JudgeError::Unanswered)
    }

    /// Worth of the position that `line` has reached, for the player at its root, searched alone.
    pub(crate) fn alone(&mut self, line: &Line, nodes: u64) -> Result<PlayerScore, JudgeError> {
        let answer = self.ask_one(line, 1, nodes)?;
        Ok(for_player(line, &answer))
    }

    /// The last move of each line, its position searched alone: what it is worth to the player at the
    /// root, and what is expected to follow, that move first. One for each line.
    pub(crate) fn after_moves(
        &mut self,
        lines: &[Line],
        nodes: u64,
    ) -> Result<Vec<AfterMove>, JudgeError> {
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
                    .into_iter()
                    .flat_map(|m| m.pv),
            );
            (worth, pv)
        });
        Ok(searched.collect())
    }

    /// Small batches keep the count moving; their size does not change any answer.
    fn fetch(&mut self, fresh: &[Question]) -> Result<(), JudgeError> {
        self.asked += fresh.len();
        if !fresh.is_empty() {
            let now: HashSet<String> = fresh.iter().map(Question::signature).collect();
            self.foreseen.retain(|q| !now.contains(&q.signature()));
        }
        for batch in self.batches(fresh) {
            let batch = &self.filled(batch);
            self.watcher.progress(self.known.len(), self.asked);
            let answers = self.judge.answer(batch)?;
            if answers.len() != batch.len() {
                return Err(JudgeError::Unanswered);
            }
            for (question, answer) in batch.iter().zip(answers) {
                self.known.insert(question.signature(), answer);
            }
        }
        self.watcher.progress(self.known.len(), self.asked);
        Ok(())
    }

    /// The batch, and of what is foreseen as much as is answered meanwhile by processes that would wait for the last
    /// question of the batch.
    fn filled(&mut self, batch: &[Question]) -> Vec<Question> {
        let mut filled = batch.to_vec();
        let mut loads = vec![0; self.judge.side_by_side()];
        if loads.len() < 2 || self.foreseen.is_empty() {
            return filled;
        }
        // As the judge hands them out: the longest first, to whoever is free.
        let mut nodes: Vec<u64> = batch.iter().map(|q| q.nodes).collect();
        nodes.sort_unstable_by_key(|n| Reverse(*n));
        for nodes in nodes {
            if let Some(least) = loads.iter_mut().min() {
                *least += nodes;
            }
        }
        let longest = loads.iter().copied().max().unwrap_or(0);
        self.foreseen
            .retain(|question| match loads.iter_mut().min() {
                Some(least) if *least + question.nodes <= longest => {
                    *least += question.nodes;
                    filled.push(question.clone());
                    false
                }
                _ => true,
            });
        self.asked += filled.len() - batch.len();
        filled
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
pub(crate) fn for_player(line: &Line, answer: &Answer) -> PlayerScore {
    answer.expected.for_player(line.turn(), line.player())
}

/// The line with one more move that the judge named, or that is known to be legal there.
pub(crate) fn played(line: &Line, mv: &Move) -> Result<Line, JudgeError> {
    line.child(mv).map_err(|_| JudgeError::Impossible {
        mv: board_line::uci(mv),
    })
}
