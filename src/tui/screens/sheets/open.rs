//! The sheet while it is typed, as it is drawn.

use super::reading::SheetReading;
use crate::games::sheet::SheetDraft;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::list::ListView;

/// The sheet and what is done with it.
pub(super) struct OpenSheet {
    pub(super) draft: SheetDraft,
    pub(super) line: LineEditor,
    /// The entry that is typed next, or typed anew; behind the last one it is new.
    pub(super) at: usize,
    pub(super) reading: SheetReading,
    pub(super) look: BoardAppearance,
    pub(super) doing: Doing,
    pub(super) notice: Option<Notice>,
}

pub(super) enum Doing {
    Typing,
    /// One of the readings is chosen.
    Choosing(ListView),
    /// Nobody knows yet which of the two he is.
    AskingSide,
}

impl OpenSheet {
    /// A value of the head.
    pub(super) fn tag(&self, name: &str) -> Option<&str> {
        let found = self.draft.tags.iter().find(|(n, _)| n == name);
        found.map(|(_, value)| value.as_str())
    }
}
