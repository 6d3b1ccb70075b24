//! Short names: four letters and digits for each attempt and each game, to be typed.
//!
//! A short name is the beginning of a sum over the whole name, so it is the same in every window and at every time, and
//! does not change when others come or go. Where two in one home begin alike, both are shown as long as it takes; every
//! beginning that fits one alone is understood.

use std::collections::HashMap;
use std::hash::Hasher;

/// Shortest that is shown or understood.
pub(crate) const LEAST: usize = 4;
/// Letters and digits that are not taken for each other and make no words.
const SIGNS: &[u8; 27] = b"bcdfghjkmnpqrstvwxz23456789";
/// Signs of a whole sum of 64 bits.
const ALL: usize = 14;

/// The short names of everything in a home.
#[derive(Debug, Default)]
pub struct ShortNames {
    /// The whole sum of each name, sorted, with the name.
    sums: Vec<(String, String)>,
    shown: HashMap<String, String>,
}

impl ShortNames {
    /// Of these names; each is there once.
    pub(crate) fn of<'a>(names: impl Iterator<Item = &'a str>) -> Self {
        let mut sums: Vec<(String, String)> = names.map(|n| (sum(n), n.to_owned())).collect();
        sums.sort();
        let alike = |at: usize, other: Option<usize>| {
            let other = other.and_then(|other| sums.get(other));
            let (one, _) = sums.get(at)?;
            let pairs = one.bytes().zip(other?.0.bytes());
            Some(pairs.take_while(|(a, b)| a == b).count())
        };
        let length = |at: usize| {
            let before = alike(at, at.checked_sub(1)).unwrap_or(0);
            let after = alike(at, Some(at + 1)).unwrap_or(0);
            (before.max(after) + 1).clamp(LEAST, ALL)
        };
        let shown = sums.iter().enumerate();
        let shown = shown.map(|(at, (sum, name))| {
            let short = sum.get(..length(at)).unwrap_or(sum);
            (name.clone(), short.to_owned())
        });
        Self {
            shown: shown.collect(),
            sums,
        }
    }

    /// The short name as it is shown; the whole name where it is none of these.
    #[must_use]
    pub fn shown<'a>(&'a self, name: &'a str) -> &'a str {
        self.shown.get(name).map_or(name, String::as_str)
    }

    /// The names whose short name begins so, or the name itself. Case does not matter.
    #[must_use]
    pub fn find(&self, text: &str) -> Vec<&str> {
        if let Some((name, _)) = self.shown.get_key_value(text) {
            return vec![name];
        }
        let text = text.to_ascii_lowercase();
        if text.len() < LEAST {
            return Vec::new();
        }
        let from = self.sums.partition_point(|(sum, _)| *sum < text);
        let found = self.sums.iter().skip(from);
        let found = found.take_while(|(sum, _)| sum.starts_with(&text));
        found.map(|(_, name)| name.as_str()).collect()
    }
}

fn sum(name: &str) -> String {
    let mut hasher = xxhash_rust::xxh3::Xxh3::new();
    hasher.write(name.as_bytes());
    let mut rest = hasher.finish();
    let signs = SIGNS.len() as u64;
    let mut out = String::with_capacity(ALL);
    for _ in 0..ALL {
        let sign = usize::try_from(rest % signs)
            .ok()
            .and_then(|at| SIGNS.get(at));
        out.push(char::from(*sign.unwrap_or(&SIGNS[0])));
        rest /= signs;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(n: usize) -> Vec<String> {
        (0..n).map(|i| format!("17959406{i:05}-0000")).collect()
    }

    /// Written down once: what is typed today must be understood for ever.
    #[test]
    fn a_short_name_never_changes() {
        let one = ["1795940686881-0000"];
        let short = ShortNames::of(one.into_iter());
        insta::assert_snapshot!(short.shown(one[0]), @"nchn");
    }

    #[test]
    fn among_many_each_is_found_by_what_is_shown_and_by_its_whole_name() {
        let names = names(20_000);
        let short = ShortNames::of(names.iter().map(String::as_str));
        let mut lengths = std::collections::BTreeMap::new();
        for name in &names {
            let shown = short.shown(name);
            assert_eq!(short.find(shown), [name.as_str()]);
            assert_eq!(short.find(&shown.to_uppercase()), [name.as_str()]);
            assert_eq!(short.find(name), [name.as_str()]);
            *lengths.entry(shown.len()).or_insert(0) += 1;
        }
        // Of 531,441 beginnings of four signs 20,000 names hit few twice.
        assert!(lengths[&LEAST] > 18_000, "{lengths:?}");
        assert_eq!(short.find("bcd"), [""; 0], "too short to be meant");
        assert_eq!(short.find("last"), [""; 0]);
    }

    #[test]
    fn a_beginning_of_several_names_them_all() {
        let names = names(20_000);
        let short = ShortNames::of(names.iter().map(String::as_str));
        let long = names.iter().find(|n| short.shown(n).len() > LEAST).unwrap();
        let found = short.find(&short.shown(long)[..LEAST]);
        assert!(found.len() > 1 && found.contains(&long.as_str()));
    }
}
