//! Files as they come from anywhere, beside python-chess: invented games of random moves in every dress that the
//! import format has (PGN standard of 1994, sections 3 to 8), in its encodings and with its line ends.

use foreply::board::{Line, line};
use shakmaty::Position;

use super::outside::compare;
use crate::support::dice::Dice;

/// Movetext of random legal moves from a position, at most `plies` of the line and variations nested `depth` deep.
fn movetext(dice: &mut Dice, at: &Line, plies: usize, depth: usize) -> String {
    let mut text = String::new();
    let mut at = at.clone();
    for ply in 0..plies {
        let moves = at.position().legal_moves();
        if moves.is_empty() || at.rule().is_some() {
            break;
        }
        let mv = &moves[dice.roll(moves.len())];
        number(dice, &mut text, &at, ply == 0);
        text += &line::san(at.position(), mv);
        let before = at.clone();
        at.push(mv).unwrap();
        dress(dice, &mut text);
        if depth > 0 && dice.roll(6) == 0 {
            for _ in 0..=dice.roll(2) {
                let plies = 1 + dice.roll(5);
                let inner = movetext(dice, &before, plies, depth - 1);
                text += &format!(
                    "{}({}{inner}) ",
                    dice.one(&["", "\n"]),
                    dice.one(&["", " "])
                );
            }
        }
    }
    text
}

/// Move numbers as people write them, or none.
fn number(dice: &mut Dice, text: &mut String, at: &Line, first: bool) {
    let full = at.position().fullmoves();
    *text += &match (at.turn().is_white(), dice.roll(4)) {
        (true, 0) => format!("{full}."),
        (true, 1) => format!("{full} . "),
        (true, 2) => format!("{full}. "),
        (false, 0) if first => format!("{full}... "),
        (false, 1) => format!("{full}..."),
        _ => String::new(),
    };
}

/// What stands behind a move: at most one clock, one time spent, one glyph and one comment to the end of the line.
fn dress(dice: &mut Dice, text: &mut String) {
    *text += dice.one(&["", "", "", "!", "?", "!?", "??"]);
    *text += " ";
    *text += dice.one(&["", "", "", "$14 ", "$146\n", "$16 "]);
    let (minute, second) = (dice.roll(60), dice.roll(60));
    *text += &match dice.roll(9) {
        0 => format!("{{[%clk 1:{minute:02}:{second:02}]}} "),
        1 => format!("{{ [%clk 0:{minute:02}:{second:02}] a plan (not a variation; nor this }} "),
        2 => format!("{{[%emt 0:{minute:02}:{second:02}]}} "),
        3 => format!("{{[%emt 0:00:{second:02}]\n[%clk 1:{minute:02}:00]\nover $3 lines *}} "),
        4 => "{ [Event \"no tag\"]\n% no escape\n1-0 }\n".to_owned(),
        5 => "; to the end { ( of [the line $5 1-0\n".to_owned(),
        6 => "\n% escaped [Event \"no tag\"] { ( 1. e4\n".to_owned(),
        7 => "{caf\u{e9} \u{fc}ber \u{d1}} ".to_owned(),
        _ => String::new(),
    };
}

/// Forty games; every third one ends without a marker, some of the results are odd or contradict it.
fn file(seed: u64) -> String {
    let mut dice = Dice(seed);
    let mut text = String::new();
    for number in 0..40 {
        let marker = dice.one(&["1-0", "0-1", "1/2-1/2", "*", "", ""]);
        let result = dice.one(&["1-0", "1/2", "+:-", "*", "", "who knows"]);
        let event = dice.one(&[
            "Round [3] {",
            "A \\\"quoted\\\" \\\\ event",
            "Cup; 1. e4 *",
            "F\u{ea}te",
        ]);
        let names = ["Verrick, Ansa", &format!("Player {number}")].map(str::to_owned);
        let [white, black] = match number % 2 {
            0 => names,
            _ => [names[1].clone(), names[0].clone()],
        };
        let plies = 1 + dice.roll(60);
        let start = Line::new(shakmaty::Chess::default());
        let mut moves = movetext(&mut dice, &start, plies, 4);
        // DIFFERENCE: a blank line ends a game for python-chess, for us it does not.
        while moves.contains("\n\n") {
            moves = moves.replace("\n\n", "\n");
        }
        text += &format!(
            "[Event \"{event}\"]\n[White \"{white}\"]\n[Black \"{black}\"]\n[Date \"1999.01.{:02}\"]\n[Result \"{result}\"]\n\n{moves} {marker}\n\n\n",
            1 + number % 28
        );
    }
    text
}

#[test]
fn an_independent_reader_finds_the_same_in_hostile_files() {
    for seed in 0..6 {
        compare(file(seed).as_bytes());
    }
}

#[test]
fn an_independent_reader_finds_the_same_in_every_encoding() {
    let text = file(100);
    compare(format!("\u{FEFF}{text}").as_bytes());
    compare(text.replace('\n', "\r\n").as_bytes());
    compare(text.replace('\n', "\r").as_bytes());
    // Every character of these files is one byte of ISO 8859-1.
    let latin: Vec<u8> = text
        .chars()
        .map(|c| u8::try_from(u32::from(c)).unwrap())
        .collect();
    assert!(std::str::from_utf8(&latin).is_err());
    compare(&latin);
}
