//! How long reviews take, cold and warm.

use foreply::app::notes;
use foreply::review::{Settings, Written, review};

use super::args::Args;
use super::asked::{Judge, Meter};

pub fn run(args: &Args, judge: &Judge, jobs: usize) -> Result<(), String> {
    let settings = Settings {
        nodes: args.nodes,
        ..Settings::default()
    };
    for file in &args.files {
        let bytes = std::fs::read(file).map_err(|e| format!("{}: {e}", file.display()))?;
        for note in notes(&bytes, None).trees {
            let written = Written {
                tree: &note.written.tree,
                choice: note.written.choice,
                attempt: None,
                ply_in_game: None,
            };
            println!(
                "{}: {} written moves",
                note.heading,
                note.written.tree.len()
            );
            for pass in ["first ", "second"] {
                let meter = Meter::start(judge);
                let found = review(&written, judge, &settings, &mut |_, _| {})
                    .map_err(|e| e.to_string())?;
                let counted = found.counted().count();
                println!(
                    "  {pass} {}  {counted} counted",
                    meter.read(judge).line(jobs)
                );
            }
        }
    }
    Ok(())
}
