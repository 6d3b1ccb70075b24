//! What a review says, in words that the screens and the line mode share: only after the commit.

use serde::Serialize;

use crate::attempt::Attempt;
use crate::coach::{self, CoachWord};
use crate::review::{
    Finding, FindingPart, FindingStatus, MoveRead, Process, Review, Sacrifice, Turn, Unjudged,
};
use crate::text;
use crate::tree::{NodeId, Tree};

/// What kind of finding it is, and why it does not count where it does not.
#[must_use]
pub fn heading(finding: &Finding) -> String {
    let aside = match finding.class {
        FindingStatus::Counted => "",
        FindingStatus::Close => tr!(" (close: not counted)"),
        FindingStatus::Aside => match finding.part {
            FindingPart::Choice => tr!(" (on your way: not counted)"),
            FindingPart::OtherCandidate => tr!(" (another candidate: not counted)"),
        },
        FindingStatus::Withheld => tr!(" (hard at the board: not counted)"),
        FindingStatus::Overruled => tr!(" (struck by your coach: not counted)"),
    };
    format!("{}{aside}", finding.kind.label())
}

/// What a finding tells besides its sentence, its question and its two lines.
#[must_use]
pub fn besides(finding: &Finding) -> Vec<String> {
    let mut words = Vec::new();
    if !finding.declined.is_empty() {
        let line = finding.declined.join(" ");
        words.push(tr!("If the offer is not taken: {line}."));
    }
    let others = finding.paths.iter().skip(1);
    words.extend(others.map(|way| tr!("The same place comes after {}.", way.join(" "))));
    let also = finding.also.iter();
    words.extend(also.map(|way| tr!("The same was overlooked {}.", after(way))));
    words
}

/// The figures of a finding, on asking only.
#[must_use]
pub fn on_asking(finding: &Finding) -> String {
    let mut words = tr!(
        "Gap {}, effect on your choice {}. {}, half-move {} from the position.",
        text::decimal(finding.gap.value(), 2),
        text::decimal(finding.effect.value(), 2),
        match finding.turn {
            Turn::Player => tr!("Your move"),
            Turn::Opponent => tr!("His move"),
        },
        finding.ply
    );
    let motifs: Vec<String> = finding.motifs.iter().map(named).collect();
    if !motifs.is_empty() {
        words += &tr!(" What kind of move: {}.", motifs.join(", "));
    }
    if let Some(sacrifice) = &finding.sacrifice {
        words += &format!(" {}.", gives(sacrifice));
    }
    words
}

fn gives(sacrifice: &Sacrifice) -> String {
    let Sacrifice {
        gives,
        active,
        sham,
    } = sacrifice;
    let how = if *active {
        tr!("by the man that moves")
    } else {
        tr!("by a man that is left where it stands")
    };
    let back = if *sham {
        tr!("; it is back within three moves")
    } else {
        ""
    };
    tr!("It gives up {} {how}{back}", gives.words())
}

/// A stable name as plain words.
fn named<T: Serialize>(value: &T) -> String {
    let name = serde_json::to_value(value).ok();
    let name = name.and_then(|v| v.as_str().map(|s| s.replace('-', " ")));
    name.unwrap_or_default()
}

/// What the review as a whole rests on, on asking only.
#[must_use]
pub fn judged_by(review: &Review) -> String {
    let choice = review.expected.choice;
    let choice = choice.map_or("-".to_owned(), |e| e.to_string());
    tr!(
        "Expected score: best {}, your choice {choice}. Judge: {}, {} nodes per search.",
        review.expected.best,
        review.judge,
        text::whole(review.nodes)
    )
}

/// Where the position stands: its FEN, and in which half-move of the game it came up.
#[must_use]
pub fn position(review: &Review) -> String {
    let before = review.ply_in_game.map_or(String::new(), |ply| {
        tr!(" The game has had {ply} half-moves before it.")
    });
    tr!("Position: {}.{before}", review.root)
}

/// How he went about it.
#[must_use]
pub fn process(process: &Process) -> Vec<String> {
    let Process {
        first_candidate_ms,
        first_reply_ms,
        candidates_before_depth,
        per_candidate: _,
        returns,
        half_moves,
        spent_ms,
        over_ms,
    } = process;
    let mut words = vec![tr!(
        "You wrote {half_moves} half-moves in {}.",
        text::clock(*spent_ms)
    )];
    words.extend((*over_ms > 0).then(|| tr!("{} over the time.", text::clock(*over_ms))));
    let first = first_candidate_ms.map(|ms| tr!("First candidate: {}.", text::clock(ms)));
    let reply = first_reply_ms.map(|ms| tr!("First reply: {}.", text::clock(ms)));
    words.extend(first.into_iter().chain(reply));
    words.push(tr!(
        "Candidates named before the first reply: {candidates_before_depth}."
    ));
    match returns {
        0 => {}
        1 => words.push(tr!("You came back to one candidate.").to_owned()),
        n => words.push(tr!(
            "You came back to candidates {} times.",
            text::number(*n)
        )),
    }
    words
}

/// A move that could not be judged, and why.
#[must_use]
pub fn unjudged(unjudged: &Unjudged) -> String {
    let path = unjudged.path.join(" ");
    match unjudged.why.trim().trim_end_matches('.') {
        "" => tr!("{path} is not judged."),
        why => tr!("{path} is not judged: {why}."),
    }
}

/// What coaches said, move by move.
#[must_use]
pub fn coach_words(attempt: &Attempt) -> Vec<CoachWord> {
    attempt.coached().map(coach::layer).unwrap_or_default()
}

/// One of his candidates beside what it is worth.
pub struct CandidateRow {
    pub chosen: bool,
    pub san: String,
    /// Milliseconds spent on it; `None` where no clock ran.
    pub spent_ms: Option<u64>,
    /// His verdict on it as typed: at the move itself, or at the end of its first line.
    pub said: String,
    /// What it is worth, or why that is not known.
    pub truth: String,
}

/// His candidates in the order of writing.
#[must_use]
pub fn candidates(review: &Review, attempt: &Attempt) -> Vec<CandidateRow> {
    let tree = attempt.tree();
    let roots = tree
        .nodes()
        .map(|(id, _)| id)
        .filter(|id| tree.parent(*id) == Some(NodeId::ROOT));
    roots
        .map(|node| {
            let san = tree.san(node);
            let times = review.process.iter().flat_map(|p| &p.per_candidate);
            let spent_ms = times.filter(|t| t.0 == san).map(|t| t.1).next();
            CandidateRow {
                chosen: attempt.choice() == Some(node),
                said: verdict(tree, node),
                truth: truth(review, tree, node),
                san,
                spent_ms,
            }
        })
        .collect()
}

fn verdict(tree: &Tree, node: NodeId) -> String {
    let next = |id: &NodeId| tree.standing(*id).next();
    let line = std::iter::successors(Some(node), next);
    let said = line.filter_map(|id| tree.node(id).and_then(|n| n.verdict));
    said.last().map(|v| v.to_string()).unwrap_or_default()
}

/// The truth about a written move in words, or why there is none.
#[must_use]
pub fn truth(review: &Review, tree: &Tree, node: NodeId) -> String {
    let read = read_of(review, node).and_then(|read| read.truth.clone());
    let why = || {
        let mut unjudged = review.unjudged.iter();
        unjudged.find(|u| u.node == node).map(|u| u.why.clone())
    };
    match read.or_else(why) {
        Some(words) => words,
        None if !tree.stands(node) => tr!("struck out: not judged").to_owned(),
        None => tr!("no position to judge").to_owned(),
    }
}

/// What the review says of one written move.
#[must_use]
pub fn read_of(review: &Review, node: NodeId) -> Option<&MoveRead> {
    review.moves.iter().find(|m| m.node == node)
}

/// A way through the tree as the place of something: 'after c7 Rd6+'.
#[must_use]
pub fn after(path: &[String]) -> String {
    match path {
        [] => tr!("in the position").to_owned(),
        path => tr!("after {}", path.join(" ")),
    }
}
