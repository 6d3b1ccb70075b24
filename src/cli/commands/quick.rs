//! `foreply quick`: what calculation at speed comes to.

use jiff::tz::TimeZone;

use crate::cli::args::{Global, Page, QuickPage};
use crate::cli::{Failure, locate, open_app};
use crate::report;

pub(crate) fn run(global: &Global, args: &QuickPage) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let app = open_app::reading(global)?;
    let found = app.progress().quick(&TimeZone::system())?;
    let page = match form {
        Page::Text => report::quick_text(&found),
        Page::Json => report::quick_json(&found).map_err(Failure::input)?,
        Page::Html => report::quick_html(&found).map_err(Failure::input)?,
    };
    target.write(&page)
}
