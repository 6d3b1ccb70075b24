//! A score sheet that is typed on the screens: kept as he types, added to his games when it is done.

use crate::app::AppError;
use crate::app::games::service::{GameService, Whose};
use crate::games::Added;
use crate::games::sheet::{SheetDraft, SheetLine};

/// There is one sheet at a time.
const NOW: &str = "now";

impl GameService {
    /// The sheet that was begun, with the line that was being typed; `None` where there is none.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn begun_sheet(&self) -> Result<Option<(SheetDraft, String)>, AppError> {
        let store = self.repository.store();
        let draft: Option<SheetDraft> = store.get(NOW)?;
        let line: Option<SheetLine> = store.get(NOW)?;
        let line = line.map_or_else(String::new, |l| l.text);
        Ok(match (draft, line.is_empty()) {
            (None, true) => None,
            (draft, _) => Some((draft.unwrap_or_default(), line)),
        })
    }

    /// Keeps the sheet.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn keep_sheet(&self, draft: &SheetDraft) -> Result<(), AppError> {
        self.repository.put(NOW, draft)
    }

    /// Keeps the line that is being typed.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn keep_sheet_line(&self, text: &str) -> Result<(), AppError> {
        let text = text.to_owned();
        self.repository.put(NOW, &SheetLine { text })
    }

    /// Puts the sheet away.
    ///
    /// # Errors
    /// The store cannot be used.
    pub fn drop_sheet(&self) -> Result<(), AppError> {
        self.repository.store().remove::<SheetDraft>(NOW)?;
        self.repository.store().remove::<SheetLine>(NOW)?;
        Ok(())
    }

    /// Adds the game of a sheet, given as PGN, to his games; then the sheet is put away. `player` is his name where the store knows none.
    ///
    /// # Errors
    /// He is not one of the two, or it could not be kept; the sheet stays.
    pub fn add_sheet(&self, pgn: &str, player: Option<String>) -> Result<Added, AppError> {
        let whose = Whose {
            player,
            ..Whose::default()
        };
        let added = self.add_games(pgn.as_bytes(), &whose, &mut |_| None, &mut |_| {})?;
        if added.new + added.better + added.known == 0 {
            return Err(AppError::NotOnSheet);
        }
        self.drop_sheet()?;
        Ok(added)
    }
}
