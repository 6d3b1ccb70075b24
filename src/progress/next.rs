//! What to practise next, by the minutes at hand.
//!
//! Failed positions that are due come first, the longest overdue first; then new ones. Of every four new
//! positions one is a *control* that holds none of his blind spots, at a place in the four that does not
//! follow a pattern: so that being shown a position is no hint of what is in it. The other three hold a
//! blind spot where the collection has one. Why a position was chosen is for after the commit.

use std::collections::HashMap;

use serde::{Deserialize, Serialize};

use super::experiment::Experiment;
use super::feature::{Bits, Feature};
use super::record::Outcome;
use super::schedule::{self, DAY_MS, GAME_DAYS};

/// A position that could be practised.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The drill's name.
    pub id: String,
    /// The position, as in [`super::Counted::root`].
    pub root: String,
    /// Thinking time in minutes.
    pub minutes: u32,
    /// What its solution holds.
    pub features: Bits,
    /// Time of the own game it comes from, milliseconds since 1970-01-01 UTC.
    pub game_ms: Option<i64>,
}

/// An attempt that was made, in the order of making.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    pub root: String,
    pub wall_ms: i64,
    /// `None` where it was not reviewed.
    pub outcome: Option<Outcome>,
}

/// Why a position was chosen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Why {
    /// Failed before, at that time.
    ComesBack { failed_ms: i64 },
    /// Holds what is often missed: the name of the property.
    BlindSpot { feature: String },
    /// Holds nothing special.
    Control,
    /// Holds what is practised in an experiment: the name of the property.
    Block { feature: String },
    /// Of the half of the positions with which an experiment measures.
    Measures,
    /// The next of the collection.
    New,
}

impl Why {
    /// One sentence, for after the commit.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::ComesBack { .. } => {
                tr!("This position came back because you had failed it before.").to_owned()
            }
            Self::BlindSpot { feature } => {
                let words =
                    Feature::named(feature).map_or(tr!("a move you often miss"), Feature::words);
                tr!("This position was chosen because it holds {words}, which you often miss.")
            }
            Self::Control => {
                tr!("This position was chosen because it holds nothing that you often miss.")
                    .to_owned()
            }
            Self::Block { feature } => {
                let words =
                    Feature::named(feature).map_or(tr!("what you practise"), Feature::words);
                tr!(
                    "This position was chosen because it holds {words}, the block of your experiment."
                )
            }
            Self::Measures => {
                tr!("This position was chosen to measure with: your practice has no part in it.")
                    .to_owned()
            }
            Self::New => tr!("This position was the next of the collection.").to_owned(),
        }
    }
}

/// A position to practise now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chosen {
    pub id: String,
    pub minutes: u32,
    pub why: Why,
}

/// Of so many new positions one is a control.
pub const BLOCK: usize = 4;

/// The positions for `minutes`. At least one where there is any at all; the last one's time is then what
/// there is.
#[must_use]
pub fn next(
    candidates: &[Candidate],
    done: &[Done],
    spots: &[Feature],
    now_ms: i64,
    minutes: u32,
) -> Vec<Chosen> {
    let done = by_root(done);
    let due = due(candidates, &done, now_ms);
    let new = new(candidates, &done, now_ms, |left, number| {
        pick(left, spots, number)
    });
    fitting(due, new, minutes)
}

/// The same while an experiment goes on: of every two new positions one is of the half that is for measuring, and the other is of the
/// half that is for practice and holds a habit whose block has begun. Which of the two comes first does not follow a pattern. What is measured
/// with is the same in every week, so that what is practised has no part in it.
#[must_use]
pub fn in_blocks(
    candidates: &[Candidate],
    done: &[Done],
    experiment: &Experiment,
    now_ms: i64,
    minutes: u32,
) -> Vec<Chosen> {
    let done = by_root(done);
    let due = due(candidates, &done, now_ms);
    let all: Vec<Feature> = experiment.blocks().map(|(feature, _)| feature).collect();
    let practised = experiment.practised(now_ms);
    let new = new(candidates, &done, now_ms, |left, number| {
        let second = number % 2 == 1;
        // One bit of the hash by which controls are scattered.
        let swapped = is_control(number / 2 * BLOCK);
        let measuring = |c: &&Candidate| experiment.measures(&c.root);
        if second != swapped {
            let holds = |c: &&Candidate| all.iter().any(|f| c.features.has(*f));
            let held = left.iter().position(|c| measuring(c) && holds(c));
            let place = held.or_else(|| left.iter().position(measuring));
            return place.map_or((0, Why::New), |at| (at, Why::Measures));
        }
        let turns = practised
            .iter()
            .cycle()
            .skip(number / 2 % practised.len().max(1));
        for feature in turns.take(practised.len()) {
            let held = |c: &&Candidate| !measuring(c) && c.features.has(*feature);
            if let Some(at) = left.iter().position(held) {
                let feature = feature.name().to_owned();
                return (at, Why::Block { feature });
            }
        }
        let place = left.iter().position(|c| !measuring(c));
        (place.unwrap_or_default(), Why::New)
    });
    fitting(due, new, minutes)
}

/// As many as fit the minutes: what is due first, then what is new.
fn fitting(due: Vec<(i64, Chosen)>, new: Vec<Chosen>, minutes: u32) -> Vec<Chosen> {
    let due: Vec<Chosen> = due.into_iter().map(|(_, c)| c).collect();
    let mut left = minutes;
    let mut chosen: Vec<Chosen> = Vec::new();
    for next in due.iter().chain(&new) {
        if next.minutes <= left && chosen.iter().all(|c| c.id != next.id) {
            left -= next.minutes;
            chosen.push(next.clone());
        }
    }
    if let (true, Some(first)) = (chosen.is_empty(), due.into_iter().chain(new).next()) {
        let minutes = first.minutes.min(minutes.max(1));
        chosen.push(Chosen { minutes, ..first });
    }
    chosen
}

/// What was failed and is due to come back, whether or not the minutes at hand suffice for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Debt {
    pub positions: usize,
    /// Their thinking time together.
    pub minutes: u32,
    /// When the first of them was due, milliseconds since 1970-01-01 UTC; 0 where there is none.
    pub oldest_ms: i64,
}

/// The debt at a time.
#[must_use]
pub fn debt(candidates: &[Candidate], done: &[Done], now_ms: i64) -> Debt {
    let due = due(candidates, &by_root(done), now_ms);
    Debt {
        positions: due.len(),
        minutes: due.iter().map(|(_, c)| c.minutes).sum(),
        oldest_ms: due.first().map_or(0, |(at, _)| *at),
    }
}

/// The attempts at each position, in the order of making.
type ByRoot<'a> = HashMap<&'a str, Vec<&'a Done>>;

fn by_root(done: &[Done]) -> ByRoot<'_> {
    let mut by = ByRoot::new();
    for attempt in done {
        by.entry(&attempt.root).or_default().push(attempt);
    }
    by
}

/// Those that come back now, the longest overdue first, each with the time since when.
fn due(candidates: &[Candidate], done: &ByRoot, now_ms: i64) -> Vec<(i64, Chosen)> {
    let mut due: Vec<(i64, Chosen)> = Vec::new();
    for candidate in candidates.iter().filter(|c| is_ripe(c, now_ms)) {
        let here = done
            .get(candidate.root.as_str())
            .map_or(&[][..], Vec::as_slice);
        let Some(back) = schedule::due(&outcomes(here)) else {
            continue;
        };
        // What was tried and not reviewed yet rests as long.
        let last = here.iter().map(|d| d.wall_ms).max();
        let rested =
            last.is_none_or(|last| now_ms.saturating_sub(last) >= schedule::REST_DAYS * DAY_MS);
        if back.at_ms <= now_ms && rested {
            let why = Why::ComesBack {
                failed_ms: back.failed_ms,
            };
            due.push((back.at_ms, chosen(candidate, why)));
        }
    }
    due.sort_by_key(|(at, _)| *at);
    due
}

/// What came of the attempts at a position.
fn outcomes(here: &[&Done]) -> Vec<(i64, Outcome)> {
    let reviewed = here.iter().filter_map(|d| Some((d.wall_ms, d.outcome?)));
    reviewed.collect()
}

/// The new ones, in the order in which they are to be practised: `pick` gives the place of the next among those left, of which
/// there is at least one, by the number of positions that were attempted before it.
fn new(
    candidates: &[Candidate],
    done: &ByRoot,
    now_ms: i64,
    pick: impl Fn(&[&Candidate], usize) -> (usize, Why),
) -> Vec<Chosen> {
    let is_new = |c: &&Candidate| is_ripe(c, now_ms) && !done.contains_key(c.root.as_str());
    let mut left: Vec<&Candidate> = candidates.iter().filter(is_new).collect();
    // Positions that were attempted so far.
    let mut number = done.len();
    let mut order = Vec::new();
    while !left.is_empty() {
        let (at, why) = pick(&left, number);
        order.push(chosen(left.remove(at), why));
        number += 1;
    }
    order
}

/// The place of the next new one among those left, of which there is at least one.
fn pick(left: &[&Candidate], spots: &[Feature], number: usize) -> (usize, Why) {
    let holds = |c: &Candidate, f: &Feature| c.features.has(*f);
    if spots.is_empty() {
        return (0, Why::New);
    }
    if is_control(number) {
        let plain = left.iter().position(|c| !spots.iter().any(|f| holds(c, f)));
        return plain.map_or((0, Why::New), |at| (at, Why::Control));
    }
    // One blind spot after the other.
    let turn = number % spots.len();
    let turns = spots.iter().cycle().skip(turn).take(spots.len());
    for feature in turns {
        if let Some(at) = left.iter().position(|c| holds(c, feature)) {
            let feature = feature.name().to_owned();
            return (at, Why::BlindSpot { feature });
        }
    }
    (0, Why::New)
}

/// True for one number of each four: which one is scattered by a multiplicative hash (D. E. Knuth, The Art
/// of Computer Programming 3, 1973, section 6.4).
fn is_control(number: usize) -> bool {
    let block = (number / BLOCK) as u32;
    let place = (block.wrapping_add(1).wrapping_mul(2_654_435_761) >> 30) as usize;
    number % BLOCK == place
}

/// A moment of an own game rests first.
fn is_ripe(candidate: &Candidate, now_ms: i64) -> bool {
    candidate
        .game_ms
        .is_none_or(|game| now_ms.saturating_sub(game) >= GAME_DAYS * DAY_MS)
}

fn chosen(candidate: &Candidate, why: Why) -> Chosen {
    Chosen {
        id: candidate.id.clone(),
        minutes: candidate.minutes,
        why,
    }
}

/// Positions of the eve of a game.
const EVE: usize = 3;

/// The eve of a game: up to three positions that were solved, the latest first, and nothing new.
#[must_use]
pub fn eve(candidates: &[Candidate], done: &[Done]) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let solved = done.iter().rev();
    for attempt in solved.filter(|d| d.outcome == Some(Outcome::Solved)) {
        let drill = candidates.iter().find(|c| c.root == attempt.root);
        if let Some(drill) = drill.filter(|d| !found.contains(&d.id)) {
            found.push(drill.id.clone());
        }
        if found.len() == EVE {
            break;
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn feature(name: &str) -> Feature {
        Feature::named(name).unwrap()
    }

    fn candidate(id: usize, features: &[Feature]) -> Candidate {
        Candidate {
            id: format!("d{id}"),
            root: format!("r{id}"),
            minutes: 8,
            features: Bits::with(features, false),
            game_ms: None,
        }
    }

    fn done(id: usize, day: i64, outcome: Outcome) -> Done {
        Done {
            root: format!("r{id}"),
            wall_ms: day * DAY_MS,
            outcome: Some(outcome),
        }
    }

    fn ids(chosen: &[Chosen]) -> Vec<&str> {
        chosen.iter().map(|c| c.id.as_str()).collect()
    }

    #[test]
    fn by_the_minutes_at_hand() {
        let all: Vec<Candidate> = (0..5).map(|i| candidate(i, &[])).collect();
        assert_eq!(ids(&next(&all, &[], &[], 0, 20)), ["d0", "d1"]);
        assert_eq!(next(&all, &[], &[], 0, 5)[0].minutes, 5);
        assert_eq!(next(&[], &[], &[], 0, 20), []);
    }

    #[test]
    fn failed_ones_first_and_never_before_two_days() {
        let all: Vec<Candidate> = (0..5).map(|i| candidate(i, &[])).collect();
        let past = [done(3, 10, Outcome::Failed), done(4, 10, Outcome::Solved)];
        assert_eq!(ids(&next(&all, &past, &[], 11 * DAY_MS, 16)), ["d0", "d1"]);
        let later = next(&all, &past, &[], 12 * DAY_MS, 16);
        assert_eq!(ids(&later), ["d3", "d0"]);
        assert_eq!(
            later[0].why,
            Why::ComesBack {
                failed_ms: 10 * DAY_MS
            }
        );
        // Tried again today and not reviewed: it rests.
        let mut today = past.to_vec();
        today.push(Done {
            root: "r3".to_owned(),
            wall_ms: 12 * DAY_MS,
            outcome: None,
        });
        assert_eq!(ids(&next(&all, &today, &[], 12 * DAY_MS + 1, 8)), ["d0"]);
    }

    #[test]
    fn own_moments_rest_two_weeks() {
        let mut own = candidate(0, &[]);
        own.game_ms = Some(0);
        let all = [own, candidate(1, &[])];
        assert_eq!(ids(&next(&all, &[], &[], 13 * DAY_MS, 8)), ["d1"]);
        assert_eq!(ids(&next(&all, &[], &[], 14 * DAY_MS, 8)), ["d0"]);
    }

    #[test]
    fn one_in_four_is_a_control() {
        let spot = feature("backward-moves");
        let (with, without) = ([spot], []);
        let all: Vec<Candidate> = (0..80)
            .map(|i| candidate(i, [&with[..], &without[..]][i % 2]))
            .collect();
        let chosen = next(&all, &[], &[spot], 0, 8 * 40);
        assert_eq!(chosen.len(), 40);
        let mut places = Vec::new();
        for block in chosen.chunks(4) {
            let controls: Vec<usize> = (0..4).filter(|i| block[*i].why == Why::Control).collect();
            assert_eq!(controls.len(), 1);
            places.push(controls[0]);
        }
        places.sort_unstable();
        places.dedup();
        assert!(places.len() > 2, "always at the same place: {places:?}");
    }

    #[test]
    fn the_eve_holds_nothing_new() {
        let all: Vec<Candidate> = (0..9).map(|i| candidate(i, &[])).collect();
        let past = [
            done(1, 1, Outcome::Solved),
            done(2, 2, Outcome::Failed),
            done(3, 3, Outcome::Solved),
            done(3, 4, Outcome::Solved),
            done(5, 5, Outcome::Solved),
            done(6, 6, Outcome::Solved),
        ];
        assert_eq!(eve(&all, &past), ["d6", "d5", "d3"]);
        assert_eq!(eve(&all, &[]), Vec::<String>::new());
    }
}
