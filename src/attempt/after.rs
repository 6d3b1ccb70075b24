//! What a player adds once his tree is locked: apart from the tree, which stays as it was.

use std::collections::{BTreeMap, BTreeSet};

use super::{AttemptEvent, FindingId};
use crate::text::clock;

/// Why a finding was missed, in the player's own words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explained {
    /// One of his causes.
    pub cause: String,
    /// His words; may be empty.
    pub text: String,
}

/// Everything added after the lock.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct After {
    pub(super) looked_again_ms: Option<u64>,
    pub(super) seen: Vec<(u64, String)>,
    pub(super) doubts: Vec<(u64, String)>,
    pub(super) explained: BTreeMap<FindingId, Explained>,
    pub(super) remarks: BTreeMap<FindingId, String>,
    pub(super) contested: BTreeSet<FindingId>,
}

impl After {
    /// When the second look began, in milliseconds of sitting time.
    #[must_use]
    pub fn looked_again_ms(&self) -> Option<u64> {
        self.looked_again_ms
    }

    /// What was seen in the second look, with the sitting time of each in milliseconds.
    #[must_use]
    pub fn seen(&self) -> &[(u64, String)] {
        &self.seen
    }

    /// The second look in words: a line that opens it, then what was seen, each with its time; empty where
    /// he did not look again.
    #[must_use]
    pub fn second_look(&self) -> Vec<String> {
        let Some(began) = self.looked_again_ms else {
            return Vec::new();
        };
        let mut words = vec![tr!("Your second look, before the review:").to_owned()];
        if self.seen.is_empty() {
            words.push(tr!("nothing new").to_owned());
        }
        words.extend(self.seen.iter().map(|(at, seen)| {
            let at = clock(at.saturating_sub(began));
            tr!("{at} in: {seen}")
        }));
        words
    }

    /// What he answered to the review, in sentences.
    #[must_use]
    pub fn answers(&self) -> Vec<String> {
        let explained = self.explained.iter().map(|(spot, why)| {
            let text = match why.text.as_str() {
                "" => String::new(),
                text => format!("; {text}"),
            };
            // TRANSLATORS: a move, one of the causes ('stopped one move too early'), and his own words.
            tr!(
                "On {}: because you {}{text}.",
                spot.resource,
                shown_cause(&why.cause)
            )
        });
        let remarks = self.remarks.iter();
        let remarks = remarks.map(|(spot, text)| tr!("On {}: {text}", spot.resource));
        let contested = self.contested.iter().map(|spot| {
            let resource = &spot.resource;
            tr!("On {resource}: you do not let it stand before your coach.")
        });
        let doubts = self.doubts.iter();
        let doubts = doubts.map(|(_, line)| tr!("You held against it: {line}"));
        explained
            .chain(remarks)
            .chain(contested)
            .chain(doubts)
            .collect()
    }

    /// The causes the player gave, finding by finding: for counting.
    #[must_use]
    pub fn explained(&self) -> &BTreeMap<FindingId, Explained> {
        &self.explained
    }

    /// His words on findings.
    #[must_use]
    pub fn remarks(&self) -> &BTreeMap<FindingId, String> {
        &self.remarks
    }

    /// The findings he does not let stand before his coach.
    #[must_use]
    pub fn contested(&self) -> &BTreeSet<FindingId> {
        &self.contested
    }

    /// Takes what belongs here; false for every other event.
    pub(super) fn take(&mut self, at_ms: u64, what: &AttemptEvent) -> bool {
        match what {
            AttemptEvent::Doubted { line } => self.doubts.push((at_ms, line.clone())),
            AttemptEvent::SecondLook => {
                self.looked_again_ms.get_or_insert(at_ms);
            }
            AttemptEvent::NowSeen { text } => self.seen.push((at_ms, text.clone())),
            AttemptEvent::Explained { spot, cause, text } => self.explain(spot, cause, text),
            AttemptEvent::Remarked { spot, text } if text.trim().is_empty() => {
                self.remarks.remove(spot);
            }
            AttemptEvent::Remarked { spot, text } => {
                self.remarks.insert(spot.clone(), text.trim().to_owned());
            }
            AttemptEvent::Contested { spot, struck: true } => {
                self.contested.insert(spot.clone());
            }
            AttemptEvent::Contested { spot, .. } => {
                self.contested.remove(spot);
            }
            _ => return false,
        }
        true
    }

    fn explain(&mut self, spot: &FindingId, cause: &str, text: &str) {
        let explained = Explained {
            cause: cause.to_owned(),
            text: text.trim().to_owned(),
        };
        self.explained.insert(spot.clone(), explained);
    }
}

impl AttemptEvent {
    /// True for what is only added once the tree is locked.
    #[must_use]
    pub fn is_after(&self) -> bool {
        matches!(
            self,
            Self::Doubted { .. }
                | Self::SecondLook
                | Self::NowSeen { .. }
                | Self::Explained { .. }
                | Self::Remarked { .. }
                | Self::Contested { .. }
        )
    }
}

/// A cause as he gave it, in the language of this run where it is an offered one: what is kept is English.
#[must_use]
pub fn shown_cause(cause: &str) -> &str {
    crate::translation::shown("a cause, behind: because you", cause)
}
