//! Every check, capture and promotion of the opponent, and every move of the player at the root, searched by
//! itself: one search's pruning must not decide what there is.
//!
//! Most of them lose something and show it at once. So all are looked at with few nodes first, those that
//! are not clearly worse with more, and only what could be as good for the side to move as the best that is known
//! gets the full number. A check is given more patience: what it gives up comes back late.

use shakmaty::{Move, Position};

use crate::board::{Line, motif};
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::{JudgeClient, played};
use crate::review::analysis::position::{AnalysedMove, prefers};
use crate::review::model::thresholds::LookRound;
use crate::score::{PlayerScore, ScoreDiff};

/// What is asked at one place.
#[derive(Debug, Clone)]
pub(crate) struct Wanted {
    pub line: Line,
    /// Moves that are scored already.
    pub known: Vec<Move>,
    /// What the best of them leaves the player: a reply matters where it leaves him less, a move of his own where it
    /// leaves him more.
    pub bar: PlayerScore,
}

impl Wanted {
    /// By how much the side to move does worse with what leaves the player this than with the best that is known.
    fn behind(&self, alone: PlayerScore) -> ScoreDiff {
        prefers(&self.line, self.bar, alone)
    }
}

/// The moves of each place that were looked at with more than few nodes. Only those searched with the
/// full number are not rough.
pub(crate) fn searched(
    wanted: &[Wanted],
    rounds: &[LookRound],
    client: &mut JudgeClient<'_>,
) -> Result<Vec<Vec<AnalysedMove>>, JudgeError> {
    let mut going: Vec<(usize, Move)> = Vec::new();
    for (place, w) in wanted.iter().enumerate() {
        going.extend(moves(w).into_iter().map(|mv| (place, mv)));
    }
    let mut found: Vec<Vec<AnalysedMove>> = vec![Vec::new(); wanted.len()];
    for (number, round) in rounds.iter().enumerate() {
        let nodes = (client.nodes / round.part).max(1);
        let scored = score(wanted, going, nodes, client)?;
        going = Vec::new();
        for (place, (w, found)) in wanted.iter().zip(&mut found).enumerate() {
            let here = scored.iter().filter(|s| s.0 == place).map(|s| s.1.clone());
            let (on, out) = sorted_out(w, here.collect(), round);
            going.extend(on.into_iter().map(|s| (place, s.mv)));
            if number > 0 {
                found.extend(out);
            }
        }
    }
    let nodes = client.nodes;
    for (place, mut scored) in score(wanted, going, nodes, client)? {
        scored.rough = false;
        if let Some(found) = found.get_mut(place) {
            found.push(scored);
        }
    }
    Ok(found)
}

fn moves(wanted: &Wanted) -> Vec<Move> {
    let pos = wanted.line.position();
    let legal = pos.legal_moves().into_iter();
    let all = wanted.line.is_players_turn();
    let asked = legal.filter(|mv| all || motif::is_forcing(pos, mv));
    let mut moves: Vec<Move> = asked.filter(|mv| !wanted.known.contains(mv)).collect();
    // So that among equals the colours make no difference.
    let side = pos.turn();
    let rank = |s: shakmaty::Square| side.fold_wb(s.rank(), s.rank().flip_vertical());
    moves.sort_by_key(|mv| {
        let from = mv.from().map(|s| (rank(s), s.file()));
        (from, rank(mv.to()), mv.to().file(), mv.promotion())
    });
    moves
}

fn score(
    wanted: &[Wanted],
    moves: Vec<(usize, Move)>,
    nodes: u64,
    client: &mut JudgeClient<'_>,
) -> Result<Vec<(usize, AnalysedMove)>, JudgeError> {
    let line = |(place, mv): &(usize, Move)| {
        let wanted = wanted.get(*place).ok_or(JudgeError::Unanswered)?;
        played(&wanted.line, mv)
    };
    let lines = moves.iter().map(line);
    let lines = lines.collect::<Result<Vec<Line>, JudgeError>>()?;
    let searched = client.after_moves(&lines, nodes)?;
    let scored = moves.into_iter().zip(searched);
    let scored = scored.map(|((place, mv), (alone, pv))| {
        let scored = AnalysedMove {
            mv,
            node: None,
            alone,
            worth: alone,
            pv,
            rough: true,
        };
        (place, scored)
    });
    Ok(scored.collect())
}

/// What goes on to the next round, the best for the side to move first, and what does not.
fn sorted_out(
    wanted: &Wanted,
    mut scored: Vec<AnalysedMove>,
    round: &LookRound,
) -> (Vec<AnalysedMove>, Vec<AnalysedMove>) {
    let behind = |s: &AnalysedMove| wanted.behind(s.alone);
    scored.sort_by(|a, b| behind(a).total_cmp(&behind(b)));
    let (mut checks, mut on) = (0, 0);
    scored.into_iter().partition(|s| {
        let mut goes = behind(s) <= round.slack;
        if motif::gives_check(wanted.line.position(), &s.mv) {
            let (most, slack) = round.checks;
            goes |= checks < most && behind(s) <= slack;
            checks += 1;
        }
        goes &= on < round.most;
        on += usize::from(goes);
        goes
    })
}
