//! How hard a position is to play for whoever has to move.
//!
//! # Definition
//! What a player looks at first is guessed by very short searches: a move weighs exp(E / .25), E being what a glance of some
//! thirty nodes gives it, and twice as much for each of four *first impressions* (the moves that searches of 100, 400,
//! 1,600 and 4,000 nodes prefer) that is this move. The eight that weigh most are his *likely* moves; each is then searched
//! for itself, with 30,000 nodes behind it. *Risk*, the one number that orders positions: of the weight of the likely
//! moves, the share that gives away .10 or more. It knows neither the score nor the player.
//!
//! What the first impressions give away, each counted up to .30, on average, chooses the words alone.
//!
//! That positions differ in how often players err in them, and that this says more than rating and time do: A. Anderson, J.
//! Kleinberg, S. Mullainathan, Assessing human error against a benchmark of perfection (KDD 2016), who count the share of
//! possible moves that are errors. How far it orders the errors of real games: `cargo bench --bench difficulty -- FILE.pgn`,
//! figures in `tests/bench/RESULTS.md`. What tells there is how far the likely moves are searched: with all moves in one search
//! of 16,000 nodes, some 450 for each, it hardly orders anything, since that sees no further than the first impressions do.
//!
//! It costs some 290,000 nodes a position. It is told in words, never as a number, and is no judgement of the move that was
//! played.
//!
//! Must never know: which move was played.

use serde::Serialize;
use shakmaty::{Move, Position};

use crate::board::Line;
use crate::judge::{Answer, Judge, JudgeError, Question};

/// Nodes of the glance, for each legal move.
pub const GLANCE: u64 = 30;
/// Nodes of the first impressions.
pub const IMPRESSIONS: [u64; 4] = [100, 400, 1_600, 4_000];
/// How fast a move that looks worse at a glance loses weight, and how often that of a first impression is doubled for each.
pub const SOFT: f64 = 0.25;
pub const PREFERRED: f64 = 2.0;
/// The likely moves, and the nodes behind each of them.
pub const LIKELY: usize = 8;
pub const BEHIND: u64 = 30_000;
/// Nodes of one search of every legal move: whether one that is not likely would do as well.
pub const EVERY: u64 = 16_000;
/// What counts as given away, and up to what a first impression counts.
pub const ERROR: f64 = 0.10;
pub const CAP: f64 = 0.30;

/// From here on a position is hard, and from here very hard: the hardest fifth and the hardest tenth of all positions of
/// the games in the bench.
pub const HARD: f64 = 0.40;
pub const VERY_HARD: f64 = 0.65;

/// How hard a position is.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Difficulty {
    /// Weighted share of the likely moves that err, 0 to 1.
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
        self.risk
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

/// Moves with what they are worth to whoever plays them.
pub type Worths<M> = Vec<(M, f64)>;

/// What is asked about a position first: the glance, the search of every move, the first impressions.
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
    [glance, ask(legal, EVERY)]
        .into_iter()
        .chain(impressions)
        .collect()
}

/// What is asked then: the position itself, and the one behind each likely move.
#[must_use]
pub fn questions_behind(line: &Line, likely: &[(Move, f64)]) -> Vec<Question> {
    let ask = |line: Line| Question {
        line,
        lines: 1,
        nodes: BEHIND,
    };
    let behind = likely.iter().filter_map(|(mv, _)| line.child(mv).ok());
    [line.clone()].into_iter().chain(behind).map(ask).collect()
}

/// The answers to [`questions`]: of each the moves, the best first.
#[must_use]
pub fn told(answers: &[Answer]) -> Vec<Worths<Move>> {
    let one = |answer: &Answer| {
        let moves = answer.moves.iter();
        moves.map(|r| (r.mv.clone(), r.expected.value())).collect()
    };
    answers.iter().map(one).collect()
}

/// The likely moves with their weights, the heaviest first.
#[must_use]
pub fn likely<M: PartialEq + Clone>(searches: &[Worths<M>]) -> Worths<M> {
    let [glance, _, impressions @ ..] = searches else {
        return Vec::new();
    };
    let top = glance.iter().map(|(_, worth)| *worth).fold(0.0, f64::max);
    let preferred = |mv: &M| {
        let first = impressions.iter().filter_map(|s| s.first());
        first.filter(|(m, _)| m == mv).count() as i32
    };
    let weighed = glance.iter().map(|(mv, worth)| {
        let weight = ((worth - top) / SOFT).exp() * PREFERRED.powi(preferred(mv));
        (mv.clone(), weight)
    });
    let mut weighed: Worths<M> = weighed.collect();
    weighed.sort_by(|a, b| b.1.total_cmp(&a.1));
    weighed.truncate(LIKELY);
    weighed
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
    for some in lines.chunks(8) {
        let asked: Vec<Vec<Question>> = some.iter().map(questions).collect();
        let answers = judge.answer(&asked.concat())?;
        let each = 2 + IMPRESSIONS.len();
        let searches: Vec<Vec<Worths<Move>>> = answers.chunks(each).map(told).collect();
        let likely: Vec<Worths<Move>> = searches.iter().map(|s| likely(s)).collect();
        let behind: Vec<Vec<Question>> = some
            .iter()
            .zip(&likely)
            .map(|(line, likely)| questions_behind(line, likely))
            .collect();
        let mut answers = judge.answer(&behind.concat())?.into_iter();
        for (((line, searches), likely), behind) in
            some.iter().zip(&searches).zip(&likely).zip(&behind)
        {
            let answers: Vec<Answer> = answers.by_ref().take(behind.len()).collect();
            let legal = line.position().legal_moves().len();
            found.push(
                worths(&answers, likely)
                    .and_then(|(here, worths)| measured(searches, here, &worths, legal)),
            );
        }
        progress(some.len());
    }
    Ok(found)
}

/// From the answers to [`questions_behind`]: what the position is worth, and each likely move.
#[must_use]
pub fn worths<M: Clone>(answers: &[Answer], likely: &[(M, f64)]) -> Option<(f64, Worths<M>)> {
    let (here, behind) = answers.split_first()?;
    let moves = likely.iter().zip(behind);
    let worths = moves.map(|((mv, _), after)| (mv.clone(), 1.0 - after.expected.value()));
    Some((here.expected.value(), worths.collect()))
}

/// The difficulty of a position with so many legal moves from the answers to its [`questions`], and from what it and its
/// likely moves are worth by those to [`questions_behind`]. `None` where the game is over there.
#[must_use]
pub fn measured<M: PartialEq + Clone>(
    searches: &[Worths<M>],
    here: f64,
    worths: &[(M, f64)],
    legal: usize,
) -> Option<Difficulty> {
    let [_, every, impressions @ ..] = searches else {
        return None;
    };
    let best = worths.iter().map(|(_, worth)| *worth).fold(here, f64::max);
    let worth = |mv: &M| {
        worths
            .iter()
            .find(|(m, _)| m == mv)
            .map(|(_, worth)| *worth)
    };
    let (mut all, mut wrong) = (0.0, 0.0);
    for (mv, weight) in likely(searches) {
        all += weight;
        if worth(&mv).is_some_and(|worth| best - worth >= ERROR) {
            wrong += weight;
        }
    }
    let given: Vec<f64> = impressions
        .iter()
        .filter_map(|s| worth(&s.first()?.0))
        .map(|worth| (best - worth).clamp(0.0, CAP))
        .collect();
    let top = every.first()?.1;
    let keeps = |(mv, shallow): &&(M, f64)| match worth(mv) {
        Some(worth) => best - worth < ERROR,
        None => top - shallow < ERROR,
    };
    Some(Difficulty {
        risk: if all > 0.0 { wrong / all } else { 0.0 },
        impression: given.iter().sum::<f64>() / (given.len().max(1) as f64),
        keep: every.iter().filter(keeps).count(),
        legal,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::{read_fen, uci};
    use crate::judge::{Basis, MoverScore, Ranked};

    /// A judge to whom one move of a position is good and all others lose, and who sees it from so many nodes on.
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
        fn worth(&self, mv: &Move, nodes: u64) -> f64 {
            let is_good = uci(mv) == self.good;
            if is_good == (nodes >= self.from) {
                0.9
            } else {
                0.2
            }
        }

        fn one(&self, q: &Question) -> Answer {
            let behind = q
                .line
                .moves()
                .last()
                .map(|mv| 1.0 - self.worth(mv, q.nodes));
            let mut moves: Vec<Ranked> = q
                .line
                .position()
                .legal_moves()
                .into_iter()
                .map(|mv| Ranked {
                    expected: MoverScore::new(behind.unwrap_or_else(|| self.worth(&mv, q.nodes))),
                    mate: None,
                    pv: vec![mv.clone()],
                    mv,
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
        // By hand: one move of weight 16, five of exp(-.7 / .25), which is .061.
        assert!(
            seen.impression == 0.0 && (seen.risk - 0.304 / 16.304).abs() < 0.001,
            "{seen:?}"
        );
        assert!(seen.is_easy() && seen.words().is_none());
    }

    #[test]
    fn one_move_that_is_seen_late_is() {
        let late = measured(10_000);
        assert!(
            (late.impression - CAP).abs() < 1e-9 && late.risk > 0.99,
            "{late:?}"
        );
        assert_eq!(late.words(), Some("one move, not the obvious one"));
        assert!(late.value() > VERY_HARD);
    }

    #[test]
    fn a_move_is_as_likely_as_it_looks_and_twice_as_likely_for_each_first_impression() {
        let glance = vec![("a", 0.6), ("b", 0.35), ("c", 0.6)];
        let first = |mv| vec![(mv, 0.5)];
        let searches = [
            glance,
            Vec::new(),
            first("a"),
            first("b"),
            first("b"),
            first("b"),
        ];
        let likely = likely(&searches);
        let expected = [("b", 8.0 * (-1.0_f64).exp()), ("a", 2.0), ("c", 1.0)];
        for (one, other) in likely.iter().zip(expected) {
            assert!(
                one.0 == other.0 && (one.1 - other.1).abs() < 1e-9,
                "{likely:?}"
            );
        }
    }

    #[test]
    fn a_move_that_is_not_likely_may_hold_as_well() {
        // Nine moves that look alike: eight are likely and all but the first lose; the ninth is as good as the first by the
        // one search of every move.
        let glance: Worths<usize> = (0..9).map(|mv| (mv, 0.5)).collect();
        let every: Worths<usize> = (0..9)
            .map(|mv| (mv, if mv == 8 { 0.5 } else { 0.4 }))
            .collect();
        let impressions = vec![vec![(0, 0.5)]; 4];
        let searches = [vec![glance, every], impressions].concat();
        let worths: Worths<usize> = (0..8)
            .map(|mv| (mv, if mv == 0 { 0.5 } else { 0.1 }))
            .collect();
        let found = super::measured(&searches, 0.5, &worths, 9).unwrap();
        assert_eq!(found.keep, 2);
        assert!((found.risk - 7.0 / 23.0).abs() < 1e-9, "{found:?}");
    }
}
