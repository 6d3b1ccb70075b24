//! Attempts out to a coach, and what he wrote back into them.

use std::path::PathBuf;

use crate::app::Clock;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::attempts::service::AttemptService;
use crate::app::reviews::queue::ReviewQueue;
use crate::app::reviews::service::ReviewService;
use crate::app::{AppError, AttemptId, Output, OutputError};
use crate::attempt::{Attempt, AttemptEvent, FindingSelector, SentFinding, TimedAttemptEvent};
use crate::board::Line;
use crate::coach::{self, CoachExport, CoachImport};
use crate::review::Finding;
use crate::tree::pgn::{self, Game, PgnError};
use std::sync::Arc;

/// An attempt as it goes out.
#[derive(Debug, Clone, PartialEq)]
pub struct CoachLetter {
    pub id: AttemptId,
    /// One game in export format.
    pub pgn: String,
    told: Vec<SentFinding>,
}

/// One game of a coach's file.
#[derive(Debug)]
pub enum Answer {
    Taken(CoachImport),
    /// Why nothing of it was taken, with its number in the file and the line in which it begins.
    Refused {
        number: usize,
        line: usize,
        why: String,
    },
    Unreadable(PgnError),
}

/// Attempts out to a coach, and his answers back in.
#[derive(Clone)]
pub struct CoachService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) attempts: AttemptService,
    pub(crate) reviews: ReviewService,
    pub(crate) queue: Arc<ReviewQueue>,
}

impl CoachService {
    /// A locked attempt as PGN for a coach. With `review` its findings stand in it as a second layer.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked, or the engine failed.
    pub fn letter(
        &self,
        id: &AttemptId,
        player: Option<&str>,
        review: bool,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<CoachLetter, AppError> {
        let attempt = self.attempts.attempt(id)?;
        if attempt.locked_ms().is_none() {
            return Err(AppError::NotLocked);
        }
        let told = if review {
            coach::told(
                &self
                    .reviews
                    .review(id, &mut |done, all| progress(done, all))?,
            )
        } else {
            Vec::new()
        };
        let pgn = coach::written(&CoachExport {
            attempt: &attempt,
            id: &id.0,
            player,
            told: &told,
        });
        Ok(CoachLetter {
            id: id.clone(),
            pgn,
            told,
        })
    }

    /// Notes in the attempt that it went out; to be called once the file is written.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn sent(&self, sending: CoachLetter) -> Result<(), AppError> {
        let what = AttemptEvent::Sent {
            wall_ms: self.clock.wall_ms(),
            findings: sending.told,
        };
        self.append(&sending.id, vec![what])
    }

    /// Writes a locked attempt, without its review, to a file of its own in the home folder, from where it can be
    /// sent to a coach; gives the file. Its name is that of the attempt.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked, or the file cannot be written.
    pub fn send_to_coach(&self, id: &AttemptId) -> Result<PathBuf, AppError> {
        let sending = self.letter(id, None, false, &mut |_, _| {})?;
        let folder = self.repository.store().folder().join("for-coach");
        std::fs::create_dir_all(&folder)?;
        let home = self.repository.store().folder();
        // What came back may have been saved over what went out: then that one goes out under a new name.
        let mut named = folder.join(format!("{id}.pgn"));
        let mut number = 1;
        let output = loop {
            match Output::handed_out(&named, home) {
                Err(OutputError::Foreign(_)) if number < 1000 => number += 1,
                answer => break answer?,
            }
            named = folder.join(format!("{id}-{number}.pgn"));
        };
        output.write(&sending.pgn)?;
        let file = named;
        self.sent(sending)?;
        Ok(file)
    }

    /// A coach's word on a finding, said at the player's own screen: strikes it, or with no reason lets it stand
    /// again. Everything that is counted follows when the review is computed again.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked, or it could not be kept.
    pub fn rule(
        &self,
        id: &AttemptId,
        finding: &Finding,
        by: &str,
        struck: Option<&str>,
    ) -> Result<(), AppError> {
        let (by, wall_ms) = (by.to_owned(), self.clock.wall_ms());
        let named = FindingSelector {
            path: finding.paths.first().cloned().unwrap_or_default(),
            kind: Some(finding.kind.code().to_owned()),
            resource: Some(finding.resource.clone()),
        };
        let what = match struck {
            Some(reason) => AttemptEvent::Overruled {
                by,
                wall_ms,
                finding: named,
                reason: reason.to_owned(),
            },
            None => AttemptEvent::Upheld {
                by,
                wall_ms,
                finding: named,
            },
        };
        self.append(id, vec![what])?;
        self.ruled(id)
    }

    /// The figures of the old review no longer hold.
    fn ruled(&self, id: &AttemptId) -> Result<(), AppError> {
        let mut step = self.repository.step();
        step.summarise(id, &self.attempts.attempt(id)?, None)?;
        step.keep()?;
        self.queue.forget(id);
        Ok(())
    }

    /// What a coach's file brings, game by game. Nothing is kept yet: see [`CoachService::keep_taken`]. `by` is his
    /// name, else the file's `Annotator` where that is not the player's; `to` the attempt, where the
    /// file does not say it.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn answers(
        &self,
        bytes: &[u8],
        by: Option<&str>,
        to: Option<&AttemptId>,
    ) -> Result<Vec<Answer>, AppError> {
        let text = pgn::decode(bytes);
        let mut answers = Vec::new();
        for game in pgn::games_as_they_stand(&text) {
            answers.push(match game {
                Ok(game) => self.answered_by(&game, by, to)?,
                Err(error) => Answer::Unreadable(error),
            });
        }
        Ok(answers)
    }

    fn answered_by(
        &self,
        game: &Game,
        by: Option<&str>,
        to: Option<&AttemptId>,
    ) -> Result<Answer, AppError> {
        let refused = |why: String| Answer::Refused {
            number: game.number,
            line: game.line,
            why,
        };
        if !game.from_fen {
            let why = "it has no FEN tag: it is a game that was played, and no attempt";
            return Ok(refused(why.to_owned()));
        }
        let found = match to
            .cloned()
            .or(coach::tag(game).map(|t| AttemptId(t.to_owned())))
        {
            Some(id) => self.attempts.attempt(&id).map(|attempt| (id, attempt)),
            None => match self.only_attempt_at(game)? {
                Ok(found) => Ok(found),
                Err(why) => return Ok(refused(why)),
            },
        };
        let (id, attempt) = match found {
            Ok(found) => found,
            Err(e @ AppError::NoSuchAttempt(_)) => return Ok(refused(e.to_string())),
            Err(e) => return Err(e),
        };
        let by = by.unwrap_or_else(|| author(game));
        Ok(
            match coach::compare(game, (&id.0, &attempt), by, self.clock.wall_ms()) {
                Ok(taken) => Answer::Taken(taken),
                Err(why) => refused(why.to_string()),
            },
        )
    }

    /// The one locked attempt at the position of a game that does not say which it answers.
    fn only_attempt_at(
        &self,
        game: &Game,
    ) -> Result<Result<(AttemptId, Attempt), String>, AppError> {
        let key = Line::new(game.start.clone()).key();
        let mut found = Vec::new();
        for (id, _) in self.attempts.history()? {
            let attempt = self.repository.readable_attempt(&id)?;
            if let Some(attempt) = attempt.filter(|a| a.tree().root().key() == key) {
                found.push((id, attempt));
            }
        }
        Ok(match found.len() {
            0 => Err("no attempt of yours begins in its position".to_owned()),
            1 => found.pop().ok_or_else(String::new),
            n => Err(format!(
                "{n} attempts begin in its position and its tag 'Attempt' is gone; say which with --attempt"
            )),
        })
    }

    /// Appends what a coach wrote to the attempt; true where a review must be computed again because a
    /// finding was struck or stands again.
    ///
    /// # Errors
    /// It could not be kept; the same file once more brings it.
    pub fn keep_taken(&self, taken: &CoachImport) -> Result<bool, AppError> {
        let id = AttemptId(taken.attempt.clone());
        self.append(&id, taken.events.clone())?;
        let ruled = !taken.overruled.is_empty() || !taken.upheld.is_empty();
        if ruled {
            self.ruled(&id)?;
        }
        Ok(ruled)
    }

    /// Appends events to a locked attempt in one step, after all of them have been tried.
    fn append(&self, id: &AttemptId, whats: Vec<AttemptEvent>) -> Result<(), AppError> {
        let mut attempt = self.attempts.attempt(id)?;
        let first = attempt.log().len();
        let at_ms = attempt.last_ms();
        let events: Vec<TimedAttemptEvent> = whats
            .into_iter()
            .map(|what| TimedAttemptEvent { at_ms, what })
            .collect();
        for event in &events {
            attempt.apply(event)?;
        }
        let mut step = self.repository.step();
        for (i, event) in events.iter().enumerate() {
            step.append(id, first + i, event)?;
        }
        step.keep()
    }
}

/// The coach's name by the file: its annotator, unless that is one of the players.
fn author(game: &Game) -> &str {
    let players = [game.tag("White"), game.tag("Black")];
    game.tag("Annotator")
        .filter(|name| !players.contains(&Some(name)))
        .unwrap_or("coach")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::testing::app::Trial;
    use crate::app::{EntryToken, Subject};
    use crate::attempt::BoardVisibility;
    use crate::review::FindingStatus;
    use crate::tree::{NodeId, Verdict};

    /// The Saavedra position (trial.rs), with a move that the rook on d6 cannot make.
    fn locked(trial: &Trial) -> AttemptId {
        let subject = Subject::Drill("saavedra-1895".to_owned());
        let mut sitting = trial
            .app
            .attempts()
            .open_sitting(&subject, None, BoardVisibility::Root)
            .unwrap();
        sitting.start().unwrap();
        let moves = ["c7", "Rd6+", "Kb5", "Ra5+", "Kxa5"].map(|m| EntryToken::Move(m.to_owned()));
        let end = sitting.write(NodeId::ROOT, &moves).unwrap();
        let verdict = Verdict::parse("-+").unwrap();
        sitting.write(end, &[EntryToken::Verdict(verdict)]).unwrap();
        sitting.choose(NodeId(1)).unwrap();
        sitting.lock().unwrap();
        sitting.id().clone()
    }

    fn taken(trial: &Trial, text: &str) -> CoachImport {
        let mut answers = trial
            .app
            .coach()
            .answers(text.as_bytes(), Some("Bram Oskarn"), None)
            .unwrap();
        match answers.remove(0) {
            Answer::Taken(taken) => taken,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn what_a_coach_strikes_is_struck_in_every_figure() {
        let trial = Trial::usual();
        let id = locked(&trial);
        let before = trial.app.reviews().review(&id, &mut |_, _| {}).unwrap();
        let counted = before.counted().count();
        assert!(counted > 0, "{:?}", before.findings);
        let sending = trial
            .app
            .coach()
            .letter(&id, None, true, &mut |_, _| {})
            .unwrap();
        let pgn = sending.pgn.clone();
        assert!(pgn.contains("{Review 1, "), "{pgn}");
        trial.app.coach().sent(sending).unwrap();
        let answered = pgn.replace(" *\n", " {Overruled 1: look at the rook.} *\n");
        let brought = taken(&trial, &answered);
        assert_eq!(brought.overruled.len(), 1, "{brought:#?}");
        assert!(trial.app.coach().keep_taken(&brought).unwrap());
        let summary = trial.app.attempts().history().unwrap().remove(0).1;
        assert_eq!(summary.reviewed, None, "old figures are gone");
        let after = trial.app.reviews().review(&id, &mut |_, _| {}).unwrap();
        let struck: Vec<_> = after
            .findings
            .iter()
            .filter(|f| f.class == FindingStatus::Overruled)
            .collect();
        assert_eq!(struck.len(), 1);
        let first = before.counted().next().unwrap();
        assert_eq!(
            (struck[0].kind, &struck[0].resource),
            (first.kind, &first.resource)
        );
        assert!(
            after
                .counted()
                .all(|f| (f.kind, &f.paths) != (first.kind, &first.paths))
        );
        let summary = trial.app.attempts().history().unwrap().remove(0).1;
        assert_eq!(summary.reviewed.unwrap().findings, after.counted().count());
        assert!(taken(&trial, &answered).is_nothing());
        let upheld = pgn.replace(" *\n", " {Upheld 1: it was right.} *\n");
        assert!(
            trial
                .app
                .coach()
                .keep_taken(&taken(&trial, &upheld))
                .unwrap()
        );
        let again = trial.app.reviews().review(&id, &mut |_, _| {}).unwrap();
        assert_eq!(again.findings, before.findings);
    }

    #[test]
    fn a_file_without_its_tag_still_finds_its_attempt() {
        let trial = Trial::usual();
        let id = locked(&trial);
        let pgn = trial
            .app
            .coach()
            .letter(&id, None, false, &mut |_, _| {})
            .unwrap()
            .pgn;
        let bare: String = pgn
            .lines()
            .filter(|l| !l.contains("Attempt"))
            .map(|l| format!("{l}\r\n"))
            .collect();
        assert_eq!(taken(&trial, &bare).attempt, id.0);
        locked(&trial);
        let answers = trial
            .app
            .coach()
            .answers(bare.as_bytes(), None, None)
            .unwrap();
        let Answer::Refused { why, .. } = &answers[0] else {
            panic!("{answers:?}");
        };
        insta::assert_snapshot!(why, @"2 attempts begin in its position and its tag 'Attempt' is gone; say which with --attempt");
        let answers = trial
            .app
            .coach()
            .answers(bare.as_bytes(), None, Some(&id))
            .unwrap();
        assert!(matches!(&answers[0], Answer::Taken(t) if t.attempt == id.0));
    }
}
