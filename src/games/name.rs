//! Whether a name in a file is the player's.

use std::collections::BTreeSet;

/// How sure it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Same {
    Yes,
    /// It may be: the player is asked.
    Perhaps,
    No,
}

/// Titles of FIDE and of life that stand before or behind a name.
const TITLES: [&str; 18] = [
    "gm", "im", "fm", "cm", "wgm", "wim", "wfm", "wcm", "nm", "dr", "prof", "mr", "mrs", "ms",
    "jr", "sr", "ii", "iii",
];

/// Letters without marks, for the alphabets that Latin names are mostly written in.
const PLAIN: [(&str, &str); 24] = [
    ("àáâãåāăą", "a"),
    ("çćčĉċ", "c"),
    ("ďđð", "d"),
    ("èéêëēĕėęě", "e"),
    ("ĝğġģ", "g"),
    ("ĥħ", "h"),
    ("ìíîïĩīĭįı", "i"),
    ("ĵ", "j"),
    ("ķ", "k"),
    ("ĺļľŀł", "l"),
    ("ñńņňŋ", "n"),
    ("òóôõōŏő", "o"),
    ("ŕŗř", "r"),
    ("śŝşšș", "s"),
    ("ţťŧț", "t"),
    ("ùúûũūŭůűų", "u"),
    ("ŵ", "w"),
    ("ýÿŷ", "y"),
    ("źżž", "z"),
    ("ä", "ae"),
    ("öø", "oe"),
    ("ü", "ue"),
    ("æ", "ae"),
    ("ß", "ss"),
];

/// The words of a name in small plain letters, sorted: equal for `Verrick, Ansa` and `Ansa VERRICK`.
#[must_use]
pub fn words(name: &str) -> Vec<String> {
    let bare = name.split(['(', '[']).next().unwrap_or(name);
    let mut plain = String::with_capacity(bare.len());
    for c in bare.chars().flat_map(char::to_lowercase) {
        match PLAIN.iter().find(|(of, _)| of.contains(c)) {
            Some((_, to)) => plain.push_str(to),
            None if c.is_alphanumeric() => plain.push(c),
            None if matches!(c, '\'' | '’') => {}
            None => plain.push(' '),
        }
    }
    let kept = plain.split_whitespace().filter(|w| !TITLES.contains(w));
    let mut words: Vec<String> = kept.map(str::to_owned).collect();
    words.sort();
    words
}

/// The words as one text: the key under which a player's games are compared.
#[must_use]
pub fn key(name: &str) -> String {
    words(name).join(" ")
}

/// Whether `name` is a way of writing `player`.
///
/// The same words in any order are the same name; titles, case, marks on letters and what stands in
/// brackets do not count (`ä` is `ae`, and also close to `a`). Not sure: initials, a missing or added
/// word, one letter written differently.
#[must_use]
pub fn same(player: &str, name: &str) -> Same {
    let (a, b) = (words(player), words(name));
    if a.is_empty() || b.is_empty() {
        Same::No
    } else if a == b {
        Same::Yes
    } else if may_be(&a, &b) {
        Same::Perhaps
    } else {
        Same::No
    }
}

/// Every word of the shorter name has its own in the longer, and at least one of them is no initial.
fn may_be(a: &[String], b: &[String]) -> bool {
    let (short, long) = if a.len() <= b.len() { (a, b) } else { (b, a) };
    let mut left: BTreeSet<usize> = (0..long.len()).collect();
    let mut whole = false;
    // Whole words first, so that an initial does not take the place of one.
    let mut order: Vec<&String> = short.iter().collect();
    order.sort_by_key(|w| std::cmp::Reverse(w.len()));
    for word in order {
        let of = |test: &dyn Fn(&str, &str) -> bool| {
            let mut places = left.iter().copied();
            places.find(|i| long.get(*i).is_some_and(|l| test(word, l)))
        };
        let found = of(&|a, b| a == b)
            .or_else(|| of(&close))
            .or_else(|| of(&initial));
        let Some(place) = found else { return false };
        whole |= long
            .get(place)
            .is_some_and(|l| l.len().min(word.len()) >= 3);
        left.remove(&place);
    }
    whole
}

fn initial(a: &str, b: &str) -> bool {
    let one = |s: &str| s.chars().count() == 1;
    (one(a) || one(b)) && a.chars().next() == b.chars().next()
}

/// At most one letter is missing, added, replaced or swapped with its neighbour; words of four letters
/// and more. (The distance of F. Damerau, 1964, from memory.)
fn close(a: &str, b: &str) -> bool {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    if a.len().min(b.len()) < 4 || a.len().abs_diff(b.len()) > 1 {
        return false;
    }
    let same = |mut pairs: std::iter::Zip<std::slice::Iter<char>, std::slice::Iter<char>>| {
        pairs.position(|(x, y)| x != y)
    };
    let Some(at) = same(a.iter().zip(b.iter())) else {
        return true;
    };
    let tail = |s: &[char], from: usize| s.get(from..).unwrap_or_default().to_vec();
    tail(&a, at + 1) == tail(&b, at + 1)
        || tail(&a, at + 1) == tail(&b, at)
        || tail(&a, at) == tail(&b, at + 1)
        || (a.get(at) == b.get(at + 1)
            && a.get(at + 1) == b.get(at)
            && tail(&a, at + 2) == tail(&b, at + 2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_name_in_many_dresses() {
        for name in [
            "Verrick, Ansa",
            "Ansa Verrick",
            "VERRICK Ansa (1902)",
            "WFM Verrick,Ansa",
            "  Verrick ,  Ansa ",
        ] {
            assert_eq!(same("Ansa Verrick", name), Same::Yes, "{name}");
        }
        assert_eq!(same("Tove Müller", "Mueller, Tove"), Same::Yes);
        assert_eq!(same("O'Dell, Tove", "Tove ODell"), Same::Yes);
    }

    #[test]
    fn what_is_asked() {
        for name in [
            "Verrick, A.",
            "Verrick",
            "Verrick, Ansa Maria",
            "Verick, Ansa",
            "Verrikc, Ansa",
            "Verrick, Anse",
        ] {
            assert_eq!(same("Ansa Verrick", name), Same::Perhaps, "{name}");
        }
    }

    #[test]
    fn what_is_somebody_else() {
        for name in [
            "Pell, Doran",
            "",
            "?",
            "Verrick, Bram",
            "A.",
            "Ansa M. Pell",
        ] {
            assert_eq!(same("Ansa Verrick", name), Same::No, "{name}");
        }
        assert_eq!(same("", ""), Same::No);
    }
}
