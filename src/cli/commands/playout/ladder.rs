//! The starting positions that were chosen for converting.

use std::fmt::Write;

use crate::board::Line;
use crate::cli::{Failure, locate};
use crate::drill::Proof;

/// The ladder, step by step; what is known of each position stands in `foreply drills show`.
pub(super) fn ladder() -> Result<String, Failure> {
    let mut out = String::new();
    for (step, title) in LADDER {
        let _ = writeln!(out, "{}", crate::translation::text(title));
        for drill in locate::built_in()?
            .iter()
            .filter(|d| d.themes.iter().any(|t| t == step))
        {
            let side = drill.root.player().fold_wb(tr!("White"), tr!("Black"));
            let _ = writeln!(
                out,
                "{}",
                tr!(
                    "  {:<12} {side} to move, {} men, {}",
                    drill.id,
                    men(&drill.root),
                    drill.known_by.map_or("", Proof::words)
                )
            );
        }
    }
    Ok(out)
}

/// The themes of the ladder's steps with their titles.
const LADDER: [(&str, &str); 4] = [
    (
        "ladder-1",
        tr_later!("Step 1: a great advantage, to be brought home"),
    ),
    ("ladder-2", tr_later!("Step 2: a won ending")),
    (
        "ladder-3",
        tr_later!("Step 3: a clear advantage with pieces on the board"),
    ),
    (
        "ladder-4",
        tr_later!("Step 4: a slight but lasting advantage"),
    ),
];

fn men(root: &Line) -> usize {
    use shakmaty::Position;
    root.position().board().occupied().count()
}
