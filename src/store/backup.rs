//! Backups: everything that is kept, in one file of plain text that checks itself.
//!
//! First line `foreply-backup 1`, then the lines of a journal (see `journal.rs`), one for each value
//! that stands, then `end COUNT CHECKSUM`, the checksum being CRC-32 over all bytes before that line.
//! So a file that was cut off, changed or mixed with another says so. What can be computed again is
//! not in it. Whatever room a table belongs to, it is carried: this file knows none of them.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};

use super::journal::{Entry, LINE_MAX};
use super::whole::{Draft, Readers};
use super::{StoreError, private, write_private};

const NAME: &str = "foreply-backup";
/// The version of this form.
const VERSION: u32 = 1;
/// Largest backup in bytes that is read.
pub const BACKUP_MAX: u64 = 1 << 30;

/// What a backup holds, in numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackedUp {
    pub path: PathBuf,
    /// Values and events.
    pub entries: u64,
    /// Size of the file.
    pub bytes: u64,
    /// How many of them lie in each table, by name.
    pub tables: BTreeMap<String, u64>,
}

impl BackedUp {
    fn of(path: &Path, bytes: u64, entries: &[Entry]) -> Self {
        let mut tables = BTreeMap::new();
        for entry in entries {
            *tables.entry(table(&entry.key).to_owned()).or_default() += 1;
        }
        Self {
            path: path.to_owned(),
            entries: entries.len() as u64,
            bytes,
            tables,
        }
    }
}

/// The table in `r/TABLE/KEY` or `e/TABLE/LOG/SEQ`.
pub(super) fn table(key: &str) -> &str {
    key.split('/').nth(1).unwrap_or_default()
}

/// Files beside the store that a backup carries too. Their names stand here alone: no file is ever written
/// under a name that a backup tells.
const CARRIED: [&str; 1] = ["settings.yaml"];
/// Longest such file in bytes; a longer one is not ours.
const CARRIED_MAX: u64 = 64 << 10;

/// The files of a folder that are carried, as entries.
pub(super) fn files(folder: &Path) -> Result<Vec<Entry>, StoreError> {
    let mut found = Vec::new();
    for name in CARRIED {
        let path = folder.join(name);
        if !path.is_file() {
            continue;
        }
        let mut text = String::new();
        File::open(&path)
            .and_then(|f| f.take(CARRIED_MAX).read_to_string(&mut text))
            .map_err(|e| StoreError::io(&path, &e))?;
        let json = serde_json::to_string(&text).map_err(|e| StoreError::Form {
            what: path.display().to_string(),
            reason: e.to_string(),
        })?;
        found.push(Entry {
            seq: 0,
            joined: false,
            version: 1,
            key: format!("f/{name}"),
            json: Some(json),
        });
    }
    Ok(found)
}

/// What a carried file may bring: gets its name, what stands in the folder under that name, and its text in the
/// backup; gives what is written, `None` for nothing, and adds what is to be told.
pub type Sift<'a> = &'a dyn Fn(&str, &Path, &str, &mut Vec<String>) -> Option<String>;

/// Splits off what stands for carried files: name and text.
pub(super) fn split(entries: Vec<Entry>) -> (Vec<(&'static str, String)>, Vec<Entry>) {
    let (files, rest): (Vec<Entry>, Vec<Entry>) =
        entries.into_iter().partition(|e| e.key.starts_with("f/"));
    let text = |name: &&'static str| {
        let file = files.iter().find(|f| f.key == format!("f/{name}"))?;
        let text = serde_json::from_str::<String>(file.json.as_deref()?).ok()?;
        Some((*name, text))
    };
    (CARRIED.iter().filter_map(text).collect(), rest)
}

/// Writes the carried files into the folder, each whole, as far as `sift` lets them through; gives what is to be
/// told of it.
pub(super) fn put_files(
    folder: &Path,
    files: &[(&'static str, String)],
    sift: Sift<'_>,
) -> Vec<String> {
    let mut told = Vec::new();
    for (name, text) in files {
        let path = folder.join(name);
        let Some(text) = sift(name, &path, text, &mut told) else {
            continue;
        };
        if let Err(e) = write_private(&path, &text) {
            told.push(tr!(
                "{name} of the backup could not be written ({e}): all else is restored; what it says can be set \
                 again by hand."
            ));
        }
    }
    told
}

/// Writes a backup: whole and read again before it takes its name, so that an older backup of that name
/// is never replaced by a worse one. A file that is no backup is never written over.
pub(super) fn write(path: &Path, mut entries: Vec<Entry>) -> Result<BackedUp, StoreError> {
    spare(path)?;
    for (seq, entry) in (1..).zip(&mut entries) {
        entry.seq = seq;
    }
    let path = &real(path)?;
    let fail = |e: std::io::Error| StoreError::io(path, &e);
    // All that is kept is in it: a new one is for its owner alone.
    let readers = match path.exists() {
        true => Readers::AsUsual,
        false => Readers::Owner,
    };
    let mut draft = Draft::beside(path, readers).map_err(fail)?;
    draft.fill(|out| all(out, &entries)).map_err(fail)?;
    verify(draft.path(), &entries)?;
    draft.persist().map_err(fail)?;
    let bytes = path.metadata().map_err(|e| StoreError::io(path, &e))?.len();
    Ok(BackedUp::of(path, bytes, &entries))
}

/// A file that the store itself keeps in its folder is no place for a backup, empty as some of them are.
pub(super) fn refuse_own(folder: &Path, file: &Path) -> Result<(), StoreError> {
    let real = |path: &Path| path.canonicalize().ok();
    let above = file.parent().filter(|p| !p.as_os_str().is_empty());
    let inside = real(above.unwrap_or(Path::new("."))) == real(folder);
    match file.file_name() {
        Some(name) if inside && private::is_ours(name) => {
            let reason = tr!("this is a name that the store itself uses; choose another one");
            Err(StoreError::backup(file, reason))
        }
        _ => Ok(()),
    }
}

/// An existing file under that name must be a backup itself.
fn spare(path: &Path) -> Result<(), StoreError> {
    let meta = match path.metadata() {
        Ok(meta) => meta,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(e) => return Err(StoreError::io(path, &e)),
    };
    let mut head = Vec::new();
    if meta.is_file() {
        File::open(path)
            .and_then(|f| f.take(NAME.len() as u64).read_to_end(&mut head))
            .map_err(|e| StoreError::io(path, &e))?;
    }
    if head == NAME.as_bytes() || (meta.is_file() && meta.len() == 0) {
        return Ok(());
    }
    let reason =
        tr!("this is something else than a backup and is not written over; choose another name");
    Err(StoreError::backup(path, reason))
}

/// The file that a link leads to is written, and the link stays.
fn real(path: &Path) -> Result<PathBuf, StoreError> {
    if path.file_name().is_none() {
        return Err(StoreError::backup(path, tr!("this is no name of a file")));
    }
    match (path.symlink_metadata(), path.canonicalize()) {
        (Ok(meta), Ok(real)) if meta.is_symlink() => Ok(real),
        (Ok(meta), Err(_)) if meta.is_symlink() => Err(StoreError::backup(
            path,
            tr!("this is a link that leads nowhere"),
        )),
        _ => Ok(path.to_owned()),
    }
}

fn all(out: &mut impl Write, entries: &[Entry]) -> std::io::Result<()> {
    let mut out = Summed {
        out,
        crc: crc32fast::Hasher::new(),
    };
    out.line(&format!("{NAME} {VERSION}\n"))?;
    for entry in entries {
        out.line(&entry.line())?;
    }
    let sum = out.crc.clone().finalize();
    writeln!(out.out, "end {} {sum:08x}", entries.len())
}

struct Summed<'a, W> {
    out: &'a mut W,
    crc: crc32fast::Hasher,
}

impl<W: Write> Summed<'_, W> {
    fn line(&mut self, line: &str) -> std::io::Result<()> {
        self.crc.update(line.as_bytes());
        self.out.write_all(line.as_bytes())
    }
}

fn verify(part: &Path, entries: &[Entry]) -> Result<(), StoreError> {
    if read(part)? == entries {
        return Ok(());
    }
    let reason = tr!("it reads differently from what was written; do not trust this disk");
    Err(StoreError::backup(part, reason))
}

/// The entries of a backup, all of them as they were written, in rising order of numbers.
pub(super) fn read(path: &Path) -> Result<Vec<Entry>, StoreError> {
    let file = open(path)?;
    let mut reader = Reader {
        path,
        lines: BufReader::new(file.take(BACKUP_MAX)),
        crc: crc32fast::Hasher::new(),
        number: 0,
    };
    reader.head()?;
    let mut entries: Vec<Entry> = Vec::new();
    loop {
        let sum = reader.crc.clone().finalize();
        let line = reader.next()?;
        if let Some(end) = line.strip_prefix("end ") {
            if end != format!("{} {sum:08x}", entries.len()) {
                return Err(reader.wrong(tr!("the sum at its end does not fit")));
            }
            return reader.nothing_more().map(|()| entries);
        }
        let last = entries.last().map_or(0, |e| e.seq);
        match Entry::read(&line) {
            Some(entry) if entry.seq > last && entry.json.is_some() => entries.push(entry),
            _ => return Err(reader.wrong(tr!("is not as it was written"))),
        }
    }
}

/// Size, and numbers per table, of a backup that reads without a fault.
///
/// # Errors
/// The file cannot be read, is no backup, is damaged, or was written by a newer program.
pub fn inspect(path: &Path) -> Result<BackedUp, StoreError> {
    let entries = read(path)?;
    let bytes = path.metadata().map_err(|e| StoreError::io(path, &e))?.len();
    Ok(BackedUp::of(path, bytes, &entries))
}

fn open(path: &Path) -> Result<File, StoreError> {
    let fail = |e: std::io::Error| StoreError::io(path, &e);
    // Asked before opening: a pipe without a writer would wait for ever.
    if !path.metadata().map_err(fail)?.is_file() {
        return Err(StoreError::backup(path, tr!("this is no regular file")));
    }
    File::open(path).map_err(fail)
}

struct Reader<'a> {
    path: &'a Path,
    lines: BufReader<std::io::Take<File>>,
    crc: crc32fast::Hasher,
    number: usize,
}

impl Reader<'_> {
    fn head(&mut self) -> Result<(), StoreError> {
        let line = self.raw_line()?;
        let version = line
            .strip_prefix(NAME.as_bytes())
            .and_then(|rest| std::str::from_utf8(rest).ok()?.trim().parse::<u32>().ok());
        match version {
            Some(VERSION) => Ok(()),
            Some(found) if found > VERSION => Err(StoreError::Newer {
                path: self.path.to_owned(),
                what: tr!("this backup").to_owned(),
                found,
                known: VERSION,
            }),
            _ => Err(StoreError::backup(
                self.path,
                tr!("this is no backup of foreply"),
            )),
        }
    }

    /// The next line without its end.
    fn next(&mut self) -> Result<String, StoreError> {
        let mut raw = self.raw_line()?;
        match raw.pop() {
            Some(b'\n') => {
                String::from_utf8(raw).map_err(|_| self.wrong(tr!("is not as it was written")))
            }
            None => Err(self.wrong(tr!("is missing: the file was cut off"))),
            Some(_) => Err(self.wrong(tr!("is cut off or too long"))),
        }
    }

    fn raw_line(&mut self) -> Result<Vec<u8>, StoreError> {
        let mut raw = Vec::new();
        let limit = LINE_MAX;
        (&mut self.lines)
            .take(limit)
            .read_until(b'\n', &mut raw)
            .map_err(|e| StoreError::io(self.path, &e))?;
        self.number += 1;
        self.crc.update(&raw);
        Ok(raw)
    }

    fn nothing_more(&mut self) -> Result<(), StoreError> {
        if self.raw_line()?.is_empty() {
            return Ok(());
        }
        Err(self.wrong(tr!("stands behind the end")))
    }

    fn wrong(&self, what: &str) -> StoreError {
        StoreError::backup(
            self.path,
            tr!("this backup is damaged: line {} {what}", self.number),
        )
    }
}
