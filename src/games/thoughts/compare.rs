//! His moments beside the turning points of the game.

use serde::Serialize;

use super::turning::{NEAR, TurningPoint, turning_points};
use super::{ThoughtMark, Thoughts};
use crate::board::Line;
use crate::games::OwnGame;
use crate::games::moment;
use crate::games::survey::{Settings, Surveyed};
use crate::notation::{self, Reading};
use crate::tree::Verdict;

/// What a moment of his was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MarkKind {
    /// It recognises this turning point, by its place.
    Turning(usize),
    /// No turning point: he found the one good move there.
    Critical,
    /// Neither.
    None,
}

/// A reply that he feared, where his words name one that was possible after his move.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct FearRead {
    /// In SAN.
    pub reply: String,
    /// His expected score after it, in truth.
    pub then: f64,
    /// It was his opponent's best reply, or as good.
    pub real: bool,
}

/// A moment of his, and what it was.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct MarkRead {
    pub ply: usize,
    pub kind: MarkKind,
    pub verdict: Option<Verdict>,
    pub feared: String,
    /// What he feared, asked about by itself.
    pub fear: Option<FearRead>,
    /// The attempt that holds what he saw there, by a name that commands take.
    pub attempt: Option<String>,
    /// His expected score before the move, in truth.
    pub truth: f64,
    /// The move that he played and the best one, in SAN, and what his gave away.
    pub played: String,
    pub best: String,
    pub lost: f64,
}

/// A turning point, and whether he named it.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Turned {
    #[serde(flatten)]
    pub point: TurningPoint,
    pub recognised: bool,
    /// The move that gave the most, whose it was, and the best one in its place, in SAN.
    pub his: bool,
    pub played: String,
    pub best: String,
}

/// Both.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Compared {
    pub turning: Vec<Turned>,
    pub marks: Vec<MarkRead>,
}

/// Holds his moments against the game.
#[must_use]
pub fn compare(thoughts: &Thoughts, surveyed: &Surveyed, settings: &Settings) -> Compared {
    let points = turning_points(surveyed, settings);
    let mut pairs: Vec<(usize, usize, usize)> = Vec::new();
    for (m, mark) in thoughts.marks.iter().enumerate() {
        let near = points.iter().enumerate();
        let near = near.map(|(t, point)| (point.distance(mark.ply), m, t));
        pairs.extend(near.filter(|(distance, ..)| *distance <= NEAR));
    }
    pairs.sort_unstable();
    let mut of_mark: Vec<Option<usize>> = vec![None; thoughts.marks.len()];
    for (_, m, t) in pairs {
        let free = !of_mark.contains(&Some(t));
        if let Some(slot) = of_mark.get_mut(m).filter(|s| s.is_none() && free) {
            *slot = Some(t);
        }
    }
    // A second moment beside a turning point that is named already is no wrong one.
    let beside = |mark: &ThoughtMark| points.iter().position(|p| p.distance(mark.ply) <= NEAR);
    let marks = thoughts.marks.iter().zip(&of_mark);
    let marks = marks.map(|(mark, own)| {
        let kind = match own.or_else(|| beside(mark)) {
            Some(point) => MarkKind::Turning(point),
            None if was_critical(surveyed, mark.ply, settings) => MarkKind::Critical,
            None => MarkKind::None,
        };
        read(mark, kind, surveyed)
    });
    let turned = points.iter().enumerate().map(|(t, point)| {
        let (played, best) = surveyed.sans(point.ply);
        Turned {
            point: point.clone(),
            recognised: of_mark.contains(&Some(t)),
            his: surveyed.game.is_his(point.ply),
            played,
            best,
        }
    });
    Compared {
        marks: marks.collect(),
        turning: turned.collect(),
    }
}

/// The one good move was there, near by, and he found it.
fn was_critical(surveyed: &Surveyed, ply: usize, settings: &Settings) -> bool {
    let near = ply.saturating_sub(NEAR)..=ply + NEAR;
    let his = near.filter(|p| surveyed.game.is_his(*p));
    let mut plies = his.filter_map(|p| surveyed.plies.get(p));
    plies.any(|p| moment::gap(p) >= settings.delta && moment::held(p) && !moment::is_decided(p))
}

fn read(mark: &ThoughtMark, kind: MarkKind, surveyed: &Surveyed) -> MarkRead {
    let scored = surveyed.plies.get(mark.ply);
    let (played, best) = surveyed.sans(mark.ply);
    MarkRead {
        ply: mark.ply,
        kind,
        verdict: mark.verdict,
        feared: mark.feared.clone(),
        fear: None,
        attempt: mark.attempt.clone(),
        truth: scored.map_or(0.5, |p| p.before),
        lost: scored.map_or(0.0, |p| p.drop()),
        played,
        best,
    }
}

/// The reply to a move of the game that his words name: the first word that is a possible move there.
#[must_use]
pub fn feared_reply(game: &OwnGame, mark: &ThoughtMark) -> Option<(String, Line)> {
    let after = game.line_to(mark.ply + 1);
    let words = mark.feared.split_whitespace();
    let mv = words.filter_map(|word| {
        let word = word.trim_matches(|c: char| matches!(c, ',' | ';' | ':' | '.'));
        match notation::resolve(&notation::parse(word).ok()?, &after) {
            Reading::Legal(mv) => Some(mv),
            _ => None,
        }
    });
    let mv = mv.into_iter().next()?;
    let san = crate::board::line::san(after.position(), &mv);
    Some((san, after.child(&mv).ok()?))
}

impl FearRead {
    /// What became of a fear: `then` is his expected score after the reply, `best` the one after the best reply.
    #[must_use]
    pub fn of(reply: String, then: f64, best: f64, settings: &Settings) -> Self {
        Self {
            reply,
            then,
            real: then - best < settings.delta / 2.0,
        }
    }
}

impl Compared {
    /// Turning points that he named.
    #[must_use]
    pub fn recognised(&self) -> usize {
        self.turning.iter().filter(|t| t.recognised).count()
    }

    /// Moments of his that were turning points or critical.
    #[must_use]
    pub fn right(&self) -> usize {
        let wrong = |m: &&MarkRead| m.kind == MarkKind::None;
        self.marks.len() - self.marks.iter().filter(wrong).count()
    }
}
