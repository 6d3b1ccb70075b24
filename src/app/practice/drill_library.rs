//! Drills of the user's own beside the collection: added from files, and made from attempts.

use std::collections::HashMap;

use serde::{Deserialize, Serialize};

use crate::app::attempts::repository::AttemptRepository;
use crate::app::practice::catalogue::DrillCatalogue;
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::app::{AppError, AttemptId};
use crate::board::line;
use crate::drill::{self, Drill, Task};
use crate::judge::Question;
use crate::review::Settings;
use crate::store::{Record, Store};
use crate::tree::{Author, NodeId, Tree};
use std::sync::Arc;

/// Half-moves of a line that is made from an attempt.
const LINE_MAX: usize = 8;
/// Best moves that are asked for.
const MOVES: usize = 3;
/// Thinking time in minutes of a drill from an attempt without a limit.
const MINUTES: u32 = 8;
/// Most drills that can be added; each is read at every start.
const ADDED_MAX: usize = 5000;

/// One drill that was added, as the YAML of its record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct AddedDrill {
    yaml: String,
}

impl Record for AddedDrill {
    const TABLE: &'static str = "added-drills";
    const VERSION: u32 = 1;
}

/// What became of the drills of a file.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct AddedDrills {
    pub new: Vec<String>,
    /// Another drill of this name was there, added before.
    pub replaced: Vec<String>,
    /// The same drill was there already.
    pub same: usize,
    /// Name, and why it was not added.
    pub refused: Vec<(String, String)>,
}

/// The drills that were added, in the order of their names; what cannot be read is told.
pub(crate) fn added(store: &Store) -> Result<(Vec<Drill>, Vec<String>), AppError> {
    let (mut drills, mut wrong) = (Vec::new(), Vec::new());
    for (id, kept) in store.scan::<AddedDrill>()? {
        match drill::load(&kept.yaml, &id) {
            Ok(one) => drills.extend(one),
            Err(errors) => wrong.extend(errors.iter().map(|e| {
                tr!("a drill that you added cannot be read: {e}; `foreply drills add` takes it again from its file")
            })),
        }
    }
    Ok((drills, wrong))
}

/// The order in which new drills are offered: those of own games, those that were added, the starters in
/// their order, then the collection mixed by the seed, so that neighbours of a file, which often resemble each
/// other, do not follow each other. The same seed gives the same order.
pub(crate) fn order(drills: &[Drill], seed: i64) -> Vec<&Drill> {
    let collection = drill::builtin().unwrap_or_default();
    let places: HashMap<&str, usize> = (0..)
        .zip(collection)
        .map(|(i, d)| (d.id.as_str(), i))
        .collect();
    let starters = drill::starters().len();
    let mixed = |id: &str| crc32fast::hash(format!("{seed} {id}").as_bytes());
    let mut order: Vec<&Drill> = drills.iter().collect();
    // Stable: own games and added ones stay as they stand.
    order.sort_by_cached_key(|d| match places.get(d.id.as_str()) {
        None => (0, 0),
        Some(place) if *place < starters => (1, u32::try_from(*place).unwrap_or_default()),
        Some(_) => (2, mixed(&d.id)),
    });
    order
}

/// The drills: found, added, taken away, proved.
#[derive(Clone)]
pub struct DrillService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) catalogue: DrillCatalogue,
    pub(crate) judges: Arc<JudgeProvider>,
    pub(crate) settings: Settings,
}

impl DrillService {
    /// The drills: the positions of own games first, then those of the collection in its order, then those
    /// that were added.
    #[must_use]
    pub fn all(&self) -> &[Drill] {
        self.catalogue.all()
    }

    /// As [`DrillCatalogue::find`].
    ///
    /// # Errors
    /// There is no such drill.
    pub fn find(&self, id: &str) -> Result<(usize, &Drill), AppError> {
        self.catalogue.find(id)
    }

    /// Keeps drills beside the collection. A drill of the same name that was added before is replaced; a
    /// name or a position that the collection has already is refused.
    ///
    /// # Errors
    /// The store cannot be used.
    pub fn add(&self, drills: &[Drill]) -> Result<AddedDrills, AppError> {
        let mut done = AddedDrills::default();
        let store = self.repository.store();
        let mut room = ADDED_MAX.saturating_sub(store.scan::<AddedDrill>()?.len());
        for drill in drills {
            if let Some(why) = self.refusal(drill) {
                done.refused.push((drill.id.clone(), why));
                continue;
            }
            let yaml = drill::write(std::slice::from_ref(drill))
                .map_err(|e| AppError::Collection(e.to_string()))?;
            let (new, old) = (AddedDrill { yaml }, store.get::<AddedDrill>(&drill.id)?);
            match old {
                Some(old) if old == new => done.same += 1,
                None if room == 0 => {
                    let why = tr!("{ADDED_MAX} drills were added already; remove some");
                    done.refused.push((drill.id.clone(), why));
                }
                old => {
                    store.put(&drill.id, &new)?;
                    room = room.saturating_sub(usize::from(old.is_none()));
                    let place = if old.is_none() {
                        &mut done.new
                    } else {
                        &mut done.replaced
                    };
                    place.push(drill.id.clone());
                }
            }
        }
        Ok(done)
    }

    fn refusal(&self, drill: &Drill) -> Option<String> {
        if drill.id.bytes().all(|b| b.is_ascii_digit()) {
            let why = tr!(
                "a name of digits alone is the number of a drill of the collection; give it a letter"
            );
            return Some(why.to_owned());
        }
        if drill.is_of_own_game() {
            let why = tr!("names that begin with 'own-' are those of your own games");
            return Some(why.to_owned());
        }
        let builtin = drill::builtin().unwrap_or_default();
        if builtin.iter().any(|d| d.id == drill.id) {
            return Some(tr!("the collection has a drill of this name; choose another").to_owned());
        }
        let same = |d: &&Drill| d.id != drill.id && d.root.key() == drill.root.key();
        let other = self.catalogue.all().iter().find(same)?;
        Some(tr!("its position is that of the drill '{}'", other.id))
    }

    /// Takes away a drill that was added. What was written at it stays.
    ///
    /// # Errors
    /// None of this name was added, or the store cannot be used.
    pub fn remove(&self, id: &str) -> Result<(), AppError> {
        match self.repository.store().remove::<AddedDrill>(id)? {
            true => Ok(()),
            false => Err(AppError::NotAdded(id.to_owned())),
        }
    }

    /// The position of a locked attempt as a drill; its lines are those of the judge: the best move and
    /// those as good, each with what follows.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked, or the engine failed.
    pub fn from_attempt(&self, id: &AttemptId) -> Result<Drill, AppError> {
        let attempt = self.repository.attempt(id)?;
        if attempt.locked_ms().is_none() {
            return Err(AppError::NotLocked);
        }
        let root = attempt.tree().root().clone().rooted_here();
        let question = Question {
            line: root.clone(),
            lines: MOVES,
            nodes: self.settings.nodes * self.settings.confirm,
        };
        let answer = self.judges.judge()?.answer_one(question)?;
        let good = |e| answer.expected.over(e) <= self.settings.equal;
        let mut solution = Tree::new(root.clone());
        for ranked in answer.moves.iter().filter(|m| good(m.expected)) {
            grow(&mut solution, &ranked.pv);
        }
        let day = jiff::Timestamp::from_millisecond(attempt.opened().wall_ms).unwrap_or_default();
        let minutes = attempt.opened().budget_ms.map(|ms| ms / 60_000);
        Ok(Drill {
            id: format!("attempt-{}", id.0.to_ascii_lowercase()),
            title: format!("Attempt {}", id.0),
            root,
            task: Task::Move,
            minutes: minutes
                .and_then(|m| u32::try_from(m).ok())
                .map_or(MINUTES, |m| m.clamp(1, 120)),
            source: format!("own attempt of {}", day.strftime("%Y-%m-%d")),
            themes: Vec::new(),
            solution,
            grade: None,
            known_by: None,
            note: Some(format!(
                "The lines are those of the judge, {}.",
                self.judges.judge()?.name()
            )),
        })
    }
}

fn grow(tree: &mut Tree, moves: &[shakmaty::Move]) {
    let mut at = NodeId::ROOT;
    for mv in moves.iter().take(LINE_MAX) {
        let Some(here) = tree.line(at) else { return };
        let san = line::san(here.position(), mv);
        // A move that the tree has no room for ends the line.
        match tree.add(at, &san, Author::Engine, 0) {
            Ok(node) => at = node,
            Err(_) => return,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_starters_come_first_and_the_rest_is_mixed() {
        let all = drill::builtin().unwrap();
        let ids = |seed| -> Vec<&str> { order(all, seed).iter().map(|d| d.id.as_str()).collect() };
        let plain: Vec<&str> = all.iter().map(|d| d.id.as_str()).collect();
        let starters = drill::starters().len();
        assert!((10..100).contains(&starters), "{starters}");
        assert_eq!(ids(1)[..starters], plain[..starters]);
        assert_eq!(ids(1), ids(1));
        assert_ne!(ids(1), ids(2));
        let mut sorted = ids(1);
        sorted.sort_unstable();
        let mut wanted = plain.clone();
        wanted.sort_unstable();
        assert_eq!(sorted, wanted);
        // Neighbours of a file no longer follow each other, but for chance.
        let still = ids(1)
            .windows(2)
            .filter(|w| plain.windows(2).any(|p| p == *w))
            .count();
        assert!(still < starters + plain.len() / 20, "{still}");
    }
}
