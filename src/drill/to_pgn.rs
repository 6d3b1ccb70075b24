//! Drills as PGN: every drill a game with a FEN tag, which [`super::load`] reads again. PGN has no place for minutes,
//! themes and grades.

use super::Drill;
use crate::tree::Tree;
use crate::tree::pgn::write_tree_with;

/// The drills, one game each; without solutions the positions alone, to be handed out: then neither title, source nor
/// note goes with them, since each may tell what to look for.
#[must_use]
pub fn write(drills: &[Drill], solutions: bool) -> String {
    let games = (1..).zip(drills).map(|(number, drill)| {
        let bare = Tree::new(drill.root.clone());
        let (tree, event, words) = match solutions {
            true => (
                &drill.solution,
                drill.title.clone(),
                drill.note.clone().unwrap_or_default(),
            ),
            false => (&bare, format!("Position {number}"), String::new()),
        };
        let mut tags = vec![("Event".to_owned(), event)];
        if solutions {
            tags.push(("Annotator".to_owned(), drill.source.clone()));
        }
        write_tree_with(tree, &tags, None, &words)
    });
    games.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drill::{builtin, from_pgn::load};

    #[test]
    fn what_is_written_is_read_again_with_its_lines() {
        let drills = &builtin().unwrap()[..20];
        let text = write(drills, true);
        let read = load(&text, "x.pgn").unwrap();
        assert_eq!(read.len(), 20);
        for (drill, read) in drills.iter().zip(&read) {
            assert_eq!(drill.root.position(), read.root.position(), "{}", drill.id);
            let lines = |d: &Drill| -> Vec<Vec<String>> {
                let leaves = d.solution.leaves().into_iter();
                let mut lines: Vec<_> = leaves.map(|l| d.solution.sans(l)).collect();
                lines.sort();
                lines
            };
            assert_eq!(lines(drill), lines(read), "{}", drill.id);
        }
    }

    #[test]
    fn a_position_that_is_handed_out_tells_nothing() {
        let drills = &builtin().unwrap()[..20];
        let text = write(drills, false);
        for drill in drills {
            assert!(!text.contains(&drill.title), "{}", drill.id);
        }
        assert!(!text.contains("1. "), "{text}");
    }
}
