//! What the program finds on this machine, and what there is to mend.

use std::path::Path;
use std::time::Instant;

use super::backup::{folder_bytes, read_all};
use crate::app::{Config, Preset, SETTINGS_FILE};
use crate::attempt::TimedAttemptEvent;
use crate::judge::{EngineJudge, Judge, Tables};
use crate::store::Store;
use crate::text;

/// How a thing stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// As it should be.
    Good,
    /// It works, and something could be better.
    Hint,
    /// It does not work.
    Bad,
}

/// One thing that was looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// 'store', 'engine', 'tables', 'settings'.
    pub about: &'static str,
    pub state: State,
    /// What was found, a sentence or two. May hold names of files: not safe to print as it is.
    pub found: String,
    /// What to do about it.
    pub mend: Option<String>,
}

impl Finding {
    /// As it should be.
    #[must_use]
    pub fn good(about: &'static str, found: impl Into<String>) -> Self {
        Self {
            about,
            state: State::Good,
            found: found.into(),
            mend: None,
        }
    }

    /// Not as it should be, with what to do.
    #[must_use]
    pub fn wrong(
        about: &'static str,
        state: State,
        found: impl Into<String>,
        mend: impl Into<String>,
    ) -> Self {
        Self {
            state,
            mend: Some(mend.into()),
            ..Self::good(about, found)
        }
    }

    /// A message of ours: what is wrong stands before the first semicolon, what to do after it.
    fn told(about: &'static str, error: &dyn std::fmt::Display) -> Self {
        let text = error.to_string();
        match text.split_once("; ") {
            Some((found, mend)) => Self::wrong(about, State::Bad, found, mend),
            None => Self {
                state: State::Bad,
                ..Self::good(about, text)
            },
        }
    }
}

/// Looks at store, settings, engine and tables. Begins no store where there is none, but mends one
/// that is damaged, as every start does.
#[must_use]
pub fn setup(config: &Config) -> Vec<Finding> {
    vec![
        settings(&config.home),
        store(&config.home),
        engine(config),
        tables(config.tables.as_deref()),
    ]
}

fn settings(home: &Path) -> Finding {
    let path = home.join(SETTINGS_FILE);
    match Preset::read(home) {
        Err(e) => Finding::told(tr_later!("settings"), &e),
        Ok(_) if !path.exists() => {
            Finding::good(tr_later!("settings"), tr!("none ({})", path.display()))
        }
        Ok(preset) => {
            let set: Vec<String> = [
                preset.engine.map(|e| format!("engine: {e}")),
                preset.tables.map(|t| format!("tables: {}", t.display())),
                preset.jobs.map(|j| format!("jobs: {j}")),
                preset.nodes.map(|n| format!("nodes: {n}")),
                preset.ascii.map(|a| format!("ascii: {a}")),
                preset.letters.map(|l| format!("letters: {}", l.name())),
                preset.locale.map(|l| format!("locale: {}", l.name())),
                preset
                    .translation
                    .map(|t| format!("translation: {}", t.display())),
            ]
            .into_iter()
            .flatten()
            .collect();
            Finding::good(
                tr_later!("settings"),
                format!("{}: {}", path.display(), set.join(", ")),
            )
        }
    }
}

fn store(home: &Path) -> Finding {
    if !home.exists() {
        return match Store::could_begin(home) {
            Err(missing) => Finding::told(tr_later!("store"), &missing),
            Ok(()) => Finding::good(
                tr_later!("store"),
                tr!("{}: nothing kept yet", home.display()),
            ),
        };
    }
    let looked = Store::open_or_read(home).and_then(|store| {
        store.check()?;
        read_all(&store)?;
        Ok((store.log_ids::<TimedAttemptEvent>()?.len(), store))
    });
    match looked {
        Ok((attempts, store)) => describe(&store, attempts),
        Err(e) => Finding::told(tr_later!("store"), &e),
    }
}

fn describe(store: &Store, attempts: usize) -> Finding {
    let found = tr!(
        "{}: {} attempts, {} MB, {}",
        store.folder().display(),
        text::whole(attempts),
        text::decimal(folder_bytes(store.folder()) as f64 / 1e6, 1),
        match store.lost() {
            0 => tr!("every entry as it was written"),
            _ => tr!("what is there as it was written"),
        }
    );
    let passed_over = store.set_aside().sentences();
    let mut told = store.notices().to_vec();
    told.extend(loss(store));
    let mend = match (store.lost(), passed_over.is_empty(), store.is_read_only()) {
        (1.., _, _) => {
            tr!(
                "restore a backup from before, if there is one; if there is none, take the file 'lost' out of the folder, \
             and this is said no more"
            )
        }
        (_, false, _) => tr!("update the program, or restore a backup from before"),
        (_, _, true) => tr!("see to what is said above; until then nothing new is kept here"),
        _ => tr!("nothing to do; what was found damaged was moved aside, not deleted"),
    };
    told.extend(passed_over);
    match told.is_empty() {
        true => Finding::good(tr_later!("store"), found),
        false => {
            let found = format!("{found}. {}", told.join(" "));
            Finding::wrong(tr_later!("store"), State::Hint, found, mend)
        }
    }
}

/// What damage has cost, as long as it is not made good.
fn loss(store: &Store) -> Option<String> {
    match store.lost() {
        0 => None,
        1 => Some(tr!("Damage has cost 1 entry, which is in no copy any more.").to_owned()),
        n => Some(tr!(
            "Damage has cost {n} entries, which are in no copy any more."
        )),
    }
}

fn engine(config: &Config) -> Finding {
    let began = Instant::now();
    let started = config.engine().and_then(|(command, mut settings)| {
        settings.jobs = 1;
        Ok(EngineJudge::start(command, settings)?)
    });
    let judge = match started {
        Ok(judge) => judge,
        Err(e) => return Finding::told(tr_later!("engine"), &e),
    };
    let able = judge.able();
    let found = tr!(
        "{}: answers; started and measured in {} s",
        judge.name(),
        text::decimal(began.elapsed().as_secs_f64(), 1)
    );
    if able.nodes {
        return Finding::good(tr_later!("engine"), found);
    }
    let mend = tr!(
        "it ignores 'go nodes' and is given time instead, so a review of the same tree can differ \
                from day to day; leave --engine out to use the embedded one"
    );
    Finding::wrong(tr_later!("engine"), State::Hint, found, mend)
}

fn tables(dir: Option<&Path>) -> Finding {
    let Some(dir) = dir else {
        return Finding::good(
            tr_later!("tables"),
            tr!("none; the engine judges endgames too"),
        );
    };
    let (tables, left_out) = Tables::open(dir);
    let found = match tables.men() {
        0 => tr!("{}: none found", dir.display()),
        men => tr!("{}: up to {men} men", dir.display()),
    };
    if left_out.is_empty() && tables.men() > 0 {
        return Finding::good(tr_later!("tables"), found);
    }
    let state = if tables.men() > 0 {
        State::Hint
    } else {
        State::Bad
    };
    let mend = match left_out.is_empty() {
        true => tr!("name a folder of .rtbw and .rtbz files with --tables").to_owned(),
        false => left_out.join(" "),
    };
    Finding::wrong(tr_later!("tables"), state, found, mend)
}
