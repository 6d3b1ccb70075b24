//! What a suspect is worth when both of its moves are searched again, each alone and with more nodes.

use shakmaty::Move;

use crate::board::{Line, sacrifice};
use crate::judge::{JudgeError, Question};
use crate::notation::{self, Reading};
use crate::review::analysis::judge_client::{JudgeClient, for_player, played};
use crate::review::analysis::position::AnalysedPosition;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::confirmed::{Rechecked, at_first_sight, is_beside};
use crate::review::confirmation::threshold;
use crate::review::findings::forward_image;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::{Fault, Ruling};
use crate::review::model::thresholds::{FURTHER, SLIPS, THREAT};
use crate::review::model::verdicts;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

/// Nodes of the searches that confirm a suspect.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Nodes {
    /// After what was overlooked.
    resource: u64,
    /// After what was written instead.
    written: u64,
}

impl Nodes {
    /// The full number for both; where the suspect cannot count anyway half of it, and for the overlooked move alone:
    /// it is the best of many, and so the one that noise favours.
    pub(crate) fn full(
        analysis: &TreeAnalysis<'_>,
        suspect: &Suspect<'_>,
        client: &JudgeClient<'_>,
    ) -> Self {
        let times = analysis.settings.confirm;
        if is_beside(analysis, suspect, at_first_sight(suspect)) {
            return Self {
                resource: client.nodes * (times / 2).max(1),
                written: client.nodes,
            };
        }
        let nodes = client.nodes * times.max(1);
        Self {
            resource: nodes,
            written: nodes,
        }
    }

    /// Twice the full number, where something is left in doubt.
    pub(crate) fn further(
        analysis: &TreeAnalysis<'_>,
        suspect: &Suspect<'_>,
        client: &JudgeClient<'_>,
    ) -> Self {
        let full = Self::full(analysis, suspect, client);
        Self {
            resource: full.resource * FURTHER,
            written: full.written * FURTHER,
        }
    }

    /// What is asked first: half of that where it may do.
    pub(crate) fn first(
        analysis: &TreeAnalysis<'_>,
        suspect: &Suspect<'_>,
        client: &JudgeClient<'_>,
    ) -> Self {
        let full = Self::full(analysis, suspect, client);
        if !threshold::is_plain(analysis.settings.delta, suspect) {
            return full;
        }
        Self {
            resource: (full.resource / 2).max(client.nodes),
            written: (full.written / 2).max(client.nodes),
        }
    }
}

/// What a confirming search says of a position: its worth to the player, and what is expected from there.
struct Deep {
    worth: PlayerScore,
    moves: Vec<Move>,
}

impl Deep {
    /// The same with the move before it.
    fn after(self, mv: &Move) -> Self {
        let moves = std::iter::once(mv.clone()).chain(self.moves).collect();
        Self { moves, ..self }
    }
}

/// How a suspect is asked about again.
enum Way {
    /// By the board alone.
    Board,
    /// Its position, against the verdict on it.
    Position,
    /// Two moves at one place.
    Moves,
    /// The threat, against the best move of the root.
    Threat,
    /// The position after the feared reply, against the verdict on it.
    Feared,
}

fn way(suspect: &Suspect<'_>) -> Way {
    match suspect.fault {
        Fault::IllegalMove { .. } | Fault::FalseMate { .. } | Fault::BareCandidate { .. } => {
            Way::Board
        }
        Fault::EndOfLine { .. } | Fault::GameOver | Fault::SeenMisjudged { .. } => Way::Position,
        Fault::MissedThreat { .. } => Way::Threat,
        Fault::FearedReply { .. } => Way::Feared,
        Fault::MissedCandidate { .. }
        | Fault::WrongChoice { .. }
        | Fault::MissedResource { .. }
        | Fault::MissedReply { .. } => Way::Moves,
    }
}

/// What the confirmation of the suspects asks first of all.
pub(crate) fn questions(
    analysis: &TreeAnalysis<'_>,
    suspects: &[(&Suspect<'_>, Nodes)],
) -> Result<Vec<Question>, JudgeError> {
    let mut questions = Vec::new();
    for (suspect, nodes) in suspects {
        let lines = match way(suspect) {
            Way::Board => Vec::new(),
            Way::Position | Way::Feared => vec![(suspect.place.line.clone(), nodes.resource)],
            // Where nothing was written after the choice its own position is searched for the threat.
            Way::Threat if analysis.is_end(suspect.at) => {
                vec![(suspect.place.line.clone(), nodes.resource)]
            }
            Way::Threat | Way::Moves => both_sides(analysis, suspect, *nodes)?,
        };
        questions.extend(lines.into_iter().map(|(line, nodes)| Question {
            line,
            lines: 1,
            nodes,
        }));
    }
    Ok(questions)
}

/// The positions after the resource and after what it is compared with, as far as both are to be searched.
fn both_sides(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    nodes: Nodes,
) -> Result<Vec<(Line, u64)>, JudgeError> {
    let place = suspect.place;
    let mut lines = Vec::new();
    let resource = suspect.resource();
    if let Some(mv) = resource.filter(|mv| !is_refuted(analysis, place, mv)) {
        lines.push((played(&place.line, mv)?, nodes.resource));
    }
    if let Some(other) = other_side(analysis, suspect) {
        lines.push((analysis.asked(other)?.line.clone(), nodes.written));
    }
    Ok(lines)
}

/// The suspect as it stands by more nodes; `None` where it does not.
pub(crate) fn recheck<'s>(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'s>,
    nodes: Nodes,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Rechecked<'s>>, JudgeError> {
    let mut suspect = suspect.clone();
    let ruling = match way(&suspect) {
        Way::Board => Some(by_the_board(analysis, &mut suspect, client)?),
        Way::Threat => recheck_threat(analysis, &mut suspect, nodes, client)?,
        Way::Feared => recheck_feared(analysis, &mut suspect, nodes, client)?,
        Way::Position => recheck_position(analysis, &mut suspect, nodes, client)?,
        Way::Moves => recheck_moves(analysis, &mut suspect, nodes, client)?,
    };
    Ok(ruling.map(|ruling| Rechecked { suspect, ruling }))
}

/// Two moves at one place: the resource and the best written one.
fn recheck_moves(
    analysis: &TreeAnalysis<'_>,
    suspect: &mut Suspect<'_>,
    nodes: Nodes,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Ruling>, JudgeError> {
    let place = suspect.place;
    let resource = match (&suspect.fault, suspect.resource()) {
        (Fault::WrongChoice { node, better, .. }, _) => {
            let node = analysis.asked(*node)?;
            deep_worth(analysis, node, nodes.resource, client)?.after(better)
        }
        (_, Some(mv)) => deep_move(analysis, place, mv, nodes.resource, client)?,
        (_, None) => return Ok(None),
    };
    let better = resource.worth;
    prove(suspect, resource.moves);
    let other = other_side(analysis, suspect).ok_or(JudgeError::Unanswered)?;
    let written = deep_worth(analysis, analysis.asked(other)?, nodes.written, client)?.worth;
    let gap = place.prefers(better, written);
    let doubt = if offers_itself(suspect) {
        ScoreDiff::ZERO
    } else {
        let delta = analysis.settings.delta;
        threshold::doubt(delta, suspect.gap(), gap, (better, written))
    };
    let gained = suspect.effect - suspect.gap();
    (suspect.truth, suspect.believed) = (better, written);
    if suspect.fault.is_about_the_root() {
        suspect.effect = suspect.gap() + gained;
    }
    Ok(threshold::ruling(analysis, suspect, gap, doubt))
}

/// The line of the longer search proves better than that of the first look, where it begins with the same move.
fn prove(suspect: &mut Suspect<'_>, moves: Vec<Move>) {
    if moves.len() > 1 && moves.first() == suspect.resource() {
        suspect.proof = moves;
    }
}

/// A reply that offers itself stands on its line: it is no shade of an advantage.
fn offers_itself(suspect: &Suspect<'_>) -> bool {
    let pos = suspect.place.line.position();
    let offer = suspect.resource().and_then(|mv| sacrifice::offer(pos, mv));
    suspect.fault.gives_up() && offer.is_some_and(|o| o.active)
}

/// The written move that the resource is compared with.
fn other_side(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> Option<NodeId> {
    match suspect.fault {
        Fault::WrongChoice { .. } => analysis.choice,
        Fault::MissedThreat { .. } => analysis.root().best()?.node,
        _ => suspect.place.written().next()?.node,
    }
}

/// A verdict in a line, against the position searched again.
fn recheck_position(
    analysis: &TreeAnalysis<'_>,
    suspect: &mut Suspect<'_>,
    nodes: Nodes,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Ruling>, JudgeError> {
    let deep = deep_worth(analysis, suspect.place, nodes.resource, client)?;
    let truth = deep.worth;
    suspect.truth = truth;
    prove(suspect, deep.moves);
    let verdict = analysis.verdict(suspect.at);
    let slack = analysis.settings.delta.half();
    if verdict.is_none_or(|v| verdicts::agrees(v, analysis.player(), truth, slack)) {
        return Ok(None);
    }
    let gap = suspect.gap();
    Ok(threshold::ruling(analysis, suspect, gap, ScoreDiff::ZERO))
}

/// The threat against the best move of the root.
fn recheck_threat(
    analysis: &TreeAnalysis<'_>,
    suspect: &mut Suspect<'_>,
    nodes: Nodes,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Ruling>, JudgeError> {
    let root = analysis.root();
    let (Some(threat), Some(best)) = (suspect.resource(), root.best()) else {
        return Ok(None);
    };
    let deep = deep_move(analysis, suspect.place, threat, nodes.resource, client)?;
    let allowed = deep.worth;
    let without = match best.node {
        Some(node) => deep_worth(analysis, analysis.asked(node)?, nodes.written, client)?,
        None => deep_move(analysis, root, &best.mv, nodes.written, client)?,
    };
    let without = without.worth;
    prove(suspect, deep.moves);
    (suspect.truth, suspect.believed) = (allowed, without);
    let gap = without - allowed;
    suspect.effect = gap.max(ScoreDiff::ZERO);
    let doubt = analysis.settings.delta.times(THREAT - 1.0);
    Ok(threshold::ruling(analysis, suspect, gap, doubt))
}

/// The position after the feared reply, against the verdict on it and the best move of the root.
fn recheck_feared(
    analysis: &TreeAnalysis<'_>,
    suspect: &mut Suspect<'_>,
    nodes: Nodes,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Ruling>, JudgeError> {
    let deep = deep_worth(analysis, suspect.place, nodes.resource, client)?;
    let truth = deep.worth;
    suspect.truth = truth;
    prove(suspect, deep.moves);
    let harmless = analysis.root().worth - truth <= analysis.settings.delta.half();
    if !harmless {
        return Ok(None);
    }
    let gap = truth - suspect.believed;
    Ok(threshold::ruling(analysis, suspect, gap, ScoreDiff::ZERO))
}

/// What no search can deny counts as it did at first sight, but for a slip of the pen.
fn by_the_board(
    analysis: &TreeAnalysis<'_>,
    suspect: &mut Suspect<'_>,
    client: &mut JudgeClient<'_>,
) -> Result<Ruling, JudgeError> {
    if let Fault::IllegalMove { node, .. } = suspect.fault {
        let meant = meant(analysis, suspect, node, client)?;
        if meant.is_some() {
            suspect.fault = Fault::IllegalMove { node, meant };
            return Ok(Ruling::Aside);
        }
    }
    Ok(at_first_sight(suspect))
}

/// An impossible move that one edit of the text turns into a good one was meant as that: told, not
/// counted. A piece that is no longer, or not yet, where
/// he had it in mind is no slip.
fn meant(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    illegal: NodeId,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Move>, JudgeError> {
    let place = suspect.place;
    let Some(node) = analysis.tree.node(illegal) else {
        return Ok(None);
    };
    let retained = matches!(&node.reading, Reading::Phantom(p) if p.retained.is_some());
    if retained || forward_image::forward(analysis, suspect.at, illegal).is_some() {
        return Ok(None);
    }
    let slips = notation::slips(&node.token, &place.line);
    for mv in slips.into_iter().take(SLIPS) {
        let worth = client.alone(&played(&place.line, &mv)?, client.nodes)?;
        if place.prefers(place.worth, worth) < analysis.settings.delta {
            return Ok(Some(mv));
        }
    }
    Ok(None)
}

/// A move searched alone with the nodes of a confirmation. Where a forcing reply has already shown it to
/// be worth less, a search from above that does not see the reply is no evidence against that.
fn deep_move(
    analysis: &TreeAnalysis<'_>,
    place: &AnalysedPosition,
    mv: &Move,
    nodes: u64,
    client: &mut JudgeClient<'_>,
) -> Result<Deep, JudgeError> {
    let known = place.moves.iter().find(|m| m.mv == *mv);
    if let Some(refuted) = known.filter(|_| is_refuted(analysis, place, mv)) {
        return Ok(Deep {
            worth: refuted.worth,
            moves: refuted.pv.clone(),
        });
    }
    Ok(searched(&played(&place.line, mv)?, nodes, client)?.after(mv))
}

/// The position that a line has reached, searched alone.
fn searched(line: &Line, nodes: u64, client: &mut JudgeClient<'_>) -> Result<Deep, JudgeError> {
    let answer = client.ask_one(line, 1, nodes)?;
    let worth = for_player(line, &answer);
    let best = answer.moves.into_iter().next();
    let moves = best.map(|m| m.pv).unwrap_or_default();
    Ok(Deep { worth, moves })
}

/// True where a forcing reply has shown the move to be worth less than its own search says.
fn is_refuted(analysis: &TreeAnalysis<'_>, place: &AnalysedPosition, mv: &Move) -> bool {
    let known = place.moves.iter().find(|m| m.mv == *mv);
    known.is_some_and(|m| m.alone - m.worth >= analysis.settings.delta.half())
}

/// A position searched with the nodes of a confirmation. Where what is known
/// from below is better for the side to move, the line that makes it so is followed and confirmed at its end instead: a
/// search from above that did not see it is no evidence against it. Nor is one whose move is known to fail; but a
/// better move that nothing is known against is what more nodes are for.
fn deep_worth(
    analysis: &TreeAnalysis<'_>,
    place: &AnalysedPosition,
    nodes: u64,
    client: &mut JudgeClient<'_>,
) -> Result<Deep, JudgeError> {
    let alone = searched(&place.line, nodes, client)?;
    let known = |mv: &Move| {
        let known = place.moves.iter().find(|m| m.mv == *mv);
        known.is_some_and(|m| m.node.is_some()) || is_refuted(analysis, place, mv)
    };
    let same = (alone.worth - place.worth).abs() < analysis.settings.delta.half();
    let better = place.prefers(alone.worth, place.worth) > ScoreDiff::ZERO;
    if same || better && alone.moves.first().is_some_and(|mv| !known(mv)) {
        return Ok(alone);
    }
    match place.best() {
        Some(best) => match best.node {
            Some(node) => {
                let below = deep_worth(analysis, analysis.asked(node)?, nodes, client)?;
                Ok(below.after(&best.mv))
            }
            None => deep_move(analysis, place, &best.mv, nodes, client),
        },
        None => Ok(alone),
    }
}
