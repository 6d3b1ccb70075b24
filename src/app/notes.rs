//! Notes in a PGN file: what players wrote down at moves of their games, reviewed one by one.

use crate::attempt::Origin;
use crate::board::line;
use crate::games::{Same, may_be_going_on, same_name};
use crate::review::{self, Review, Written};
use crate::tree::Tree;
use crate::tree::pgn::{self, Game, PgnError};

use super::{App, AppError};

/// Largest PGN text that is read, in bytes.
pub const NOTES_MAX: u64 = 64 << 20;

/// What stands in a PGN text.
#[derive(Debug, Default)]
pub struct Notes {
    /// The written trees with a heading each, in the order of the file.
    pub trees: Vec<Note>,
    /// The games that could not be read; the others could.
    pub errors: Vec<PgnError>,
    /// Games with written trees that may be going on, by their headings: they are left out.
    pub held_back: Vec<String>,
}

/// One written tree.
#[derive(Debug)]
pub struct Note {
    /// Players, event, and the move it was written at. From the file: not safe to print as it is.
    pub heading: String,
    /// Who wrote it: the player to move at the position, or else the other one the file names. From the file.
    pub student: Option<String>,
    pub written: pgn::Written,
}

/// Finds the written trees in PGN bytes. With the date of `today` (as PGN writes it) games that may be going
/// on are held back; without, the player has said that they are over.
#[must_use]
pub fn notes(bytes: &[u8], today: Option<&str>) -> Notes {
    let mut notes = Notes::default();
    for game in pgn::games(&pgn::decode(bytes)) {
        match game {
            Ok(game) if today.is_some_and(|today| may_be_going_on(&game, today)) => {
                let written = pgn::written_trees(&game);
                notes
                    .held_back
                    .extend(written.first().map(|_| players(&game)));
            }
            Ok(game) => notes.trees.extend(trees(&game)),
            Err(error) => notes.errors.push(error),
        }
    }
    notes
}

fn trees(game: &Game) -> Vec<Note> {
    let written = pgn::written_trees(game).into_iter();
    written
        .map(|written| Note {
            heading: heading(game, &written),
            student: student(game, &written),
            written,
        })
        .collect()
}

fn student(game: &Game, written: &pgn::Written) -> Option<String> {
    let (own, other) = written
        .root()
        .player()
        .fold_wb(("White", "Black"), ("Black", "White"));
    game.tag(own).or(game.tag(other)).map(str::to_owned)
}

/// 'Verrick, Ansa - Pell, Doran, Harrowmere Chess League 2026.02.14: move 17, White'.
fn heading(game: &Game, written: &pgn::Written) -> String {
    let side = match written.root().player() {
        shakmaty::Color::White => "White",
        shakmaty::Color::Black => "Black",
    };
    let number = written.game_ply / 2 + 1;
    format!("{}: move {number}, {side}", players(game))
}

/// 'Verrick, Ansa - Pell, Doran, Harrowmere Chess League 2026.02.14'.
fn players(game: &Game) -> String {
    let players = [game.tag("White"), game.tag("Black")].map(|n| n.unwrap_or("?"));
    let mut parts = vec![players.join(" - ")];
    let event = [game.tag("Event"), game.tag("Date")];
    parts.push(event.into_iter().flatten().collect::<Vec<_>>().join(" "));
    parts.retain(|p| !p.is_empty());
    parts.join(", ")
}

impl App {
    /// Keeps a reviewed tree as an attempt of the player's own, written from memory, and counts it. False
    /// where it is kept already, or where the store knows the player and another one wrote it.
    ///
    /// # Errors
    /// The store cannot be used.
    pub fn keep_note(&self, note: &Note, review: &Review) -> Result<bool, AppError> {
        if self.is_of_another(note)? || self.has_note(note)? {
            return Ok(false);
        }
        let id = self.keep_written(&note.heading, &note.written)?;
        let attempt = self.kept.attempt(&id)?;
        self.kept.summarise(&id, &attempt, Some(review))?;
        self.count(&id, &attempt, review)?;
        Ok(true)
    }

    fn is_of_another(&self, note: &Note) -> Result<bool, AppError> {
        let (Some(player), Some(student)) = (self.player()?, &note.student) else {
            return Ok(false);
        };
        let mut names = std::iter::once(&player.name).chain(&player.also);
        Ok(names.all(|name| same_name(name, student) == Same::No))
    }

    /// True where the same tree is an attempt from memory already.
    fn has_note(&self, note: &Note) -> Result<bool, AppError> {
        for (id, summary) in self.kept.summaries()? {
            let from_memory = matches!(summary.origin, Origin::Notes(_));
            if from_memory && is_same(self.kept.attempt(&id)?.tree(), &note.written.tree) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// Compares one written tree with the truth. Notes have no log, so there is no process section.
    ///
    /// # Errors
    /// The engine failed.
    pub fn review_note(
        &self,
        note: &Note,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<Review, AppError> {
        let written = Written {
            tree: &note.written.tree,
            choice: note.written.choice,
            attempt: None,
            ply_in_game: Some(note.written.game_ply),
        };
        let judge = self.bench.judge()?;
        Ok(review::review(
            &written,
            &*judge,
            &self.settings,
            &mut |answered, asked| progress(answered, asked),
        )?)
    }
}

/// The same moves and verdicts at the same position.
fn is_same(one: &Tree, other: &Tree) -> bool {
    let place = |tree: &Tree| line::fen(tree.root().position());
    let written = |tree: &Tree| -> Vec<_> {
        let nodes = tree.nodes();
        nodes
            .map(|(id, n)| (tree.parent(id), n.text.clone(), n.verdict))
            .collect()
    };
    place(one) == place(other) && written(one) == written(other)
}
