//! A collection as it is read from PGN.

use super::super::order::{Order, orders};
use super::points::{Point, his_words, points};
use crate::board::PositionKey;
use crate::tree::pgn::{self, Game, Written};
use crate::tree::{NodeId, Tree};

/// One position with the coach's tree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CollectedPosition {
    pub tree: Tree,
    pub points: Vec<Point>,
    /// What the students are to do and until when, where he says it before the first move
    /// (`Homework by 2026-12-05: find the move`).
    pub task: Option<Order>,
}

impl CollectedPosition {
    /// Where it is, without counters: a coach sets a position up by hand.
    #[must_use]
    pub fn key(&self) -> PositionKey {
        PositionKey::of(self.tree.root().position())
    }
}

/// All that a file holds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Collected {
    pub positions: Vec<CollectedPosition>,
    /// What is wrong with it, each with its line.
    pub errors: Vec<String>,
}

/// The positions of a collection, in the order of the file. A move that is not legal is a slip of the coach's and is
/// told, as is a position without lines and one that comes twice.
#[must_use]
pub fn collected(text: &str) -> Collected {
    let mut found = Collected::default();
    for game in pgn::games(text) {
        let game = match game {
            Ok(game) => game,
            Err(error) => {
                found.errors.push(error.to_string());
                continue;
            }
        };
        let written = pgn::written_trees(&game);
        if written.is_empty() {
            found.errors.push(at(
                &game,
                tr!("no lines of yours in it; write what is to be seen as moves and variations"),
            ));
        }
        for written in written {
            match of_game(&game, &written) {
                Ok(position) => found.add(&game, position),
                Err(why) => found.errors.push(at(&game, &why)),
            }
        }
    }
    found
}

fn at(game: &Game, why: &str) -> String {
    tr!("line {} (game {}): {why}", game.line, game.number)
}

impl Collected {
    fn add(&mut self, game: &Game, position: CollectedPosition) {
        let key = position.key();
        match self.positions.iter().position(|p| p.key() == key) {
            Some(first) => self.errors.push(at(
                game,
                &tr!(
                    "the same position as number {}; write all lines to it into one game",
                    first + 1
                ),
            )),
            None => self.positions.push(position),
        }
    }
}

fn of_game(game: &Game, written: &Written) -> Result<CollectedPosition, String> {
    let tree = without_the_game_itself(game, written);
    let slip = tree.nodes().find(|(id, _)| tree.legal(*id).is_none());
    if let Some((id, node)) = slip {
        let before = tree.parent(id).map(|p| tree.sans(p)).unwrap_or_default();
        let place = match before.as_slice() {
            [] => tr!("in the position").to_owned(),
            way => tr!("after {}", way.join(" ")),
        };
        return Err(tr!("{} is not possible {place}", node.text));
    }
    let glyph = |id: NodeId| {
        let place = usize::try_from(id.0).ok().and_then(|n| n.checked_sub(1));
        let source = place.and_then(|p| written.source.get(p));
        source
            .and_then(|s| game.moves.get(*s))
            .is_some_and(|m| !m.nags.is_empty())
    };
    let mut said = orders(&his_words(&written.comment)).into_iter();
    Ok(CollectedPosition {
        points: points(&tree, &glyph),
        task: said.find(|o| matches!(o, Order::Homework { .. })),
        tree,
    })
}

/// In a game that was played the move that was played is no line of the coach's, unless he wrote on with it.
fn without_the_game_itself(game: &Game, written: &Written) -> Tree {
    let mut tree = written.tree.clone();
    let bare = written.choice.filter(|c| {
        let silent = tree.node(*c).is_some_and(|n| n.verdict.is_none());
        !game.from_fen && silent && tree.children(*c).is_empty()
    });
    if let Some(played) = bare {
        // It stands: it was found in this tree.
        let struck = tree.set_struck(played, true);
        debug_assert!(struck.is_ok(), "{struck:?}");
    }
    tree
}

/// A sitting of the coach's own as a position of a collection.
#[must_use]
pub fn collected_tree(tree: &Tree) -> CollectedPosition {
    CollectedPosition {
        points: points(tree, &|_| false),
        task: None,
        tree: tree.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const START: &str = "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n";

    #[test]
    fn what_is_no_collection_is_told_with_its_line() {
        let text = format!(
            "{START}1. c7 Rd6+ 2. Kb5 *\n\n{START}1. Kb7 *\n\n{START}*\n\n[FEN \"8/8/1KP5/3r4/8/8/k7/8 w - - 0 1\"]\n\n1. c7 Rb6 *\n\n\
             [FEN \"8/8/1KP5/3r4/8/8/k7/8 w - - 0 1\"]\n\n1. c7 Rh5 *\n"
        );
        let found = collected(&text);
        // The last position stands once: what is wrong with a game takes nothing from the next.
        assert_eq!(found.positions.len(), 2);
        insta::assert_snapshot!(found.errors.join("\n"), @r"
        line 5 (game 2): the same position as number 1; write all lines to it into one game
        line 9 (game 3): no lines of yours in it; write what is to be seen as moves and variations
        line 13 (game 4): Rb6 is not possible after c7
        ");
    }

    #[test]
    fn a_position_of_a_game_has_the_coachs_lines_alone() {
        let text = "1. e4 e5 2. Nf3 (2. f4 exf4 3. Nf3) 2... Nc6 {Homework by 2026-12-05: think.} 3. Bb5 (3. d4 exd4) *\n";
        let found = collected(text);
        assert!(found.errors.is_empty(), "{:?}", found.errors);
        let lines = |p: &CollectedPosition| -> Vec<String> {
            p.points.iter().map(|p| p.line.clone()).collect()
        };
        assert_eq!(lines(&found.positions[0]), ["2.f4 exf4 3.Nf3"]);
        assert_eq!(lines(&found.positions[1]), ["3.d4 exd4"]);
        assert!(
            matches!(&found.positions[1].task, Some(Order::Homework { words, .. }) if words == "think.")
        );
    }
}
