//! Why a written move is not possible, told to its writer.

use shakmaty::Role;

use super::super::draft::Draft;
use super::super::survey::Survey;
use crate::notation::{Reading, Reason};

pub(super) fn sentence(survey: &Survey<'_>, draft: &Draft) -> String {
    let Some(node) = draft.node.and_then(|n| survey.tree.node(n)) else {
        return String::new();
    };
    let Reading::Phantom(phantom) = &node.reading else {
        return String::new();
    };
    let ply = draft.ply(survey);
    let players = survey
        .place(draft.at)
        .is_some_and(super::Place::is_players_turn);
    let why = phantom
        .reasons
        .first()
        .map(|r| reason(r, ply, players))
        .unwrap_or_default();
    format!("{} is not possible{why}.", node.text)
}

fn reason(reason: &Reason, ply: usize, players: bool) -> String {
    let whose = if players { "your" } else { "his" };
    match reason {
        Reason::NoSuchPiece { role } => format!(": there is no {} to do it", name(*role)),
        Reason::Captured { role, on, ply: k } => format!(
            ": {whose} {} was captured on {on} {}",
            name(*role),
            earlier(ply, *k)
        ),
        Reason::MovedAway { role, from, ply: k } => {
            format!(": {whose} {} left {from} {}", name(*role), earlier(ply, *k))
        }
    }
}

/// How long ago half-move `k` was, seen from half-move `ply`.
fn earlier(ply: usize, k: usize) -> String {
    match ply.saturating_sub(k) {
        1 => "one half-move earlier".to_owned(),
        n => format!("{n} half-moves earlier"),
    }
}

fn name(role: Role) -> &'static str {
    match role {
        Role::Pawn => "pawn",
        Role::Knight => "knight",
        Role::Bishop => "bishop",
        Role::Rook => "rook",
        Role::Queen => "queen",
        Role::King => "king",
    }
}
