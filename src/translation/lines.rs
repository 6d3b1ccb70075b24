//! The lines of a PO file, looked at before they are read: what the reader would pass over or stumble on is told with
//! its line.

use std::fmt;

/// The longest line that is read, in bytes; gettext's own tools break lines at 79 columns.
const LINE_MAX: usize = 16 * 1024;

/// What is wrong in a translation, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Counted from 1.
    pub line: usize,
    pub why: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&tr!("line {}: {}", self.line, self.why))
    }
}

/// A file whose lines are sound.
pub(super) struct Lines {
    /// What is read: flags and messages, without remarks and obsolete entries.
    pub bare: String,
    /// The line of each `msgid`, the header's first.
    pub messages: Vec<usize>,
}

/// Reads the lines.
///
/// # Errors
/// The first line that is none of the format (GNU gettext manual, section 'The Format of PO Files').
pub(super) fn read(text: &str) -> Result<Lines, Fault> {
    let mut out = Lines {
        bare: String::with_capacity(text.len()),
        messages: Vec::new(),
    };
    let mut inside = false;
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    for (number, line) in text.lines().enumerate() {
        let fault = |why: String| Fault {
            line: number + 1,
            why,
        };
        if line.len() > LINE_MAX {
            return Err(fault(tr!(
                "the line is longer than {} KiB",
                LINE_MAX / 1024
            )));
        }
        let line = line.trim();
        if let Some(flags) = line.strip_prefix("#,") {
            out.bare.push_str(&format!("#, {}\n", flags.trim()));
            inside = false;
            continue;
        }
        if line.is_empty() || line.starts_with('#') {
            if line.is_empty() {
                out.bare.push('\n');
            }
            inside = false;
            continue;
        }
        let (keyword, quoted) = match line.starts_with('"') {
            true => ("", line),
            false => line.split_once([' ', '\t']).unwrap_or((line, "")),
        };
        let quoted = quoted.trim();
        match keyword {
            "" if inside => {}
            "" => return Err(fault(tr!("a text that belongs to no message").to_owned())),
            "msgid" => out.messages.push(number + 1),
            "msgctxt" | "msgid_plural" | "msgstr" => {}
            k if is_form(k) => {}
            _ => {
                return Err(fault(tr!(
                    "'{keyword}' is no keyword of a PO file: msgctxt, msgid, msgid_plural, msgstr or msgstr[0] to msgstr[9]"
                )));
            }
        }
        inside = true;
        if let Some(why) = unsound(quoted) {
            return Err(fault(why));
        }
        if !keyword.is_empty() {
            out.bare.push_str(keyword);
            out.bare.push(' ');
        }
        out.bare.push_str(quoted);
        out.bare.push('\n');
    }
    Ok(out)
}

fn is_form(keyword: &str) -> bool {
    let form = keyword
        .strip_prefix("msgstr[")
        .and_then(|k| k.strip_suffix(']'));
    form.is_some_and(|f| matches!(f.as_bytes(), [b'0'..=b'9']))
}

/// Why this is no quoted text.
fn unsound(quoted: &str) -> Option<String> {
    let inside = quoted.strip_prefix('"').and_then(|q| q.strip_suffix('"'));
    let Some(inside) = inside.filter(|_| quoted.len() > 1) else {
        return Some(tr!("the text has no quotation mark at both ends").to_owned());
    };
    let mut letters = inside.chars();
    while let Some(c) = letters.next() {
        match c {
            '"' => return Some(tr!("a quotation mark inside a text is written \\\"").to_owned()),
            '\\' => match letters.next() {
                Some('n' | 't' | '"' | '\\') => {}
                Some(c) => return Some(tr!("'\\{c}' is none of \\n, \\t, \\\" and \\\\")),
                None => {
                    return Some(
                        tr!("the backslash at the end hides the quotation mark").to_owned(),
                    );
                }
            },
            c if c.is_control() && c != '\t' => {
                return Some(tr!("a control character stands in the text").to_owned());
            }
            _ => {}
        }
    }
    None
}
