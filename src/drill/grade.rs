//! How difficult a drill is, from what can be counted in it.
//!
//! # Definition
//! Four measures of the position and its published solution ([`Measures`]): how deep the solution goes,
//! how many other moves tempt, how much the most tempting of them loses, and how many of the solver's
//! moves are quiet. Each adds to the points of the drill:
//!
//! ```text
//! points = needed + 2 * quiet + tempting / 2 + 10 * trap
//! ```
//!
//! and the [`Grade`] is 1 below 8 points, 2 below 11, 3 below 14, 4 below 17, else 5. So no measure can make a
//! drill easier by growing. That depth, the number of plausible moves, tempting wrong ones and quiet right
//! ones make a position hard is common practice in training books, no source; the weights and bounds are
//! ours, chosen so that the collection spreads over all five grades. They say how positions compare, not who
//! will solve them.
//!
//! The grade is for after the commit only: before it a high grade would be a hint.

use std::fmt;

use serde::{Deserialize, Serialize};
use shakmaty::{Move, Position};

use super::Drill;
use crate::board::motif::{self, Motif};
use crate::board::{Line, exchange};
use crate::tree::{NodeId, Tree};

/// Half-moves from which a line counts as no deeper: published lines often end in moves that anyone finds.
const NEEDED_MAX: usize = 12;
/// Tempting moves beyond these count no more.
const TEMPTING_MAX: usize = 10;
/// Points from which the grades 2, 3, 4 and 5 begin.
const BOUNDS: [f64; 4] = [8.0, 11.0, 14.0, 17.0];

/// How difficult: 1 (least) to 5.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[serde(try_from = "u8", into = "u8")]
pub struct Grade(u8);

impl Grade {
    /// Every grade, the easiest first.
    pub const ALL: [Self; 5] = [Self(1), Self(2), Self(3), Self(4), Self(5)];
}

impl TryFrom<u8> for Grade {
    type Error = String;

    fn try_from(number: u8) -> Result<Self, String> {
        match number {
            1..=5 => Ok(Self(number)),
            _ => Err(tr!("{number} is no grade; a grade is 1 to 5")),
        }
    }
}

impl From<Grade> for u8 {
    fn from(grade: Grade) -> Self {
        grade.0
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// What is counted in a drill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measures {
    /// Half-moves of the longest published line up to the solver's last move in it.
    pub needed: usize,
    /// The solver's quiet moves in that line: no check, capture, promotion or threat.
    pub quiet: usize,
    /// Moves that tempt and are not published ([`tempting`]).
    pub tempting: usize,
    /// What the first of those gives away, in expected score (0 to 1); 0 where none tempts.
    pub trap: f64,
}

impl Measures {
    /// The measures of a drill; the trap is for a judge to say (see [`Self::trap`]).
    #[must_use]
    pub fn of(drill: &Drill, trap: f64) -> Self {
        let longest = longest(&drill.solution);
        let own = longest.iter().step_by(2);
        Self {
            needed: needed_of(&longest),
            quiet: own.filter(|n| is_quiet(&drill.solution, **n)).count(),
            tempting: tempting(&drill.root, &published(drill)).len(),
            trap,
        }
    }

    /// See the definition above.
    #[must_use]
    pub fn grade(&self) -> Grade {
        let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        let points = count(self.needed.min(NEEDED_MAX))
            + 2.0 * count(self.quiet)
            + count(self.tempting.min(TEMPTING_MAX)) / 2.0
            + 10.0 * self.trap.clamp(0.0, 1.0);
        let above = BOUNDS.iter().filter(|bound| points >= **bound).count();
        Grade::ALL.get(above).copied().unwrap_or(Grade(5))
    }
}

/// As [`Measures::needed`].
#[must_use]
pub fn needed(drill: &Drill) -> usize {
    needed_of(&longest(&drill.solution))
}

/// Up to the solver's last move, which is every other one from the first on.
fn needed_of(longest: &[NodeId]) -> usize {
    longest.len().saturating_sub(1) / 2 * 2 + longest.len().min(1)
}

/// The first moves of the published lines.
#[must_use]
pub fn published(drill: &Drill) -> Vec<Move> {
    let tree = &drill.solution;
    tree.standing(NodeId::ROOT)
        .filter_map(|n| tree.legal(n).cloned())
        .collect()
}

/// The moves that a first glance likes, the most tempting first: those that win or at least keep material
/// on their own square and are a capture, a promotion, a check or an attack on something; what wins
/// more comes first, then checks, then the rest. `without` are left out.
#[must_use]
pub fn tempting(root: &Line, without: &[Move]) -> Vec<Move> {
    let position = root.position();
    let mut found: Vec<(i32, bool, Move)> = Vec::new();
    for mv in position.legal_moves() {
        let class = motif::forcing_class(position, &mv);
        let won = exchange::after_move(position, &mv);
        if class != Motif::Quiet && won >= 0 && !without.contains(&mv) {
            let check = matches!(class, Motif::Check | Motif::DoubleCheck);
            found.push((won, check, mv));
        }
    }
    // Stable, and the library's order of moves depends on the position alone.
    found.sort_by_key(|(won, check, _)| std::cmp::Reverse((*won, *check)));
    found.into_iter().map(|(_, _, mv)| mv).collect()
}

/// The longest line of the tree; of two as long the first.
fn longest(tree: &Tree) -> Vec<NodeId> {
    let mut best = Vec::new();
    for leaf in tree.leaves() {
        let path = tree.path(leaf);
        if path.len() > best.len() {
            best = path;
        }
    }
    best
}

fn is_quiet(tree: &Tree, node: NodeId) -> bool {
    let before = tree.parent(node).and_then(|p| tree.line(p));
    match (before, tree.legal(node)) {
        (Some(line), Some(mv)) => motif::forcing_class(line.position(), mv) == Motif::Quiet,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::super::load;
    use super::*;
    use crate::board::line;
    use proptest::prelude::*;

    fn drill(fen: &str, line: &str) -> Drill {
        let text = format!(
            "- id: x\n  title: X\n  fen: {fen}\n  task: move\n  minutes: 5\n  source: test\n  lines: [\"{line}\"]\n"
        );
        load(&text, "x").unwrap().remove(0)
    }

    /// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory).
    #[test]
    fn the_measures_of_a_study() {
        let saavedra = drill(
            "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1",
            "c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4 c8=R Ra4 Kb3",
        );
        let measures = Measures::of(&saavedra, 0.0);
        // The last of thirteen half-moves is White's; each of his moves threatens to promote.
        let counted = (measures.needed, measures.quiet, measures.tempting);
        assert_eq!(counted, (13, 0, 0));
        let short = drill("8/8/1KP5/3r4/8/8/8/k7 w - - 0 1", "c7 Rd6+");
        let short = Measures::of(&short, 0.0);
        assert_eq!(short.needed, 1);
        assert!(measures.grade() > short.grade());
    }

    /// R. Reti, Kagans Neueste Schachnachrichten, 1921 (from memory): a king walks, and threatens nothing yet.
    #[test]
    fn quiet_moves_are_counted() {
        let reti = drill(
            "7K/8/k1P5/7p/8/8/8/8 w - - 0 1",
            "Kg7 h4 Kf6 Kb6 Ke5 h3 Kd6",
        );
        let measures = Measures::of(&reti, 0.0);
        assert_eq!((measures.needed, measures.quiet), (7, 4), "{measures:?}");
    }

    #[test]
    fn what_wins_most_tempts_most() {
        // A queen and a pawn hang; the queen's capture is the published move in the second case.
        let drill = drill("4k3/8/8/3q1p2/4P3/8/8/4K3 w - - 0 1", "exd5");
        let named = |without: &[Move]| {
            let moves = tempting(&drill.root, without);
            let san = |m| line::san(drill.root.position(), m);
            moves.iter().map(san).collect::<Vec<_>>()
        };
        assert_eq!(named(&[]), ["exd5", "exf5"]);
        assert_eq!(named(&published(&drill)), ["exf5"]);
    }

    #[test]
    fn a_grade_is_one_to_five() {
        assert!(Grade::try_from(0).is_err() && Grade::try_from(6).is_err());
        assert_eq!(Grade::try_from(5).map(u8::from), Ok(5));
    }

    fn measures() -> impl Strategy<Value = Measures> {
        (0usize..40, 0usize..12, 0usize..30, 0.0f64..1.0).prop_map(
            |(needed, quiet, tempting, trap)| Measures {
                needed,
                quiet,
                tempting,
                trap,
            },
        )
    }

    proptest! {
        /// Whatever grows, a drill never becomes easier.
        #[test]
        fn grades_are_monotone(a in measures(), b in measures()) {
            let more = Measures {
                needed: a.needed.max(b.needed),
                quiet: a.quiet.max(b.quiet),
                tempting: a.tempting.max(b.tempting),
                trap: a.trap.max(b.trap),
            };
            prop_assert!(more.grade() >= a.grade() && more.grade() >= b.grade());
        }
    }
}
