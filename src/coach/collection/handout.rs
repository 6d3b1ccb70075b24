//! The file for the students: the positions, and what is to be done.

use jiff::civil::Date;

use super::super::order::{Order, orders};
use super::read::CollectedPosition;
use crate::board::Line;
use crate::tree::Tree;
use crate::tree::pgn::{Game, write_tree_with};

/// What goes out beside the positions.
#[derive(Debug, Clone, Copy)]
pub struct HandOut<'a> {
    /// What the file is called to the students.
    pub name: &'a str,
    /// The coach's name.
    pub by: &'a str,
    /// The day by which it is to be done, and what to do, where a position says nothing of its own.
    pub due: Option<Date>,
    pub words: &'a str,
}

/// A position that a coach handed out, as it is read from the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HandedTask {
    /// From the file, so not safe to print as it is.
    pub by: Option<String>,
    pub name: String,
    /// The number of the position, where the file says it.
    pub number: Option<u32>,
    pub due: Option<Date>,
    pub words: String,
    pub root: Line,
}

/// The positions, one game each, with no move of the coach's and none of his words but what is to be done.
#[must_use]
pub fn handed_out(positions: &[CollectedPosition], with: &HandOut<'_>) -> String {
    let games = (1..).zip(positions).map(|(number, position)| {
        let number: usize = number;
        let tags = [
            ("Event", with.name.to_owned()),
            ("Round", number.to_string()),
            ("Annotator", with.by.to_owned()),
        ];
        let tags: Vec<(String, String)> = tags
            .into_iter()
            .map(|(name, value)| (name.to_owned(), value))
            .collect();
        let bare = Tree::new(Line::new(position.tree.root().position().clone()));
        write_tree_with(&bare, &tags, None, &task(position, with))
    });
    games.collect::<Vec<_>>().join("\n")
}

/// 'Homework by 2026-12-05: find the move', in the words in which every coach can set one.
fn task(position: &CollectedPosition, with: &HandOut<'_>) -> String {
    let (mut due, mut words) = (with.due, with.words);
    if let Some(Order::Homework { due: own, words: w }) = &position.task {
        due = own.or(due);
        words = if w.is_empty() { words } else { w };
    }
    let by = due.map_or_else(String::new, |day| format!(" by {day}"));
    format!("Homework{by}: {words}").trim_end().to_owned()
}

/// The task of a game without moves that answers no attempt and says 'Homework:'; `None` for any other game. A coach
/// can write it by hand in any PGN editor.
#[must_use]
pub fn handed_task(game: &Game) -> Option<HandedTask> {
    let bare = game.from_fen && game.moves.is_empty() && super::super::tag(game).is_none();
    let order = orders(&game.comment)
        .into_iter()
        .find(|o| matches!(o, Order::Homework { .. }));
    let (true, Some(Order::Homework { due, words })) = (bare, order) else {
        return None;
    };
    let said = |name: &str| {
        let value = game.tag(name).map(str::trim);
        value
            .filter(|v| !matches!(*v, "" | "?" | "-"))
            .map(str::to_owned)
    };
    Some(HandedTask {
        by: said("Annotator"),
        name: said("Event").unwrap_or_default(),
        number: said("Round").and_then(|n| n.parse().ok()),
        due,
        words,
        root: Line::new(game.start.clone()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coach::collection::collected;
    use crate::tree::pgn;

    #[test]
    fn nothing_of_the_coachs_tree_goes_out() {
        let text = "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n{Homework: what is the last word? (Mind the rook.)} \
                    1. c7 {the secret} Rd6+ 2. Kb5 $1 (2. Kc5 $2) *\n\n\
                    [FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1\"]\n\n{also a secret} 1. Kf2 $1 *\n";
        let found = collected(text);
        assert_eq!((found.positions.len(), found.errors.len()), (2, 0));
        let with = HandOut {
            name: "Autumn",
            by: "Bram Oskarn",
            due: Some(jiff::civil::date(2026, 12, 5)),
            words: "Write what you see.",
        };
        let out = handed_out(&found.positions, &with);
        assert!(
            !out.contains("secret") && !out.contains("c7") && !out.contains("Kf2"),
            "{out}"
        );
        let games: Vec<_> = pgn::games_as_they_stand(&out).map(Result::unwrap).collect();
        let tasks: Vec<HandedTask> = games.iter().filter_map(handed_task).collect();
        let told: Vec<_> = tasks
            .iter()
            .map(|t| {
                (
                    t.by.as_deref(),
                    t.number,
                    t.due.map(|d| d.to_string()),
                    t.words.as_str(),
                )
            })
            .collect();
        let day = Some("2026-12-05".to_owned());
        assert_eq!(
            told,
            [
                (
                    Some("Bram Oskarn"),
                    Some(1),
                    day.clone(),
                    "what is the last word? (Mind the rook.)"
                ),
                (Some("Bram Oskarn"), Some(2), day, "Write what you see."),
            ]
        );
        // A game with moves is no task, whatever its words.
        let game = pgn::games_as_they_stand(text).next().unwrap().unwrap();
        assert_eq!(handed_task(&game), None);
    }
}
