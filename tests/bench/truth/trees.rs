//! Trees with one known omission, made from a position and its published solution.

use foreply::board::{Line, line};
use foreply::judge::{self, Judge, Question};
use foreply::tree::{Author, NodeId, Tree, Verdict};

/// What is wrong with a tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Omission {
    /// Nothing: the published solution.
    None,
    /// The best candidate is not among the candidates.
    Candidate,
    /// The opponent's best reply is not among the written ones.
    Reply,
    /// The line ends before the refutation, with the verdict that a count of the pieces gives.
    CutShort,
    /// The verdict at the end says the opposite of the truth.
    Verdict,
}

impl Omission {
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "sound tree",
            Self::Candidate => "best candidate left out",
            Self::Reply => "best reply left out",
            Self::CutShort => "line cut short",
            Self::Verdict => "verdict turned",
        }
    }

    /// The kinds of finding that tell it.
    pub fn told_by(self) -> &'static [&'static str] {
        match self {
            Self::None => &[],
            Self::Candidate => &["missed candidate"],
            Self::Reply => &["missed defence", "missed counter-sacrifice"],
            Self::CutShort | Self::Verdict => &[
                "stopped short",
                "misjudged",
                "seen, misjudged",
                "missed counter-sacrifice",
            ],
        }
    }
}

/// A tree, and where the omission is: below this node the move would stand, or the verdict stands on it.
pub struct Case {
    pub omission: Omission,
    pub tree: Tree,
    pub at: NodeId,
}

/// All cases of one position. `solution` are the moves of its main line.
pub fn cases(
    root: &Line,
    solution: &Tree,
    judge: &dyn Judge,
    nodes: u64,
) -> Result<Vec<Case>, String> {
    let case = |omission, tree, at| Case { omission, tree, at };
    let mut all = vec![case(Omission::None, solution.clone(), NodeId::ROOT)];
    let main = main_line(solution);
    if let Some((tree, at)) = turned(root, &main, judge, nodes)? {
        all.push(case(Omission::Verdict, tree, at));
    }
    if let Some(worse) = worse_candidate(root, &main, judge, nodes)? {
        let mut tree = Tree::new(root.clone());
        write(&mut tree, NodeId::ROOT, &worse[..worse.len().min(3)]);
        all.push(case(Omission::Candidate, tree, NodeId::ROOT));
        let mut tree = Tree::new(root.clone());
        let end = write(&mut tree, NodeId::ROOT, &worse[..1]);
        if let Some(line) = tree.line(end) {
            let _ = tree.set_verdict(end, Some(by_count(&line)));
            all.push(case(Omission::CutShort, tree, end));
        }
    }
    if let Some((tree, at)) = without_reply(root, &main, judge, nodes)? {
        all.push(case(Omission::Reply, tree, at));
    }
    Ok(all)
}

fn main_line(tree: &Tree) -> Vec<shakmaty::Move> {
    let mut at = NodeId::ROOT;
    let mut moves = Vec::new();
    while let Some((next, mv)) = tree
        .standing(at)
        .next()
        .and_then(|c| Some((c, tree.legal(c)?.clone())))
    {
        moves.push(mv);
        at = next;
    }
    moves
}

fn write(tree: &mut Tree, from: NodeId, moves: &[shakmaty::Move]) -> NodeId {
    let mut at = from;
    for mv in moves {
        let Some(text) = tree.line(at).map(|l| line::san(l.position(), mv)) else {
            break;
        };
        match tree.add(at, &text, Author::Player, 0) {
            Ok(next) => at = next,
            Err(_) => break,
        }
    }
    at
}

fn ask(line: &Line, lines: usize, nodes: u64, judge: &dyn Judge) -> Result<judge::Answer, String> {
    let question = Question {
        line: line.clone(),
        lines,
        nodes,
    };
    let answers = judge.answer(&[question]).map_err(|e| e.to_string())?;
    answers
        .into_iter()
        .next()
        .ok_or_else(|| "no answer".to_owned())
}

/// The best candidate that is clearly worse than the best, with what follows it.
fn worse_candidate(
    root: &Line,
    main: &[shakmaty::Move],
    judge: &dyn Judge,
    nodes: u64,
) -> Result<Option<Vec<shakmaty::Move>>, String> {
    let answer = ask(root, 6, nodes, judge)?;
    let worse = answer
        .moves
        .iter()
        .find(|m| Some(&m.mv) != main.first() && answer.expected.over(m.expected).value() >= 0.15);
    Ok(worse.map(|m| m.pv.clone()))
}

/// The solution with the reply that matters most replaced by the next best one.
fn without_reply(
    root: &Line,
    main: &[shakmaty::Move],
    judge: &dyn Judge,
    nodes: u64,
) -> Result<Option<(Tree, NodeId)>, String> {
    let mut line = root.clone();
    let mut best: Option<(f64, usize, Vec<shakmaty::Move>)> = None;
    for (ply, mv) in main.iter().enumerate().take(8) {
        if ply % 2 == 1 {
            let answer = ask(&line, 2, nodes, judge)?;
            if let [first, second] = answer.moves.as_slice() {
                let margin = first.expected.over(second.expected).value();
                if margin >= 0.15 && first.mv == *mv && best.as_ref().is_none_or(|b| margin > b.0) {
                    best = Some((margin, ply, second.pv.iter().take(2).cloned().collect()));
                }
            }
        }
        if line.push(mv).is_err() {
            break;
        }
    }
    Ok(best.map(|(_, ply, instead)| {
        let mut tree = Tree::new(root.clone());
        let at = write(&mut tree, NodeId::ROOT, &main[..ply]);
        write(&mut tree, at, &instead);
        (tree, at)
    }))
}

/// The solution with a verdict at its end that says the opposite; where the end is level, that it is lost.
fn turned(
    root: &Line,
    main: &[shakmaty::Move],
    judge: &dyn Judge,
    nodes: u64,
) -> Result<Option<(Tree, NodeId)>, String> {
    let mut tree = Tree::new(root.clone());
    let end = write(&mut tree, NodeId::ROOT, main);
    let Some(line) = tree
        .line(end)
        .filter(|l| l.rule().is_none() && end != NodeId::ROOT)
    else {
        return Ok(None);
    };
    let answer = ask(&line, 1, nodes, judge)?;
    let own = if line.turn() == line.player() {
        answer.expected
    } else {
        answer.expected.flip()
    };
    let percent = match own.value() {
        e if e >= 0.65 => 35,
        e if e <= 0.35 => 65,
        _ => 10,
    };
    let _ = tree.set_verdict(end, Some(Verdict::Percent(percent)));
    Ok(Some((tree, end)))
}

/// The verdict of someone who counts the pieces.
fn by_count(line: &Line) -> Verdict {
    let balance = foreply::board::sacrifice::balance(line.position(), line.player());
    let e = judge::MoverScore::from_centipawns(balance.clamp(-9, 9) * 100).value();
    // A percentage is a whole number from 0 to 100.
    Verdict::Percent((e * 100.0).round() as u8)
}
