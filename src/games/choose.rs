//! Which moments are worth a sitting.

use super::moment::{Moment, Reason};

/// Moments of one game, controls not counted.
const MOST: usize = 6;
/// Two moments of a game are more than so many half-moves apart: what lies nearer has the same cause.
const APART: usize = 6;
/// A control has no cause to share: where none is left so far away, one behind the next move will do.
const CONTROL_APART: usize = 2;
/// Below this value a moment is chosen only where a game has fewer than [`LEAST`].
const WORTH: f64 = 0.05;
const LEAST: usize = 3;
/// Below this there is nothing to learn.
const NOTHING: f64 = 0.015;
/// One in so many of all positions is a control.
const CONTROL_SHARE: usize = 4;

/// Of all moments of all games: per game the best up to six, none within three moves of another, and one
/// control for every three of them, from the same game where it has one. In the order of the games.
#[must_use]
pub fn choose(found: Vec<Moment>) -> Vec<Moment> {
    let (mut controls, mut moments): (Vec<Moment>, Vec<Moment>) = found
        .into_iter()
        .partition(|m| m.reasons == [Reason::Control]);
    moments.sort_by(|a, b| b.value.total_cmp(&a.value).then(a.ply.cmp(&b.ply)));
    let mut chosen: Vec<Moment> = Vec::new();
    for moment in moments {
        let of_game = chosen.iter().filter(|c| c.game == moment.game).count();
        let enough = if of_game < LEAST { NOTHING } else { WORTH };
        let wanted = of_game < MOST && moment.value >= enough;
        if wanted && is_apart(&chosen, &moment, APART) {
            chosen.push(moment);
        }
    }
    let wanted = chosen.len().div_ceil(CONTROL_SHARE - 1);
    // Where he thought longest is the most like a moment; no clock, the first ones.
    controls.sort_by(|a, b| b.spent_ms.cmp(&a.spent_ms).then(a.ply.cmp(&b.ply)));
    let got = add_controls(&mut chosen, &mut controls, wanted, APART);
    add_controls(&mut chosen, &mut controls, wanted - got, CONTROL_APART);
    chosen.sort_by_key(|m| (m.game, m.ply));
    chosen
}

fn is_apart(chosen: &[Moment], moment: &Moment, apart: usize) -> bool {
    !chosen
        .iter()
        .any(|c| c.game == moment.game && c.ply.abs_diff(moment.ply) <= apart)
}

/// Spread over the games: always the game with the fewest controls for its moments is next. Gives how many there
/// were to add.
fn add_controls(
    chosen: &mut Vec<Moment>,
    controls: &mut Vec<Moment>,
    wanted: usize,
    apart: usize,
) -> usize {
    for added in 0..wanted {
        let load = |game: usize| {
            let of = |control: bool| {
                let is = move |m: &&Moment| (m.reasons == [Reason::Control]) == control;
                chosen.iter().filter(|m| m.game == game).filter(is).count()
            };
            (of(true) * 100) / of(false).max(1)
        };
        let free = controls
            .iter()
            .enumerate()
            .filter(|(_, c)| is_apart(chosen, c, apart));
        let Some(next) = free.min_by_key(|(i, c)| (load(c.game), *i)).map(|(i, _)| i) else {
            return added;
        };
        chosen.push(controls.remove(next));
    }
    wanted
}
