//! What is told of a game: the decisions that cost, the slow losses, the simpler ways.

use shakmaty::{Move as BoardMove, Position};

use super::course::{Move, Survey};
use crate::board::{Line, Rule, exchange, line, motif, phase, sacrifice};
use crate::judge::{Basis, JudgeError};
use crate::review::{self, FindingKind, FindingStatus, ReviewInput};
use crate::score::PlayerScore;
use crate::tree::{Author, NodeId, Tree};

/// A decision that cost at least delta.
#[derive(Debug, Clone, PartialEq, serde::Serialize, schemars::JsonSchema)]
pub struct Moment {
    /// Number of moves (of both sides) made before it.
    pub ply: usize,
    /// As on a score sheet, with the move played.
    pub played: String,
    /// The better move in SAN.
    pub better: String,
    /// The position, as FEN.
    pub fen: String,
    /// Expected score with the better move and with the one played, each judged by itself.
    pub before: f64,
    pub after: f64,
    /// Time the decision took, in milliseconds.
    pub took_ms: u64,
    pub left_ms: Option<u64>,
    /// True where he wrote before it.
    pub written: bool,
    /// The kind of the review's first finding; `None` where the review has none to tell.
    pub kind: Option<FindingKind>,
    /// What went wrong, in a sentence.
    pub sentence: String,
    /// What the opponent had after it.
    pub chance: Option<Chance>,
}

/// What the player allowed.
#[derive(Debug, Clone, PartialEq, serde::Serialize, schemars::JsonSchema)]
pub struct Chance {
    /// The reply in SAN.
    pub reply: String,
    /// What kind of move it is: a sacrifice, or its forcing class.
    pub kind: String,
    /// True where the engine played it.
    pub taken: bool,
}

/// A stretch in which the position got worse without a single mistake.
#[derive(Debug, Clone, PartialEq, serde::Serialize, schemars::JsonSchema)]
pub struct Drift {
    /// Places in the list of moves, first and last, both the player's.
    pub from: usize,
    pub to: usize,
    pub from_move: usize,
    pub to_move: usize,
    /// Expected score before the first and after the last, and what was lost between them.
    pub before: f64,
    pub after: f64,
    pub lost: f64,
}

/// A simpler way that was there. Unscored.
#[derive(Debug, Clone, PartialEq, serde::Serialize, schemars::JsonSchema)]
pub struct Simpler {
    pub at_move: usize,
    pub sentence: String,
}

/// A drift is this much lost ...
const DRIFT: f64 = 0.15;
/// ... over at most so many moves of the player's.
const DRIFT_MOVES: usize = 10;
/// From here on a simpler way is looked for, and must keep ...
const WINNING: f64 = 0.90;
/// ... at least this.
const CLEAN: f64 = 0.95;
/// Positions in which simpler ways are looked for, and notes that are told.
const LOOKED_AT: usize = 24;
const TOLD: usize = 2;

/// The decisions that cost at least delta: the better move and the one played, each judged by itself with
/// more nodes.
pub(super) fn moments(
    survey: &Survey<'_>,
    progress: &mut dyn FnMut(usize, usize),
) -> Result<Vec<Moment>, JudgeError> {
    let suspects: Vec<usize> = (0..survey.moves.len())
        .filter(|ply| {
            let mv = survey.moves.get(*ply);
            mv.is_some_and(|m| m.own && m.drop() >= survey.settings.delta.value())
        })
        .collect();
    let mut found = Vec::new();
    for (done, ply) in suspects.iter().enumerate() {
        progress(done, suspects.len());
        found.extend(moment(survey, *ply)?);
    }
    progress(suspects.len(), suspects.len());
    Ok(found)
}

fn moment(survey: &Survey<'_>, ply: usize) -> Result<Option<Moment>, JudgeError> {
    let (Some(here), Some(next), Some(mv), Some(played)) = (
        survey.lines.get(ply),
        survey.lines.get(ply + 1),
        survey.moves.get(ply),
        survey.game.moves().get(ply),
    ) else {
        return Ok(None);
    };
    let best = survey.answers.get(ply).and_then(|a| a.moves.first());
    let Some(better) = best.map(|r| &r.mv).filter(|m| **m != played.mv) else {
        return Ok(None);
    };
    let Ok(child) = here.child(better) else {
        return Ok(None);
    };
    let nodes = survey.settings.nodes * survey.settings.confirm;
    let (before, _) = survey.ask(&child, nodes)?;
    let (after, answer) = survey.ask(next, nodes)?;
    // Two positions that are both decided the same way differ in nothing that counts.
    let decided = survey.settings.decided.value();
    let same = after >= decided || before <= 1.0 - decided;
    if before - after < survey.settings.delta.value() || same {
        return Ok(None);
    }
    let (kind, sentence) = match reviewed(survey, ply, here, &played.mv)? {
        // 'Not among your candidates' says nothing to somebody who wrote none.
        Some((kind, sentence)) if mv.written || kind != FindingKind::MissedCandidate => {
            (Some(kind), sentence)
        }
        other => (
            other.map(|(kind, _)| kind),
            plainly(here, &played.mv, better, &answer, (before, after)),
        ),
    };
    Ok(Some(Moment {
        ply,
        played: mv.numbered(),
        better: line::san(here.position(), better),
        fen: line::fen(here.position()),
        before,
        after,
        took_ms: mv.took_ms,
        left_ms: mv.left_ms,
        written: mv.written,
        kind,
        sentence,
        chance: answer
            .moves
            .first()
            .map(|r| chance(survey, ply, next, &r.mv)),
    }))
}

/// The review's sentence for the decision: of what he wrote where he wrote, else of the bare move.
fn reviewed(
    survey: &Survey<'_>,
    ply: usize,
    here: &Line,
    played: &BoardMove,
) -> Result<Option<(FindingKind, String)>, JudgeError> {
    let sitting = survey
        .game
        .moves()
        .get(ply)
        .and_then(|m| m.sitting.as_deref());
    let attempt = sitting.and_then(|id| (survey.written)(id));
    let bare;
    let (tree, choice) = match &attempt {
        Some(attempt) => (attempt.tree(), attempt.choice()),
        None => {
            bare = bare_tree(here, played);
            (&bare.0, bare.1)
        }
    };
    let written = ReviewInput {
        tree,
        choice,
        attempt: attempt.as_ref(),
        ply_in_game: None,
    };
    let review = review::review(&written, survey.judge, survey.settings, &mut |_, _| {})?;
    let tells = |f: &&review::Finding| {
        f.class == FindingStatus::Counted
            && !matches!(
                f.kind,
                FindingKind::BareCandidate | FindingKind::IllegalMove
            )
    };
    let told = review.findings.iter().find(tells);
    Ok(told.map(|f| (f.kind, f.sentence.clone())))
}

/// Half-moves of an answer that are told.
const TOLD_PLIES: usize = 4;

/// What the move ran into and what was better, where the review has no finding: many moves were better.
fn plainly(
    here: &Line,
    played: &BoardMove,
    better: &BoardMove,
    answer: &crate::judge::Answer,
    (before, after): (f64, f64),
) -> String {
    let pos = here.position();
    let mut next = pos.clone();
    next.play_unchecked(played);
    let pv = answer.moves.first().map_or(&[][..], |r| r.pv.as_slice());
    let told = pv.get(..TOLD_PLIES).unwrap_or(pv);
    let line = line::sans(&next, told).join(" ");
    let comes = match line.as_str() {
        "" => tr!("After {}", line::san(pos, played)),
        line => tr!("After {} comes {line}", line::san(pos, played)),
    };
    // Where the game is over there it is said how: 'level' is for a position that is played on.
    let then = match end_of(here, played, told) {
        // TRANSLATORS: behind 'After MOVE'; {over}: how a game ends, as in 'a draw'.
        Some(over) if line.is_empty() => tr!(" it is {over}."),
        Some(over) => tr!(", and it is {over}."),
        None => tr!(". Then {}.", review::standing(PlayerScore::new(after))),
    };
    tr!(
        "{comes}{then} {} was there: then {}.",
        line::san(pos, better),
        review::standing(PlayerScore::new(before))
    )
}

/// How the game ends after a move and what follows it: 'stalemate: a draw'; `None` where it goes on.
fn end_of(here: &Line, played: &BoardMove, then: &[BoardMove]) -> Option<String> {
    let mut end = here.child(played).ok()?;
    for mv in then {
        end.push(mv).ok()?;
    }
    let rule = end.rule().filter(|rule| !rule.is_claim())?;
    Some(match rule {
        Rule::Checkmate => rule.words().to_owned(),
        _ => tr!("{}: a draw", rule.words()),
    })
}

fn bare_tree(here: &Line, played: &BoardMove) -> (Tree, Option<NodeId>) {
    let san = line::san(here.position(), played);
    let mut tree = Tree::new(here.clone().rooted_here());
    let choice = tree.add(NodeId::ROOT, &san, Author::Player, 0).ok();
    (tree, choice)
}

fn chance(survey: &Survey<'_>, ply: usize, next: &Line, reply: &BoardMove) -> Chance {
    let pos = next.position();
    let kind = match sacrifice::offer(pos, reply).filter(sacrifice::Offer::is_sacrifice) {
        Some(offer) => tr!("a sacrifice ({})", offer.gives.words()),
        None => class(motif::forcing_class(pos, reply)).to_owned(),
    };
    Chance {
        reply: line::san(pos, reply),
        kind,
        taken: survey
            .game
            .moves()
            .get(ply + 1)
            .is_some_and(|m| m.mv == *reply),
    }
}

fn class(of: motif::Motif) -> &'static str {
    match of {
        motif::Motif::DoubleCheck => tr!("a double check"),
        motif::Motif::Check => tr!("a check"),
        motif::Motif::Promotion => tr!("a promotion"),
        motif::Motif::Capture => tr!("a capture"),
        motif::Motif::ThreatOfMate => tr!("a threat of mate"),
        motif::Motif::OtherThreat => tr!("a threat"),
        _ => tr!("a quiet move"),
    }
}

/// The stretches of at most [`DRIFT_MOVES`] moves of the player's in which no single move cost `delta` and
/// [`DRIFT`] was lost; of overlapping ones the one that lost most.
pub(super) fn drifts(moves: &[Move], delta: f64) -> Vec<Drift> {
    let own: Vec<(usize, &Move)> = moves.iter().enumerate().filter(|(_, m)| m.own).collect();
    let mut all = Vec::new();
    for (first, from) in own.iter().enumerate() {
        for to in own.iter().skip(first).take(DRIFT_MOVES) {
            if to.1.drop() >= delta {
                break;
            }
            let lost = from.1.before - to.1.after;
            if lost >= DRIFT {
                all.push(Drift {
                    from: from.0,
                    to: to.0,
                    from_move: from.1.number,
                    to_move: to.1.number,
                    before: from.1.before,
                    after: to.1.after,
                    lost,
                });
            }
        }
    }
    all.sort_by(|a, b| b.lost.total_cmp(&a.lost).then(a.from.cmp(&b.from)));
    let mut kept: Vec<Drift> = Vec::new();
    for drift in all {
        if kept.iter().all(|k| drift.to < k.from || drift.from > k.to) {
            kept.push(drift);
        }
    }
    kept.sort_by_key(|d| d.from);
    kept
}

/// Trades into a won ending, and passed pawns that could simply go on, while the player was winning and
/// did something else.
pub(super) fn simpler(survey: &Survey<'_>) -> Result<Vec<Simpler>, JudgeError> {
    let mut notes: Vec<Simpler> = Vec::new();
    let (mut trade, mut push) = (false, false);
    let winning = survey
        .moves
        .iter()
        .enumerate()
        .filter(|(_, m)| m.own && m.before >= WINNING)
        .take(LOOKED_AT);
    for (ply, mv) in winning {
        let (Some(here), Some(played)) = (survey.lines.get(ply), survey.game.moves().get(ply))
        else {
            continue;
        };
        let ending = phase::of(here.position()) == phase::Phase::Ending;
        if !(trade || ending || played.mv.is_capture())
            && let Some(note) = trades(survey, here, mv)?
        {
            notes.push(note);
            trade = true;
        }
        if !(push || is_passer_push(here.position(), &played.mv))
            && let Some(note) = pushes(survey, here, mv)?
        {
            notes.push(note);
            push = true;
        }
        if notes.len() >= TOLD {
            break;
        }
    }
    Ok(notes)
}

/// An even trade of pieces after which the ending is won.
fn trades(survey: &Survey<'_>, here: &Line, mv: &Move) -> Result<Option<Simpler>, JudgeError> {
    for capture in here.position().capture_moves() {
        if capture.role() == shakmaty::Role::Pawn
            || exchange::after_move(here.position(), &capture) < 0
        {
            continue;
        }
        let Ok(after) = here.child(&capture) else {
            continue;
        };
        // The recapture belongs to the trade.
        let recapture =
            exchange::best_capture(after.position()).filter(|(_, m)| m.to() == capture.to());
        let Some(end) = recapture.and_then(|(_, m)| after.child(&m).ok()) else {
            continue;
        };
        if phase::of(end.position()) != phase::Phase::Ending {
            continue;
        }
        let (worth, answer) = survey.ask(&after, survey.settings.nodes)?;
        if worth >= CLEAN {
            let known = if matches!(answer.basis, Basis::Table { .. }) {
                tr!("an ending that is won by table")
            } else {
                tr!("an ending that is won")
            };
            return Ok(Some(Simpler {
                at_move: mv.number,
                sentence: tr!(
                    "At move {} {} would have traded into {known}.",
                    mv.number,
                    end.sans()
                        .iter()
                        .rev()
                        .take(2)
                        .rev()
                        .cloned()
                        .collect::<Vec<_>>()
                        .join(" ")
                ),
            }));
        }
    }
    Ok(None)
}

/// A passed pawn that could go on at once, safely.
fn pushes(survey: &Survey<'_>, here: &Line, mv: &Move) -> Result<Option<Simpler>, JudgeError> {
    let pos = here.position();
    for push in pos.legal_moves() {
        if !is_passer_push(pos, &push) || exchange::after_move(pos, &push) < 0 {
            continue;
        }
        let Ok(after) = here.child(&push) else {
            continue;
        };
        let (worth, _) = survey.ask(&after, survey.settings.nodes)?;
        if worth >= CLEAN && worth > mv.after + survey.settings.equal.value() {
            return Ok(Some(Simpler {
                at_move: mv.number,
                sentence: tr!(
                    "At move {} the passed pawn could simply go on: {}.",
                    mv.number,
                    line::san(pos, &push)
                ),
            }));
        }
    }
    Ok(None)
}

/// A pawn move, no capture, of a pawn with no pawn of the other side before it on its own and the
/// neighbouring files (A. Nimzowitsch, My System, 1925, from memory).
fn is_passer_push(pos: &shakmaty::Chess, mv: &BoardMove) -> bool {
    let Some(from) = mv
        .from()
        .filter(|_| mv.role() == shakmaty::Role::Pawn && !mv.is_capture())
    else {
        return false;
    };
    let side = pos.turn();
    let enemies = pos.board().pawns() & pos.board().by_color(side.other());
    enemies.into_iter().all(|square| {
        let near = i32::from(square.file()) - i32::from(from.file());
        let (own, his) = (i32::from(from.rank()), i32::from(square.rank()));
        let ahead = side.fold_wb(his > own, his < own);
        near.abs() > 1 || !ahead
    })
}
