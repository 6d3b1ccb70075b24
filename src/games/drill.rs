//! From a moment to a drill.

use shakmaty::Position;

use super::moment::Moment;
use super::survey::Surveyed;
use super::wording::{in_the_game, sentence};
use crate::board::Line;
use crate::drill::{Drill, Task, own_game_id};
use crate::tree::{Author, NodeId, Tree};

/// Thinking time of every drill from a game, in minutes: the same for all, so that it tells nothing.
const MINUTES: u32 = 8;
/// Half-moves of a solution.
const SOLUTION_MAX: usize = 8;

/// The drill of a moment. The identifier depends on game and move alone, so it is the same in every run.
/// Nothing but the position is seen before the commit.
#[must_use]
pub fn drill(surveyed: &Surveyed, moment: &Moment) -> Option<Drill> {
    let (game, ply) = (&surveyed.game, moment.ply);
    let scored = surveyed.plies.get(ply)?;
    let root = Line::new(game.line_to(ply).position().clone());
    let mut solution = Tree::new(root.clone());
    let wanted = moment.needed.clamp(1, SOLUTION_MAX);
    let best = scored.best.first()?;
    let mut at = NodeId::ROOT;
    for mv in best.line.iter().take(wanted) {
        let line = solution.line(at)?;
        if line.position().legal_moves().iter().all(|m| m != mv) {
            break;
        }
        let san = crate::board::line::san(line.position(), mv);
        at = solution.add(at, &san, Author::Engine, 0).ok()?;
    }
    let number = game.numbered(ply);
    // A drill is kept, so its prose is English in every language.
    let note = crate::translation::in_english(|| {
        format!(
            "{} {}",
            in_the_game(moment, &number),
            sentence(moment, &number)
        )
    });
    let reasons = moment.reasons.iter().map(|r| r.code().to_owned());
    (!solution.is_empty()).then(|| Drill {
        id: own_game_id(&game.id, game.number(ply), game.side.is_white()),
        title: format!("Own game of {}, move {}", game.date(), game.number(ply)),
        root,
        task: Task::Move,
        minutes: MINUTES,
        source: cut(&format!("{}, move {}", game.heading(), game.number(ply))),
        themes: std::iter::once("own-game".to_owned())
            .chain(reasons)
            .collect(),
        solution,
        grade: None,
        known_by: None,
        note: Some(note),
    })
}

/// Names from a file may be of any length; a drill's texts may not.
fn cut(text: &str) -> String {
    crate::text::safe(text).chars().take(400).collect()
}
