//! A confirmed finding as it is told: its words, and the lines it is shown by.

use crate::board::{line, motif};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::analysis::{player_valuation, proof_line};
use crate::review::confirmation::confirmed::Confirmed;
use crate::review::findings::forward_image;
use crate::review::findings::suspect::Suspect;
use crate::review::model::evidence::Evidence;
use crate::review::model::fault::Fault;
use crate::review::model::finding::{Finding, Turn};
use crate::review::wording;
use crate::score::ScoreDiff;
use crate::tree::NodeId;

/// The finding in words.
pub(crate) fn finding(analysis: &TreeAnalysis<'_>, confirmed: &Confirmed<'_>) -> Finding {
    let Confirmed {
        suspect, ruling, ..
    } = confirmed;
    let place = suspect.place;
    let evidence = evidence(analysis, confirmed);
    Finding {
        kind: suspect.kind(),
        class: ruling.class(),
        paths: proof_line::paths(analysis, suspect.at),
        resource: suspect.resource_text(analysis),
        proof: line::sans(place.line.position(), evidence.told),
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
        question: wording::question(&evidence).to_owned(),
        at: suspect.at,
        instead: proof_line::instead(analysis, suspect.at, instead(suspect)),
    }
}

fn evidence<'e>(analysis: &'e TreeAnalysis<'_>, confirmed: &'e Confirmed<'_>) -> Evidence<'e> {
    let suspect = &confirmed.suspect;
    let line = &suspect.place.line;
    let forward_image = match suspect.fault {
        Fault::IllegalMove { node, .. } => forward_image::forward(analysis, suspect.at, node),
        _ => None,
    };
    Evidence {
        tree: analysis.tree,
        choice: analysis.choice,
        place: suspect.at,
        line,
        fault: &suspect.fault,
        told: proof_line::told(line, &suspect.proof, suspect.truth),
        truth: suspect.truth,
        believed: suspect.believed,
        stated: player_valuation::stated(analysis, suspect.at),
        sacrifice: confirmed.sacrifice,
        zugzwang: confirmed.zugzwang,
        held_back: confirmed.ruling.held_back(),
        forward_image,
    }
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
    if proof.first() != Some(mv) {
        return motif::motifs(&place.line, mv);
    }
    let mut found = motif::motifs_in_line(&place.line, proof);
    found.extend(confirmed.zugzwang.map(|_| motif::Motif::EveryMoveHarms));
    found
}

/// Scores are told to a thousandth: more digits would be noise, and would differ between machines.
fn rounded(score: ScoreDiff) -> ScoreDiff {
    ScoreDiff::new((score.value() * 1000.0).round() / 1000.0)
}
