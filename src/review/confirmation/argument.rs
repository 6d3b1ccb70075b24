//! The form of a proof: what the resource is decides what has to be shown.
//!
//! An offer is proved by the line that takes it, and what the other side can do instead is told after it, where
//! that is better for it. Of a quiet move its threat is shown: what would happen if the other side passed. All
//! lines are told to their point.

use shakmaty::{Color, Move, Position};

use crate::board::{Line, motif};
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::{JudgeClient, for_player, played};
use crate::review::analysis::point::{self, Claim, Point};
use crate::review::analysis::proof_line::{self, Proof};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::evidence::{Shown, Threat, ToldLine};
use crate::review::model::thresholds::PASS_PART;
use crate::score::{MoverScore, PlayerScore};

/// The lines that a finding is told by, each to its point.
#[derive(Debug, Clone)]
pub(crate) struct Argument {
    pub told: ToldLine,
    /// What else the other side can do than take what is offered.
    pub declined: Option<ToldLine>,
    pub threat: Option<Threat>,
}

impl Argument {
    /// By the proof alone; `offers` says that its resource gives up more than a pawn.
    pub(crate) fn plain(suspect: &Suspect<'_>, offers: bool) -> Self {
        Self {
            told: told(suspect, &suspect.proof, suspect.truth, offers),
            declined: None,
            threat: None,
        }
    }

    /// True where something can be seen: the proof makes its point, or its threat does.
    pub(crate) fn is_seen(&self) -> bool {
        self.told.shown != Shown::Nothing || self.threat.is_some()
    }
}

/// The side that the truth is good for, by what was believed.
pub(crate) fn gains(suspect: &Suspect<'_>) -> Color {
    let player = suspect.place.line.player();
    if suspect.truth < suspect.believed {
        player.other()
    } else {
        player
    }
}

/// Where the proof makes its point.
pub(crate) fn point(suspect: &Suspect<'_>) -> Point {
    let claim = claim(suspect, suspect.truth, false);
    point::of(&suspect.place.line, &suspect.proof, claim)
}

fn claim(suspect: &Suspect<'_>, truth: PlayerScore, offers: bool) -> Claim {
    Claim {
        truth,
        gains: gains(suspect),
        offers,
    }
}

fn told(suspect: &Suspect<'_>, moves: &[Move], truth: PlayerScore, offers: bool) -> ToldLine {
    let point = point::of(&suspect.place.line, moves, claim(suspect, truth, offers));
    ToldLine {
        moves: moves.iter().take(point.plies).cloned().collect(),
        shown: point.shown,
        truth,
    }
}

/// The lines of a finding that counts; `accept` is the capture that takes what its resource offers.
pub(crate) fn of(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    accept: Option<&Move>,
    client: &mut JudgeClient<'_>,
) -> Result<Argument, JudgeError> {
    let mut argument = Argument::plain(suspect, accept.is_some());
    // Where the offer does not help who makes it, taking it proves nothing of what was believed.
    if let Some(accept) = accept.filter(|_| is_good_for_mover(suspect)) {
        if let Some((taken, truth)) = taken(analysis, suspect, accept, client)? {
            let declined =
                std::mem::replace(&mut argument.told, told(suspect, &taken, truth, true));
            let better = (declined.truth - truth).abs() > analysis.settings.equal;
            argument.declined = Some(declined).filter(|d| better && d.moves.len() > 1);
        }
    } else if accept.is_none() && argument.told.shown == Shown::Nothing {
        argument.threat = threat(analysis, suspect, client)?;
    }
    Ok(argument)
}

/// The line that takes what is offered and what it leaves the player, where the proof does something else;
/// `None` too where taking it would be no worse: then there is nothing to be shown by it.
fn taken(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    accept: &Move,
    client: &mut JudgeClient<'_>,
) -> Result<Option<(Vec<Move>, PlayerScore)>, JudgeError> {
    let Some(resource) = suspect.resource() else {
        return Ok(None);
    };
    let answer = suspect.proof.get(1);
    if answer.is_none_or(|mv| mv.is_capture() && mv.to() == accept.to()) {
        return Ok(None);
    }
    let after = played(&played(&suspect.place.line, resource)?, accept)?;
    let searched = client.ask_one(&after, 1, client.nodes)?;
    let mut moves = vec![resource.clone(), accept.clone()];
    let best = searched.moves.first();
    moves.extend(best.map(|m| m.pv.clone()).unwrap_or_default());
    let truth = for_player(&after, &searched);
    let harm = suspect.place.prefers(truth, suspect.truth);
    if harm.value() < -analysis.settings.equal.value() {
        return Ok(None);
    }
    let proof = Proof::new(&suspect.place.line, &mut moves, truth);
    proof_line::extend(vec![proof], client)?;
    Ok(Some((moves, truth)))
}

/// What a quiet resource would do if the other side passed, where that makes a point.
fn threat(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Threat>, JudgeError> {
    let line = &suspect.place.line;
    let quiet = suspect
        .resource()
        .filter(|mv| !motif::is_forcing(line.position(), mv));
    let Some(mv) = quiet.filter(|_| is_good_for_mover(suspect)) else {
        return Ok(None);
    };
    let Ok(passed) = played(line, mv)?.position().clone().swap_turn() else {
        return Ok(None);
    };
    let from = Line::new(passed);
    let answer = client.ask_one(&from, 1, (client.nodes / PASS_PART).max(1))?;
    let players = suspect.place.is_players_turn();
    let now = MoverScore::new(if players {
        suspect.truth.value()
    } else {
        suspect.truth.of_opponent().value()
    });
    let moves = answer.moves.into_iter().next().map(|m| m.pv);
    let Some(moves) = moves.filter(|_| answer.expected.over(now) >= analysis.settings.delta) else {
        return Ok(None);
    };
    let mover = from.player();
    let worth = answer.expected.for_player(mover, mover);
    let point = point::of(
        &from,
        &moves,
        Claim {
            truth: worth,
            gains: mover,
            offers: false,
        },
    );
    let told: Vec<Move> = moves.into_iter().take(point.plies).collect();
    let is_short = !told.is_empty() && matches!(point.shown, Shown::End | Shown::Material);
    Ok(is_short.then_some(Threat { from, moves: told }))
}

/// True where the resource is good for the side that plays it, and does not only answer a verdict that was too low.
fn is_good_for_mover(suspect: &Suspect<'_>) -> bool {
    suspect.place.line.turn() == gains(suspect)
}
