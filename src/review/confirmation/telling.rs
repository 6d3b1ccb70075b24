//! A confirmed finding as it is told: its words, and the lines it is shown by.

use crate::board::{line, motif};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::analysis::{player_valuation, proof_line};
use crate::review::confirmation::confirmed::Confirmed;
use crate::review::findings::forward_image;
use crate::review::findings::suspect::Suspect;
use crate::review::model::evidence::{Evidence, ToldLine};
use crate::review::model::fault::Fault;
use crate::review::model::finding::{Finding, FindingPart, Turn};
use crate::review::model::thresholds::ROUNDING;
use crate::review::wording;
use crate::score::ScoreDiff;
use crate::tree::NodeId;

/// The finding in words; what was told ahead of the rest as it was told.
pub(crate) fn finding(analysis: &TreeAnalysis<'_>, confirmed: &Confirmed<'_>) -> Finding {
    if let Some(said) = &confirmed.said {
        return said.finding.clone();
    }
    let Confirmed {
        suspect, ruling, ..
    } = confirmed;
    let place = suspect.place;
    let evidence = evidence(analysis, confirmed);
    let sans = |told: &ToldLine| line::sans(place.line.position(), &told.moves);
    let also = confirmed.also.iter().map(|at| analysis.tree.sans(*at));
    Finding {
        kind: suspect.kind(),
        class: ruling.class(),
        part: part(analysis, suspect),
        paths: proof_line::paths(analysis, suspect.at),
        also: also.collect(),
        resource: suspect.resource_text(analysis),
        proof: sans(&confirmed.argument.told),
        declined: evidence.declined.map(sans).unwrap_or_default(),
        gap: rounded(suspect.gap()),
        effect: rounded(suspect.effect),
        ply: suspect.ply(analysis),
        turn: if place.is_players_turn() {
            Turn::Player
        } else {
            Turn::Opponent
        },
        motifs: motifs(confirmed),
        sacrifice: confirmed.sacrifice,
        sentence: wording::sentence(&evidence),
        question: wording::question(&evidence),
        at: suspect.at,
        instead: proof_line::instead(analysis, suspect.at, instead(suspect)),
    }
}

/// The sentence that opens the review: about the finding that counts first, where there is one.
pub(crate) fn opening(
    analysis: &TreeAnalysis<'_>,
    first: Option<&Confirmed<'_>>,
    remarks: bool,
) -> String {
    match first.filter(|f| f.is_counted()) {
        Some(Confirmed {
            said: Some(said), ..
        }) => said.opening.clone(),
        Some(first) => wording::decisive(&evidence(analysis, first)),
        None => wording::holds(remarks),
    }
}

/// On the way that was chosen, or in another candidate.
fn part(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> FindingPart {
    let node = suspect.illegal_node().unwrap_or(suspect.at);
    if node == NodeId::ROOT || analysis.is_under_choice(node) {
        FindingPart::Choice
    } else {
        FindingPart::OtherCandidate
    }
}

fn evidence<'e>(analysis: &'e TreeAnalysis<'_>, confirmed: &'e Confirmed<'_>) -> Evidence<'e> {
    let suspect = &confirmed.suspect;
    let forward_image = match suspect.fault {
        Fault::IllegalMove { node, .. } => forward_image::forward(analysis, suspect.at, node),
        _ => None,
    };
    Evidence {
        tree: analysis.tree,
        choice: analysis.choice,
        place: suspect.at,
        line: &suspect.place.line,
        fault: &suspect.fault,
        told: &confirmed.argument.told,
        declined: confirmed.argument.declined.as_ref(),
        threat: confirmed.argument.threat.as_ref(),
        written: analysis.standing(suspect.at).collect(),
        compared: compared(analysis, suspect),
        choice_worth: analysis.choice_worth(),
        against: against(analysis),
        also: &confirmed.also,
        truth: suspect.truth,
        believed: suspect.believed,
        stated: player_valuation::stated(analysis, suspect.at),
        sacrifice: confirmed.sacrifice,
        zugzwang: confirmed.zugzwang,
        held_back: confirmed.ruling.held_back(),
        forward_image,
    }
}

/// The written move at the root that something better is compared with.
fn compared(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> Option<NodeId> {
    match suspect.fault {
        Fault::WrongChoice { .. } => analysis.choice,
        Fault::MissedCandidate { .. } => analysis.root().written().next()?.node,
        _ => None,
    }
}

/// What answers the chosen move, where that move gives away what was held.
fn against<'e>(analysis: &'e TreeAnalysis<'_>) -> Option<&'e shakmaty::Move> {
    let place = analysis.place(analysis.choice?)?;
    let lost = analysis.root().worth - analysis.choice_worth()?;
    let best = place
        .best()
        .filter(|_| lost + ROUNDING >= analysis.settings.delta)?;
    Some(&best.mv)
}

/// The written move that stands beside the resource, where it is not simply the one that matters most there.
fn instead(suspect: &Suspect<'_>) -> Option<NodeId> {
    match suspect.fault {
        Fault::WrongChoice { node, .. } | Fault::IllegalMove { node, .. } => Some(node),
        _ => None,
    }
}

fn motifs(confirmed: &Confirmed<'_>) -> Vec<motif::Motif> {
    let Suspect { place, proof, .. } = &confirmed.suspect;
    let Some(mv) = confirmed.suspect.resource() else {
        return Vec::new();
    };
    let mut found = motif::motifs_of(&place.line, mv, proof);
    if proof.first() == Some(mv) {
        found.extend(confirmed.zugzwang.map(|_| motif::Motif::EveryMoveHarms));
    }
    found
}

/// Scores are told to a thousandth: more digits would be noise, and would differ between machines.
fn rounded(score: ScoreDiff) -> ScoreDiff {
    ScoreDiff::new((score.value() * 1000.0).round() / 1000.0)
}
