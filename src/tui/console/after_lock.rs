//! The plain sitting after its lock: what a text meant, a second look, the review and the answers to it.

use std::io::{BufRead, Write};

use jiff::tz::TimeZone;
use shakmaty::Color;

use crate::app::{App, AttemptSession};
use crate::attempt::AttemptEvent;
use crate::attempt::shown_cause;
use crate::review::{Finding, Review};
use crate::tree::NodeId;
use crate::tui::TuiError;
use crate::tui::console::io::{men, next_line, say};
use crate::tui::console::telling::{self, wrapped};
use crate::tui::forms::clarification::Clarification;
use crate::tui::forms::drill_source::DrillSource;
use crate::tui::forms::finding_spot::spot;
use crate::tui::forms::played_line::play;
use crate::tui::input::typed_command::behind;
use crate::tui::labels;
use crate::tui::widgets::position_text;

const ASK: &str = tr_later!(
    "Enter alone compares the tree with the truth.\n\
again WORDS: what you see now, a second look; kept apart from the tree.\n\
later: leave; the review waits in the history."
);

const HELP: &str = tr_later!(
    "3: finding 3 again, with the men at its moment.\n\
why 3: the list of causes; why 3 2: the second of them; why 3 WORDS: in your own words.\n\
off 2: the second cause goes from your list; what you explained with it keeps it.\n\
note 3 WORDS: a note of yours; strike 3: do not let it stand before your coach.\n\
against LINE: 'I do not believe it': a line from the position on; it is answered by a line.\n\
candidates: your candidates side by side, each with your verdict and the truth.\n\
tree: every move you wrote, with your verdict, the truth and what was missed there.\n\
review: the review once more. source: where the position comes from, its solution.\n\
figures: depth, coverage, focus and your time. numbers: the expected scores.\n\
end, or an empty line: leave."
);

/// A locked sitting on lines of text.
pub struct AfterLockDialogue<'a> {
    app: &'a App,
    sitting: AttemptSession,
    /// Ambiguous moves that are to stay so.
    left_open: Vec<NodeId>,
}

type LineStreams<'a> = (&'a mut dyn BufRead, &'a mut dyn Write);

impl<'a> AfterLockDialogue<'a> {
    #[must_use]
    pub fn new(app: &'a App, sitting: AttemptSession) -> Self {
        Self {
            app,
            sitting,
            left_open: Vec::new(),
        }
    }

    /// Asks what was left open, then reviews and takes answers, until he leaves or the input ends.
    pub fn run(mut self, (input, out): LineStreams<'_>) -> Result<(), TuiError> {
        while let Some(question) = Clarification::of(&self.sitting, &self.left_open) {
            ask(&question, &self.sitting, out)?;
            match next_line(input)? {
                Some(line) => self.clarify(&question, &line, out)?,
                None => return Ok(()),
            }
        }
        loop {
            say(out, crate::translation::text(ASK))?;
            let Some(line) = next_line(input)? else {
                return Ok(());
            };
            match (line.as_str(), behind(&line, "again")) {
                ("", _) => break,
                ("later", _) => return say(out, tr!("The review waits in the history.")),
                (_, Some(words)) if !words.is_empty() => self.add_now_seen(words, out)?,
                _ => {}
            }
        }
        match self.review(out)? {
            Some(review) => self.tell_and_answer(&review, (input, out)),
            None => Ok(()),
        }
    }

    /// Tells a review and takes answers to it.
    pub(crate) fn tell_and_answer(
        mut self,
        review: &Review,
        (input, out): LineStreams<'_>,
    ) -> Result<(), TuiError> {
        telling::review(review, self.sitting.attempt(), out)?;
        self.answer(review, (input, out))
    }

    fn clarify(
        &mut self,
        question: &Clarification,
        line: &str,
        out: &mut dyn Write,
    ) -> Result<(), TuiError> {
        let place = line.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
        match place.and_then(|p| question.meanings.get(p)) {
            Some((_, uci)) => Ok(self.sitting.clarify(question.node, uci)?),
            None if line == "open" => {
                self.left_open.push(question.node);
                Ok(())
            }
            None => say(out, tr!("Type a number, or 'open'.")),
        }
    }

    fn add_now_seen(&mut self, words: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        if self.sitting.attempt().after().looked_again_ms().is_none() {
            self.sitting.add(AttemptEvent::SecondLook)?;
        }
        let text = words.to_owned();
        self.sitting.add(AttemptEvent::NowSeen { text })?;
        say(out, tr!("Kept."))
    }

    /// The review, told; `None` where it could not be made.
    fn review(&self, out: &mut dyn Write) -> Result<Option<Review>, TuiError> {
        let id = self.sitting.id();
        // Where it cannot be read it is not said.
        if let Ok(Some(why)) = self.app.practice().why_chosen(id) {
            say(out, &wrapped(&why))?;
        }
        say(out, tr!("Comparing your tree with the truth ..."))?;
        match self.app.reviews().review(id, &mut |_, _| {}) {
            Ok(review) => Ok(Some(review)),
            Err(error) => {
                say(out, &tr!("The review could not be made: {error}"))?;
                let words = tr!("Your attempt is kept. Again: foreply review {id}");
                say(out, &words)?;
                Ok(None)
            }
        }
    }

    /// Takes answers until he leaves.
    fn answer(&mut self, review: &Review, (input, out): LineStreams<'_>) -> Result<(), TuiError> {
        say(
            out,
            tr!("Type 'help' for what you can answer, Enter alone to leave."),
        )?;
        while let Some(line) = next_line(input)? {
            if line.is_empty() || line == "end" {
                break;
            }
            match self.obey(review, &line, out) {
                Err(TuiError::App(error)) => say(out, &error.to_string())?,
                done => done?,
            }
        }
        Ok(())
    }

    fn obey(&mut self, review: &Review, line: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        let (head, rest) = line.split_once(' ').unwrap_or((line, ""));
        let (number, words) = rest.trim().split_once(' ').unwrap_or((rest.trim(), ""));
        let finding = |number: &str| {
            let place = number.parse::<usize>().ok()?.checked_sub(1)?;
            review.findings.get(place)
        };
        match (head, finding(number), finding(head)) {
            ("help", ..) => say(out, crate::translation::text(HELP)),
            ("source", ..) => self.source(out),
            ("review", ..) => telling::review(review, self.sitting.attempt(), out),
            ("candidates", ..) => telling::side_by_side(review, self.sitting.attempt(), out),
            ("tree", ..) => telling::tree(review, self.sitting.attempt(), out),
            ("time" | "figures", ..) => telling::figures(review, out),
            ("numbers", ..) => telling::numbers(review, out),
            ("against", ..) => self.against(rest, out),
            ("off", ..) => self.off(rest, out),
            ("why", Some(finding), _) => self.why(finding, words.trim(), out),
            ("note", Some(finding), _) => {
                let (spot, text) = (spot(finding), words.trim().to_owned());
                self.sitting.add(AttemptEvent::Remarked { spot, text })?;
                say(out, tr!("Kept."))
            }
            ("strike", Some(finding), _) => self.strike(finding, out),
            (_, _, Some(finding)) => {
                telling::finding(head, finding, out)?;
                telling::answered(finding, self.sitting.attempt(), out)?;
                self.men_at(finding, out)
            }
            _ => say(out, crate::translation::text(HELP)),
        }
    }

    fn strike(&mut self, finding: &Finding, out: &mut dyn Write) -> Result<(), TuiError> {
        let spot = spot(finding);
        let struck = !self.sitting.attempt().after().contested().contains(&spot);
        self.sitting.add(AttemptEvent::Contested { spot, struck })?;
        let words = match struck {
            true => tr!("You do not let it stand before your coach."),
            false => tr!("It stands again."),
        };
        say(out, words)
    }

    /// A cause by its number in the list, or in his own words; alone the list.
    fn why(&mut self, finding: &Finding, words: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        let causes = self.app.causes().all()?;
        let place = words.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
        let cause = match place.and_then(|p| causes.get(p)) {
            Some(cause) => cause.clone(),
            None if words.is_empty() || place.is_some() => {
                say(out, tr!("You missed it because you"))?;
                for (i, cause) in causes.iter().enumerate() {
                    say(out, &format!("{} {}", i + 1, shown_cause(cause)))?;
                }
                return Ok(());
            }
            None => self.app.causes().add(words)?,
        };
        say(out, &tr!("Kept: {}.", shown_cause(&cause)))?;
        let (spot, text) = (spot(finding), String::new());
        Ok(self
            .sitting
            .add(AttemptEvent::Explained { spot, cause, text })?)
    }

    /// Takes the cause of this number off his list.
    fn off(&self, number: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        let causes = self.app.causes().all()?;
        let place = number.trim().parse::<usize>().ok();
        let Some(cause) = place.and_then(|n| causes.get(n.checked_sub(1)?)) else {
            return say(
                out,
                tr!("There is no cause of that number; why 1 lists them."),
            );
        };
        self.app.causes().remove(cause)?;
        say(out, &wrapped(&labels::off_the_list(cause)))
    }

    fn against(&mut self, line: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        let answered = self.app.reviews().answer(self.sitting.id(), line)?;
        // The line was kept beside this sitting: it is read again before more is added.
        self.sitting = self.app.attempts().locked(self.sitting.id())?;
        let reply = match answered.reply.as_slice() {
            [] => tr!("The game is over there.").to_owned(),
            moves => tr!("Answer: {}.", moves.join(" ")),
        };
        say(out, &wrapped(&reply))?;
        say(out, &tr!("You then stand: {}.", answered.standing))
    }

    fn source(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        for words in self.sitting.attempt().circumstances(&TimeZone::system()) {
            say(out, &wrapped(&words))?;
        }
        let Some(source) = DrillSource::of(self.app, self.sitting.attempt()) else {
            return say(out, tr!("This position comes from no collection."));
        };
        let lines = [&source.title, &source.source].into_iter();
        for line in lines.chain(&source.lines).chain(&source.note) {
            say(out, &wrapped(line))?;
        }
        match source.grade {
            Some(grade) => say(out, &tr!("Difficulty: {grade} of 5")),
            None => Ok(()),
        }
    }

    /// The men at the moment of a finding.
    fn men_at(&self, finding: &Finding, out: &mut dyn Write) -> Result<(), TuiError> {
        let path = finding.paths.first().cloned().unwrap_or_default();
        let line = play(self.sitting.tree().root(), &path);
        for color in [Color::White, Color::Black] {
            let men = men(line.position(), color).join(" ");
            say(out, &format!("{}: {men}", position_text::side(color)))?;
        }
        say(out, &tr!("{} to move.", position_text::side(line.turn())))
    }
}

fn ask(
    question: &Clarification,
    sitting: &AttemptSession,
    out: &mut dyn Write,
) -> Result<(), TuiError> {
    say(out, &question.words(sitting.tree()))?;
    for (i, (san, _)) in question.meanings.iter().enumerate() {
        say(out, &format!("{} {san}", i + 1))?;
    }
    say(
        out,
        tr!("A number, or 'open' to leave it open: then it is not judged."),
    )
}
