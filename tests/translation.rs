//! A translation, as somebody makes and uses one: the template, a check, an option and a setting, what is refused; and that
//! nothing a person reads stands outside of the template.

use std::collections::BTreeSet;
use std::process::Command;

use polib::message::{MessageMutView, MessageView};

use crate::support::{Program, left_out};

const TEMPLATE: &str = include_str!("../src/translation/foreply.pot");
/// Around every text of the false translation.
const MARKS: [char; 2] = ['⟦', '⟧'];

/// A translation in which every text is its own English one between marks.
fn marked() -> String {
    let mut catalog = polib::po_file::parse_from_reader(TEMPLATE.as_bytes()).unwrap();
    let mark = |text: &str| {
        let inner = text.trim_matches('\n');
        let (before, after) = text.split_once(inner).unwrap_or((text, ""));
        format!("{before}{}{inner}{}{after}", MARKS[0], MARKS[1])
    };
    for mut message in catalog.messages_mut() {
        let one = mark(message.msgid());
        if message.is_plural() {
            let many = mark(message.msgid_plural().unwrap());
            *message.msgstr_plural_mut().unwrap() = vec![one, many];
        } else {
            message.set_msgstr(one).unwrap();
        }
    }
    let mut out = std::io::BufWriter::new(Vec::new());
    polib::po_file::write(&catalog, &mut out).unwrap();
    String::from_utf8(out.into_inner().unwrap()).unwrap()
}

/// What stands outside of the marks.
fn outside(text: &str) -> String {
    let mut depth = 0_usize;
    let mut out = String::new();
    for c in text.chars() {
        match c {
            c if c == MARKS[0] => depth += 1,
            c if c == MARKS[1] => depth = depth.saturating_sub(1),
            c if depth == 0 => out.push(c),
            _ => {}
        }
    }
    out
}

#[test]
fn the_template_is_a_po_file_for_the_trades_own_tools() {
    let program = Program::new();
    let template = program.ok(&["translation", "template"]);
    assert_eq!(template, TEMPLATE);
    let path = program.out("all.po").to_str().unwrap().to_owned();
    program.ok(&["translation", "template", "-o", &path]);
    // GNU gettext's own check of the format, of plurals and of line breaks at both ends.
    std::fs::write(&path, marked()).unwrap();
    match Command::new("msgfmt")
        .args(["--check-format", "--check-header", "-o", "/dev/null", &path])
        .output()
    {
        Ok(ran) => assert!(
            ran.status.success(),
            "{}",
            String::from_utf8_lossy(&ran.stderr)
        ),
        Err(e) => left_out(&format!("msgfmt: {e}")),
    }
}
