//! The open store: checked, backed up, closed.

use std::path::Path;
use std::sync::Arc;

use crate::app::attempts::repository::AttemptRepository;
use crate::app::{AppError, Clock};
use crate::store::{BackedUp, SetAside};

/// Keeps the store sound, backs it up, and closes it.
#[derive(Clone)]
pub struct MaintenanceService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) clock: Arc<dyn Clock>,
}

impl MaintenanceService {
    /// Writes everything that is kept, whatever room has written it, to one file that checks itself.
    ///
    /// # Errors
    /// Something else stands under that name, or it could not be written.
    pub fn backup(&self, file: &Path) -> Result<BackedUp, AppError> {
        Ok(self.repository.store().backup(file)?)
    }

    /// What could not be read so far and was passed over; a handle that outlives the application.
    #[must_use]
    pub fn set_aside(&self) -> SetAside {
        self.repository.store().set_aside().clone()
    }

    /// The program ends: what is kept is closed, whoever still works on it.
    pub fn leave(&self) {
        self.repository.save_index();
        self.repository.store().leave();
    }

    /// Looks at everything that is kept, unless opening has done so. For when there is time.
    ///
    /// # Errors
    /// Something is damaged; the next start mends it.
    pub fn check_store(&self) -> Result<(), AppError> {
        Ok(self.repository.store().check()?)
    }
}
