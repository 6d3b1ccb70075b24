//! After the lock: what could not be asked before is asked now; the review can wait.

use crate::app::Sitting;
use crate::board::line;
use crate::notation::Reading;
use crate::text;
use crate::tree::{NodeId, Tree};

use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::review::pending::Waiting;
use crate::tui::screens::writing::second_look::Second;
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::variation_tree::as_typed;

/// A locked tree whose review has not been opened.
pub struct Locked {
    sitting: Sitting,
    label: String,
    /// Ambiguous moves that are to stay so.
    left_open: Vec<NodeId>,
    answer: Option<Answer>,
}

/// One text that fits several moves: the move, and each meaning as SAN and UCI.
pub struct Question {
    pub node: NodeId,
    pub meanings: Vec<(String, String)>,
}

impl Question {
    /// The first one that is left to ask; `left_open` are moves that are to stay ambiguous.
    #[must_use]
    pub fn of(sitting: &Sitting, left_open: &[NodeId]) -> Option<Self> {
        let tree = sitting.tree();
        let ambiguous = sitting.ambiguous();
        let node = ambiguous.into_iter().find(|n| !left_open.contains(n))?;
        let Reading::Ambiguous(moves) = &tree.node(node)?.reading else {
            return None;
        };
        let before = tree.line(tree.parent(node)?)?;
        let meanings = moves
            .iter()
            .map(|mv| (line::san(before.position(), mv), line::uci(mv)))
            .collect();
        Some(Self { node, meanings })
    }

    /// `Which move did you mean by Nd2, after e4?`
    #[must_use]
    pub fn words(&self, tree: &Tree) -> String {
        match as_typed(tree, self.node).split_last() {
            Some((text, [])) => format!("Which move did you mean by {text}?"),
            Some((text, before)) => {
                let before = before.join(" ");
                format!("Which move did you mean by {text}, after {before}?")
            }
            None => String::new(),
        }
    }
}

impl Locked {
    #[must_use]
    pub fn new(sitting: Sitting, label: String) -> Self {
        Self {
            sitting,
            label,
            left_open: Vec::new(),
            answer: None,
        }
    }

    /// True where something is left to ask.
    #[must_use]
    pub fn asks(&self) -> bool {
        self.question().is_some()
    }

    fn question(&self) -> Option<Question> {
        Question::of(&self.sitting, &self.left_open)
    }

    fn place(&self) -> Place {
        if self.asks() {
            Place::Clarify
        } else {
            Place::Locked
        }
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        let place = self.place();
        match bindings::find(&[place], key) {
            Some(Do::Open) => return self.see(desk),
            Some(Do::SecondLook) => return Next::Stay(Second::begin(self.sitting, self.label)),
            Some(Do::ForCoach) => {
                return match desk.app.coach().send_to_coach(self.sitting.id()) {
                    Ok(file) => Next::Home(Some(labels::for_coach(&file))),
                    Err(error) => {
                        self.answer = Some(Answer::error(&error));
                        Next::Stay(Screen::Locked(Box::new(self)))
                    }
                };
            }
            Some(Do::Back) => return Next::Home(Some(self.words())),
            Some(Do::Help) => {
                return Next::Over(Screen::Locked(Box::new(self)), HelpScreen::of(&[place]));
            }
            Some(Do::Pick) => self.pick(key),
            Some(Do::LeaveOpen) => self.left_open.extend(self.question().map(|q| q.node)),
            _ => {}
        }
        Next::Stay(Screen::Locked(Box::new(self)))
    }

    fn see(self, desk: &Desk) -> Next {
        Next::Stay(Waiting::begin(desk, self.sitting.id().clone(), self.label))
    }

    fn pick(&mut self, key: Key) {
        let Some(question) = self.question() else {
            return;
        };
        let place = key.digit().and_then(|d| d.checked_sub(1));
        if let Some((_, uci)) = place.and_then(|p| question.meanings.get(p)) {
            let kept = self.sitting.clarify(question.node, uci);
            self.answer = kept.err().map(|e| Answer::error(&e));
        }
    }

    fn words(&self) -> String {
        format!("Locked {}.", text::clock(self.sitting.used_ms()))
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        chrome::title(page, &self.label, "");
        page.put(4, 3, &self.words(), Ink::PLAIN.bold());
        match self.question() {
            Some(question) => self.draw_question(page, &question),
            None => {
                let words = "Your tree is final. See now where it and the truth part, or later: \
                             it waits for you in the history.";
                let y = page.put_wrapped((4, 5, page.width() - 8, 4), words, Ink::PLAIN);
                let words = "If something is still going round in your head: press 2 and write it down \
                             first. It is kept apart from the tree.";
                let y = page.put_wrapped((4, y + 1, page.width() - 8, 3), words, Ink::QUIET);
                // Where it cannot be read it is not said.
                if let Ok(Some(why)) = desk.app.practice().why_chosen(self.sitting.id()) {
                    page.put_wrapped((4, y + 1, page.width() - 8, 3), &why, Ink::QUIET);
                }
            }
        }
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 3);
        }
        chrome::bar(page, self.place());
    }

    fn draw_question(&self, page: &mut Page, question: &Question) {
        let words = question.words(self.sitting.tree());
        let y = page.put_wrapped((4, 5, page.width() - 8, 4), &words, Ink::PLAIN) + 1;
        for (i, (san, _)) in question.meanings.iter().enumerate() {
            page.put(6, y + i, &(i + 1).to_string(), Ink::ACCENT.bold());
            page.put(9, y + i, san, Ink::PLAIN.bold());
        }
    }
}
