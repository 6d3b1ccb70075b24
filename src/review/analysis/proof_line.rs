//! Lines that prove a finding, and the lines they are compared with.

use shakmaty::Move;

use crate::board::Line;
use crate::judge::{Answer, JudgeError, Question, Ranked};
use crate::review::analysis::judge_client::JudgeClient;
use crate::review::analysis::point::{self, Claim};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::thresholds::{NOT_YET_MATE, PROOF_EXTENSIONS, PROOF_MATE_MAX, PROOF_MIN};
use crate::score::PlayerScore;
use crate::tree::NodeId;

/// The part of a line that is told of a note: to its point, for the side that it is good for.
pub(crate) fn told<'m>(from: &Line, moves: &'m [Move], truth: PlayerScore) -> &'m [Move] {
    let player = from.player();
    let gains = if truth < PlayerScore::LEVEL {
        player.other()
    } else {
        player
    };
    let point = point::of(
        from,
        moves,
        Claim {
            truth,
            gains,
            offers: false,
        },
    );
    moves.get(..point.plies).unwrap_or(moves)
}

/// True where the score says that there may be a mate at the end.
fn is_all_or_nothing(score: PlayerScore) -> bool {
    !NOT_YET_MATE.contains(&score.value())
}

/// A proof that may have to be searched on from its end.
pub(crate) struct Proof<'d> {
    moves: &'d mut Vec<Move>,
    /// Where the moves lead.
    line: Line,
    /// The score says that there may be a mate at the end: then it is played out.
    decided: bool,
    done: bool,
}

impl<'d> Proof<'d> {
    pub(crate) fn new(from: &Line, moves: &'d mut Vec<Move>, truth: PlayerScore) -> Self {
        let mut line = from.clone();
        let known = moves.iter().take_while(|mv| line.push(mv).is_ok()).count();
        moves.truncate(known);
        Self {
            moves,
            line,
            decided: is_all_or_nothing(truth),
            done: false,
        }
    }

    fn is_long_enough(&self) -> bool {
        self.moves.len() >= PROOF_MIN
    }

    fn is_over(&self) -> bool {
        let by_rule = self.line.rule().is_some_and(|r| !r.is_claim());
        self.done || by_rule || (self.is_long_enough() && !self.decided)
    }

    fn grow(&mut self, answer: Answer) {
        let best = answer.moves.into_iter().next();
        let mates = |m: &Ranked| m.mate.is_some_and(|n| n.abs() <= PROOF_MATE_MAX);
        let Some(best) = best.filter(|m| !self.is_long_enough() || mates(m)) else {
            self.done = true;
            return;
        };
        for mv in best.pv {
            if self.line.push(&mv).is_err() {
                break;
            }
            self.moves.push(mv);
        }
    }
}

/// The proofs, searched on from their ends until they are long enough or the game is over; where the
/// score says that it is decided, a mate at the end is played out. All are asked about together, so that no engine
/// waits.
pub(crate) fn extend(
    mut growing: Vec<Proof<'_>>,
    client: &mut JudgeClient<'_>,
) -> Result<(), JudgeError> {
    for _ in 0..PROOF_EXTENSIONS {
        growing.retain(|g| !g.is_over());
        let question = |g: &Proof<'_>| Question {
            line: g.line.clone(),
            lines: 1,
            nodes: client.nodes,
        };
        let questions: Vec<Question> = growing.iter().map(question).collect();
        for (proof, answer) in growing.iter_mut().zip(client.ask(&questions)?) {
            proof.grow(answer);
        }
    }
    Ok(())
}

/// Every way through the tree to the position of `at`, the one of `at` first. Ways are the same where
/// the Laws call the positions the same.
pub(crate) fn paths(analysis: &TreeAnalysis<'_>, at: NodeId) -> Vec<Vec<String>> {
    let mut paths = vec![analysis.tree.sans(at)];
    let key = |id: NodeId| match analysis.place(id) {
        Some(place) => Some(place.line.key()),
        // Not asked about.
        None => analysis.tree.line(id).map(|line| line.key()),
    };
    let Some(here) = key(at) else {
        return paths;
    };
    let others = analysis.positions();
    let others = others.filter(|id| *id != at && key(*id).as_ref() == Some(&here));
    paths.extend(others.map(|id| analysis.tree.sans(id)));
    paths
}

/// What the player wrote from `at` on, in SAN: through `first` where it is given, else along the line
/// that matters most by the truth; as typed from the first impossible move on.
pub(crate) fn instead(
    analysis: &TreeAnalysis<'_>,
    at: NodeId,
    first: Option<NodeId>,
) -> Vec<String> {
    let mut moves = Vec::new();
    let mut next = first.or_else(|| main_child(analysis, at));
    while let Some(id) = next {
        moves.push(analysis.tree.san(id));
        next = main_child(analysis, id);
    }
    moves
}

/// The written move that matters most at a place: the best for the side to move, the first written
/// among equals, or simply the first where nothing is known.
pub(crate) fn main_child(analysis: &TreeAnalysis<'_>, at: NodeId) -> Option<NodeId> {
    let choice = analysis.choice.filter(|_| at == NodeId::ROOT);
    let best = || analysis.place(at)?.written().next()?.node;
    choice
        .or_else(best)
        .or_else(|| analysis.standing(at).next())
}

/// The choice's main line: the written moves that matter most, from the choice on, as far as they can be played.
pub(crate) fn main_line(analysis: &TreeAnalysis<'_>) -> Vec<NodeId> {
    let line = std::iter::successors(analysis.choice, |id| main_child(analysis, *id));
    line.take_while(|id| analysis.place(*id).is_some())
        .collect()
}
