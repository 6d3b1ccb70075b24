//! What he wrote into his own games from memory: attempts at those positions, locked at once.

use crate::app::attempts::import::AttemptImporter;
use crate::app::games::service::GameService;
use crate::app::{AppError, AttemptId};
use crate::attempt::{
    AttemptEvent, BoardVisibility, Opened, Origin, TimedAttemptEvent, past_as_uci,
};
use crate::board::line;
use crate::games::{Marks, OwnGame, may_be_going_on};
use crate::tree::NodeId;
use crate::tree::pgn::{self, Written};

/// What became of the variations of own games.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RememberedNotes {
    /// Trees that are attempts now.
    pub new: usize,
    /// Trees that came after the judge had spoken of their game: kept in the game, no attempts.
    pub late: usize,
}

impl GameService {
    /// Makes an attempt of each tree that the player wrote at a move of his own, once. They are locked
    /// before the judge speaks of the game for the first time; what is written later is not from memory.
    ///
    /// # Errors
    /// The store cannot be used.
    pub fn remember_notes(&self) -> Result<RememberedNotes, AppError> {
        let mut told = RememberedNotes::default();
        let mut incoming = AttemptImporter::new(&self.repository);
        // A variation begins with a bracket: the other games need not be read.
        for game in self.games_where(|game| game.pgn.contains('('))? {
            let mut marks = self.game_marks(&game.id)?;
            let before = marks.notes.len();
            self.remember(&game, &mut marks, &mut told, &mut incoming)?;
            if marks.notes.len() > before {
                incoming.put(&game.id, &marks)?;
                incoming.whole()?;
            }
        }
        incoming.keep()?;
        Ok(told)
    }

    /// Before an attempt from memory is judged for the first time: refuses where its game may be going on,
    /// and marks the game as judged, so that what is written later is not from memory.
    pub(crate) fn first_judgement(&self, id: &AttemptId, origin: &Origin) -> Result<(), AppError> {
        if let Origin::Notes(words) = origin
            && let Some(game) = self.game_of_memory(words)?
        {
            if !self.repository.store().is_read_only() {
                self.gather_thoughts(&game)?;
            }
            self.refuse_before_lock(&game)?;
        }
        let all = self.repository.store().scan::<Marks>()?;
        let of_attempt = |m: &Marks| m.notes.iter().any(|(_, name)| *name == id.0);
        let Some((game, mut marks)) = all.into_iter().find(|(_, m)| of_attempt(m)) else {
            return Ok(());
        };
        if marks.judged {
            return Ok(());
        }
        let games = self.own_games()?;
        let own = games.iter().find(|g| g.id == game);
        let today = self.today();
        if let Some(own) = own.filter(|g| may_be_going_on(&g.game, &today) && !marks.over) {
            return Err(AppError::MayGoOn(own.heading()));
        }
        if !self.repository.store().is_read_only() {
            marks.judged = true;
            self.repository.store().put(&game, &marks)?;
        }
        Ok(())
    }

    fn remember(
        &self,
        game: &OwnGame,
        marks: &mut Marks,
        told: &mut RememberedNotes,
        incoming: &mut AttemptImporter,
    ) -> Result<(), AppError> {
        if game.game.moves.len() == game.game.main.len() {
            return Ok(());
        }
        for written in pgn::written_trees(&game.game) {
            let ply = written.root().past().len();
            let there = marks.notes.iter().any(|(p, _)| *p == ply);
            if there || written.root().player() != game.side {
                continue;
            }
            if marks.judged {
                // Told once: the empty name stands for no attempt.
                marks.notes.push((ply, String::new()));
                told.late += 1;
                continue;
            }
            let words = format!("{}, move {}", game.heading(), game.number(ply));
            let id = incoming.attempt(&log_of(&words, &written, self.clock.wall_ms()))?;
            marks.notes.push((ply, id.0));
            told.new += 1;
        }
        Ok(())
    }

    /// Keeps a tree that was written elsewhere as a locked attempt.
    pub(crate) fn keep_written(
        &self,
        words: &str,
        written: &Written,
    ) -> Result<AttemptId, AppError> {
        let mut incoming = AttemptImporter::new(&self.repository);
        let id = incoming.attempt(&log_of(words, written, self.clock.wall_ms()))?;
        incoming.keep()?;
        Ok(id)
    }
}

/// The log of a tree that was written elsewhere: without times, so without a process section.
pub(crate) fn log_of(words: &str, written: &Written, wall_ms: i64) -> Vec<TimedAttemptEvent> {
    let root = written.root();
    let mut log = vec![
        AttemptEvent::Opened(Opened {
            quick: None,
            origin: Origin::Notes(format!("from memory: {words}")),
            start_fen: line::fen(root.start()),
            past: past_as_uci(root),
            budget_ms: None,
            sight: BoardVisibility::Root,
            wall_ms,
        }),
        AttemptEvent::Started,
    ];
    let tree = &written.tree;
    for (node, content) in tree.nodes() {
        log.push(AttemptEvent::Added {
            parent: tree.parent(node).unwrap_or(NodeId::ROOT),
            text: content.text.clone(),
        });
        if content.verdict.is_some() {
            let verdict = content.verdict;
            log.push(AttemptEvent::Judged { node, verdict });
        }
        if !content.comment.is_empty() {
            let text = content.comment.clone();
            log.push(AttemptEvent::Commented { node, text });
        }
    }
    log.push(AttemptEvent::Chosen {
        node: written.choice,
    });
    log.push(AttemptEvent::Locked);
    let event = |what| TimedAttemptEvent { at_ms: 0, what };
    log.into_iter().map(event).collect()
}
