//! Pawn structures and plan cards as one page of HTML that stands alone and can be printed.

use askama::Template;
use shakmaty::Color;

use super::games_plans::{Structure, outcome};
use super::html::{BoardSvg, MEN};
use super::sheet::sheet;
use crate::games::OwnGame;
use crate::games::plan::PlanCard;
use crate::games::structure::words;
use crate::text::{dates_in, safe};

/// Every text that is put in is escaped; only boards and men, which are ours, are not.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"{{ men|safe }}
<h1>{{ tr!("Your plans") }}</h1>
{% if cards.is_empty() %}<p>{{ tr!("No pawn structure stood in two of your games long enough.") }}</p>{% endif %}
{% for c in cards %}<section class="spot">
<h2>{{ c.number }}. {{ c.words }} ({{ c.key }})</h2>
<div class="pair"><figure class="small">{{ c.board|safe }}<figcaption>{{ tr!("An example from your games") }}</figcaption></figure>
<div class="wide" tabindex="0"><table>
{% for f in c.fields %}<tr><th>{{ f.0 }}</th><td>{{ f.1 }}</td></tr>
{% endfor %}</table></div></div>
<ul>{% for g in c.games %}<li>{{ g }}</li>
{% endfor %}</ul>
</section>
{% endfor %}"#
)]
struct Html {
    men: &'static str,
    cards: Vec<Card>,
}

struct Card {
    number: usize,
    words: String,
    key: String,
    board: BoardSvg,
    fields: Vec<(String, String)>,
    games: Vec<String>,
}

/// The structures with their cards as a page.
///
/// # Errors
/// The template cannot be filled; ours can.
pub fn plans_html(
    structures: &[Structure<'_>],
    games: &[OwnGame],
) -> Result<String, askama::Error> {
    let cards = structures.iter().map(|s| card(s, games)).collect();
    sheet(tr!("your plans"), &Html { men: MEN, cards })
}

fn card(of: &Structure<'_>, games: &[OwnGame]) -> Card {
    let side = Color::from_white(of.met.white);
    let empty = PlanCard::default();
    let card = of.card.unwrap_or(&empty);
    let own = card.fields().into_iter().map(|(name, words)| {
        let words = if words.is_empty() { "-" } else { words };
        (name.to_owned(), safe(words).into_owned())
    });
    let coach = card.coach.iter();
    let coach = coach.map(|r| (tr!("coach {}", safe(&r.by)), safe(&r.words).into_owned()));
    let met = of.met.games.iter().filter_map(|place| games.get(*place));
    Card {
        number: of.number,
        words: words(&of.met.key),
        key: of.met.key.clone(),
        board: BoardSvg::new(&of.met.example, side),
        fields: own.chain(coach).collect(),
        games: met
            .map(|game| {
                let tried = if card.tried.contains(&game.id) {
                    tr!(", tried")
                } else {
                    ""
                };
                let points = game.points().map_or(tr!("no result").to_owned(), outcome);
                let line = format!("{}: {points}{tried}", dates_in(&game.heading()));
                safe(&line).into_owned()
            })
            .collect(),
    }
}
