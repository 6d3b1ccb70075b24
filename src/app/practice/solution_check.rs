//! Whether the judge agrees with the published solution of a drill.

use shakmaty::Move;

use crate::app::AppError;
use crate::app::practice::drill_library::DrillService;
use crate::board::line;
use crate::drill::grade::{self, Measures};
use crate::drill::{Drill, Grade, Task};
use crate::judge::{Judge, MoverScore, Question};

/// Best moves that are compared with the solution.
const LINES: usize = 3;
/// A drawn position's expected score lies this near to one half (the verdict 'level'; common practice,
/// no source).
const LEVEL: f64 = 0.05;
/// From here on a position is won by the verdict 'winning' (common practice, no source).
const WON: f64 = 0.78;

/// What the judge says of one drill.
#[derive(Debug, Clone, PartialEq)]
pub struct SolutionCheck {
    pub id: String,
    /// The published first move that the judge likes best, in SAN, and its expected score.
    pub solution: (String, MoverScore),
    /// The judge's own first move and its expected score.
    pub best: (String, MoverScore),
    /// The next best move that is no published one, in SAN, and its expected score; `None` where there is
    /// none.
    pub next: Option<(String, MoverScore)>,
    /// True where no other move comes within delta of the published ones.
    pub only: bool,
    /// How difficult the drill is, by this judge.
    pub grade: Grade,
    /// What does not agree, in words; empty where all does.
    pub doubts: Vec<String>,
    /// True where the drill says itself where its solution has a hole.
    pub noted: bool,
}

impl SolutionCheck {
    /// True where the judge agrees, or the drill says where it does not.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.doubts.is_empty() || self.noted
    }
}

impl DrillService {
    /// Asks the judge about a drill: each first move of the solution against the best moves, on equal
    /// terms, and whether the task is reached.
    ///
    /// # Errors
    /// The engine failed.
    pub fn prove(&self, drill: &Drill) -> Result<SolutionCheck, AppError> {
        let judge = self.judges.judge()?;
        let nodes = self.settings.nodes;
        let liked = ask(&*judge, &drill.root, LINES, nodes)?;
        let published = grade::published(drill);
        let lure = grade::tempting(&drill.root, &published).into_iter().next();
        let mut moves = published.clone();
        moves.extend(liked.into_iter().filter(|mv| !published.contains(mv)));
        moves.extend(lure.clone().filter(|mv| !moves.contains(mv)));
        let mut scored = Vec::new();
        for mv in moves {
            let Ok(after) = drill.root.child(&mv) else {
                continue;
            };
            let question = Question {
                line: after,
                lines: 1,
                nodes,
            };
            let worth = judge.answer_one(question)?.expected.flip();
            scored.push((published.contains(&mv), mv, worth));
        }
        Ok(proved(
            drill,
            &scored,
            lure.as_ref(),
            self.settings.delta.value(),
        ))
    }
}

fn ask(
    judge: &dyn Judge,
    root: &crate::board::Line,
    lines: usize,
    nodes: u64,
) -> Result<Vec<Move>, AppError> {
    let question = Question {
        line: root.clone(),
        lines,
        nodes,
    };
    let answer = judge.answer_one(question)?;
    Ok(answer.moves.into_iter().map(|m| m.mv).collect())
}

fn proved(
    drill: &Drill,
    scored: &[(bool, Move, MoverScore)],
    lure: Option<&Move>,
    delta: f64,
) -> SolutionCheck {
    let pick = |published: Option<bool>| {
        let of = scored.iter().filter(|s| published.is_none_or(|p| s.0 == p));
        of.max_by(|a, b| a.2.value().total_cmp(&b.2.value()))
    };
    let told = |s: Option<&(bool, Move, MoverScore)>| {
        s.map_or((String::new(), MoverScore::LEVEL), |(_, mv, e)| {
            (line::san(drill.root.position(), mv), *e)
        })
    };
    let (solution, best) = (told(pick(Some(true))), told(pick(None)));
    let next = pick(Some(false)).map(|s| told(Some(s)));
    let lured = lure.and_then(|mv| scored.iter().find(|s| s.1 == *mv));
    let trap = lured.map_or(0.0, |s| best.1.over(s.2).value().max(0.0));
    SolutionCheck {
        id: drill.id.clone(),
        doubts: doubts(drill, &solution, &best, delta),
        only: next
            .as_ref()
            .is_none_or(|n| solution.1.over(n.1).value() >= delta),
        next,
        grade: Measures::of(drill, trap).grade(),
        noted: drill.note.is_some(),
        solution,
        best,
    }
}

fn doubts(
    drill: &Drill,
    solution: &(String, MoverScore),
    best: &(String, MoverScore),
    delta: f64,
) -> Vec<String> {
    let mut doubts = Vec::new();
    if drill.solution.is_empty() {
        doubts.push(tr!(
            "nothing was published to hold; the judge would play {} ({})",
            best.0,
            best.1
        ));
        return doubts;
    }
    if best.1.over(solution.1).value() >= delta {
        doubts.push(tr!(
            "the judge prefers {} ({}) to {} ({})",
            best.0,
            best.1,
            solution.0,
            solution.1
        ));
    }
    let e = solution.1.value();
    match drill.task {
        Task::Win if e < WON => doubts.push(tr!("{} does not win ({})", solution.0, solution.1)),
        Task::Draw if (e - 0.5).abs() > LEVEL => {
            doubts.push(tr!(
                "{} does not come out level ({})",
                solution.0,
                solution.1
            ));
        }
        Task::Win | Task::Draw | Task::Move => {}
    }
    doubts
}
