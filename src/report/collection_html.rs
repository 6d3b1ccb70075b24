//! The table of a coach's collection, and the index of a folder of pages, as pages that stand alone.

use std::collections::BTreeSet;

use askama::Template;

use super::Reviewed;
use super::collection::{
    OUTRANKS, counted, heading, in_words, of_row, of_student, shown, untouched,
};
use super::html::BoardSvg;
use super::sheet::sheet;
use crate::board::line;
use crate::coach::collection::{CollectionTable, Mark};
use crate::coach::{Student, students};
use crate::text::{decimal, safe};

/// Every text that is put in is escaped; only the boards, which are ours, are not.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ heading }}</h1>
<ul>
{% for s in students %}<li>{{ s }}</li>
{% endfor %}</ul>
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("what") }}</th><th>{{ tr!("saw it") }}</th>{% for n in names %}<th>{{ n }}</th>{% endfor %}</tr>
{% for r in rows %}<tr><td>{{ r.what }}</td><td>{{ r.saw }}</td>{% for (strong, m) in r.marks %}<td>{% if strong %}<strong>{{ m }}</strong>{% else %}{{ m }}{% endif %}</td>{% endfor %}</tr>
{% endfor %}</table></div>
{% for n in notes %}<p class="quiet">{{ n }}</p>
{% endfor %}{{ men|safe }}
{% for b in boards %}<h2>{{ tr!("Position {}", b.number) }}</h2>
<figure class="small">{{ b.board|safe }}<figcaption>{{ b.turn }}</figcaption></figure>
{% endfor %}"#
)]
struct Html {
    heading: String,
    students: Vec<String>,
    names: Vec<String>,
    rows: Vec<HtmlRow>,
    notes: Vec<String>,
    men: &'static str,
    boards: Vec<Board>,
}

struct HtmlRow {
    what: String,
    saw: String,
    /// True for what was missed: it is to be seen first.
    marks: Vec<(bool, String)>,
}

struct Board {
    number: usize,
    board: BoardSvg,
    turn: &'static str,
}

/// The page.
///
/// # Errors
/// The template cannot be filled; ours can.
pub fn collection_html(name: &str, table: &CollectionTable) -> Result<String, askama::Error> {
    let rows = shown(table).map(|row| HtmlRow {
        what: of_row(row),
        saw: counted(row),
        marks: row
            .marks
            .iter()
            .map(|m| (*m == Mark::Missed, in_words(*m, row)))
            .collect(),
    });
    let mut notes = vec![
        tr!("'2 of 3' in a student's column: so many of the moves of the line; not reached: his lines do not come there; -: \
         not handed in.")
            .to_owned(),
    ];
    notes.extend(untouched(table));
    if table.judged {
        notes.push(tr!(
            "Not found: the engine did not find it in his tree, which may be because his lines do not come there. {}",
            OUTRANKS
        ));
    }
    let boards = table.positions.iter().filter_map(|p| {
        let position = line::read_fen(&p.fen).ok()?;
        let turn = shakmaty::Position::turn(&position);
        Some(Board {
            number: p.number,
            board: BoardSvg::new(&position, turn),
            turn: turn.fold_wb(tr!("White to move"), tr!("Black to move")),
        })
    });
    let html = Html {
        heading: heading(name, table),
        students: table
            .students
            .iter()
            .map(|s| of_student(s, table.positions.len()))
            .collect(),
        names: table
            .students
            .iter()
            .map(|s| safe(&s.name).into_owned())
            .collect(),
        rows: rows.collect(),
        notes,
        men: super::html::MEN,
        boards: boards.collect(),
    };
    sheet(tr!("what came back"), &html)
}

/// One page of a folder.
#[derive(Debug, Clone, Copy)]
pub struct IndexedPage<'a> {
    /// The name of the page's file in the same folder.
    pub file: &'a str,
    /// What it is called.
    pub title: &'a str,
    pub reviews: &'a [Reviewed],
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ title }}</h1>
<p>{{ first }}</p>
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("page") }}</th><th>{{ tr!("students") }}</th><th class="n">{{ tr!("trees") }}</th><th class="n">{{ tr!("hold") }}</th><th class="n">{{ tr!("needed") }}</th><th class="n">{{ tr!("reached") }}</th><th class="n">{{ tr!("sound") }}</th><th>{{ tr!("missed, most often first") }}</th></tr>
{% for p in pages %}<tr><td><a href="{{ p.href }}">{{ p.title }}</a></td><td>{{ p.students }}</td><td class="n">{{ p.trees }}</td><td class="n">{{ p.hold }}</td><td class="n">{{ p.needed }}</td><td class="n">{{ p.reached }}</td><td class="n">{{ p.sound }}</td><td>{{ p.missed }}</td></tr>
{% endfor %}</table></div>
<p class="quiet">{{ tr!("Half-moves are means of the trees with a choice. A coach's judgement outranks an engine's number.")|safe }}</p>
"#
)]
struct Index {
    title: String,
    first: String,
    pages: Vec<IndexRow>,
}

struct IndexRow {
    href: String,
    title: String,
    students: String,
    trees: usize,
    hold: usize,
    needed: String,
    reached: String,
    sound: String,
    missed: String,
}

/// The page that links the pages of a folder, with what each comes to.
///
/// # Errors
/// The template cannot be filled; ours can.
pub fn index_html(title: &str, pages: &[IndexedPage<'_>]) -> Result<String, askama::Error> {
    let pages: Vec<IndexRow> = pages.iter().map(index_row).collect();
    let trees: usize = pages.iter().map(|p| p.trees).sum();
    let index = Index {
        title: safe(title).into_owned(),
        first: tr!(
            "{} with {}.",
            tr!(pages.len(); "{} page" | "{} pages", crate::text::whole(pages.len())),
            tr!(trees; "{} tree" | "{} trees", crate::text::whole(trees))
        ),
        pages,
    };
    sheet(tr!("the pages"), &index)
}

fn index_row(page: &IndexedPage<'_>) -> IndexRow {
    let names: BTreeSet<&str> = page
        .reviews
        .iter()
        .filter_map(|r| r.of.student.as_deref())
        .collect();
    let names: Vec<String> = names.into_iter().map(|n| safe(n).into_owned()).collect();
    // The page is one row, whoever wrote the trees in it.
    let all = students(
        page.reviews
            .iter()
            .map(|r| ("", &r.review, r.of.model.as_ref())),
    );
    let of = all.first();
    let mean = |part: fn(&Student) -> f64| of.map_or_else(String::new, |of| decimal(part(of), 1));
    let mut kinds: Vec<_> = of.iter().flat_map(|of| &of.kinds).collect();
    kinds.sort_by_key(|(kind, n)| (std::cmp::Reverse(**n), **kind));
    let kinds: Vec<String> = kinds
        .iter()
        .map(|(k, n)| format!("{} {n}", k.label()))
        .collect();
    IndexRow {
        href: in_address(page.file),
        title: safe(page.title).into_owned(),
        students: names.join("; "),
        trees: page.reviews.len(),
        hold: of.map_or(0, |of| of.clean),
        needed: mean(|s| s.needed),
        reached: mean(|s| s.reached),
        sound: mean(|s| s.sound),
        missed: match kinds.is_empty() {
            true => "-".to_owned(),
            false => kinds.join(", "),
        },
    }
}

/// A file's name as a relative address: everything but letters, digits and `-._~` by its bytes (RFC 3986, 2.1 and 2.3), and
/// the folder before it, so that a colon in it begins no scheme (4.2).
fn in_address(file: &str) -> String {
    let mut address = "./".to_owned();
    for byte in file.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => {
                address.push(char::from(byte));
            }
            _ => address += &format!("%{byte:02X}"),
        }
    }
    address
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_of_a_file_is_an_address() {
        assert_eq!(in_address("marrowby-1.html"), "./marrowby-1.html");
        assert_eq!(
            in_address("a b%:?#\"é.html"),
            "./a%20b%25%3A%3F%23%22%C3%A9.html"
        );
    }
}
