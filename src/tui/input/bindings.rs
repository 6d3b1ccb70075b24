//! Every binding with its keys and its words: keys, bottom line and help come from this one list.

use super::key::KeyPress;
use crate::tui::input::action::{
    Action, CommonAction, EditAction, GameAction, ListAction, OwnGameAction, ReviewAction,
    WritingAction,
};

/// Where a binding is valid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeyContext {
    Home,
    /// A position that is typed.
    Fen,
    /// All positions.
    Drills,
    Preview,
    Writing,
    /// Any line that is typed, in the entry and for the end verdict.
    Line,
    Paused,
    EndVerdict,
    Confirm,
    Clarify,
    Locked,
    SecondLook,
    PendingReview,
    Review,
    /// A line that is typed in answer to a review.
    Response,
    Cause,
    History,
    BlindSpots,
    Figures,
    /// Any other page that is read.
    Page,
    /// What calculation at speed comes to.
    Quick,
    /// Words that are typed to filter a list.
    Filter,
    Help,
    /// How a game is to be played.
    Terms,
    Game,
    GameAccount,
    /// All own games.
    OwnGames,
    /// An own game, gone through with his own thoughts.
    Recall,
    /// Something that is typed there.
    RecallLine,
    /// Whether his thoughts are to be final.
    RecallLock,
    /// The account of an own game.
    OwnAccount,
    /// A score sheet that is typed.
    Sheet,
    /// What makes the rest of it fit.
    SheetReadings,
    /// Which of the two players he is.
    SheetSide,
}

/// One binding: keys, what they do, and its words.
pub struct KeyBinding {
    pub context: KeyContext,
    pub action: Action,
    pub keys: &'static [KeyPress],
    /// For the help: a sentence without its full stop.
    pub words: &'static str,
    /// For the bottom line: one or two words; empty for what stands in the help only.
    pub short: &'static str,
}

const fn c(
    context: KeyContext,
    action: Action,
    keys: &'static [KeyPress],
    short: &'static str,
    words: &'static str,
) -> KeyBinding {
    KeyBinding {
        context,
        action,
        keys,
        words,
        short,
    }
}

use KeyContext::{
    BlindSpots, Cause, Clarify, Confirm, Drills, EndVerdict, Fen, Figures, Filter, Game,
    GameAccount, Help, History, Home, Line, Locked, OwnAccount, OwnGames, Page, Paused,
    PendingReview, Preview, Quick, Recall, RecallLine, RecallLock, Response, Review, SecondLook,
    Sheet, SheetReadings, SheetSide, Terms, Writing,
};
use KeyPress::{Char, Ctrl, F};

const HELP: &[KeyPress] = &[F(1), Char('?')];
const DIGITS: &[KeyPress] = &[
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
const BACK: &[KeyPress] = &[KeyPress::Esc, Char('q')];

/// The list. The bottom line shows the bindings in this order.
#[rustfmt::skip]
pub const KEY_BINDINGS: &[KeyBinding] = &[
    c(Home, Action::Common(CommonAction::Open), &[KeyPress::Enter], "open", "open what is marked"),
    c(Home, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "mark the entry above"),
    c(Home, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "mark the entry below"),
    c(Home, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(Home, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "", "a page down"),
    c(Home, Action::List(ListAction::Fitting), &[Char('n')], "now", "the first of the positions that fit the minutes you have"),
    c(Home, Action::List(ListAction::More), &[Char('+')], "", "five minutes more at hand"),
    c(Home, Action::List(ListAction::Less), &[Char('-')], "", "five minutes less at hand"),
    c(Home, Action::List(ListAction::Quick), &[Char('k')], "", "quick calculation: the next position, under a clock that follows what you have solved"),
    c(Home, Action::List(ListAction::Drills), &[Char('c')], "collection", "all positions, with filters"),
    c(Home, Action::List(ListAction::History), &[Char('h')], "history", "all attempts so far"),
    c(Home, Action::List(ListAction::Eve), &[Char('e')], "", "the eve of a game: three positions you have solved, two habits in words, nothing new; + or - brings the others back"),
    c(Home, Action::List(ListAction::Figures), &[Char('g')], "figures", "what all your attempts say together"),
    c(Home, Action::List(ListAction::Speed), &[Char('s')], "", "what quick calculation comes to: the clock of each ladder, and what speed costs"),
    c(Home, Action::List(ListAction::OwnGames), &[Char('o')], "games", "your own games: what you think of each, and what it was"),
    c(Home, Action::List(ListAction::Position), &[Char('p')], "", "a position of your own, as FEN"),
    c(Home, Action::List(ListAction::PutAside), &[Char('d')], "", "put the marked unfinished sitting aside; it is kept, but no longer offered"),
    c(Home, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Home, Action::Common(CommonAction::Back), &[Char('q')], "quit", "leave the program; everything is kept"),

    c(Fen, Action::Common(CommonAction::Open), &[KeyPress::Enter], "open", "open the position"),
    c(Fen, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(Fen, Action::Common(CommonAction::Back), &[KeyPress::Esc], "back", "back; what is typed is dropped"),

    c(Drills, Action::Common(CommonAction::Open), &[KeyPress::Enter], "open", "open the marked position"),
    c(Drills, Action::Common(CommonAction::Pick), &[Char('1'), Char('2'), Char('3'), Char('4'), Char('5')], "", "turn one of the five filters: task, part of the game, men on the board, tried or not, whose move"),
    c(Drills, Action::List(ListAction::ClearFilters), &[Char('0')], "all", "all filters off"),
    c(Drills, Action::List(ListAction::Fitting), &[Char('n')], "next new", "to the next position that you have not tried"),
    c(Drills, Action::Game(GameAction::PlayOut), &[Char('x')], "play out", "play the marked position out against the engine; your side, his level and the clock are asked"),
    c(Drills, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "mark the position above"),
    c(Drills, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "mark the position below"),
    c(Drills, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(Drills, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "", "a page down"),
    c(Drills, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Drills, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(Preview, Action::Common(CommonAction::Open), &[KeyPress::Enter], "start", "start to write; the clock runs from here"),
    c(Preview, Action::List(ListAction::More), &[Char('+')], "more time", "five minutes more to think"),
    c(Preview, Action::List(ListAction::Less), &[Char('-')], "", "five minutes less; below five there is no limit"),
    c(Preview, Action::Common(CommonAction::Flip), &[Char('f')], "flip", "turn the board round"),
    c(Preview, Action::Common(CommonAction::Coordinates), &[Char('c')], "", "letters and numbers at the edge of the board, or not"),
    c(Preview, Action::Common(CommonAction::Letters), &[Char('l')], "", "letters or figures for the men"),
    c(Preview, Action::Writing(WritingAction::Sight), &[Char('s')], "sight", "what you will see of the board while you write: it stays, it follows what you write, or it is hidden"),
    c(Preview, Action::Writing(WritingAction::Hide), &[Char('x')], "hide", "hide the board, or show it again"),
    c(Preview, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Preview, Action::Common(CommonAction::Back), BACK, "leave", "leave; nothing is lost"),

    c(Writing, Action::Writing(WritingAction::Choose), &[F(10), Ctrl('g')], "choose", "choose the candidate the cursor is in, and go on to lock the tree"),
    c(Writing, Action::Common(CommonAction::Open), &[KeyPress::Enter], "write", "write the line below the cursor; an empty line goes back to where the tree last branched, else to the position"),
    c(Writing, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "to the row above in the tree"),
    c(Writing, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "to the row below in the tree"),
    c(Writing, Action::Writing(WritingAction::NextCandidate), &[KeyPress::Tab], "candidate", "to the next candidate"),
    c(Writing, Action::Writing(WritingAction::PreviousCandidate), &[KeyPress::BackTab], "", "to the candidate before"),
    c(Writing, Action::Writing(WritingAction::Candidates), &[F(2)], "", "show the candidates alone, or the whole tree"),
    c(Writing, Action::Common(CommonAction::Flip), &[F(3)], "", "turn the board round"),
    c(Writing, Action::Writing(WritingAction::Strike), &[F(4)], "strike", "strike the move under the cursor out, or let it stand again; it stays readable"),
    c(Writing, Action::Writing(WritingAction::Earlier), &[F(5), KeyPress::ShiftUp], "", "move it up among its alternatives"),
    c(Writing, Action::Writing(WritingAction::Later), &[F(6), KeyPress::ShiftDown], "", "move it down among its alternatives"),
    c(Writing, Action::Writing(WritingAction::Take), &[F(7)], "", "take the move under the cursor with all below it; F7 again puts it behind the move where the cursor then is"),
    c(Writing, Action::Writing(WritingAction::Undo), &[F(8)], "undo", "take the last line back, or the last change"),
    c(Writing, Action::Writing(WritingAction::Redo), &[F(9)], "", "bring back what was taken back"),
    c(Writing, Action::Writing(WritingAction::Fold), &[Char(' ')], "", "on an empty line: fold what stands below the move, or unfold it"),
    c(Writing, Action::Writing(WritingAction::Only), &[Ctrl('o')], "", "mark the move as a candidate only: no line belongs to it, on purpose"),
    c(Writing, Action::Writing(WritingAction::Same), &[Ctrl('t')], "", "take the move under the cursor; Ctrl-T again on another says that both lead to the same position"),
    c(Writing, Action::Writing(WritingAction::Note), &[Ctrl('r')], "", "put the words on the move into the line, to change them"),
    c(Writing, Action::Writing(WritingAction::Correct), &[Ctrl('f')], "", "put the move under the cursor into the line, to correct it; what stands below it stays"),
    c(Writing, Action::Writing(WritingAction::Pause), &[Ctrl('x')], "", "stop the clock; board and tree are hidden until you go on"),
    c(Writing, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(Writing, Action::Common(CommonAction::Back), &[KeyPress::Esc], "leave", "empty the line; on an empty line leave: everything is kept, and the sitting can be taken up again"),

    c(Line, Action::Edit(EditAction::Left), &[KeyPress::Left], "", "one character left; on an empty line one move back"),
    c(Line, Action::Edit(EditAction::Right), &[KeyPress::Right], "", "one character right; on an empty line one move on"),
    c(Line, Action::Edit(EditAction::Start), &[KeyPress::Home, Ctrl('a')], "", "to the start of the line"),
    c(Line, Action::Edit(EditAction::End), &[KeyPress::End, Ctrl('e')], "", "to the end of the line"),
    c(Line, Action::Edit(EditAction::DeleteBack), &[KeyPress::Backspace, Ctrl('h')], "", "delete the character before the cursor"),
    c(Line, Action::Edit(EditAction::DeleteHere), &[KeyPress::Delete], "", "delete the character under the cursor"),
    c(Line, Action::Edit(EditAction::CutToEnd), &[Ctrl('k')], "", "delete to the end of the line"),
    c(Line, Action::Edit(EditAction::CutToStart), &[Ctrl('u')], "", "delete to the start of the line"),
    c(Line, Action::Edit(EditAction::CutWord), &[Ctrl('w')], "", "delete the word before the cursor"),
    c(Line, Action::Edit(EditAction::Older), &[Ctrl('p')], "", "the line typed before"),
    c(Line, Action::Edit(EditAction::Newer), &[Ctrl('n')], "", "the line typed after it"),

    c(Paused, Action::Common(CommonAction::Open), &[KeyPress::Enter], "go on", "go on; the clock runs again"),
    c(Paused, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Paused, Action::Common(CommonAction::Back), BACK, "leave", "leave; everything is kept"),

    c(EndVerdict, Action::Common(CommonAction::Open), &[KeyPress::Enter], "go on", "go on; an empty line leaves the verdict open"),
    c(EndVerdict, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(EndVerdict, Action::Common(CommonAction::Back), &[KeyPress::Esc], "back", "back to the tree"),

    c(Confirm, Action::Writing(WritingAction::Yes), &[Char('y')], "lock", "lock the tree: it is final from then on"),
    c(Confirm, Action::Writing(WritingAction::No), &[Char('n')], "write one more reply", "write on below the choice"),
    c(Confirm, Action::Writing(WritingAction::EndCard), &[Char('e')], "end card", "say who moves at the end of the choice's line, how the material stands there, and your plan"),
    c(Confirm, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "scroll the tree up"),
    c(Confirm, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "scroll the tree down"),
    c(Confirm, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(Confirm, Action::Common(CommonAction::Back), &[KeyPress::Esc], "back", "back to where the cursor was"),

    c(Clarify, Action::Common(CommonAction::Pick), DIGITS, "answer", "the move with this number"),
    c(Clarify, Action::Writing(WritingAction::LeaveOpen), &[Char('s')], "leave open", "leave it open: the move is not judged"),
    c(Clarify, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Clarify, Action::Common(CommonAction::Back), &[KeyPress::Esc], "later", "leave; it is asked again before the review"),

    c(Locked, Action::Common(CommonAction::Open), &[KeyPress::Enter], "see the review", "compare the tree with the truth"),
    c(Locked, Action::Writing(WritingAction::SecondLook), &[Char('2')], "look again", "two minutes to write what you see now, apart from the tree, before the review"),
    c(Locked, Action::Common(CommonAction::ForCoach), &[Char('c')], "coach first", "leave the tree to your coach before you see the review"),
    c(Locked, Action::Common(CommonAction::Back), &[Char('l'), KeyPress::Esc], "later", "leave; the review waits in the history"),
    c(Locked, Action::Common(CommonAction::Help), HELP, "help", "this help"),

    c(SecondLook, Action::Common(CommonAction::Open), &[KeyPress::Enter], "keep", "keep what is typed; on an empty line the second look is over"),
    c(SecondLook, Action::Common(CommonAction::Flip), &[F(3)], "flip", "turn the board round"),
    c(SecondLook, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(SecondLook, Action::Common(CommonAction::Back), &[KeyPress::Esc], "over", "the second look is over"),

    c(PendingReview, Action::Common(CommonAction::Again), &[Char('r')], "try again", "try once more after a failure"),
    c(PendingReview, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(PendingReview, Action::Common(CommonAction::Back), BACK, "leave", "leave; the review goes on and waits in the history"),

    c(Review, Action::Review(ReviewAction::NextFinding), &[Char('n')], "next", "to the next stop: what your coach said, the findings, the end of your line, what is worth knowing, what could not be judged"),
    c(Review, Action::Review(ReviewAction::PreviousFinding), &[Char('p')], "", "to the stop before"),
    c(Review, Action::Review(ReviewAction::Backward), &[KeyPress::Left], "", "one half-move back on the board, or in the tree"),
    c(Review, Action::Review(ReviewAction::Forward), &[KeyPress::Right], "", "one half-move on"),
    c(Review, Action::Review(ReviewAction::Swap), &[Char(' ')], "swap", "step through your line, or through the true one"),
    c(Review, Action::Review(ReviewAction::Numbers), &[Char('e')], "", "expected scores, or not"),
    c(Review, Action::Review(ReviewAction::Tree), &[Char('t')], "tree", "your tree, and of the move the cursor is on: your verdict, the truth, what was missed there; at the position your candidates side by side"),
    c(Review, Action::Review(ReviewAction::Figures), &[Char('g')], "figures", "depth, coverage, focus and your time as small pictures"),
    c(Review, Action::Review(ReviewAction::Why), &[Char('w')], "why", "say why you missed it; your causes are counted later"),
    c(Review, Action::Review(ReviewAction::Doubt), &[Char('a')], "against", "'I do not believe it': write a line against the review; it is answered by a line"),
    c(Review, Action::Review(ReviewAction::Remark), &[Char('m')], "", "a note of yours on the finding"),
    c(Review, Action::Review(ReviewAction::Contest), &[Char('k')], "", "do not let the finding stand before your coach, or let it stand again"),
    c(Review, Action::Review(ReviewAction::CoachStrikes), &[Char('K')], "", "your coach strikes the finding: his name and why; it then counts nowhere; once more, and it stands again"),
    c(Review, Action::Review(ReviewAction::HisSide), &[Char('o')], "", "see the board from the opponent's side, and his plan as a line"),
    c(Review, Action::Review(ReviewAction::Solution), &[Char('s')], "", "where the position comes from, its published solution, and whether the judge agrees"),
    c(Review, Action::Common(CommonAction::Again), &[Char('r')], "", "where the engine has failed: try the rest of the review once more"),
    c(Review, Action::Game(GameAction::PlayOut), &[Char('x')], "", "play the position out against the engine; your side, his level and the clock are asked"),
    c(Review, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "scroll up; in the tree to the row above, from the first row to the position"),
    c(Review, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "scroll down; in the tree to the row below"),
    c(Review, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "scroll a page up, below the tree as well"),
    c(Review, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "", "scroll a page down, below the tree as well"),
    c(Review, Action::Writing(WritingAction::NextCandidate), &[KeyPress::Tab], "", "in the tree: to the next candidate"),
    c(Review, Action::Writing(WritingAction::PreviousCandidate), &[KeyPress::BackTab], "", "in the tree: to the candidate before"),
    c(Review, Action::Common(CommonAction::Flip), &[Char('f')], "", "turn the board round"),
    c(Review, Action::Common(CommonAction::Letters), &[Char('l')], "", "letters or figures for the men"),
    c(Review, Action::Common(CommonAction::Coordinates), &[Char('c')], "", "letters and numbers at the edge of the board, or not"),
    c(Review, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Review, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(Response, Action::Common(CommonAction::Open), &[KeyPress::Enter], "keep", "keep what is typed"),
    c(Response, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(Response, Action::Common(CommonAction::Back), &[KeyPress::Esc], "back", "back; what is typed is dropped"),

    c(Cause, Action::Common(CommonAction::Pick), DIGITS, "cause", "the cause with this number"),
    c(Cause, Action::Review(ReviewAction::OwnWords), &[Char('0')], "another", "another cause, in your own words; it joins your list"),
    c(Cause, Action::Review(ReviewAction::Remove), &[Char('d')], "off the list", "then a number: that cause goes from your list; attempts that you explained with it keep it"),
    c(Cause, Action::Review(ReviewAction::Reword), &[Char('e')], "reword", "then a number: other words for that cause on your list"),
    c(Cause, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "scroll up"),
    c(Cause, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "scroll down"),
    c(Cause, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Cause, Action::Common(CommonAction::Back), &[KeyPress::Esc], "back", "back"),

    c(History, Action::Common(CommonAction::Open), &[KeyPress::Enter], "open", "open the review of the marked attempt"),
    c(History, Action::List(ListAction::Filter), &[Char('/')], "filter", "show only the attempts that hold the words you type: a date, a move, white or black, late or over (time), a kind of finding, clean, unreviewed"),
    c(History, Action::Common(CommonAction::Again), &[Char('t')], "again", "the same position once more, as a new sitting"),
    c(History, Action::Common(CommonAction::ForCoach), &[Char('c')], "coach", "write the marked attempt, without its review, to a file for your coach"),
    c(History, Action::List(ListAction::BlindSpots), &[Char('b')], "habits", "what you miss more often than your other moves, and the moments it is made of"),
    c(History, Action::List(ListAction::Figures), &[Char('g')], "figures", "what all your attempts say together"),
    c(History, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "mark the attempt above"),
    c(History, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "mark the attempt below"),
    c(History, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(History, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "", "a page down"),
    c(History, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(History, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(BlindSpots, Action::Common(CommonAction::Open), &[KeyPress::Enter], "open", "open the marked moment in its review"),
    c(BlindSpots, Action::List(ListAction::Figures), &[Char('g')], "figures", "all figures of all attempts"),
    c(BlindSpots, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "mark the row above"),
    c(BlindSpots, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "mark the row below"),
    c(BlindSpots, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(BlindSpots, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "", "a page down"),
    c(BlindSpots, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(BlindSpots, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(Figures, Action::List(ListAction::Method), &[Char('m')], "method", "how each figure is made, and what would make it wrong; again: the figures"),
    c(Figures, Action::List(ListAction::Speed), &[Char('s')], "speed", "what quick calculation comes to: the clock of each ladder, and what speed costs"),
    c(Figures, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "scroll up"),
    c(Figures, Action::Common(CommonAction::Down), &[KeyPress::Down], "scroll", "scroll down"),
    c(Figures, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(Figures, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown, Char(' ')], "page", "a page down"),
    c(Figures, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Figures, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(Page, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "scroll up"),
    c(Page, Action::Common(CommonAction::Down), &[KeyPress::Down], "scroll", "scroll down"),
    c(Page, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(Page, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown, Char(' ')], "page", "a page down"),
    c(Page, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Page, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(Quick, Action::List(ListAction::Quick), &[KeyPress::Enter, Char('k')], "next", "the next position of your ladder, under its clock"),
    c(Quick, Action::Common(CommonAction::Pick), &[Char('1'), Char('2'), Char('3'), Char('4')], "to 4 by ladder", "the next position of the ladder of that number"),
    c(Quick, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "scroll up"),
    c(Quick, Action::Common(CommonAction::Down), &[KeyPress::Down], "scroll", "scroll down"),
    c(Quick, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(Quick, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown, Char(' ')], "page", "a page down"),
    c(Quick, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Quick, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(Terms, Action::Common(CommonAction::Open), &[KeyPress::Enter], "begin", "begin the game"),
    c(Terms, Action::Game(GameAction::Side), &[Char('s')], "side", "your side: White or Black"),
    c(Terms, Action::List(ListAction::More), &[Char('+')], "stronger", "a stronger opponent"),
    c(Terms, Action::List(ListAction::Less), &[Char('-')], "weaker", "a weaker opponent"),
    c(Terms, Action::Game(GameAction::Clock), &[Char('c')], "clock", "the clock: none, or from 3 to 30 minutes with seconds for each move"),
    c(Terms, Action::Common(CommonAction::Flip), &[Char('f')], "", "turn the board round"),
    c(Terms, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Terms, Action::Common(CommonAction::Back), BACK, "back", "back; nothing is kept"),

    c(Game, Action::Game(GameAction::WriteFirst), &[F(2)], "write", "write candidates and lines before your move; an empty line ends it"),
    c(Game, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "while you write: to the row above"),
    c(Game, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "while you write: to the row below"),
    c(Game, Action::Writing(WritingAction::NextCandidate), &[KeyPress::Tab], "", "while you write: to the next candidate"),
    c(Game, Action::Writing(WritingAction::Strike), &[F(4)], "", "while you write: strike the move out, or let it stand again"),
    c(Game, Action::Writing(WritingAction::PreviousCandidate), &[KeyPress::BackTab], "", "while you write: to the candidate before"),
    c(Game, Action::Writing(WritingAction::Undo), &[F(8)], "", "while you write: take the last line back"),
    c(Game, Action::Writing(WritingAction::Redo), &[F(9)], "", "while you write: bring back what was taken back"),
    c(Game, Action::Writing(WritingAction::Only), &[Ctrl('o')], "", "while you write: mark the move as a candidate only, without a line on purpose"),
    c(Game, Action::Writing(WritingAction::Note), &[Ctrl('r')], "", "while you write: put the words on the move into the line, to change them"),
    c(Game, Action::Writing(WritingAction::Correct), &[Ctrl('f')], "", "while you write: put the move under the cursor into the line, to correct it"),
    c(Game, Action::Common(CommonAction::Flip), &[F(5)], "flip", "turn the board round"),
    c(Game, Action::Common(CommonAction::Back), &[KeyPress::Esc], "adjourn", "adjourn; the clock stands and the game is kept"),
    c(Game, Action::Common(CommonAction::Help), &[F(1)], "help", "this help; typed words: plan WORDS, draw, claim, resign"),

    c(GameAccount, Action::Review(ReviewAction::NextFinding), &[Char('n'), KeyPress::Down], "next", "the next decision that cost"),
    c(GameAccount, Action::Review(ReviewAction::PreviousFinding), &[Char('p'), KeyPress::Up], "previous", "the decision before"),
    c(GameAccount, Action::Review(ReviewAction::Figures), &[Char('g')], "whole", "the whole account as one page: every move, drifts, simpler ways, your plans; or the decisions again"),
    c(GameAccount, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "scroll up"),
    c(GameAccount, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "scroll", "scroll down"),
    c(GameAccount, Action::Common(CommonAction::Again), &[Char('t')], "try again", "play on from the marked decision, as a new game"),
    c(GameAccount, Action::Common(CommonAction::Flip), &[Char('f')], "flip", "turn the board round"),
    c(GameAccount, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(GameAccount, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(OwnGames, Action::Common(CommonAction::Open), &[KeyPress::Enter], "open", "open the marked game: your own thoughts first, as long as they are not locked and no engine has spoken; then its account"),
    c(OwnGames, Action::OwnGame(OwnGameAction::Thoughts), &[Char('t')], "thoughts", "what you yourself think decided the game: to be written, or, once locked, beside what did"),
    c(OwnGames, Action::OwnGame(OwnGameAction::Account), &[Char('a')], "", "the account of the game: win, draw and loss, time, moments, what was hard, what slipped"),
    c(OwnGames, Action::OwnGame(OwnGameAction::Event), &[Char('e')], "event", "the event of the game: its rounds, what runs through them, what you took away"),
    c(OwnGames, Action::OwnGame(OwnGameAction::Opponent), &[Char('o')], "opponent", "what the games that you have of this opponent say, as counts"),
    c(OwnGames, Action::OwnGame(OwnGameAction::TakeAway), &[Char('w')], "", "write what you take away from the event of the game; the eve of a game and the next event show it"),
    c(OwnGames, Action::OwnGame(OwnGameAction::Sheet), &[Char('s')], "sheet", "type a score sheet from paper, or go on with the one that was begun"),
    c(OwnGames, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "mark the game above"),
    c(OwnGames, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "mark the game below"),
    c(OwnGames, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(OwnGames, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "", "a page down"),
    c(OwnGames, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(OwnGames, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(OwnAccount, Action::Review(ReviewAction::NextFinding), &[Char('n'), KeyPress::Down], "next", "the next move of which something is said"),
    c(OwnAccount, Action::Review(ReviewAction::PreviousFinding), &[Char('p'), KeyPress::Up], "previous", "the one before"),
    c(OwnAccount, Action::Review(ReviewAction::Backward), &[KeyPress::Left], "", "one half-move back"),
    c(OwnAccount, Action::Review(ReviewAction::Forward), &[KeyPress::Right], "", "one half-move on"),
    c(OwnAccount, Action::Review(ReviewAction::Figures), &[Char('g')], "whole", "the whole account as one page: course, time, openings, preparation; or the board again"),
    c(OwnAccount, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "scroll up"),
    c(OwnAccount, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "scroll", "scroll down"),
    c(OwnAccount, Action::Common(CommonAction::Flip), &[Char('f')], "flip", "turn the board round"),
    c(OwnAccount, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(OwnAccount, Action::Common(CommonAction::Back), BACK, "back", "back"),

    c(Recall, Action::OwnGame(OwnGameAction::Mark), &[Char('m')], "mark", "mark the position as a moment that decided the game, or take the mark away; it must be your move"),
    c(Recall, Action::OwnGame(OwnGameAction::Saw), &[Char('w')], "what you saw", "write what you saw there: candidates and lines, as in every sitting"),
    c(Recall, Action::OwnGame(OwnGameAction::Felt), &[Char('v')], "felt", "how you felt about the position: a verdict, or your expected score"),
    c(Recall, Action::OwnGame(OwnGameAction::Feared), &[Char('a')], "afraid", "what you were afraid of there"),
    c(Recall, Action::OwnGame(OwnGameAction::Sentence), &[Char('s')], "sentence", "one sentence on the game"),
    c(Recall, Action::OwnGame(OwnGameAction::Backward), &[KeyPress::Left], "", "one half-move back"),
    c(Recall, Action::OwnGame(OwnGameAction::Forward), &[KeyPress::Right], "", "one half-move on"),
    c(Recall, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "one move back"),
    c(Recall, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "one move on"),
    c(Recall, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "ten moves back"),
    c(Recall, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "", "ten moves on"),
    c(Recall, Action::Common(CommonAction::Flip), &[Char('f')], "", "turn the board round"),
    c(Recall, Action::OwnGame(OwnGameAction::Lock), &[Char('l')], "lock", "make your thoughts final; then the engine speaks of the game"),
    c(Recall, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(Recall, Action::Common(CommonAction::Back), BACK, "back", "back; everything is kept"),

    c(RecallLine, Action::Common(CommonAction::Open), &[KeyPress::Enter], "keep", "keep what is typed; an empty line takes it back"),
    c(RecallLine, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(RecallLine, Action::Common(CommonAction::Back), &[KeyPress::Esc], "back", "back; what is typed is dropped"),

    c(RecallLock, Action::Writing(WritingAction::Yes), &[Char('y')], "lock", "lock your thoughts: they are final from then on"),
    c(RecallLock, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(RecallLock, Action::Common(CommonAction::Back), BACK, "not yet", "back to the game"),

    c(Sheet, Action::Common(CommonAction::Open), &[KeyPress::Enter], "write", "write the line: moves as they stand on the sheet, a time behind its move, a result, or a line of the head ('White: Verrick, Ansa'); an empty line goes back to where the sheet goes on"),
    c(Sheet, Action::OwnGame(OwnGameAction::Readings), &[F(2)], "readings", "what makes the rest of the sheet fit, the likeliest first"),
    c(Sheet, Action::OwnGame(OwnGameAction::TakeOut), &[F(4)], "take out", "take the move under the cursor off the sheet, or the last one"),
    c(Sheet, Action::OwnGame(OwnGameAction::AsFar), &[F(5)], "", "end the sheet where it stops to fit"),
    c(Sheet, Action::OwnGame(OwnGameAction::PutAway), &[F(8)], "", "put an empty sheet away"),
    c(Sheet, Action::OwnGame(OwnGameAction::Done), &[F(10)], "done", "add the game to your own games"),
    c(Sheet, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "one move back on the sheet; what is typed there takes the place of what stands there"),
    c(Sheet, Action::Common(CommonAction::Down), &[KeyPress::Down], "", "one move on"),
    c(Sheet, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "ten moves back"),
    c(Sheet, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown], "", "ten moves on"),
    c(Sheet, Action::Common(CommonAction::Flip), &[F(3)], "", "turn the board round"),
    c(Sheet, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(Sheet, Action::Common(CommonAction::Back), &[KeyPress::Esc], "leave", "empty the line; on an empty line leave: every key is kept"),

    c(SheetReadings, Action::Common(CommonAction::Pick), DIGITS, "", "take the reading of that number"),
    c(SheetReadings, Action::Common(CommonAction::Open), &[KeyPress::Enter], "take", "take the marked reading: it stands in the place of what is written"),
    c(SheetReadings, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "mark the reading above"),
    c(SheetReadings, Action::Common(CommonAction::Down), &[KeyPress::Down], "next", "mark the reading below"),
    c(SheetReadings, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(SheetReadings, Action::Common(CommonAction::Back), BACK, "back", "back to the sheet"),

    c(SheetSide, Action::OwnGame(OwnGameAction::AsWhite), &[Char('w')], "White", "you played White"),
    c(SheetSide, Action::OwnGame(OwnGameAction::AsBlack), &[Char('b')], "Black", "you played Black"),
    c(SheetSide, Action::Common(CommonAction::Help), HELP, "help", "this help"),
    c(SheetSide, Action::Common(CommonAction::Back), BACK, "back", "back to the sheet"),

    c(Filter, Action::Common(CommonAction::Open), &[KeyPress::Enter], "show", "keep the filter"),
    c(Filter, Action::Common(CommonAction::Help), &[F(1)], "help", "this help"),
    c(Filter, Action::Common(CommonAction::Back), &[KeyPress::Esc], "all", "show all again"),

    c(Help, Action::Common(CommonAction::Up), &[KeyPress::Up], "", "scroll up"),
    c(Help, Action::Common(CommonAction::Down), &[KeyPress::Down], "scroll", "scroll down"),
    c(Help, Action::Common(CommonAction::PageUp), &[KeyPress::PageUp], "", "a page up"),
    c(Help, Action::Common(CommonAction::PageDown), &[KeyPress::PageDown, Char(' ')], "page", "a page down"),
    c(Help, Action::Common(CommonAction::Tour), &[Char('t')], "tour", "the tour of one minute, on a real position; F12 ends it"),
    c(Help, Action::Common(CommonAction::Back), &[KeyPress::Esc, Char('q'), F(1), Char('?'), KeyPress::Enter], "back", "back"),
];

/// What a key does in a context; several where lines are typed.
#[must_use]
pub fn find(contexts: &[KeyContext], key: KeyPress) -> Option<Action> {
    KEY_BINDINGS
        .iter()
        .find(|c| contexts.contains(&c.context) && c.keys.contains(&key))
        .map(|c| c.action)
}

/// The bindings of a context, in the order of the list.
pub fn of(context: KeyContext) -> impl Iterator<Item = &'static KeyBinding> {
    KEY_BINDINGS.iter().filter(move |c| c.context == context)
}

/// The bottom line of a context without some actions: keys and short words.
#[must_use]
pub fn bar(context: KeyContext, without: &[Action]) -> Vec<(String, &'static str)> {
    of(context)
        .filter(|c| !c.short.is_empty() && !without.contains(&c.action))
        .filter_map(|c| {
            Some((
                c.keys.first()?.to_string(),
                crate::translation::text(c.short),
            ))
        })
        .collect()
}

#[cfg(test)]
#[path = "bindings_tests.rs"]
mod tests;
