//! Everything that is kept, out to one file and back.

use std::path::{Path, PathBuf};

use super::backup_settings::sift;
use crate::app::AppError;
use crate::app::attempts::records::{HistoryEntry, OpenAttempt};
use crate::attempt::{Attempt, TimedAttemptEvent};
use crate::games::{Block, Marks, Player};
use crate::progress::{AttemptStatistics, Moments, Sighted};
use crate::store::{BackedUp, Knowledge, Record, Restored, Store, StoreError, inspect};

/// What a backup holds, without restoring it.
///
/// # Errors
/// It cannot be read, is no backup, is damaged, or comes from a newer program.
pub fn inspect_backup(file: &Path) -> Result<BackedUp, AppError> {
    Ok(inspect(file)?)
}

/// Puts a backup into the folder `home`. What is kept there already is replaced only where `replace`
/// names that folder, and after a backup of it is written beside it. `wall_ms` names that backup.
///
/// # Errors
/// As [`Store::restore`]; or `replace` names another folder.
pub fn restore(
    home: &Path,
    file: &Path,
    replace: Option<&Path>,
    wall_ms: i64,
) -> Result<Restored, AppError> {
    if let Some(named) = replace
        && !same_folder(named, home)
    {
        return Err(AppError::OtherHome {
            named: named.to_owned(),
            home: home.to_owned(),
        });
    }
    let safety = free_name(home, wall_ms);
    let done = Store::restore(home, file, replace.is_some(), &safety, &KNOWLEDGE)?;
    Ok(done)
}

/// What this program knows of a backup.
const KNOWLEDGE: Knowledge<'static> = Knowledge {
    known: &known,
    sift: &sift,
};

fn same_folder(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    real(one) == real(other)
}

/// A name in the home that no file has: the time of the clock, and a number where that is taken.
fn free_name(home: &Path, wall_ms: i64) -> String {
    let free = |name: &String| !home.join(name).exists();
    let stem = format!("before-restore-{wall_ms}");
    let mut names = (0..).map(|n| match n {
        0 => format!("{stem}.backup"),
        n => format!("{stem}-{n}.backup"),
    });
    names.find(free).unwrap_or(stem)
}

/// A table that the program knows: its name, its newest form, and how all of it is read once.
struct Known {
    table: &'static str,
    version: u32,
    read: fn(&Store) -> Result<(), StoreError>,
}

impl Known {
    const fn of<R: Record>() -> Self {
        Self {
            table: R::TABLE,
            version: R::VERSION,
            read: |store| store.scan::<R>().map(|_| ()),
        }
    }
}

const TABLES: [Known; 27] = [
    Known::of::<TimedAttemptEvent>(),
    Known::of::<HistoryEntry>(),
    Known::of::<OpenAttempt>(),
    Known::of::<Block>(),
    Known::of::<Player>(),
    Known::of::<Marks>(),
    Known::of::<AttemptStatistics>(),
    Known::of::<Moments>(),
    Known::of::<Sighted>(),
    Known::of::<crate::progress::account::Plan>(),
    Known::of::<crate::app::reviews::causes::Cause>(),
    Known::of::<crate::app::attempts::selection::RecommendationReason>(),
    Known::of::<crate::app::maintenance::onboarding::Toured>(),
    Known::of::<crate::app::games::service::OwnDrills>(),
    Known::of::<crate::app::practice::drill_library::AddedDrill>(),
    Known::of::<crate::app::reviews::notes::ReadNotes>(),
    Known::of::<crate::games::plan::PlanCard>(),
    Known::of::<crate::games::thoughts::Thoughts>(),
    Known::of::<crate::games::account::preparation::PreparedLines>(),
    Known::of::<crate::games::event::takeaway::EventTakeaways>(),
    Known::of::<crate::playout::TimedPlayoutEvent>(),
    Known::of::<crate::app::GameSummary>(),
    Known::of::<crate::app::HomeworkTask>(),
    Known::of::<crate::games::sheet::SheetDraft>(),
    Known::of::<crate::games::sheet::SheetLine>(),
    Known::of::<crate::progress::experiment::Experiment>(),
    Known::of::<crate::progress::experiment::GameMisses>(),
];

/// The newest form that this program reads of a table that it knows.
fn known(table: &str) -> Option<u32> {
    TABLES.iter().find(|t| t.table == table).map(|t| t.version)
}

/// Reads everything once, so that the store notes what it cannot read ([`Store::set_aside`]).
pub(super) fn read_all(store: &Store) -> Result<(), StoreError> {
    TABLES.iter().try_for_each(|t| (t.read)(store))?;
    for id in store.log_ids::<TimedAttemptEvent>()? {
        let told = match store.events::<TimedAttemptEvent>(&id) {
            Ok(log) => Attempt::fold(&log).err().map(|e| e.to_string()),
            Err(e) => Some(e.brief()),
        };
        if let Some(why) = told {
            store.set_aside().add(&tr!("attempt '{id}'"), why);
        }
    }
    Ok(())
}

/// Size in bytes of everything in a folder, two levels deep.
pub(crate) fn folder_bytes(folder: &Path) -> u64 {
    fn below(folder: &Path, level: u8) -> u64 {
        let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
        let size = |path: PathBuf| match path.symlink_metadata() {
            Ok(meta) if meta.is_dir() && level < 3 => below(&path, level + 1),
            Ok(meta) => meta.len(),
            Err(_) => 0,
        };
        entries.map(|e| size(e.path())).sum()
    }
    below(folder, 0)
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    use super::known;

    /// What can be computed again, or means nothing elsewhere, is in no backup.
    const DISPOSABLE: [&str; 5] = [
        "judge",
        "game-worth",
        "advantages",
        "recognised",
        "taken-in",
    ];

    fn tables(folder: &Path, found: &mut Vec<String>) {
        for entry in fs::read_dir(folder).unwrap().flatten() {
            let path = entry.path();
            if path.is_dir() {
                tables(&path, found);
            } else if !path.to_string_lossy().contains("test") {
                let text = fs::read_to_string(&path).unwrap_or_default();
                let names = text
                    .lines()
                    .filter_map(|l| l.trim().strip_prefix("const TABLE: &'static str = \""));
                found.extend(names.map(|n| n.trim_end_matches("\";").to_owned()));
            }
        }
    }

    /// A room that keeps something new must be known here, or a restoring takes a newer form of it in.
    #[test]
    fn every_table_of_the_program_is_known() {
        let mut found = Vec::new();
        tables(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join("src"),
            &mut found,
        );
        assert!(found.len() > 12, "{found:?}");
        let unknown: Vec<&String> = found
            .iter()
            .filter(|t| !DISPOSABLE.contains(&t.as_str()) && known(t).is_none())
            .collect();
        assert!(unknown.is_empty(), "{unknown:?}");
    }
}
