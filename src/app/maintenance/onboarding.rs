//! Whether the tour of the screens was shown.

use serde::{Deserialize, Serialize};

use crate::app::AppError;
use crate::app::maintenance::service::MaintenanceService;
use crate::store::Record;

/// It was shown, and is not shown again by itself. Lost without harm: then it comes once more.
#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct Toured {
    /// When, milliseconds since 1970-01-01 UTC.
    wall_ms: i64,
}

impl Record for Toured {
    const TABLE: &'static str = "toured";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

/// The one record is kept under this name.
const NAME: &str = "screens";

impl MaintenanceService {
    /// True where the tour was shown before.
    #[must_use]
    pub fn has_toured(&self) -> bool {
        matches!(self.repository.store().get::<Toured>(NAME), Ok(Some(_)))
    }

    /// Notes that the tour was shown.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn keep_toured(&self) -> Result<(), AppError> {
        let wall_ms = self.clock.wall_ms();
        self.repository.put(NAME, &Toured { wall_ms })
    }
}
