//! What endgame tables know is never asked of an engine.
//!
//! Syzygy tables (R. de Man, 2013) hold, for every position of few men, the result under the fifty-move
//! rule and the distance to the next capture or pawn move that keeps it (DTZ). Both are used: a win that
//! the fifty-move rule spoils, counted from the moves already made without a capture or pawn move, is a
//! draw here. DTZ is no distance to mate, so the line that a table gives converts as fast as the rule
//! demands, and is not always the shortest.
//!
//! A table that is damaged, unreadable or alone without its other half is named and left out; the engine
//! answers in its place.

mod memory;

use std::collections::{BTreeMap, BTreeSet};
use std::io::{ErrorKind, Read};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use shakmaty::{Chess, Move, Position};
use shakmaty_syzygy::{AmbiguousWdl, Dtz, MaybeRounded, SyzygyError, Tablebase, Wdl};

use memory::Memory;

use super::{Answer, Basis, Judge, JudgeError, MoverScore, Question, Ranked, question, rules};
use crate::board::{Line, exchange};

/// First four bytes of a table of results and of a table of distances (format of R. de Man, 2013).
const MAGIC: [(&str, [u8; 4]); 2] = [
    ("rtbw", [0x71, 0xe8, 0x23, 0x5d]),
    ("rtbz", [0xd7, 0x66, 0x0c, 0xa5]),
];
/// Half-moves of the line given with the best move where the game is decided, and of any other line.
const LINE_MAX: usize = 20;
const SHORT_MAX: usize = 6;

/// A result under the fifty-move rule, for the side to move, the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    Loss,
    /// Lost but for the fifty-move rule: a draw.
    SavedByRule,
    Draw,
    /// Won but for the fifty-move rule: a draw.
    SpoiltByRule,
    Win,
}

impl Class {
    fn flip(self) -> Self {
        match self {
            Self::Loss => Self::Win,
            Self::SavedByRule => Self::SpoiltByRule,
            Self::Draw => Self::Draw,
            Self::SpoiltByRule => Self::SavedByRule,
            Self::Win => Self::Loss,
        }
    }

    /// 1, 0.5 or 0.
    #[must_use]
    pub fn expected(self) -> MoverScore {
        match self {
            Self::Win => MoverScore::WON,
            Self::Loss => MoverScore::LOST,
            _ => MoverScore::LEVEL,
        }
    }
}

impl From<Wdl> for Class {
    fn from(wdl: Wdl) -> Self {
        match wdl {
            Wdl::Loss => Self::Loss,
            Wdl::BlessedLoss => Self::SavedByRule,
            Wdl::Draw => Self::Draw,
            Wdl::CursedWin => Self::SpoiltByRule,
            Wdl::Win => Self::Win,
        }
    }
}

/// What a table says of a position.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TableResult {
    pub class: Class,
    /// Half-moves to the next capture, pawn move or mate at best play, negative where the side to move
    /// is the one that loses, 0 for a draw. One too small in tables that count whole moves.
    pub dtz: i32,
}

/// A folder of tables.
pub struct Tables {
    base: Tablebase<Chess>,
    /// Names of the tables in use, without their endings.
    names: BTreeSet<String>,
    trouble: Mutex<BTreeSet<String>>,
}

impl Tables {
    /// The tables of a folder, and what was left out and why, one sentence each. A folder that cannot be
    /// read gives no tables.
    #[must_use]
    pub fn open(dir: &Path) -> (Self, Vec<String>) {
        let mut notices = Vec::new();
        let mut tables = Self {
            base: Tablebase::with_filesystem(Arc::new(Memory::new())),
            names: BTreeSet::new(),
            trouble: Mutex::default(),
        };
        let found = match files(dir) {
            Ok(found) => found,
            Err(error) => {
                notices.push(tr!(
                    "the tables' folder {} cannot be read: {error}; no tables are used",
                    dir.display()
                ));
                return (tables, notices);
            }
        };
        for (name, halves) in found {
            match tables.add(&name, &halves) {
                Ok(()) => _ = tables.names.insert(name),
                Err(notice) => notices.push(notice),
            }
        }
        if tables.names.is_empty() {
            notices.push(tr!("there are no usable tables in {}", dir.display()));
        }
        (tables, notices)
    }

    /// Both halves of a table, if both are whole.
    fn add(&mut self, name: &str, halves: &BTreeMap<&str, PathBuf>) -> Result<(), String> {
        for (ending, magic) in MAGIC {
            let Some(path) = halves.get(ending) else {
                return Err(tr!(
                    "the table {name} is left out: {name}.{ending} is missing"
                ));
            };
            check(path, magic)
                .map_err(|why| tr!("the table {name} is left out: {name}.{ending} {why}"))?;
        }
        for path in halves.values() {
            self.base.add_file(path).map_err(|e| {
                let why = match e.kind() {
                    ErrorKind::InvalidInput => tr!("no table has that name").to_owned(),
                    _ => e.to_string(),
                };
                tr!("the table {name} is left out: {why}")
            })?;
        }
        Ok(())
    }

    /// The most men, kings included, of any table; 0 without tables.
    #[must_use]
    pub fn men(&self) -> usize {
        self.base.max_pieces()
    }

    /// What went wrong in use, one sentence each: tables that turned out damaged, or that were needed
    /// and are not there. The engine has answered instead.
    #[must_use]
    pub fn trouble(&self) -> Vec<String> {
        let trouble = self.trouble.lock().unwrap_or_else(PoisonError::into_inner);
        trouble.iter().cloned().collect()
    }

    /// What the tables say of the position reached, the fifty-move count included; `None` where they do
    /// not know, or where their distances, which may be rounded, leave the rule in doubt. It says nothing
    /// about repetitions.
    #[must_use]
    pub fn probe(&self, line: &Line) -> Option<TableResult> {
        let pos = line.position();
        if pos.castles().any() || pos.board().occupied().count() > self.men() {
            return None;
        }
        // A damaged file can trip the library over itself; that must not end the program.
        let distance = catch_unwind(AssertUnwindSafe(|| self.base.probe_dtz(pos)));
        let dtz: MaybeRounded<Dtz> = match distance {
            Ok(Ok(dtz)) => dtz,
            Ok(Err(error)) => return self.note(&told(&error)),
            Err(_) => return self.note(&tr!("a table for {} is damaged", material(pos))),
        };
        let wdl = AmbiguousWdl::from_dtz_and_halfmoves(dtz, pos.halfmoves()).unambiguous()?;
        Some(TableResult {
            class: wdl.into(),
            dtz: dtz.ignore_rounding().0,
        })
    }

    fn note<T>(&self, trouble: &str) -> Option<T> {
        let mut all = self.trouble.lock().unwrap_or_else(PoisonError::into_inner);
        all.insert(tr!("{trouble}; the engine is asked instead"));
        None
    }

    /// The answer to a question, the Laws first; `None` where the tables do not know the position and
    /// every position one move further.
    #[must_use]
    pub fn answer(&self, question: &Question) -> Option<Answer> {
        let line = &question.line;
        if let Some(answer) = rules::result(line) {
            return Some(answer);
        }
        let here = self.probe(line)?;
        let ranking = self.ranking(line)?;
        let expected = ranking.first()?.class.expected();
        let wanted = ranking.into_iter().take(rules::lines(question)).enumerate();
        let answer = Answer {
            expected,
            basis: Basis::Table { dtz: here.dtz },
            moves: wanted.map(|(i, m)| self.ranked(line, m, i == 0)).collect(),
        };
        Some(rules::with_claim(line, answer))
    }

    /// Every legal move by what it is worth, the best first.
    fn ranking(&self, line: &Line) -> Option<Vec<Tried>> {
        let legal = line.position().legal_moves();
        let tried: Option<Vec<Tried>> = legal.iter().map(|mv| self.tried(line, mv)).collect();
        let mut tried = tried?;
        let side = line.turn();
        tried.sort_by_cached_key(|t| (t.key(), exchange::order(&t.mv, side)));
        Some(tried)
    }

    fn tried(&self, line: &Line, mv: &Move) -> Option<Tried> {
        let next = line.child(mv).ok()?;
        let rule = next.rule();
        let mate = next.position().is_checkmate();
        let over = rule.is_some_and(|r| !r.is_claim());
        let (class, distance) = if mate {
            (Class::Win, 1)
        } else if over {
            (Class::Draw, 0)
        } else {
            let there = self.probe(&next)?;
            let distance = if mv.is_zeroing() {
                1
            } else {
                there.dtz.abs() + 1
            };
            // The other side claims what it may where it would lose.
            let claimed = rule.is_some() && there.class == Class::Loss;
            let class = if claimed {
                Class::Draw
            } else {
                there.class.flip()
            };
            (class, distance)
        };
        Some(Tried {
            mv: mv.clone(),
            class,
            distance,
            mate,
        })
    }

    fn ranked(&self, line: &Line, best: Tried, first: bool) -> Ranked {
        let decided = matches!(best.class, Class::Win | Class::Loss);
        let most = if first && decided {
            LINE_MAX
        } else {
            SHORT_MAX
        };
        Ranked {
            pv: self.continued(line, &best.mv, most),
            expected: best.class.expected(),
            mate: best.mate.then_some(1),
            mv: best.mv,
        }
    }

    /// The move and the tables' best play after it, to the end of the game or of what they know.
    fn continued(&self, line: &Line, first: &Move, most: usize) -> Vec<Move> {
        let mut now = line.clone().rooted_here();
        let mut next = Some(first.clone());
        while let Some(mv) = next {
            if now.push(&mv).is_err() || now.ply() >= most || now.rule().is_some() {
                break;
            }
            next = self
                .ranking(&now)
                .and_then(|r| r.into_iter().next())
                .map(|t| t.mv);
        }
        now.moves().to_vec()
    }
}

/// A move and what the tables say after it, for the side that plays it.
struct Tried {
    mv: Move,
    class: Class,
    /// Half-moves to the next capture, pawn move or mate, this move included.
    distance: i32,
    mate: bool,
}

impl Tried {
    /// Smallest for the best: the result, then mate, then the shortest way where something is won and
    /// the longest where it is lost, then what the move takes.
    fn key(&self) -> (std::cmp::Reverse<Class>, bool, i32, i32) {
        let way = match self.class {
            Class::Win | Class::SpoiltByRule => self.distance,
            Class::Draw => 0,
            Class::Loss | Class::SavedByRule => -self.distance,
        };
        let gain = exchange::gain(&self.mv);
        (std::cmp::Reverse(self.class), !self.mate, way, -gain)
    }
}

/// The tables of a folder by name, each with its halves by ending. Other files are nobody's business.
fn files(dir: &Path) -> std::io::Result<BTreeMap<String, BTreeMap<&'static str, PathBuf>>> {
    let mut found: BTreeMap<String, BTreeMap<&'static str, PathBuf>> = BTreeMap::new();
    for entry in std::fs::read_dir(dir)? {
        let path = entry?.path();
        let text =
            |part: Option<&std::ffi::OsStr>| part.and_then(|p| p.to_str().map(str::to_owned));
        let (Some(name), Some(ending)) = (text(path.file_stem()), text(path.extension())) else {
            continue;
        };
        if let Some((ending, _)) = MAGIC.iter().find(|(e, _)| *e == ending) {
            found.entry(name).or_default().insert(ending, path);
        }
    }
    Ok(found)
}

/// What is wrong with a file as far as its start and its size show.
fn check(path: &Path, magic: [u8; 4]) -> Result<(), String> {
    let unreadable = |e: std::io::Error| tr!("cannot be read ({e})");
    let mut file = std::fs::File::open(path).map_err(unreadable)?;
    let size = file.metadata().map_err(unreadable)?.len();
    let mut start = [0; 4];
    if size < 80 || size % 64 != 16 || file.read_exact(&mut start).is_err() {
        return Err(tr!("is cut short or damaged ({size} bytes)"));
    }
    if start != magic {
        return Err(tr!("is no Syzygy table").to_owned());
    }
    Ok(())
}

fn told(error: &SyzygyError) -> String {
    match error {
        SyzygyError::MissingTable { metric, material } => {
            tr!("the table {material} ({metric}) is needed and not there")
        }
        SyzygyError::ProbeFailed {
            metric, material, ..
        } => tr!("the table {material} ({metric}) is damaged"),
        SyzygyError::Castling | SyzygyError::TooManyPieces => error.to_string(),
    }
}

/// The men on the board in the way tables are named.
fn material(pos: &Chess) -> String {
    shakmaty_syzygy::Material::from_board(pos.board()).to_string()
}

/// Another judge, asked only what neither the Laws nor the tables know.
pub struct TableJudge<J> {
    tables: Tables,
    judge: J,
}

impl<J: Judge> TableJudge<J> {
    pub fn new(tables: Tables, judge: J) -> Self {
        Self { tables, judge }
    }

    /// The judge behind.
    pub fn inner(&self) -> &J {
        &self.judge
    }

    pub fn tables(&self) -> &Tables {
        &self.tables
    }
}

impl<J: Judge> Judge for TableJudge<J> {
    fn name(&self) -> String {
        match self.tables.men() {
            0 => self.judge.name(),
            men => format!("{} and Syzygy tables to {men} men", self.judge.name()),
        }
    }

    fn identity(&self) -> String {
        let names: Vec<&str> = self.tables.names.iter().map(String::as_str).collect();
        format!("{} | tables {}", self.judge.identity(), names.join(" "))
    }

    fn side_by_side(&self) -> usize {
        self.judge.side_by_side()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let known: Vec<Option<Answer>> = questions.iter().map(|q| self.tables.answer(q)).collect();
        question::rest(questions, known, &self.judge, |_, _| {})
    }
}

#[cfg(test)]
mod tests;
