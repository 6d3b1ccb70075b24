//! The plain-text copy: one line for each entry, in the order of writing.
//!
//! First line `foreply-journal 1`, then `CHECKSUM SEQ VERSION KEY JSON`, the checksum being CRC-32
//! over all that follows it, in eight hexadecimal digits. A removal has `-` in place of the JSON. A
//! later entry of the same key counts. Anyone can read it with a pager, and any program can check it.

use std::fs::{File, OpenOptions};
use std::io::{BufRead, BufReader, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use super::{StoreError, value};

const NAME: &str = "foreply-journal";
/// The version of this form.
const VERSION: u32 = 1;
/// No line is longer, its end counted: more is refused when it is to be written, and damage when it is
/// read.
pub(super) const LINE_MAX: u64 = 4 << 20;

/// One change: a value put under a key, or a key removed (`json` is `None`).
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Entry {
    /// 1, 2, 3 … over the life of the store.
    pub(super) seq: u64,
    pub(super) version: u32,
    pub(super) key: String,
    pub(super) json: Option<String>,
}

impl Entry {
    /// The entry of a value as it lies in the database, without a number; `None` where it is damaged.
    pub(super) fn of(key: &str, raw: &[u8]) -> Option<Self> {
        let (version, json) = value::open(key, raw)?;
        Some(Self {
            seq: 0,
            version,
            key: key.to_owned(),
            json: Some(json.to_owned()),
        })
    }

    pub(super) fn line(&self) -> String {
        let json = self.json.as_deref().unwrap_or("-");
        let body = format!("{} {} {} {json}", self.seq, self.version, self.key);
        format!("{:08x} {body}\n", crc32fast::hash(body.as_bytes()))
    }

    /// The number of the entry on a line that is as it was written.
    fn number(line: &str) -> Option<u64> {
        let (sum, body) = line.split_once(' ')?;
        let right = u32::from_str_radix(sum, 16).ok()? == crc32fast::hash(body.as_bytes());
        seq(body.split(' ').next()?).filter(|_| right)
    }

    /// `None` where the line is not exactly as it was written.
    pub(super) fn read(line: &str) -> Option<Self> {
        let (sum, body) = line.split_once(' ')?;
        if u32::from_str_radix(sum, 16).ok()? != crc32fast::hash(body.as_bytes()) {
            return None;
        }
        let mut fields = body.splitn(4, ' ');
        Some(Self {
            seq: seq(fields.next()?)?,
            version: fields.next()?.parse().ok()?,
            key: fields.next()?.to_owned(),
            json: fields.next().map(|j| (j != "-").then(|| j.to_owned()))?,
        })
    }
}

/// Larger numbers are not ours: a store that begins one every microsecond needs an age for it. So there is
/// always a next one.
const SEQ_MAX: u64 = 1 << 60;

fn seq(text: &str) -> Option<u64> {
    text.parse().ok().filter(|seq| *seq <= SEQ_MAX)
}

/// The journal, open for appending.
#[derive(Debug)]
pub(super) struct Journal {
    path: PathBuf,
    file: File,
    /// Length up to the end of the last complete entry.
    len: u64,
    /// Set when a broken line could not be taken back: nothing may be written behind it.
    broken: bool,
}

/// What a journal holds.
#[derive(Debug, Default)]
pub(super) struct Contents {
    pub(super) entries: Vec<Entry>,
    /// Lines that are not as they were written.
    pub(super) bad: usize,
}

impl Contents {
    pub(super) fn last_seq(&self) -> u64 {
        self.entries.last().map_or(0, |e| e.seq)
    }
}

impl Journal {
    /// A new journal with these entries, complete on disk before it takes its name.
    pub(super) fn create(path: &Path, entries: &[Entry]) -> Result<Self, StoreError> {
        let draft = path.with_extension("new");
        let fail = |e: std::io::Error| StoreError::io(path, &e);
        let mut out = std::io::BufWriter::new(File::create(&draft).map_err(fail)?);
        writeln!(out, "{NAME} {VERSION}").map_err(fail)?;
        for entry in entries {
            out.write_all(entry.line().as_bytes()).map_err(fail)?;
        }
        let file = out.into_inner().map_err(|e| fail(e.into_error()))?;
        file.sync_all().map_err(fail)?;
        std::fs::rename(&draft, path).map_err(fail)?;
        sync_folder(path);
        Self::append_to(path)
    }

    /// An existing journal, to be written on.
    pub(super) fn append_to(path: &Path) -> Result<Self, StoreError> {
        let fail = |e: std::io::Error| StoreError::io(path, &e);
        let file = OpenOptions::new().append(true).open(path).map_err(fail)?;
        let len = file.metadata().map_err(fail)?.len();
        Ok(Self {
            path: path.to_owned(),
            file,
            len,
            broken: false,
        })
    }

    /// Writes entries; returns when the disk has them.
    pub(super) fn append(&mut self, entries: &[Entry]) -> Result<(), StoreError> {
        self.still_there()?;
        if self.broken {
            return Err(StoreError::damaged(
                &self.path,
                "the journal",
                "an entry was cut off",
            ));
        }
        let mut lines = String::new();
        for entry in entries {
            let line = entry.line();
            if line.len() as u64 > LINE_MAX {
                return Err(StoreError::Form {
                    what: entry.key.clone(),
                    reason: format!("it is larger than {} MiB", LINE_MAX >> 20),
                });
            }
            lines.push_str(&line);
        }
        let done = self.file.write_all(lines.as_bytes());
        match done.and_then(|()| self.file.sync_data()) {
            Ok(()) => self.len += lines.len() as u64,
            Err(e) => {
                // Half a line may stand there; the next entry must not be glued to it.
                self.broken = self.file.set_len(self.len).is_err();
                return Err(StoreError::io(&self.path, &e));
            }
        }
        Ok(())
    }
}

impl Journal {
    /// A file that was removed, or whose disk was taken away, can still be written to, and all of it
    /// would be lost.
    #[cfg(unix)]
    fn still_there(&self) -> Result<(), StoreError> {
        use std::os::unix::fs::MetadataExt;
        let place = |m: std::fs::Metadata| (m.dev(), m.ino());
        let named = std::fs::metadata(&self.path).ok().map(place);
        let open = self.file.metadata().ok().map(place);
        if named.is_some() && named == open {
            return Ok(());
        }
        Err(StoreError::Gone {
            path: self.path.clone(),
        })
    }

    #[cfg(not(unix))]
    fn still_there(&self) -> Result<(), StoreError> {
        match self.path.try_exists() {
            Ok(true) => Ok(()),
            _ => Err(StoreError::Gone {
                path: self.path.clone(),
            }),
        }
    }
}

/// Reads the whole journal; a line that is not as it was written is counted and passed over.
pub(super) fn read(path: &Path) -> Result<Contents, StoreError> {
    let mut lines = Lines::open(path, 0)?;
    if let Some(first) = lines.next()? {
        check_head(path, &first)?;
    }
    lines.entries()
}

/// True where every line is as it was written, a last one that is being written just now apart.
pub(super) fn is_sound(path: &Path) -> Result<bool, StoreError> {
    let mut lines = Lines::open(path, 0)?;
    let Some(first) = lines.next()? else {
        return Ok(false);
    };
    check_head(path, &first)?;
    let mut last = 0;
    while let Some(line) = lines.next()? {
        match Entry::number(&line) {
            Some(seq) if seq > last => last = seq,
            _ => return lines.at_end(),
        }
    }
    Ok(first == format!("{NAME} {VERSION}"))
}

/// The number of the last entry, read from the end of the file; `None` where the file does not end
/// with a complete entry.
pub(super) fn last_seq(path: &Path) -> Result<Option<u64>, StoreError> {
    let mut lines = Lines::open(path, 0)?;
    let Some(head) = lines.next()? else {
        return Ok(None);
    };
    check_head(path, &head)?;
    let mut back = 64 << 10;
    loop {
        let start = lines.len.saturating_sub(back);
        let tail = Lines::open(path, start)?.tail()?;
        if !tail.ends_with('\n') {
            return Ok(None);
        }
        let whole: Vec<&str> = tail.lines().collect();
        match whole.split_last() {
            // The only line of the file is its head: an empty journal.
            Some((_, [])) if start == 0 => return Ok(Some(0)),
            // The first line of the piece may be cut; the last is whole when another is before it.
            Some((last, [_, ..])) => return Ok(Entry::read(last).map(|e| e.seq)),
            _ if start == 0 || back > LINE_MAX => return Ok(None),
            _ => back *= 4,
        }
    }
}

/// Cuts off what stands behind the last line break: an entry that was being written when the
/// process or the machine stopped. True where there was something.
pub(super) fn cut_torn_tail(path: &Path) -> Result<bool, StoreError> {
    let fail = |e: std::io::Error| StoreError::io(path, &e);
    let mut file = File::open(path).map_err(fail)?;
    let len = file.metadata().map_err(fail)?.len();
    let start = len.saturating_sub(LINE_MAX);
    file.seek(SeekFrom::Start(start)).map_err(fail)?;
    let mut tail = Vec::new();
    file.take(LINE_MAX).read_to_end(&mut tail).map_err(fail)?;
    let Some(whole) = tail.iter().rposition(|b| *b == b'\n').map(|at| at + 1) else {
        return Ok(false);
    };
    if whole == tail.len() {
        return Ok(false);
    }
    let file = OpenOptions::new().write(true).open(path).map_err(fail)?;
    file.set_len(start + whole as u64).map_err(fail)?;
    file.sync_all().map_err(fail)?;
    Ok(true)
}

fn check_head(path: &Path, line: &str) -> Result<(), StoreError> {
    let found = line
        .strip_prefix(NAME)
        .and_then(|v| v.trim().parse::<u32>().ok());
    match found {
        Some(found) if found > VERSION => Err(StoreError::Newer {
            path: path.to_owned(),
            what: "the journal".to_owned(),
            found,
            known: VERSION,
        }),
        // A damaged head is damage like any other: the entries below it check themselves.
        _ => Ok(()),
    }
}

struct Lines {
    path: PathBuf,
    len: u64,
    reader: BufReader<File>,
    /// The line that was read last had its end.
    whole: bool,
}

impl Lines {
    fn open(path: &Path, start: u64) -> Result<Self, StoreError> {
        let fail = |e: std::io::Error| StoreError::io(path, &e);
        let mut file = File::open(path).map_err(fail)?;
        let len = file.metadata().map_err(fail)?.len();
        file.seek(SeekFrom::Start(start)).map_err(fail)?;
        Ok(Self {
            path: path.to_owned(),
            len,
            reader: BufReader::new(file),
            whole: true,
        })
    }

    /// The next line without its end. A last line without an end is given as bad text, since an
    /// entry is written together with its line break.
    fn next(&mut self) -> Result<Option<String>, StoreError> {
        let mut raw = Vec::new();
        let read = self
            .reader
            .by_ref()
            .take(LINE_MAX)
            .read_until(b'\n', &mut raw)
            .map_err(|e| StoreError::io(&self.path, &e))?;
        if read == 0 {
            return Ok(None);
        }
        self.whole = raw.pop_if(|b| *b == b'\n').is_some();
        let text = String::from_utf8(raw).ok().filter(|_| self.whole);
        Ok(Some(text.unwrap_or_default()))
    }

    fn at_end(&mut self) -> Result<bool, StoreError> {
        let rest = self.reader.fill_buf();
        let rest = rest.map_err(|e| StoreError::io(&self.path, &e))?;
        Ok(rest.is_empty() && !self.whole)
    }

    fn entries(mut self) -> Result<Contents, StoreError> {
        let mut found = Contents::default();
        while let Some(line) = self.next()? {
            match Entry::read(&line) {
                // Numbers only rise; one that does not has been copied to the wrong place.
                Some(entry) if entry.seq > found.last_seq() => found.entries.push(entry),
                _ => found.bad += 1,
            }
        }
        Ok(found)
    }

    fn tail(mut self) -> Result<String, StoreError> {
        let mut raw = Vec::new();
        self.reader
            .read_to_end(&mut raw)
            .map_err(|e| StoreError::io(&self.path, &e))?;
        Ok(String::from_utf8_lossy(&raw).into_owned())
    }
}

/// Makes a rename in the folder durable. Some systems cannot sync a folder; there the rename is as
/// durable as they make it.
pub(super) fn sync_folder(path: &Path) {
    if let Some(folder) = path.parent().and_then(|p| File::open(p).ok()) {
        folder.sync_all().ok();
    }
}
