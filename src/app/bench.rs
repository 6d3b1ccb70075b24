//! The judge, started when it is first needed.

use std::sync::{Arc, Mutex, PoisonError};

use crate::judge::{
    CachedJudge, EngineCommand, EngineJudge, Judge, JudgeError, Settings as EngineSettings,
};
use crate::store::Store;

/// Where the judge comes from.
pub(super) struct Bench {
    sitting: Mutex<Option<Arc<dyn Judge>>>,
    source: Option<Source>,
}

struct Source {
    command: EngineCommand,
    settings: EngineSettings,
    store: Arc<Store>,
}

impl Bench {
    /// An engine whose answers are kept in the store.
    pub(super) fn engine(
        command: EngineCommand,
        settings: EngineSettings,
        store: Arc<Store>,
    ) -> Self {
        Self {
            sitting: Mutex::new(None),
            source: Some(Source {
                command,
                settings,
                store,
            }),
        }
    }

    /// A judge that is there.
    pub(super) fn ready(judge: Arc<dyn Judge>) -> Self {
        Self {
            sitting: Mutex::new(Some(judge)),
            source: None,
        }
    }

    /// The judge; starts it where it is not running. After a failure the next call tries again.
    pub(super) fn judge(&self) -> Result<Arc<dyn Judge>, JudgeError> {
        // Only a whole judge is ever put in: a thread that panicked while starting one left none.
        let mut sitting = self.sitting.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(judge) = &*sitting {
            return Ok(judge.clone());
        }
        let judge = self.start()?;
        *sitting = Some(judge.clone());
        Ok(judge)
    }

    fn start(&self) -> Result<Arc<dyn Judge>, JudgeError> {
        let Some(source) = &self.source else {
            let what = "no judge is configured".to_owned();
            return Err(JudgeError::Table { what });
        };
        let engine = EngineJudge::start(source.command.clone(), source.settings)?;
        Ok(Arc::new(CachedJudge::new(
            engine,
            Some(source.store.clone()),
        )))
    }
}
