//! Openings of own games as one page of HTML that stands alone and can be printed.

use askama::Template;

use super::games_openings::{Openings, figures, foot_sentences, numbered, standing_out};
use super::sheet::sheet;
use crate::games::opening::Branch;
use crate::text;

/// Deepest indentation of a branch.
const INDENT_MAX: usize = 8;

/// Every text that is put in is escaped.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("Openings of your games") }}</h1>
{% for side in sides %}<h2>{{ tr!("With {}", side.color) }}</h2>
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("no.") }}</th><th>{{ tr!("moves") }}</th><th class="n">{{ tr!("games") }}</th><th class="n">{{ tr!("points") }}</th><th class="n">{{ tr!("stood at, move 13") }}</th><th class="n">{{ tr!("move 21") }}</th><th class="n">{{ tr!("time used, move 13") }}</th><th class="n">{{ tr!("move 21") }}</th></tr>
{% for r in side.rows %}<tr><td>{{ r.number }}</td><td class="in{{ r.depth }}">{{ r.moves }}</td><td class="n">{{ r.games }}</td><td class="n">{{ r.points }}</td>{% for cell in r.marks %}<td class="n">{{ cell }}</td>{% endfor %}</tr>
{% endfor %}</table></div>
{% endfor %}{% if !told.is_empty() %}<h2>{{ tr!("What stands out") }}</h2>
<ul>{% for s in told %}<li>{{ s }}</li>
{% endfor %}</ul>
{% endif %}{% for s in foot %}<p class="quiet">{{ s }}</p>
{% endfor %}"#
)]
struct Html {
    sides: Vec<SideRows>,
    told: Vec<String>,
    foot: Vec<String>,
}

struct SideRows {
    color: &'static str,
    rows: Vec<Row>,
}

struct Row {
    number: usize,
    depth: usize,
    moves: String,
    games: usize,
    points: String,
    /// Where he stood at both marks, then the time that he had used.
    marks: Vec<String>,
}

/// The trees as a page.
///
/// # Errors
/// The template cannot be filled; ours can.
pub fn openings_html(page: &Openings<'_>) -> Result<String, askama::Error> {
    let sides = page.sides.iter().map(|side| {
        let mut rows = Vec::new();
        gather(&mut rows, &side.all, 0);
        SideRows {
            color: if side.white {
                tr!("White")
            } else {
                tr!("Black")
            },
            rows,
        }
    });
    let html = Html {
        sides: sides.collect(),
        told: standing_out(page),
        foot: foot_sentences(page),
    };
    sheet(tr!("openings of your games"), &html)
}

fn gather(rows: &mut Vec<Row>, branch: &Branch, depth: usize) {
    let marks: Vec<(String, String)> = branch.marks.iter().map(figures).collect();
    let (stood, used): (Vec<String>, Vec<String>) = marks.into_iter().unzip();
    let moves = numbered(branch.from, &branch.moves);
    rows.push(Row {
        number: branch.number,
        depth: depth.min(INDENT_MAX),
        moves: match moves.as_str() {
            "" => tr!("all games" => "all").to_owned(),
            _ if branch.branches.is_empty() && !branch.eco.is_empty() => {
                format!("{moves} ({})", branch.eco.join(", "))
            }
            _ => moves,
        },
        games: branch.games.len(),
        points: match branch.finished {
            0 => "-".to_owned(),
            _ => text::plain(branch.points),
        },
        marks: stood.into_iter().chain(used).collect(),
    });
    for below in &branch.branches {
        gather(rows, below, depth + 1);
    }
}
