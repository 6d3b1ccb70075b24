//! The words of each stop of the review, as pages that scroll.

use crate::attempt::shown_cause;
use crate::review::{Review, coverage_words, depth_words, focus_words};
use crate::tui::forms::review_words::{
    besides, heading, judged_by, on_asking, position, process, unjudged,
};
use crate::tui::screens::review::open_review::OpenReview;
use crate::tui::screens::review::stops::ReviewStop;
use crate::tui::widgets::canvas::TextStyle;
use crate::tui::widgets::page::TextPage;

const HEAD: TextStyle = TextStyle::ALERT.bold();

impl OpenReview {
    /// What is told where it stands.
    pub(super) fn page(&self, width: usize) -> TextPage {
        let mut page = TextPage::new(width);
        match self.stop() {
            None => self.moment_page(&mut page),
            Some(ReviewStop::Summary) => self.summary_page(&mut page),
            Some(ReviewStop::Coach(_)) => self.coach_page(&mut page),
            Some(ReviewStop::Finding(i)) => self.finding_page(&mut page, i),
            Some(ReviewStop::EndCard) => self.end_card_page(&mut page),
            Some(ReviewStop::Note(_)) => self.note_page(&mut page),
            Some(ReviewStop::Unjudged) => self.unjudged_page(&mut page),
        }
        if let (true, Some(review)) = (self.numbers, self.snapshot.whole()) {
            page.gap();
            page.say(&judged_by(review), TextStyle::QUIET);
            page.say(&position(review), TextStyle::QUIET);
        }
        page
    }

    /// A moment that a finding does not tell of.
    fn moment_page(&self, page: &mut TextPage) {
        let Some(moment) = &self.moment else { return };
        page.say(&tr!("Not seen here: {}.", moment.words()), HEAD);
        // As long as the review is not whole, one may still come.
        if self.snapshot.whole().is_some() {
            let words = tr!(
                "No finding was made of it: it changed little, or another one tells it. \
                         n shows the findings."
            );
            page.say(words, TextStyle::PLAIN);
        }
    }

    /// The opening sentence, what held, how deep it went, and what is to come.
    fn summary_page(&self, page: &mut TextPage) {
        let whole = self.snapshot.whole();
        if let Some(opening) = self.snapshot.opening() {
            page.say(opening, TextStyle::PLAIN.bold());
            page.gap();
        }
        let held = self.snapshot.right();
        if held.is_empty() {
            let words = tr!("What held is told once your whole tree is compared.");
            page.say(words, TextStyle::PLAIN);
        }
        for right in held {
            page.say(&tr!("What held: {}", right.note), TextStyle::PLAIN);
        }
        if let Some(review) = whole {
            page.say(&depth_words(&review.depth), TextStyle::QUIET);
        }
        page.gap();
        self.list_of_stops(page);
        for (i, words) in self.attempt.after().second_look().iter().enumerate() {
            if i == 0 {
                page.gap();
            }
            let style = if i == 0 {
                TextStyle::ACCENT
            } else {
                TextStyle::PLAIN
            };
            page.say(words, style);
        }
        let answers = self.attempt.after().answers();
        if !answers.is_empty() {
            page.gap();
            page.say(tr!("Your answers:"), TextStyle::ACCENT);
        }
        for words in answers {
            page.say(&words, TextStyle::PLAIN);
        }
    }

    /// What the review stops at, by its names.
    fn list_of_stops(&self, page: &mut TextPage) {
        let findings = self.snapshot.findings();
        let so_far = if self.snapshot.whole().is_some() {
            ""
        } else {
            tr!(" so far")
        };
        if !self.coach.is_empty() {
            page.say(
                tr!("What your coach said comes first (n)."),
                TextStyle::ACCENT,
            );
        }
        if findings.is_empty() && so_far.is_empty() {
            let words = tr!("Nothing was overlooked: your tree holds.");
            page.say(words, TextStyle::PLAIN.bold());
        } else if !findings.is_empty() {
            let words = tr!("Where your tree and the truth part{so_far} (n):");
            page.say(&words, TextStyle::ACCENT);
        }
        for (i, finding) in findings.iter().enumerate() {
            let kind = heading(finding);
            let place = finding.paths.first().map_or(&[][..], Vec::as_slice);
            let words = match place {
                [] => format!("{kind}: {}", finding.resource),
                path => tr!("{kind}: {} after {}", finding.resource, path.join(" ")),
            };
            page.hanging(&format!("{} ", i + 1), &words, TextStyle::PLAIN);
        }
        self.list_of_the_rest(page);
    }

    fn list_of_the_rest(&self, page: &mut TextPage) {
        let Some(review) = self.snapshot.whole() else {
            return;
        };
        let card = review
            .end_card
            .as_ref()
            .map(|_| tr!("the end of your line as you saw it"));
        let notes = (!review.notes.is_empty()).then_some(tr!("what is worth knowing"));
        let unjudged = (!review.unjudged.is_empty()).then_some(tr!("what could not be judged"));
        let rest: Vec<&str> = [card, notes, unjudged].into_iter().flatten().collect();
        if !rest.is_empty() {
            let words = tr!("Then: {}.", crate::text::list(&rest));
            page.say(&words, TextStyle::QUIET);
        }
    }

    fn coach_page(&self, page: &mut TextPage) {
        let Some(word) = self.coach_word() else {
            return;
        };
        let number = self.coach.iter().position(|w| w == word).unwrap_or(0) + 1;
        let head = tr!("Your coach, {number} of {}", self.coach.len());
        page.say(&head, HEAD);
        page.say(&word.sentence, TextStyle::PLAIN);
        page.gap();
        let words = tr!("A coach's judgement outranks an engine's number.");
        page.say(words, TextStyle::QUIET);
    }

    fn finding_page(&self, page: &mut TextPage, i: usize) {
        let all = self.snapshot.findings();
        let Some(finding) = all.get(i) else { return };
        let so_far = if self.snapshot.whole().is_some() {
            ""
        } else {
            tr!(" so far")
        };
        let head = tr!("{} of {}{so_far}: {}", i + 1, all.len(), heading(finding));
        page.say(&head, HEAD);
        page.say(&finding.sentence, TextStyle::PLAIN);
        for words in besides(finding) {
            page.say(&words, TextStyle::PLAIN);
        }
        page.say(&finding.question, TextStyle::ACCENT);
        for words in self.answers() {
            page.say(&words, TextStyle::QUIET);
        }
        if self.numbers {
            page.gap();
            page.say(&on_asking(finding), TextStyle::QUIET);
        }
    }

    /// What the player has answered to the finding.
    fn answers(&self) -> Vec<String> {
        let why = self.explained().map(|e| match e.text.as_str() {
            "" => tr!("You: {}.", shown_cause(&e.cause)),
            text => tr!("You: {}; {text}.", shown_cause(&e.cause)),
        });
        let note = self.remarked().map(|r| tr!("Your note: {r}"));
        let struck = self.contested();
        let struck = struck.then(|| tr!("You do not let it stand before your coach.").to_owned());
        why.into_iter().chain(note).chain(struck).collect()
    }

    fn end_card_page(&self, page: &mut TextPage) {
        let Some(card) = self.end_card() else { return };
        page.say(tr!("The end of your line, as you saw it"), HEAD);
        for words in &card.sentences {
            page.say(words, TextStyle::PLAIN);
        }
    }

    fn note_page(&self, page: &mut TextPage) {
        let Some(note) = self.note() else { return };
        page.say(tr!("Worth knowing, not counted"), HEAD);
        page.say(&note.sentence, TextStyle::PLAIN);
    }

    fn unjudged_page(&self, page: &mut TextPage) {
        page.say(tr!("What could not be judged"), HEAD);
        let review = self.snapshot.whole();
        for one in review.into_iter().flat_map(|r| &r.unjudged) {
            page.say(&unjudged(one), TextStyle::PLAIN);
        }
    }
}

/// The figures of a review in words, below their pictures.
pub(super) fn figures(page: &mut TextPage, review: &Review) {
    let all = [
        depth_words(&review.depth),
        coverage_words(&review.coverage),
        focus_words(&review.focus),
    ];
    let longest = tr!("Your longest line has {} half-moves.", review.depth.longest);
    for words in all.iter().filter(|w| !w.is_empty()).chain([&longest]) {
        page.say(words, TextStyle::PLAIN);
    }
    for words in review.process.iter().flat_map(process) {
        page.say(&words, TextStyle::PLAIN);
    }
}
