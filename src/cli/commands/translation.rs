//! `foreply translation`: what a translator begins with, and how far a translation goes.

use crate::cli::args::{CheckTranslation, Format, Global, Template, Translation};
use crate::cli::shell::error::print;
use crate::cli::shell::po_file;
use crate::cli::{Failure, locate};
use crate::report;
use crate::translation;

pub(crate) fn run(global: &Global, command: &Translation) -> Result<(), Failure> {
    match command {
        Translation::Template(args) => template(global, args),
        Translation::Check(args) => check(args),
    }
}

fn template(global: &Global, args: &Template) -> Result<(), Failure> {
    let target = locate::target(global, args.output.as_deref(), &[])?;
    target.write(translation::TEMPLATE)
}

fn check(args: &CheckTranslation) -> Result<(), Failure> {
    let text = po_file::text(&args.file)?;
    let check = translation::check(translation::TEMPLATE, &text)
        .map_err(|fault| Failure::input(tr!("{}, {fault}", args.file.display())))?;
    print(&match args.format {
        Format::Text => report::translation_text(&check),
        Format::Json => report::translation_json(&check).map_err(Failure::input)?,
    })?;
    match check.unfit.len() {
        0 => Ok(()),
        n => Err(Failure::input(tr!(n;
            "{}: 1 translation does not fit its text, so the file cannot be used"
            | "{}: {n} translations do not fit their texts, so the file cannot be used",
            args.file.display()
        ))),
    }
}
