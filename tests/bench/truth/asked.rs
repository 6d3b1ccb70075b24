//! The judges of the bench, and what they were asked.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use foreply::judge::{
    self, Answer, Basis, CachedJudge, EngineCommand, EngineJudge, JudgeError, Kept, Question, Work,
};
use foreply::store::{KeyValueCache, Store};

/// Searches and their nodes, by the nodes that were asked for.
pub type BySize = BTreeMap<u64, (u64, u64)>;

/// The engine behind its cache, with a count of what all answers cost or once cost.
pub struct Judge {
    cached: CachedJudge<EngineJudge>,
    asked: Mutex<BySize>,
}

impl judge::Judge for Judge {
    fn name(&self) -> String {
        self.cached.name()
    }

    fn identity(&self) -> String {
        self.cached.identity()
    }

    fn side_by_side(&self) -> usize {
        self.cached.side_by_side()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let answers = self.cached.answer(questions)?;
        let mut asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
        for (question, answer) in questions.iter().zip(&answers) {
            if let Basis::Engine { nodes, .. } = answer.basis {
                let (searches, searched) = asked.entry(question.nodes).or_default();
                *searches += 1;
                *searched += nodes;
            }
        }
        drop(asked);
        Ok(answers)
    }
}

impl Judge {
    fn state(&self) -> (Work, u64, u64) {
        let nodes = self.asked().values().map(|(_, nodes)| nodes).sum();
        (self.cached.inner().work(), self.cached.hits(), nodes)
    }

    /// What was asked so far; an answer from the cache counts as what it once cost.
    pub fn asked(&self) -> BySize {
        let asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
        asked.clone()
    }
}

/// Starts an engine, the program's own without a command.
pub fn judge(
    command: Option<&str>,
    jobs: Option<usize>,
    shelf: Option<Arc<Store>>,
) -> Result<Judge, String> {
    let command = match command {
        Some(text) => EngineCommand::parse(text).map_err(|e| e.to_string())?,
        None => EngineCommand::new(env!("CARGO_BIN_EXE_foreply"), ["engine"]),
    };
    let mut settings = judge::Settings::default();
    settings.jobs = jobs.unwrap_or(settings.jobs);
    let engine = EngineJudge::start(command, settings).map_err(|e| e.to_string())?;
    let shelf = shelf.map(|s| s as Arc<dyn KeyValueCache<Kept>>);
    Ok(Judge {
        cached: CachedJudge::new(engine, shelf),
        asked: Mutex::default(),
    })
}

/// What was asked since a moment.
pub struct Meter {
    before: (Work, u64, u64),
    start: Instant,
}

pub struct Read {
    pub work: Work,
    pub hits: u64,
    /// Of all answers, those from the cache included.
    pub nodes: u64,
    pub wall: Duration,
}

impl Meter {
    pub fn start(judge: &Judge) -> Self {
        Self {
            before: judge.state(),
            start: Instant::now(),
        }
    }

    pub fn read(&self, judge: &Judge) -> Read {
        let ((before, hits_before, nodes_before), (now, hits, nodes)) =
            (self.before, judge.state());
        Read {
            work: Work {
                searches: now.searches - before.searches,
                nodes: now.nodes - before.nodes,
                busy: now.busy.saturating_sub(before.busy),
            },
            hits: hits - hits_before,
            nodes: nodes - nodes_before,
            wall: self.start.elapsed(),
        }
    }
}

impl Read {
    /// One line: time, searches, nodes (and those of all answers, cached ones included), cache hits, and how
    /// busy the processes were.
    pub fn line(&self, jobs: usize) -> String {
        let wall = self.wall.as_secs_f64();
        let busy = self.work.busy.as_secs_f64() / (wall * jobs as f64).max(1e-9);
        format!(
            "{wall:6.2} s  {:5} searches  {:7.2} M nodes  {:5} from the cache  ({:7.2} M in all)  {:3.0} % busy",
            self.work.searches,
            self.work.nodes as f64 / 1e6,
            self.hits,
            self.nodes as f64 / 1e6,
            100.0 * busy
        )
    }
}
