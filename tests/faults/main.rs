//! The fault campaign: kills, damage and a failing disk, against the real program, and one table.
//!
//! `cargo test --test faults` runs a small one. `FOREPLY_FAULTS=KILLS,DAMAGES cargo test --test faults`
//! runs as many as it says (1000,500 takes some forty minutes); `FOREPLY_FAULT_ROWS` names the one
//! group that is run: kills, damage, disk, strangers, operations, power. `FOREPLY_SOAK=SITTINGS` does nothing but sit
//! and review as often as it says, and tells how store, memory and start grow.
//!
//! *Acknowledged* is what a use case has returned from: only then does the screen show it as kept. An
//! acknowledged event that is not in the store afterwards is *lost*. Damage is *told* where the next
//! start says so; where it said nothing, and nothing was lost either, it hit bytes that nobody uses
//! (*idle*). *Unnoticed* is damage that costs an entry without a word.

mod child;
mod damage;
mod disk;
mod failing;
mod home;
mod kill;
mod power;
mod soak;
mod strangers;
#[path = "../support/left_out.rs"]
mod tools;

use std::process::ExitCode;
use tools::left_out;

/// One line of the table.
#[derive(Default)]
pub struct Row {
    pub what: String,
    pub faults: u32,
    /// The program opened the store afterwards.
    pub opened: u32,
    /// Acknowledged events over all faults, and those of them that were not there afterwards.
    pub acknowledged: u64,
    pub lost: u64,
    pub told: u32,
    pub idle: u32,
    pub unnoticed: u32,
    /// All entries were there in the end.
    pub recovered: u32,
    /// Panics on standard error.
    pub panics: u32,
}

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    if let [what, home] = args.as_slice()
        && what == "child"
    {
        child::sittings(home.as_ref());
        return ExitCode::SUCCESS;
    }
    if let [what, home] = args.as_slice()
        && what == "once"
    {
        return ExitCode::from(u8::from(!child::once(home.as_ref())));
    }
    // As any test binary it is asked for its list by other tools.
    if args.iter().any(|a| a == "--list") {
        return ExitCode::SUCCESS;
    }
    if let Some(sittings) = std::env::var("FOREPLY_SOAK")
        .ok()
        .and_then(|n| n.parse().ok())
    {
        return ExitCode::from(u8::from(!soak::run(sittings)));
    }
    let (kills, damages) = size();
    let only = std::env::var("FOREPLY_FAULT_ROWS").unwrap_or_default();
    let wanted = |group: &str| only.is_empty() || only == group;
    let mut rows = Vec::new();
    if wanted("kills") {
        for (what, share) in [
            ("sittings", 50),
            (kill::TWO, 20),
            ("imports", 20),
            ("backups", 20),
            ("restores", 10),
        ] {
            rows.push(kill::row(what, (kills * share / 100).max(2)));
        }
    }
    if wanted("damage") {
        for kind in damage::KINDS {
            rows.push(damage::row(
                kind,
                (damages / damage::KINDS.len() as u32).max(3),
            ));
        }
        rows.push(damage::in_each_copy(damages.max(12)));
    }
    if wanted("disk") {
        rows.extend(disk::rows((damages / 20).clamp(2, 25)));
        rows.extend(disk::reading(damages.clamp(4, 500)));
    }
    if wanted("strangers") {
        rows.push(strangers::forged_settings(damages.max(8)));
        rows.push(strangers::planted_links(damages.max(6)));
    }
    if wanted("operations") {
        // The long form lets every single operation fail.
        rows.extend(failing::rows(if damages >= 500 { 1 } else { 23 }));
    }
    if wanted("power") {
        rows.extend(power::rows((damages / 5).clamp(6, 100)));
    }
    table(&rows);
    let bad = rows.iter().any(|r| {
        r.lost > 0
            || r.unnoticed > 0
            || r.panics > 0
            || r.opened < r.faults
            || r.recovered < r.faults
    });
    ExitCode::from(u8::from(bad))
}

fn size() -> (u32, u32) {
    let text = std::env::var("FOREPLY_FAULTS").unwrap_or_default();
    let parsed = text
        .split_once(',')
        .and_then(|(k, d)| Some((k.parse().ok()?, d.parse().ok()?)));
    parsed.unwrap_or((14, 18))
}

fn table(rows: &[Row]) {
    println!(
        "\n{:<34}{:>7}{:>7}{:>14}{:>6}{:>7}{:>6}{:>11}{:>11}{:>8}",
        "fault",
        "faults",
        "opens",
        "acknowledged",
        "lost",
        "told",
        "idle",
        "unnoticed",
        "recovered",
        "panics"
    );
    for r in rows {
        println!(
            "{:<34}{:>7}{:>7}{:>14}{:>6}{:>7}{:>6}{:>11}{:>11}{:>8}",
            r.what,
            r.faults,
            r.opened,
            r.acknowledged,
            r.lost,
            r.told,
            r.idle,
            r.unnoticed,
            r.recovered,
            r.panics
        );
    }
}
