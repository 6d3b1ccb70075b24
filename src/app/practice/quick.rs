//! Quick calculation: which position comes next, with which clock.

use std::collections::HashSet;
use std::sync::Arc;

use crate::app::attempts::repository::AttemptRepository;
use crate::app::practice::catalogue::DrillCatalogue;
use crate::app::practice::drill_library;
use crate::app::practice::recommendations::root_of;
use crate::app::projections::AttemptIndex;
use crate::app::{AppError, Subject};
use crate::attempt::Origin;
use crate::drill::{Drill, grade};
use crate::progress::quick::{
    LADDERS, QuickGiven, SITTINGS_MIN, Try, first_clock_ms, next_clock_ms,
};
use crate::progress::stats::{Rate, median};
use crate::progress::{Outcome, Source};

/// Offers positions at speed.
#[derive(Clone)]
pub struct QuickService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) drills: DrillCatalogue,
}

/// The next position of a ladder. What the ladder is of is not told before the lock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QuickOffer {
    pub subject: Subject,
    pub clock_ms: u64,
    /// Reviewed tries on the ladder.
    pub solved: Rate,
}

/// The ladders with their positions, as they are now.
pub(crate) struct Ladders<'a> {
    index: &'a AttemptIndex,
    /// The positions of each ladder in the order in which they are offered, with whether they were tried.
    positions: Vec<(u8, &'a Drill, bool)>,
    /// All reviewed tries, in the order of making.
    pub(crate) tries: Vec<Try>,
}

impl<'a> Ladders<'a> {
    pub(crate) fn of(index: &'a AttemptIndex, drills: &'a DrillCatalogue) -> Self {
        let seed = index.history.values().map(|h| h.wall_ms).min();
        let ordered = drill_library::order(drills.all(), seed.unwrap_or_default());
        let positions = ordered.into_iter().filter_map(|drill| {
            let ladder = ladder_of(drill)?;
            let tried = index.first_sights.contains_key(&root_of(drill));
            Some((ladder, drill, tried))
        });
        Self {
            index,
            positions: positions.collect(),
            tries: tries(index),
        }
    }

    /// What is known of each ladder besides its tries.
    pub(crate) fn given(&self) -> Vec<QuickGiven> {
        let ladders = LADDERS.iter().map(|l| l.number);
        ladders.map(|ladder| self.given_of(ladder)).collect()
    }

    fn given_of(&self, ladder: u8) -> QuickGiven {
        let own = self.positions.iter().filter(|p| p.0 == ladder);
        let minutes: Vec<f64> = own.clone().map(|p| f64::from(p.1.minutes)).collect();
        let usual = median(&minutes).unwrap_or_default() * 60_000.0;
        QuickGiven {
            ladder,
            positions: minutes.len(),
            left: own.filter(|p| !p.2).count(),
            first_ms: first_clock_ms(&self.calm(ladder), usual as u64),
        }
    }

    /// Time used and whether it was solved, of the first sights of its positions without a hurry.
    fn calm(&self, ladder: u8) -> Vec<(u64, bool)> {
        let own: HashSet<String> = self
            .positions
            .iter()
            .filter(|p| p.0 == ladder)
            .map(|p| root_of(p.1))
            .collect();
        let sittings = self.index.statistics.values();
        sittings
            .filter(|c| c.first && c.source == Source::Sitting && own.contains(&c.root))
            .filter_map(|c| Some((c.spent_ms?, c.outcome == Outcome::Solved)))
            .collect()
    }

    /// The ladder that is his now: that of his last try; before any the deepest on which he solves three of four without a
    /// hurry, else the first.
    fn usual(&self) -> u8 {
        if let Some(last) = self
            .index
            .history
            .values()
            .filter_map(|h| h.quick)
            .next_back()
        {
            return last;
        }
        let holds = |ladder: &u8| {
            let calm = self.calm(*ladder);
            let solved = calm.iter().filter(|c| c.1).count();
            calm.len() >= SITTINGS_MIN && 4 * solved >= 3 * calm.len()
        };
        let numbers = LADDERS.iter().map(|l| l.number);
        numbers.rev().find(holds).unwrap_or(1)
    }
}

impl QuickService {
    /// The next position: of the ladder asked for, else of his own; where none of it is left, of the next one that has any.
    ///
    /// # Errors
    /// There is no such ladder, every position was tried, or the store cannot be read.
    pub fn next(&self, ladder: Option<u8>) -> Result<QuickOffer, AppError> {
        let index = self.repository.index()?;
        let ladders = Ladders::of(&index, &self.drills);
        let wanted = ladder.unwrap_or_else(|| ladders.usual());
        let begun = self.begun()?;
        let free = |number: u8| {
            let mut own = ladders.positions.iter().filter(|p| p.0 == number && !p.2);
            own.find(|p| !begun.contains(p.1.id.as_str()))
        };
        let others = LADDERS.iter().map(|l| l.number).cycle();
        let others = others.skip(usize::from(wanted)).take(LADDERS.len());
        let mut order = std::iter::once(wanted).chain(others.filter(|_| ladder.is_none()));
        let (number, drill, _) = order.find_map(free).ok_or(AppError::NoQuickLeft(ladder))?;
        let own: Vec<Try> = ladders
            .tries
            .iter()
            .filter(|t| t.ladder == *number)
            .copied()
            .collect();
        let clock_ms = next_clock_ms(&own, ladders.given_of(*number).first_ms);
        let mut solved = Rate::default();
        own.iter().for_each(|t| solved.add(t.solved));
        Ok(QuickOffer {
            subject: Subject::Quick {
                drill: drill.id.clone(),
                ladder: *number,
                clock_ms,
            },
            clock_ms,
            solved,
        })
    }

    /// Drills in sittings that are not locked.
    fn begun(&self) -> Result<HashSet<String>, AppError> {
        let begun = self.repository.unfinished()?.into_iter();
        let drills = begun.filter_map(|(_, attempt)| match &attempt.opened().origin {
            Origin::Drill(id) => Some(id.clone()),
            _ => None,
        });
        Ok(drills.collect())
    }
}

/// The ladder of a drill; `None` where it belongs to none, or is of an own game.
fn ladder_of(drill: &Drill) -> Option<u8> {
    let grade = u8::from(drill.grade?);
    if drill.is_of_the_ladder() || drill.is_of_own_game() {
        return None;
    }
    let needed = grade::needed(drill);
    let found = LADDERS.iter().find(|l| l.holds(needed, grade));
    found.map(|l| l.number)
}

/// The reviewed tries.
fn tries(index: &AttemptIndex) -> Vec<Try> {
    let tries = index.history.iter().filter_map(|(id, entry)| {
        let c = index.statistics.get(id)?;
        Some(Try {
            ladder: entry.quick?,
            wall_ms: entry.wall_ms,
            clock_ms: entry.budget_ms?,
            used_ms: entry.used_ms,
            solved: c.outcome == Outcome::Solved,
            sound: c.sound,
            needed: c.needed,
        })
    });
    tries.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::AttemptSession;
    use crate::app::attempts::session::EntryToken;
    use crate::app::testing::app::{Counting, Trial, drill};
    use crate::attempt::BoardVisibility;
    use crate::drill::Grade;
    use crate::tree::NodeId;

    /// Three positions of the first ladder, and one of none. In each a queen can be taken.
    fn trial() -> Trial {
        let graded = |id: &str, fen: &str| {
            let mut of = drill(id, fen, "Nxd5 Kd7 Ne3");
            of.grade = Grade::try_from(1).ok();
            of
        };
        let drills = vec![
            drill("knights", "4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 30", "Nbd2"),
            graded("one", "4k3/8/8/3q4/8/4N3/8/4K3 w - - 0 1"),
            graded("two", "4k3/8/8/3q4/8/4N3/P7/4K3 w - - 0 1"),
            graded("three", "4k3/7p/8/3q4/8/4N3/P7/4K3 w - - 0 1"),
        ];
        Trial::new(drills, Arc::new(Counting))
    }

    fn open(trial: &Trial) -> AttemptSession {
        let offer = trial.app.quick().next(None).unwrap();
        let subject = offer.subject;
        let opened = trial
            .app
            .attempts()
            .open_sitting(&subject, Some(99), BoardVisibility::Root);
        let mut sitting = opened.unwrap();
        sitting.start().unwrap();
        sitting
    }

    fn moves(line: &str) -> Vec<EntryToken> {
        let moves = line.split(' ').map(str::to_owned);
        moves.map(EntryToken::Move).collect()
    }

    fn lock(trial: &Trial, mut sitting: AttemptSession) {
        let first = sitting.tree().children(NodeId::ROOT)[0];
        sitting.choose(first).unwrap();
        sitting.lock().unwrap();
        let id = sitting.id().clone();
        trial.app.reviews().review(&id, &mut |_, _| {}).unwrap();
    }

    #[test]
    fn the_clock_follows_what_was_solved() {
        let trial = trial();
        let clock = |trial: &Trial| trial.app.quick().next(None).unwrap().clock_ms;
        // The drills' own time first.
        assert_eq!(clock(&trial), 480_000);
        let mut sitting = open(&trial);
        assert_eq!(sitting.left_ms(), Some(480_000));
        assert!(matches!(sitting.give_time(None), Err(AppError::QuickClock)));
        trial.clock.advance(20_000);
        sitting.write(NodeId::ROOT, &moves("Nxd5 Kd7")).unwrap();
        lock(&trial, sitting);
        assert_eq!(clock(&trial), 339_000);
        let report = trial
            .app
            .progress()
            .quick(&jiff::tz::TimeZone::UTC)
            .unwrap();
        let first = &report.ladders[0];
        assert_eq!((first.positions, first.left), (3, 2));
        assert_eq!((first.solved.part, first.solved.of), (1, 1));
        assert_eq!(first.weeks.len(), 1);
        // It is in the figures, apart from sittings without a hurry.
        let all = trial
            .app
            .progress()
            .report(&jiff::tz::TimeZone::UTC)
            .unwrap();
        assert!(all.main.is_none() && all.account.sittings == 0, "{all:?}");
        assert_eq!(
            all.groups[0].words,
            "quick calculation, first sight, board at the position"
        );
        assert_eq!(all.quick, report);
        // Failed: longer again.
        let mut sitting = open(&trial);
        sitting.write(NodeId::ROOT, &moves("Kd2 Qxe3")).unwrap();
        lock(&trial, sitting);
        assert_eq!(clock(&trial), 479_000);
    }

    #[test]
    fn when_the_time_is_over_no_line_is_written() {
        let trial = trial();
        let mut sitting = open(&trial);
        sitting.write(NodeId::ROOT, &moves("Nxd5 Kd7")).unwrap();
        trial.clock.advance(480_001);
        let refused = sitting.write(NodeId(2), &moves("Ne3"));
        assert!(matches!(refused, Err(AppError::TimeOver)));
        for refused in [
            sitting.undo(),
            sitting.strike(NodeId(1), true),
            sitting.retype(NodeId(1), "Kd2"),
        ] {
            assert!(matches!(refused, Err(AppError::TimeOver)));
        }
        // A verdict and the lock are what is left to do.
        let verdict = EntryToken::Verdict(crate::tree::Verdict::Percent(90));
        sitting.write(NodeId(2), &[verdict]).unwrap();
        lock(&trial, sitting);
        // Whoever has written nothing still plays a move, and no more.
        let mut sitting = open(&trial);
        trial.clock.advance(900_000);
        assert!(sitting.write(NodeId::ROOT, &moves("Nxd5 Kd7")).is_err());
        sitting.write(NodeId::ROOT, &moves("Nxd5")).unwrap();
        assert!(sitting.write(NodeId::ROOT, &moves("Kd2")).is_err());
        lock(&trial, sitting);
    }

    #[test]
    fn it_is_taken_up_again_as_it_was_left_and_ends_with_the_positions() {
        let trial = trial();
        let sitting = open(&trial);
        let begun = sitting.id().clone();
        drop(sitting);
        // The begun position is not offered twice.
        let next = trial.app.quick().next(None).unwrap();
        let trial = trial.restart();
        let mut sitting = trial.app.attempts().resume(&begun).unwrap();
        assert_eq!(sitting.attempt().opened().quick, Some(1));
        assert!(
            next.subject
                != Subject::Quick {
                    drill: "one".to_owned(),
                    ladder: 1,
                    clock_ms: 480_000
                }
        );
        sitting.write(NodeId::ROOT, &moves("Nxd5 Kd7")).unwrap();
        lock(&trial, sitting);
        for _ in 0..2 {
            let mut sitting = open(&trial);
            sitting.write(NodeId::ROOT, &moves("Nxd5 Kd7")).unwrap();
            lock(&trial, sitting);
        }
        assert!(matches!(
            trial.app.quick().next(None),
            Err(AppError::NoQuickLeft(None))
        ));
        assert!(matches!(
            trial.app.quick().next(Some(2)),
            Err(AppError::NoQuickLeft(Some(2)))
        ));
    }
}
