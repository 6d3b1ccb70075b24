//! The judge, started when it is first needed.

use std::sync::{Arc, Mutex, PoisonError};

use crate::judge::{
    CachedJudge, EngineCommand, EngineJudge, Judge, JudgeError, Settings as EngineSettings,
    TableJudge, Tables,
};
use crate::store::Store;

/// Where the judge comes from.
pub(crate) struct JudgeProvider {
    sitting: Mutex<Option<Arc<dyn Judge>>>,
    source: Option<Source>,
}

struct Source {
    command: EngineCommand,
    settings: EngineSettings,
    store: Arc<Store>,
    /// Until the judge is started, which takes them.
    tables: Mutex<Option<Tables>>,
}

impl JudgeProvider {
    /// An engine whose answers are kept in the store, behind tables where there are some.
    pub(crate) fn engine(
        command: EngineCommand,
        settings: EngineSettings,
        store: Arc<Store>,
        tables: Option<Tables>,
    ) -> Self {
        Self {
            sitting: Mutex::new(None),
            source: Some(Source {
                command,
                settings,
                store,
                tables: Mutex::new(tables),
            }),
        }
    }

    /// A judge that is there.
    pub(crate) fn ready(judge: Arc<dyn Judge>) -> Self {
        Self {
            sitting: Mutex::new(Some(judge)),
            source: None,
        }
    }

    /// The judge; starts it where it is not running. After a failure the next call tries again.
    pub(crate) fn judge(&self) -> Result<Arc<dyn Judge>, JudgeError> {
        // Only a whole judge is ever put in: a thread that panicked while starting one left none.
        let mut sitting = self.sitting.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(judge) = &*sitting {
            return Ok(judge.clone());
        }
        let judge = self.start()?;
        *sitting = Some(judge.clone());
        Ok(judge)
    }

    /// The engine itself, without what is kept and without tables: for questions that are answered for another machine.
    pub(crate) fn engine_alone(&self) -> Result<EngineJudge, JudgeError> {
        let Some(source) = &self.source else {
            let what = tr!("no engine is configured").to_owned();
            return Err(JudgeError::Table { what });
        };
        EngineJudge::start(source.command.clone(), source.settings)
    }

    fn start(&self) -> Result<Arc<dyn Judge>, JudgeError> {
        let Some(source) = &self.source else {
            let what = tr!("no judge is configured").to_owned();
            return Err(JudgeError::Table { what });
        };
        let engine = EngineJudge::start(source.command.clone(), source.settings)?;
        let judge = CachedJudge::new(engine, Some(source.store.clone()));
        // Taken only now: after a failed start the next one still finds them.
        let tables = source
            .tables
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .take();
        Ok(match tables {
            Some(tables) => Arc::new(TableJudge::new(tables, judge)),
            None => Arc::new(judge),
        })
    }
}
