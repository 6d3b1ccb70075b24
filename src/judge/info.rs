//! The `info` line of a search (UCI protocol, April 2006, from memory).
//!
//! Read by the message parser of ruci, after what it does not know has been taken out: an unknown
//! word makes it lose the field before, and `wdl`, which it has no place for, is such a word.

use std::str::FromStr;

use ruci::engine::{Info, Message, Score};
use shakmaty::uci::UciMove;

use super::MoverScore;

/// What a search says of one of its lines.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Said {
    /// 1 for the best line.
    pub(super) place: usize,
    pub(super) depth: u32,
    pub(super) expected: MoverScore,
    pub(super) mate: Option<i32>,
    /// The score is only a bound.
    pub(super) bound: bool,
    pub(super) pv: Vec<UciMove>,
}

/// Fields with one value.
const SINGLE: [&str; 11] = [
    "depth",
    "seldepth",
    "time",
    "nodes",
    "multipv",
    "currmove",
    "currmovenumber",
    "hashfull",
    "nps",
    "tbhits",
    "cpuload",
];

type Wdl = (u32, u32, u32);

/// An `info` line; `None` for every other, also for `info string`.
pub(super) fn read(line: &str) -> Option<(Info<'static>, Option<MoverScore>)> {
    let words: Vec<&str> = line.split(' ').collect();
    let (&"info", fields) = words.split_first()? else {
        return None;
    };
    let (known, wdl) = known_fields(fields);
    let Ok(Message::Info(info)) = Message::from_str(&format!("info {}", known.join(" "))) else {
        return None;
    };
    let expected = wdl.and_then(|(w, d, l)| MoverScore::from_wdl(w, d, l));
    Some((*info, expected))
}

/// The words that the message parser knows, and the win, draw and loss figures.
fn known_fields<'a>(words: &[&'a str]) -> (Vec<&'a str>, Option<Wdl>) {
    let mut known = Vec::new();
    let mut wdl = None;
    let mut rest = words;
    while let Some((word, after)) = rest.split_first() {
        let taken = match (*word, after) {
            ("string", _) => break,
            ("wdl", [w, d, l, ..]) => {
                wdl = triple(w, d, l).or(wdl);
                1 + 3 * usize::from(wdl.is_some())
            }
            ("pv", moves) => {
                let moves = moves.iter().take_while(|m| m.parse::<UciMove>().is_ok());
                1 + moves.count()
            }
            ("score", [_, _, "lowerbound" | "upperbound", ..]) => 4,
            ("score", [_, _, ..]) => 3,
            // Some engines put the bound behind the figures that are taken out.
            ("lowerbound" | "upperbound", _) => {
                behind_score(&mut known, word);
                0
            }
            (word, [_, ..]) if SINGLE.contains(&word) => 2,
            _ => 0,
        };
        if taken > 0 && *word != "wdl" {
            known.extend(rest.iter().take(taken));
        }
        rest = rest.get(taken.max(1)..).unwrap_or_default();
    }
    (known, wdl)
}

/// A bound that did not stand directly behind its score is put there.
fn behind_score<'a>(known: &mut Vec<&'a str>, bound: &'a str) {
    if let Some(at) = known.iter().position(|w| *w == "score") {
        known.insert((at + 3).min(known.len()), bound);
    }
}

fn triple(w: &str, d: &str, l: &str) -> Option<Wdl> {
    Some((w.parse().ok()?, d.parse().ok()?, l.parse().ok()?))
}

/// What the line says of a move; `None` where it has no score.
pub(super) fn said(info: &Info<'_>, wdl: Option<MoverScore>) -> Option<Said> {
    let score = info.score?;
    let (expected, mate) = match score.kind {
        // A mate is a mate, whatever the figures beside it are rounded to. Mate in 0: the side to move
        // is mated.
        Score::MateIn(n @ 1..) => (MoverScore::WON, Some(narrow(n))),
        Score::MateIn(n) => (MoverScore::LOST, Some(narrow(n))),
        Score::Centipawns(cp) => {
            let by_pawns = MoverScore::from_centipawns(narrow(cp));
            (wdl.unwrap_or(by_pawns), None)
        }
    };
    Some(Said {
        place: info.multi_pv.unwrap_or(1),
        depth: info
            .depth
            .map_or(0, |d| u32::try_from(d.depth).unwrap_or(u32::MAX)),
        expected,
        mate,
        bound: score.bound.is_some(),
        pv: info.pv.to_vec(),
    })
}

fn narrow(n: isize) -> i32 {
    i32::try_from(n).unwrap_or(if n < 0 { i32::MIN } else { i32::MAX })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(text: &str) -> Said {
        let (info, wdl) = read(text).unwrap();
        said(&info, wdl).unwrap()
    }

    #[test]
    fn win_draw_loss_outranks_centipawns_and_loses_no_neighbour() {
        let said =
            line("info depth 20 wdl 500 400 100 seldepth 30 score cp 22 nodes 5 pv e2e4 e7e5");
        assert_eq!((said.depth, said.expected.value()), (20, 0.7));
        assert_eq!(said.pv.len(), 2);
        let said = line("info depth 9 score cp 22 wdl 0 1000 0 multipv 3 pv e2e4");
        assert_eq!((said.depth, said.place, said.expected.value()), (9, 3, 0.5));
        // Figures that do not add up are no figures.
        assert!(line("info depth 9 score cp 0 wdl 1 2 3 pv e2e4").expected == MoverScore::LEVEL);
        assert!(
            line("info depth 9 score cp 400 wdl a b c pv e2e4")
                .expected
                .value()
                > 0.9
        );
    }

    #[test]
    fn unknown_words_cost_nothing() {
        let said = line("info depth 4 ebf 2.1 score cp 100 nodes 5 refuted x pv e2e4 zz9 e7e5");
        assert_eq!((said.depth, said.pv.len()), (4, 1));
        assert_eq!(
            read("info depth 4 ebf 2.1 nodes 77").unwrap().0.nodes,
            Some(77)
        );
    }

    #[test]
    fn mates_are_certain() {
        let said = line("info depth 4 score mate 3 wdl 998 2 0 pv e2e4");
        assert_eq!((said.expected, said.mate), (MoverScore::WON, Some(3)));
        assert_eq!(line("info score mate -2").expected, MoverScore::LOST);
        assert_eq!(line("info score mate 0").expected, MoverScore::LOST);
        assert!(line("info score cp 99999999999").expected == MoverScore::WON);
    }

    #[test]
    fn bounds_are_seen_wherever_they_stand() {
        assert!(line("info depth 4 score cp 5 lowerbound nodes 3 pv e2e4").bound);
        assert!(line("info depth 4 score cp 5 wdl 500 400 100 upperbound nodes 3").bound);
        assert!(!line("info depth 4 score cp 5 nodes 3").bound);
    }

    #[test]
    fn everything_else_is_passed_over() {
        for text in [
            "info",
            "information",
            "bestmove e2e4",
            "info string depth 5 score cp 3",
            "info score",
            "info score cp x",
            "info pv",
            "info wdl 1 2",
            "info depth -3",
        ] {
            let found = read(text).and_then(|(info, wdl)| said(&info, wdl));
            assert_eq!(found, None, "{text}");
        }
    }
}
