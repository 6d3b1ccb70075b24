//! Whether a gap that was asked about again counts.
//!
//! It counts from a quarter above delta on, is 'close' down to half of delta, and is none below. Two moves must differ by more
//! where a longer search is likely to make the difference less ([`doubt`]).

use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Ruling;
use crate::review::model::thresholds::{
    BESIDE, EDGE, FIRST_SIGHT, ONE_SIDED, PLAIN, ROUNDING, SHADES,
};
use crate::score::{PlayerScore, ScoreDiff};

/// What a gap between two moves must have above delta to count. A gap that became smaller with more nodes is
/// expected to go on doing so, by half as much.
pub(crate) fn doubt(
    delta: ScoreDiff,
    before: ScoreDiff,
    gap: ScoreDiff,
    (a, b): (PlayerScore, PlayerScore),
) -> ScoreDiff {
    let shrinks = (before - gap).max(ScoreDiff::ZERO).half();
    let (level, better) = ONE_SIDED;
    let smaller = a.min(b).max(a.max(b).of_opponent()).value();
    let one_sided = ((smaller - level) / (better - level)).clamp(0.0, 1.0);
    shrinks + ScoreDiff::new(one_sided * SHADES * delta.value())
}

/// What a suspect counts for: what lies at the edge and `doubt` above delta counts, what lies above half of delta is close,
/// and the rest is nothing.
pub(crate) fn ruling(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    gap: ScoreDiff,
    doubt: ScoreDiff,
) -> Option<Ruling> {
    let delta = analysis.settings.delta;
    if analysis.is_decided(suspect.truth, suspect.believed) {
        return None;
    }
    let least = delta.times(EDGE).max(delta + doubt);
    if gap + ROUNDING >= least {
        return Some(Ruling::Counted);
    }
    (gap >= delta.half()).then_some(Ruling::Close)
}

/// Whether a finding that does not touch the choice is told. What is wrong on the board alone always is.
pub(crate) fn is_told_beside(delta: ScoreDiff, suspect: &Suspect<'_>) -> bool {
    suspect.fault.is_by_the_board() || suspect.gap() + ROUNDING >= delta.times(BESIDE)
}

/// Whether a suspect may become a finding when it is asked about again.
pub(crate) fn is_worth_asking(delta: ScoreDiff, suspect: &Suspect<'_>) -> bool {
    suspect.fault.is_by_the_board() || suspect.gap() >= delta.times(FIRST_SIGHT) - ROUNDING
}

/// Whether the gap is so large that half of the nodes will do.
pub(crate) fn is_plain(delta: ScoreDiff, suspect: &Suspect<'_>) -> bool {
    suspect.gap() >= delta.times(PLAIN)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn must_have(before: f64, gap: f64, (a, b): (f64, f64)) -> f64 {
        let diff = ScoreDiff::new;
        let scores = (PlayerScore::new(a), PlayerScore::new(b));
        let doubt = doubt(diff(0.1), diff(before), diff(gap), scores);
        (doubt.value() * 1000.0).round() / 1000.0
    }

    #[test]
    fn a_gap_that_shrinks_must_be_larger() {
        assert_eq!(must_have(0.20, 0.12, (0.62, 0.50)), 0.04);
        assert_eq!(must_have(0.12, 0.20, (0.70, 0.50)), 0.0);
    }

    #[test]
    fn two_advantages_of_one_side_must_differ_clearly() {
        assert_eq!(must_have(0.20, 0.20, (0.90, 0.70)), 0.075);
        assert_eq!(must_have(0.20, 0.20, (0.10, 0.30)), 0.075);
        assert_eq!(must_have(0.20, 0.20, (0.85, 0.61)), 0.03);
        assert_eq!(must_have(0.20, 0.20, (0.75, 0.55)), 0.0);
        assert_eq!(must_have(0.50, 0.50, (0.20, 0.70)), 0.0);
    }
}
