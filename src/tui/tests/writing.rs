//! Writing a tree, as (state, keys, state).
//!
//! A state is the tree as typed, alternatives in brackets, struck moves between minus signs, the
//! cursor as `|` behind its move (or at the start), and the entry line behind ` > `.

use crate::app::testing::app::Trial;
use crate::app::{AttemptSession, EntryToken, Subject};
use crate::attempt::BoardVisibility;
use crate::notation::Letters;
use crate::tree::{NodeId, Tree, Verdict};
use crate::tui::input::key::KeyPress;
use crate::tui::nav::screen::Screen;
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::OpenAttempt;
use crate::tui::screens::writing::screen::{WritingScreen, WritingStep};
use crate::tui::widgets::board::BoardAppearance;

struct Pen {
    _trial: Trial,
    entry: WritingScreen,
}

impl Pen {
    /// An entry in the state that is written.
    fn at(state: &str) -> Self {
        let trial = Trial::usual();
        let subject = Subject::Drill("saavedra-1895".to_owned());
        let mut sitting = trial
            .app
            .attempts()
            .open_sitting(&subject, None, BoardVisibility::Root)
            .unwrap();
        sitting.start().unwrap();
        let (tree, line) = state.split_once(" > ").unwrap_or((state, ""));
        let cursor = write(&mut sitting, tree);
        let look = BoardAppearance::of(sitting.tree().root().root());
        let open = OpenAttempt::new(sitting, "Position 1".to_owned(), look, Letters::default());
        let mut entry = WritingScreen::new(open);
        entry.open.cursor = cursor;
        entry.open.line.set(line);
        Self {
            _trial: trial,
            entry,
        }
    }

    fn press(mut self, script: &str) -> Self {
        for key in KeyPress::script(script) {
            let step = self.step(key);
            assert_eq!(step, WritingStep::GoesOn, "{key} left the entry");
        }
        self
    }

    fn step(&mut self, key: KeyPress) -> WritingStep {
        let input = ScreenInput::of_key(self.entry.key_contexts(), key);
        self.entry.apply(input)
    }

    fn state(&self) -> String {
        let tree = self.entry.open.sitting.tree();
        let mut text = below(tree, NodeId::ROOT, self.entry.open.cursor);
        if self.entry.open.cursor == NodeId::ROOT {
            text = format!("| {text}");
        }
        if !self.entry.open.line.is_empty() {
            text = format!("{} > {}", text.trim(), self.entry.open.line.text());
        }
        text.trim().to_owned()
    }

    fn answer(&self) -> String {
        format!("{:?}", self.entry.notice)
    }
}

/// Writes a tree in the notation above; gives the cursor.
fn write(sitting: &mut AttemptSession, text: &str) -> NodeId {
    let spaced = text.replace('(', " ( ").replace(')', " ) ");
    let (mut at, mut cursor, mut open) = (NodeId::ROOT, NodeId::ROOT, Vec::new());
    for word in spaced.split_whitespace() {
        match word {
            "(" => open.push(at),
            ")" => at = open.pop().unwrap(),
            word => {
                let (word, here) = match word.strip_suffix('|') {
                    Some(word) => (word, true),
                    None => (word, false),
                };
                let piece = match Verdict::parse(word) {
                    Ok(verdict) => EntryToken::Verdict(verdict),
                    Err(_) => EntryToken::Move(word.to_owned()),
                };
                if !word.is_empty() {
                    at = sitting.write(at, &[piece]).unwrap();
                }
                if here {
                    cursor = at;
                }
            }
        }
    }
    cursor
}

fn below(tree: &Tree, at: NodeId, cursor: NodeId) -> String {
    let parts: Vec<String> = tree
        .children(at)
        .iter()
        .map(|child| {
            let node = tree.node(*child).unwrap();
            let mut text = node.text.clone();
            if node.struck {
                text = format!("-{text}-");
            }
            if let Some(verdict) = node.verdict {
                text = format!("{text} {verdict}");
            }
            if cursor == *child {
                text.push('|');
            }
            format!("{text} {}", below(tree, *child, cursor))
                .trim()
                .to_owned()
        })
        .collect();
    match parts.as_slice() {
        [only] => only.clone(),
        parts => {
            let parts: Vec<String> = parts.iter().map(|p| format!("({p})")).collect();
            parts.join(" ")
        }
    }
}

#[track_caller]
fn check(before: &str, keys: &str, after: &str) {
    assert_eq!(Pen::at(before).state(), before, "the state before");
    assert_eq!(Pen::at(before).press(keys).state(), after);
}

#[test]
fn a_line_is_written_below_the_cursor() {
    check("|", "c7 Rd6+<Enter>", "c7 Rd6+|");
    check("c7 Rd6+|", "Kb5 Rd5+<Enter>", "c7 Rd6+ Kb5 Rd5+|");
    check("c7| Rd6+", "Rd2<Enter>", "c7 (Rd6+) (Rd2|)");
    check("| c7", "Kb7<Enter>", "(c7) (Kb7|)");
}

#[test]
fn what_stands_there_already_is_walked_into() {
    check("| c7 Rd6+", "c7 Rd6+ Kb5<Enter>", "c7 Rd6+ Kb5|");
}

#[test]
fn an_empty_line_goes_back_to_where_the_tree_branched() {
    check("c7 Rd6+ Kb5|", "<Enter>", "| c7 Rd6+ Kb5");
    check("c7 (Rd6+ Kb5) (Rd2|)", "<Enter>", "c7| (Rd6+ Kb5) (Rd2)");
    check(
        "c7 (Rd6+ Kb5|) (Rd2)",
        "<Enter><Enter>",
        "| c7 (Rd6+ Kb5) (Rd2)",
    );
    check("| c7", "<Enter>", "| c7");
    check("c7|", "  <Enter>", "| c7");
}

#[test]
fn arrows_walk_the_tree_on_an_empty_line() {
    check("c7 Rd6+|", "<Left>", "c7| Rd6+");
    check("c7| Rd6+", "<Right><Right>", "c7 Rd6+|");
    check("c7|", "<Left><Left>", "| c7");
    check("c7 (Rd6+|) (Rd2)", "<Down>", "c7 (Rd6+) (Rd2|)");
    check("c7 (Rd6+) (Rd2|)", "<Up><Up><Up>", "c7| (Rd6+) (Rd2)");
}

#[test]
fn arrows_edit_a_line_that_is_typed() {
    check("c7|", "Rd<Left>x<Home>a<End>b<Ctrl-K>", "c7| > aRxdb");
    check("c7| > Rd6+ Kb5", "<Ctrl-W><Backspace>", "c7| > Rd6+");
    check("c7|", "Rd6+<Enter><Enter><Ctrl-P>", "| c7 Rd6+ > Rd6+");
}

#[test]
fn tab_goes_round_the_candidates() {
    check("(c7 Rd6+|) (Kb7)", "<Tab>", "(c7 Rd6+) (Kb7|)");
    check("(c7 Rd6+) (Kb7|)", "<Tab>", "(c7| Rd6+) (Kb7)");
    check("(c7| Rd6+) (Kb7)", "<Shift-Tab>", "(c7 Rd6+) (Kb7|)");
    check("|", "<Tab>", "|");
}

#[test]
fn a_verdict_goes_to_the_move_under_the_cursor() {
    check("c7 Rd6+|", "+-<Enter>", "c7 Rd6+ +-|");
    check("c7 Rd6+ +-|", "65%<Enter>", "c7 Rd6+ 65%|");
    check("|", "c7 Rd6+ ~ Kb5 =<Enter>", "c7 Rd6+ ~ Kb5 =|");
    let pen = Pen::at("c7|").press("+-<Enter>");
    insta::assert_snapshot!(pen.answer(), @r#"Some(Quiet("+- White is winning."))"#);
    let pen = Pen::at("|").press("+-<Enter>");
    insta::assert_snapshot!(pen.answer(), @r#"Some(Alert("A verdict or a comment belongs to a move: put the cursor on one."))"#);
    assert_eq!(pen.state(), "| > +-");
}

#[test]
fn words_and_threats_are_written_like_moves() {
    let pen = Pen::at("|").press("c7 {runs} -- Rd6+<Enter>");
    assert_eq!(pen.state(), "c7 -- Rd6+|");
    let tree = pen.entry.open.sitting.tree();
    assert_eq!(tree.node(NodeId(1)).unwrap().comment, "runs");
}

#[test]
fn moves_are_struck_out_reordered_and_taken_back() {
    check("c7 (Rd6+|) (Rd2)", "<F4>", "c7 (-Rd6+-|) (Rd2)");
    check("c7 (Rd6+|) (Rd2)", "<F4><F4>", "c7 (Rd6+|) (Rd2)");
    check("c7 (Rd6+) (Rd2|)", "<F5>", "c7 (Rd2|) (Rd6+)");
    check(
        "c7 (Rd6+|) (Rd2)",
        "<Shift-Down><Shift-Down>",
        "c7 (Rd2) (Rd6+|)",
    );
    check("c7 (Rd6+|) (Rd2)", "<Shift-Up>", "c7 (Rd6+|) (Rd2)");
    check("c7 Rd6+|", "<F8>", "c7|");
    check("c7 Rd6+|", "<F4><F8>", "c7 Rd6+|");
    check("c7|", "<F8>", "|");
    let pen = Pen::at("|").press("<F8>");
    insta::assert_snapshot!(pen.answer(), @r#"Some(Alert("there is nothing to take back"))"#);
    let mut pen = Pen::at("c7| Rd6+");
    pen.entry.open.sitting.choose(NodeId(1)).unwrap();
    let pen = pen.press("<F8>");
    insta::assert_snapshot!(pen.answer(), @r#"Some(Quiet("c7 is no longer your choice."))"#);
}

#[test]
fn what_was_taken_back_is_brought_back() {
    check("|", "c7<Enter>Rd6+<Enter><F8><F8><F9>", "c7|");
    check("|", "c7<Enter>Rd6+<Enter><F8><F8><F9><F9>", "c7 Rd6+|");
    check("|", "c7 Rd6+<Enter>undo<Enter>redo<Enter>", "c7 Rd6+|");
    check("|", "c7<Enter><F8>Kb7<Enter><F9>", "Kb7|");
}

/// A line is typed in one go, and taken back in one.
#[test]
fn a_line_is_taken_back_whole() {
    check("|", "c7 Rd6+ Kb5 +-<Enter><F8>", "|");
    check("|", "c7 Rd6+ Kb5 +-<Enter><F8><F9>", "c7 Rd6+ Kb5 +-|");
    check("c7|", "Rd6+ Kb5<Enter><F4><F8>", "c7 Rd6+ Kb5|");
    check("c7|", "Rd6+ Kb5<Enter><F4><F8><F8>", "c7|");
}

/// A slip in the middle of a line is mended there: what stands below it stays.
#[test]
fn a_move_is_corrected_in_the_middle_of_its_line() {
    check("c7 Rd6+| Kb5", "correct Rd5+<Enter>", "c7 Rd5+| Kb5");
    check(
        "c7 Rd6+| Kb5",
        "<Ctrl-F><Backspace><Backspace>2<Enter>",
        "c7 Rd2| Kb5",
    );
    check("c7 Rd6+| Kb5", "correct Rd5+<Enter><F8>", "c7 Rd6+| Kb5");
    let pen = Pen::at("c7 (Rd6+| Kb5) (Rd2)").press("correct Rd2<Enter>");
    insta::assert_snapshot!(pen.answer(), @r#"Some(Alert("'Rd2' stands there already"))"#);
    let pen = Pen::at("c7 Rd6+|").press("correct xyz<Enter>");
    assert!(
        pen.answer().contains("'xyz' is not a move"),
        "{}",
        pen.answer()
    );
    assert_eq!(pen.state(), "c7 Rd6+| > correct xyz");
    let pen = Pen::at("| c7").press("correct Kb7<Enter>");
    insta::assert_snapshot!(pen.answer(), @r#"Some(Alert("Put the cursor on a move first."))"#);
}

#[test]
fn a_verdict_close_to_its_move_is_one() {
    check("|", "c7+- <Enter>", "c7 +-|");
}

#[test]
fn a_subtree_goes_elsewhere() {
    check(
        "(c7 Rd6+| Kb5) (Kb7)",
        "<F7><Tab><F7>",
        "(c7) (Kb7 Rd6+| Kb5)",
    );
    check(
        "(c7 Rd6+| Kb5) (Kb7)",
        "move to Kb7<Enter>",
        "(c7) (Kb7 Rd6+| Kb5)",
    );
    check("c7 Rd6+| Kb5", "move to<Enter>", "(c7) (Rd6+| Kb5)");
    check(
        "(c7 Rd6+| Kb5) (Kb7)",
        "<F7><Esc><Tab><F8>",
        "| c7 Rd6+ Kb5",
    );
    check(
        "(c7| Rd6+ Kb5) (Kb7)",
        "<F7><Right><F7>",
        "(c7 Rd6+| Kb5) (Kb7)",
    );
    let pen = Pen::at("c7| Rd6+").press("<F7><Right><F7>");
    assert!(pen.answer().contains("below itself"), "{}", pen.answer());
    let pen = Pen::at("c7| Rd6+").press("move to Kb7<Enter>");
    assert!(
        pen.answer().contains("'Kb7' is not written"),
        "{}",
        pen.answer()
    );
}

#[test]
fn a_move_is_only_named_or_the_same_as_another() {
    let pen = Pen::at("(c7 Rd6+|) (Kb7)").press("<Ctrl-O>");
    assert!(pen.entry.open.sitting.tree().node(NodeId(2)).unwrap().only);
    let pen = pen.press("only<Enter>");
    assert!(!pen.entry.open.sitting.tree().node(NodeId(2)).unwrap().only);
    let same = |pen: &Pen, n: u32| {
        pen.entry
            .open
            .sitting
            .tree()
            .node(NodeId(n))
            .unwrap()
            .same_as
    };
    let pen = pen.press("same as Kb7<Enter>");
    assert_eq!(same(&pen, 2), Some(NodeId(3)));
    let pen = pen.press("same as<Enter>");
    assert_eq!(same(&pen, 2), None);
    let pen = pen.press("<Ctrl-T><Tab><Ctrl-T>");
    assert_eq!(
        (same(&pen, 2), pen.entry.open.cursor),
        (Some(NodeId(3)), NodeId(2))
    );
}

#[test]
fn a_note_is_changed_in_the_line() {
    let pen = Pen::at("c7|").press("{runs}<Enter><Ctrl-R> fast}<Enter>");
    let tree = pen.entry.open.sitting.tree();
    assert_eq!(tree.node(NodeId(1)).unwrap().comment, "runs fast");
}

#[test]
fn what_stands_below_is_folded_and_never_hides_the_cursor() {
    let pen = Pen::at("c7| (Rd6+ Kb5) (Rd2)").press(" ");
    assert!(pen.entry.open.folded.contains(&NodeId(1)));
    let pen = pen.press("<Right>");
    assert_eq!(
        pen.entry.open.cursor,
        NodeId(1),
        "folded: nothing to walk into"
    );
    let pen = pen.press("Rd6+ Kc5<Enter>");
    assert!(pen.entry.open.folded.is_empty());
    check("c7|", "Rd6+ Kb5<Enter>", "c7 Rd6+ Kb5|");
}

#[test]
fn only_what_is_no_move_of_any_kind_is_answered() {
    let pen = Pen::at("|").press("c7 Rd6+ xyz Kb5<Enter>");
    assert_eq!(pen.state(), "c7 Rd6+| > xyz Kb5");
    let answer = pen.answer();
    assert!(answer.contains("'xyz' is not a move:"), "{answer}");
    assert!(answer.contains("Kept: c7 Rd6+."), "{answer}");
    let bad = pen.entry.open.line.bad().cloned().unwrap();
    assert!(bad.start < bad.end && bad.end <= 3, "{bad:?}");
}

#[test]
fn escape_empties_the_line_first() {
    check("c7| > Rd", "<Esc>", "c7|");
}

#[test]
fn f10_chooses_the_candidate_of_the_cursor() {
    let mut pen = Pen::at("(c7 Rd6+|) (Kb7)");
    assert_eq!(pen.step(KeyPress::F(10)), WritingStep::Chosen);
    let choice = pen.entry.open.sitting.attempt().choice();
    assert_eq!(choice, Some(NodeId(1)));
    for (state, words) in [
        ("|", "Write the move you would play, then choose it."),
        (
            "| (c7) (Kb7)",
            "Put the cursor on the candidate you would play, then choose it.",
        ),
    ] {
        let pen = Pen::at(state).press("<F10>");
        assert!(pen.answer().contains(words), "{}", pen.answer());
    }
    let pen = Pen::at("c7|").press("<F4><F10>");
    assert!(pen.answer().contains("struck out"), "{}", pen.answer());
}
