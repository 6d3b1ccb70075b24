//! The same sitting as lines of text: for screen readers, terminals without cursor control, and scripts.
//!
//! One line in, some lines out; nothing is drawn over. What is said before the lock is what the
//! screens say: nothing about whether a move is possible or good.

use std::collections::HashSet;
use std::io::{BufRead, Write};

use shakmaty::Color;

use crate::app::{App, AppError, AttemptSession, EntryToken, Subject};
use crate::attempt::{BoardVisibility, EndCard, Opened, Stage};
use crate::text;
use crate::tree::{NodeId, Verdict};
use crate::tui::console::after_lock::AfterLockDialogue;
use crate::tui::console::io::{WIDTH, men, next_line, say};
use crate::tui::forms::end_card::{self, EndCardQuestion};
use crate::tui::input::action::{Action, CommonAction, WritingAction};
use crate::tui::input::line_parser;
use crate::tui::input::typed_command;
use crate::tui::input::typed_command::TypedCommand;
use crate::tui::widgets::canvas::Canvas;
use crate::tui::widgets::clock;
use crate::tui::widgets::position_text;
use crate::tui::widgets::tree_cursor as walk;
use crate::tui::widgets::tree_cursor::as_typed;
use crate::tui::widgets::variation_tree::{TreeView, unmarked};
use crate::tui::{MINUTES_AT_HAND, Options, Start, TuiError, labels};

const HELP: &str = tr_later!(
    "Type a candidate or a whole line, for example: Nxe4 dxe4 Qxe4 +-\n\
An empty line goes back to where the tree last branched.\n\
go LINE: to a written line; 'go' alone: to the position.\n\
tree: your tree; candidates: your candidates alone; board: the position; time: the clock.\n\
note WORDS: your words on the move you are at, in place of those before; 'note' alone tells them.\n\
undo, redo, strike, only, same as LINE, move to LINE: as on the screens.\n\
correct MOVE: another text for the move you are at; what stands below it stays.\n\
pause: the clock stands until the next line.\n\
choose: choose the candidate you are in, and lock; leave: leave, everything is kept."
);

const LOCK: &str = tr_later!(
    "Lock the tree? It is final from then on and cannot be taken back.\n\
yes; no: write on; card: say who moves at the end, the material and your plan"
);

/// Runs one sitting on lines of text, until it is reviewed, left, or the input ends.
///
/// # Errors
/// The position cannot be opened, something could not be kept, or the output is gone.
pub fn run(
    app: &App,
    start: &Start,
    options: Options,
    (input, out): (&mut dyn BufRead, &mut dyn Write),
) -> Result<(), TuiError> {
    match converse(app, start, options, (input, out)) {
        // Whoever was reading has gone away: as leaving.
        Err(TuiError::Gone) => Ok(()),
        done => done,
    }
}

fn converse(
    app: &App,
    start: &Start,
    options: Options,
    (input, out): (&mut dyn BufRead, &mut dyn Write),
) -> Result<(), TuiError> {
    let mut session = LineSession::open(app, start, options)?;
    session.greet(out)?;
    loop {
        let line = match next_line(input) {
            Ok(Some(line)) => line,
            over => {
                session.sitting.leave()?;
                say(out, crate::translation::text(labels::KEPT))?;
                return over.map(|_| ());
            }
        };
        if session.line(&line, out)? {
            return match session.sitting.stage() {
                Stage::Locked => AfterLockDialogue::new(app, session.sitting).run((input, out)),
                Stage::Looking | Stage::Writing => Ok(()),
            };
        }
        session.prompt(out)?;
    }
}

struct LineSession {
    sitting: AttemptSession,
    label: String,
    /// What the coach says of it, where it is homework; may come from a file.
    task: String,
    cursor: NodeId,
    step: SessionStep,
    /// The clock stands.
    paused: bool,
}

/// What the next line answers.
enum SessionStep {
    /// The tree is written.
    Writing,
    /// How the end of the choice's line is judged.
    Verdict(NodeId),
    /// One question about the board at that end.
    Card(EndCardQuestion, EndCard),
    /// Whether the tree is to be locked.
    Locking,
}

impl LineSession {
    fn open(app: &App, start: &Start, options: Options) -> Result<Self, TuiError> {
        let mut sitting = match start {
            Start::Playout(_) => {
                let words = tr!("a game against the engine is played on the screens");
                return Err(TuiError::NoTerminal(words.to_owned()));
            }
            Start::Home => match app.attempts().unfinished()?.first() {
                Some(begun) => app.attempts().resume(&begun.id)?,
                None => open_new(app, &next_subject(app)?, options)?,
            },
            Start::Homework => open_new(app, &app.homework().next()?, options)?,
            Start::Quick(ladder) => open_new(app, &app.quick().next(*ladder)?.subject, options)?,
            Start::Drill(id) => open_new(app, &Subject::Drill(id.clone()), options)?,
            Start::Position(line) => open_new(app, &Subject::Position((**line).clone()), options)?,
        };
        if sitting.attempt().started_ms().is_none() {
            sitting.start()?;
        }
        let last = u32::try_from(sitting.tree().len()).unwrap_or(0);
        Ok(Self {
            label: labels::origin(app, &sitting.attempt().opened().origin),
            task: app.homework().said_of(sitting.attempt())?,
            sitting,
            cursor: NodeId(last),
            step: SessionStep::Writing,
            paused: false,
        })
    }

    fn greet(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        say(out, &format!("{}.", self.label))?;
        if let (Some(_), Some(ms)) = (self.opened().quick, self.opened().budget_ms) {
            say(out, &text::wrap(&labels::quick_terms(ms), WIDTH).join("\n"))?;
        }
        if !self.task.is_empty() {
            say(out, &text::wrap(&text::safe(&self.task), WIDTH).join("\n"))?;
        }
        self.board(out)?;
        say(out, tr!("Type 'help' for what can be typed."))?;
        self.prompt(out)
    }

    fn opened(&self) -> &Opened {
        self.sitting.attempt().opened()
    }

    /// The position as a list of men and in words.
    fn board(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        let root = self.sitting.tree().root();
        for color in [Color::White, Color::Black] {
            let men = men(root.root(), color).join(" ");
            say(out, &format!("{}: {men}", position_text::side(color)))?;
        }
        for fact in position_text::facts(root) {
            say(out, &fact)?;
        }
        Ok(())
    }

    fn prompt(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        let clock = clock::clock(self.sitting.left_ms(), self.sitting.used_ms());
        let place = match as_typed(self.sitting.tree(), self.cursor).as_slice() {
            [] => tr!("candidate").to_owned(),
            moves => tr!("after {}", moves.join(" ")),
        };
        let words = match &self.step {
            SessionStep::Writing => format!("[{clock}] {place}"),
            SessionStep::Verdict(end) => {
                let line = as_typed(self.sitting.tree(), *end).join(" ");
                let words = tr!(
                    "How do you judge the end of {line}? {}",
                    crate::translation::text(end_card::SIGNS)
                );
                text::wrap(&words, WIDTH).join("\n")
            }
            SessionStep::Card(ask, _) => text::wrap(ask.words(), WIDTH).join("\n"),
            SessionStep::Locking => crate::translation::text(LOCK).to_owned(),
        };
        // A question that ends as a sentence needs no colon.
        let end = if words.ends_with('.') { "" } else { ":" };
        say(out, &format!("{words}{end}"))
    }

    /// One line; true where the sitting is over.
    fn line(&mut self, line: &str, out: &mut dyn Write) -> Result<bool, TuiError> {
        let done = match self.step {
            SessionStep::Writing => self.obey(line, out),
            _ => self.settle(line, out),
        };
        match done {
            Err(TuiError::App(error)) => say(out, &error.to_string()).map(|()| false),
            done => done,
        }
    }

    fn obey(&mut self, line: &str, out: &mut dyn Write) -> Result<bool, TuiError> {
        if std::mem::take(&mut self.paused) {
            self.sitting.go_on()?;
            return Ok(false);
        }
        match (line, typed_command::read(line)) {
            ("", _) => self.cursor = walk::branch(self.sitting.tree(), self.cursor),
            ("tree", _) => say(out, &self.tree(false))?,
            ("board", _) => self.seen_board(out)?,
            ("candidates", _) => say(out, &self.tree(true))?,
            ("time", _) => {}
            (_, Some(TypedCommand::Run(Action::Common(CommonAction::Help)))) => {
                say(out, crate::translation::text(HELP))?
            }
            (_, Some(TypedCommand::Run(Action::Writing(WritingAction::Leave)))) => {
                self.sitting.leave()?;
                say(out, crate::translation::text(labels::KEPT))?;
                return Ok(true);
            }
            (_, Some(TypedCommand::Run(Action::Writing(WritingAction::Choose)))) => {
                self.choose(out)?
            }
            (_, Some(TypedCommand::Run(Action::Writing(WritingAction::Pause)))) => {
                self.sitting.leave()?;
                self.paused = true;
                say(out, tr!("The clock stands. Any line goes on."))?;
            }
            (_, Some(TypedCommand::Run(Action::Writing(WritingAction::Note)))) => {
                self.note("", out)?
            }
            (_, Some(order)) => self.order(order, out)?,
            _ => match (
                typed_command::behind(line, "go"),
                typed_command::behind(line, "note"),
            ) {
                (Some(rest), _) => self.go(rest, out)?,
                (_, Some(words)) => self.note(words, out)?,
                _ => self.write(line, out)?,
            },
        }
        Ok(false)
    }

    /// Without sight the board is not told again.
    fn seen_board(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        match self.sitting.attempt().opened().sight {
            BoardVisibility::None => say(out, tr!("The board is hidden.")),
            BoardVisibility::Root | BoardVisibility::Follow => self.board(out),
        }
    }

    fn order(&mut self, order: TypedCommand<'_>, out: &mut dyn Write) -> Result<(), TuiError> {
        let node = self.sitting.tree().node(self.cursor).cloned();
        match (order, node) {
            (TypedCommand::Run(Action::Writing(WritingAction::Undo)), _) => {
                self.sitting.undo()?;
                self.cursor = self.nearest();
            }
            (TypedCommand::Run(Action::Writing(WritingAction::Redo)), _) => self.sitting.redo()?,
            (_, None) => say(out, tr!("Go to a move first."))?,
            (TypedCommand::Run(Action::Writing(WritingAction::Strike)), Some(n)) => {
                self.sitting.strike(self.cursor, !n.struck)?
            }
            (TypedCommand::Run(Action::Writing(WritingAction::Only)), Some(n)) => {
                self.sitting.only(self.cursor, !n.only)?
            }
            (TypedCommand::SameAs(line), _) => match self.find(line) {
                Some(at) => {
                    let other = (at != NodeId::ROOT).then_some(at);
                    self.sitting.same_as(self.cursor, other)?;
                }
                None => not_written(line, out)?,
            },
            (TypedCommand::Correct(text), _) => self.sitting.retype(self.cursor, text)?,
            (TypedCommand::MoveTo(line), _) => match self.find(line) {
                Some(at) => self.sitting.relocate(self.cursor, at)?,
                None => not_written(line, out)?,
            },
            _ => say(out, tr!("That has no meaning here."))?,
        }
        Ok(())
    }

    /// Puts words on the move, or tells those that are there.
    fn note(&mut self, words: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        match self.sitting.tree().node(self.cursor) {
            None => say(out, tr!("Go to a move first.")),
            Some(node) if words.is_empty() => say(out, &format!("{{{}}}", node.comment)),
            Some(_) => {
                let piece = EntryToken::Comment(words.to_owned());
                self.sitting.write(self.cursor, &[piece])?;
                Ok(())
            }
        }
    }

    fn nearest(&self) -> NodeId {
        let tree = self.sitting.tree();
        let last = NodeId(u32::try_from(tree.len()).unwrap_or(0));
        if tree.node(self.cursor).is_some() {
            self.cursor
        } else {
            last
        }
    }

    fn find(&self, line: &str) -> Option<NodeId> {
        let tree = self.sitting.tree();
        let mut words = line.split_whitespace();
        words.try_fold(NodeId::ROOT, |at, word| tree.find_as_typed(at, word))
    }

    fn go(&mut self, line: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        match self.find(line) {
            Some(at) => self.cursor = at,
            None => not_written(line.trim(), out)?,
        }
        Ok(())
    }

    fn write(&mut self, line: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        let typed = line_parser::read(line);
        if self.cursor == NodeId::ROOT
            && !matches!(typed.pieces.first(), Some(EntryToken::Move(_)) | None)
        {
            return say(
                out,
                tr!("A verdict or a comment belongs to a move: go to one first."),
            );
        }
        self.cursor = self.sitting.write(self.cursor, &typed.pieces)?;
        match typed.bad {
            Some((bad, _)) => say(out, &format!("{bad}.")),
            None => Ok(()),
        }
    }

    fn tree(&self, candidates_only: bool) -> String {
        let tree = self.sitting.tree();
        if tree.is_empty() {
            return tr!("Nothing is written yet.").to_owned();
        }
        let mut canvas = Canvas::new(WIDTH, 4 * tree.len() + 4).ascii(true);
        let view = TreeView {
            tree,
            choice: self.sitting.attempt().choice(),
            cursor: None,
            candidates_only,
            folded: &HashSet::new(),
            mark: &unmarked,
            ascii: true,
        };
        view.draw(&mut canvas, (0, 1, WIDTH, 4 * tree.len() + 2));
        canvas.to_text().trim_matches('\n').to_owned()
    }

    fn choose(&mut self, out: &mut dyn Write) -> Result<(), TuiError> {
        let tree = self.sitting.tree();
        let only = match tree.children(NodeId::ROOT) {
            [only] => Some(*only),
            _ => None,
        };
        let Some(candidate) = tree.path(self.cursor).first().copied().or(only) else {
            return say(
                out,
                tr!("Go to the candidate you would play, then choose it."),
            );
        };
        self.sitting.choose(candidate)?;
        let choice = self.sitting.tree().node(candidate);
        let choice = choice.map_or("", |n| n.text.as_str());
        say(
            out,
            &tr!("Your choice: {choice}. Your tree:\n{}", self.tree(false)),
        )?;
        let end = self.end();
        let judged = self.sitting.tree().node(end);
        self.step = if judged.is_some_and(|n| n.verdict.is_some()) {
            SessionStep::Locking
        } else {
            SessionStep::Verdict(end)
        };
        Ok(())
    }

    /// After the choice: the verdict at the end of its line, then lock, card or back. True where the tree
    /// is locked.
    fn settle(&mut self, line: &str, out: &mut dyn Write) -> Result<bool, TuiError> {
        match std::mem::replace(&mut self.step, SessionStep::Locking) {
            SessionStep::Writing => self.step = SessionStep::Writing,
            SessionStep::Verdict(end) => self.judge_end(end, line, out)?,
            SessionStep::Card(ask, card) => self.fill_card(ask, card, line, out)?,
            SessionStep::Locking => match line {
                "yes" | "y" => {
                    self.sitting.lock()?;
                    let used = text::clock(self.sitting.used_ms());
                    say(out, &tr!("Locked {used}."))?;
                    return Ok(true);
                }
                "no" | "n" => self.step = SessionStep::Writing,
                "card" => {
                    let card = EndCard::new(self.end());
                    self.step = SessionStep::Card(EndCardQuestion::Mover, card);
                }
                _ => say(out, tr!("Type 'yes', 'no' or 'card'."))?,
            },
        }
        Ok(false)
    }

    fn judge_end(&mut self, end: NodeId, line: &str, out: &mut dyn Write) -> Result<(), TuiError> {
        match Verdict::parse(line) {
            _ if line.is_empty() => {}
            Ok(verdict) => {
                self.sitting.write(end, &[EntryToken::Verdict(verdict)])?;
                say(out, &format!("{verdict} {}.", verdict.words()))?;
            }
            Err(error) => {
                self.step = SessionStep::Verdict(end);
                say(out, &error.to_string())?;
            }
        }
        Ok(())
    }

    fn fill_card(
        &mut self,
        ask: EndCardQuestion,
        mut card: EndCard,
        line: &str,
        out: &mut dyn Write,
    ) -> Result<(), TuiError> {
        if let Err(words) = end_card::state(&mut card, ask, line) {
            self.step = SessionStep::Card(ask, card);
            return say(out, &words);
        }
        match ask.next() {
            Some(next) => self.step = SessionStep::Card(next, card),
            None => {
                say(out, &end_card::said(&card))?;
                self.sitting.state_end(card)?;
            }
        }
        Ok(())
    }

    /// The last move of the choice's line.
    fn end(&self) -> NodeId {
        let attempt = self.sitting.attempt();
        attempt.end_of_choice().unwrap_or(NodeId::ROOT)
    }
}

fn not_written(line: &str, out: &mut dyn Write) -> Result<(), TuiError> {
    say(out, &tr!("'{line}' is not written in your tree."))
}

fn open_new(app: &App, subject: &Subject, options: Options) -> Result<AttemptSession, AppError> {
    app.attempts()
        .open_sitting(subject, options.minutes, options.sight)
}

/// What fits the minutes that are usual, else the next of the collection.
fn next_subject(app: &App) -> Result<Subject, AppError> {
    match app.practice().next(MINUTES_AT_HAND)?.into_iter().next() {
        Some(offer) => Ok(Subject::Drill(offer.drill)),
        None => app.attempts().next_subject(),
    }
}
