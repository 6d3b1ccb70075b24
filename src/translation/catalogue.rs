//! A translation that was read and found to fit: for each English text its words.

use std::collections::HashMap;

use polib::message::MessageView;

use super::lines::{self, Fault};
use super::placeholders::{Part, parts};
use super::plural_rule::Rule;

/// The most forms a language has in a PO file: Arabic's six, and room.
const FORMS_MAX: usize = 10;
/// Numbers up to which a form is asked whether it stands for one number alone.
const COUNTED: u64 = 1_000;

/// One text of a translation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Form {
    /// As it is shown where it has no places for values.
    pub(super) plain: String,
    pub(super) parts: Vec<Part>,
}

impl Form {
    fn new(text: &str) -> Self {
        match parts(text) {
            Ok(parts) if parts.len() > 1 || matches!(parts.first(), Some(Part::Value { .. })) => {
                Self {
                    plain: text.to_owned(),
                    parts,
                }
            }
            Ok(parts) => Self {
                plain: parts.iter().map(words).collect(),
                parts,
            },
            // A text with braces of its own, such as an example of a shell: it is no format.
            Err(_) => Self {
                plain: text.to_owned(),
                parts: vec![Part::Words(text.to_owned())],
            },
        }
    }
}

fn words(part: &Part) -> &str {
    match part {
        Part::Words(words) => words,
        Part::Value { .. } => "",
    }
}

/// A translation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Catalogue {
    language: String,
    rule: Rule,
    messages: HashMap<String, Vec<Form>>,
}

/// A message of a file, with its line.
pub(super) struct Entry {
    pub line: usize,
    /// Context and text, as gettext joins them.
    pub key: String,
    pub id: String,
    pub plural: Option<String>,
    pub forms: Vec<String>,
    pub fuzzy: bool,
}

impl Entry {
    /// Whether it says something for its text.
    pub(super) fn counts(&self) -> bool {
        !self.fuzzy && !self.forms.is_empty() && self.forms.iter().all(|f| !f.is_empty())
    }
}

/// A file as it stands.
pub(super) struct File {
    pub language: String,
    pub forms: usize,
    pub rule: Rule,
    pub entries: Vec<Entry>,
}

impl Catalogue {
    /// Reads a translation. What is marked as fuzzy or obsolete is passed over, as gettext does.
    ///
    /// # Errors
    /// What is no PO file, and every translation that does not fit its English text.
    pub fn read(text: &str) -> Result<Self, Vec<Fault>> {
        let file = file(text).map_err(|fault| vec![fault])?;
        let counted: Vec<&Entry> = file.entries.iter().filter(|e| e.counts()).collect();
        let faults: Vec<Fault> = counted
            .iter()
            .filter_map(|entry| {
                unfit(entry, &file).map(|why| Fault {
                    line: entry.line,
                    why,
                })
            })
            .collect();
        if !faults.is_empty() {
            return Err(faults);
        }
        let messages = counted
            .iter()
            .map(|e| {
                (
                    e.key.clone(),
                    e.forms.iter().map(|f| Form::new(f)).collect(),
                )
            })
            .collect();
        Ok(Self {
            language: file.language,
            rule: file.rule,
            messages,
        })
    }

    pub(super) fn language(&self) -> &str {
        &self.language
    }

    pub(super) fn message(&self, key: &str) -> Option<&Form> {
        self.messages.get(key)?.first()
    }

    pub(super) fn plural(&self, key: &str, count: u64) -> Option<&Form> {
        let forms = self.messages.get(key)?;
        forms.get(usize::try_from(self.rule.form(count)?).ok()?)
    }
}

/// Reads a file whose lines are sound.
pub(super) fn file(text: &str) -> Result<File, Fault> {
    let lines = lines::read(text)?;
    let top = |why: String| Fault {
        line: lines.messages.first().copied().unwrap_or(1),
        why,
    };
    let no_header = || {
        tr!("the file has no header: the first message has an empty msgid, and in its msgstr the lines that begin with Content-Type, Language and Plural-Forms").to_owned()
    };
    if lines.messages.is_empty() {
        return Err(top(no_header()));
    }
    let read = polib::po_file::parse_from_reader(lines.bare.as_bytes());
    let read = read.map_err(|e| top(e.to_string()))?;
    let charset = read.metadata.content_type.to_ascii_lowercase();
    if charset.contains("charset=") && !charset.contains("charset=utf-8") {
        return Err(top(tr!(
            "the file has another character set; save it as UTF-8"
        )
        .to_owned()));
    }
    let forms = read.metadata.plural_rules.nplurals;
    let rule = Rule::parse(&read.metadata.plural_rules.expr)
        .filter(|_| (1..=FORMS_MAX).contains(&forms))
        .filter(|rule| {
            let mut numbers = (0..=COUNTED).map(|n| rule.form(n));
            numbers.all(|form| form.is_some_and(|f| f < forms as u64))
        });
    let rule = rule.ok_or_else(|| {
        top(tr!("the Plural-Forms of the header are no rule: nplurals=2; plural=(n != 1); is that of English").to_owned())
    })?;
    let mut entries = Vec::new();
    for (message, line) in read.messages().zip(lines.messages.iter().skip(1)) {
        entries.push(entry(message, *line));
    }
    if entries.len() + 1 != lines.messages.len() {
        return Err(top(tr!("a message stands there twice, or is not parted from the next by an empty line; msgfmt --check says which").to_owned()));
    }
    Ok(File {
        language: read.metadata.language.replace('_', "-"),
        forms,
        rule,
        entries,
    })
}

fn entry(message: &dyn MessageView, line: usize) -> Entry {
    let id = message.msgid().to_owned();
    let forms = match message.msgstr_plural() {
        Ok(forms) => forms.clone(),
        Err(_) => message
            .msgstr()
            .map(|m| vec![m.to_owned()])
            .unwrap_or_default(),
    };
    Entry {
        line,
        key: match message.msgctxt() {
            Some(context) => format!("{context}\u{4}{id}"),
            None => id.clone(),
        },
        id,
        plural: message.msgid_plural().ok().map(str::to_owned),
        forms,
        fuzzy: message.is_fuzzy(),
    }
}

/// Why a translation does not fit its text.
pub(super) fn unfit(entry: &Entry, file: &File) -> Option<String> {
    let Some(plural) = &entry.plural else {
        return entry
            .forms
            .first()
            .and_then(|form| differs(&entry.id, &[&entry.id], form, true));
    };
    if entry.forms.len() != file.forms {
        return Some(tr!(
            "the translation has {} of the {} forms that the header's Plural-Forms ask for",
            entry.forms.len(),
            file.forms
        ));
    }
    let sources = [entry.id.as_str(), plural.as_str()];
    entry.forms.iter().enumerate().find_map(|(number, form)| {
        let numbers = (0..=COUNTED).filter(|n| file.rule.form(*n) == Some(number as u64));
        // 'One move' need not say which number it is.
        let all = numbers.take(2).count() > 1;
        differs(plural, &sources, form, all)
    })
}

/// What parts a translation from its source: places for values, tags of a page, line breaks at its ends.
fn differs(source: &str, sources: &[&str], form: &str, all: bool) -> Option<String> {
    // An example of a shell may have braces that are no places.
    if let Ok(wanted) = parts(source) {
        let told = match parts(form) {
            Ok(told) => told,
            Err(why) => return Some(why),
        };
        let known: Vec<Part> = sources
            .iter()
            .filter_map(|s| parts(s).ok())
            .flatten()
            .collect();
        for part in &told {
            if let Part::Value { which, spec } = part {
                let same = |p: &&Part| matches!(p, Part::Value { which: w, spec: s } if w == which && (spec.is_empty() || s == spec));
                if !known.iter().any(|p| same(&p)) {
                    return Some(tr!(
                        "{{{0}}} is no place for a value in the English text",
                        shown(which, spec)
                    ));
                }
            }
        }
        let lacks = |part: &&Part| match part {
            Part::Value { which, .. } => !told
                .iter()
                .any(|p| matches!(p, Part::Value { which: w, .. } if w == which)),
            Part::Words(_) => false,
        };
        if all && let Some(Part::Value { which, spec }) = wanted.iter().find(lacks) {
            return Some(tr!("the translation has no {{{0}}}", shown(which, spec)));
        }
    }
    let ((mut wanted, may), (mut told, opens)) = (tags(source), tags(form));
    wanted.sort_unstable();
    told.sort_unstable();
    if wanted != told || opens && !may {
        return Some(tr!("the tags of the page are not those of the English text").to_owned());
    }
    let ends = |text: &str| (text.starts_with('\n'), text.ends_with('\n'));
    if ends(source) != ends(form) {
        return Some(
            tr!("the English text and the translation do not both begin, or both end, with \\n")
                .to_owned(),
        );
    }
    None
}

fn shown(which: &str, spec: &str) -> String {
    match spec {
        "" => which.to_owned(),
        spec => format!("{which}:{spec}"),
    }
}

/// What a browser would take as a tag: a page shows some texts with their tags, so a translation brings none of its own.
/// Whether one is never closed, as in 'practice <lines.txt', is told beside them.
fn tags(text: &str) -> (Vec<&str>, bool) {
    let mut found = Vec::new();
    let mut opens = false;
    let mut rest = text;
    while let Some((_, after)) = rest.split_once('<') {
        rest = after;
        if after.starts_with(|c: char| c.is_ascii_alphabetic() || matches!(c, '/' | '!' | '?')) {
            match after.split_once('>') {
                Some((tag, _)) => found.push(tag),
                None => opens = true,
            }
        }
    }
    (found, opens)
}
