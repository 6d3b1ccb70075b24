//! Whether there is room to write.
//!
//! On a full disk the library fails in ways that look like damage, and nothing could be built again either: there the
//! store is read as it is, and nothing in it is touched.

use std::io::Write;
use std::path::Path;

use super::StoreError;
use super::whole::{Draft, Readers};

/// What a sitting or a review writes at most before it is told that it is kept.
const NEEDED: usize = 256 << 10;

/// # Errors
/// The disk is full, or nearly so.
pub(super) fn needed(folder: &Path) -> Result<(), StoreError> {
    let fail = |e: std::io::Error| StoreError::io(folder, &e);
    let mut draft = Draft::beside(&folder.join("room"), Readers::Owner).map_err(fail)?;
    // Never given a name: it goes away here.
    draft
        .try_out(|out| out.write_all(&vec![0; NEEDED]))
        .map_err(fail)
}
