//! What a verdict means in expected scores, and an expected score in words.

use shakmaty::Color;

use super::thresholds::{
    CLEARLY_WORSE, PERCENT_WIDTH, ROUNDING, SIGN_BOUNDS as BOUNDS, SLIGHTLY_WORSE,
};
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::Verdict;

/// The player's standing in words, from his expected score. The bounds are those of the verdict signs (common
/// practice, no source).
#[must_use]
pub fn standing(score: PlayerScore) -> &'static str {
    let [level, slight, clear, _] = BOUNDS;
    // To a thousandth: a bound must not depend on the last bit.
    match (score.value() * 1000.0).round() / 1000.0 {
        e if e >= clear.1 => tr!("you are winning"),
        e if e >= clear.0 => tr!("you are clearly better"),
        e if e > slight.0 => tr!("you are slightly better"),
        e if e >= level.0 => tr!("the position is level"),
        e if e > SLIGHTLY_WORSE => tr!("you are slightly worse"),
        e if e > CLEARLY_WORSE => tr!("you are clearly worse"),
        _ => tr!("you are lost"),
    }
}

/// The range of expected scores of `player` that a verdict means; `None` for 'unclear', which is
/// never scored.
fn band(verdict: Verdict, player: Color) -> Option<(f64, f64)> {
    match verdict {
        Verdict::Unclear => None,
        Verdict::Percent(p) => {
            let e = f64::from(p) / 100.0;
            Some((e - PERCENT_WIDTH, e + PERCENT_WIDTH))
        }
        Verdict::Sign(sign) => {
            let steps = sign.steps_for(player);
            let [.., last] = BOUNDS;
            let (low, high) = *BOUNDS
                .get(usize::from(steps.unsigned_abs()))
                .unwrap_or(&last);
            Some(if steps >= 0 {
                (low, high)
            } else {
                (1.0 - high, 1.0 - low)
            })
        }
    }
}

/// The expected score of `player` that a verdict means: the middle of its range; `None` for
/// 'unclear'.
#[must_use]
pub fn value_of(verdict: Verdict, player: Color) -> Option<PlayerScore> {
    let middle = |(low, high)| PlayerScore::new(f64::midpoint(low, high));
    band(verdict, player).map(middle)
}

/// True where the score lies in the verdict's range, widened by `slack` on both sides.
pub(crate) fn agrees(
    verdict: Verdict,
    player: Color,
    score: PlayerScore,
    slack: ScoreDiff,
) -> bool {
    let (e, slack, bit) = (score.value(), slack.value(), ROUNDING.value());
    band(verdict, player)
        .is_none_or(|(low, high)| e >= low - slack - bit && e <= high + slack + bit)
}

/// A searched score on the scale of verdicts: 'winning' is the most that can be said in signs, so a
/// forced mate is worth no more in his tree than his own 'winning'.
pub(crate) fn as_stated(score: PlayerScore) -> PlayerScore {
    let [.., winning] = BOUNDS;
    let most = f64::midpoint(winning.0, winning.1);
    PlayerScore::new(score.value().clamp(1.0 - most, most))
}

/// True where both scores are winning, or both lost, and no verdict tells them apart by `delta`: a mate where
/// the written move wins too is worth a note and no finding.
pub(crate) fn say_the_same(a: PlayerScore, b: PlayerScore, delta: ScoreDiff) -> bool {
    let [.., (won, _)] = BOUNDS;
    let one_sided = a.min(b).value() >= won || a.max(b).value() <= 1.0 - won;
    one_sided && (as_stated(a) - as_stated(b)).abs() < delta
}

/// Words that close a line as a draw, where no verdict stands.
const CLOSING: [&str; 5] = ["rep", "repetition", "perpetual", "perp", "threefold"];

/// True where a comment closes its line as level.
pub(crate) fn is_closed(comment: &str) -> bool {
    let words = comment.split(|c: char| !c.is_alphanumeric());
    words
        .into_iter()
        .any(|w| CLOSING.contains(&w.to_lowercase().as_str()))
}
