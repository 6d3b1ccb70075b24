//! The texts in the sources: what stands in `tr!` and `tr_later!`, in Rust and in the templates of pages, in the tables of
//! keys and names, and in the help of the command line.

use std::collections::{BTreeMap, BTreeSet};
use std::io::BufWriter;
use std::path::{Path, PathBuf};
use std::str::FromStr;

use polib::catalog::Catalog;
use polib::message::{Message, MessageFlags};
use polib::metadata::CatalogMetadata;
use proc_macro2::{Delimiter, Group, Span, TokenStream, TokenTree};

use crate::cli::args::Args;

/// Tables whose rows end with texts: the file, the constant, and how many of a row's last strings are texts.
const TABLES: [(&str, &str, usize); 5] = [
    ("tui/input/bindings.rs", "KEY_BINDINGS", 2),
    ("tui/input/typed_command.rs", "TYPED_COMMANDS", 1),
    ("tui/input/typed_command.rs", "WITH_LINE", 1),
    ("progress/feature.rs", "ROWS", 1),
    ("tree/verdict.rs", "SIGNS", 1),
];
/// What the command line says of itself comes from these files.
const HELP: &str = "src/cli/args";

/// A template has no language; its two forms are those of its English texts.
const HEADER: &str = "Project-Id-Version: foreply\nMIME-Version: 1.0\nContent-Type: text/plain; charset=UTF-8\n\
                      Content-Transfer-Encoding: 8bit\nLanguage: \nPlural-Forms: nplurals=2; plural=(n != 1);\n";

/// A text, under its context and its English.
type Key = (Option<String>, String);

/// What is known of a text.
#[derive(Debug, Default)]
pub(super) struct Text {
    pub plural: Option<String>,
    /// It has places for values, in the grammar of `std::fmt`.
    places: bool,
    /// The files it comes from.
    files: BTreeSet<String>,
    /// What its translators are told.
    notes: BTreeSet<String>,
}

/// All texts, in the order of the files they come from first.
#[derive(Debug, Default)]
pub(super) struct Texts {
    pub all: Vec<(Key, Text)>,
    at: BTreeMap<Key, usize>,
    /// What cannot be: one text as a singular and as a plural of two kinds.
    pub faults: Vec<String>,
}

impl Texts {
    /// Reads the sources.
    pub(super) fn of_sources() -> Self {
        let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut texts = Self::default();
        for file in rust_files(&src) {
            let name = file
                .strip_prefix(&src)
                .unwrap()
                .to_string_lossy()
                .replace('\\', "/");
            let source = std::fs::read_to_string(&file).unwrap();
            let Ok(tokens) = TokenStream::from_str(&source) else {
                panic!("{name} is no Rust");
            };
            let lines: Vec<&str> = source.lines().collect();
            let mut reader = Reader {
                texts: &mut texts,
                file: format!("src/{name}"),
                lines: &lines,
            };
            reader.stream(tokens);
        }
        texts.help(&Args::plain());
        texts
    }

    fn add(
        &mut self,
        key: Key,
        plural: Option<String>,
        places: bool,
        file: &str,
        note: Option<String>,
    ) {
        if key.1.is_empty() {
            return;
        }
        let at = *self.at.entry(key.clone()).or_insert_with(|| {
            self.all.push((key.clone(), Text::default()));
            self.all.len() - 1
        });
        let text = &mut self.all[at].1;
        if plural.is_some() && text.plural.is_some() && plural != text.plural {
            self.faults
                .push(format!("{file}: {:?} has two plurals", key.1));
        }
        text.plural = text.plural.take().or(plural);
        text.places |= places;
        text.files.insert(file.to_owned());
        text.notes.extend(note);
    }

    fn help(&mut self, command: &clap::Command) {
        let name = command.get_name().to_owned();
        let mut take = |words: Option<&clap::builder::StyledStr>, of: &str| {
            if let Some(words) = words {
                let note = format!("Help of `{of}`.");
                self.add((None, words.to_string()), None, false, HELP, Some(note));
            }
        };
        take(command.get_about(), &name);
        take(command.get_long_about(), &name);
        take(command.get_after_help(), &name);
        take(command.get_after_long_help(), &name);
        for argument in command.get_arguments() {
            let of = format!("{name}, {}", argument.get_id());
            take(argument.get_help(), &of);
            take(argument.get_long_help(), &of);
        }
        let headings = command.get_arguments().filter_map(|a| a.get_help_heading());
        for heading in headings {
            self.add((None, heading.to_owned()), None, false, HELP, None);
        }
        command.get_subcommands().for_each(|c| self.help(c));
    }

    /// The texts as a PO template.
    pub(super) fn template(&self) -> String {
        let metadata = CatalogMetadata::parse(HEADER).unwrap();
        let mut catalog = Catalog::new(metadata);
        for ((context, id), text) in &self.all {
            let mut message = match &text.plural {
                Some(plural) => {
                    let mut message = Message::build_plural();
                    message.with_msgid_plural(plural.clone());
                    message.with_msgstr_plural(vec![String::new(); 2]);
                    message
                }
                None => Message::build_singular(),
            };
            let mut flags = MessageFlags::new();
            if text.places {
                flags.add_flag("rust-format");
            }
            let joined = |of: &BTreeSet<String>| of.iter().cloned().collect::<Vec<_>>().join("\n");
            message
                .with_msgctxt(context.clone().unwrap_or_default())
                .with_msgid(id.clone())
                .with_flags(flags)
                .with_source(joined(&text.files))
                .with_extracted_comments(joined(&text.notes));
            catalog.append_or_update(message.done());
        }
        let mut out = BufWriter::new(Vec::new());
        polib::po_file::write(&catalog, &mut out).unwrap();
        String::from_utf8(out.into_inner().unwrap()).unwrap()
    }
}

struct Reader<'a> {
    texts: &'a mut Texts,
    file: String,
    lines: &'a [&'a str],
}

impl Reader<'_> {
    fn stream(&mut self, tokens: TokenStream) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let mut at = 0;
        while at < tokens.len() {
            if is_test(&tokens[at..]) {
                // The item behind the attribute: to its body, or its end.
                at += 2;
                while let Some(token) = tokens.get(at) {
                    at += 1;
                    let brace =
                        matches!(token, TokenTree::Group(g) if g.delimiter() == Delimiter::Brace);
                    if brace || is(token, ';') {
                        break;
                    }
                }
                continue;
            }
            if let [TokenTree::Ident(name), bang, TokenTree::Group(inside), ..] = &tokens[at..]
                && is(bang, '!')
            {
                match name.to_string().as_str() {
                    "tr" => self.message(inside, name.span()),
                    "tr_later" => {
                        let tokens: Vec<TokenTree> = inside.stream().into_iter().collect();
                        let (context, text) = match tokens.as_slice() {
                            [context, equals, _, text, ..] if is(equals, '=') => {
                                (string(context), string(text))
                            }
                            tokens => (None, string_at(tokens)),
                        };
                        if let Some(text) = text {
                            let note = self.note(name.span());
                            let key = (context, text);
                            self.texts.add(key, None, false, &self.file, note);
                        }
                    }
                    _ => {}
                }
            }
            if let [TokenTree::Ident(constant), TokenTree::Ident(name), ..] = &tokens[at..]
                && *constant == "const"
                && let Some(table) = TABLES
                    .iter()
                    .find(|(file, of, _)| self.file.ends_with(file) && name == of)
            {
                let end = tokens[at..]
                    .iter()
                    .position(|t| is(t, ';'))
                    .unwrap_or(tokens.len() - at);
                // Up to the equals sign stands the type, which has a ';' of its own inside of a group alone.
                let rows: TokenStream = tokens[at..at + end].iter().cloned().collect();
                self.rows(rows, table.2);
            }
            match &tokens[at] {
                TokenTree::Group(group) => self.stream(group.stream()),
                TokenTree::Literal(_) => self.page(&tokens[at]),
                _ => {}
            }
            at += 1;
        }
    }

    /// One `tr!`: context, number, text and plural, as the macro reads them.
    fn message(&mut self, inside: &Group, span: Span) {
        let tokens: Vec<TokenTree> = inside.stream().into_iter().collect();
        let mut rest = tokens.as_slice();
        let mut context = None;
        if let [first, equals, greater, ..] = rest
            && is(equals, '=')
            && is(greater, '>')
        {
            context = string(first);
            rest = &rest[3..];
        }
        if string_at(rest).is_none() {
            let semicolon = rest.iter().position(|t| is(t, ';'));
            rest = semicolon.map_or(&[][..], |at| &rest[at + 1..]);
        }
        let Some(text) = string_at(rest) else {
            self.texts
                .faults
                .push(format!("{}: a `tr!` without a text", self.file));
            return;
        };
        let plural = match rest {
            [_, bar, plural, ..] if is(bar, '|') => string(plural),
            _ => None,
        };
        let note = self.note(span);
        let places =
            text.contains(['{', '}']) || plural.as_ref().is_some_and(|p| p.contains(['{', '}']));
        self.texts
            .add((context, text), plural, places, &self.file, note);
    }

    /// What stands above a text for its translators: `// TRANSLATORS: ...`, as gettext's tools read it.
    fn note(&self, span: Span) -> Option<String> {
        let line = span.start().line.checked_sub(1)?;
        let above = self.lines.get(..line)?.iter().rev();
        let comment: Vec<&str> = above
            .map(|line| line.trim())
            .take_while(|line| line.starts_with("// "))
            .map(|line| line.trim_start_matches("// "))
            .collect();
        let from = comment
            .iter()
            .position(|line| line.starts_with("TRANSLATORS:"))?;
        let lines: Vec<&str> = comment.get(..=from)?.iter().rev().copied().collect();
        Some(
            lines
                .join(" ")
                .trim_start_matches("TRANSLATORS:")
                .trim()
                .to_owned(),
        )
    }

    /// The texts in the template of a page, which is one literal.
    fn page(&mut self, literal: &TokenTree) {
        let Some(page) = string(literal).filter(|page| page.contains("{{ tr!(")) else {
            return;
        };
        for (at, _) in page.match_indices("tr!(") {
            let ends = page[at..].match_indices(')').map(|(end, _)| end + 1);
            let whole = ends
                .filter_map(|end| TokenStream::from_str(&page[at..at + end]).ok())
                .next();
            if let Some(tokens) = whole {
                self.stream(tokens);
            }
        }
    }

    /// Each row's last strings.
    fn rows(&mut self, tokens: TokenStream, last: usize) {
        for token in tokens {
            let TokenTree::Group(group) = token else {
                continue;
            };
            if group.delimiter() == Delimiter::Parenthesis {
                let strings: Vec<String> = group
                    .stream()
                    .into_iter()
                    .filter_map(|t| string(&t))
                    .collect();
                let from = strings.len().saturating_sub(last);
                for text in &strings[from..] {
                    self.texts
                        .add((None, text.clone()), None, false, &self.file, None);
                }
            }
            self.rows(group.stream(), last);
        }
    }
}

fn is(token: &TokenTree, sign: char) -> bool {
    matches!(token, TokenTree::Punct(p) if p.as_char() == sign)
}

fn is_test(tokens: &[TokenTree]) -> bool {
    matches!(tokens, [hash, TokenTree::Group(g), ..]
        if is(hash, '#') && matches!(g.stream().to_string().replace(' ', "").as_str(), "cfg(test)" | "test"))
}

fn string_at(tokens: &[TokenTree]) -> Option<String> {
    string(tokens.first()?)
}

fn string(token: &TokenTree) -> Option<String> {
    let TokenTree::Literal(literal) = token else {
        return None;
    };
    let text = syn::parse_str::<syn::LitStr>(&literal.to_string()).ok()?;
    Some(text.value())
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        // The engine speaks UCI; the macro has its examples.
        if path.is_dir() && !path.ends_with("engine") && !path.ends_with("macro") {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}
