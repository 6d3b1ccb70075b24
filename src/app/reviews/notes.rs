//! Notes in a PGN file: what players wrote down at moves of their games, reviewed one by one.

use std::collections::HashMap;

use serde::{Deserialize, Serialize};

use crate::app::AppError;
use crate::app::Clock;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::games::memory_notes::log_of;
use crate::app::games::service::GameService;
use crate::app::reviews::note_id::NoteId;
use crate::app::reviews::statistics::StatisticsRecorder;
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::attempt::{Attempt, Origin, TimedAttemptEvent};
use crate::games::{Same, may_be_going_on, same_name};
use crate::progress::Sighted;
use crate::review::Settings;
use crate::review::{self, Review, ReviewInput, ReviewObserver};
use crate::store::Record;
use crate::tree::Tree;
use crate::tree::pgn::{self, Game, PgnError};
use std::sync::Arc;

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
    /// Which tree of which game it is.
    pub id: NoteId,
    pub written: pgn::Written,
}

/// Notes as they stood before the judge first spoke of them, as the log of an attempt.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct ReadNotes {
    /// As it was shown when they were locked.
    heading: String,
    root: String,
    log: Vec<TimedAttemptEvent>,
    /// `None` in records of the first version, which are known by their heading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    id: Option<NoteId>,
}

impl Record for ReadNotes {
    const TABLE: &'static str = "read-notes";
    const VERSION: u32 = 1;
}

/// Notes that are not those which were locked for their place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedNotes {
    /// Which of the notes.
    pub number: usize,
    /// Players, event and move. From the file: not safe to print as it is.
    pub heading: String,
    /// When the first ones were locked, milliseconds since 1970-01-01 UTC.
    pub locked_ms: i64,
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
            id: NoteId::of(game, &written),
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

/// Notes in PGN files: locked, reviewed, kept.
#[derive(Clone)]
pub struct NoteService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) judges: Arc<JudgeProvider>,
    pub(crate) settings: Settings,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) games: GameService,
    pub(crate) statistics: StatisticsRecorder,
}

impl NoteService {
    /// Locks notes before the judge speaks of them: keeps each as it stands, with the time, where nothing is locked
    /// yet under its heading at its position. Gives those that are not what was locked: they were changed after a
    /// judgement. Where the store may only be read, nothing is locked.
    ///
    /// # Errors
    /// The store cannot be used.
    pub fn lock_notes(&self, notes: &[Note]) -> Result<Vec<ChangedNotes>, AppError> {
        let store = self.repository.store();
        let mut batch = store.batch();
        let mut changed = Vec::new();
        let (mut met, mut met_before) = (HashMap::new(), HashMap::new());
        for (number, note) in notes.iter().enumerate() {
            let key = numbered(note.id.key(), &mut met);
            if let Some(held) = self.held(note, &key, &mut met_before)? {
                let attempt = Attempt::fold(&held.log)?;
                if !is_same(attempt.tree(), &note.written.tree) {
                    changed.push(ChangedNotes {
                        number,
                        heading: note.heading.clone(),
                        locked_ms: attempt.opened().wall_ms,
                    });
                }
            } else if !store.is_read_only() {
                let notes = ReadNotes {
                    heading: note.heading.clone(),
                    root: note.id.root().to_string(),
                    log: log_of(&note.heading, &note.written, self.clock.wall_ms()),
                    id: Some(note.id.clone()),
                };
                batch.put(&key, &notes)?;
            }
        }
        batch.keep()?;
        Ok(changed)
    }

    /// What was locked for the place of a note, under its key or as the first version of the program kept it.
    fn held(
        &self,
        note: &Note,
        key: &str,
        met_before: &mut HashMap<String, usize>,
    ) -> Result<Option<ReadNotes>, AppError> {
        let store = self.repository.store();
        let (heading, first_key) = note.id.first_form();
        let first_key = numbered(first_key, met_before);
        if let Some(held) = store.get::<ReadNotes>(key)?
            && held.id.as_ref() == Some(&note.id)
        {
            return Ok(Some(held));
        }
        let held: Option<ReadNotes> = store.get(&first_key)?;
        let root = note.id.root().as_str();
        Ok(held.filter(|h| h.id.is_none() && h.heading == heading && h.root == root))
    }

    /// Keeps a reviewed tree as an attempt of the player's own, written from memory, and counts it. False
    /// where it is kept already, or where the store knows the player and another one wrote it.
    ///
    /// # Errors
    /// The store cannot be used.
    pub fn keep_note(&self, note: &Note, review: &Review) -> Result<bool, AppError> {
        if self.is_of_another(note)? || self.has_note(note)? {
            return Ok(false);
        }
        let id = self.games.keep_written(&note.heading, &note.written)?;
        let attempt = self.repository.attempt(&id)?;
        self.statistics.keep(&id, &attempt, review)?;
        Ok(true)
    }

    fn is_of_another(&self, note: &Note) -> Result<bool, AppError> {
        let (Some(player), Some(student)) = (self.games.player()?, &note.student) else {
            return Ok(false);
        };
        let mut names = std::iter::once(&player.name).chain(&player.also);
        Ok(names.all(|name| same_name(name, student) == Same::No))
    }

    /// True where the same tree is an attempt from memory already.
    fn has_note(&self, note: &Note) -> Result<bool, AppError> {
        if self
            .repository
            .store()
            .get::<Sighted>(note.id.root().as_str())?
            .is_none()
        {
            return Ok(false);
        }
        for (id, summary) in self.repository.summaries()? {
            let from_memory = matches!(summary.origin, Origin::Notes(_));
            if !from_memory {
                continue;
            }
            let attempt = self.repository.readable_attempt(&id)?;
            if attempt.is_some_and(|a| is_same(a.tree(), &note.written.tree)) {
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
        watcher: &mut dyn ReviewObserver,
    ) -> Result<Review, AppError> {
        let written = ReviewInput {
            tree: &note.written.tree,
            choice: note.written.choice,
            attempt: None,
            ply_in_game: Some(note.written.game_ply),
        };
        let judge = self.judges.judge()?;
        Ok(review::review(&written, &*judge, &self.settings, watcher)?)
    }
}

/// Several of the same in one file are told apart by their order.
fn numbered(key: String, met: &mut HashMap<String, usize>) -> String {
    let count = met.entry(key.clone()).or_default();
    *count += 1;
    format!("{key}-{count}")
}

/// The same moves and verdicts at the same position.
fn is_same(one: &Tree, other: &Tree) -> bool {
    let place = |tree: &Tree| crate::board::line::fen(tree.root().position());
    let written = |tree: &Tree| -> Vec<_> {
        let nodes = tree.nodes();
        nodes
            .map(|(id, n)| (tree.parent(id), n.text.clone(), n.verdict))
            .collect()
    };
    place(one) == place(other) && written(one) == written(other)
}
