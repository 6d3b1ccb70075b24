//! `foreply backup` and `foreply restore`: everything that is kept, out to one file and back.

use std::fmt::Write;

use crate::app::{BackedUp, Clock, SystemClock, inspect_backup, restore as put_back};
use crate::cli::args::{Backup, Global, Restore};
use crate::cli::shell::error::print;
use crate::cli::{Failure, open_app};
use crate::text::{decimal, safe, whole};

pub(crate) fn run(global: &Global, args: &Backup) -> Result<(), Failure> {
    if args.check {
        let held = inspect_backup(&args.file)?;
        return print(&described(tr!("Sound"), &held));
    }
    let app = open_app::opened(global, global.config()?)?;
    print(&described(
        tr!("Written"),
        &app.maintenance().backup(&args.file)?,
    ))
}

pub(crate) fn restore(global: &Global, args: &Restore) -> Result<(), Failure> {
    let home = global.home()?;
    let wall_ms = SystemClock::new().wall_ms();
    let done = put_back(&home, &args.file, args.replace.as_deref(), wall_ms)?;
    let mut out = String::new();
    if let Some(before) = &done.before {
        out.push_str(&described(tr!("What was kept before"), before));
    }
    // Writing into a string does not fail.
    let _ = write!(
        out,
        "{}",
        tr!("Restored into {}: ", safe(&home.display().to_string()))
    );
    let _ = writeln!(out, "{}", counts(&done.now));
    print(&out)?;
    global.tell(&done.told);
    Ok(())
}

fn described(what: &str, held: &BackedUp) -> String {
    tr!(
        "{what}: {} ({}, {} kB)\n",
        safe(&held.path.display().to_string()),
        counts(held),
        decimal(held.bytes as f64 / 1000.0, 1)
    )
}

/// '412 entries: attempts 398, summaries 14'.
fn counts(held: &BackedUp) -> String {
    let tables: Vec<String> = held
        .tables
        .iter()
        .map(|(table, n)| format!("{} {}", safe(table), whole(n)))
        .collect();
    match held.entries {
        0 => tr!("nothing").to_owned(),
        1 => tr!("1 entry: {}", tables.join(", ")),
        n => tr!("{} entries: {}", whole(n), tables.join(", ")),
    }
}
