//! What is wrong with a drill, and where.

use std::fmt;

use crate::text;

/// One thing that is wrong in a file of drills: the place, the drill, what is wrong and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DrillError {
    /// The file as it was named.
    pub file: String,
    /// From 1; 0 where the whole file is meant.
    pub line: usize,
    /// From 1, in characters; 0 where the whole line is meant.
    pub column: usize,
    /// The drill, where it has a name.
    pub id: Option<String>,
    pub what: String,
}

impl fmt::Display for DrillError {
    /// `FILE:LINE:COLUMN: drill 'ID': WHAT`, without what is not known.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", text::safe(&self.file))?;
        for number in [self.line, self.column].iter().take_while(|n| **n > 0) {
            write!(f, ":{number}")?;
        }
        if let Some(id) = &self.id {
            write!(f, "{}", tr!(": drill '{}'", text::safe(id)))?;
        }
        write!(f, ": {}", text::safe(&self.what))
    }
}

impl std::error::Error for DrillError {}
