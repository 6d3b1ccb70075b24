//! The drills that there are.

use std::sync::Arc;

use crate::app::AppError;
use crate::drill::Drill;

/// The positions of own games first, then the collection in its order, then what was added to it.
#[derive(Clone)]
pub struct DrillCatalogue(Arc<[Drill]>);

impl DrillCatalogue {
    pub(crate) fn new(drills: Vec<Drill>) -> Self {
        Self(drills.into())
    }

    #[must_use]
    pub fn all(&self) -> &[Drill] {
        &self.0
    }

    /// One drill by its identifier, with its place among the positions of own games or in the collection
    /// (the first being 1).
    ///
    /// # Errors
    /// There is no such drill.
    pub fn find(&self, id: &str) -> Result<(usize, &Drill), AppError> {
        let own = self.0.iter().take_while(|d| d.is_of_own_game()).count();
        self.0
            .iter()
            .enumerate()
            .find(|(_, d)| d.id == id)
            .map(|(i, d)| (if i < own { i + 1 } else { i + 1 - own }, d))
            .ok_or_else(|| AppError::NoSuchDrill(id.to_owned()))
    }
}
