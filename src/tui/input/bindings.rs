//! Every command with its keys and its words: keys, bottom line and help come from this one list.

use super::key::Key;
use crate::tui::widgets::line_editor::Edit;

/// Where a command is available.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    Home,
    /// All positions.
    Collection,
    Look,
    Entry,
    /// Any line that is typed, in the entry and for the end verdict.
    Line,
    Paused,
    EndVerdict,
    Confirm,
    Clarify,
    Locked,
    Second,
    Waiting,
    Review,
    /// A line that is typed in answer to a review.
    Answer,
    Cause,
    History,
    Habits,
    /// Words that are typed to filter a list.
    Filter,
    Help,
    Playout,
    After,
}

/// What a command does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Do {
    Help,
    Back,
    Open,
    Up,
    Down,
    PageUp,
    PageDown,
    PutAside,
    History,
    Collection,
    /// All filters off.
    Everything,
    Flip,
    Coordinates,
    Hide,
    NextCandidate,
    PreviousCandidate,
    Candidates,
    Strike,
    Earlier,
    Later,
    Undo,
    Redo,
    /// Takes the move under the cursor, to be put elsewhere.
    Take,
    /// Says that two moves lead to the same position.
    Same,
    Only,
    Note,
    Fold,
    Pause,
    Leave,
    Sight,
    EndCard,
    Letters,
    Choose,
    Yes,
    No,
    /// The one with the pressed digit's number.
    Pick,
    LeaveOpen,
    Again,
    NextFinding,
    PreviousFinding,
    Forward,
    Backward,
    Swap,
    Numbers,
    Tree,
    Solution,
    Figures,
    HisSide,
    Doubt,
    Remark,
    Contest,
    CoachStrikes,
    Why,
    OwnWords,
    /// A cause goes from his list.
    Remove,
    /// A cause gets other words.
    Reword,
    Filter,
    Fitting,
    More,
    Less,
    SecondLook,
    ForCoach,
    /// What many attempts say.
    Habits,
    /// The eve of a game.
    Eve,
    /// The tour of one minute.
    Tour,
    /// Candidates and lines before the move of a game.
    WriteFirst,
    /// The position against the engine.
    PlayOut,
    Edit(Edit),
}

/// One command.
pub struct Command {
    pub place: Place,
    pub run: Do,
    pub keys: &'static [Key],
    /// For the help: a sentence without its full stop.
    pub words: &'static str,
    /// For the bottom line: one or two words; empty for what stands in the help only.
    pub short: &'static str,
}

const fn c(
    place: Place,
    run: Do,
    keys: &'static [Key],
    short: &'static str,
    words: &'static str,
) -> Command {
    Command {
        place,
        run,
        keys,
        words,
        short,
    }
}

use Key::{Char, Ctrl, F};
use Place::{
    After, Answer, Cause, Clarify, Collection, Confirm, EndVerdict, Entry, Filter, Habits, Help,
    History, Home, Line, Locked, Look, Paused, Playout, Review, Second, Waiting,
};

const HELP: &[Key] = &[F(1), Char('?')];
const DIGITS: &[Key] = &[
    Char('1'),
    Char('2'),
    Char('3'),
    Char('4'),
    Char('5'),
    Char('6'),
    Char('7'),
    Char('8'),
    Char('9'),
];
const BACK: &[Key] = &[Key::Esc, Char('q')];

/// The list. The bottom line shows the commands in this order.
#[rustfmt::skip]
pub const COMMANDS: &[Command] = &[
    c(Home, Do::Open, &[Key::Enter], "open", "open what is marked"),
    c(Home, Do::Up, &[Key::Up], "", "mark the entry above"),
    c(Home, Do::Down, &[Key::Down], "", "mark the entry below"),
    c(Home, Do::PageUp, &[Key::PageUp], "", "a page up"),
    c(Home, Do::PageDown, &[Key::PageDown], "", "a page down"),
    c(Home, Do::Fitting, &[Char('n')], "now", "the first of the positions that fit the minutes you have"),
    c(Home, Do::More, &[Char('+')], "", "five minutes more at hand"),
    c(Home, Do::Less, &[Char('-')], "", "five minutes less at hand"),
    c(Home, Do::Collection, &[Char('c')], "collection", "all positions, with filters"),
    c(Home, Do::History, &[Char('h')], "history", "all attempts so far"),
    c(Home, Do::Eve, &[Char('e')], "", "the eve of a game: three positions you have solved, two habits in words, nothing new; + or - brings the others back"),
    c(Home, Do::PutAside, &[Char('d')], "", "put the marked unfinished sitting aside; it is kept, but no longer offered"),
    c(Home, Do::Help, HELP, "help", "this help"),
    c(Home, Do::Back, BACK, "quit", "leave the program; everything is kept"),

    c(Collection, Do::Open, &[Key::Enter], "open", "open the marked position"),
    c(Collection, Do::Pick, &[Char('1'), Char('2'), Char('3'), Char('4'), Char('5')], "", "turn one of the five filters: task, part of the game, men on the board, tried or not, whose move"),
    c(Collection, Do::Everything, &[Char('0')], "all", "all filters off"),
    c(Collection, Do::Fitting, &[Char('n')], "next new", "to the next position that you have not tried"),
    c(Collection, Do::PlayOut, &[Char('x')], "play out", "play the marked position out against the engine at full strength; other levels with foreply playout"),
    c(Collection, Do::Up, &[Key::Up], "", "mark the position above"),
    c(Collection, Do::Down, &[Key::Down], "", "mark the position below"),
    c(Collection, Do::PageUp, &[Key::PageUp], "", "a page up"),
    c(Collection, Do::PageDown, &[Key::PageDown], "", "a page down"),
    c(Collection, Do::Help, HELP, "help", "this help"),
    c(Collection, Do::Back, BACK, "back", "back"),

    c(Look, Do::Open, &[Key::Enter], "start", "start to write; the clock runs from here"),
    c(Look, Do::Flip, &[Char('f')], "flip", "turn the board round"),
    c(Look, Do::Coordinates, &[Char('c')], "", "letters and numbers at the edge of the board, or not"),
    c(Look, Do::Letters, &[Char('l')], "", "letters or figures for the men"),
    c(Look, Do::Sight, &[Char('s')], "sight", "what you will see of the board while you write: it stays, it follows what you write, or it is hidden"),
    c(Look, Do::Hide, &[Char('x')], "hide", "hide the board, or show it again"),
    c(Look, Do::Help, HELP, "help", "this help"),
    c(Look, Do::Back, BACK, "leave", "leave; nothing is lost"),

    c(Entry, Do::Choose, &[F(10), Ctrl('g')], "choose", "choose the candidate the cursor is in, and go on to lock the tree"),
    c(Entry, Do::Open, &[Key::Enter], "write", "write the line below the cursor; an empty line goes back to where the tree last branched, else to the position"),
    c(Entry, Do::Up, &[Key::Up], "", "to the row above in the tree"),
    c(Entry, Do::Down, &[Key::Down], "", "to the row below in the tree"),
    c(Entry, Do::NextCandidate, &[Key::Tab], "candidate", "to the next candidate"),
    c(Entry, Do::PreviousCandidate, &[Key::BackTab], "", "to the candidate before"),
    c(Entry, Do::Candidates, &[F(2)], "", "show the candidates alone, or the whole tree"),
    c(Entry, Do::Flip, &[F(3)], "", "turn the board round"),
    c(Entry, Do::Strike, &[F(4)], "strike", "strike the move under the cursor out, or let it stand again; it stays readable"),
    c(Entry, Do::Earlier, &[F(5), Key::ShiftUp], "", "move it up among its alternatives"),
    c(Entry, Do::Later, &[F(6), Key::ShiftDown], "", "move it down among its alternatives"),
    c(Entry, Do::Take, &[F(7)], "", "take the move under the cursor with all below it; F7 again puts it behind the move where the cursor then is"),
    c(Entry, Do::Undo, &[F(8)], "undo", "take the last change back"),
    c(Entry, Do::Redo, &[F(9)], "", "bring back what was taken back"),
    c(Entry, Do::Fold, &[Char(' ')], "", "on an empty line: fold what stands below the move, or unfold it"),
    c(Entry, Do::Only, &[Ctrl('o')], "", "mark the move as a candidate only: no line belongs to it, on purpose"),
    c(Entry, Do::Same, &[Ctrl('t')], "", "take the move under the cursor; Ctrl-T again on another says that both lead to the same position"),
    c(Entry, Do::Note, &[Ctrl('r')], "", "put the words on the move into the line, to change them"),
    c(Entry, Do::Pause, &[Ctrl('x')], "", "stop the clock; board and tree are hidden until you go on"),
    c(Entry, Do::Help, &[F(1)], "help", "this help"),
    c(Entry, Do::Back, &[Key::Esc], "leave", "empty the line; on an empty line leave: everything is kept, and the sitting can be taken up again"),

    c(Line, Do::Edit(Edit::Left), &[Key::Left], "", "one character left; on an empty line one move back"),
    c(Line, Do::Edit(Edit::Right), &[Key::Right], "", "one character right; on an empty line one move on"),
    c(Line, Do::Edit(Edit::Start), &[Key::Home, Ctrl('a')], "", "to the start of the line"),
    c(Line, Do::Edit(Edit::End), &[Key::End, Ctrl('e')], "", "to the end of the line"),
    c(Line, Do::Edit(Edit::DeleteBack), &[Key::Backspace, Ctrl('h')], "", "delete the character before the cursor"),
    c(Line, Do::Edit(Edit::DeleteHere), &[Key::Delete], "", "delete the character under the cursor"),
    c(Line, Do::Edit(Edit::CutToEnd), &[Ctrl('k')], "", "delete to the end of the line"),
    c(Line, Do::Edit(Edit::CutToStart), &[Ctrl('u')], "", "delete to the start of the line"),
    c(Line, Do::Edit(Edit::CutWord), &[Ctrl('w')], "", "delete the word before the cursor"),
    c(Line, Do::Edit(Edit::Older), &[Ctrl('p')], "", "the line typed before"),
    c(Line, Do::Edit(Edit::Newer), &[Ctrl('n')], "", "the line typed after it"),

    c(Paused, Do::Open, &[Key::Enter], "go on", "go on; the clock runs again"),
    c(Paused, Do::Help, HELP, "help", "this help"),
    c(Paused, Do::Back, BACK, "leave", "leave; everything is kept"),

    c(EndVerdict, Do::Open, &[Key::Enter], "go on", "go on; an empty line leaves the verdict open"),
    c(EndVerdict, Do::Help, &[F(1)], "help", "this help"),
    c(EndVerdict, Do::Back, &[Key::Esc], "back", "back to the tree"),

    c(Confirm, Do::Yes, &[Char('y')], "lock", "lock the tree: it is final from then on"),
    c(Confirm, Do::No, &[Char('n')], "write one more reply", "write on below the choice"),
    c(Confirm, Do::EndCard, &[Char('e')], "end card", "say who moves at the end of the choice's line, how the material stands there, and your plan"),
    c(Confirm, Do::Up, &[Key::Up], "", "scroll the tree up"),
    c(Confirm, Do::Down, &[Key::Down], "", "scroll the tree down"),
    c(Confirm, Do::Help, &[F(1)], "help", "this help"),
    c(Confirm, Do::Back, &[Key::Esc], "back", "back to where the cursor was"),

    c(Clarify, Do::Pick, DIGITS, "answer", "the move with this number"),
    c(Clarify, Do::LeaveOpen, &[Char('s')], "leave open", "leave it open: the move is not judged"),
    c(Clarify, Do::Help, HELP, "help", "this help"),
    c(Clarify, Do::Back, &[Key::Esc], "later", "leave; it is asked again before the review"),

    c(Locked, Do::Open, &[Key::Enter], "see the review", "compare the tree with the truth"),
    c(Locked, Do::SecondLook, &[Char('2')], "look again", "two minutes to write what you see now, apart from the tree, before the review"),
    c(Locked, Do::ForCoach, &[Char('c')], "coach first", "leave the tree to your coach before you see the review"),
    c(Locked, Do::Back, &[Char('l'), Key::Esc], "later", "leave; the review waits in the history"),
    c(Locked, Do::Help, HELP, "help", "this help"),

    c(Second, Do::Open, &[Key::Enter], "keep", "keep what is typed; on an empty line the second look is over"),
    c(Second, Do::Flip, &[F(3)], "flip", "turn the board round"),
    c(Second, Do::Help, &[F(1)], "help", "this help"),
    c(Second, Do::Back, &[Key::Esc], "over", "the second look is over"),

    c(Waiting, Do::Again, &[Char('r')], "try again", "try once more after a failure"),
    c(Waiting, Do::Help, HELP, "help", "this help"),
    c(Waiting, Do::Back, BACK, "leave", "leave; the review goes on and waits in the history"),

    c(Review, Do::NextFinding, &[Char('n')], "next", "to the next finding"),
    c(Review, Do::PreviousFinding, &[Char('p')], "", "to the finding before"),
    c(Review, Do::Backward, &[Key::Left], "", "one half-move back on the board"),
    c(Review, Do::Forward, &[Key::Right], "", "one half-move on"),
    c(Review, Do::Swap, &[Char(' ')], "swap", "step through your line, or through the true one"),
    c(Review, Do::Numbers, &[Char('e')], "", "expected scores, or not"),
    c(Review, Do::Tree, &[Char('t')], "tree", "your tree with what became of each move, or the findings"),
    c(Review, Do::Figures, &[Char('g')], "figures", "depth, coverage, focus and your time as small pictures"),
    c(Review, Do::Why, &[Char('w')], "why", "say why you missed it; your causes are counted later"),
    c(Review, Do::Doubt, &[Char('a')], "against", "'I do not believe it': write a line against the review; it is answered by a line"),
    c(Review, Do::Remark, &[Char('m')], "", "a note of yours on the finding"),
    c(Review, Do::Contest, &[Char('k')], "", "do not let the finding stand before your coach, or let it stand again"),
    c(Review, Do::CoachStrikes, &[Char('K')], "", "your coach strikes the finding: his name and why; it then counts nowhere; once more, and it stands again"),
    c(Review, Do::HisSide, &[Char('o')], "", "see the board from the opponent's side, and his plan as a line"),
    c(Review, Do::Solution, &[Char('s')], "", "where the position comes from, its published solution, and whether the judge agrees"),
    c(Review, Do::Again, &[Char('r')], "", "where the engine has failed: try the rest of the review once more"),
    c(Review, Do::PlayOut, &[Char('x')], "", "play the position out against the engine"),
    c(Review, Do::Up, &[Key::Up], "", "scroll the tree up"),
    c(Review, Do::Down, &[Key::Down], "", "scroll the tree down"),
    c(Review, Do::Flip, &[Char('f')], "", "turn the board round"),
    c(Review, Do::Letters, &[Char('l')], "", "letters or figures for the men"),
    c(Review, Do::Coordinates, &[Char('c')], "", "letters and numbers at the edge of the board, or not"),
    c(Review, Do::Help, HELP, "help", "this help"),
    c(Review, Do::Back, BACK, "back", "back"),

    c(Answer, Do::Open, &[Key::Enter], "keep", "keep what is typed"),
    c(Answer, Do::Help, &[F(1)], "help", "this help"),
    c(Answer, Do::Back, &[Key::Esc], "back", "back; what is typed is dropped"),

    c(Cause, Do::Pick, DIGITS, "cause", "the cause with this number"),
    c(Cause, Do::OwnWords, &[Char('0')], "another", "another cause, in your own words; it joins your list"),
    c(Cause, Do::Remove, &[Char('d')], "off the list", "then a number: that cause goes from your list; attempts that you explained with it keep it"),
    c(Cause, Do::Reword, &[Char('e')], "reword", "then a number: other words for that cause on your list"),
    c(Cause, Do::Help, HELP, "help", "this help"),
    c(Cause, Do::Back, &[Key::Esc], "back", "back"),

    c(History, Do::Open, &[Key::Enter], "open", "open the review of the marked attempt"),
    c(History, Do::Filter, &[Char('/')], "filter", "show only the attempts that hold the words you type: a date, a move, white or black, late or over (time), a kind of finding, clean, unreviewed"),
    c(History, Do::Again, &[Char('t')], "again", "the same position once more, as a new sitting"),
    c(History, Do::ForCoach, &[Char('c')], "for the coach", "write the marked attempt, without its review, to a file for your coach"),
    c(History, Do::Habits, &[Char('b')], "habits", "what you miss more often than your other moves, and the moments it is made of"),
    c(History, Do::Up, &[Key::Up], "", "mark the attempt above"),
    c(History, Do::Down, &[Key::Down], "", "mark the attempt below"),
    c(History, Do::PageUp, &[Key::PageUp], "", "a page up"),
    c(History, Do::PageDown, &[Key::PageDown], "", "a page down"),
    c(History, Do::Help, HELP, "help", "this help"),
    c(History, Do::Back, BACK, "back", "back"),

    c(Habits, Do::Open, &[Key::Enter], "open", "open the marked moment in its review"),
    c(Habits, Do::Up, &[Key::Up], "", "mark the row above"),
    c(Habits, Do::Down, &[Key::Down], "", "mark the row below"),
    c(Habits, Do::PageUp, &[Key::PageUp], "", "a page up"),
    c(Habits, Do::PageDown, &[Key::PageDown], "", "a page down"),
    c(Habits, Do::Help, HELP, "help", "this help"),
    c(Habits, Do::Back, BACK, "back", "back"),

    c(Playout, Do::WriteFirst, &[F(2)], "write", "write candidates and lines before your move; an empty line ends it"),
    c(Playout, Do::Flip, &[F(5)], "flip", "turn the board round"),
    c(Playout, Do::Back, &[Key::Esc], "adjourn", "adjourn; the clock stands and the game is kept"),
    c(Playout, Do::Help, &[F(1)], "help", "this help; typed words: plan WORDS, draw, claim, resign"),

    c(After, Do::NextFinding, &[Char('n'), Key::Down], "next", "the next decision that cost"),
    c(After, Do::PreviousFinding, &[Char('p'), Key::Up], "previous", "the decision before"),
    c(After, Do::Again, &[Char('t')], "try again", "play on from the marked decision, as a new game"),
    c(After, Do::Flip, &[Char('f')], "flip", "turn the board round"),
    c(After, Do::Help, HELP, "help", "this help"),
    c(After, Do::Back, BACK, "back", "back"),

    c(Filter, Do::Open, &[Key::Enter], "show", "keep the filter"),
    c(Filter, Do::Help, &[F(1)], "help", "this help"),
    c(Filter, Do::Back, &[Key::Esc], "all", "show all again"),

    c(Help, Do::Up, &[Key::Up], "", "scroll up"),
    c(Help, Do::Down, &[Key::Down], "scroll", "scroll down"),
    c(Help, Do::PageUp, &[Key::PageUp], "", "a page up"),
    c(Help, Do::PageDown, &[Key::PageDown, Char(' ')], "page", "a page down"),
    c(Help, Do::Tour, &[Char('t')], "tour", "the tour of one minute, on a real position; F12 ends it"),
    c(Help, Do::Back, &[Key::Esc, Char('q'), F(1), Char('?'), Key::Enter], "back", "back"),
];

/// What a key does at a place; several places where lines are typed.
#[must_use]
pub fn find(places: &[Place], key: Key) -> Option<Do> {
    COMMANDS
        .iter()
        .find(|c| places.contains(&c.place) && c.keys.contains(&key))
        .map(|c| c.run)
}

/// The commands of a place, in the order of the list.
pub fn of(place: Place) -> impl Iterator<Item = &'static Command> {
    COMMANDS.iter().filter(move |c| c.place == place)
}

/// The bottom line of a place without some commands: keys and short words.
#[must_use]
pub fn bar(place: Place, without: &[Do]) -> Vec<(String, &'static str)> {
    of(place)
        .filter(|c| !c.short.is_empty() && !without.contains(&c.run))
        .filter_map(|c| Some((c.keys.first()?.to_string(), c.short)))
        .collect()
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;
    use crate::text;

    const PLACES: [&[Place]; 20] = [
        &[Home],
        &[Collection],
        &[Look],
        &[Entry, Line],
        &[Paused],
        &[EndVerdict, Line],
        &[Confirm],
        &[Clarify],
        &[Locked],
        &[Second, Line],
        &[Waiting],
        &[Review],
        &[Answer, Line],
        &[Cause],
        &[History],
        &[Habits],
        &[Filter, Line],
        &[Help],
        &[Playout, Line],
        &[After],
    ];

    #[test]
    fn every_command_has_a_key_and_words() {
        for command in COMMANDS {
            assert!(!command.keys.is_empty(), "{:?} has no key", command.run);
            assert!(!command.words.is_empty(), "{:?} has no words", command.run);
        }
    }

    #[test]
    fn no_key_is_used_twice_on_one_screen() {
        for places in PLACES {
            let mut seen = HashSet::new();
            for command in COMMANDS.iter().filter(|c| places.contains(&c.place)) {
                for key in command.keys {
                    assert!(seen.insert(*key), "{places:?} uses {key} twice");
                }
            }
        }
    }

    /// Ctrl-C, -D, -Q, -S and -Z belong to the terminal (POSIX.1-2017, chapter 11.1.9: INTR, EOF,
    /// START, STOP, SUSP).
    #[test]
    fn the_terminals_own_keys_are_left_alone() {
        for command in COMMANDS {
            for key in command.keys {
                assert!(!matches!(key, Ctrl('c' | 'd' | 'q' | 's' | 'z')), "{key}");
            }
        }
    }

    #[test]
    fn every_place_has_help_and_a_way_back() {
        for places in PLACES {
            let has = |run| {
                COMMANDS
                    .iter()
                    .any(|c| places.contains(&c.place) && c.run == run)
            };
            assert!(has(Do::Back), "{places:?}");
            assert!(has(Do::Help) || places == [Help], "{places:?}");
        }
    }

    #[test]
    fn every_bottom_line_fits_the_smallest_screen() {
        for places in PLACES {
            let bar: Vec<String> = bar(places[0], &[])
                .iter()
                .map(|(key, short)| format!("{key} {short}"))
                .collect();
            let line = bar.join("  ");
            assert!(text::width(&line) <= 80, "{line}");
        }
    }
}
