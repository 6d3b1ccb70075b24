//! What coaches said to an attempt, each thing with the place it is about.

use serde::Serialize;

use super::order::{Order, orders};
use crate::attempt::{Coached, FindingSelector, Overruling, Remarks};
use crate::text::{self, ended};
use crate::tree::{NodeId, Tree};

/// One thing that a coach said to an attempt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct CoachWord {
    /// The coach's name as he gave it; may come from a file.
    pub by: String,
    /// Moves from the root to the place it is about, in SAN.
    pub path: Vec<String>,
    /// The move of the tree it is about; the root for the position itself.
    #[serde(skip)]
    pub at: NodeId,
    /// The line that he added there, in SAN; empty where he added none.
    pub line: Vec<String>,
    /// What he said of the move, without his name and the place; empty for a line and a ruling.
    pub said: String,
    /// His verdict on the move, as a sign.
    pub verdict: Option<String>,
    /// He set the position as homework, to be done by the day `due` (ISO 8601) where he named one.
    pub homework: bool,
    pub due: Option<String>,
    /// The finding that he struck.
    pub struck: Option<FindingSelector>,
    /// All of it in one sentence.
    pub sentence: String,
}

/// What a coach added and said, in the order of the moves, then the findings that were struck.
#[must_use]
pub fn layer(coached: &Coached) -> Vec<CoachWord> {
    let tree = coached.tree();
    let mut words: Vec<CoachWord> = added(coached);
    words.extend(coached.remarks().filter_map(|(at, by, remarks)| {
        let what = of(remarks)?;
        let path = tree.sans(at);
        let sentence = format!("{by}, {}: {what}", place(&path));
        Some(CoachWord {
            said: what,
            verdict: remarks.verdict.map(|v| v.to_string()),
            homework: remarks.homework,
            due: remarks.due.clone(),
            ..word(by, path, at, sentence)
        })
    }));
    words.sort_by_key(|w| w.at);
    words.extend(coached.overruled().iter().map(|o| struck(tree, o)));
    words
}

fn word(by: &str, path: Vec<String>, at: NodeId, sentence: String) -> CoachWord {
    CoachWord {
        by: by.to_owned(),
        path,
        at,
        line: Vec::new(),
        said: String::new(),
        verdict: None,
        homework: false,
        due: None,
        struck: None,
        sentence,
    }
}

/// The lines that coaches added, each from the last move that is the player's own.
fn added(coached: &Coached) -> Vec<CoachWord> {
    let tree = coached.tree();
    let ends = tree
        .nodes()
        .map(|(id, _)| id)
        .filter(|id| coached.added_by(*id).is_some() && tree.children(*id).is_empty());
    ends.filter_map(|end| {
        let way = tree.path(end);
        let own = way.iter().take_while(|n| coached.added_by(**n).is_none());
        let at = own.last().copied().unwrap_or(NodeId::ROOT);
        let by = coached.added_by(end)?;
        let all = tree.sans(end);
        let (path, line) = all.split_at(tree.ply(at));
        let sentence = tr!("{by}, {}: adds {}.", place(path), line.join(" "));
        Some(CoachWord {
            line: line.to_vec(),
            ..word(by, path.to_vec(), at, sentence)
        })
    })
    .collect()
}

fn struck(tree: &Tree, overruling: &Overruling) -> CoachWord {
    let why = match overruling.reason.trim() {
        "" => ".".to_owned(),
        why => format!(": {}", ended(why)),
    };
    let path = overruling.finding.path.clone();
    let at = match path.as_slice() {
        [] => tr!("at the position").to_owned(),
        path => tr!("after {}", path.join(" ")),
    };
    let by = &overruling.by;
    let named = [
        overruling
            .finding
            .kind
            .as_ref()
            .map(|k| k.replace('-', " ")),
        overruling.finding.resource.clone(),
    ];
    let named: Vec<String> = named.into_iter().flatten().collect();
    let what = match named.join(", ") {
        named if named.is_empty() => tr!("every finding").to_owned(),
        named => tr!("a finding ({named})"),
    };
    let sentence = tr!("{by} struck {what} {at}{why}");
    let node = tree
        .nodes()
        .map(|(id, _)| id)
        .find(|id| tree.sans(*id) == path);
    CoachWord {
        struck: Some(overruling.finding.clone()),
        ..word(by, path, node.unwrap_or(NodeId::ROOT), sentence)
    }
}

fn place(path: &[String]) -> String {
    match path {
        [] => tr!("on the position").to_owned(),
        path => tr!("after {}", path.join(" ")),
    }
}

fn of(remarks: &Remarks) -> Option<String> {
    let words = remarks.words.trim();
    let glyphs = remarks.nags.iter().map(|nag| glyph(*nag));
    let parts = [
        (!words.is_empty()).then(|| words.to_owned()),
        // TRANSLATORS: behind the name of a coach.
        remarks.verdict.map(|v| tr!("judged {v}")),
        (!remarks.nags.is_empty()).then(|| glyphs.collect::<Vec<_>>().join(", ")),
        (remarks.homework && !says_homework(words)).then(|| match &remarks.due {
            Some(due) => tr!("set as homework, to be done by {}", text::day(due)),
            None => tr!("set as homework").to_owned(),
        }),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// True where his words order homework themselves.
fn says_homework(words: &str) -> bool {
    let orders = orders(words);
    orders.iter().any(|o| matches!(o, Order::Homework { .. }))
}

/// A coach's glyph in the words of the PGN standard 1994, section 10.
fn glyph(nag: u8) -> String {
    let words = match nag {
        1 => tr!("a good move"),
        2 => tr!("a poor move"),
        3 => tr!("a very good move"),
        4 => tr!("a very poor move"),
        5 => tr!("a speculative move"),
        6 => tr!("a questionable move"),
        7 => tr!("a forced move"),
        8 => tr!("a singular move"),
        9 => tr!("the worst move"),
        _ => return tr!("marked ${nag}"),
    };
    words.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attempt::Remark;
    use crate::board::{Line, line};
    use crate::tree::{Author, Verdict};

    /// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory).
    #[test]
    fn a_line_without_words_and_a_mark_without_words_are_told_too() {
        let root = line::read_fen("8/8/1KP5/3r4/8/8/8/k7 w - - 0 1").unwrap();
        let mut tree = Tree::new(Line::new(root));
        let c7 = tree.add(NodeId::ROOT, "c7", Author::Player, 0).unwrap();
        let rook = tree.add(c7, "Rd6+", Author::Player, 0).unwrap();
        let mut coached = Coached::new(&tree);
        let by = "Bram Oskarn";
        let mut add = |parent: NodeId, text: &str, node: u32| {
            let text = text.to_owned();
            coached.apply(by, &Remark::Added { parent, text }).unwrap();
            NodeId(node)
        };
        let king = add(rook, "Kc5", 3);
        add(king, "Rd1", 4);
        let nags = vec![1, 140];
        let remarks = [
            Remark::Marked { node: c7, nags },
            Remark::Homework {
                node: king,
                due: Some("2026-12-05".to_owned()),
            },
            Remark::Judged {
                node: king,
                verdict: Verdict::parse("=").unwrap(),
            },
        ];
        for remark in &remarks {
            coached.apply(by, remark).unwrap();
        }
        insta::assert_snapshot!(layer(&coached).iter().map(|w| w.sentence.as_str()).collect::<Vec<_>>().join("\n"), @r"
        Bram Oskarn, after c7: a good move, marked $140
        Bram Oskarn, after c7 Rd6+: adds Kc5 Rd1.
        Bram Oskarn, after c7 Rd6+ Kc5: judged =; set as homework, to be done by 2026-12-05
        ");
        let words = layer(&coached);
        assert_eq!(
            (words[1].at, words[1].line.join(" ")),
            (rook, "Kc5 Rd1".to_owned())
        );
    }
}
