//! Whether a gap that was asked about again counts.
//!
//! It counts from delta on, is 'close' down to half of it, and is none below. Two moves must differ by more
//! where a longer search is likely to make the difference less ([`doubt`]).

use crate::review::analysis::tree_analysis::Survey;
use crate::review::confirmation::ranking;
use crate::review::findings::suspect::Draft;
use crate::review::model::review::Class;

/// A side is better in both cases: not yet where the smaller advantage is no more than level (the verdict's
/// bound), and surely from here on.
const ONE_SIDED: (f64, f64) = (0.55, 0.70);
/// There a gap must be larger than delta by so many times delta: with more nodes both scores go towards the same
/// result, and what lies between them goes away. (Of the findings between two moves that the truth bench's
/// reference did not confirm, most were such: DEVELOPERS.md.)
const SHADES: f64 = 2.0;
/// What is told beside the choice must differ by so many times delta: of smaller gaps there the truth bench's reference
/// confirmed one in six.
const BESIDE: f64 = 2.0;

/// What a gap between two moves must have above delta to count. A gap that became smaller with more nodes is
/// expected to go on doing so, by half as much.
pub(crate) fn doubt(delta: f64, before: f64, gap: f64, (a, b): (f64, f64)) -> f64 {
    let shrinks = (before - gap).max(0.0) / 2.0;
    let (level, better) = ONE_SIDED;
    let smaller = a.min(b).max(1.0 - a.max(b));
    let one_sided = ((smaller - level) / (better - level)).clamp(0.0, 1.0);
    shrinks + one_sided * SHADES * delta
}

/// The draft with its class: what lies `doubt` above delta counts, what lies above half of delta is close.
pub(crate) fn classed(
    survey: &Survey<'_>,
    mut draft: Draft,
    gap: f64,
    doubt: f64,
) -> Option<Draft> {
    let delta = survey.settings.delta;
    if survey.is_decided(draft.truth, draft.believed) {
        return None;
    }
    // Half a thousandth for rounding, as everywhere scores meet a threshold.
    if gap + 0.0005 >= delta + doubt {
        return Some(draft);
    }
    draft.class = Class::Close;
    (gap >= delta / 2.0).then_some(draft)
}

/// Whether a finding that does not touch the choice is told. What is wrong on the board alone always is.
pub(crate) fn is_told_beside(delta: f64, draft: &Draft) -> bool {
    ranking::is_by_the_board(draft.kind) || draft.gap + 0.0005 >= BESIDE * delta
}

#[cfg(test)]
mod tests {
    use super::*;

    fn must_have(before: f64, gap: f64, scores: (f64, f64)) -> f64 {
        (doubt(0.1, before, gap, scores) * 1000.0).round() / 1000.0
    }

    #[test]
    fn a_gap_that_shrinks_must_be_larger() {
        assert_eq!(must_have(0.20, 0.12, (0.62, 0.50)), 0.04);
        assert_eq!(must_have(0.12, 0.20, (0.70, 0.50)), 0.0);
    }

    #[test]
    fn two_advantages_of_one_side_must_differ_clearly() {
        assert_eq!(must_have(0.20, 0.20, (0.90, 0.70)), 0.2);
        assert_eq!(must_have(0.20, 0.20, (0.10, 0.30)), 0.2);
        assert_eq!(must_have(0.20, 0.20, (0.85, 0.61)), 0.08);
        assert_eq!(must_have(0.20, 0.20, (0.75, 0.55)), 0.0);
        assert_eq!(must_have(0.50, 0.50, (0.20, 0.70)), 0.0);
    }
}
