//! Whether what a record says is true: names, numbers, position, moves.

use shakmaty::Position;

use super::Drill;
use super::record::Record;
use crate::board::{Line, line};
use crate::notation::Reading;
use crate::tree::{Author, NodeId, Tree};

/// A field and what is wrong with it.
type Wrong = (&'static str, String);

/// The drill, or everything that is wrong with the record.
pub(super) fn drill(record: &Record) -> Result<Drill, Vec<Wrong>> {
    let mut wrong = Vec::new();
    check_texts(record, &mut wrong);
    if !(1..=120).contains(&record.minutes) {
        let what = tr!("{} minutes; a drill has 1 to 120", record.minutes);
        wrong.push(("minutes", what));
    }
    let root = root(&record.fen.0).map_err(|what| wrong.push(("fen", what)));
    let Ok(root) = root else {
        // Without a position there is nothing to read the moves in.
        return Err(wrong);
    };
    let solution = solution(record, &root, &mut wrong);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    Ok(Drill {
        id: record.id.0.clone(),
        title: record.title.0.clone(),
        root,
        task: record.task,
        minutes: record.minutes,
        source: record.source.0.clone(),
        themes: record.themes.0.iter().map(|t| t.0.clone()).collect(),
        solution,
        grade: record.grade,
        known_by: record.known_by,
        note: record.note.as_ref().map(|n| n.0.clone()),
    })
}

fn check_texts(record: &Record, wrong: &mut Vec<Wrong>) {
    let kebab = tr!("use small letters, digits and single hyphens, at most 64 characters");
    if !is_kebab(&record.id.0) {
        wrong.push(("id", tr!("'{}' is no id; {kebab}", record.id.0)));
    }
    for theme in record.themes.0.iter().filter(|t| !is_kebab(&t.0)) {
        wrong.push(("themes", tr!("'{}' is no theme; {kebab}", theme.0)));
    }
    for (field, text) in [("title", &record.title), ("source", &record.source)] {
        // The YAML library reads `~`, its sign for nothing, as a text.
        if text.0.is_empty() || text.0 == "~" {
            wrong.push((field, tr!("the {field} is empty; fill it in")));
        }
    }
}

fn is_kebab(text: &str) -> bool {
    let word = |w: &str| {
        !w.is_empty()
            && w.bytes()
                .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
    };
    text.len() <= 64 && text.split('-').all(word)
}

fn root(fen: &str) -> Result<Line, String> {
    let position = line::read_fen(fen).map_err(|e| e.to_string())?;
    let root = Line::new(position);
    match root.rule().filter(|rule| !rule.is_claim()) {
        Some(rule) => Err(tr!("the game is over here: {}", rule.words())),
        None if root.position().legal_moves().is_empty() => {
            Err(tr!("there is no move here").to_owned())
        }
        None => Ok(root),
    }
}

/// The published lines as a tree; of the root alone where nothing was published.
fn solution(record: &Record, root: &Line, wrong: &mut Vec<Wrong>) -> Tree {
    let mut tree = Tree::new(root.clone());
    for text in &record.lines.0 {
        if let Err(what) = add_line(&mut tree, &text.0) {
            wrong.push(("lines", what));
        }
    }
    tree
}

fn add_line(tree: &mut Tree, text: &str) -> Result<(), String> {
    let mut at = NodeId::ROOT;
    for word in text.split_whitespace() {
        let word = without_number(word);
        if word.is_empty() {
            continue;
        }
        let node = tree
            .add(at, word, Author::Published, 0)
            .map_err(|e| format!("{}{e}", behind(tree, at)))?;
        if let Some(what) = misread(tree, node) {
            return Err(format!("{}'{word}' {what}", behind(tree, at)));
        }
        at = node;
    }
    if at == NodeId::ROOT {
        return Err(tr!("a line without a move; remove it").to_owned());
    }
    Ok(())
}

/// `12.`, `12...` and `12.Nf3` carry the number that printed moves have.
fn without_number(word: &str) -> &str {
    let rest = word.trim_start_matches(|c: char| c.is_ascii_digit());
    if rest.starts_with('.') && rest.len() < word.len() {
        rest.trim_start_matches('.')
    } else {
        word
    }
}

/// What keeps the move from being the one legal move that a published line must have.
fn misread(tree: &Tree, node: NodeId) -> Option<String> {
    let position = || {
        let line = tree.line(tree.parent(node)?)?;
        Some(line.position().clone())
    };
    match &tree.node(node)?.reading {
        Reading::Legal(_) => None,
        Reading::Ambiguous(moves) => {
            let meant: Vec<String> = position()
                .map(|p| moves.iter().map(|m| line::san(&p, m)).collect())
                .unwrap_or_default();
            Some(tr!("can be {}; write which", meant.join(" or ")))
        }
        Reading::Pass => Some(tr!("passes; a solution consists of moves").to_owned()),
        Reading::Phantom(_) | Reading::Unplaced => {
            let fen = position().map(|p| line::fen(&p)).unwrap_or_default();
            Some(tr!("is not legal in {fen}"))
        }
    }
}

fn behind(tree: &Tree, at: NodeId) -> String {
    let path = tree.sans(at);
    if path.is_empty() {
        String::new()
    } else {
        tr!("after {}: ", path.join(" "))
    }
}
