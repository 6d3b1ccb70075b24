//! How long reviews take, cold and warm, with one engine and with several side by side.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use foreply::app::Note;
use foreply::app::notes;
use foreply::review::{Finding, ReviewInput, ReviewObserver, Settings, review};

use super::args::Args;
use super::asked::{self, Meter};

pub fn run(args: &Args, jobs: usize) -> Result<(), String> {
    let own = PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/data/harrowmere-forty-moves.pgn"
    ));
    let files = if args.files.is_empty() {
        std::slice::from_ref(&own)
    } else {
        &args.files
    };
    for file in files {
        let bytes = std::fs::read(file).map_err(|e| format!("{}: {e}", file.display()))?;
        for note in notes(&bytes, None).trees {
            println!(
                "{}: {} written moves",
                note.heading,
                note.written.tree.len()
            );
            let mut told = Vec::new();
            for jobs in [1, jobs] {
                told.extend(timed(args, &note, jobs)?);
            }
            told.dedup();
            let same = told.len() == 1;
            println!(
                "  the same review each time: {}",
                if same { "yes" } else { "NO" }
            );
        }
    }
    Ok(())
}

/// When the first and the last counted finding were told before the review was whole.
struct Watch {
    start: Instant,
    told: Vec<Duration>,
}

impl Watch {
    fn start() -> Self {
        Self {
            start: Instant::now(),
            told: Vec::new(),
        }
    }

    fn told(&self) -> String {
        match (self.told.first(), self.told.last()) {
            (Some(first), Some(last)) => format!(
                ", the first after {:.2} s, {} by {:.2} s",
                first.as_secs_f64(),
                self.told.len(),
                last.as_secs_f64()
            ),
            _ => String::new(),
        }
    }
}

impl ReviewObserver for Watch {
    fn progress(&mut self, _: usize, _: usize) {}

    fn finding(&mut self, _: &Finding) {
        self.told.push(self.start.elapsed());
    }
}

/// The reviews of one tree, cold and then warm, in full.
fn timed(args: &Args, note: &Note, jobs: usize) -> Result<[String; 2], String> {
    let judge = asked::judge(args.engine.as_deref(), Some(jobs), None)?;
    let settings = Settings {
        nodes: args.nodes,
        ..Settings::default()
    };
    let written = ReviewInput {
        tree: &note.written.tree,
        choice: note.written.choice,
        attempt: None,
        ply_in_game: None,
    };
    let pass = |name| {
        let meter = Meter::start(&judge);
        let mut watch = Watch::start();
        let found = review(&written, &judge, &settings, &mut watch).map_err(|e| e.to_string())?;
        let (line, counted) = (meter.read(&judge).line(jobs), found.counted().count());
        println!(
            "  {jobs} side by side, {name}  {line}  {counted} counted{}",
            watch.told()
        );
        Ok::<String, String>(format!("{found:?}"))
    };
    let cold = pass("cold")?;
    if jobs == 1 {
        for (size, (searches, nodes)) in judge.asked() {
            let millions = nodes as f64 / 1e6;
            println!("    {searches:5} searches of {size:7} nodes: {millions:6.2} M");
        }
    }
    Ok([cold, pass("warm")?])
}
