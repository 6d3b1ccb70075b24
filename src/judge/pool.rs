//! Several processes of one engine, and the questions handed out to them.

use std::cmp::Reverse;
use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, AtomicU64, AtomicUsize, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use super::error::Fault;
use super::session::{Able, Limits, Session};
use super::{Answer, Basis, EngineCommand, Judge, JudgeError, Question, question, rules};

/// How engines are run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settings {
    /// Processes side by side, at least 1.
    pub jobs: usize,
    /// Table of each process in MiB.
    pub hash_mb: u32,
    pub limits: Limits,
}

impl Default for Settings {
    /// One process for each core, 16 MiB each.
    fn default() -> Self {
        Self {
            jobs: std::thread::available_parallelism().map_or(1, usize::from),
            hash_mb: 16,
            limits: Limits::default(),
        }
    }
}

/// What the processes of an engine have done since the judge was started.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Work {
    pub searches: u64,
    /// As the engine counts them.
    pub nodes: u64,
    /// Time during which a process had something to do, all processes together.
    pub busy: Duration,
}

#[derive(Default)]
struct Counters {
    searches: AtomicU64,
    nodes: AtomicU64,
    busy_us: AtomicU64,
}

impl Counters {
    fn add(&self, answer: &Answer, since: Instant) {
        let nodes = match answer.basis {
            Basis::Engine { nodes, .. } => nodes,
            Basis::Rule(_) | Basis::Table { .. } => 0,
        };
        let busy = u64::try_from(since.elapsed().as_micros()).unwrap_or(u64::MAX);
        self.searches.fetch_add(1, Ordering::Relaxed);
        self.nodes.fetch_add(nodes, Ordering::Relaxed);
        self.busy_us.fetch_add(busy, Ordering::Relaxed);
    }
}

/// So often an engine is started again because it hangs; the next time is an error. A search that hangs takes half a
/// minute at most with the usual nodes, so that a review ends within two minutes of them.
const HANGS_MAX: usize = 2;

/// A UCI engine in one or more processes.
///
/// A process that dies, hangs or talks nonsense is ended and started once more, and the question
/// asked again; the second failure is the error.
pub struct EngineJudge {
    command: EngineCommand,
    settings: Settings,
    slots: Vec<Mutex<Option<Session>>>,
    name: String,
    able: Able,
    done: Counters,
    /// Searches that it did not end.
    hangs: AtomicUsize,
}

impl EngineJudge {
    /// Starts one process and measures what the engine can do; the others start when there is work for
    /// them.
    ///
    /// # Errors
    /// The engine does not start, or fails twice before it is ready.
    pub fn start(command: EngineCommand, settings: Settings) -> Result<Self, JudgeError> {
        let start = || Session::start(&command, settings.hash_mb, settings.limits, None);
        let first = start().or_else(|fault| {
            if fault.may_pass() {
                start()
            } else {
                Err(fault)
            }
        });
        let first = first.map_err(|fault| fault.of(command.to_string()))?;
        let (name, able) = (first.name().to_owned(), first.able());
        let mut slots = vec![Mutex::new(Some(first))];
        slots.resize_with(settings.jobs.max(1), || Mutex::new(None));
        Ok(Self {
            command,
            settings,
            slots,
            name,
            able,
            done: Counters::default(),
            hangs: AtomicUsize::new(0),
        })
    }

    /// What the engine can do.
    #[must_use]
    pub fn able(&self) -> Able {
        self.able
    }

    /// What was done so far. Says nothing of what a cache in front of this judge spared it.
    #[must_use]
    pub fn work(&self) -> Work {
        Work {
            searches: self.done.searches.load(Ordering::Relaxed),
            nodes: self.done.nodes.load(Ordering::Relaxed),
            busy: Duration::from_micros(self.done.busy_us.load(Ordering::Relaxed)),
        }
    }

    /// One answer by the process of the slot, which is started where it is not running.
    fn ask(&self, slot: &mut Option<Session>, question: &Question) -> Result<Answer, JudgeError> {
        match self.try_once(slot, question) {
            Err(fault) if fault.may_pass() && !self.hangs_too_often(&fault) => {
                self.try_once(slot, question)
            }
            done => done,
        }
        .map_err(|fault| fault.of(self.command.to_string()))
    }

    /// An engine that hangs now and then is started again; one that does so again and again would make a review wait
    /// for it many times over.
    fn hangs_too_often(&self, fault: &Fault) -> bool {
        matches!(fault, Fault::Silent { .. })
            && self.hangs.fetch_add(1, Ordering::Relaxed) >= HANGS_MAX
    }

    /// A process that has failed is ended here: its slot is empty afterwards.
    fn try_once(&self, slot: &mut Option<Session>, question: &Question) -> Result<Answer, Fault> {
        let mut session = match slot.take() {
            Some(session) => session,
            None => Session::start(
                &self.command,
                self.settings.hash_mb,
                self.settings.limits,
                Some(self.able),
            )?,
        };
        let since = Instant::now();
        let answer = session.ask(question)?;
        self.done.add(&answer, since);
        *slot = Some(session);
        Ok(answer)
    }

    /// A slot nobody works with, or the wait for the one of this number.
    fn slot(&self, number: usize) -> Option<MutexGuard<'_, Option<Session>>> {
        let count = self.slots.len();
        (0..count)
            .find_map(|k| self.slots.get((number + k) % count)?.try_lock().ok())
            .or_else(|| {
                let slot = self.slots.get(number % count)?;
                // A thread that panicked has at worst left the slot empty.
                Some(slot.lock().unwrap_or_else(PoisonError::into_inner))
            })
    }

    /// Answers to different questions, in their order.
    fn ask_all(&self, questions: &[&Question]) -> Result<Vec<Answer>, JudgeError> {
        let order = longest_first(questions, self.slots.len());
        let next = AtomicUsize::new(0);
        let failed = AtomicBool::new(false);
        let done: Mutex<Vec<Option<Result<Answer, JudgeError>>>> =
            Mutex::new(vec![None; questions.len()]);
        let work = |number: usize| {
            while !failed.load(Ordering::Relaxed) {
                let Some(&at) = order.get(next.fetch_add(1, Ordering::Relaxed)) else {
                    return;
                };
                let (Some(question), Some(mut slot)) = (questions.get(at), self.slot(number))
                else {
                    return;
                };
                let answer = self.ask(&mut slot, question);
                failed.fetch_or(answer.is_err(), Ordering::Relaxed);
                let mut done = done.lock().unwrap_or_else(PoisonError::into_inner);
                if let Some(place) = done.get_mut(at) {
                    *place = Some(answer);
                }
            }
        };
        std::thread::scope(|scope| {
            // One worker is this thread itself.
            for number in 1..self.slots.len().min(questions.len()) {
                let work = &work;
                scope.spawn(move || work(number));
            }
            work(0);
        });
        // In order, so of several errors the first question's is told. A missing answer means that a
        // question before or after it failed; an error is there.
        let done = done.into_inner().unwrap_or_else(PoisonError::into_inner);
        let mut answers = Vec::with_capacity(done.len());
        let mut missing = false;
        for place in done {
            match place {
                Some(Ok(answer)) => answers.push(answer),
                Some(Err(error)) => return Err(error),
                None => missing = true,
            }
        }
        if missing {
            let what = Fault::Nonsense(tr!("a question was left without an answer").to_owned());
            return Err(what.of(self.command.to_string()));
        }
        Ok(answers)
    }
}

/// The order in which questions are handed out: long ones first where several processes share them, so that none waits
/// long for the last one (R. L. Graham, "Bounds on Multiprocessing Timing Anomalies", 1969, from memory). No answer
/// depends on it.
fn longest_first(questions: &[&Question], processes: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..questions.len()).collect();
    if processes > 1 {
        order.sort_by_key(|at| Reverse(questions.get(*at).map(|q| q.nodes)));
    }
    order
}

impl Judge for EngineJudge {
    fn name(&self) -> String {
        if self.able.nodes {
            self.name.clone()
        } else {
            format!("{} (given time instead of nodes)", self.name)
        }
    }

    fn identity(&self) -> String {
        format!(
            "{} | {} | {} | hash {} | {:?}",
            self.name,
            self.command,
            self.command.stamp(),
            self.settings.hash_mb,
            self.able
        )
    }

    fn side_by_side(&self) -> usize {
        self.slots.len()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let by_rule: Vec<Option<Answer>> =
            questions.iter().map(|q| rules::result(&q.line)).collect();
        let mut places: HashMap<String, usize> = HashMap::new();
        let mut fresh: Vec<&Question> = Vec::new();
        let mut asked: Vec<usize> = Vec::new();
        for (question, settled) in questions.iter().zip(&by_rule) {
            let place = fresh.len();
            if settled.is_some() {
                asked.push(place);
                continue;
            }
            let place = *places.entry(question::signature(question)).or_insert(place);
            if place == fresh.len() {
                fresh.push(question);
            }
            asked.push(place);
        }
        let found = self.ask_all(&fresh)?;
        Ok(by_rule
            .into_iter()
            .zip(asked)
            .filter_map(|(settled, place)| settled.or_else(|| found.get(place).cloned()))
            .collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Line;

    #[test]
    fn long_questions_are_handed_out_first_and_equal_ones_in_their_order() {
        let questions: Vec<Question> = [50, 800, 50, 200, 800]
            .map(|nodes| Question {
                line: Line::new(shakmaty::Chess::default()),
                lines: 1,
                nodes,
            })
            .into();
        let questions: Vec<&Question> = questions.iter().collect();
        assert_eq!(longest_first(&questions, 2), [1, 4, 3, 0, 2]);
        // One process loses nothing by the order in which they were asked.
        assert_eq!(longest_first(&questions, 1), [0, 1, 2, 3, 4]);
    }
}
