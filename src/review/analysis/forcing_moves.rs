//! Every check, capture and promotion of the opponent, searched by itself: one search's pruning must not
//! decide what he has.
//!
//! Most of them lose something and show it at once. So all are looked at with few nodes first, those that
//! are not clearly harmless with more, and only what could be as good for him as the best that is known
//! gets the full number. A check is given more patience: what it gives up comes back late.

use shakmaty::{Move, Position};

use crate::board::{Line, motif};
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::tree_analysis::Scored;

/// What is asked at one place of the opponent.
#[derive(Debug, Clone)]
pub(crate) struct Wanted {
    pub line: Line,
    /// Moves that are scored already.
    pub known: Vec<Move>,
    /// What the best of them leaves the player: a reply matters where it leaves him less.
    pub bar: f64,
}

/// One round of looking.
struct Round {
    /// This part of the nodes for each move.
    part: u64,
    /// Replies that leave the player at most this much more than the bar go on.
    slack: f64,
    /// So many checks go on that leave him at most this much more, the most dangerous ones.
    checks: (usize, f64),
    /// At most so many replies go on.
    most: usize,
}

const ROUNDS: [Round; 2] = [
    Round {
        part: 40,
        slack: 0.25,
        checks: (2, 1.0),
        most: 5,
    },
    Round {
        part: 8,
        slack: 0.0,
        checks: (1, 0.15),
        most: 3,
    },
];

/// The replies of each place that were looked at with more than few nodes. Only those searched with the
/// full number are not rough.
pub(crate) fn replies(
    wanted: &[Wanted],
    asker: &mut Asker<'_>,
) -> Result<Vec<Vec<Scored>>, JudgeError> {
    let mut going: Vec<(usize, Scored)> = Vec::new();
    for (place, w) in wanted.iter().enumerate() {
        going.extend(moves(w).into_iter().map(|mv| (place, unscored(mv))));
    }
    let mut found: Vec<Vec<Scored>> = vec![Vec::new(); wanted.len()];
    for (number, round) in ROUNDS.iter().enumerate() {
        let nodes = (asker.nodes / round.part).max(1);
        let scored = score(wanted, going, nodes, asker)?;
        going = Vec::new();
        for (place, w) in wanted.iter().enumerate() {
            let here = scored.iter().filter(|s| s.0 == place).map(|s| s.1.clone());
            let (on, out) = sorted_out(w, here.collect(), round);
            going.extend(on.into_iter().map(|s| (place, s)));
            if number > 0
                && let Some(found) = found.get_mut(place)
            {
                found.extend(out);
            }
        }
    }
    let nodes = asker.nodes;
    for (place, mut scored) in score(wanted, going, nodes, asker)? {
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
    let forcing = legal.filter(|mv| motif::is_forcing(pos, mv) && !wanted.known.contains(mv));
    let mut moves: Vec<Move> = forcing.collect();
    // So that among equals the colours make no difference.
    let side = pos.turn();
    let rank = |s: shakmaty::Square| side.fold_wb(s.rank(), s.rank().flip_vertical());
    moves.sort_by_key(|mv| {
        let from = mv.from().map(|s| (rank(s), s.file()));
        (from, rank(mv.to()), mv.to().file(), mv.promotion())
    });
    moves
}

fn unscored(mv: Move) -> Scored {
    Scored {
        mv,
        node: None,
        alone: 0.5,
        worth: 0.5,
        pv: Vec::new(),
        rough: true,
    }
}

fn score(
    wanted: &[Wanted],
    moves: Vec<(usize, Scored)>,
    nodes: u64,
    asker: &mut Asker<'_>,
) -> Result<Vec<(usize, Scored)>, JudgeError> {
    let line = |(place, scored): &(usize, Scored)| wanted.get(*place)?.line.child(&scored.mv).ok();
    let (lines, mut kept): (Vec<Line>, Vec<(usize, Scored)>) = moves
        .into_iter()
        .filter_map(|m| Some((line(&m)?, m)))
        .unzip();
    let searched = asker.after_moves(&lines, nodes)?;
    for ((_, scored), (alone, pv)) in kept.iter_mut().zip(searched) {
        scored.alone = alone;
        scored.worth = alone;
        scored.pv = pv;
    }
    Ok(kept)
}

/// What goes on to the next round, the most dangerous first, and what does not.
fn sorted_out(
    wanted: &Wanted,
    mut scored: Vec<Scored>,
    round: &Round,
) -> (Vec<Scored>, Vec<Scored>) {
    scored.sort_by(|a, b| a.alone.total_cmp(&b.alone));
    let (mut checks, mut on) = (0, 0);
    scored.into_iter().partition(|s| {
        let mut goes = s.alone <= wanted.bar + round.slack;
        if motif::gives_check(wanted.line.position(), &s.mv) {
            let (most, slack) = round.checks;
            goes |= checks < most && s.alone <= wanted.bar + slack;
            checks += 1;
        }
        goes &= on < round.most;
        on += usize::from(goes);
        goes
    })
}
