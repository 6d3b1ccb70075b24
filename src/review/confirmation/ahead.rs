//! What the choice hangs on, asked about before the rest of the tree.
//!
//! A player waits for one thing: does his move hold? So the line that his choice rests on by his own verdicts is
//! followed first, to the place where it parts from the truth, and the root is asked for what he left out. The more
//! costly of the two is confirmed as every finding is, and told while the rest of the tree is still to be asked
//! about. Where nothing is plain nothing is told, and nothing is lost: the questions are those of the whole review,
//! in another order.
//!
//! What was told here stays: the whole review begins with it.

use crate::attempt::Attempt;
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::JudgeClient;
use crate::review::analysis::player_valuation;
use crate::review::analysis::position::AnalysedPosition;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::confirmed::{Confirmed, Said, at_first_sight, is_beside};
use crate::review::confirmation::{facts, ranking, telling};
use crate::review::findings::suspect::Suspect;
use crate::review::findings::{effect, end_of_line, missed_candidate, missed_move};
use crate::review::model::input::ReviewInput;
use crate::review::model::settings::Settings;
use crate::review::model::thresholds::{AHEAD, AHEAD_TRIED, AHEAD_UNSAID};
use crate::score::ScoreDiff;
use crate::tree::NodeId;

/// The part of the truth that the choice hangs on.
pub(crate) struct Ahead<'a> {
    analysis: TreeAnalysis<'a>,
    /// The line that the choice rests on by his own verdicts.
    line: Vec<NodeId>,
    /// The first place at which that and the truth part.
    parting: Option<NodeId>,
}

impl<'a> Ahead<'a> {
    /// Asks about it; `None` where nothing was chosen, or his own verdicts do not say what the choice rests on.
    pub(crate) fn of(
        written: &ReviewInput<'a>,
        settings: &'a Settings,
        client: &mut JudgeClient<'_>,
    ) -> Result<Option<Self>, JudgeError> {
        let mut analysis = TreeAnalysis::unasked(written, settings);
        let Some(choice) = analysis.choice else {
            return Ok(None);
        };
        let unsaid = unsaid_ends(&analysis);
        if unsaid.len() > AHEAD_UNSAID {
            return Ok(None);
        }
        client.foresee(&analysis.foreseen(client));
        // Only what he left open needs the truth before his own line is known.
        analysis.look_at(unsaid, &[], client)?;
        analysis.own = player_valuation::values(&analysis);
        let line = own_line(&analysis, choice);
        let candidates: Vec<NodeId> = analysis.standing(NodeId::ROOT).collect();
        let first = std::iter::once(NodeId::ROOT).chain(candidates);
        analysis.look_at(first.chain(line.iter().copied()), &[], client)?;
        analysis.score_written(&[NodeId::ROOT], client)?;
        if is_much_left_out(&analysis) {
            analysis.propose(&[NodeId::ROOT], client)?;
        }
        let mut parting = None;
        for at in partings(&analysis, &line) {
            ask_at(&mut analysis, at, client)?;
            if suspects_at(&analysis, at)
                .iter()
                .any(|s| is_plain(&analysis, s))
            {
                parting = Some(at);
                break;
            }
        }
        analysis.back_up();
        analysis.refute(client)?;
        analysis.back_up();
        analysis.own = player_valuation::values(&analysis);
        Ok(Some(Self {
            analysis,
            line,
            parting,
        }))
    }

    /// The finding that is told ahead of all others, already told to the observer; `None` where nothing is plain.
    pub(crate) fn told(
        &self,
        attempt: Option<&Attempt>,
        client: &mut JudgeClient<'_>,
    ) -> Result<Option<Confirmed<'_>>, JudgeError> {
        let analysis = &self.analysis;
        let mut suspects: Vec<Suspect<'_>> = self
            .parting
            .map_or_else(Vec::new, |at| suspects_at(analysis, at));
        suspects.extend(missed_candidate::detect(analysis));
        suspects.retain(|s| is_plain(analysis, s) && !self.is_there_before(s));
        ranking::by_effect(analysis, &mut suspects, |s| s);
        let Some(first) = suspects.first() else {
            return Ok(None);
        };
        let found = super::confirm(analysis, &[first], attempt, client)?;
        let stands = |f: &Confirmed<'_>| f.is_counted() && is_plain(analysis, &f.suspect);
        let Some(mut found) = found.into_iter().next().filter(stands) else {
            return Ok(None);
        };
        let said = Said {
            finding: telling::finding(analysis, &found),
            opening: telling::opening(analysis, Some(&found), true),
        };
        client.watcher().opening(&said.opening);
        client.watcher().finding(&said.finding);
        found.said = Some(Box::new(said));
        Ok(Some(found))
    }
}

impl Ahead<'_> {
    /// True where the same move was the best one earlier on the line: there it belongs, with both places, and that the whole
    /// tree tells.
    fn is_there_before(&self, suspect: &Suspect<'_>) -> bool {
        let before = self.line.iter().take_while(|id| **id != suspect.at);
        let mut before = before.filter_map(|id| self.analysis.place(*id));
        let turn = suspect.place.line.turn();
        before.any(|place| match (place.pv.first(), suspect.resource()) {
            (Some(best), Some(mv)) => place.line.turn() == turn && facts::is_alike(best, mv),
            _ => false,
        })
    }
}

/// Asks about all that must be compared at a place of the line.
fn ask_at(
    analysis: &mut TreeAnalysis<'_>,
    at: NodeId,
    client: &mut JudgeClient<'_>,
) -> Result<(), JudgeError> {
    let written: Vec<NodeId> = analysis.standing(at).collect();
    analysis.look_at(written, &[], client)?;
    // Whether a reply that ends the line was a critical one, its neighbours say.
    let before = analysis.tree.parent(at).filter(|id| *id != NodeId::ROOT);
    let before: Vec<NodeId> = before.into_iter().collect();
    let beside: Vec<NodeId> = before
        .iter()
        .flat_map(|id| analysis.standing(*id))
        .collect();
    analysis.look_at(beside, &[], client)?;
    analysis.score_written(&before, client)?;
    analysis.score_written(&[at], client)?;
    analysis.propose(&[at], client)?;
    analysis.force(&[at], client)?;
    analysis.back_up();
    Ok(())
}

/// What seems to be wrong at a place of the line.
fn suspects_at<'s>(analysis: &'s TreeAnalysis<'_>, at: NodeId) -> Vec<Suspect<'s>> {
    let Some(place) = analysis.place(at) else {
        return Vec::new();
    };
    let mut suspects: Vec<Suspect<'s>> = missed_move::resource(analysis, at, place)
        .into_iter()
        .chain(missed_move::reply(analysis, at, place))
        .chain(end_of_line::detect(analysis, at, place))
        .collect();
    for suspect in &mut suspects {
        suspect.effect = effect::effect(analysis, suspect, &[]);
    }
    suspects
}

/// True where it costs so much that nothing which the rest brings could take it back.
fn is_plain(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> bool {
    let least = analysis.settings.delta.times(AHEAD);
    suspect.gap() >= least
        && suspect.effect >= least
        && !is_beside(analysis, suspect, at_first_sight(suspect))
}

/// The ends below the choice of which he said nothing: what they are worth to him, only the truth tells.
fn unsaid_ends(analysis: &TreeAnalysis<'_>) -> Vec<NodeId> {
    let positions = analysis.positions();
    let below = positions.filter(|id| analysis.is_under_choice(*id));
    below
        .filter(|id| analysis.is_end(*id) && analysis.verdict(*id).is_none())
        .collect()
}

/// The line on which the choice rests by his own verdicts.
fn own_line(analysis: &TreeAnalysis<'_>, choice: NodeId) -> Vec<NodeId> {
    let next = |at: &NodeId| player_valuation::main_move(analysis, *at);
    std::iter::successors(Some(choice), next).collect()
}

/// True where the root's search prefers something that was not written by much.
fn is_much_left_out(analysis: &TreeAnalysis<'_>) -> bool {
    let root = analysis.root();
    let Some(best) = root.best_of_all() else {
        return false;
    };
    let least = analysis.settings.delta.times(AHEAD);
    root.liked.iter().any(|l| l.alone - best >= least)
}

/// The places on the line from which the truth plainly seems to go another way than he thinks, the first ones: the side
/// to move has something better than what follows and than what he expects there, or the end is not what he said.
fn partings(analysis: &TreeAnalysis<'_>, line: &[NodeId]) -> Vec<NodeId> {
    let least = analysis.settings.delta.times(AHEAD);
    let parts = |(i, id): (usize, &NodeId)| {
        let place = analysis.place(*id)?;
        let following = line.get(i + 1).and_then(|next| analysis.place(*next));
        let off = match following {
            Some(next) => {
                let follows = place.prefers(place.alone, next.alone);
                let expected = analysis.own(*id)?;
                let thinks = place.prefers(place.alone, expected);
                if thinks < follows { thinks } else { follows }
            }
            None => said_otherwise(analysis, *id, place),
        };
        (off >= least).then_some(*id)
    };
    let partings = line.iter().enumerate().filter_map(parts);
    partings.take(AHEAD_TRIED).collect()
}

fn said_otherwise(analysis: &TreeAnalysis<'_>, id: NodeId, place: &AnalysedPosition) -> ScoreDiff {
    let stated = player_valuation::stated(analysis, id);
    stated.map_or(ScoreDiff::ZERO, |stated| (place.alone - stated).abs())
}
