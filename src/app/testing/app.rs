//! For tests of rooms that stand on the application: an application without an engine.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Condvar, Mutex};

use shakmaty::{Move, Position, Role};

use crate::app::{App, AttemptId, SetClock};
use crate::board::{Line, line};
use crate::drill::{Drill, Task};
pub(crate) use crate::judge::MoverScore;
use crate::judge::{Answer, Basis, Judge, JudgeError, Question, Ranked};
use crate::progress::{Bits, Feature, Moment, Moments};
use crate::review::Settings;
use crate::tree::Tree;

/// Counts men, one half-move deep: enough for a review to have findings, always the same.
pub(crate) struct Counting;

impl Judge for Counting {
    fn name(&self) -> String {
        "a counter of men".to_owned()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        Ok(questions.iter().map(count).collect())
    }
}

fn count(question: &Question) -> Answer {
    let line = &question.line;
    if let Some(rule) = line.rule() {
        let worth = match rule.winner(line.turn()) {
            Some(_) => MoverScore::LOST,
            None => MoverScore::LEVEL,
        };
        return Answer {
            expected: worth,
            basis: Basis::Rule(rule),
            moves: Vec::new(),
        };
    }
    let legal = line.position().legal_moves();
    let mut moves: Vec<Ranked> = legal.iter().map(|mv| rank(line, mv)).collect();
    moves.sort_by(|a, b| {
        let worth = b.expected.value().total_cmp(&a.expected.value());
        worth.then_with(|| a.mv.to_string().cmp(&b.mv.to_string()))
    });
    moves.truncate(question.lines);
    Answer {
        expected: moves[0].expected,
        basis: Basis::Engine { depth: 1, nodes: 1 },
        moves,
    }
}

fn rank(line: &Line, mv: &Move) -> Ranked {
    let after = line.child(mv).unwrap();
    let board = after.position().board();
    let men = |color| {
        let men = board.material_side(color);
        let worth = [
            (Role::Queen, 9),
            (Role::Rook, 5),
            (Role::Bishop, 3),
            (Role::Knight, 3),
        ];
        let pieces: i32 = worth.iter().map(|(r, w)| i32::from(*men.get(*r)) * w).sum();
        pieces + i32::from(men.pawn)
    };
    let mut worth = MoverScore::from_centipawns(100 * (men(line.turn()) - men(after.turn())));
    if let Some(rule) = after.rule() {
        worth = rule
            .winner(after.turn())
            .map_or(MoverScore::LEVEL, |_| MoverScore::WON);
    }
    Ranked {
        mv: mv.clone(),
        expected: worth,
        mate: None,
        pv: vec![mv.clone()],
    }
}

/// An engine that never starts.
pub(crate) struct Broken;

impl Judge for Broken {
    fn name(&self) -> String {
        "nobody".to_owned()
    }

    fn answer(&self, _: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        Err(JudgeError::Start {
            command: "no-such-engine".to_owned(),
            reason: "there is no such program".to_owned(),
        })
    }
}

/// Counts men, and stops at one question: fails there, or waits until it is let go.
#[derive(Default)]
pub(crate) struct Stopping {
    asked: AtomicUsize,
    /// The question at which it stops, the first being 1; 0 for none.
    at: usize,
    waits: bool,
    gone_on: Mutex<bool>,
    told: Condvar,
}

impl Stopping {
    pub(crate) fn failing_at(at: usize) -> Self {
        Self {
            at,
            ..Self::default()
        }
    }

    pub(crate) fn waiting_at(at: usize) -> Self {
        Self {
            waits: true,
            ..Self::failing_at(at)
        }
    }

    /// How many questions it has been asked.
    pub(crate) fn asked(&self) -> usize {
        self.asked.load(Ordering::SeqCst)
    }

    pub(crate) fn go_on(&self) {
        *self.gone_on.lock().unwrap() = true;
        self.told.notify_all();
    }
}

impl Judge for Stopping {
    fn name(&self) -> String {
        Counting.name()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        for _ in questions {
            let number = self.asked.fetch_add(1, Ordering::SeqCst) + 1;
            if number != self.at {
                continue;
            }
            if !self.waits {
                return Err(JudgeError::Table {
                    what: "the engine has died".to_owned(),
                });
            }
            let mut gone_on = self.gone_on.lock().unwrap();
            while !*gone_on {
                gone_on = self.told.wait(gone_on).unwrap();
            }
        }
        Counting.answer(questions)
    }
}

/// An application in a folder of its own, with its clock.
pub(crate) struct Trial {
    pub(crate) app: App,
    pub(crate) clock: Arc<SetClock>,
    home: tempfile::TempDir,
    judge: Arc<dyn Judge>,
    drills: Vec<Drill>,
}

/// 2026-11-25, 12:00 UTC.
const EPOCH_MS: i64 = 1_795_608_000_000;

impl Trial {
    /// The home folder.
    pub(crate) fn home(&self) -> &std::path::Path {
        self.home.path()
    }

    pub(crate) fn new(drills: Vec<Drill>, judge: Arc<dyn Judge>) -> Self {
        let home = tempfile::tempdir().unwrap();
        let clock = Arc::new(SetClock::new(EPOCH_MS));
        let app = App::with_parts(
            home.path(),
            judge.clone(),
            drills.clone(),
            Settings::default(),
            clock.clone(),
        );
        Self {
            app: app.unwrap(),
            clock,
            home,
            judge,
            drills,
        }
    }

    /// The same, with an engine that works on what is written while he writes.
    pub(crate) fn thinking_ahead(mut self) -> Self {
        self.app = self.app.thinking_ahead();
        self
    }

    /// Two drills: the Saavedra position, and one in which two knights reach d2.
    pub(crate) fn usual() -> Self {
        let drills = vec![
            drill(
                "saavedra-1895",
                "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1",
                "c7 Rd6+ Kb5 Rd5+",
            ),
            drill("knights", "4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 30", "Nbd2"),
        ];
        Self::new(drills, Arc::new(Counting))
    }

    pub(crate) fn repository(&self) -> &crate::app::attempts::repository::AttemptRepository {
        &self.app.0.attempts.repository
    }

    /// Counts for a blind spot for backward moves: forty attempts that nobody made, each of which missed one and saw
    /// another move, and one that was made, which missed this moment.
    pub(crate) fn plant_blind_spot(&self, id: &AttemptId, moment: Moment) {
        let features = |names: &[&str]| -> Vec<Feature> {
            let named = names.iter().map(|n| Feature::named(n).unwrap());
            named.collect()
        };
        let alike = ["own-moves", "half-moves-1-2", "captures"];
        let backward = [&alike[..], &["backward-moves"]].concat();
        let mut counted = crate::progress::record::tests::plain(EPOCH_MS);
        counted.trials = vec![
            Bits::with(&features(&backward), false),
            Bits::with(&features(&alike), true),
        ];
        let store = self.repository().store();
        for name in (0..40).map(|i| format!("nobody-{i}")).chain([id.0.clone()]) {
            store.put(&name, &counted).unwrap();
        }
        let moments = Moments {
            moments: vec![moment],
        };
        store.put(&id.0, &moments).unwrap();
    }

    /// The program is started again: the store is opened anew.
    pub(crate) fn restart(self) -> Self {
        let drills = self.drills.clone();
        self.restart_with(drills)
    }

    /// The same, with another collection.
    pub(crate) fn restart_with(self, drills: Vec<Drill>) -> Self {
        let Self {
            app,
            clock,
            home,
            judge,
            ..
        } = self;
        drop(app);
        let settings = Settings::default();
        let app = App::with_parts(
            home.path(),
            judge.clone(),
            drills.clone(),
            settings,
            clock.clone(),
        );
        Self {
            app: app.unwrap(),
            clock,
            home,
            judge,
            drills,
        }
    }
}

/// A drill of eight minutes. The Saavedra position: F. Saavedra, after G. Barbier, Glasgow Weekly
/// Citizen, 1895.
pub(crate) fn drill(id: &str, fen: &str, solution: &str) -> Drill {
    let root = Line::new(line::read_fen(fen).unwrap());
    let mut tree = Tree::new(root.clone());
    let mut at = crate::tree::NodeId::ROOT;
    for text in solution.split_whitespace() {
        at = tree
            .add(at, text, crate::tree::Author::Published, 0)
            .unwrap();
    }
    Drill {
        id: id.to_owned(),
        title: "A title that would tell something".to_owned(),
        root,
        task: Task::Win,
        minutes: 8,
        source: "a source that would tell something".to_owned(),
        themes: vec!["underpromotion".to_owned()],
        solution: tree,
        grade: None,
        known_by: None,
        note: None,
    }
}
