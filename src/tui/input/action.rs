//! What keys and typed words do, whatever screen they work on.

/// What a command does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
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
    Edit(EditAction),
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
