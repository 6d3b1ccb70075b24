//! The piece letters of this run: in what is typed on lines, and in what is told to people. What programs read and what is
//! kept has English letters.

use std::borrow::Cow;
use std::io::{self, BufRead, Read, Write};
use std::sync::OnceLock;

use crate::notation::Letters;

static CHOSEN: OnceLock<Letters> = OnceLock::new();

/// Says once, at the start, which letters this run has.
pub(crate) fn choose(letters: Letters) {
    // A second start in one process keeps the first.
    let _ = CHOSEN.set(letters);
}

pub(crate) fn chosen() -> Letters {
    CHOSEN.get().copied().unwrap_or_default()
}

/// What is told to people, as text or as a page; JSON, PGN and settings stay as they are.
pub(crate) fn told(text: &str) -> Cow<'_, str> {
    match text.chars().next() {
        Some('{' | '[') | None => Cow::Borrowed(text),
        Some('<') => chosen().shown_html(text),
        Some(_) => chosen().shown(text),
    }
}

/// Lines that are typed, with English letters.
pub(crate) struct Typed<R> {
    from: R,
    line: Vec<u8>,
    at: usize,
}

impl<R: BufRead> Typed<R> {
    pub(crate) fn new(from: R) -> Self {
        Self {
            from,
            line: Vec::new(),
            at: 0,
        }
    }
}

impl<R: BufRead> Read for Typed<R> {
    fn read(&mut self, to: &mut [u8]) -> io::Result<usize> {
        let some = self.fill_buf()?;
        let length = some.len().min(to.len());
        for (to, from) in to.iter_mut().zip(some) {
            *to = *from;
        }
        self.consume(length);
        Ok(length)
    }
}

impl<R: BufRead> BufRead for Typed<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.at >= self.line.len() {
            self.line.clear();
            self.at = 0;
            self.from.read_until(b'\n', &mut self.line)?;
            // What is no text is told by whoever reads it.
            if let Ok(text) = std::str::from_utf8(&self.line)
                && let Cow::Owned(english) = chosen().typed(text)
            {
                self.line = english.into_bytes();
            }
        }
        Ok(self.line.get(self.at..).unwrap_or_default())
    }

    fn consume(&mut self, amount: usize) {
        self.at += amount;
    }
}

/// Lines that are told, with the chosen letters: each once it is whole, or when it is to be seen.
pub(crate) struct Told<W: Write> {
    to: W,
    open: Vec<u8>,
}

impl<W: Write> Told<W> {
    pub(crate) fn new(to: W) -> Self {
        Self {
            to,
            open: Vec::new(),
        }
    }

    fn pass_on(&mut self) -> io::Result<()> {
        let open = std::mem::take(&mut self.open);
        match std::str::from_utf8(&open) {
            Ok(text) => self.to.write_all(chosen().shown(text).as_bytes()),
            Err(_) => self.to.write_all(&open),
        }
    }
}

impl<W: Write> Write for Told<W> {
    fn write(&mut self, some: &[u8]) -> io::Result<usize> {
        self.open.extend_from_slice(some);
        if some.ends_with(b"\n") {
            self.pass_on()?;
        }
        Ok(some.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.pass_on()?;
        self.to.flush()
    }
}
