//! One line of the journal: `CHECKSUM SEQ VERSION KEY JSON`.

use super::value;

/// One change: a value put under a key, or a key removed (`json` is `None`).
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Entry {
    /// 1, 2, 3 … over the life of the store.
    pub(super) seq: u64,
    pub(super) version: u32,
    pub(super) key: String,
    pub(super) json: Option<String>,
    /// The next entry belongs to the same step.
    pub(super) joined: bool,
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
            joined: false,
        })
    }

    pub(super) fn line(&self) -> String {
        let body = self.body();
        format!("{:08x} {body}\n", crc32fast::hash(body.as_bytes()))
    }

    /// The checksum of its line.
    pub(super) fn sum(&self) -> u32 {
        crc32fast::hash(self.body().as_bytes())
    }

    /// The log of an event, up to its number, and the number; `None` for a record.
    pub(super) fn event(&self) -> Option<(&str, u64)> {
        let key = self.key.as_str();
        let at = key.strip_prefix("e/").and(key.rfind('/'))? + 1;
        Some((key.get(..at)?, key.get(at..)?.parse().ok()?))
    }

    fn body(&self) -> String {
        let json = self.json.as_deref().unwrap_or("-");
        let joined = if self.joined { "+" } else { "" };
        format!("{} {}{joined} {} {json}", self.seq, self.version, self.key)
    }

    /// The number of the entry on a line that is as it was written.
    pub(super) fn number(line: &str) -> Option<u64> {
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
        let number = seq(fields.next()?)?;
        let version = fields.next()?;
        let last = version.strip_suffix('+');
        Some(Self {
            seq: number,
            version: last.unwrap_or(version).parse().ok()?,
            joined: last.is_some(),
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
