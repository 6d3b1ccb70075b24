//! Root: what the opponent would play anyway stands in no line.

use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Fault;

/// If the player passed, the opponent would play the very move that the choice allows: it costs
/// delta, and it stands in none of his lines.
pub(crate) fn detect<'s>(analysis: &'s TreeAnalysis<'_>) -> Option<Suspect<'s>> {
    let (threat, chosen) = (analysis.threat.as_ref()?, analysis.choice?);
    let place = analysis.place(chosen)?;
    let allowed = place.moves.iter().find(|m| m.mv == *threat)?;
    let before = analysis.root().worth;
    let lost = before - allowed.worth;
    let opponents = analysis.places.values().filter(|p| !p.is_players_turn());
    let is_met = opponents.flat_map(|p| p.written()).any(|m| m.mv == *threat);
    if is_met || lost < analysis.settings.delta || analysis.is_decided(before, allowed.worth) {
        return None;
    }
    let fault = Fault::MissedThreat {
        threat: threat.clone(),
    };
    let suspect = Suspect::new(chosen, place, fault, (allowed.worth, before))
        .proved_by(&allowed.pv)
        .with_effect(lost);
    Some(suspect)
}
