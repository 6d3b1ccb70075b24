//! How one value lies in the database: version, checksum, JSON.

use std::path::Path;

use super::{Key, Record, StoreError, aside};

/// Bytes before the JSON: version and checksum, four each, little end first.
const HEAD: usize = 8;

/// The value as JSON on one line.
pub(super) fn json<R: Record>(key: &Key, value: &R) -> Result<String, StoreError> {
    serde_json::to_string(value).map_err(|e| StoreError::Form {
        what: key.as_str().to_owned(),
        reason: e.to_string(),
    })
}

/// Version, checksum over version, key and JSON, then the JSON. The key is in the checksum so that
/// a value that strayed to another key is noticed.
pub(super) fn wrap(key: &str, version: u32, json: &str) -> Vec<u8> {
    let mut raw = Vec::with_capacity(HEAD + json.len());
    raw.extend_from_slice(&version.to_le_bytes());
    raw.extend_from_slice(&checksum(key, version, json.as_bytes()).to_le_bytes());
    raw.extend_from_slice(json.as_bytes());
    raw
}

/// CRC-32 (ISO 3309) over version, key and JSON.
pub(super) fn checksum(key: &str, version: u32, json: &[u8]) -> u32 {
    let mut crc = crc32fast::Hasher::new();
    crc.update(&version.to_le_bytes());
    crc.update(key.as_bytes());
    crc.update(json);
    crc.finalize()
}

/// Version and JSON of a value whose checksum is right.
pub(super) fn open<'a>(key: &str, raw: &'a [u8]) -> Option<(u32, &'a str)> {
    let (version, rest) = raw.split_first_chunk::<4>()?;
    let (sum, json) = rest.split_first_chunk::<4>()?;
    let version = u32::from_le_bytes(*version);
    let right = checksum(key, version, json) == u32::from_le_bytes(*sum);
    Some((version, std::str::from_utf8(json).ok().filter(|_| right)?))
}

/// True where the checksum of a value is right.
pub(super) fn is_sound(key: &str, raw: &[u8]) -> bool {
    open(key, raw).is_some()
}

/// True where the raw value is exactly this one.
pub(super) fn same(raw: &[u8], version: u32, json: &str) -> bool {
    raw.get(..4) == Some(&version.to_le_bytes()) && raw.get(HEAD..) == Some(json.as_bytes())
}

pub(super) fn read<R: Record>(folder: &Path, key: &str, raw: &[u8]) -> Result<R, StoreError> {
    let (version, json) =
        open(key, raw).ok_or_else(|| StoreError::damaged(folder, key, tr!("wrong checksum")))?;
    parse(folder, key, version, json)
}

/// A value by its form.
pub(super) fn parse<R: Record>(
    folder: &Path,
    key: &str,
    version: u32,
    json: &str,
) -> Result<R, StoreError> {
    if version > R::VERSION {
        return Err(newer::<R>(folder, version));
    }
    if version < R::VERSION {
        return R::from_older(version, json).ok_or_else(|| StoreError::Older {
            path: folder.to_owned(),
            what: tr!("the table '{}'", R::TABLE),
            found: version,
        });
    }
    serde_json::from_str(json).map_err(|e| StoreError::Unreadable {
        path: folder.to_owned(),
        what: aside::named(key),
        reason: e.to_string(),
    })
}

/// A value that a newer program has written is not written over.
pub(super) fn refuse_newer<R: Record>(folder: &Path, raw: &[u8]) -> Result<(), StoreError> {
    match raw.first_chunk::<4>().map(|v| u32::from_le_bytes(*v)) {
        Some(version) if version > R::VERSION => Err(newer::<R>(folder, version)),
        _ => Ok(()),
    }
}

fn newer<R: Record>(folder: &Path, found: u32) -> StoreError {
    StoreError::Newer {
        path: folder.to_owned(),
        what: tr!("the table '{}'", R::TABLE),
        found,
        known: R::VERSION,
    }
}
