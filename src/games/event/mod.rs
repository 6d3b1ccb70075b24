//! The event: its rounds in their order, what runs through them, and what he takes away from it.
//!
//! Takes own games, judged and with their moments; gives events ([`events`]), the account of one ([`account`]) and what
//! he takes away ([`takeaway`]), each tied to something that can be counted ([`countable`]).
//!
//! # Definitions
//!
//! - **Event**: games with the same tag `Event`, in the order of their dates. A new one of the same name begins where a
//!   round comes again or an earlier one follows, or where more than 150 days lie between two games (common practice, no
//!   source); so two events of one name stay two.
//! - **Runs through**: a kind of oversight in three or more games of the event and in half of them at least. What is less is
//!   told with its numbers, and that it is too little.
//! - **Early middlegame**: before the 21st move, as in the openings.

pub mod account;
pub mod countable;
pub mod takeaway;

use super::kept::OwnGame;

/// Days between two games of one event at most.
const APART_DAYS: i64 = 150;

/// An event, by the places of its games in what was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GameEvent {
    /// A name for the store and for commands: letters, digits and hyphens, with the first date.
    pub id: String,
    /// As the games say it; may come from a file.
    pub name: String,
    /// Of its first and last game, as PGN writes dates.
    pub from: String,
    pub to: String,
    /// In the order of dates and rounds.
    pub games: Vec<usize>,
    /// What is odd about it, in sentences.
    pub odd: Vec<String>,
}

/// The events of games that are given in the order of their dates, the oldest first. Games without an event are in none.
#[must_use]
pub fn events(games: &[OwnGame]) -> Vec<GameEvent> {
    let mut found: Vec<GameEvent> = Vec::new();
    for (at, game) in games.iter().enumerate() {
        let Some(name) = game.game.tag("Event") else {
            continue;
        };
        let last = found.iter_mut().rev().find(|e| e.name == name);
        match last.filter(|e| goes_on(games, e, game)) {
            Some(event) => {
                event.games.push(at);
                event.to = game.date().to_owned();
            }
            None => found.push(GameEvent {
                id: id(name, game.date()),
                name: name.to_owned(),
                from: game.date().to_owned(),
                to: game.date().to_owned(),
                games: vec![at],
                odd: Vec::new(),
            }),
        }
    }
    let names: Vec<String> = found.iter().map(|e| e.name.clone()).collect();
    for event in &mut found {
        let of_name = names.iter().filter(|n| **n == event.name).count();
        event.odd = odd(games, event, of_name);
    }
    found
}

/// The game belongs to the event that its name names.
fn goes_on(games: &[OwnGame], event: &GameEvent, game: &OwnGame) -> bool {
    let Some(before) = event.games.last().and_then(|p| games.get(*p)) else {
        return false;
    };
    let later = match (round(before), round(game)) {
        (Some(before), Some(now)) => now > before,
        _ => true,
    };
    let near = match (day(before.date()), day(game.date())) {
        (Some(before), Some(now)) => now - before <= APART_DAYS,
        _ => true,
    };
    later && near
}

/// The number of a round: `6` of `6.1`.
#[must_use]
pub fn round(game: &OwnGame) -> Option<u32> {
    let tag = game.game.tag("Round")?;
    tag.split('.').next()?.trim().parse().ok()
}

/// Days since some day, of a date that is known.
fn day(date: &str) -> Option<i64> {
    let mut parts = date.split('.').map(|p| p.parse::<i64>().ok());
    let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
    // Months of 31 days: near enough for a gap of months.
    Some((year * 12 + month) * 31 + day)
}

fn id(name: &str, date: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    let slug: String = name.to_lowercase().chars().map(plain).take(60).collect();
    let slug: Vec<&str> = slug.split('-').filter(|p| !p.is_empty()).collect();
    let date: String = date.chars().filter(char::is_ascii_digit).collect();
    format!("{}-{date}", slug.join("-"))
}

fn odd(games: &[OwnGame], event: &GameEvent, of_name: usize) -> Vec<String> {
    let mut odd = Vec::new();
    let rounds: Vec<u32> = event
        .games
        .iter()
        .filter_map(|p| round(games.get(*p)?))
        .collect();
    let last = rounds.last().copied().unwrap_or(0);
    let missing: Vec<String> = (1..last)
        .filter(|r| !rounds.contains(r))
        .map(|r| r.to_string())
        .collect();
    match missing.len() {
        0 => {}
        1 => odd.push(tr!("Round {} is missing.", missing.join(""))),
        _ => odd.push(tr!("Rounds {} are missing.", crate::text::list(&missing))),
    }
    if of_name > 1 {
        odd.push(tr!(
            "There are {} events of this name; this one began on {}.",
            crate::text::number(of_name),
            crate::text::day(&event.from)
        ));
    }
    odd
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::games::KeptGame;

    fn game(id: &str, event: &str, date: &str, round: &str) -> OwnGame {
        OwnGame::read(&KeptGame {
            id: id.to_owned(),
            white: true,
            pgn: format!(
                "[Event \"{event}\"]\n[Date \"{date}\"]\n[Round \"{round}\"]\n\n1. e4 e5 *"
            ),
            moves: String::new(),
        })
        .unwrap()
    }

    #[test]
    fn two_events_of_one_name_stay_two_and_a_missing_round_is_told() {
        let games = [
            game("a", "Harrowmere Open", "2026.01.03", "1"),
            game("b", "Island Cup", "2026.01.04", "?"),
            game("c", "Harrowmere Open", "2026.01.05", "3.2"),
            game("d", "Harrowmere Open", "2026.01.06", "1"),
            game("e", "Harrowmere Open", "2026.01.07", "2"),
            // Half a year later, and no round known.
            game("f", "Harrowmere Open", "2026.11.07", "?"),
        ];
        let found = events(&games);
        let places: Vec<&[usize]> = found.iter().map(|e| e.games.as_slice()).collect();
        assert_eq!(places, [&[0, 2][..], &[1], &[3, 4], &[5]]);
        assert_eq!(found[0].id, "harrowmere-open-20260103");
        assert_eq!(
            found[0].odd,
            [
                "Round 2 is missing.",
                "There are three events of this name; this one began on 2026.01.03."
            ]
        );
        assert!(found[1].odd.is_empty(), "{:?}", found[1].odd);
    }
}
