//! The search for one and for two slips.

use shakmaty::{Chess, Move, Position};

use super::cost::{self, Habits};
use super::path::{Way, follow};
use super::{Entry, Fitted, Repair, Sheet, Slip};
use crate::notation::meanings;

/// Repairs that are given.
const SHOWN: usize = 8;
/// Entries before the misfit in which a move may be missing, or one too many.
const NEAR: usize = 10;
/// Readings with one slip from which a second is looked for.
const GO_ON: usize = 40;
/// Entries before the end of such a reading in which the second slip is looked for.
const SECOND_NEAR: usize = 6;

/// Fits the sheet to a game.
#[must_use]
pub fn fit(sheet: &Sheet) -> Fitted {
    let entries = &sheet.entries;
    let habits = Habits::of(entries);
    let mut road = Vec::new();
    let plain = follow(Way::new(&sheet.start), entries, habits, &mut |way| {
        road.push(way.clone());
    });
    let reached = plain.iter().map(|way| way.at).max().unwrap_or(0);
    let best = plain.iter().filter(|way| way.at == reached);
    let best: Vec<&Way> = best.collect();
    let first = best.iter().min_by(|a, b| a.cost.total_cmp(&b.cost));
    let moves = first.map_or_else(Vec::new, |way| way.game().0);
    if reached == entries.len() {
        return Fitted {
            doubtful: doubtful(&moves, &best),
            moves,
            misfit: None,
            repairs: Vec::new(),
        };
    }
    let once = slipped(&road, entries, habits, reached);
    let mut ended: Vec<Way> = Vec::new();
    for way in once {
        ended.extend(follow(way, entries, habits, &mut |_| {}));
    }
    let mut repairs = whole(&ended, entries);
    if repairs.is_empty() {
        repairs = whole(&twice(ended, entries, habits), entries);
    }
    Fitted {
        moves,
        misfit: Some(reached),
        doubtful: Vec::new(),
        repairs,
    }
}

/// The readings that explain all entries, each game once, the likeliest first.
fn whole(ended: &[Way], entries: &[Entry]) -> Vec<Repair> {
    let mut ways: Vec<&Way> = ended.iter().filter(|w| w.at == entries.len()).collect();
    ways.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let mut repairs: Vec<Repair> = Vec::new();
    for way in ways {
        let (moves, from) = way.game();
        if repairs.len() < SHOWN && repairs.iter().all(|r| r.moves != moves) {
            repairs.push(Repair {
                slips: way.slips.clone(),
                moves,
                from,
                fits: way.at,
                cost: way.cost,
            });
        }
    }
    repairs
}

/// A second slip behind the first: near where the readings with one slip end, of those that reach furthest for least.
fn twice(mut once: Vec<Way>, entries: &[Entry], habits: Habits) -> Vec<Way> {
    // Each entry more that is explained weighs as a fifth of a letter misread.
    let weight = |way: &Way| way.cost - 0.2 * way.at as f64;
    once.sort_by(|a, b| weight(a).total_cmp(&weight(b)));
    once.truncate(GO_ON);
    let mut ended = Vec::new();
    for way in once {
        let mut road = Vec::new();
        let Some(from) = way.slipped.as_deref().cloned() else {
            continue;
        };
        follow(from, entries, habits, &mut |w| road.push(w.clone()));
        let near = road.iter().filter(|w| w.at + SECOND_NEAR >= way.at);
        let near: Vec<Way> = near.cloned().collect();
        for mut second in slipped(&near, entries, habits, way.at) {
            second.cost += cost::ANOTHER_SLIP;
            ended.extend(follow(second, entries, habits, &mut |_| {}));
        }
    }
    ended
}

/// Every reading with one more slip at one of the places.
fn slipped(road: &[Way], entries: &[Entry], habits: Habits, misfit: usize) -> Vec<Way> {
    let mut found = Vec::new();
    for way in road.iter().filter(|way| way.at <= misfit) {
        another(way, entries, habits, misfit, &mut found);
        if way.at + NEAR >= misfit {
            missing(way, entries, misfit, &mut found);
            too_many(way, entries, misfit, &mut found);
            swapped(way, entries, habits, misfit, &mut found);
        }
    }
    found
}

/// What a slip costs by where it is: what shows late is less likely.
fn far(way: &Way, misfit: usize) -> f64 {
    let fitted = if way.at < misfit { cost::FITTED } else { 0.0 };
    fitted + cost::DISTANCE * misfit.saturating_sub(way.at) as f64
}

fn next(way: &Way, slip: Slip, extra: f64) -> Way {
    let mut next = way.clone();
    next.slips.push(slip);
    next.cost += extra;
    next
}

/// Another move in the place of the entry.
fn another(way: &Way, entries: &[Entry], habits: Habits, misfit: usize, found: &mut Vec<Way>) {
    let Some(entry) = entries.get(way.at) else {
        return;
    };
    let written = entry.token.as_ref().map(|t| meanings(t, &way.pos));
    let written = written.unwrap_or_default();
    for mv in way.pos.legal_moves() {
        if written.contains(&mv) {
            continue;
        }
        let extra = far(way, misfit) + cost::another(entry, &way.pos, &mv, habits);
        let at = way.at;
        let slip = Slip::Another {
            at,
            played: mv.clone(),
        };
        let mut way = next(way, slip, extra);
        way.play(&mv, Some(at));
        way.at += 1;
        found.push(way.marked());
    }
}

/// Moves that are not on the sheet: one of the side to move, or one of each.
fn missing(way: &Way, entries: &[Entry], misfit: usize, found: &mut Vec<Way>) {
    // Before a move that cannot be read anything could stand: nothing says so.
    if entries.get(way.at).is_none_or(|e| e.token.is_err()) {
        return;
    }
    let skipped = entries.get(way.at).is_some_and(|e| skips(e, way));
    let (one, two) = match skipped {
        true => (cost::NUMBER_SKIPPED, cost::NUMBER_SKIPPED),
        false => (cost::MISSING_ONE, cost::MISSING_PAIR),
    };
    let far = far(way, misfit);
    for mv in way.pos.legal_moves() {
        let slip = |played| Slip::Missing { at: way.at, played };
        let first = cost::unlikely(&way.pos, &mv);
        let mut single = next(way, slip(vec![mv.clone()]), far + one + first);
        single.play(&mv, None);
        // Whatever comes between must at least let the next entry stand.
        let replies = replies(&single.pos, entries, way.at);
        let single_pos = single.pos.clone();
        if fits(&single_pos, entries, single.at) {
            found.push(single.marked());
        }
        for reply in replies {
            let second = cost::unlikely(&single_pos, &reply);
            let slip = slip(vec![mv.clone(), reply.clone()]);
            let mut pair = next(way, slip, far + two + first + second);
            pair.play(&mv, None);
            pair.play(&reply, None);
            found.push(pair.marked());
        }
    }
}

/// The replies behind which the entry fits.
fn replies(pos: &Chess, entries: &[Entry], at: usize) -> Vec<Move> {
    let fits_behind = |reply: &Move| {
        let mut after = pos.clone();
        after.play_unchecked(reply);
        fits(&after, entries, at)
    };
    pos.legal_moves().into_iter().filter(fits_behind).collect()
}

fn fits(pos: &Chess, entries: &[Entry], at: usize) -> bool {
    let token = entries.get(at).and_then(|e| e.token.as_ref().ok());
    token.is_none_or(|token| !meanings(token, pos).is_empty())
}

/// The number before the entry is higher than it would be here.
fn skips(entry: &Entry, way: &Way) -> bool {
    entry
        .number
        .is_some_and(|(number, _)| number > way.pos.fullmoves().get())
}

/// One or two entries that stand there twice, or were never played.
fn too_many(way: &Way, entries: &[Entry], misfit: usize, found: &mut Vec<Way>) {
    for count in [1, 2] {
        let Some(left_out) = entries.get(way.at..way.at + count) else {
            continue;
        };
        let before = |back: usize| entries.get(way.at.checked_sub(back)?);
        let same = |back: usize| {
            let pairs = left_out.iter().enumerate();
            pairs.fold(true, |same, (n, e)| {
                same && back > n && before(back - n).is_some_and(|b| b.text == e.text)
            })
        };
        let twice = (count..=4).any(same);
        let price = if twice { cost::TWICE } else { cost::TOO_MANY };
        let slip = Slip::TooMany {
            at: way.at,
            entries: count,
        };
        let mut way = next(way, slip, far(way, misfit) + price);
        way.at += count;
        found.push(way.marked());
    }
}

/// The entry and the own move after it in the other order.
fn swapped(way: &Way, entries: &[Entry], habits: Habits, misfit: usize, found: &mut Vec<Way>) {
    let at = way.at;
    if entries.len() < at + 3 {
        return;
    }
    let slip = Slip::Swapped { at };
    let mut ways = vec![next(way, slip, far(way, misfit) + cost::SWAPPED)];
    for turned in [at + 2, at + 1, at] {
        ways = ways
            .iter()
            .flat_map(|way| readings(way, entries, turned, habits))
            .collect();
    }
    for mut way in ways {
        way.at = at + 3;
        found.push(way.marked());
    }
}

/// The entry played here, in each way in which it can be meant.
fn readings(way: &Way, entries: &[Entry], at: usize, habits: Habits) -> Vec<Way> {
    let Some(Ok(token)) = entries.get(at).map(|e| e.token.as_ref()) else {
        return Vec::new();
    };
    let play = |mv: Move| {
        let mut next = way.clone();
        next.cost += cost::marks(token, &way.pos, &mv, habits);
        next.play(&mv, Some(at));
        next
    };
    meanings(token, &way.pos).into_iter().map(play).collect()
}

/// Entries of the game that the words leave open and the rest does not decide.
fn doubtful(moves: &[Move], best: &[&Way]) -> Vec<(usize, Vec<Move>)> {
    let games: Vec<Vec<Move>> = best.iter().map(|way| way.game().0).collect();
    let mut found = Vec::new();
    for (at, mv) in moves.iter().enumerate() {
        let mut others: Vec<Move> = vec![mv.clone()];
        for game in games.iter().filter(|g| g.get(..at) == moves.get(..at)) {
            if let Some(other) = game.get(at)
                && !others.contains(other)
            {
                others.push(other.clone());
            }
        }
        if others.len() > 1 {
            found.push((at, others));
        }
    }
    found
}
