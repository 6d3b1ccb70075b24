//! What keys and typed words do, whatever screen they work on.

/// What a binding triggers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    Common(CommonAction),
    List(ListAction),
    Edit(EditAction),
    Writing(WritingAction),
    Review(ReviewAction),
    Game(GameAction),
    OwnGame(OwnGameAction),
}

/// What means the same on many screens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CommonAction {
    Help,
    Back,
    Open,
    Up,
    Down,
    PageUp,
    PageDown,
    Flip,
    Coordinates,
    Letters,
    /// The one with the pressed digit's number.
    Pick,
    Again,
    ForCoach,
    /// The tour of one minute.
    Tour,
}

/// What is done in lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListAction {
    PutAside,
    History,
    Drills,
    /// All filters off.
    ClearFilters,
    /// What many attempts say.
    BlindSpots,
    Filter,
    Fitting,
    More,
    Less,
    /// The eve of a game.
    Eve,
    /// What all attempts say together.
    Figures,
    /// What calculation at speed comes to.
    Speed,
    /// How each figure is made.
    Method,
    /// A position of his own.
    Position,
    /// His own games.
    OwnGames,
    /// The next position at speed.
    Quick,
}

/// What is done to an attempt up to its lock, and directly behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WritingAction {
    Hide,
    Sight,
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
    /// Another text for the move under the cursor.
    Correct,
    Fold,
    Pause,
    Leave,
    EndCard,
    Choose,
    Yes,
    No,
    LeaveOpen,
    SecondLook,
}

/// What is done in a review, and in the account of a game.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReviewAction {
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
}

/// What is done with a game against the engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GameAction {
    /// Candidates and lines before the move of a game.
    WriteFirst,
    /// The position against the engine.
    PlayOut,
    /// Whose side is his.
    Side,
    /// The clock of the game.
    Clock,
}

/// What is done with an own game.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OwnGameAction {
    /// His own thoughts on it.
    Thoughts,
    /// Its account.
    Account,
    /// The event it belongs to.
    Event,
    /// What the games of its opponent say.
    Opponent,
    /// What he takes away from its event.
    TakeAway,
    Backward,
    Forward,
    /// A moment that decided it, or none again.
    Mark,
    /// What he saw there, how he felt, what he feared.
    Saw,
    Felt,
    Feared,
    /// One sentence on the game.
    Sentence,
    Lock,
    /// A score sheet typed from paper.
    Sheet,
    /// What makes the rest of the sheet fit.
    Readings,
    /// A move goes from the sheet.
    TakeOut,
    /// The sheet ends where it stops to fit.
    AsFar,
    /// The game of the sheet goes to his own.
    Done,
    PutAway,
    AsWhite,
    AsBlack,
}

/// An editing step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EditAction {
    Left,
    Right,
    Start,
    End,
    DeleteBack,
    DeleteHere,
    CutToEnd,
    CutToStart,
    CutWord,
    Older,
    Newer,
}
