//! `foreply setup`: what was found on this machine, and what to mend.

use std::fmt::Write;
use std::io::IsTerminal;
use std::path::Path;

use crate::app::setup;
use crate::app::{Finding, State};
use crate::cli::Failure;
use crate::cli::args::{Format, Global, Setup};
use crate::cli::shell::error::print;
use crate::cli::shell::po_file;
use crate::report;
use crate::text;
use crate::tui;

const COLUMNS: usize = 78;

pub(crate) fn run(global: &Global, args: &Setup) -> Result<(), Failure> {
    let mut findings = vec![terminal()];
    findings.extend(setup(&global.unset_config()?));
    findings.extend(global.translation().map(|path| judge_translation(&path)));
    match args.format {
        Format::Json => print(&json(&findings)?)?,
        _ => print(&page(&findings))?,
    }
    let bad = findings.iter().find(|f| f.state == State::Bad);
    bad.map_or(Ok(()), |f| Err(failure(f)))
}

/// The exit code says what does not work; the page has said it in words.
fn failure(finding: &Finding) -> Failure {
    let message = tr!("{}: see above", finding.about);
    match finding.about {
        "store" => Failure::store(message),
        "engine" => Failure::engine(message),
        "terminal" => Failure::usage(message),
        _ => Failure::input(message),
    }
}

/// Whether the translation that is named can be used: the other commands refuse to begin with one that cannot.
fn judge_translation(path: &Path) -> Finding {
    let about = tr_later!("translation");
    let wrong = match po_file::catalogue(path) {
        Ok(_) => return Finding::good(about, tr!("{}: fits", path.display())),
        Err(failure) => failure.into_messages().join(" "),
    };
    let (found, mend) = wrong.split_once("; ").unwrap_or((&wrong, ""));
    Finding::wrong(about, State::Bad, found, mend)
}

fn terminal() -> Finding {
    let variable = |name: &str| std::env::var(name).ok();
    let size = tui::terminal_size().filter(|_| std::io::stdout().is_terminal());
    judge_terminal(&variable, size)
}

/// What the screens need: a terminal that places text, 80 by 24, and characters beyond ASCII.
fn judge_terminal(variable: &dyn Fn(&str) -> Option<String>, size: Option<(u16, u16)>) -> Finding {
    let term = variable("TERM").unwrap_or_default();
    let Some((columns, rows)) = size else {
        let found = tr!("output goes to no terminal now; all but the screens works");
        let mend = tr!("start `foreply` itself in a terminal window");
        return Finding::wrong(tr_later!("terminal"), State::Hint, found, mend);
    };
    let found = tr!("{term}, {columns} by {rows}");
    if term.is_empty() || term == "dumb" {
        let mend = tr!("set TERM to the name of your terminal");
        return Finding::wrong(
            tr_later!("terminal"),
            State::Bad,
            tr!("TERM is '{term}'"),
            mend,
        );
    }
    if columns < 80 || rows < 24 {
        let mend = tr!("make the window at least 80 by 24");
        return Finding::wrong(tr_later!("terminal"), State::Hint, found, mend);
    }
    if !is_utf8(variable) {
        let found = tr!("{found}; the locale is not UTF-8");
        let mend = tr!("set LANG to one with UTF-8, or use --ascii");
        return Finding::wrong(tr_later!("terminal"), State::Hint, found, mend);
    }
    Finding::good(tr_later!("terminal"), found)
}

/// The first of these that is set decides (POSIX, Base Definitions, chapter 8.2).
fn is_utf8(variable: &dyn Fn(&str) -> Option<String>) -> bool {
    let set = ["LC_ALL", "LC_CTYPE", "LANG"]
        .into_iter()
        .filter_map(variable);
    let first = set.into_iter().find(|v| !v.is_empty()).unwrap_or_default();
    let first = first.to_lowercase();
    first.contains("utf-8") || first.contains("utf8")
}

fn page(findings: &[Finding]) -> String {
    let mut out = String::new();
    for finding in findings {
        let sign = match finding.state {
            State::Good => tr!("ok  "),
            State::Hint => tr!("note"),
            State::Bad => tr!("BAD "),
        };
        let mut rows = text::wrap(&text::safe(&finding.found), COLUMNS - 16);
        if let Some(mend) = &finding.mend {
            rows.extend(text::wrap(
                &format!("-> {}", text::safe(mend)),
                COLUMNS - 16,
            ));
        }
        for (n, row) in rows.iter().enumerate() {
            let head = match n {
                0 => format!("{sign}  {:<10}", crate::translation::text(finding.about)),
                _ => " ".repeat(16),
            };
            // Writing into a string does not fail.
            let _ = writeln!(out, "{head}{row}");
        }
    }
    out
}

fn json(findings: &[Finding]) -> Result<String, Failure> {
    let rows = findings.iter().map(|f| report::SetupRow {
        about: f.about.to_owned(),
        state: match f.state {
            State::Good => report::SetupState::Good,
            State::Hint => report::SetupState::Hint,
            State::Bad => report::SetupState::Bad,
        },
        found: f.found.clone(),
        mend: f.mend.clone(),
    });
    report::setup_json(&rows.collect::<Vec<_>>()).map_err(Failure::input)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(set: &[(&str, &str)], size: Option<(u16, u16)>) -> String {
        let set: Vec<(String, String)> = set
            .iter()
            .map(|(k, v)| (k.to_string(), v.to_string()))
            .collect();
        let variable = |name: &str| set.iter().find(|(k, _)| k == name).map(|(_, v)| v.clone());
        page(&[judge_terminal(&variable, size)])
    }

    #[test]
    fn each_state_of_a_terminal_has_its_words() {
        let big = Some((120, 40));
        insta::assert_snapshot!(told(&[("TERM", "xterm"), ("LANG", "en_GB.UTF-8")], big), @"ok    terminal  xterm, 120 by 40");
        insta::assert_snapshot!(told(&[("TERM", "xterm"), ("LANG", "C")], big), @r"
        note  terminal  xterm, 120 by 40; the locale is not UTF-8
                        -> set LANG to one with UTF-8, or use --ascii
        ");
        insta::assert_snapshot!(told(&[("TERM", "dumb")], big), @r"
        BAD   terminal  TERM is 'dumb'
                        -> set TERM to the name of your terminal
        ");
        insta::assert_snapshot!(told(&[("TERM", "xterm")], Some((60, 20))), @r"
        note  terminal  xterm, 60 by 20
                        -> make the window at least 80 by 24
        ");
    }
}
