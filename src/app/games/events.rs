//! Events of own games: their account, what he takes away from them, and whether it held.

use crate::app::AppError;
use crate::app::games::service::{GameService, JudgedGames, Step};
use crate::games::event::account::{EventAccount, account};
use crate::games::event::countable::{Count, Countable, CountedGame};
use crate::games::event::takeaway::{EventTakeaways, Takeaway};
use crate::games::event::{GameEvent, events};
use crate::games::moment::Moment;
use crate::games::survey::Settings;
use crate::games::thoughts::compare::{Compared, compare};
use crate::progress::resolution::Resolution;
use crate::progress::stats::Rate;

/// An event, with all that is told of it.
#[derive(Debug, Clone)]
pub struct EventRead {
    pub event: GameEvent,
    pub account: EventAccount,
    /// What he took away from the event before, and whether it held since.
    pub resolutions: Vec<Resolution>,
    /// Of which event those are.
    pub earlier: Option<String>,
    pub takeaways: Vec<Takeaway>,
    /// Games that may not be judged yet, in sentences.
    pub held_back: Vec<String>,
    pub judge: String,
    pub nodes: u64,
}

/// His takeaways as they come back: on the eve of a game, and on the home screen.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Reminder {
    pub event: String,
    pub words: Vec<String>,
}

/// What a change of takeaways is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TakeawayChange {
    Add(String, Option<Countable>),
    /// By its number, the first being 1.
    Drop(usize),
}

impl GameService {
    /// The events of his games, the oldest first.
    ///
    /// # Errors
    /// There are no games, or the store cannot be read.
    pub fn game_events(&self) -> Result<Vec<GameEvent>, AppError> {
        let games = self.own_games()?;
        if games.is_empty() {
            return Err(AppError::NoGames);
        }
        Ok(events(&games))
    }

    /// The event that is meant: 'last', its identifier or a beginning of it, or words of its name.
    ///
    /// # Errors
    /// There is none, or there are several; the store cannot be read.
    pub fn game_event(&self, text: &str) -> Result<GameEvent, AppError> {
        let mut all = self.game_events()?;
        let text = text.trim();
        let none = || AppError::NoSuchEvent(text.to_owned());
        if text == "last" {
            // The event with the last game, not the one that began last.
            let last = all.iter().enumerate();
            let last = last.max_by_key(|(_, e)| e.games.last().copied());
            let at = last.map(|(at, _)| at).ok_or_else(none)?;
            return Ok(all.swap_remove(at));
        }
        let exact = all.iter().position(|e| e.id == text);
        let words = |e: &GameEvent| {
            let name = e.name.to_lowercase();
            let mut words = text.split_whitespace().peekable();
            words.peek().is_some() && words.all(|w| name.contains(&w.to_lowercase()))
        };
        let fits = |e: &GameEvent| !text.is_empty() && (e.id.starts_with(text) || words(e));
        let found: Vec<usize> = match exact {
            Some(at) => vec![at],
            None => (0..all.len())
                .filter(|i| all.get(*i).is_some_and(fits))
                .collect(),
        };
        match found[..] {
            [] => Err(none()),
            [one] => Ok(all.swap_remove(one)),
            _ => Err(AppError::SeveralEvents {
                text: text.to_owned(),
                names: found
                    .iter()
                    .filter_map(|i| all.get(*i))
                    .map(|e| e.id.clone())
                    .collect(),
            }),
        }
    }

    /// The event to which a game belongs, by the game's identifier.
    ///
    /// # Errors
    /// It belongs to none, or the store cannot be read.
    pub fn event_of_game(&self, id: &str) -> Result<GameEvent, AppError> {
        let games = self.own_games()?;
        let at = games.iter().position(|g| g.id == id);
        let mut all = events(&games).into_iter();
        let found = all.find(|e| at.is_some_and(|at| e.games.contains(&at)));
        found.ok_or_else(|| AppError::NoEvent(id.to_owned()))
    }

    /// What he takes away from an event.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn takeaways(&self, event: &GameEvent) -> Result<EventTakeaways, AppError> {
        Ok(self.repository.store().get(&event.id)?.unwrap_or_default())
    }

    /// Adds a takeaway, or takes one away; gives them as they are then.
    ///
    /// # Errors
    /// There are three, there is none of that number, or it could not be kept.
    pub fn change_takeaways(
        &self,
        event: &GameEvent,
        change: TakeawayChange,
    ) -> Result<EventTakeaways, AppError> {
        let mut of = self.takeaways(event)?;
        let changed = match change {
            TakeawayChange::Add(words, tied) => of.add(&words, tied),
            TakeawayChange::Drop(number) => of.drop(number),
        };
        changed.map_err(AppError::Takeaway)?;
        of.wall_ms = self.clock.wall_ms();
        of.event.clone_from(&event.name);
        of.until.clone_from(&event.to);
        if of.takeaways.is_empty() {
            self.repository
                .store()
                .remove::<EventTakeaways>(&event.id)?;
        } else {
            self.repository.store().put(&event.id, &of)?;
        }
        Ok(of)
    }

    /// His takeaways from the last event that has any.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn reminder(&self) -> Result<Reminder, AppError> {
        let all = self.repository.store().scan::<EventTakeaways>()?;
        let last = all.into_iter().map(|(_, t)| t);
        let last = last.max_by(|a, b| (&a.until, a.wall_ms).cmp(&(&b.until, b.wall_ms)));
        Ok(last.map_or_else(Reminder::default, |of| Reminder {
            event: of.event,
            words: of.takeaways.into_iter().map(|t| t.words).collect(),
        }))
    }

    /// The account of an event. All his games are judged for it, since what he took away earlier is held against all that
    /// came before; what was judged before comes from the cache.
    ///
    /// # Errors
    /// None of its games may be judged, the engine failed, or the store cannot be used.
    pub fn account_of_event(
        &self,
        event: &GameEvent,
        settings: &Settings,
        progress: &mut dyn FnMut(Step),
    ) -> Result<EventRead, AppError> {
        let mut judged = self.judge_games(settings, progress)?;
        let moments = self.moments(&mut judged, settings, progress)?;
        let compared = self.compared(&judged, settings)?;
        let games = self.own_games()?;
        let moments = moments_by_game(&judged, &moments);
        let all: Vec<CountedGame<'_>> = counted(&judged, &moments, &compared);
        let ids_of = |e: &GameEvent| -> Vec<String> {
            let ids = e.games.iter().filter_map(|p| games.get(*p));
            ids.map(|g| g.id.clone()).collect()
        };
        let ids = ids_of(event);
        let of_event: Vec<CountedGame<'_>> = all
            .iter()
            .filter(|g| ids.contains(&g.surveyed.game.id))
            .copied()
            .collect();
        if of_event.is_empty() {
            return Err(AppError::EventNotJudged(event.id.clone()));
        }
        let earlier = self.earlier_takeaways(event, &events(&games))?;
        let resolutions = match &earlier {
            Some((from, takeaways)) => {
                let (from, until) = (ids_of(from), event.games.last().copied());
                resolutions(&all, &games, takeaways, &from, until)
            }
            None => Vec::new(),
        };
        let mut held_back = judged.held_back.clone();
        held_back.extend(judged.waiting.iter().map(|(_, game)| game.clone()));
        Ok(EventRead {
            account: account(&of_event),
            resolutions,
            earlier: earlier.map(|(event, _)| event.name),
            takeaways: self.takeaways(event)?.takeaways,
            event: event.clone(),
            held_back,
            judge: judged.judge.clone(),
            nodes: settings.nodes,
        })
    }

    /// The last event before this one from which he took something away.
    fn earlier_takeaways(
        &self,
        event: &GameEvent,
        all: &[GameEvent],
    ) -> Result<Option<(GameEvent, Vec<Takeaway>)>, AppError> {
        let before = |e: &&GameEvent| e.id != event.id && e.games.last() < event.games.last();
        let mut earlier: Vec<&GameEvent> = all.iter().filter(before).collect();
        earlier.sort_by_key(|e| e.games.last().copied());
        for event in earlier.into_iter().rev() {
            let of = self.takeaways(event)?.takeaways;
            if !of.is_empty() {
                return Ok(Some((event.clone(), of)));
            }
        }
        Ok(None)
    }

    /// His locked thoughts on judged games held against them; what was written late counts for nothing.
    fn compared(
        &self,
        judged: &JudgedGames,
        settings: &Settings,
    ) -> Result<Vec<Option<Compared>>, AppError> {
        let one = |of: &crate::games::survey::Surveyed| {
            let thoughts = self.thoughts(&of.game)?;
            let counts = thoughts.locked_ms.is_some() && !thoughts.late;
            Ok(counts.then(|| compare(&thoughts, of, settings)))
        };
        judged.games.iter().map(one).collect()
    }
}

fn moments_by_game(judged: &JudgedGames, moments: &[Moment]) -> Vec<Vec<Moment>> {
    let of = |at: usize| {
        moments
            .iter()
            .filter(move |m| m.game == at)
            .cloned()
            .collect()
    };
    (0..judged.games.len()).map(of).collect()
}

fn counted<'a>(
    judged: &'a JudgedGames,
    moments: &'a [Vec<Moment>],
    compared: &'a [Option<Compared>],
) -> Vec<CountedGame<'a>> {
    let all = judged.games.iter().zip(moments).zip(compared);
    all.map(|((surveyed, moments), compared)| CountedGame {
        surveyed,
        moments,
        compared: compared.as_ref(),
    })
    .collect()
}

/// Whether each held: all games up to the event from which it comes, that one with them, against those after it, up to
/// the last game of the event that is told.
fn resolutions(
    all: &[CountedGame<'_>],
    games: &[crate::games::OwnGame],
    takeaways: &[Takeaway],
    from: &[String],
    until: Option<usize>,
) -> Vec<Resolution> {
    let place = |game: &CountedGame<'_>| games.iter().position(|g| g.id == game.surveyed.game.id);
    let border = games.iter().rposition(|g| from.contains(&g.id));
    let before = all.iter().filter(|g| place(g) <= border).copied();
    let after = all
        .iter()
        .filter(|g| place(g) > border && place(g) <= until)
        .copied();
    let (before, after): (Vec<_>, Vec<_>) = (before.collect(), after.collect());
    let rate = |count: Count| Rate::new(count.part, count.of);
    takeaways
        .iter()
        .map(|takeaway| {
            let share = |of: &[CountedGame<'_>]| {
                let count = takeaway.tied.map(|t| t.count(of.iter().copied()));
                count.map_or_else(Rate::default, rate)
            };
            let words = takeaway.tied.map(Countable::words);
            Resolution::of(takeaway.words.clone(), words, share(&before), share(&after))
        })
        .collect()
}
