//! From what an engine says during a search to an answer.

use std::collections::BTreeMap;
use std::str::FromStr;

use ruci::engine::{BestMove, Message};
use shakmaty::uci::UciMove;
use shakmaty::{Chess, Move, Position};

use super::error::Fault;
use super::info::{self, Said};
use super::{Answer, Basis, Question, Ranked, rules};
use crate::board::line;

/// Most places that are listened to; UCI engines know at most 500 lines (common practice, no source),
/// and no position has more than 218 moves (from memory).
const PLACES_MAX: usize = 256;

/// What was heard so far.
#[derive(Debug, Default)]
pub(super) struct Heard {
    places: BTreeMap<usize, Place>,
    /// The largest count of nodes that was told.
    pub(super) nodes: u64,
}

/// The latest of one line of the search: an exact score, and a bound that came after it.
#[derive(Debug, Default)]
struct Place {
    exact: Option<Said>,
    bound: Option<Said>,
}

/// The end of a search.
#[derive(Debug)]
pub(super) struct Searched {
    pub(super) heard: Heard,
    /// `None` where the engine named no move.
    pub(super) best: Option<UciMove>,
}

impl Heard {
    /// Takes in one line; the best move where the line ends the search.
    pub(super) fn hear(&mut self, line: &str) -> Option<Option<UciMove>> {
        if line.split(' ').next() == Some("bestmove") {
            return match Message::from_str(line) {
                Ok(Message::BestMove(BestMove::Normal(best))) => Some(Some(best.r#move)),
                _ => Some(None),
            };
        }
        let (info, wdl) = info::read(line)?;
        let nodes = info.nodes.and_then(|n| u64::try_from(n).ok());
        self.nodes = self.nodes.max(nodes.unwrap_or(0));
        if let Some(said) = info::said(&info, wdl) {
            self.place(said);
        }
        None
    }

    fn place(&mut self, said: Said) {
        if !(1..=PLACES_MAX).contains(&said.place) {
            return;
        }
        let place = self.places.entry(said.place).or_default();
        if said.bound {
            place.bound = Some(said);
        } else {
            *place = Place {
                exact: Some(said),
                bound: None,
            };
        }
    }

    /// Whether the last word on one of the first lines is a bound.
    pub(super) fn is_open(&self, lines: usize) -> bool {
        let mut first = self.places.range(..=lines);
        first.any(|(_, place)| place.bound.is_some())
    }
}

impl Place {
    /// What a later search of the same position makes of it; less deep than this one it says nothing new.
    fn then(self, later: Place) -> Place {
        let depth = |place: &Place| place.exact.as_ref().map(|said| said.depth);
        if depth(&later) >= depth(&self) {
            later
        } else {
            self
        }
    }
}

impl Searched {
    /// This search and one that went on from its table.
    pub(super) fn then(mut self, later: Searched) -> Searched {
        for (at, place) in later.heard.places {
            let before = self.heard.places.remove(&at).unwrap_or_default();
            self.heard.places.insert(at, before.then(place));
        }
        self.heard.nodes = self.heard.nodes.saturating_add(later.heard.nodes);
        Searched {
            heard: self.heard,
            best: later.best.or(self.best),
        }
    }

    /// The answer to the question. Of each line of the search the last exact score counts; a bound
    /// only where there is nothing else.
    pub(super) fn answer(mut self, question: &Question) -> Result<Answer, Fault> {
        let position = question.line.position();
        let best = self.best_move(position)?;
        let mut moves: Vec<Ranked> = Vec::new();
        let mut depth = 0;
        for (place, heard) in std::mem::take(&mut self.heard.places) {
            let Some(said) = heard.exact.or(heard.bound) else {
                continue;
            };
            let instead = (place == 1).then_some(&best);
            let Some(ranked) = ranked(position, &said, instead) else {
                continue;
            };
            // After an unfinished round of the search a move can stand in two places; the first is
            // the newer one.
            if moves.iter().all(|m| m.mv != ranked.mv) {
                depth = depth.max(said.depth);
                moves.push(ranked);
            }
        }
        // Stable: places that score alike keep the engine's order.
        moves.sort_by(|a, b| b.expected.value().total_cmp(&a.expected.value()));
        moves.truncate(rules::lines(question));
        let Some(first) = moves.first() else {
            return Err(Fault::Nonsense(tr!(
                "it gave no score in {}",
                line::fen(position)
            )));
        };
        let answer = Answer {
            expected: first.expected,
            basis: Basis::Engine {
                depth,
                nodes: self.heard.nodes,
            },
            moves,
        };
        Ok(rules::with_claim(&question.line, answer))
    }

    fn best_move(&self, position: &Chess) -> Result<Move, Fault> {
        let wrong = |what: String| Fault::Nonsense(tr!("{what} in {}", line::fen(position)));
        let best = self
            .best
            .as_ref()
            .ok_or_else(|| wrong(tr!("it named no move").to_owned()))?;
        best.to_move(position)
            .map_err(|_| wrong(tr!("it plays {best}, which is not legal")))
    }
}

/// The move and its line as far as it is legal; `instead` where the engine told a score but no line.
fn ranked(position: &Chess, said: &Said, instead: Option<&Move>) -> Option<Ranked> {
    let mut pv = legal(position, &said.pv);
    if pv.is_empty() {
        pv.push(instead?.clone());
    }
    Some(Ranked {
        mv: pv.first()?.clone(),
        expected: said.expected,
        mate: said.mate,
        pv,
    })
}

/// The moves as far as they can be played.
fn legal(position: &Chess, moves: &[UciMove]) -> Vec<Move> {
    let mut position = position.clone();
    let mut played = Vec::new();
    for uci in moves {
        let Ok(mv) = uci.to_move(&position) else {
            break;
        };
        position.play_unchecked(&mv);
        played.push(mv);
    }
    played
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Line;

    fn answer(fen: &str, lines: usize, said: &str) -> Result<Answer, Fault> {
        let question = Question {
            line: Line::new(line::read_fen(fen).unwrap()),
            lines,
            nodes: 1,
        };
        let mut heard = Heard::default();
        for line in said.lines() {
            if let Some(best) = heard.hear(line.trim()) {
                return Searched { heard, best }.answer(&question);
            }
        }
        panic!("no bestmove in the test's text");
    }

    const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";

    fn shown(answer: &Answer) -> String {
        let moves: Vec<String> = answer
            .moves
            .iter()
            .map(|m| format!("{} {} ({})", m.mv, m.expected, m.pv.len()))
            .collect();
        format!("{} | {}", answer.expected, moves.join(", "))
    }

    #[test]
    fn the_last_exact_score_of_each_line_counts() {
        let answer = answer(
            START,
            2,
            "info depth 1 multipv 1 score cp 10 pv a2a3
             info depth 2 multipv 1 score cp 0 nodes 90 pv e2e4 e7e5 e4e5
             info depth 2 multipv 2 score cp 40 pv d2d4
             info depth 3 multipv 1 score cp 900 lowerbound nodes 120 pv e2e4
             bestmove e2e4",
        );
        let answer = answer.unwrap();
        assert_eq!(shown(&answer), ".56 | d2-d4 .56 (1), e2-e4 .50 (2)");
        assert_eq!(
            answer.basis,
            Basis::Engine {
                depth: 2,
                nodes: 120
            }
        );
    }

    #[test]
    fn a_bound_counts_where_there_is_nothing_else() {
        let answer = answer(
            START,
            1,
            "info depth 3 score cp 0 upperbound\nbestmove e2e4",
        )
        .unwrap();
        assert_eq!(shown(&answer), ".50 | e2-e4 .50 (1)");
    }

    fn searched(said: &str) -> Searched {
        let mut heard = Heard::default();
        let mut lines = said.lines();
        let best = lines.find_map(|line| heard.hear(line.trim())).unwrap();
        Searched { heard, best }
    }

    /// A search that found something as its nodes ran out is open, and what it is told when it goes on counts, unless
    /// that comes less deep.
    #[test]
    fn what_a_search_says_when_it_goes_on_counts() {
        let first = "info depth 5 multipv 1 score cp -20 nodes 80 pv e2e4
             info depth 6 multipv 1 score cp 200 lowerbound nodes 100 pv d2d4
             info depth 5 multipv 2 score cp -30 nodes 100 pv g1f3
             bestmove d2d4";
        assert!(searched(first).heard.is_open(2));
        assert!(!searched("info depth 5 score cp 1 upperbound pv e2e4\ninfo depth 5 score cp 0 pv e2e4\nbestmove e2e4").heard.is_open(1));
        let question = Question {
            line: Line::new(line::read_fen(START).unwrap()),
            lines: 1,
            nodes: 100,
        };
        let after = |later: &str| {
            let both = searched(first).then(searched(later));
            let open = both.heard.is_open(1);
            let answer = both.answer(&question).unwrap();
            (shown(&answer), open, answer.basis)
        };
        let basis = |depth| Basis::Engine { depth, nodes: 150 };
        assert_eq!(
            after("info depth 6 score cp 250 nodes 50 pv d2d4 d7d5\nbestmove d2d4"),
            (".81 | d2-d4 .81 (2)".to_owned(), false, basis(6))
        );
        assert_eq!(
            after("info depth 4 score cp 300 nodes 50 pv d2d4\nbestmove d2d4"),
            (".47 | e2-e4 .47 (1)".to_owned(), true, basis(5))
        );
    }

    #[test]
    fn a_move_stands_once_and_no_more_are_given_than_asked() {
        let said = "info depth 3 multipv 1 score cp 30 pv e2e4
             info depth 2 multipv 2 score cp 20 pv e2e4
             info depth 2 multipv 3 score cp 10 pv d2d4
             info depth 2 multipv 4 score cp 5 pv c2c4
             info depth 2 multipv 999999 score cp 5 pv g2g4
             bestmove e2e4";
        assert_eq!(
            shown(&answer(START, 2, said).unwrap()),
            ".54 | e2-e4 .54 (1), d2-d4 .51 (1)"
        );
    }

    #[test]
    fn nonsense_is_named() {
        let told = |said| match answer(START, 1, said).unwrap_err() {
            Fault::Nonsense(what) => what,
            other => panic!("{other:?}"),
        };
        insta::assert_snapshot!(told("info depth 1 score cp 3 pv e2e4\nbestmove a1a1"), @"it plays a1a1, which is not legal in rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1");
        insta::assert_snapshot!(told("info depth 1 score cp 3 pv e2e4\nbestmove (none)"), @"it named no move in rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1");
        insta::assert_snapshot!(told("bestmove e2e4"), @"it gave no score in rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1");
    }

    /// FIDE Laws, articles 9.2 and 9.3: the draw is there for the side to move to claim, not forced.
    #[test]
    fn a_claim_is_worth_a_draw_to_the_side_to_move() {
        let fifty = "4k3/8/8/8/8/8/4P3/4K2R w K - 100 80";
        let worse = answer(
            fifty,
            1,
            "info depth 3 score cp -300 pv e2e4\nbestmove e2e4",
        )
        .unwrap();
        assert_eq!(worse.basis, Basis::Rule(crate::board::Rule::FiftyMoves));
        assert_eq!(shown(&worse), ".50 | e2-e4 .15 (1)");
        let better = answer(fifty, 1, "info depth 3 score cp 300 pv e2e4\nbestmove e2e4").unwrap();
        assert_eq!(shown(&better), ".85 | e2-e4 .85 (1)");
    }
}
