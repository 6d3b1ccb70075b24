//! What coaches' files bring, game by game, each to the attempt it answers.

use std::collections::HashMap;

use shakmaty::Position;

use crate::app::reviews::coach::CoachService;
use crate::app::{AppError, AttemptId};
use crate::attempt::{Attempt, TimedAttemptEvent};
use crate::board::Line;
use crate::coach::collection::HandedTask;
use crate::coach::{self, CoachImport};
use crate::games::{Same, same_name};
use crate::tree::pgn::{self, Game, PgnError};

/// One game of a coach's file.
#[derive(Debug)]
pub enum Answer {
    Taken(Box<CoachImport>),
    /// A position that a coach handed out, with his name.
    Task(String, Box<HandedTask>),
    /// It answers an attempt that is kept elsewhere: in a file to several students each finds his own.
    Elsewhere {
        number: usize,
        line: usize,
        /// Which attempt, and whose as the file says; from the file, so not safe to print as they are.
        attempt: String,
        student: Option<String>,
    },
    /// Why nothing of it was taken, with its number in the file and the line in which it begins.
    Refused {
        number: usize,
        line: usize,
        why: String,
    },
    Unreadable(PgnError),
}

/// What is said of a file on the command line.
#[derive(Debug, Clone, Copy, Default)]
pub struct AnswerTerms<'a> {
    /// The coach's name; without, the file's annotator where he is nobody else.
    pub by: Option<&'a str>,
    /// The attempt it answers, where the file does not say it.
    pub to: Option<&'a AttemptId>,
}

/// Reads files one after the other: what a later one brings is only what is new after the earlier ones. Nothing is
/// kept ([`CoachService::keep_taken`]).
pub struct AnswerReader<'s> {
    service: &'s CoachService,
    /// The attempts as they are with what was read so far.
    attempts: HashMap<AttemptId, Attempt>,
}

impl CoachService {
    /// For reading what came back.
    #[must_use]
    pub fn reader(&self) -> AnswerReader<'_> {
        AnswerReader {
            service: self,
            attempts: HashMap::new(),
        }
    }
}

impl AnswerReader<'_> {
    /// What a file brings, in the order of its games.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn read(&mut self, bytes: &[u8], terms: AnswerTerms<'_>) -> Result<Vec<Answer>, AppError> {
        let text = pgn::decode(bytes);
        let games = pgn::games_as_they_stand(&text);
        games
            .map(|game| match game {
                Ok(game) => self.answer(&game, terms),
                Err(error) => Ok(Answer::Unreadable(error)),
            })
            .collect()
    }

    fn answer(&mut self, game: &Game, terms: AnswerTerms<'_>) -> Result<Answer, AppError> {
        let refused = |why: String| {
            Ok(Answer::Refused {
                number: game.number,
                line: game.line,
                why,
            })
        };
        if !game.from_fen {
            let why = tr!("it has no FEN tag: it is a game that was played, and no attempt");
            return refused(why.to_owned());
        }
        if let Some(task) = coach::collection::handed_task(game) {
            return Ok(self.task(game, task, terms));
        }
        let tag = coach::tag(game).map(|t| AttemptId(t.to_owned()));
        let (id, attempt) = match terms.to.or(tag.as_ref()) {
            Some(id) => match self.attempt(id) {
                Ok(attempt) => (id.clone(), attempt),
                Err(AppError::NoSuchAttempt(_)) => return Ok(elsewhere(game, id)),
                Err(e) => return Err(e),
            },
            None => match self.only_attempt_at(game)? {
                Ok(found) => found,
                Err(why) => return refused(why),
            },
        };
        let now = self.service.clock.wall_ms();
        let by = match terms.by {
            Some(by) => by,
            None => match self.author(game, (&id, &attempt), terms.to.is_some())? {
                Ok(by) => by,
                // Where it answers no attempt at all, that is what is wrong with it.
                Err(why) => {
                    return match coach::compare(game, (&id.0, &attempt), "coach", now) {
                        Ok(_) => refused(why),
                        Err(other) => refused(other.to_string()),
                    };
                }
            },
        };
        match coach::compare(game, (&id.0, &attempt), by, now) {
            Ok(taken) => {
                self.attempts.insert(id, with(attempt, &taken)?);
                Ok(Answer::Taken(Box::new(taken)))
            }
            Err(why) => refused(why.to_string()),
        }
    }

    fn task(&self, game: &Game, task: HandedTask, terms: AnswerTerms<'_>) -> Answer {
        let why = match terms.by.or(task.by.as_deref()) {
            _ if terms.to.is_some() => {
                tr!("it has no moves: it is a position to write on, and answers no attempt")
            }
            _ if task.root.position().legal_moves().is_empty() => {
                tr!("there is no move in its position")
            }
            Some(by) => return Answer::Task(by.to_owned(), Box::new(task)),
            None => tr!("it does not say which coach set it; say it with --by NAME"),
        };
        Answer::Refused {
            number: game.number,
            line: game.line,
            why: why.to_owned(),
        }
    }

    fn attempt(&self, id: &AttemptId) -> Result<Attempt, AppError> {
        match self.attempts.get(id) {
            Some(attempt) => Ok(attempt.clone()),
            None => self.service.attempts.attempt(id),
        }
    }

    /// The one locked attempt at the position of a game that does not say which it answers.
    fn only_attempt_at(
        &self,
        game: &Game,
    ) -> Result<Result<(AttemptId, Attempt), String>, AppError> {
        let key = Line::new(game.start.clone()).key();
        let mut found = Vec::new();
        for (id, _) in self.service.attempts.history()? {
            let attempt = match self.attempts.get(&id) {
                Some(attempt) => Some(attempt.clone()),
                None => self.service.repository.readable_attempt(&id)?,
            };
            if let Some(attempt) = attempt.filter(|a| a.tree().root().key() == key) {
                found.push((id, attempt));
            }
        }
        Ok(match found.len() {
            0 => Err(tr!("no attempt of yours begins in its position").to_owned()),
            1 => found.pop().ok_or_else(String::new),
            n => Err(tr!(
                "{n} attempts begin in its position and its tag 'Attempt' is gone; say which with --attempt"
            )),
        })
    }

    /// Whose words a game holds: its annotator's, where he is neither the player nor a classmate. A game that does not
    /// say which attempt it answers must hold all that was written in it, else it may be anybody's tree.
    fn author<'g>(
        &self,
        game: &'g Game,
        (id, attempt): (&AttemptId, &Attempt),
        named: bool,
    ) -> Result<Result<&'g str, String>, AppError> {
        let own = self.service.students(attempt)?;
        let is_own = |name: &str| own.iter().any(|o| same_name(o, name) != Same::No);
        let side = attempt.tree().root().player();
        let writer = name(game, side.fold_wb("White", "Black"));
        if let Some(writer) = writer.filter(|w| !own.is_empty() && !is_own(w)) {
            return Ok(Err(tr!(
                "'{writer}' is named in it as the one who wrote it, and attempt {id} is by '{}': another player's tree is no coach's word; if a coach wrote it, say who with --by NAME",
                own.first().map_or("", String::as_str)
            )));
        }
        let players = ["White", "Black"].map(|tag| name(game, tag));
        let annotator = name(game, "Annotator");
        if let Some(annotator) = annotator.filter(|a| !players.contains(&Some(a)) && !is_own(a)) {
            return Ok(Ok(annotator));
        }
        let is_tagged = coach::tag(game).is_some_and(|tag| tag == id.0);
        if is_tagged || named || coach::holds_all(game, attempt) {
            return Ok(Ok("coach"));
        }
        Ok(Err(tr!(
            "it neither says which attempt it answers nor holds all moves of attempt {id}, which begins in its position: it may be another player's tree; if a coach wrote it, say who with --by NAME"
        )))
    }
}

impl CoachService {
    /// The names of the one who wrote an attempt: the one it was sent under, else those of the games' player.
    fn students(&self, attempt: &Attempt) -> Result<Vec<String>, AppError> {
        if let Some(name) = attempt.coached().and_then(|c| c.player()) {
            return Ok(vec![name.to_owned()]);
        }
        let player = self.games.player()?;
        Ok(player.map_or_else(Vec::new, |p| {
            std::iter::once(p.name).chain(p.also).collect()
        }))
    }
}

fn elsewhere(game: &Game, id: &AttemptId) -> Answer {
    let side = Line::new(game.start.clone()).turn();
    Answer::Elsewhere {
        number: game.number,
        line: game.line,
        attempt: id.0.clone(),
        student: name(game, side.fold_wb("White", "Black")).map(str::to_owned),
    }
}

/// A name in a tag; PGN writes '?' for one that is not known (section 8.1.1).
fn name<'g>(game: &'g Game, tag: &str) -> Option<&'g str> {
    game.tag(tag)
        .map(str::trim)
        .filter(|name| !matches!(*name, "" | "?" | "-"))
}

/// The attempt with what was read.
fn with(mut attempt: Attempt, taken: &CoachImport) -> Result<Attempt, AppError> {
    let at_ms = attempt.last_ms();
    for what in taken.events.clone() {
        attempt.apply(&TimedAttemptEvent { at_ms, what })?;
    }
    Ok(attempt)
}
