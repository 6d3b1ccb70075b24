//! An attempt as one game in export format.

use crate::attempt::{Attempt, FindingSelector, SentFinding};
use crate::board::line;
use crate::review::{Finding, FindingStatus, Review};
use crate::text::clock;
use crate::tree::pgn::write_tree_with;
use crate::tree::{NodeId, Tree, Verdict};

/// The tag that names the attempt, so that the answer finds it again.
const ATTEMPT: &str = "Attempt";

/// How every sentence on homework begins, so that it is known again for no word of the coach's.
pub const TASK: &str = "Task of ";

/// What is sent.
#[derive(Debug, Clone, Copy)]
pub struct CoachExport<'a> {
    pub attempt: &'a Attempt,
    /// The name of the attempt.
    pub id: &'a str,
    /// The player's name, where he gives one.
    pub player: Option<&'a str>,
    /// Findings of a review as a second layer; none where the coach is to think first.
    pub told: &'a [SentFinding],
    /// Sentences on homework, each of [`TASK`].
    pub homework: &'a [String],
}

/// The name of the attempt in a game's tags.
#[must_use]
pub fn tag(game: &crate::tree::pgn::Game) -> Option<&str> {
    game.tag(ATTEMPT)
}

/// The attempt as PGN: the player's tree as he wrote it, verdicts as glyphs, times and words as comments,
/// one comment for each, moves that are not legal and struck ones in comments where they stood.
#[must_use]
pub fn written(letter: &CoachExport<'_>) -> String {
    let attempt = letter.attempt;
    let mut tree = attempt.tree().clone();
    let nodes: Vec<NodeId> = tree.nodes().map(|(id, _)| id).collect();
    for id in nodes {
        let comments = comments(letter, id);
        // The node exists: it was listed above.
        let set = tree.set_comment(id, &comments.join("\n"));
        debug_assert!(set.is_ok(), "{set:?}");
    }
    let mut first = circumstances(attempt);
    first.extend(letter.homework.iter().cloned());
    first.extend(behind(letter, NodeId::ROOT));
    write_tree_with(&tree, &tags(letter), attempt.choice(), &first.join("\n"))
}

fn tags(letter: &CoachExport<'_>) -> Vec<(String, String)> {
    let side = match letter.attempt.tree().root().player() {
        shakmaty::Color::White => "White",
        shakmaty::Color::Black => "Black",
    };
    let mut tags = vec![
        ("Event", "Written variations".to_owned()),
        ("Date", date(letter.attempt)),
        (ATTEMPT, letter.id.to_owned()),
    ];
    if let Some(player) = letter.player {
        tags.push((side, player.to_owned()));
        tags.push(("Annotator", player.to_owned()));
    }
    tags.into_iter().map(|(n, v)| (n.to_owned(), v)).collect()
}

/// The day in the form of the Date tag (section 8.1.1.3), in universal time; unknown for notes that were
/// written elsewhere.
fn date(attempt: &Attempt) -> String {
    let at = jiff::Timestamp::from_millisecond(attempt.opened().wall_ms).ok();
    at.filter(|_| attempt.is_timed())
        .map(|t| t.strftime("%Y.%m.%d").to_string())
        .unwrap_or_else(|| "????.??.??".to_owned())
}

/// True for a comment about the sitting: when something was written, what was played before.
pub(super) fn is_circumstance(comment: &str) -> bool {
    let starts = ["Written at ", "Time used: ", "Played before: ", TASK];
    starts.iter().any(|s| comment.starts_with(s))
}

fn circumstances(attempt: &Attempt) -> Vec<String> {
    let mut words = Vec::new();
    let root = attempt.tree().root();
    if !root.past().is_empty() {
        let played = line::sans(root.start(), root.past()).join(" ");
        words.push(format!("Played before: {played}."));
    }
    if let (Some(from), Some(to), true) = (
        attempt.started_ms(),
        attempt.locked_ms(),
        attempt.is_timed(),
    ) {
        let used = clock(to.saturating_sub(from));
        words.push(match attempt.opened().budget_ms {
            Some(budget) => format!("Time used: {used} of {}.", clock(budget)),
            None => format!("Time used: {used}."),
        });
    }
    let start = attempt.started_ms().unwrap_or(0);
    for (at_ms, text) in attempt.after().seen() {
        let at = clock(at_ms.saturating_sub(start));
        words.push(format!("Second look, at {at}: {text}"));
    }
    words
}

fn comments(letter: &CoachExport<'_>, id: NodeId) -> Vec<String> {
    let attempt = letter.attempt;
    let Some(node) = attempt.tree().node(id) else {
        return Vec::new();
    };
    let start = attempt.started_ms().unwrap_or(0);
    let at = clock(node.at_ms.saturating_sub(start));
    let mut words = Vec::new();
    words.extend(attempt.is_timed().then(|| format!("Written at {at}.")));
    words.extend(node.comment.lines().map(str::to_owned));
    words.extend(beside(attempt, id));
    words.extend(behind(letter, id));
    words
}

/// What the player set on a move beside verdict and words.
fn beside(attempt: &Attempt, id: NodeId) -> Vec<String> {
    let tree = attempt.tree();
    let mut words = Vec::new();
    if tree.node(id).is_some_and(|n| n.only) {
        words.push("A candidate only, no line on purpose.".to_owned());
    }
    if let Some(other) = tree.node(id).and_then(|n| n.same_as) {
        words.push(format!("The same as after {}.", tree.sans(other).join(" ")));
    }
    if let Some(card) = attempt.end_card().filter(|c| c.node == id) {
        words.push(card.words());
    }
    words
}

/// What is told about a place beside its own words: struck moves, findings.
fn behind(letter: &CoachExport<'_>, id: NodeId) -> Vec<String> {
    let tree = letter.attempt.tree();
    let mut words = Vec::new();
    for child in tree.children(id) {
        if tree.node(*child).is_some_and(|n| n.struck) {
            words.push(format!("Struck out: {}", plain(tree, *child)));
        }
    }
    let path = tree.sans(id);
    let here = letter.told.iter().filter(|t| t.finding.path == path);
    words.extend(here.map(|t| t.text.clone()));
    words
}

/// A struck move and all below it as text.
fn plain(tree: &Tree, id: NodeId) -> String {
    let Some(node) = tree.node(id) else {
        return String::new();
    };
    let mut text = node.text.clone();
    if let Some(verdict) = node.verdict {
        text += &match verdict {
            Verdict::Percent(p) => format!(" {p}%"),
            sign => format!(" {sign}"),
        };
    }
    if !node.comment.is_empty() {
        text += &format!(" «{}»", node.comment);
    }
    let (first, others) = match tree.children(id) {
        [] => return text,
        [first, others @ ..] => (first, others),
    };
    let main = plain(tree, *first);
    let others: String = others
        .iter()
        .map(|o| format!(" ({})", plain(tree, *o)))
        .collect();
    format!("{text} {main}{others}")
}

/// The findings of a review as they are sent: what counts, and what only a coach can decide.
#[must_use]
pub fn told(review: &Review) -> Vec<SentFinding> {
    let sent = |f: &&Finding| matches!(f.class, FindingStatus::Counted | FindingStatus::Withheld);
    let findings = review.findings.iter().filter(sent);
    findings
        .enumerate()
        .map(|(i, f)| SentFinding {
            finding: FindingSelector {
                path: f.paths.first().cloned().unwrap_or_default(),
                kind: Some(f.kind.code().to_owned()),
                resource: Some(f.resource.clone()),
            },
            text: format!("Review {}, {}. {}", i + 1, f.kind.label(), f.sentence),
        })
        .collect()
}
