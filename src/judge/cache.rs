//! What was asked before is not asked again.

use std::collections::HashMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use serde::{Deserialize, Serialize};
use shakmaty::uci::UciMove;

use super::{Answer, Basis, Judge, JudgeError, MoverScore, Question, Ranked, question, rules};
use crate::board::{Line, line};
use crate::store::{KeyValueCache, Record};

/// Answers that are held in memory at most; about a kilobyte each.
const MEMORY_MAX: usize = 20_000;

/// An answer as it is kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Kept {
    /// Judge and question in full: the key is only their hash.
    asked: String,
    /// Expected scores by their bits: a decimal number could come back as its neighbour, and a review
    /// would no longer be the same, byte for byte.
    expected: u64,
    basis: Basis,
    moves: Vec<KeptMove>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct KeptMove {
    expected: u64,
    mate: Option<i32>,
    pv: Vec<String>,
}

impl Record for Kept {
    const TABLE: &'static str = "judge";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

impl Kept {
    pub(super) fn new(asked: String, answer: &Answer) -> Self {
        let moves = answer.moves.iter().map(|m| KeptMove {
            expected: m.expected.value().to_bits(),
            mate: m.mate,
            pv: m.pv.iter().map(line::uci).collect(),
        });
        Self {
            asked,
            expected: answer.expected.value().to_bits(),
            basis: answer.basis,
            moves: moves.collect(),
        }
    }

    /// True where it is the answer to what is asked about that line.
    pub(super) fn answers(&self, asked: &str, line: &Line) -> bool {
        self.asked == asked && self.answer(line).is_some_and(|a| !a.moves.is_empty())
    }

    /// The answer again; `None` where a move is not legal, so something else was kept.
    fn answer(&self, line: &Line) -> Option<Answer> {
        let moves: Option<Vec<Ranked>> = self.moves.iter().map(|m| m.ranked(line)).collect();
        Some(Answer {
            expected: MoverScore::new(f64::from_bits(self.expected)),
            basis: self.basis,
            moves: moves?,
        })
    }
}

impl KeptMove {
    fn ranked(&self, line: &Line) -> Option<Ranked> {
        let mut after = line.clone().rooted_here();
        for text in &self.pv {
            let uci: UciMove = text.parse().ok()?;
            let mv = uci.to_move(after.position()).ok()?;
            after.push(&mv).ok()?;
        }
        let pv = after.moves().to_vec();
        Some(Ranked {
            mv: pv.first()?.clone(),
            expected: MoverScore::new(f64::from_bits(self.expected)),
            mate: self.mate,
            pv,
        })
    }
}

/// Another judge, asked only what neither memory nor the shelf knows.
pub struct CachedJudge<J> {
    judge: J,
    shelf: Option<Arc<dyn KeyValueCache<Kept>>>,
    memory: Mutex<HashMap<String, Kept>>,
    trouble: Mutex<Option<String>>,
    hits: AtomicU64,
}

impl<J: Judge> CachedJudge<J> {
    /// With a shelf, answers outlive the program.
    pub fn new(judge: J, shelf: Option<Arc<dyn KeyValueCache<Kept>>>) -> Self {
        Self {
            judge,
            shelf,
            memory: Mutex::default(),
            trouble: Mutex::default(),
            hits: AtomicU64::new(0),
        }
    }

    /// The judge behind.
    pub fn inner(&self) -> &J {
        &self.judge
    }

    /// How many questions were answered from memory or shelf so far.
    #[must_use]
    pub fn hits(&self) -> u64 {
        self.hits.load(Ordering::Relaxed)
    }

    /// The first failure of the shelf. It costs time, never an answer.
    #[must_use]
    pub fn trouble(&self) -> Option<String> {
        lock(&self.trouble).clone()
    }

    fn find(&self, asked: &str, line: &Line) -> Option<Answer> {
        let key = key(asked);
        let held = lock(&self.memory).get(&key).cloned();
        let kept = held.or_else(|| self.look_up(&key))?;
        let answer = (kept.asked == asked).then(|| kept.answer(line))??;
        self.hits.fetch_add(1, Ordering::Relaxed);
        Some(answer)
    }

    fn look_up(&self, key: &str) -> Option<Kept> {
        let found = self.shelf.as_ref()?.look_up(key);
        let kept = found.map_err(|e| self.note(e.to_string())).ok()??;
        self.hold(key, &kept);
        Some(kept)
    }

    fn keep(&self, asked: String, answer: &Answer) {
        let key = key(&asked);
        let kept = Kept::new(asked, answer);
        if let Some(Err(e)) = self.shelf.as_ref().map(|s| s.keep(&key, &kept)) {
            self.note(e.to_string());
        }
        self.hold(&key, &kept);
    }

    fn hold(&self, key: &str, kept: &Kept) {
        let mut memory = lock(&self.memory);
        if memory.len() >= MEMORY_MAX {
            memory.clear();
        }
        memory.insert(key.to_owned(), kept.clone());
    }

    fn note(&self, trouble: String) {
        lock(&self.trouble).get_or_insert(trouble);
    }
}

impl<J: Judge> Judge for CachedJudge<J> {
    fn name(&self) -> String {
        self.judge.name()
    }

    fn identity(&self) -> String {
        self.judge.identity()
    }

    fn side_by_side(&self) -> usize {
        self.judge.side_by_side()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let who = self.judge.identity();
        let asked = |q: &Question| asked_of(&who, q);
        let known: Vec<Option<Answer>> = questions
            .iter()
            .map(|q| rules::result(&q.line).or_else(|| self.find(&asked(q), &q.line)))
            .collect();
        question::rest(questions, known, &self.judge, |question, answer| {
            self.keep(asked(question), answer);
        })
    }
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // Every value behind these locks is replaced whole, so a panic elsewhere leaves a good one.
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Judge and question in full.
pub(super) fn asked_of(identity: &str, question: &Question) -> String {
    format!("{identity} | {}", question::signature(question))
}

/// 128 bits in hexadecimal digits (XXH3 of Y. Collet, seed 0): the same in every version of the program, which
/// the standard hasher is not.
pub(super) fn key(text: &str) -> String {
    format!("{:032x}", xxhash_rust::xxh3::xxh3_128(text.as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line;
    use crate::judge::FixedJudge;
    use crate::store::{Store, StoreError};
    use std::sync::atomic::{AtomicUsize, Ordering};

    /// A judge that counts how often it is asked. A third is no decimal number.
    fn counting(count: &AtomicUsize) -> impl Judge {
        FixedJudge::new(move |_: &Line| {
            count.fetch_add(1, Ordering::Relaxed);
            vec![("e4 Kd7 Kd2".to_owned(), 2.0 / 3.0)]
        })
    }

    fn question(fen: &str, nodes: u64) -> Question {
        let line = Line::new(line::read_fen(fen).unwrap());
        Question {
            line,
            lines: 1,
            nodes,
        }
    }

    const FEN: &str = "4k3/8/8/8/8/8/4P3/4K3 w - - 0 1";

    #[test]
    fn the_hash_is_the_published_one() {
        // XXH3_128bits of the empty text with seed 0, as the sanity checks of the reference library list it (from
        // memory).
        assert_eq!(key(""), "99aa06d3014798d86001c324468d497f");
    }

    #[test]
    fn a_question_is_asked_once_and_the_number_of_the_move_is_no_difference() {
        let count = AtomicUsize::new(0);
        let judge = CachedJudge::new(counting(&count), None);
        let later = FEN.replace("0 1", "0 40");
        let questions = [question(FEN, 5), question(&later, 5), question(FEN, 6)];
        let first = judge.answer(&questions).unwrap();
        let asked = count.load(Ordering::Relaxed);
        assert_eq!(judge.answer(&questions).unwrap(), first);
        assert_eq!(count.load(Ordering::Relaxed), asked);
    }

    #[test]
    fn answers_outlive_the_program_byte_for_byte() {
        let home = tempfile::tempdir().unwrap();
        let count = AtomicUsize::new(0);
        let mut answers = Vec::new();
        for _ in 0..2 {
            let store: Arc<dyn KeyValueCache<Kept>> = Arc::new(Store::open(home.path()).unwrap());
            let judge = CachedJudge::new(counting(&count), Some(store));
            answers.push(judge.answer(&[question(FEN, 5)]).unwrap());
            assert_eq!(judge.trouble(), None);
        }
        assert_eq!(answers[0], answers[1]);
        assert_eq!(count.load(Ordering::Relaxed), 1);
    }

    #[test]
    fn a_broken_shelf_costs_no_answer() {
        struct Broken;
        impl KeyValueCache<Kept> for Broken {
            fn look_up(&self, key: &str) -> Result<Option<Kept>, StoreError> {
                Err(StoreError::Name {
                    name: key[..2].to_owned(),
                    reason: "it is a test",
                })
            }
            fn keep(&self, _: &str, _: &Kept) -> Result<(), StoreError> {
                Ok(())
            }
        }
        let count = AtomicUsize::new(0);
        let judge = CachedJudge::new(counting(&count), Some(Arc::new(Broken)));
        assert_eq!(judge.answer(&[question(FEN, 5)]).unwrap().len(), 1);
        assert!(judge.trouble().unwrap().ends_with("it is a test"));
    }

    #[test]
    fn a_kept_answer_of_another_position_is_not_believed() {
        let count = AtomicUsize::new(0);
        let judge = CachedJudge::new(counting(&count), None);
        judge.answer(&[question(FEN, 5)]).unwrap();
        for kept in judge.memory.lock().unwrap().values_mut() {
            kept.moves[0].pv[0] = "e1e8".to_owned();
        }
        judge.answer(&[question(FEN, 5)]).unwrap();
        assert_eq!(count.load(Ordering::Relaxed), 2);
    }
}
