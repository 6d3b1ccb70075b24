//! What a line wins, by counting the pieces at both ends: net, from the position that the player decided in.

// Four kinds of men, and every index is below four.
#![allow(clippy::indexing_slicing)]

use shakmaty::{Chess, Color, Position, Role};

use crate::board::{Line, exchange, sacrifice};
use crate::review::model::thresholds::{LEVEL, PIECE};
use crate::score::PlayerScore;
use crate::text;

/// How the material has changed for the player from the position he decided in to the end of a line, in chess words:
/// 'you are a pawn up', 'he has won a piece for two pawns'. `None` where nothing changed, neither side has the better
/// of it, or it points the other way than the standing, which then has other reasons.
pub(in super::super) fn net(
    root: &Chess,
    end: &Chess,
    player: Color,
    truth: PlayerScore,
) -> Option<String> {
    let (before, after) = (balance(root, player), balance(end, player));
    let change: [i32; 4] = std::array::from_fn(|i| after[i] - before[i]);
    let (gains, costs) = (change.map(|n| n.max(0)), change.map(|n| (-n).max(0)));
    let better = (worth(&gains) - worth(&costs)).signum();
    if better == 0 || contradicts(better, truth) {
        return None;
    }
    if let Some(new) = new_piece(root, end, player, better) {
        return Some(new);
    }
    let (gains, costs) = if better > 0 {
        (gains, costs)
    } else {
        (costs, gains)
    };
    let won = exchanged(&gains, &costs);
    // Who is 'up' counts the board; where it was not level before, only the change is spoken of.
    let level = before == [0; 4];
    Some(match (won, level, better > 0) {
        // TRANSLATORS: {gains}: pieces as a list, 'a rook and two pawns'. Stands in the middle of a sentence.
        ((gains, None), true, true) => tr!("you are {gains} up"),
        ((gains, None), true, false) => tr!("he is {gains} up"),
        ((gains, None), false, true) => tr!("you have won {gains}"),
        ((gains, None), false, false) => tr!("he has won {gains}"),
        ((gains, Some(costs)), true, true) => tr!("you have {gains} for {costs}"),
        ((gains, Some(costs)), true, false) => tr!("he has {gains} for {costs}"),
        ((gains, Some(costs)), false, true) => tr!("you have won {gains} for {costs}"),
        ((gains, Some(costs)), false, false) => tr!("he has won {gains} for {costs}"),
    })
}

/// How a count of the pieces, from the position that the player decided in, goes with the standing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in super::super) enum Count {
    /// It does not speak against it by a piece or more.
    Fits,
    /// He has won that much and is no better, or has lost it and is no worse.
    Outweighed,
    /// So it seems, but something hangs, and once it is taken the count fits.
    InTheAir,
}

/// How the count at the end of a line goes with the standing there.
pub(in super::super) fn count_of(
    root: &Chess,
    end: &Chess,
    player: Color,
    truth: PlayerScore,
) -> Count {
    let pawns = |pos| sacrifice::balance(pos, player);
    let e = truth.value();
    let is_outweighed =
        |won: i32| won <= -PIECE && e >= *LEVEL.start() || won >= PIECE && e <= *LEVEL.end();
    let won = pawns(end) - pawns(root);
    let to_come = exchange::best_capture(end).map_or(0, |(pawns, _)| pawns);
    let then = won
        + if end.turn() == player {
            to_come
        } else {
            -to_come
        };
    match (is_outweighed(won), is_outweighed(then)) {
        (false, _) => Count::Fits,
        (true, true) => Count::Outweighed,
        (true, false) => Count::InTheAir,
    }
}

/// True where the material speaks for the other side than the standing does.
fn contradicts(better: i32, truth: PlayerScore) -> bool {
    let (level, e) = (LEVEL, truth.value());
    if better > 0 {
        e < *level.start()
    } else {
        e > *level.end()
    }
}

/// A promotion that stands says all; `None` where there is none, or more than that happened.
fn new_piece(root: &Chess, end: &Chess, player: Color, better: i32) -> Option<String> {
    const NEW: [&str; 4] = [
        "",
        tr_later!("a new piece"),
        tr_later!("a new rook"),
        tr_later!("a new queen"),
    ];
    let new = |side: Color| {
        let (before, after) = (count(root, side), count(end, side));
        (1..4).rev().find(|i| after[*i] > before[*i])
    };
    let (mine, his) = (new(player), new(player.other()));
    match (mine, his) {
        (Some(kind), None) if better > 0 => {
            Some(tr!("you have {}", crate::translation::text(NEW[kind])))
        }
        (None, Some(kind)) if better < 0 => {
            Some(tr!("he has {}", crate::translation::text(NEW[kind])))
        }
        _ => None,
    }
}

/// Both sides of an exchange in words; a rook for a piece is 'the exchange'.
fn exchanged(gains: &[i32; 4], costs: &[i32; 4]) -> (String, Option<String>) {
    let (mut gains, mut costs) = (gains.map(to_count), costs.map(to_count));
    let exchange = gains[2] == 1 && costs[1] == 1;
    if exchange {
        gains[2] = 0;
        costs[1] = 0;
    }
    let named = |pieces: &[u8; 4]| words(pieces).replace("the queen", "a queen");
    let mut won = Vec::new();
    won.extend(exchange.then(|| tr!("the exchange").to_owned()));
    won.extend((worth_of(&gains) > 0).then(|| named(&gains)));
    let price = (worth_of(&costs) > 0).then(|| named(&costs));
    (text::list(&won), price)
}

fn to_count(n: i32) -> u8 {
    u8::try_from(n).unwrap_or(0)
}

/// Pawns, minor pieces, rooks and queens of the player less those of the other.
fn balance(pos: &Chess, player: Color) -> [i32; 4] {
    let (mine, his) = (count(pos, player), count(pos, player.other()));
    std::array::from_fn(|i| i32::from(mine[i]) - i32::from(his[i]))
}

/// How the material stands for the player, like set against like: 'you have a rook for a piece'.
pub(in super::super) fn stands(line: &Line) -> String {
    let player = line.player();
    let (mut mine, mut his) = (
        count(line.position(), player),
        count(line.position(), player.other()),
    );
    cancel(&mut mine, &mut his);
    // On the board it is a queen; in a line that wins it, the queen.
    let words = |pieces: &[u8; 4]| words(pieces).replace("the queen", "a queen");
    match (worth_of(&mine), worth_of(&his)) {
        (0, 0) => tr!("the material is level").to_owned(),
        (_, 0) => tr!("you have {} more", words(&mine)),
        (0, _) => tr!("he has {} more", words(&his)),
        (a, b) if a >= b => tr!("you have {} for {}", words(&mine), words(&his)),
        _ => tr!("he has {} for {}", words(&his), words(&mine)),
    }
}

/// The same of a board that a count of the captures leads to.
pub(in super::super) fn stands_after_captures(end: &Line) -> String {
    tr!("{} once the captures are over", stands(end))
}

fn count(pos: &Chess, side: Color) -> [u8; 4] {
    let pieces = pos.board().material_side(side);
    let minors = pieces.get(Role::Knight) + pieces.get(Role::Bishop);
    [
        *pieces.get(Role::Pawn),
        minors,
        *pieces.get(Role::Rook),
        *pieces.get(Role::Queen),
    ]
}

fn cancel(a: &mut [u8; 4], b: &mut [u8; 4]) {
    for (a, b) in a.iter_mut().zip(b) {
        let both = (*a).min(*b);
        *a -= both;
        *b -= both;
    }
}

/// In pawns; the usual values (common practice, no source).
fn worth(pieces: &[i32; 4]) -> i32 {
    pieces
        .iter()
        .zip([1, 3, 5, 9])
        .map(|(n, value)| n * value)
        .sum()
}

fn worth_of(pieces: &[u8; 4]) -> i32 {
    worth(&pieces.map(i32::from))
}

fn words(pieces: &[u8; 4]) -> String {
    let counted: [fn(u8) -> String; 4] = [
        |n| tr!(n; "a pawn" | "{} pawns", text::number(n.into())),
        |n| tr!(n; "a piece" | "{} pieces", text::number(n.into())),
        |n| tr!(n; "a rook" | "{} rooks", text::number(n.into())),
        |n| tr!(n; "the queen" | "{} queens", text::number(n.into())),
    ];
    let named = pieces.iter().zip(counted).rev().filter(|(n, _)| **n > 0);
    let items: Vec<String> = named.map(|(n, words)| words(*n)).collect();
    text::list(&items)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;

    fn told(root: &str, end: &str, truth: f64) -> String {
        let (root, end) = (read_fen(root).unwrap(), read_fen(end).unwrap());
        let words = net(&root, &end, Color::White, PlayerScore::new(truth));
        words.unwrap_or_else(|| "nothing".to_owned())
    }

    const LEVEL: &str = "r3k3/p1n5/8/8/8/8/P1N5/R3K3 w - - 0 1";

    #[test]
    fn the_net_balance_is_told_in_chess_words() {
        let cases = [
            (
                "r3k3/2n5/8/8/8/8/P1N5/R3K3 w - - 0 1",
                0.7,
                "you are a pawn up",
            ),
            (
                "r3k3/p7/8/8/8/8/P1N5/R3K3 w - - 0 1",
                0.9,
                "you are a piece up",
            ),
            (
                "4k3/p1n5/8/8/8/8/P7/R3K3 w - - 0 1",
                0.7,
                "you are the exchange up",
            ),
            (
                "4k3/p1n5/8/8/8/8/8/R3K3 w - - 0 1",
                0.6,
                "you have the exchange for a pawn",
            ),
            (
                "r3k3/p1n5/8/8/8/8/2N5/4K3 w - - 0 1",
                0.1,
                "he is a rook and a pawn up",
            ),
            (
                "r3k3/p1n5/8/8/8/8/2N5/R2QK3 w - - 0 1",
                0.9,
                "you have a new queen",
            ),
        ];
        for (end, truth, words) in cases {
            assert_eq!(told(LEVEL, end, truth), words, "{end}");
        }
    }

    #[test]
    fn what_contradicts_the_standing_is_left_out() {
        let pawn_up = "r3k3/2n5/8/8/8/8/P1N5/R3K3 w - - 0 1";
        assert_eq!(told(LEVEL, pawn_up, 0.3), "nothing");
        assert_eq!(told(LEVEL, LEVEL, 0.9), "nothing");
    }

    #[test]
    fn where_the_board_was_not_level_the_change_is_told() {
        let ahead = "4k3/p1n5/8/8/8/8/P1N5/R3K3 w - - 0 1";
        let more = "4k3/2n5/8/8/8/8/P1N5/R3K3 w - - 0 1";
        assert_eq!(told(ahead, more, 1.0), "you have won a pawn");
        let level = "4k3/p1n5/8/8/8/8/P1N5/4K3 w - - 0 1";
        assert_eq!(told(ahead, level, 0.5), "he has won a rook");
    }
}
