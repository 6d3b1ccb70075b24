//! The method as a page.

use askama::Template;

use super::{Chapter, Figure, chapters, first, parts};
use crate::report::sheet::sheet;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<h1>{{ tr!("How every figure is made") }}</h1>
<p>{{ first }}</p>
<nav aria-label="{{ tr!("Figures") }}"><ul>
{% for c in chapters %}<li>{{ c.title }}: {% for f in c.figures %}{% if !loop.first %}, {% endif %}<a href="#{{ f.code }}">{{ f.title }}</a>{% endfor %}</li>
{% endfor %}</ul></nav>
{% for c in chapters %}<h2>{{ c.title }}</h2>
{% for f in c.figures %}<section id="{{ f.code }}">
<h3>{{ f.title }}</h3>
<dl>
{% for (heading, words) in told(f) %}<dt class="quiet">{{ heading }}</dt><dd>{{ words }}</dd>
{% endfor %}</dl>
</section>
{% endfor %}{% endfor %}"##
)]
struct Html<'a> {
    first: String,
    chapters: &'a [Chapter],
}

impl Html<'_> {
    fn told<'f>(&self, figure: &'f Figure) -> Vec<(&'static str, &'f str)> {
        parts(figure)
    }
}

/// The page.
///
/// # Errors
/// The template cannot be filled, or the measured numbers are damaged; ours can, and are not.
pub fn method_html() -> Result<String, Box<dyn std::error::Error>> {
    let chapters = chapters()?;
    Ok(sheet(
        tr!("the method"),
        &Html {
            first: first(),
            chapters: &chapters,
        },
    )?)
}
