//! The sheet around a page of figures: HTML that stands alone and can be printed, in the colours and letters of the review's
//! page.

use askama::Template;

use crate::text::safe_lines;

const STYLE: &str = concat!(include_str!("html/base.css"), include_str!("sheet.css"));

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<!DOCTYPE html>
<html lang="{{ crate::translation::language() }}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{{ tr!("Foreply: {}", self.title) }}</title>
<style>
{{ style|safe }}</style>
</head>
<body>
<main>
{{ body|safe }}</main>
<footer>
<p>{{ tr!("For training only, never during a game in progress (FIDE Laws of Chess, article 11.3).") }}</p>
</footer>
</body>
</html>
"#
)]
struct Sheet<'a> {
    title: &'a str,
    style: &'static str,
    body: &'a str,
}

/// A page with this title. `body` is one of our templates, filled: all it holds from outside is escaped already.
///
/// # Errors
/// A template cannot be filled; ours can.
pub(super) fn sheet(title: &str, body: &impl Template) -> Result<String, askama::Error> {
    let body = body.render()?;
    Sheet {
        title,
        style: STYLE,
        body: &body,
    }
    .render()
    .map(safe_lines)
}
