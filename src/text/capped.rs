//! Lines from outside, none of them longer than there is room for.

use std::io::{self, BufRead, Read};

use super::limits::LINE_MAX;

/// Reads on from `inner` until a line is longer than [`LINE_MAX`]: that is an error, so that a stream without an end of
/// line never fills the memory, whoever gathers its lines.
pub struct Capped<R> {
    inner: R,
    /// Bytes since the last end of a line.
    line: usize,
}

impl<R: BufRead> Capped<R> {
    pub fn new(inner: R) -> Self {
        Self { inner, line: 0 }
    }
}

impl<R: BufRead> BufRead for Capped<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.line > LINE_MAX {
            let why = tr!(
                "a line is longer than {} KiB; end it sooner",
                LINE_MAX / 1024
            );
            return Err(io::Error::new(io::ErrorKind::InvalidData, why));
        }
        self.inner.fill_buf()
    }

    fn consume(&mut self, amount: usize) {
        // What is consumed was given before and is there still: nothing is read by this.
        let taken = self.inner.fill_buf().ok().and_then(|b| b.get(..amount));
        self.line = match taken.and_then(|b| b.iter().rposition(|b| *b == b'\n')) {
            Some(end) => amount - end - 1,
            None => self.line + amount,
        };
        self.inner.consume(amount);
    }
}

impl<R: BufRead> Read for Capped<R> {
    fn read(&mut self, out: &mut [u8]) -> io::Result<usize> {
        let read = self.fill_buf()?.read(out)?;
        self.consume(read);
        Ok(read)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_lines_are_read_and_one_that_never_ends_is_not() {
        let text = format!("{}\nlast", "x".repeat(LINE_MAX - 1));
        let lines: Vec<String> = Capped::new(text.as_bytes())
            .lines()
            .collect::<Result<_, _>>()
            .unwrap();
        assert_eq!((lines.len(), lines[1].as_str()), (2, "last"));
        let short = "Nf3\n".repeat(LINE_MAX);
        assert_eq!(Capped::new(short.as_bytes()).lines().count(), LINE_MAX);
        let endless = io::BufReader::new(io::repeat(b'x'));
        let mut gathered = Vec::new();
        let refused = Capped::new(endless)
            .read_until(b'\n', &mut gathered)
            .unwrap_err();
        insta::assert_snapshot!(refused, @"a line is longer than 1024 KiB; end it sooner");
        assert!(gathered.len() < 2 * LINE_MAX);
    }
}
