//! Attempts out to a coach, and what he wrote back into them.

use std::path::PathBuf;

use jiff::tz::TimeZone;

use crate::app::Clock;
use crate::app::attempts::repository::{AttemptRepository, Step};
use crate::app::attempts::service::AttemptService;
use crate::app::games::service::GameService;
use crate::app::reviews::homework::HomeworkService;
use crate::app::reviews::queue::ReviewQueue;
use crate::app::reviews::service::ReviewService;
use crate::app::{AppError, AttemptId, Output, OutputError};
use crate::attempt::{
    Attempt, AttemptEvent, FindingSelector, Overruling, SentFinding, TimedAttemptEvent,
};
use crate::coach::{self, CoachExport, CoachImport};
use crate::review::Finding;
use std::sync::Arc;

/// An attempt as it goes out.
#[derive(Debug, Clone, PartialEq)]
pub struct CoachLetter {
    pub id: AttemptId,
    /// One game in export format.
    pub pgn: String,
    told: Vec<SentFinding>,
    homework: Vec<String>,
    player: Option<String>,
}

/// What goes out with an attempt.
#[derive(Debug, Clone, Copy, Default)]
pub struct LetterTerms<'a> {
    /// The player's name.
    pub player: Option<&'a str>,
    /// With the findings of the review; without, the coach thinks first.
    pub review: bool,
    /// Sentences on what he had set ([`crate::app::HomeworkService::sentences`]).
    pub homework: &'a [String],
}

/// Attempts out to a coach, and his answers back in.
#[derive(Clone)]
pub struct CoachService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) attempts: AttemptService,
    pub(crate) reviews: ReviewService,
    pub(crate) queue: Arc<ReviewQueue>,
    pub(crate) games: GameService,
    pub(crate) homework: HomeworkService,
}

impl CoachService {
    /// A locked attempt as PGN for a coach. With [`LetterTerms::review`] its findings stand in it as a second layer.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked, or the engine failed.
    pub fn letter(
        &self,
        id: &AttemptId,
        terms: LetterTerms<'_>,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<CoachLetter, AppError> {
        let attempt = self.attempts.attempt(id)?;
        if attempt.locked_ms().is_none() {
            return Err(AppError::NotLocked);
        }
        let told = if terms.review {
            // What is sent is kept, and known again when it comes back: English in every language.
            crate::translation::in_english(|| {
                let review = self
                    .reviews
                    .review(id, &mut |done, all| progress(done, all));
                review.map(|review| coach::told(&review))
            })?
        } else {
            Vec::new()
        };
        let pgn = coach::written(&CoachExport {
            attempt: &attempt,
            id: &id.0,
            player: terms.player,
            told: &told,
            homework: terms.homework,
        });
        Ok(CoachLetter {
            id: id.clone(),
            pgn,
            told,
            homework: terms.homework.to_vec(),
            player: terms.player.map(str::to_owned),
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
            homework: sending.homework,
            player: sending.player,
        };
        self.append(&sending.id, vec![what])
    }

    /// Writes a locked attempt, without its review, to a file of its own in the home folder, from where it can be
    /// sent to a coach; gives the file. Its name is that of the attempt.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked, or the file cannot be written.
    pub fn send_to_coach(&self, id: &AttemptId, zone: &TimeZone) -> Result<PathBuf, AppError> {
        let homework = self.homework.sentences(zone)?;
        let terms = LetterTerms {
            homework: &homework,
            ..LetterTerms::default()
        };
        let sending = self.letter(id, terms, &mut |_, _| {})?;
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
    /// There is no such attempt, it is not locked, another coach struck the finding that is to stand again, or it
    /// could not be kept.
    pub fn rule(
        &self,
        id: &AttemptId,
        finding: &Finding,
        by: &str,
        struck: Option<&str>,
    ) -> Result<(), AppError> {
        if struck.is_none()
            && let Some(other) = self.struck_by(id, finding)?.filter(|other| other != by)
        {
            return Err(AppError::RulingOfAnother(other));
        }
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

    /// The coach who struck a finding; `None` where it stands.
    fn struck_by(&self, id: &AttemptId, finding: &Finding) -> Result<Option<String>, AppError> {
        let attempt = self.attempts.attempt(id)?;
        let kind = finding.kind.code();
        let struck = attempt.coached().map_or(&[][..], |c| c.overruled());
        let names = |o: &&Overruling| o.finding.names(&finding.paths, kind, &finding.resource);
        Ok(struck.iter().find(names).map(|o| o.by.clone()))
    }

    /// The figures of the old review no longer hold.
    fn ruled(&self, id: &AttemptId) -> Result<(), AppError> {
        let mut step = self.repository.step();
        step.summarise(id, &self.attempts.attempt(id)?, None)?;
        step.keep()?;
        self.queue.forget(id);
        Ok(())
    }

    /// Appends what a coach wrote to the attempt; true where a review must be computed again because a
    /// finding was struck or stands again.
    ///
    /// # Errors
    /// It could not be kept; the same file once more brings it.
    pub fn keep_taken(&self, taken: &CoachImport) -> Result<bool, AppError> {
        let id = AttemptId(taken.attempt.clone());
        self.append_with(&id, taken.events.clone(), |step, attempt| {
            let set_ms = self.clock.wall_ms();
            let store = self.repository.store();
            step.set_homework(store, &id, attempt, (&taken.by, set_ms, &taken.tasks))
        })?;
        let ruled = !taken.overruled.is_empty() || !taken.upheld.is_empty();
        if ruled {
            self.ruled(&id)?;
        }
        Ok(ruled)
    }

    /// Appends events to a locked attempt in one step, after all of them have been tried.
    fn append(&self, id: &AttemptId, whats: Vec<AttemptEvent>) -> Result<(), AppError> {
        self.append_with(id, whats, |_, _| Ok(()))
    }

    /// The same, with what else belongs into the step.
    fn append_with(
        &self,
        id: &AttemptId,
        whats: Vec<AttemptEvent>,
        besides: impl FnOnce(&mut Step<'_>, &Attempt) -> Result<(), AppError>,
    ) -> Result<(), AppError> {
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
        besides(&mut step, &attempt)?;
        step.keep()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::testing::app::Trial;
    use crate::app::{AnswerTerms, CoachAnswer, EntryToken, Subject};
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

    fn answers(trial: &Trial, text: &str, terms: AnswerTerms<'_>) -> Vec<CoachAnswer> {
        let coach = trial.app.coach();
        coach.reader().read(text.as_bytes(), terms).unwrap()
    }

    fn taken(trial: &Trial, text: &str) -> CoachImport {
        let terms = AnswerTerms {
            by: Some("Bram Oskarn"),
            to: None,
        };
        let mut answers = answers(trial, text, terms);
        match answers.remove(0) {
            CoachAnswer::Taken(taken) => *taken,
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
        let with_review = LetterTerms {
            review: true,
            ..LetterTerms::default()
        };
        let sending = trial
            .app
            .coach()
            .letter(&id, with_review, &mut |_, _| {})
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
            .letter(&id, LetterTerms::default(), &mut |_, _| {})
            .unwrap()
            .pgn;
        let bare: String = pgn
            .lines()
            .filter(|l| !l.contains("Attempt"))
            .map(|l| format!("{l}\r\n"))
            .collect();
        assert_eq!(taken(&trial, &bare).attempt, id.0);
        locked(&trial);
        let found = answers(&trial, &bare, AnswerTerms::default());
        let CoachAnswer::Refused { why, .. } = &found[0] else {
            panic!("{found:?}");
        };
        insta::assert_snapshot!(why, @"2 attempts begin in its position and its tag 'Attempt' is gone; say which with --attempt");
        let to = AnswerTerms {
            by: None,
            to: Some(&id),
        };
        let found = answers(&trial, &bare, to);
        assert!(matches!(&found[0], CoachAnswer::Taken(t) if t.attempt == id.0));
    }
}
