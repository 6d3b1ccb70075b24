//! What the player answers to a review: a line of his own, a note, a cause, and what his coach sees.
//!
//! All of it is kept as events beside the locked tree.

use crate::app::AppError;
use crate::attempt::{AttemptEvent, Explained};
use crate::notation::Letters;
use crate::review::{Finding, FindingStatus};
use crate::tui::forms::finding_spot::spot;
use crate::tui::input::action::{Action, CommonAction, ReviewAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::screens::review::open_review::{OpenReview, ReviewPane};
use crate::tui::screens::review::response_input::{CausePurpose, ResponseInput};
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;

fn is_struck(finding: &Finding) -> bool {
    finding.class == FindingStatus::Overruled
}

impl OpenReview {
    pub(super) fn key_contexts(&self) -> &'static [KeyContext] {
        self.asking.key_contexts()
    }

    pub(super) fn is_asking(&self) -> bool {
        !matches!(self.asking, ResponseInput::Nothing)
    }

    /// What the engine has answered; true where the screen has to be drawn again.
    pub(super) fn hear_engine(&mut self, ctx: &Context) -> bool {
        let arrived = self.requests.listen();
        if arrived.answer {
            self.read_again(ctx);
        }
        arrived.answer || arrived.proof
    }

    fn read_again(&mut self, ctx: &Context) {
        if let Some(Ok(attempt)) = self.id.as_ref().map(|id| ctx.app.attempts().attempt(id)) {
            self.take(attempt);
        }
    }

    /// A binding while something is typed or picked.
    pub(super) fn type_action(&mut self, action: Action, ctx: &Context) {
        match (action, &mut self.asking) {
            (Action::Common(CommonAction::Back), _) => self.asking = ResponseInput::Nothing,
            (Action::Review(ReviewAction::OwnWords), ResponseInput::Cause(..)) => {
                self.asking = ResponseInput::OwnCause(LineEditor::default());
            }
            (Action::Review(ReviewAction::Remove), ResponseInput::Cause(_, purpose)) => {
                *purpose = CausePurpose::Remove;
            }
            (Action::Review(ReviewAction::Reword), ResponseInput::Cause(_, purpose)) => {
                *purpose = CausePurpose::Reword;
            }
            (Action::Common(CommonAction::Open), _) => self.submit(ctx),
            (action @ Action::Common(CommonAction::Up | CommonAction::Down), _) => {
                self.scroll.walk(action);
            }
            (Action::Edit(edit), asking) => {
                if let Some(line) = asking.line() {
                    line.edit(edit);
                }
            }
            _ => {}
        }
    }

    pub(super) fn type_char(&mut self, c: char) {
        if let Some(line) = self.asking.line() {
            line.insert(c);
        }
    }

    pub(super) fn pick_cause(&mut self, place: usize, ctx: &Context) {
        let ResponseInput::Cause(causes, picking) = &self.asking else {
            return;
        };
        let Some(cause) = causes.get(place).cloned() else {
            return;
        };
        match picking {
            CausePurpose::Give => self.asking = ResponseInput::Words(cause, LineEditor::default()),
            CausePurpose::Reword => {
                let mut line = LineEditor::default();
                line.set(&cause);
                self.asking = ResponseInput::Reword(cause, line);
            }
            CausePurpose::Remove => {
                let removed = ctx.app.causes().remove(&cause);
                self.list_causes(ctx);
                self.notice = Some(match removed {
                    Ok(()) => Notice::Quiet(labels::off_the_list(&cause)),
                    Err(error) => Notice::error(&error),
                });
            }
        }
    }

    fn list_causes(&mut self, ctx: &Context) {
        match ctx.app.causes().all() {
            Ok(causes) => self.asking = ResponseInput::Cause(causes, CausePurpose::Give),
            Err(error) => self.notice = Some(Notice::error(&error)),
        }
    }

    /// Nothing typed leaves the cause as it is.
    fn reword(&mut self, ctx: &Context, old: &str, new: &str) -> Result<(), AppError> {
        if !new.trim().is_empty() {
            ctx.app.causes().reword(old, new)?;
        }
        self.list_causes(ctx);
        Ok(())
    }

    fn submit(&mut self, ctx: &Context) {
        let asking = std::mem::replace(&mut self.asking, ResponseInput::Nothing);
        let done = match asking {
            ResponseInput::Doubt(mut line) => {
                let line = line.finish();
                if !line.trim().is_empty() {
                    self.ask(ctx, ctx.display.letters.typed(&line).into_owned());
                }
                Ok(())
            }
            ResponseInput::Remark(mut line) => self.remark(ctx, line.finish()),
            ResponseInput::Strike(mut line) => self.strike(ctx, &line.finish()),
            ResponseInput::OwnCause(mut line) => self.own_cause(ctx, &line.finish()),
            ResponseInput::Reword(old, mut line) => self.reword(ctx, &old, &line.finish()),
            ResponseInput::Words(cause, mut line) => self.explain(ctx, cause, line.finish()),
            ResponseInput::Nothing | ResponseInput::Cause(..) => Ok(()),
        };
        if let Err(error) = done {
            self.notice = Some(Notice::error(&error));
        }
    }

    /// Begins to type or to pick; what has no place here says so.
    pub(super) fn begin(&mut self, action: Action, ctx: &Context) {
        if self.id.is_none()
            || (action != Action::Review(ReviewAction::Doubt) && self.finding().is_none())
        {
            let words = tr!("There is no finding to answer.");
            self.notice = Some(Notice::Quiet(words.to_owned()));
            return;
        }
        match action {
            Action::Review(ReviewAction::Doubt) => {
                self.asking = ResponseInput::Doubt(self.doubt_line(ctx.display.letters))
            }
            Action::Review(ReviewAction::Remark) => {
                self.asking = ResponseInput::Remark(self.remark_line())
            }
            Action::Review(ReviewAction::Contest) => self.contest(ctx),
            Action::Review(ReviewAction::CoachStrikes) if self.finding().is_some_and(is_struck) => {
                self.let_stand(ctx)
            }
            Action::Review(ReviewAction::CoachStrikes) => {
                self.asking = ResponseInput::Strike(LineEditor::default())
            }
            _ => self.list_causes(ctx),
        }
    }

    /// The way to the place stands in the line already.
    fn doubt_line(&self, letters: Letters) -> LineEditor {
        let path = self.finding().and_then(|f| f.paths.first());
        let mut line = LineEditor::default();
        if let Some(path) = path.filter(|p| !p.is_empty()) {
            line.set(&format!("{} ", letters.shown(&path.join(" "))));
        }
        line
    }

    fn remark_line(&self) -> LineEditor {
        let mut line = LineEditor::default();
        line.set(self.remarked().unwrap_or_default());
        line
    }

    fn ask(&mut self, ctx: &Context, line: String) {
        let Some(id) = self.id.clone() else { return };
        self.requests.ask(&ctx.app, id, line);
        self.pane = ReviewPane::Doubts;
    }

    /// The source, and whether the judge agrees with its solution; or the findings again.
    pub(super) fn show_source(&mut self, ctx: &Context) {
        self.show(ReviewPane::Source);
        if self.pane == ReviewPane::Source {
            let origin = &self.attempt.opened().origin;
            self.requests.ask_for_proof(&ctx.app, origin);
        }
    }

    /// Where the engine has failed, the rest of the review once more.
    pub(super) fn try_again(&mut self, ctx: &Context) {
        if let Some(id) = &self.id {
            self.snapshot.try_again(ctx, id);
        }
    }

    fn add(&mut self, ctx: &Context, what: AttemptEvent) -> Result<(), AppError> {
        if let Some(id) = &self.id {
            let mut sitting = ctx.app.attempts().locked(id)?;
            sitting.add(what)?;
            self.take(sitting.attempt().clone());
        }
        Ok(())
    }

    fn remark(&mut self, ctx: &Context, text: String) -> Result<(), AppError> {
        match self.finding().map(spot) {
            Some(spot) => self.add(ctx, AttemptEvent::Remarked { spot, text }),
            None => Ok(()),
        }
    }

    fn own_cause(&mut self, ctx: &Context, text: &str) -> Result<(), AppError> {
        if text.trim().is_empty() {
            return Ok(());
        }
        let cause = ctx.app.causes().add(text)?;
        self.explain(ctx, cause, String::new())
    }

    fn explain(&mut self, ctx: &Context, cause: String, text: String) -> Result<(), AppError> {
        match self.finding().map(spot) {
            Some(spot) => self.add(ctx, AttemptEvent::Explained { spot, cause, text }),
            None => Ok(()),
        }
    }

    fn contest(&mut self, ctx: &Context) {
        let Some(spot) = self.finding().map(spot) else {
            return;
        };
        let struck = !self.attempt.after().contested().contains(&spot);
        if let Err(error) = self.add(ctx, AttemptEvent::Contested { spot, struck }) {
            self.notice = Some(Notice::error(&error));
        }
    }

    /// 'Bram Oskarn: the ending is drawn anyway' strikes the present finding.
    fn strike(&mut self, ctx: &Context, text: &str) -> Result<(), AppError> {
        if text.trim().is_empty() {
            return Ok(());
        }
        let Some((by, why)) = text.split_once(':').filter(|(by, _)| !by.trim().is_empty()) else {
            let words = tr!("Write the coach's name, a colon, and why: Bram Oskarn: drawn anyway");
            self.notice = Some(Notice::Quiet(words.to_owned()));
            self.asking = ResponseInput::Strike(LineEditor::default());
            return Ok(());
        };
        self.rule(ctx, by.trim(), Some(why.trim()))
    }

    /// The coach who struck it lets it stand again.
    fn let_stand(&mut self, ctx: &Context) {
        let coached = self.attempt.coached();
        let finding = self.finding();
        let by = coached.zip(finding).and_then(|(coached, finding)| {
            let kind = finding.kind.code();
            let mut struck = coached.overruled().iter();
            struck.find(|o| o.finding.names(&finding.paths, kind, &finding.resource))
        });
        let by = by.map(|o| o.by.clone()).unwrap_or_default();
        if let Err(error) = self.rule(ctx, &by, None) {
            self.notice = Some(Notice::error(&error));
        }
    }

    /// Keeps the ruling, and has the review computed again from the cache: what counts, and what folds under
    /// it, follows from the ruling.
    fn rule(&mut self, ctx: &Context, by: &str, struck: Option<&str>) -> Result<(), AppError> {
        let (Some(id), Some(finding)) = (self.id.clone(), self.finding().cloned()) else {
            return Ok(());
        };
        ctx.app.coach().rule(&id, &finding, by, struck)?;
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
