//! The coach's part of what came back.

use jiff::civil::Date;

use super::brought::{Assignment, CoachImport};
use super::gathered::{Gathered, Said};
use super::order::{Order, looks_like_an_order, orders};
use super::send::is_circumstance;
use super::words::{left, loosened};
use crate::attempt::{
    Attempt, AttemptEvent, Coached, FindingSelector, Remark, Remarks, SentFinding,
};
use crate::board::Line;
use crate::text::FIELD_MAX;
use crate::tree::{NodeId, Verdict};

pub(super) struct Merge<'a> {
    pub attempt: &'a Attempt,
    /// The coaches' layer, with the new moves of the file already in it.
    pub coached: Coached,
    pub by: &'a str,
    pub wall_ms: i64,
    pub sent: Gathered,
    pub back: Gathered,
    pub taken: CoachImport,
}

impl Merge<'_> {
    pub(super) fn taken(mut self) -> CoachImport {
        self.lines();
        let places: Vec<NodeId> = self.back.places.keys().copied().collect();
        for node in places {
            let back = self.back.places.get(&node).cloned().unwrap_or_default();
            let sent = self.sent.places.get(&node).cloned().unwrap_or_default();
            self.verdict(node, &sent, &back);
            self.glyphs(node, &back);
            self.words(node, &sent, &back);
        }
        self.missing();
        self.main_line();
        self.taken
    }

    fn remark(&mut self, remark: Remark) {
        self.taken.events.push(AttemptEvent::Coached {
            by: self.by.to_owned(),
            wall_ms: self.wall_ms,
            remark,
        });
    }

    fn path(&self, node: NodeId) -> Vec<String> {
        self.coached.tree().sans(node)
    }

    /// 'after Nd4 Qa5', or 'before the first move'.
    fn place(&self, node: NodeId) -> String {
        match self.path(node).join(" ") {
            path if path.is_empty() => tr!("before the first move").to_owned(),
            path => tr!("after {path}"),
        }
    }

    fn own(&self, node: NodeId) -> Remarks {
        let own = self.coached.remarks_by(node, self.by);
        own.cloned().unwrap_or_default()
    }

    fn lines(&mut self) {
        let added = std::mem::take(&mut self.back.added);
        for (node, remark) in &added {
            let goes_on = |(_, r): &(NodeId, Remark)| matches!(r, Remark::Added { parent, .. } if parent == node);
            if !added.iter().any(goes_on) {
                let line = self.path(*node);
                self.taken.lines.push(line);
            }
            self.remark(remark.clone());
        }
    }

    fn verdict(&mut self, node: NodeId, sent: &Said, back: &Said) {
        let known = self.own(node).verdict;
        let new: Vec<Verdict> = back
            .verdicts
            .iter()
            .filter(|v| !sent.verdicts.contains(v) && Some(**v) != known)
            .copied()
            .collect();
        match new.as_slice() {
            [] if back.verdicts.is_empty() && !sent.verdicts.is_empty() => {
                let words = tr!("the verdict {}", self.place(node));
                self.taken.kept.push(words);
            }
            [] => {}
            [verdict] => {
                let words = format!("{}: {}", self.place(node), in_words(*verdict));
                self.taken.judged.push(words);
                self.remark(Remark::Judged {
                    node,
                    verdict: *verdict,
                });
            }
            several => {
                let several: Vec<String> = several.iter().map(|v| in_words(*v)).collect();
                let words = tr!(
                    "{} there are several new verdicts: {}; none was taken",
                    self.place(node),
                    several.join(", ")
                );
                self.taken.conflicts.push(words);
            }
        }
    }

    fn glyphs(&mut self, node: NodeId, back: &Said) {
        let known = self.own(node).nags;
        if back.nags.iter().all(|n| known.contains(n)) {
            return;
        }
        let mut nags = known;
        nags.extend(&back.nags);
        nags.sort_unstable();
        nags.dedup();
        let told: Vec<String> = nags.iter().map(|n| format!("${n}")).collect();
        let words = format!("{}: {}", self.place(node), told.join(" "));
        self.taken.judged.push(words);
        self.remark(Remark::Marked { node, nags });
    }

    fn words(&mut self, node: NodeId, sent: &Said, back: &Said) {
        let mut known = sent.comments.clone();
        // Of notes an older program wrote times that nobody had taken.
        known.extend((!self.attempt.is_timed()).then(|| "Written at 0:00.".to_owned()));
        let mut left = left(&known, &back.comments);
        // Times and the review's words are not the player's: a coach may well delete them.
        left.missing
            .retain(|w| !self.is_told(w) && !is_circumstance(w));
        if left.words.is_empty() {
            for words in left.missing {
                let kept = tr!("the comment '{words}' {}", self.place(node));
                self.taken.kept.push(kept);
            }
            return;
        }
        if left.words.len() > FIELD_MAX {
            let conflict = tr!(
                "{} the new words are longer than {FIELD_MAX} bytes; they were not taken",
                self.place(node)
            );
            self.taken.conflicts.push(conflict);
            return;
        }
        if left.words == loosened(&self.own(node).words) {
            return;
        }
        for words in &left.missing {
            let conflict = tr!(
                "{} the sent comment '{words}' is not there; it stays, and '{}' is kept as the coach's",
                self.place(node),
                left.words
            );
            self.taken.conflicts.push(conflict);
        }
        self.orders(node, &left.words);
        let path = self.path(node);
        self.taken.said.push((path, left.words.clone()));
        self.remark(Remark::Said {
            node,
            text: left.words,
        });
    }

    fn is_told(&self, words: &str) -> bool {
        self.coached.told().iter().any(|t| t.text == words)
    }

    fn orders(&mut self, node: NodeId, words: &str) {
        let orders = orders(words);
        if orders.is_empty() && looks_like_an_order(words) {
            let conflict = tr!(
                "{} '{words}' was taken as words, not as an order: a colon belongs behind its first word, numbers or a day (2026-12-05) between the two",
                self.place(node)
            );
            self.taken.conflicts.push(conflict);
        }
        for order in orders {
            match order {
                Order::Homework { due, words } => self.homework(node, due, words),
                Order::Overruled { numbers, reason } => {
                    for finding in self.named(node, &numbers) {
                        self.overrule(finding, &reason);
                    }
                }
                Order::Upheld { numbers } => {
                    for finding in self.named(node, &numbers) {
                        self.uphold(finding);
                    }
                }
            }
        }
    }

    /// Sets a position as homework; said again it is set again where the day is another one.
    fn homework(&mut self, node: NodeId, due: Option<Date>, words: String) {
        let due = due.map(|d| d.to_string());
        let own = self.own(node);
        if own.homework && own.due == due {
            return;
        }
        let open = |line: &Line| line.rule().is_none();
        if !self.coached.tree().line(node).as_ref().is_some_and(open) {
            let conflict = tr!(
                "{} there is no position to think about: a move before it is not possible, or the game is over; it was not set as homework",
                self.place(node)
            );
            return self.taken.conflicts.push(conflict);
        }
        let path = self.path(node);
        self.taken.homework.push(path.clone());
        self.taken.tasks.push(Assignment {
            node,
            path,
            due: due.clone(),
            words,
        });
        self.remark(Remark::Homework { node, due });
    }

    /// The findings an order is about: by number, or those of the place.
    fn named(&mut self, node: NodeId, numbers: &[usize]) -> Vec<FindingSelector> {
        let told: Vec<SentFinding> = self.coached.told().to_vec();
        let mut named = Vec::new();
        for number in numbers {
            match number.checked_sub(1).and_then(|n| told.get(n)) {
                Some(told) => named.push(told.finding.clone()),
                None => self.taken.conflicts.push(tr!(
                    "{} finding {number} is ruled on, but {} sent",
                    self.place(node),
                    match told.len() {
                        0 => tr!("none were").to_owned(),
                        n => tr!(n; "only 1 was" | "only {n} were"),
                    }
                )),
            }
        }
        if !numbers.is_empty() {
            return named;
        }
        let path = self.path(node);
        named.extend(
            told.iter()
                .filter(|t| t.finding.path == path)
                .map(|t| t.finding.clone()),
        );
        match (named.is_empty(), told.is_empty()) {
            // Sent without the review: he rules on whatever is found there.
            (true, true) => named.push(FindingSelector {
                path,
                kind: None,
                resource: None,
            }),
            (true, false) => self.taken.conflicts.push(tr!(
                "{} a finding is ruled on, but none was sent there; write its number, as in 'Overruled 1:'",
                self.place(node)
            )),
            _ => {}
        }
        named
    }

    fn is_struck(&self, finding: &FindingSelector) -> bool {
        let mut struck = self.coached.overruled().iter();
        struck.any(|o| o.finding == *finding)
    }

    fn overrule(&mut self, finding: FindingSelector, reason: &str) {
        if self.is_struck(&finding) {
            return;
        }
        self.taken.overruled.push(describe(&finding));
        self.taken.events.push(AttemptEvent::Overruled {
            by: self.by.to_owned(),
            wall_ms: self.wall_ms,
            finding,
            reason: reason.to_owned(),
        });
    }

    /// What one coach struck only he lets stand again.
    fn uphold(&mut self, finding: FindingSelector) {
        let mut struck = self.coached.overruled().iter();
        let Some(struck) = struck.find(|o| o.finding == finding) else {
            return;
        };
        if struck.by != self.by {
            let conflict = tr!(
                "{} was struck by {}, and only he lets it stand again",
                describe(&finding),
                struck.by
            );
            return self.taken.conflicts.push(conflict);
        }
        self.taken.upheld.push(describe(&finding));
        self.taken.events.push(AttemptEvent::Upheld {
            by: self.by.to_owned(),
            wall_ms: self.wall_ms,
            finding,
        });
    }

    fn missing(&mut self) {
        let gone: Vec<NodeId> = self
            .sent
            .places
            .keys()
            .filter(|n| !self.back.places.contains_key(n))
            .copied()
            .collect();
        let heads = gone.iter().filter(|n| {
            let parent = self.coached.tree().parent(**n);
            !parent.is_some_and(|p| gone.contains(&p))
        });
        let kept: Vec<String> = heads
            .map(|n| tr!("the line {}", self.path(*n).join(" ")))
            .collect();
        self.taken.kept.extend(kept);
    }

    /// Another main line is told, and is no choice of the player's.
    fn main_line(&mut self) {
        let chosen = self.attempt.choice();
        let first = self.back.main;
        if let (Some(chosen), Some(first)) = (chosen.filter(|c| self.sent.main == Some(*c)), first)
            && chosen != first
        {
            let (old, new) = (self.path(chosen).join(" "), self.path(first).join(" "));
            let kept = tr!("the choice {old} (the file's main line is {new} now)");
            self.taken.kept.push(kept);
        }
    }
}

fn describe(finding: &FindingSelector) -> String {
    let what = match &finding.kind {
        Some(kind) => kind.replace('-', " "),
        None => tr!("whatever is found").to_owned(),
    };
    let resource = finding.resource.as_ref().map(|r| format!(" ({r})"));
    let place = match finding.path.join(" ") {
        path if path.is_empty() => tr!("at the root").to_owned(),
        path => tr!("after {path}"),
    };
    format!("{what}{} {place}", resource.unwrap_or_default())
}

fn in_words(verdict: Verdict) -> String {
    verdict.words()
}
