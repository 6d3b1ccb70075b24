//! The plain-text copy: one line for each entry, in the order of writing.
//!
//! First line `foreply-journal 2`, then `CHECKSUM SEQ VERSION KEY JSON`, the checksum being CRC-32
//! over all that follows it, in eight hexadecimal digits. A removal has `-` in place of the JSON. A
//! later entry of the same key counts. Anyone can read it with a pager, and any program can check it.
//!
//! Entries that are kept in one step stand behind each other, `+` behind the VERSION of all but the
//! last: a step whose last entry is missing at the end of the file has not happened. Form 1 had no
//! such steps; a journal of that form is written on in this one.

use std::fs::{File, OpenOptions};
use std::io::{BufRead, BufReader, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use super::StoreError;
pub(super) use super::entry::Entry;
use super::whole::{Draft, Readers};
use crate::platform;

const NAME: &str = "foreply-journal";
/// Stands for an entry that is in no copy; no checksum looks like it.
const MISSING: &str = "missing";
/// The version of this form.
const VERSION: u32 = 2;
/// No line is longer, its end counted: more is refused when it is to be written, and damage when it is
/// read.
pub(super) const LINE_MAX: u64 = 4 << 20;
/// What is further behind is read as a whole and not from the end.
const SINCE_MAX: u64 = 16 << 20;

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
    /// The last line is one of them.
    pub(super) damaged_end: bool,
    /// The last line has no end: it was being written.
    pub(super) torn: bool,
}

impl Contents {
    pub(super) fn last_seq(&self) -> u64 {
        self.entries.last().map_or(0, |e| e.seq)
    }
}

impl Journal {
    /// A new journal with these entries, complete on disk before it takes its name.
    pub(super) fn create(path: &Path, entries: &[Entry]) -> Result<Self, StoreError> {
        let fail = |e: std::io::Error| StoreError::io(path, &e);
        let mut draft = Draft::beside(path, Readers::Owner).map_err(fail)?;
        let filled = draft.fill(|out| {
            writeln!(out, "{NAME} {VERSION}")?;
            entries
                .iter()
                .try_for_each(|entry| out.write_all(entry.line().as_bytes()))
        });
        filled.and_then(|()| draft.persist()).map_err(fail)?;
        Self::append_to(path)
    }

    /// A journal with these contents, with a line that cannot be read for each entry that is missing among them:
    /// what is not there must not look as if it had never been.
    pub(super) fn write(path: &Path, contents: &Contents) -> Result<(), StoreError> {
        let fail = |e: std::io::Error| StoreError::io(path, &e);
        let mut draft = Draft::beside(path, Readers::Owner).map_err(fail)?;
        let filled = draft.fill(|out| {
            writeln!(out, "{NAME} {VERSION}")?;
            let mut before = contents.entries.first().map_or(0, |e| e.seq - 1);
            for entry in &contents.entries {
                for missing in before + 1..entry.seq {
                    writeln!(out, "{MISSING} {missing}")?;
                }
                out.write_all(entry.line().as_bytes())?;
                before = entry.seq;
            }
            match contents.damaged_end {
                true => writeln!(out, "{MISSING} {}", before + 1),
                false => Ok(()),
            }
        });
        filled.and_then(|()| draft.persist()).map_err(fail)
    }

    /// An existing journal, to be written on.
    pub(super) fn append_to(path: &Path) -> Result<Self, StoreError> {
        let fail = |e: std::io::Error| StoreError::io(path, &e);
        raise_version(path).map_err(fail)?;
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
        self.add(entries, true)
    }

    /// The same without waiting for the disk: for what is kept elsewhere already.
    pub(super) fn append_unsynced(&mut self, entries: &[Entry]) -> Result<(), StoreError> {
        self.add(entries, false)
    }

    fn add(&mut self, entries: &[Entry], sync: bool) -> Result<(), StoreError> {
        self.still_there()?;
        if self.broken {
            return Err(StoreError::damaged(
                &self.path,
                tr!("the journal"),
                tr!("an entry was cut off"),
            ));
        }
        let mut lines = String::new();
        for entry in entries {
            let line = entry.line();
            if line.len() as u64 > LINE_MAX {
                return Err(StoreError::Form {
                    what: entry.key.clone(),
                    reason: tr!("it is larger than {} MiB", LINE_MAX >> 20),
                });
            }
            lines.push_str(&line);
        }
        let done = self.file.write_all(lines.as_bytes());
        let synced = |()| match sync {
            true => self.file.sync_data(),
            false => Ok(()),
        };
        match done.and_then(synced) {
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
    fn still_there(&self) -> Result<(), StoreError> {
        match platform::leads_to(&self.path, &self.file) {
            true => Ok(()),
            false => Err(StoreError::Gone {
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

/// The same, whatever the first line says: where there is a copy to hold it against.
pub(super) fn read_whatever_its_head(path: &Path) -> Result<Contents, StoreError> {
    let mut lines = Lines::open(path, 0)?;
    lines.next()?;
    lines.entries()
}

/// True where the first line is one that this program writes or has written.
pub(super) fn has_right_head(path: &Path) -> Result<bool, StoreError> {
    let first = Lines::open(path, 0)?.next()?.unwrap_or_default();
    Ok((1..=VERSION).any(|version| first == format!("{NAME} {version}")))
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
    Ok((1..=VERSION).any(|version| first == format!("{NAME} {version}")))
}

/// The number of the last entry, read from the end of the file; `None` where the file does not end
/// with a complete entry.
pub(super) fn last_seq(path: &Path) -> Result<Option<u64>, StoreError> {
    Ok(match end(path)? {
        End::Empty => Some(0),
        End::Entry(entry) => Some(entry.seq),
        End::Unreadable => None,
    })
}

/// The last entry; `None` where there is none, or it cannot be read.
pub(super) fn last(path: &Path) -> Result<Option<Entry>, StoreError> {
    Ok(match end(path)? {
        End::Entry(entry) => Some(entry),
        End::Empty | End::Unreadable => None,
    })
}

/// With what a journal ends.
enum End {
    /// Nothing stands below its head.
    Empty,
    Entry(Entry),
    Unreadable,
}

fn end(path: &Path) -> Result<End, StoreError> {
    let mut lines = Lines::open(path, 0)?;
    let Some(head) = lines.next()? else {
        return Ok(End::Unreadable);
    };
    check_head(path, &head)?;
    let mut back = 64 << 10;
    loop {
        let start = lines.len.saturating_sub(back);
        let tail = Lines::open(path, start)?.tail()?;
        if !tail.ends_with('\n') {
            return Ok(End::Unreadable);
        }
        let whole: Vec<&str> = tail.lines().collect();
        match whole.split_last() {
            // The only line of the file is its head: an empty journal.
            Some((_, [])) if start == 0 => return Ok(End::Empty),
            // The first line of the piece may be cut; the last is whole when another is before it.
            Some((last, [_, ..])) => {
                return Ok(Entry::read(last).map_or(End::Unreadable, End::Entry));
            }
            _ if start == 0 || back > LINE_MAX => return Ok(End::Unreadable),
            _ => back *= 4,
        }
    }
}

/// Cuts off what was being written when the process or the machine stopped: what stands behind the last
/// line break, and the beginning of a step whose last entry is not there. True where there was something.
pub(super) fn cut_torn_tail(path: &Path) -> Result<bool, StoreError> {
    let fail = |e: std::io::Error| StoreError::io(path, &e);
    let len = std::fs::metadata(path).map_err(fail)?.len();
    let mut back = 64 << 10;
    let whole = loop {
        let start = len.saturating_sub(back);
        let mut file = File::open(path).map_err(fail)?;
        file.seek(SeekFrom::Start(start)).map_err(fail)?;
        let mut tail = Vec::new();
        file.take(len - start)
            .read_to_end(&mut tail)
            .map_err(fail)?;
        match end_of_last_step(&tail, start == 0) {
            Some(end) => break start + end as u64,
            None if start == 0 => return Ok(false),
            None => back *= 4,
        }
    };
    if whole == len {
        return Ok(false);
    }
    let file = OpenOptions::new().write(true).open(path).map_err(fail)?;
    file.set_len(whole).map_err(fail)?;
    file.sync_all().map_err(fail)?;
    Ok(true)
}

/// Where the last whole step ends in the last bytes of a journal; `None` where it begins before them.
/// With `all` they are the whole file.
fn end_of_last_step(tail: &[u8], all: bool) -> Option<usize> {
    let mut end = tail.iter().rposition(|b| *b == b'\n')? + 1;
    loop {
        let line = tail.get(..end - 1)?;
        let start = match line.iter().rposition(|b| *b == b'\n') {
            Some(at) => at + 1,
            // The head, or a line that may be cut.
            None => return all.then_some(end),
        };
        let text = std::str::from_utf8(line.get(start..)?).unwrap_or_default();
        // What cannot be read is damage, and told as that.
        match Entry::read(text) {
            Some(entry) if entry.joined => end = start,
            _ => return Some(end),
        }
    }
}

/// What has come after the entry `seq`, whose line has the checksum `sum`, in the order of writing; `None`
/// where that entry is not there any more, or something behind it cannot be read.
pub(super) fn since(path: &Path, seq: u64, sum: u32) -> Result<Option<Vec<Entry>>, StoreError> {
    let len = std::fs::metadata(path)
        .map_err(|e| StoreError::io(path, &e))?
        .len();
    let mut back = 64 << 10;
    loop {
        let start = len.saturating_sub(back);
        let tail = Lines::open(path, start)?.tail()?;
        let mut found = Vec::new();
        for line in tail.lines().rev() {
            match Entry::read(line) {
                Some(entry) if entry.seq > seq => found.push(entry),
                Some(entry) => {
                    let same = entry.seq == seq && entry.sum() == sum;
                    found.reverse();
                    return Ok(same.then_some(found));
                }
                // The first line of the piece may be cut.
                None => break,
            }
        }
        if start == 0 || back > SINCE_MAX {
            return Ok(None);
        }
        back *= 8;
    }
}

/// A form 1 journal becomes one of this form, whose entries may stand behind its own: its head differs in
/// one digit.
fn raise_version(path: &Path) -> std::io::Result<()> {
    let old = format!("{NAME} 1\n");
    let mut head = vec![0; old.len()];
    let mut file = OpenOptions::new().read(true).write(true).open(path)?;
    if file.read_exact(&mut head).is_ok() && head == old.as_bytes() {
        file.seek(SeekFrom::Start(0))?;
        file.write_all(format!("{NAME} {VERSION}\n").as_bytes())?;
        file.sync_data()?;
    }
    Ok(())
}

/// The sentence for lines that are not as they were written.
pub(super) fn unreadable(bad: usize) -> String {
    let lines = tr!(bad; "{bad} line" | "{bad} lines");
    tr!("{lines} of the journal could not be read.")
}

fn check_head(path: &Path, line: &str) -> Result<(), StoreError> {
    let found = line
        .strip_prefix(NAME)
        .and_then(|v| v.trim().parse::<u32>().ok());
    match found {
        Some(found) if found > VERSION => Err(StoreError::Newer {
            path: path.to_owned(),
            what: tr!("the journal").to_owned(),
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

    /// A step that is being written just now, and lacks its last entry, is not there yet.
    fn entries(mut self) -> Result<Contents, StoreError> {
        let mut found = Contents::default();
        let mut damaged = false;
        while let Some(line) = self.next()? {
            let entry = Entry::read(&line);
            damaged = entry.is_none() && self.whole;
            match entry {
                // Numbers only rise; one that does not has been copied to the wrong place.
                Some(entry) if entry.seq > found.last_seq() => found.entries.push(entry),
                // What is being written just now is not there yet.
                _ => found.bad += usize::from(self.whole),
            }
        }
        found.damaged_end = damaged;
        found.torn = !self.whole;
        // The end of the last step is there and cannot be read: what is left of the step is kept.
        if !damaged {
            while found.entries.pop_if(|e| e.joined).is_some() {}
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
