//! From settings to a running application.

use std::sync::Arc;

use super::kept::Kept;
use super::{App, AppError, Clock};
use crate::drill::Drill;
use crate::judge::Judge;
use crate::review::Settings;
use crate::store::Store;

impl App {
    /// Puts the application together from its parts.
    ///
    /// # Errors
    /// The store cannot be opened.
    pub fn with_parts(
        home: &std::path::Path,
        judge: Arc<dyn Judge>,
        drills: Vec<Drill>,
        settings: Settings,
        clock: Arc<dyn Clock>,
    ) -> Result<Self, AppError> {
        let store = Arc::new(Store::open(home)?);
        Ok(Self {
            notices: store.notices().into(),
            kept: Arc::new(Kept::new(store)),
            judge,
            drills: drills.into(),
            settings,
            clock,
            jobs: Arc::default(),
        })
    }
}
