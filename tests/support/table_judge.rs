//! The judge of scripted play-outs.

use foreply::judge::{EngineCommand, EngineJudge, Settings, TableJudge, Tables};

/// The embedded engine, or another UCI engine where the environment names one, with the shipped tables of
/// three men in front of it.
pub fn judge() -> TableJudge<EngineJudge> {
    let command = match std::env::var("FOREPLY_TEST_ENGINE") {
        Ok(text) => EngineCommand::parse(&text).unwrap(),
        Err(_) => EngineCommand::new(env!("CARGO_BIN_EXE_foreply"), ["engine"]),
    };
    let settings = Settings {
        jobs: 1,
        ..Settings::default()
    };
    let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/syzygy");
    let (tables, trouble) = Tables::open(dir.as_ref());
    assert!(trouble.is_empty(), "{trouble:?}");
    TableJudge::new(tables, EngineJudge::start(command, settings).unwrap())
}
