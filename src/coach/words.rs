//! Words that were sent, found again in what came back.

/// Words without what other programs do to them: blanks and line breaks, escaped or curly quotes,
/// character references of HTML.
pub(super) fn loosened(words: &str) -> String {
    const FORMS: [(&str, &str); 14] = [
        ("&quot;", "\""),
        ("&#34;", "\""),
        ("&#39;", "'"),
        ("&apos;", "'"),
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&nbsp;", " "),
        ("&amp;", "&"),
        ("\\\"", "\""),
        ("\u{201c}", "\""),
        ("\u{201d}", "\""),
        ("\u{2018}", "'"),
        ("\u{2019}", "'"),
        ("\u{a0}", " "),
    ];
    let mut text = words.to_owned();
    for (form, plain) in FORMS {
        text = text.replace(form, plain);
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What is left of the words at one place once those that were sent are taken away.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Left {
    /// What somebody else wrote, comments joined by a blank.
    pub words: String,
    /// Sent words that are no longer there.
    pub missing: Vec<String>,
}

/// Takes the sent comments out of those that came back: whole comments first, then words within the
/// others, the longest first; only as whole words, and each once.
pub(super) fn left(sent: &[String], back: &[String]) -> Left {
    let mut back: Vec<String> = back.iter().map(|w| loosened(w)).collect();
    let mut open: Vec<(String, &String)> = sent.iter().map(|w| (loosened(w), w)).collect();
    open.retain(|(loose, _)| match back.iter().position(|b| b == loose) {
        Some(at) => {
            back.remove(at);
            false
        }
        None => !loose.is_empty(),
    });
    open.sort_by_key(|(loose, _)| std::cmp::Reverse(loose.len()));
    let mut rest = back.join(" ");
    open.retain(|(loose, _)| match cut(&rest, loose) {
        Some(without) => {
            rest = without;
            false
        }
        None => true,
    });
    Left {
        words: rest,
        missing: open.into_iter().map(|(_, sent)| sent.clone()).collect(),
    }
}

/// The text without the words, where they stand in it as whole words.
fn cut(text: &str, words: &str) -> Option<String> {
    let whole = |at: &usize| {
        let before = text.get(..*at).and_then(|t| t.chars().next_back());
        let behind = text.get(at + words.len()..).and_then(|t| t.chars().next());
        [before, behind].iter().flatten().all(|c| c.is_whitespace())
    };
    let at = text.match_indices(words).map(|(at, _)| at).find(whole)?;
    let before = text.get(..at)?.trim_end();
    let behind = text.get(at + words.len()..)?.trim_start();
    Some(format!("{before} {behind}").trim().to_owned())
}
