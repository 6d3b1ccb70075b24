//! Lines that prove a finding, and the lines they are compared with.

use shakmaty::{Chess, Move, Position};

use crate::board::{Line, exchange};
use crate::judge::{Answer, JudgeError, Question, Ranked};
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::findings::suspect::Draft;
use crate::tree::NodeId;

/// Searches at the end of a proof that is too short to prove anything.
const EXTENSIONS: usize = 4;
/// A proof shorter than this is searched on from its end.
const PROOF_MIN: usize = 4;
/// The longest mate that is played out, in moves.
const MATE_MAX: i32 = 6;
/// Half-moves of a proof that are told at most, unless it ends in mate or stalemate.
const TOLD_MAX: usize = 10;
/// Half-moves told where nothing settles.
const UNSETTLED: usize = 5;

/// The part of a proof worth telling: to the end of the game or to a repetition where it reaches one,
/// else to the last settled position within [`TOLD_MAX`] half-moves, so that it does not end in the
/// middle of an exchange. Where nothing settles, the first half-moves must do. Where the `truth` (expected
/// score of the player) is not level, a repetition proves nothing, and what only goes round is left out.
pub(crate) fn told<'m>(place: &Place, moves: &'m [Move], truth: f64) -> &'m [Move] {
    let mut line = place.line.clone();
    let mut cut = 0;
    for (i, mv) in moves.iter().enumerate() {
        if line.push(mv).is_err() {
            break;
        }
        if line.position().is_game_over() {
            cut = i + 1;
            break;
        }
        if line.occurrences_since_root() > 1 {
            let round = before_the_circle(place, moves, i);
            let told = if is_level(truth) { i + 1 } else { round };
            return moves.get(..told).unwrap_or(moves);
        }
        if i < TOLD_MAX && is_settled(&line) {
            cut = i + 1;
        }
    }
    if cut < 2 {
        cut = cut.max(moves.len().min(UNSETTLED));
    }
    moves.get(..cut).unwrap_or(moves)
}

/// True where the score says that there may be a mate at the end.
fn is_all_or_nothing(e: f64) -> bool {
    !(0.02..=0.98).contains(&e)
}

/// A proof that is searched on from its end.
struct Growing<'d> {
    moves: &'d mut Vec<Move>,
    /// Where the moves lead.
    line: Line,
    /// The score says that there may be a mate at the end: then it is played out.
    decided: bool,
    done: bool,
}

impl<'d> Growing<'d> {
    fn new(from: &Line, moves: &'d mut Vec<Move>, truth: f64) -> Self {
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
        let mates = |m: &Ranked| m.mate.is_some_and(|n| n.abs() <= MATE_MAX);
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

/// The proofs of the drafts, searched on from their ends until they are long enough or the game is over; where the
/// score says that it is decided, a mate at the end is played out. All are asked about together, so that no engine
/// waits.
pub(crate) fn extend(
    survey: &Survey<'_>,
    drafts: &mut [Draft],
    asker: &mut Asker<'_>,
) -> Result<(), JudgeError> {
    let growing = drafts.iter_mut().filter_map(|draft| {
        let from = &survey.place(draft.at)?.line;
        Some(Growing::new(from, &mut draft.proof, draft.truth))
    });
    let mut growing: Vec<Growing<'_>> = growing.collect();
    for _ in 0..EXTENSIONS {
        growing.retain(|g| !g.is_over());
        let question = |g: &Growing<'_>| Question {
            line: g.line.clone(),
            lines: 1,
            nodes: asker.nodes,
        };
        let questions: Vec<Question> = growing.iter().map(question).collect();
        for (proof, answer) in growing.iter_mut().zip(asker.ask(&questions)?) {
            proof.grow(answer);
        }
    }
    Ok(())
}

/// Level by the bounds of the verdict signs (common practice, no source).
fn is_level(e: f64) -> bool {
    (0.45..=0.55).contains(&e)
}

/// Half-moves until the position that comes again after `moves[i]` stood for the first time; at least one.
fn before_the_circle(place: &Place, moves: &[Move], i: usize) -> usize {
    let mut lines = vec![place.line.clone()];
    for mv in moves.iter().take(i + 1) {
        let next = lines.last().and_then(|l| l.child(mv).ok());
        lines.extend(next);
    }
    let again = lines.last().map(Line::key);
    let first = lines.iter().position(|l| Some(l.key()) == again);
    first.unwrap_or(i).max(1)
}

/// True where nothing is hanging in the air: no check, no capture that wins something, no pawn of
/// either side about to promote.
pub(crate) fn is_settled(line: &Line) -> bool {
    let pos = line.position();
    !pos.is_check()
        && exchange::best_capture(pos).is_none()
        && !promotes(pos)
        && !pos.clone().swap_turn().is_ok_and(|p| promotes(&p))
}

fn promotes(pos: &Chess) -> bool {
    pos.legal_moves().iter().any(|mv| mv.promotion().is_some())
}

/// Every way through the tree to the position of `at`, the one of `at` first. Ways are the same where
/// the Laws call the positions the same.
pub(crate) fn paths(survey: &Survey<'_>, at: NodeId) -> Vec<Vec<String>> {
    let mut paths = vec![survey.tree.sans(at)];
    let Some(key) = survey.place(at).map(|p| p.line.key()) else {
        return paths;
    };
    for (id, place) in &survey.places {
        if *id != at && place.line.key() == key {
            paths.push(survey.tree.sans(*id));
        }
    }
    paths
}

/// What the player wrote from `at` on, in SAN: through `first` where it is given, else along the line
/// that matters most by the truth; as typed from the first impossible move on.
pub(crate) fn instead(survey: &Survey<'_>, at: NodeId, first: Option<NodeId>) -> Vec<String> {
    let mut moves = Vec::new();
    let mut next = first.or_else(|| main_child(survey, at));
    while let Some(id) = next {
        moves.push(survey.tree.san(id));
        next = main_child(survey, id);
    }
    moves
}

/// The written move that matters most at a place: the best for the side to move, the first written
/// among equals, or simply the first where nothing is known.
pub(crate) fn main_child(survey: &Survey<'_>, at: NodeId) -> Option<NodeId> {
    let choice = survey.choice.filter(|_| at == NodeId::ROOT);
    let best = || survey.place(at)?.written().next()?.node;
    choice
        .or_else(best)
        .or_else(|| survey.tree.standing(at).next())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;

    fn told_of(truth: f64) -> Vec<String> {
        let fen = "6k1/8/8/8/8/8/8/R5K1 w - - 0 1";
        let place = Place::bare(Line::new(read_fen(fen).unwrap()));
        let mut line = place.line.clone();
        for san in "Rb1 Kh8 Ra1 Kg8 Rb1 Kh8".split(' ') {
            let san: shakmaty::san::San = san.parse().unwrap();
            let mv = san.to_move(line.position()).unwrap();
            line.push(&mv).unwrap();
        }
        crate::board::line::sans(place.line.position(), told(&place, line.moves(), truth))
    }

    #[test]
    fn a_repetition_is_told_where_it_is_the_point() {
        assert_eq!(told_of(0.5).join(" "), "Rb1 Kh8 Ra1 Kg8");
    }

    #[test]
    fn going_round_proves_no_win() {
        assert_eq!(told_of(0.9).join(" "), "Rb1");
    }
}
