//! The same sitting as lines of text: for screen readers, terminals without cursor control, and scripts.
//!
//! One line in, some lines out; nothing is drawn over. What is said before the lock is what the
//! screens say: nothing about whether a move is possible or good.

use std::collections::HashSet;
use std::io::{BufRead, Write};

use shakmaty::{Color, Position, Role};

use super::command::Do;
use super::order::{self, Order};
use super::page::Page;
use super::tree_view::{TreeView, as_typed, unmarked, walk};
use super::typed;
use super::{Options, Start, TuiError, words};
use crate::app::{App, AppError, Piece, Sitting, Subject};
use crate::attempt::Sight;
use crate::board::Line;
use crate::notation::{MEN, Reading};
use crate::review::{Class, Review};
use crate::text;
use crate::tree::NodeId;

/// Columns of what is written.
const WIDTH: usize = 78;

const HELP: &str = "Type a candidate or a whole line, for example: Nxe4 dxe4 Qxe4 +-\n\
An empty line goes back to where the tree last branched.\n\
go LINE: to a written line; 'go' alone: to the position.\n\
tree: your tree; board: the position; time: the clock.\n\
choose: choose the candidate you are in, and lock; leave: leave, everything is kept.";

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
    let mut plain = Plain::open(app, start, options)?;
    plain.greet(out)?;
    while let Some(line) = next_line(input)? {
        if plain.line(&line, out)? {
            return Ok(());
        }
        plain.prompt(out)?;
    }
    plain.sitting.leave()?;
    say(out, words::KEPT)
}

/// The next line; `None` at the end of the input. What is no text is made readable.
fn next_line(input: &mut dyn BufRead) -> Result<Option<String>, TuiError> {
    let mut bytes = Vec::new();
    let read = input.read_until(b'\n', &mut bytes);
    match read.map_err(|e| TuiError::Lines(e.to_string()))? {
        0 => Ok(None),
        _ => Ok(Some(String::from_utf8_lossy(&bytes).trim().to_owned())),
    }
}

fn say(out: &mut dyn Write, words: &str) -> Result<(), TuiError> {
    for line in words.lines() {
        writeln!(out, "{}", text::safe(line)).map_err(|e| TuiError::Lines(e.to_string()))?;
    }
    out.flush().map_err(|e| TuiError::Lines(e.to_string()))
}

struct Plain<'a> {
    app: &'a App,
    sitting: Sitting,
    label: String,
    cursor: NodeId,
    /// The choice is made; a word locks the tree.
    locking: bool,
}

impl<'a> Plain<'a> {
    fn open(app: &'a App, start: &Start, options: Options) -> Result<Self, TuiError> {
        let mut sitting = match start {
            Start::Playout(_) => {
                let words = "a game against the engine is played on the screens";
                return Err(TuiError::NoTerminal(words.to_owned()));
            }
            Start::Home => match app.unfinished()?.first() {
                Some(begun) => app.resume(&begun.id)?,
                None => open_new(app, &app.next_subject()?, options)?,
            },
            Start::Drill(id) => open_new(app, &Subject::Drill(id.clone()), options)?,
            Start::Position(line) => open_new(app, &Subject::Position((**line).clone()), options)?,
        };
        if sitting.attempt().started_ms().is_none() {
            sitting.start()?;
        }
        let last = u32::try_from(sitting.tree().len()).unwrap_or(0);
        Ok(Self {
            app,
            label: words::origin(app, &sitting.attempt().opened().origin),
            sitting,
            cursor: NodeId(last),
            locking: false,
        })
    }

    fn greet(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        say(out, &format!("{}.", self.label))?;
        self.board(out)?;
        say(out, "Type 'help' for what can be typed.")?;
        self.prompt(out)
    }

    /// The position as a list of men and in words.
    fn board(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        let root = self.sitting.tree().root();
        for color in [Color::White, Color::Black] {
            let men = men(root, color).join(" ");
            say(out, &format!("{}: {men}", words::side(color)))?;
        }
        for fact in words::facts(root) {
            say(out, &fact)?;
        }
        Ok(())
    }

    fn prompt(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        let clock = words::clock(self.sitting.left_ms(), self.sitting.used_ms());
        let place = match as_typed(self.sitting.tree(), self.cursor).as_slice() {
            [] => "candidate".to_owned(),
            moves => format!("after {}", moves.join(" ")),
        };
        let words = if self.locking {
            "Lock the tree? It is final from then on. yes or no".to_owned()
        } else {
            format!("[{clock}] {place}")
        };
        say(out, &format!("{words}:"))
    }

    /// One line; true where the sitting is over.
    fn line(&mut self, line: &str, out: &mut dyn Write) -> Result<bool, TuiError> {
        if self.locking {
            return self.confirm(line, out);
        }
        match self.obey(line, out) {
            Ok(over) => Ok(over),
            Err(TuiError::App(error)) => say(out, &error.to_string()).map(|()| false),
            Err(other) => Err(other),
        }
    }

    fn obey(&mut self, line: &str, out: &mut dyn Write) -> Result<bool, TuiError> {
        match (line, order::read(line)) {
            ("", _) => self.cursor = walk::branch(self.sitting.tree(), self.cursor),
            ("tree", _) => say(out, &self.tree())?,
            ("board", _) => self.seen_board(out)?,
            ("time", _) => {}
            (_, Some(Order::Run(Do::Help))) => say(out, HELP)?,
            (_, Some(Order::Run(Do::Leave))) => {
                self.sitting.leave()?;
                say(out, words::KEPT)?;
                return Ok(true);
            }
            (_, Some(Order::Run(Do::Choose))) => self.choose(out)?,
            (_, Some(order)) => self.order(order, out)?,
            _ => match line.strip_prefix("go") {
                Some(rest) if rest.is_empty() || rest.starts_with(' ') => self.go(rest, out)?,
                _ => self.write(line, out)?,
            },
        }
        Ok(false)
    }

    /// Without sight the board is not told again.
    fn seen_board(&self, out: &mut dyn Write) -> Result<(), TuiError> {
        match self.sitting.attempt().opened().sight {
            Sight::None => say(out, "The board is hidden."),
            Sight::Root | Sight::Follow => self.board(out),
        }
    }

    fn order(&mut self, order: Order<'_>, out: &mut dyn Write) -> Result<(), TuiError> {
        let node = self.sitting.tree().node(self.cursor).cloned();
        match (order, node) {
            (Order::Run(Do::Undo), _) => {
                self.sitting.undo()?;
                self.cursor = self.nearest();
            }
            (Order::Run(Do::Redo), _) => self.sitting.redo()?,
            (_, None) => say(out, "Go to a move first.")?,
            (Order::Run(Do::Strike), Some(n)) => self.sitting.strike(self.cursor, !n.struck)?,
            (Order::Run(Do::Only), Some(n)) => self.sitting.only(self.cursor, !n.only)?,
            (Order::SameAs(line), _) => match self.find(line) {
                Some(at) => {
                    let other = (at != NodeId::ROOT).then_some(at);
                    self.sitting.same_as(self.cursor, other)?;
                }
                None => not_written(line, out)?,
            },
            (Order::MoveTo(line), _) => match self.find(line) {
                Some(at) => self.sitting.relocate(self.cursor, at)?,
                None => not_written(line, out)?,
            },
            _ => say(out, "That has no meaning here.")?,
        }
        Ok(())
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
        let typed = typed::read(line);
        if self.cursor == NodeId::ROOT
            && !matches!(typed.pieces.first(), Some(Piece::Move(_)) | None)
        {
            return say(
                out,
                "A verdict or a comment belongs to a move: go to one first.",
            );
        }
        self.cursor = self.sitting.write(self.cursor, &typed.pieces)?;
        match typed.bad {
            Some((bad, _)) => say(out, &format!("{bad}.")),
            None => Ok(()),
        }
    }

    fn tree(&self) -> String {
        let tree = self.sitting.tree();
        if tree.is_empty() {
            return "Nothing is written yet.".to_owned();
        }
        let mut page = Page::new(WIDTH, 4 * tree.len() + 4).ascii(true);
        let view = TreeView {
            tree,
            choice: self.sitting.attempt().choice(),
            cursor: None,
            candidates_only: false,
            folded: &HashSet::new(),
            mark: &unmarked,
            ascii: true,
        };
        view.draw(&mut page, (0, 1, WIDTH, 4 * tree.len() + 2));
        page.to_text().trim_matches('\n').to_owned()
    }

    fn choose(&mut self, out: &mut dyn Write) -> Result<(), TuiError> {
        let tree = self.sitting.tree();
        let only = match tree.children(NodeId::ROOT) {
            [only] => Some(*only),
            _ => None,
        };
        let Some(candidate) = tree.path(self.cursor).first().copied().or(only) else {
            return say(out, "Go to the candidate you would play, then choose it.");
        };
        self.sitting.choose(candidate)?;
        let choice = self.sitting.tree().node(candidate);
        let choice = choice.map_or("", |n| n.text.as_str());
        say(
            out,
            &format!("Your choice: {choice}. Your tree:\n{}", self.tree()),
        )?;
        self.locking = true;
        Ok(())
    }

    /// After the choice: lock or back; after the lock: what a text meant, then the review.
    fn confirm(&mut self, line: &str, out: &mut dyn Write) -> Result<bool, TuiError> {
        match line {
            "yes" | "y" => {
                self.sitting.lock()?;
                let used = text::clock(self.sitting.used_ms());
                say(out, &format!("Locked {used}."))?;
                self.review(out)?;
                Ok(true)
            }
            "no" | "n" => {
                self.locking = false;
                Ok(false)
            }
            _ => Ok(false),
        }
    }

    fn review(&mut self, out: &mut dyn Write) -> Result<(), TuiError> {
        for node in self.sitting.ambiguous() {
            if let Some(Reading::Ambiguous(moves)) =
                self.sitting.tree().node(node).map(|n| &n.reading)
            {
                let text = as_typed(self.sitting.tree(), node).join(" ");
                let words = format!("{text} can mean {} moves: it is not judged.", moves.len());
                say(out, &words)?;
            }
        }
        say(out, "Comparing your tree with the truth ...")?;
        match self.app.review(self.sitting.id(), &mut |_, _| {}) {
            Ok(review) => told(&review, out),
            Err(error) => {
                say(out, &format!("The review could not be made: {error}"))?;
                let id = self.sitting.id();
                say(
                    out,
                    &format!("Your attempt is kept. Again: foreply review {id}"),
                )
            }
        }
    }
}

fn not_written(line: &str, out: &mut dyn Write) -> Result<(), TuiError> {
    say(out, &format!("'{line}' is not written in your tree."))
}

fn open_new(app: &App, subject: &Subject, options: Options) -> Result<Sitting, AppError> {
    app.open_sitting(subject, options.minutes, options.sight)
}

/// The men of one side with their squares, the king first.
fn men(root: &Line, color: Color) -> Vec<String> {
    let board = root.root().board();
    let of = |role: Role| {
        board
            .by_piece(role.of(color))
            .into_iter()
            .map(move |square| match role {
                Role::Pawn => square.to_string(),
                role => format!("{}{square}", role.upper_char()),
            })
    };
    MEN.into_iter().flat_map(of).collect()
}

/// The review as text: what held, then each finding with the two lines.
fn told(review: &Review, out: &mut dyn Write) -> Result<(), TuiError> {
    let wrapped = |words: &str| text::wrap(words, WIDTH).join("\n");
    for right in &review.right {
        say(out, &wrapped(&format!("What held: {}", right.note)))?;
    }
    let depth = &review.depth;
    let (needed, reached, sound) = (depth.needed, depth.reached, depth.sound);
    say(
        out,
        &format!("Depth in half-moves: needed {needed}, reached {reached}, sound {sound}."),
    )?;
    if review.findings.is_empty() {
        say(out, "Nothing was overlooked: your tree holds.")?;
    }
    for (i, finding) in review.findings.iter().enumerate() {
        let counted = match finding.class {
            Class::Counted => "",
            Class::Overruled => " (overruled by your coach)",
            Class::Close | Class::Aside | Class::Withheld => " (not counted)",
        };
        say(
            out,
            &format!("{}. {}{counted}", i + 1, finding.kind.words()),
        )?;
        say(out, &wrapped(&finding.sentence))?;
        let path = finding.paths.first().cloned().unwrap_or_default();
        let lines = [("You", &finding.instead), ("The truth", &finding.proof)];
        for (name, moves) in lines {
            let moves = [path.as_slice(), moves].concat().join(" ");
            say(out, &wrapped(&format!("{name}: {moves}")))?;
        }
        say(out, &wrapped(&finding.question))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::trial::Trial;

    fn ran(trial: &Trial, lines: &str) -> String {
        let mut out = Vec::new();
        let start = Start::Drill("saavedra-1895".to_owned());
        let mut input = lines.as_bytes();
        run(
            &trial.app,
            &start,
            Options::default(),
            (&mut input, &mut out),
        )
        .unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn a_whole_sitting_as_lines() {
        let trial = Trial::usual();
        let text = ran(
            &trial,
            "c7 Rd6+ Kc5 +-\n\nc7 Rd2\ngo c7\nxyz\ntree\nundo\nredo\nchoose\nno\nchoose\nyes\n",
        );
        let (before, after) = text.split_once("Locked 0:00.").unwrap();
        insta::assert_snapshot!(before, @r"
        Position 1.
        White: Kb6 c6
        Black: Ka1 Rd5
        White to move, move 1.
        No castling rights are left.
        Type 'help' for what can be typed.
        [8:00] candidate:
        [8:00] after c7 Rd6+ Kc5:
        [8:00] candidate:
        [8:00] after c7 Rd2:
        [8:00] after c7:
        'xyz' is not a move: 'x' does not begin a move; a piece letter (K Q R B N), a square or O-O does.
        [8:00] after c7:
          1.c7
            1...Rd6+ 2.Kc5 +-
            1...Rd2
        [8:00] after c7:
        [8:00] after c7:
        [8:00] after c7:
        Your choice: c7. Your tree:
        > 1.c7
            1...Rd6+ 2.Kc5 +-
            1...Rd2
        Lock the tree? It is final from then on. yes or no:
        [8:00] after c7:
        Your choice: c7. Your tree:
        > 1.c7
            1...Rd6+ 2.Kc5 +-
            1...Rd2
        Lock the tree? It is final from then on. yes or no:
        ");
        assert!(
            after.contains("What held:") || after.contains("1. "),
            "{after}"
        );
        assert_eq!(trial.app.history().unwrap().len(), 1);
    }

    #[test]
    fn the_end_of_the_input_keeps_the_sitting() {
        let trial = Trial::usual();
        let text = ran(&trial, "c7 Rd6+\n");
        assert!(
            text.ends_with("The sitting is kept: go on with it any time.\n"),
            "{text}"
        );
        assert_eq!(trial.app.unfinished().unwrap()[0].moves, 2);
    }

    /// A possible and an impossible move are answered alike, and nothing of the drill is told.
    #[test]
    fn nothing_is_told_before_the_lock() {
        let trial = Trial::usual();
        let (one, other) = (ran(&trial, "c7 Rd6+\n"), ran(&trial, "c8 Rd1+\n"));
        assert_eq!(one.replace("c7", "c8").replace("Rd6", "Rd1"), other);
        for secret in ["underpromotion", "title", "source", "win"] {
            assert!(!one.contains(secret), "{secret}");
        }
    }
}
