//! PGN export format (PGN standard 1994, section 8): one game from a tree or a game.
//!
//! The seven tags of the roster come first, in their order, then the others by name (8.1.1); lines
//! hold fewer than 80 characters (8.2.1) unless a single word is longer; a move number stands before
//! each white move and before a black one after anything that interrupts (8.2.2). Words with a `}`,
//! which no comment in braces can hold, are written as comments to the end of the line.

use shakmaty::{Chess, Color, Position};

use super::comment::{self, CHOSEN_NOT_LEGAL, NO_CHOICE, NOT_LEGAL};
use super::lexer::is_symbol;
use super::sheet::{Entry, Sheet};
use super::{Chosen, Game};
use crate::board::line::fen;
use crate::notation::Reading;
use crate::text::safe_lines;
use crate::tree::{NodeId, Tree, Verdict};

/// Most characters of a line.
const COLUMNS: usize = 79;
const ROSTER: [(&str, &str); 7] = [
    ("Event", "?"),
    ("Site", "?"),
    ("Date", "????.??.??"),
    ("Round", "?"),
    ("White", "?"),
    ("Black", "?"),
    ("Result", "*"),
];
const RESULTS: [&str; 4] = ["1-0", "0-1", "1/2-1/2", "*"];

/// A written tree as one game with a FEN tag: the main line is the line of the choice (of the first
/// candidate where nothing was chosen), the other candidates and lines are variations.
///
/// What stands in the tree comes back with [`super::written_trees`], but for what PGN has no place
/// for: the moves of the game before the root, times, authors, struck moves, the place of the choice
/// among the candidates, and runs of blanks in comments. `SetUp` and `FEN` in `tags` are replaced.
#[must_use]
pub fn write_tree(tree: &Tree, tags: &[(String, String)], choice: Option<NodeId>) -> String {
    write_tree_with(tree, tags, choice, "")
}

/// [`write_tree`] with words before the first move. In these and in the words on a move each line makes
/// a comment of its own.
#[must_use]
pub fn write_tree_with(
    tree: &Tree,
    tags: &[(String, String)],
    choice: Option<NodeId>,
    words: &str,
) -> String {
    let root = tree.root().position();
    let choice = choice.filter(|c| tree.stands(*c));
    let sheet = Sheet::of_tree(tree, choice);
    let legal = choice.is_some_and(|c| {
        tree.node(c)
            .is_some_and(|n| matches!(n.reading, Reading::Legal(_)))
    });
    let chosen = match choice {
        Some(_) if legal => Chosen::Main,
        // The sheet has the choice first.
        Some(_) => Chosen::Aside(0),
        None => Chosen::Nothing,
    };
    let mut tags: Vec<(String, String)> = tags
        .iter()
        .filter(|(n, _)| n != "SetUp" && n != "FEN")
        .cloned()
        .collect();
    tags.push(("SetUp".to_owned(), "1".to_owned()));
    tags.push(("FEN".to_owned(), fen(root)));
    let result = result_of(&tags);
    game_text(&tags, root, words, &sheet, chosen, result)
}

/// A game as it was read, in export format, its moves in SAN.
#[must_use]
pub fn write_game(game: &Game) -> String {
    let result = game
        .result
        .as_deref()
        .unwrap_or_else(|| result_of(&game.tags));
    let sheet = Sheet::of_game(game);
    let chosen = match game.choice {
        Chosen::Aside(_) => Chosen::Aside(sheet.first.first().copied().unwrap_or(0)),
        other => other,
    };
    game_text(
        &game.tags,
        &game.start,
        &game.comment,
        &sheet,
        chosen,
        result,
    )
}

fn result_of(tags: &[(String, String)]) -> &str {
    tags.iter()
        .find(|(n, v)| n == "Result" && RESULTS.contains(&v.as_str()))
        .map_or("*", |(_, v)| v.as_str())
}

fn game_text(
    tags: &[(String, String)],
    root: &Chess,
    words: &str,
    sheet: &Sheet,
    chosen: Chosen,
    result: &str,
) -> String {
    let mut out = Out::default();
    // Of a position alone there is nothing to choose from.
    if chosen == Chosen::Nothing && !sheet.first.is_empty() {
        out.comment(NO_CHOICE);
    }
    out.comments(words);
    for aside in asides(sheet, &sheet.first) {
        let mark = if chosen == Chosen::Aside(aside) {
            CHOSEN_NOT_LEGAL
        } else {
            NOT_LEGAL
        };
        out.comment(&format!("{mark} {}", plain(sheet, &[aside])));
    }
    let ply =
        (u32::from(root.fullmoves()) as usize - 1) * 2 + usize::from(root.turn() == Color::Black);
    out.line(sheet, &sheet.first, ply);
    out.word(result);
    // A file goes to others, and they shall see what stands there.
    safe_lines(format!("{}\n{}\n", tag_section(tags, result), out.finish()))
}

fn tag_section(tags: &[(String, String)], result: &str) -> String {
    let mut text = String::new();
    for (name, unknown) in ROSTER {
        let given = tags
            .iter()
            .find(|(n, _)| n == name)
            .map(|(_, v)| v.as_str());
        let value = match name {
            "Result" => result,
            _ => given.filter(|v| !v.is_empty()).unwrap_or(unknown),
        };
        text += &tag(name, value);
    }
    let mut others: Vec<&(String, String)> = tags
        .iter()
        .filter(|(n, _)| ROSTER.iter().all(|(r, _)| r != n))
        .collect();
    others.sort_by(|a, b| a.0.cmp(&b.0));
    for (name, value) in others {
        text += &tag(name, value);
    }
    text
}

/// One tag pair: the name as it was read, lest one become another, the value on one line.
fn tag(name: &str, value: &str) -> String {
    let name: String = name
        .chars()
        .map(|c| if is_symbol(c) { c } else { '_' })
        .collect();
    let value: String = value
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let value = value.replace('\\', "\\\\").replace('"', "\\\"");
    format!("[{name} \"{value}\"]\n")
}

fn asides(sheet: &Sheet, of: &[usize]) -> Vec<usize> {
    of.iter()
        .copied()
        .filter(|i| sheet.entries.get(*i).is_some_and(|e| !e.legal))
        .collect()
}

/// Moves that are not legal as movetext without numbers, for a comment. Recursion goes one deeper for
/// each alternative and so at most as deep as a line is long.
fn plain(sheet: &Sheet, first: &[usize]) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut siblings = first;
    while let Some((main, others)) = siblings.split_first() {
        words.push(plain_move(sheet, *main));
        for other in others {
            words.push(format!("({})", plain(sheet, &[*other])));
        }
        siblings = sheet.children(Some(*main));
    }
    words.join(" ")
}

fn plain_move(sheet: &Sheet, i: usize) -> String {
    let Some(entry) = sheet.entries.get(i) else {
        return String::new();
    };
    let mut text = entry.text.clone();
    for nag in nags(entry) {
        text += &format!(" ${nag}");
    }
    if let Some(Verdict::Percent(p)) = entry.verdict {
        text += &format!(" {p}%");
    }
    if !entry.comment.is_empty() {
        text += &format!(" «{}»", comment::escaped(&entry.comment));
    }
    text
}

fn nags(entry: &Entry) -> Vec<u8> {
    let verdict = entry.verdict.and_then(Verdict::nag);
    entry.nags.iter().copied().chain(verdict).collect()
}

/// Movetext in lines.
#[derive(Default)]
struct Out {
    done: String,
    /// The line that is being filled, and its length in characters.
    open: String,
    length: usize,
    /// Stands directly before the next word.
    prefix: String,
}

impl Out {
    /// A line of moves with its variations. Recursion goes one deeper for each variation and so at
    /// most as deep as a line is long.
    fn line(&mut self, sheet: &Sheet, first: &[usize], ply: usize) {
        let mut siblings = first.to_vec();
        let mut ply = ply;
        let mut number = true;
        loop {
            siblings.retain(|i| sheet.entries.get(*i).is_some_and(|e| e.legal));
            let Some((main, others)) = siblings.split_first() else {
                return;
            };
            number = self.played(sheet, *main, ply, number);
            for other in others {
                self.prefix.push('(');
                self.line(sheet, &[*other], ply);
                self.behind(")");
                number = true;
            }
            siblings = sheet.children(Some(*main)).to_vec();
            ply += 1;
        }
    }

    /// One move with what is said about it; true where the next black move needs a number.
    fn played(&mut self, sheet: &Sheet, i: usize, ply: usize, number: bool) -> bool {
        let Some(entry) = sheet.entries.get(i) else {
            return number;
        };
        if ply.is_multiple_of(2) {
            self.word(&format!("{}.", ply / 2 + 1));
        } else if number {
            self.word(&format!("{}...", ply / 2 + 1));
        }
        self.word(&entry.text);
        for nag in nags(entry) {
            self.word(&format!("${nag}"));
        }
        let mut said = false;
        if let Some(Verdict::Percent(p)) = entry.verdict {
            said |= self.comment(&comment::percent_words(p));
        }
        if let Some(ms) = entry.clock_ms {
            said |= self.comment(&comment::clock_command(ms));
        }
        if let Some(ms) = entry.elapsed_ms {
            said |= self.comment(&comment::elapsed_command(ms));
        }
        said |= self.comments(&entry.comment);
        for aside in asides(sheet, &entry.children) {
            said |= self.comment(&format!("{NOT_LEGAL} {}", plain(sheet, &[aside])));
        }
        said
    }

    /// A comment for each line of the words; false where there are none.
    fn comments(&mut self, words: &str) -> bool {
        let mut said = false;
        for line in words.lines() {
            said |= self.comment(line);
        }
        said
    }

    /// A comment; false where there are no words.
    fn comment(&mut self, words: &str) -> bool {
        let words: Vec<&str> = words.split_whitespace().collect();
        if words.iter().any(|w| w.contains('}')) {
            self.rest_of_line(&words);
            return true;
        }
        let mut units = unbroken(&words);
        let Some(last) = units.pop() else {
            return false;
        };
        self.prefix.push('{');
        for unit in units {
            self.word(&unit);
        }
        self.word(&format!("{last}}}"));
        true
    }

    /// A comment to the end of the line, in as many lines as it takes.
    fn rest_of_line(&mut self, words: &[&str]) {
        let mut prefix = std::mem::take(&mut self.prefix);
        let mut line = String::new();
        for word in words {
            if !line.is_empty() && chars(&line) + chars(word) + 3 > COLUMNS {
                self.whole(&format!("{prefix}; {line}"));
                prefix.clear();
                line.clear();
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line += word;
        }
        self.whole(&format!("{prefix}; {line}"));
    }

    /// A whole line.
    fn whole(&mut self, line: &str) {
        self.end_line();
        self.done += line;
        self.done.push('\n');
    }

    fn end_line(&mut self) {
        if !self.open.is_empty() {
            self.done += &self.open;
            self.done.push('\n');
            self.open.clear();
            self.length = 0;
        }
    }

    fn word(&mut self, word: &str) {
        let word = std::mem::take(&mut self.prefix) + word;
        let more = chars(&word);
        if self.length > 0 && self.length + 1 + more > COLUMNS {
            self.end_line();
        }
        if self.length > 0 {
            self.open.push(' ');
            self.length += 1;
        }
        self.open += &word;
        self.length += more;
    }

    /// A sign directly behind the last word.
    fn behind(&mut self, sign: &str) {
        if self.length == 0 || self.length + chars(sign) > COLUMNS {
            self.word(sign);
        } else {
            self.open += sign;
            self.length += chars(sign);
        }
    }

    fn finish(mut self) -> String {
        self.end_line();
        self.done
    }
}

/// Words that may begin a line, with what may not: a line that begins with `%` is no part of the game
/// (section 6).
fn unbroken(words: &[&str]) -> Vec<String> {
    let mut units: Vec<String> = Vec::new();
    for word in words {
        match units.last_mut().filter(|_| word.starts_with('%')) {
            Some(unit) => {
                unit.push(' ');
                unit.push_str(word);
            }
            None => units.push((*word).to_owned()),
        }
    }
    units
}

fn chars(text: &str) -> usize {
    text.chars().count()
}
