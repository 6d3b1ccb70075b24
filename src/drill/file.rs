//! Drills from a file of the user: YAML, EPD or PGN, by the end of its name.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::{Drill, DrillError, FILE_MAX, epd, from_pgn, load};
use crate::tree::pgn;

/// The drills of a file: `.epd` is EPD, `.pgn` is PGN with a FEN tag in each game, anything else YAML.
///
/// # Errors
/// It cannot be read, is no regular file, is larger than [`FILE_MAX`], is not UTF-8 (PGN: Latin-1 is read
/// too), or as [`load`].
pub fn load_file(path: &Path) -> Result<Vec<Drill>, Vec<DrillError>> {
    let name = path.display().to_string();
    let kind = path.extension().unwrap_or_default().to_ascii_lowercase();
    let loaded = match kind.to_str() {
        Some("epd") => text(path).map(|text| epd::load(&text, &name)),
        Some("pgn") => read(path).map(|raw| from_pgn::load(&pgn::decode(&raw), &name)),
        _ => text(path).map(|text| load(&text, &name)),
    };
    match loaded {
        Ok(drills) => drills,
        Err(what) => Err(vec![DrillError {
            file: name,
            line: 0,
            column: 0,
            id: None,
            what,
        }]),
    }
}

fn read(path: &Path) -> Result<Vec<u8>, String> {
    let kind = path.metadata().map_err(|e| e.to_string())?;
    if !kind.is_file() {
        // A pipe or a device may never end.
        return Err(tr!("this is no regular file").to_owned());
    }
    let mut raw = Vec::new();
    // One byte more than allowed, so that a larger file is seen to be larger.
    File::open(path)
        .and_then(|file| file.take(FILE_MAX as u64 + 1).read_to_end(&mut raw))
        .map_err(|e| e.to_string())?;
    if raw.len() > FILE_MAX {
        let size = FILE_MAX / 1024;
        return Err(tr!("the file is larger than {size} KiB; divide it"));
    }
    Ok(raw)
}

fn text(path: &Path) -> Result<String, String> {
    String::from_utf8(read(path)?).map_err(|e| {
        tr!(
            "byte {} is not UTF-8; save the file as UTF-8",
            e.utf8_error().valid_up_to() + 1
        )
    })
}
