//! What the player answers to a review: a line of his own, a note, a cause, and what his coach sees.
//!
//! All of it is kept as events beside the locked tree. What needs the engine is asked behind the
//! screen, so that keys go on working.

use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use crate::app::{Answered, AppError, Proved};
use crate::attempt::{Explained, Origin, Spot, What};
use crate::review::{Finding, FindingStatus};
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::Desk;
use crate::tui::screens::review::screen::{Pane, ReviewScreen};
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::line_editor::EntryLine;

/// What is typed or picked at the moment.
pub enum Asking {
    /// Keys go to the review.
    Nothing,
    /// A line that is held against the review.
    Doubt(EntryLine),
    /// A note on the finding.
    Remark(EntryLine),
    /// The coach's name and why he strikes the finding.
    Strike(EntryLine),
    /// One of his causes, or with 0 one of his own; or one that goes from the list, or gets other words.
    Cause(Vec<String>, Picking),
    /// The words of a cause of his own.
    OwnCause(EntryLine),
    /// Other words for a cause on his list.
    Reword(String, EntryLine),
    /// More words on a cause.
    Words(String, EntryLine),
}

/// What a cause is picked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Picking {
    Give,
    Remove,
    Reword,
}

/// What the engine is asked behind the screen.
#[derive(Default)]
pub struct Behind {
    doubt: Option<Receiver<Result<Answered, String>>>,
    proof: Option<Receiver<Result<Proved, String>>>,
    /// Answers to his lines, or why there is none.
    pub(crate) answered: Vec<Result<Answered, String>>,
    /// What the judge says of the published solution.
    pub(crate) proved: Option<Result<Proved, String>>,
}

impl Behind {
    pub(crate) fn is_asking(&self) -> bool {
        self.doubt.is_some()
    }

    pub(crate) fn is_proving(&self) -> bool {
        self.proof.is_some()
    }
}

/// What has come through a channel; a thread that ended without an answer says so.
fn come<T>(from: &mut Option<Receiver<Result<T, String>>>) -> Option<Result<T, String>> {
    let got = match from.as_ref()?.try_recv() {
        Ok(got) => got,
        Err(TryRecvError::Empty) => return None,
        Err(TryRecvError::Disconnected) => Err("the engine gave no answer".to_owned()),
    };
    *from = None;
    Some(got)
}

fn is_struck(finding: &Finding) -> bool {
    finding.class == FindingStatus::Overruled
}

/// Where a finding is and what it is about.
#[must_use]
pub fn spot(finding: &Finding) -> Spot {
    Spot {
        at: finding.at,
        kind: finding.kind.code().to_owned(),
        resource: finding.resource.clone(),
    }
}

impl ReviewScreen {
    pub(crate) fn places(&self) -> &'static [Place] {
        match self.asking {
            Asking::Nothing => &[Place::Review],
            Asking::Cause(..) => &[Place::Cause],
            _ => &[Place::Answer, Place::Line],
        }
    }

    /// What came from behind the screen; true where the screen has to be drawn again.
    pub(crate) fn listen(&mut self, desk: &Desk) -> bool {
        let doubt = come(&mut self.behind.doubt);
        let proof = come(&mut self.behind.proof);
        let came = doubt.is_some() || proof.is_some();
        if let Some(answer) = doubt {
            self.behind.answered.push(answer);
            self.read_again(desk);
        }
        if proof.is_some() {
            self.behind.proved = proof;
        }
        came
    }

    fn read_again(&mut self, desk: &Desk) {
        if let Some(Ok(attempt)) = self.id.as_ref().map(|id| desk.app.attempts().attempt(id)) {
            self.attempt = attempt;
        }
    }

    /// A key while something is typed or picked.
    pub(crate) fn type_key(&mut self, key: Key, desk: &Desk) {
        let run = bindings::find(self.places(), key);
        match (run, &mut self.asking) {
            (Some(Do::Back), _) => self.asking = Asking::Nothing,
            (Some(Do::Pick), Asking::Cause(..)) => self.pick_cause(key, desk),
            (Some(Do::OwnWords), Asking::Cause(..)) => {
                self.asking = Asking::OwnCause(EntryLine::default());
            }
            (Some(Do::Remove), Asking::Cause(_, picking)) => *picking = Picking::Remove,
            (Some(Do::Reword), Asking::Cause(_, picking)) => *picking = Picking::Reword,
            (Some(Do::Open), _) => self.submit(desk),
            (
                run,
                Asking::Doubt(line)
                | Asking::Remark(line)
                | Asking::Strike(line)
                | Asking::OwnCause(line)
                | Asking::Reword(_, line)
                | Asking::Words(_, line),
            ) => match (run, key) {
                (Some(Do::Edit(edit)), _) => line.edit(edit),
                (None, Key::Char(c)) => line.insert(c),
                _ => {}
            },
            _ => {}
        }
    }

    fn pick_cause(&mut self, key: Key, desk: &Desk) {
        let Asking::Cause(causes, picking) = &self.asking else {
            return;
        };
        let place = key.digit().and_then(|d| d.checked_sub(1));
        let Some(cause) = place.and_then(|p| causes.get(p)).cloned() else {
            return;
        };
        match picking {
            Picking::Give => self.asking = Asking::Words(cause, EntryLine::default()),
            Picking::Reword => {
                let mut line = EntryLine::default();
                line.set(&cause);
                self.asking = Asking::Reword(cause, line);
            }
            Picking::Remove => {
                let removed = desk.app.causes().remove(&cause);
                self.list_causes(desk);
                self.answer = Some(match removed {
                    Ok(()) => Answer::Quiet(labels::off_the_list(&cause)),
                    Err(error) => Answer::error(&error),
                });
            }
        }
    }

    fn list_causes(&mut self, desk: &Desk) {
        match desk.app.causes().all() {
            Ok(causes) => self.asking = Asking::Cause(causes, Picking::Give),
            Err(error) => self.answer = Some(Answer::error(&error)),
        }
    }

    /// Nothing typed leaves the cause as it is.
    fn reword(&mut self, desk: &Desk, old: &str, new: &str) -> Result<(), AppError> {
        if !new.trim().is_empty() {
            desk.app.causes().reword(old, new)?;
        }
        self.list_causes(desk);
        Ok(())
    }

    fn submit(&mut self, desk: &Desk) {
        let asking = std::mem::replace(&mut self.asking, Asking::Nothing);
        let done = match asking {
            Asking::Doubt(mut line) => {
                let line = line.finish();
                if !line.trim().is_empty() {
                    self.ask(desk, line);
                }
                Ok(())
            }
            Asking::Remark(mut line) => self.remark(desk, line.finish()),
            Asking::Strike(mut line) => self.strike(desk, &line.finish()),
            Asking::OwnCause(mut line) => self.own_cause(desk, &line.finish()),
            Asking::Reword(old, mut line) => self.reword(desk, &old, &line.finish()),
            Asking::Words(cause, mut line) => self.explain(desk, cause, line.finish()),
            Asking::Nothing | Asking::Cause(..) => Ok(()),
        };
        if let Err(error) = done {
            self.answer = Some(Answer::error(&error));
        }
    }

    /// Begins to type or to pick; what has no place here says so.
    pub(crate) fn begin(&mut self, run: Do, desk: &Desk) {
        if self.id.is_none() || (run != Do::Doubt && self.finding().is_none()) {
            let words = "There is no finding to answer.";
            self.answer = Some(Answer::Quiet(words.to_owned()));
            return;
        }
        match run {
            Do::Doubt => self.asking = Asking::Doubt(self.doubt_line()),
            Do::Remark => self.asking = Asking::Remark(self.remark_line()),
            Do::Contest => self.contest(desk),
            Do::CoachStrikes if self.finding().is_some_and(is_struck) => self.let_stand(desk),
            Do::CoachStrikes => self.asking = Asking::Strike(EntryLine::default()),
            _ => self.list_causes(desk),
        }
    }

    /// The way to the place stands in the line already.
    fn doubt_line(&self) -> EntryLine {
        let path = self.finding().and_then(|f| f.paths.first());
        let mut line = EntryLine::default();
        if let Some(path) = path.filter(|p| !p.is_empty()) {
            line.set(&format!("{} ", path.join(" ")));
        }
        line
    }

    fn remark_line(&self) -> EntryLine {
        let mut line = EntryLine::default();
        line.set(self.remarked().unwrap_or_default());
        line
    }

    fn ask(&mut self, desk: &Desk, line: String) {
        let Some(id) = self.id.clone() else { return };
        let (app, (tell, hear)) = (desk.app.clone(), channel());
        thread::spawn(move || {
            let answer = app.reviews().answer(&id, &line).map_err(|e| e.to_string());
            // The screen may be gone by then.
            let _ = tell.send(answer);
        });
        self.behind.doubt = Some(hear);
        self.pane = Pane::Doubts;
    }

    /// Asks once whether the judge agrees with the published solution.
    pub(crate) fn ask_for_proof(&mut self, desk: &Desk) {
        if self.behind.proof.is_some() || matches!(self.behind.proved, Some(Ok(_))) {
            return;
        }
        let Origin::Drill(id) = &self.attempt.opened().origin else {
            return;
        };
        let Some(drill) = desk
            .app
            .drills()
            .find(id)
            .ok()
            .map(|(_, drill)| drill.clone())
        else {
            return;
        };
        let (app, (tell, hear)) = (desk.app.clone(), channel());
        thread::spawn(move || {
            let proved = app.drills().prove(&drill).map_err(|e| e.to_string());
            // The screen may be gone by then.
            let _ = tell.send(proved);
        });
        self.behind.proof = Some(hear);
    }

    fn add(&mut self, desk: &Desk, what: What) -> Result<(), AppError> {
        if let Some(id) = &self.id {
            let mut sitting = desk.app.attempts().locked(id)?;
            sitting.add(what)?;
            self.attempt = sitting.attempt().clone();
        }
        Ok(())
    }

    fn remark(&mut self, desk: &Desk, text: String) -> Result<(), AppError> {
        match self.finding().map(spot) {
            Some(spot) => self.add(desk, What::Remarked { spot, text }),
            None => Ok(()),
        }
    }

    fn own_cause(&mut self, desk: &Desk, text: &str) -> Result<(), AppError> {
        if text.trim().is_empty() {
            return Ok(());
        }
        let cause = desk.app.causes().add(text)?;
        self.explain(desk, cause, String::new())
    }

    fn explain(&mut self, desk: &Desk, cause: String, text: String) -> Result<(), AppError> {
        match self.finding().map(spot) {
            Some(spot) => self.add(desk, What::Explained { spot, cause, text }),
            None => Ok(()),
        }
    }

    fn contest(&mut self, desk: &Desk) {
        let Some(spot) = self.finding().map(spot) else {
            return;
        };
        let struck = !self.attempt.after().contested().contains(&spot);
        if let Err(error) = self.add(desk, What::Contested { spot, struck }) {
            self.answer = Some(Answer::error(&error));
        }
    }

    /// 'Bram Oskarn: the ending is drawn anyway' strikes the present finding.
    fn strike(&mut self, desk: &Desk, text: &str) -> Result<(), AppError> {
        if text.trim().is_empty() {
            return Ok(());
        }
        let Some((by, why)) = text.split_once(':').filter(|(by, _)| !by.trim().is_empty()) else {
            let words = "Write the coach's name, a colon, and why: Bram Oskarn: drawn anyway";
            self.answer = Some(Answer::Quiet(words.to_owned()));
            self.asking = Asking::Strike(EntryLine::default());
            return Ok(());
        };
        self.rule(desk, by.trim(), Some(why.trim()))
    }

    /// The coach who struck it lets it stand again.
    fn let_stand(&mut self, desk: &Desk) {
        let coached = self.attempt.coached();
        let finding = self.finding();
        let by = coached.zip(finding).and_then(|(coached, finding)| {
            let kind = finding.kind.code();
            let mut struck = coached.overruled().iter();
            struck.find(|o| o.finding.names(&finding.paths, kind, &finding.resource))
        });
        let by = by.map(|o| o.by.clone()).unwrap_or_default();
        if let Err(error) = self.rule(desk, &by, None) {
            self.answer = Some(Answer::error(&error));
        }
    }

    /// Keeps the ruling, and has the review computed again from the cache: what counts, and what folds under
    /// it, follows from the ruling.
    fn rule(&mut self, desk: &Desk, by: &str, struck: Option<&str>) -> Result<(), AppError> {
        let (Some(id), Some(finding)) = (self.id.clone(), self.finding().cloned()) else {
            return Ok(());
        };
        desk.app.coach().rule(&id, &finding, by, struck)?;
        self.ruled = true;
        Ok(())
    }

    /// His note on the present finding.
    pub(crate) fn remarked(&self) -> Option<&str> {
        let spot = spot(self.finding()?);
        self.attempt
            .after()
            .remarks()
            .get(&spot)
            .map(String::as_str)
    }

    /// Why he missed the present finding.
    pub(crate) fn explained(&self) -> Option<&Explained> {
        let spot = spot(self.finding()?);
        self.attempt.after().explained().get(&spot)
    }

    /// True where he does not let the present finding stand.
    pub(crate) fn contested(&self) -> bool {
        let spot = self.finding().map(spot);
        spot.is_some_and(|s| self.attempt.after().contested().contains(&s))
    }
}
