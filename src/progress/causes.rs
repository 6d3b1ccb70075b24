//! Why he missed it: his own words beside the kinds of finding that were computed.

use std::collections::{BTreeMap, HashSet};

use serde::Serialize;

use super::stats::Rate;
use crate::attempt::shown_cause;
use crate::review::FindingKind;

/// A cause that is offered before he has named any of his own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OfferedCause {
    /// Its name for programs; never changes.
    pub code: &'static str,
    /// What he chooses, and what his attempts keep.
    pub words: &'static str,
    /// Words under which it was offered before: attempts explained with them still count as this one. **Better words are
    /// put in the place of `words`, and the old ones go here.**
    pub earlier: &'static [&'static str],
    /// The kinds of finding that say the same (our own choice, no source). For the last two a review has no kind: it
    /// does not know what he knows, and time is counted elsewhere.
    pub kinds: &'static [FindingKind],
}

impl OfferedCause {
    /// The offered cause that these words name or named; `None` for words of his own.
    #[must_use]
    pub fn of(words: &str) -> Option<&'static Self> {
        let words = plain(words);
        let names = |c: &&Self| c.words == words || c.earlier.contains(&words.as_str());
        OFFERED.iter().find(names)
    }
}

pub const OFFERED: [OfferedCause; 7] = [
    OfferedCause {
        code: "reply-not-looked-for",
        words: tr_later!("a cause, behind: because you" => "did not look for his best reply"),
        earlier: &[],
        kinds: &[
            FindingKind::MissedDefence,
            FindingKind::MissedCounterSacrifice,
            FindingKind::MissedThreat,
            FindingKind::BareCandidate,
        ],
    },
    OfferedCause {
        code: "stopped-too-early",
        words: tr_later!("a cause, behind: because you" => "stopped one move too early"),
        earlier: &[],
        kinds: &[FindingKind::StoppedShort, FindingKind::Misjudged],
    },
    OfferedCause {
        code: "one-candidate-only",
        words: tr_later!("a cause, behind: because you" => "looked at one candidate only"),
        earlier: &[],
        kinds: &[FindingKind::MissedCandidate, FindingKind::WrongChoice],
    },
    OfferedCause {
        code: "seen-and-dismissed",
        words: tr_later!("a cause, behind: because you" => "saw it and dismissed it"),
        earlier: &[],
        kinds: &[
            FindingKind::SeenMisjudged,
            FindingKind::FearedTooMuch,
            FindingKind::WrongChoice,
        ],
    },
    OfferedCause {
        code: "board-lost",
        words: tr_later!("a cause, behind: because you" => "lost the picture of the board"),
        earlier: &[],
        kinds: &[FindingKind::IllegalMove],
    },
    OfferedCause {
        code: "idea-unknown",
        words: tr_later!("a cause, behind: because you" => "did not know the idea"),
        earlier: &[],
        kinds: &[],
    },
    OfferedCause {
        code: "short-of-time",
        words: tr_later!("a cause, behind: because you" => "was short of time"),
        earlier: &[],
        kinds: &[],
    },
];

/// Times from which on something is said of a cause.
const SAID_MIN: usize = 3;

/// A cause in his own words beside the kinds of finding that he gave it for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Cause {
    pub words: String,
    pub count: usize,
    /// Kinds in words, with how often.
    pub kinds: Vec<(String, usize)>,
    /// False where he has taken it off his list since.
    pub listed: bool,
    /// How often the review says the same; `None` where no kind of finding belongs to the words.
    pub agrees: Option<usize>,
}

impl Cause {
    /// The words, and whether they are still on his list.
    #[must_use]
    pub fn title(&self) -> String {
        let words = shown_cause(&self.words);
        match self.listed {
            true => words.to_owned(),
            false => tr!("{words} (no longer on your list)"),
        }
    }

    /// 'missed defence 2, stopped short 1'.
    #[must_use]
    pub fn kinds_in_words(&self) -> String {
        let kinds = self.kinds.iter().map(|(k, n)| format!("{k} {n}"));
        kinds.collect::<Vec<_>>().join(", ")
    }

    /// Where his words and the review agree or differ; empty where there is too little, or nothing, to say.
    #[must_use]
    pub fn sentence(&self) -> String {
        let first = self.kinds.first();
        let (Some((kind, most)), true) = (first, self.count >= SAID_MIN) else {
            return String::new();
        };
        match self.agrees {
            Some(same) if same * 2 >= self.count => {
                tr!("The review says the same in {same} of {}.", self.count)
            }
            Some(same) => tr!(
                "The review says otherwise in {} of {}: mostly {kind}.",
                self.count - same,
                self.count
            ),
            None if most * 2 > self.count => {
                tr!("Mostly where the review says {kind}.")
            }
            None => String::new(),
        }
    }
}

/// Counts causes, each given for the kind that was computed. The same words in another case, or with other
/// blanks, are the same cause. The most frequent first. `removed` are plain words of causes that are not on his
/// list any more.
#[must_use]
pub fn causes(given: &[(String, String)], removed: &HashSet<String>) -> Vec<Cause> {
    let mut counts: BTreeMap<String, BTreeMap<&str, usize>> = BTreeMap::new();
    for (text, kind) in given {
        // What was explained with earlier words of an offered cause is counted with it.
        let plain = OfferedCause::of(text).map_or_else(|| plain(text), |c| c.words.to_owned());
        if !plain.is_empty() {
            let kinds = counts.entry(plain).or_default();
            *kinds.entry(kind.as_str()).or_default() += 1;
        }
    }
    let mut causes: Vec<Cause> = counts.into_iter().map(cause).collect();
    for cause in &mut causes {
        cause.listed = !removed.contains(&cause.words);
    }
    causes.sort_by_key(|c| std::cmp::Reverse(c.count));
    causes
}

/// Words in one case, with single blanks.
#[must_use]
pub fn plain(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ").to_lowercase()
}

fn cause((words, kinds): (String, BTreeMap<&str, usize>)) -> Cause {
    let belong = belonging(&words);
    let same = kinds
        .iter()
        .filter(|(name, _)| belong.iter().any(|k| k.code() == **name))
        .map(|(_, n)| n)
        .sum();
    let mut told: Vec<(String, usize)> = kinds
        .iter()
        .map(|(name, n)| (kind_words(name), *n))
        .collect();
    told.sort_by_key(|(_, n)| std::cmp::Reverse(*n));
    Cause {
        count: kinds.values().sum(),
        agrees: (!belong.is_empty()).then_some(same),
        kinds: told,
        listed: true,
        words,
    }
}

fn belonging(words: &str) -> &'static [FindingKind] {
    OfferedCause::of(words).map_or(&[], |cause| cause.kinds)
}

/// A kind's name as words; a name that this program does not know stays what it is.
fn kind_words(name: &str) -> String {
    FindingKind::from_code(name).map_or_else(|| name.replace('-', " "), |k| k.label().to_owned())
}

/// Of all causes that a kind of finding belongs to: how often the two agree.
#[must_use]
pub fn agreement(causes: &[Cause]) -> Rate {
    causes
        .iter()
        .filter_map(|c| c.agrees.map(|same| Rate::new(same as u64, c.count as u64)))
        .fold(Rate::default(), Rate::with)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(rows: &[(&str, &str)]) -> Vec<Cause> {
        let own = |(words, kind): &(&str, &str)| ((*words).to_owned(), (*kind).to_owned());
        let removed = HashSet::from(["tired".to_owned()]);
        causes(&rows.iter().map(own).collect::<Vec<_>>(), &removed)
    }

    #[test]
    fn words_and_review_agree_or_differ() {
        let causes = given(&[
            ("Stopped one  move too early", "stopped-short"),
            ("stopped one move too early", "stopped-short"),
            ("stopped one move too early", "missed-defence"),
            ("lost the picture of the board", "missed-defence"),
            ("lost the picture of the board", "missed-counter-sacrifice"),
            ("lost the picture of the board", "missed-defence"),
            ("lost the picture of the board", "phantom-move"),
            ("tired", "misjudged"),
            ("tired", "misjudged"),
            ("tired", "stopped-short"),
        ]);
        let said: Vec<String> = causes.iter().map(Cause::sentence).collect();
        insta::assert_snapshot!(said.join("\n"), @r"
        The review says otherwise in 3 of 4: mostly missed defence.
        The review says the same in 2 of 3.
        Mostly where the review says misjudged.
        ");
        assert_eq!(causes[2].title(), "tired (no longer on your list)");
        assert_eq!(causes[1].title(), causes[1].words);
        assert_eq!(agreement(&causes), Rate::new(3, 7));
        assert_eq!(causes[0].kinds[1].0, "missed counter-sacrifice");
    }

    #[test]
    fn twice_is_too_little_to_say() {
        let causes = given(&[("tired", "misjudged"), ("tired", "misjudged"), (" ", "x")]);
        assert_eq!(causes.len(), 1);
        assert_eq!(causes[0].sentence(), "");
        assert_eq!(agreement(&causes).of, 0);
    }

    /// Names of kinds stand in the logs of attempts.
    #[test]
    fn every_kind_is_found_by_its_name() {
        for kind in FindingKind::ALL {
            assert_eq!(kind_words(kind.code()), kind.label());
        }
        assert_eq!(kind_words("of-a-later-program"), "of a later program");
    }
}
