//! How hard a position is to play for whoever has to move.
//!
//! # Definition
//! Two terms, neither of which knows the score or the player. *Risk*: the share of the legal moves that give away .10 or
//! more, each weighted by exp(E / .10), E being what a first glance at it gives; so moves that nobody would look at count
//! little. *First impression*: what the moves that a search of 100 and one of 400 nodes prefer give away, each counted up
//! to .30, on average. D = 1.5 risk + 2 first impression.
//!
//! That positions differ in how often players err in them, and that this says more than rating and time do: A. Anderson, J.
//! Kleinberg, S. Mullainathan, Assessing human error against a benchmark of perfection (KDD 2016), who count the share of
//! possible moves that are errors. How far D orders the errors of real games: `cargo bench --bench difficulty -- FILE.pgn`,
//! figures in `tests/bench/RESULTS.md`.
//!
//! It costs three searches besides the glance, with 16,500 nodes in all and as many again for each legal move as the glance
//! takes. It is told in words, never as a number, and is no judgement of the move that was played.
//!
//! Must never know: which move was played.

use serde::Serialize;
use shakmaty::{Move, Position};

use crate::board::Line;
use crate::judge::{Answer, Judge, JudgeError, Question};

/// Nodes of the glance, for each legal move.
pub const GLANCE: u64 = 30;
/// Nodes in which every legal move is searched to the same depth.
pub const TRUTH: u64 = 16_000;
/// Nodes of the two first impressions.
pub const IMPRESSIONS: [u64; 2] = [100, 400];
/// What counts as given away, and up to what a first impression counts.
pub const ERROR: f64 = 0.10;
pub const CAP: f64 = 0.30;
/// How fast a move that looks worse loses weight.
pub const SOFT: f64 = 0.10;

/// What the two terms count.
pub const RISK_WEIGHT: f64 = 1.5;
pub const IMPRESSION_WEIGHT: f64 = 2.0;

/// From here on a position is hard, and from here very hard: the hardest fifth and the hardest tenth of all positions of
/// the games in the bench.
pub const HARD: f64 = 1.3;
pub const VERY_HARD: f64 = 1.6;

/// How hard a position is.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Difficulty {
    /// Weighted share of the moves that err, 0 to 1.
    pub risk: f64,
    /// What the first impressions give away on average, 0 to .30.
    pub impression: f64,
    /// Moves that keep the result within .10 of the best, of the legal ones.
    pub keep: usize,
    pub legal: usize,
}

impl Difficulty {
    /// The one number: for ordering alone.
    #[must_use]
    pub fn value(&self) -> f64 {
        RISK_WEIGHT * self.risk + IMPRESSION_WEIGHT * self.impression
    }

    /// In three to five words; `None` where there is nothing to say.
    #[must_use]
    pub fn words(&self) -> Option<&'static str> {
        if self.legal < 2 || self.value() < HARD {
            return None;
        }
        Some(match (self.impression >= 0.10, self.keep) {
            (true, 1) => tr!("one move, not the obvious one"),
            (true, _) => tr!("the first impression deceives"),
            (false, 1) => tr!("only one move holds"),
            (false, 2 | 3) => tr!("few moves hold"),
            (false, _) => tr!("many ways to go wrong"),
        })
    }

    /// True where most players would find their way.
    #[must_use]
    pub fn is_easy(&self) -> bool {
        self.value() < HARD / 2.0
    }
}

/// What is asked about a position.
#[must_use]
pub fn questions(line: &Line) -> Vec<Question> {
    let legal = line.position().legal_moves().len();
    let ask = |lines: usize, nodes: u64| Question {
        line: line.clone(),
        lines: lines.max(1),
        nodes,
    };
    let glance = ask(legal, GLANCE * legal as u64);
    let impressions = IMPRESSIONS.map(|nodes| ask(1, nodes));
    [glance, ask(legal, TRUTH)]
        .into_iter()
        .chain(impressions)
        .collect()
}

/// The difficulty of the positions that these lines have reached; `None` where the game is over there.
///
/// # Errors
/// The engine failed.
pub fn difficulties(
    lines: &[Line],
    judge: &dyn Judge,
    progress: &mut dyn FnMut(usize),
) -> Result<Vec<Option<Difficulty>>, JudgeError> {
    let mut found = Vec::with_capacity(lines.len());
    for some in lines.chunks(16) {
        let asked: Vec<Vec<Question>> = some.iter().map(questions).collect();
        let answers = judge.answer(&asked.concat())?;
        let each = 2 + IMPRESSIONS.len();
        found.extend(
            answers
                .chunks(each)
                .zip(some)
                .map(|(answers, line)| of(answers, line)),
        );
        progress(some.len());
    }
    Ok(found)
}

fn of(answers: &[Answer], line: &Line) -> Option<Difficulty> {
    let told = |answer: &Answer| -> Vec<(Move, f64)> {
        let moves = answer.moves.iter();
        moves.map(|r| (r.mv.clone(), r.expected.value())).collect()
    };
    let searches: Vec<Vec<(Move, f64)>> = answers.iter().map(told).collect();
    measured(&searches, line.position().legal_moves().len())
}

/// The difficulty of a position with so many legal moves from the answers to its [`questions`]: of each the moves, the best
/// first, with what they are worth. `None` where the game is over there.
#[must_use]
pub fn measured<M: PartialEq>(searches: &[Vec<(M, f64)>], legal: usize) -> Option<Difficulty> {
    let [glance, truth, impressions @ ..] = searches else {
        return None;
    };
    let best = truth.first()?.1;
    let worth = |mv: &M| {
        let ranked = truth.iter().find(|(m, _)| m == mv);
        // What was not reached within the nodes was the last to be looked at.
        ranked.map_or(0.0, |(_, worth)| *worth)
    };
    let top = glance.iter().map(|(_, worth)| *worth).fold(0.0, f64::max);
    let (mut all, mut wrong) = (0.0, 0.0);
    for (mv, glimpsed) in glance {
        let weight = ((glimpsed - top) / SOFT).exp();
        all += weight;
        if best - worth(mv) >= ERROR {
            wrong += weight;
        }
    }
    let given = impressions
        .iter()
        .take(IMPRESSIONS.len())
        .filter_map(|s| s.first());
    let given: Vec<f64> = given
        .map(|(mv, _)| (best - worth(mv)).clamp(0.0, CAP))
        .collect();
    Some(Difficulty {
        risk: if all > 0.0 { wrong / all } else { 0.0 },
        impression: given.iter().sum::<f64>() / (given.len().max(1) as f64),
        keep: truth
            .iter()
            .filter(|(_, worth)| best - worth < ERROR)
            .count(),
        legal,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;
    use crate::judge::{Basis, MoverScore, Ranked};

    /// A judge to whom one move is good and all others lose, and who sees it from so many nodes on.
    struct Late {
        good: &'static str,
        from: u64,
    }

    impl Judge for Late {
        fn name(&self) -> String {
            "late".to_owned()
        }

        fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
            Ok(questions.iter().map(|q| self.one(q)).collect())
        }
    }

    impl Late {
        fn one(&self, q: &Question) -> Answer {
            let mut moves: Vec<Ranked> = q
                .line
                .position()
                .legal_moves()
                .into_iter()
                .map(|mv| {
                    let is_good = crate::board::line::uci(&mv) == self.good;
                    let sees = q.nodes >= self.from;
                    let worth = if is_good == sees { 0.9 } else { 0.2 };
                    Ranked {
                        expected: MoverScore::new(worth),
                        mate: None,
                        pv: vec![mv.clone()],
                        mv,
                    }
                })
                .collect();
            moves.sort_by(|a, b| b.expected.value().total_cmp(&a.expected.value()));
            moves.truncate(q.lines);
            Answer {
                expected: moves[0].expected,
                basis: Basis::Engine {
                    depth: 1,
                    nodes: q.nodes,
                },
                moves,
            }
        }
    }

    fn measured(from: u64) -> Difficulty {
        let line = Line::new(read_fen("4k3/8/8/8/8/8/3P4/4K3 w - - 0 1").unwrap());
        let found = difficulties(&[line], &Late { good: "d2d4", from }, &mut |_| {});
        found.unwrap()[0].unwrap()
    }

    #[test]
    fn one_move_that_is_seen_at_once_is_no_hard_task() {
        let seen = measured(0);
        assert_eq!((seen.keep, seen.legal), (1, 6));
        assert!(seen.impression == 0.0 && seen.risk < 0.01, "{seen:?}");
        assert!(seen.is_easy() && seen.words().is_none());
    }

    #[test]
    fn one_move_that_is_seen_late_is() {
        let late = measured(1_000);
        assert!(
            (late.impression - CAP).abs() < 1e-9 && late.risk > 0.99,
            "{late:?}"
        );
        assert_eq!(late.words(), Some("one move, not the obvious one"));
        assert!(late.value() > VERY_HARD);
    }
}
