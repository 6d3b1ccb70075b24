//! `foreply method`: how every figure is made.

use crate::cli::args::{Global, Method, Page};
use crate::cli::{Failure, locate};
use crate::report;

pub(crate) fn run(global: &Global, args: &Method) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    target.tell(&match form {
        Page::Text => report::method_text().map_err(Failure::input)?,
        Page::Json => report::method_json().map_err(Failure::input)?,
        Page::Html => report::method_html().map_err(Failure::input)?,
    })
}
