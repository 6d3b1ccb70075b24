//! Progress across attempts: what is kept of each review, and what it says together.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

use jiff::tz::TimeZone;

use crate::app::Clock;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::games::service::GameService;
use crate::app::playouts::service::PlayoutService;
use crate::app::practice::catalogue::DrillCatalogue;
use crate::app::practice::experiment::ExperimentService;
use crate::app::practice::quick::Ladders;
use crate::app::practice::recommendations;
use crate::app::reviews::causes::CauseService;
use crate::app::reviews::service::ReviewService;
use crate::app::{AppError, AttemptId, HistoryEntry};
use crate::attempt::{Attempt, AttemptEvent, Origin};
use crate::drill::Drill;
use crate::progress::account::Plan;
use crate::progress::quick::{Quick, quick};
use crate::progress::{self, AttemptStatistics, Feature, Given, Moment, Moments, Report, State};
use crate::text::capital;
use std::sync::Arc;

/// The one plan is kept under this name.
const PLAN: &str = "now";
/// Latest moments of a blind spot that are opened from the screens.
const MOMENTS_MAX: usize = 200;
/// Attempts whose causes are counted: each is read from its log.
const CAUSES_OF: usize = 500;

/// A blind spot with the moments it is made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlindSpot {
    /// The kind of move.
    pub words: String,
    /// How often it is missed, and how often the others.
    pub sentence: String,
    /// What to do about it.
    pub habit: String,
    pub missed: Vec<MissedMoment>,
}

/// A missed moment of an attempt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissedMoment {
    pub id: AttemptId,
    pub origin: Origin,
    /// When the attempt was opened, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    pub moment: Moment,
}

/// What the attempts say together.
#[derive(Clone)]
pub struct ProgressService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) drills: DrillCatalogue,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) causes: CauseService,
    pub(crate) games: GameService,
    pub(crate) playouts: PlayoutService,
    pub(crate) reviews: ReviewService,
    pub(crate) experiments: ExperimentService,
}

impl ProgressService {
    /// All that was counted, in the order of the attempts' names.
    pub(crate) fn counted(&self) -> Result<Vec<(String, AttemptStatistics)>, AppError> {
        let index = self.repository.index()?;
        let rows = index.statistics.iter();
        Ok(rows.map(|(id, c)| (id.clone(), c.clone())).collect())
    }

    /// What he misses more often than his other moves, each with the latest moments it is made of, the last one first;
    /// empty where there is nothing, or not enough yet.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn blind_spots(&self) -> Result<Vec<BlindSpot>, AppError> {
        let counted = self.counted()?;
        let all = progress::spots(&progress::main_group(&counted));
        let mut spots = Vec::new();
        for spot in all.iter().filter(|s| s.state == State::Found) {
            let mut missed = Vec::new();
            for (id, at) in spot.moments.iter().rev().take(MOMENTS_MAX) {
                missed.extend(self.missed(id, *at)?);
            }
            spots.push(BlindSpot {
                words: capital(spot.words),
                sentence: spot.sentence(),
                habit: spot.habit(),
                missed,
            });
        }
        Ok(spots)
    }

    /// One moment of an attempt; `None` where it is not kept any more.
    fn missed(&self, id: &str, at: usize) -> Result<Option<MissedMoment>, AppError> {
        let moments: Option<Moments> = self.repository.store().get(id)?;
        let moment = moments.and_then(|m| m.moments.into_iter().nth(at));
        let summary: Option<HistoryEntry> = self.repository.store().get(id)?;
        Ok(summary.zip(moment).map(|(summary, moment)| MissedMoment {
            id: AttemptId(id.to_owned()),
            origin: summary.origin,
            wall_ms: summary.wall_ms,
            moment,
        }))
    }

    /// All that the attempts say together.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn report(&self, zone: &TimeZone) -> Result<Report, AppError> {
        let counted = self.counted()?;
        let known: HashSet<&str> = counted.iter().map(|(id, _)| id.as_str()).collect();
        let summaries = self.repository.summaries()?;
        let uncounted = summaries
            .iter()
            .filter(|(id, _)| !known.contains(id.0.as_str()))
            .count();
        let roots: HashMap<&str, &str> = counted
            .iter()
            .map(|(id, c)| (id.as_str(), c.root.as_str()))
            .collect();
        let gone = |id: &AttemptId, origin: &Origin| match (origin, roots.get(id.0.as_str())) {
            (Origin::Drill(name), Some(root)) => self
                .drills
                .find(name)
                .map_or(true, |(_, drill)| recommendations::root_of(drill) != *root),
            _ => false,
        };
        let came = self.came(&counted, &summaries)?;
        let index = self.repository.index()?;
        let ladders = Ladders::of(&index, &self.drills);
        let given = Given {
            experiment: self.experiments.report(zone)?,
            quick: (ladders.tries.clone(), ladders.given()),
            uncounted,
            gone: summaries
                .iter()
                .filter(|(id, s)| gone(id, &s.origin))
                .count(),
            plan: self.plan()?,
            results: came.results,
            played: came.played,
            own_games: came.own_games,
            recognised: came.recognised,
            grades: self.grades(),
            causes: self.own_causes(&counted)?,
            removed: self.causes.removed()?,
            now_ms: self.clock.wall_ms(),
            counted,
        };
        let mut report = progress::report(given, zone);
        let found = report.spots.iter().filter(|s| s.state == State::Found);
        let ids: BTreeSet<&str> = found
            .flat_map(|s| s.moments.iter().map(|(id, _)| id.as_str()))
            .collect();
        let mut moments = BTreeMap::new();
        for id in ids {
            let kept: Option<Moments> = self.repository.store().get(id)?;
            moments.insert(id.to_owned(), kept.unwrap_or_default().moments);
        }
        report.moments = moments;
        Ok(report)
    }

    /// Quick calculation alone: ladders, weeks, and what speed costs.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn quick(&self, zone: &TimeZone) -> Result<Quick, AppError> {
        let index = self.repository.index()?;
        let ladders = Ladders::of(&index, &self.drills);
        let all: Vec<&AttemptStatistics> = index.statistics.values().collect();
        Ok(quick(&ladders.tries, &ladders.given(), &all, zone))
    }

    /// The grades of the drills that have one, by their positions.
    fn grades(&self) -> HashMap<String, u8> {
        let graded = |d: &Drill| Some((recommendations::root_of(d), d.grade?.into()));
        self.drills.all().iter().filter_map(graded).collect()
    }

    /// Why he missed what he missed, in his own words, with the kind of the finding: of the latest
    /// [`CAUSES_OF`] attempts that have findings.
    fn own_causes(
        &self,
        counted: &[(String, AttemptStatistics)],
    ) -> Result<Vec<(String, String)>, AppError> {
        let with = counted.iter().rev().filter(|(_, c)| !c.kinds.is_empty());
        let mut causes = Vec::new();
        for (id, _) in with.take(CAUSES_OF) {
            let attempt = self.repository.readable_attempt(&AttemptId(id.clone()))?;
            causes.extend(attempt.iter().flat_map(explained));
        }
        Ok(causes)
    }

    /// The plan that he has set himself.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn plan(&self) -> Result<Plan, AppError> {
        Ok(self.repository.store().get(PLAN)?.unwrap_or_default())
    }

    /// Sets a new plan in place of the old one.
    ///
    /// # Errors
    /// There is no habit of that name, or it could not be kept.
    pub fn set_plan(&self, plan: &Plan) -> Result<(), AppError> {
        if let Some(name) = plan
            .habit
            .as_deref()
            .filter(|h| Feature::named(h).is_none())
        {
            let all: Vec<&str> = Feature::all().map(Feature::name).collect();
            return Err(AppError::NoSuchHabit(name.to_owned(), all.join(", ")));
        }
        Ok(self.repository.store().put(PLAN, plan)?)
    }

    /// Reviews every locked attempt that is not counted yet, and counts it; gives how many. The start of
    /// play-outs that are over is judged as well.
    ///
    /// # Errors
    /// As [`App::review`]; what was counted until then stays.
    pub fn count_all(&self, progress: &mut dyn FnMut(usize, usize)) -> Result<usize, AppError> {
        let counted = self.counted()?;
        let known: HashSet<&str> = counted.iter().map(|(id, _)| id.as_str()).collect();
        let summaries = self.repository.summaries()?;
        let left: Vec<&AttemptId> = summaries
            .iter()
            .map(|(id, _)| id)
            .filter(|id| !known.contains(id.0.as_str()))
            .collect();
        for (done, id) in left.iter().enumerate() {
            progress(done, left.len());
            if self.repository.readable_attempt(id)?.is_some() {
                self.reviews.review(id, &mut |_, _| {})?;
            }
        }
        self.playouts.judge_starts()?;
        Ok(left.len())
    }
}

/// The causes he gave, each with the kind of the finding; the last one for a finding counts.
fn explained(attempt: &Attempt) -> Vec<(String, String)> {
    let mut last = BTreeMap::new();
    for event in attempt.log() {
        if let AttemptEvent::Explained { spot, cause, .. } = &event.what {
            last.insert(spot, (cause.clone(), spot.kind.clone()));
        }
    }
    last.into_values().collect()
}
