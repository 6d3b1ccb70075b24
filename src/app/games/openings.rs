//! What needs the scores of own games alone: openings, and the plans of his pawn structures.

use crate::app::games::service::GameService;
use crate::app::{AppError, JudgedGames};
use crate::drill::Drill;
use crate::games::moment::{self, Reason};
use crate::games::opening::{self, Branch, Known, Mark, Side};
use crate::games::plan::{PlanCard, Written};
use crate::games::structure::{self, Met};
use crate::games::survey::{self, Settings};
use crate::games::{GameScores, OwnGame};

/// His openings, and what of his games is judged.
#[derive(Debug, Clone, Default)]
pub struct Openings {
    pub games: Vec<OwnGame>,
    pub sides: Vec<Side>,
    /// The marks of all games together.
    pub all: Vec<Mark>,
    /// Games that are judged, and those that begin from another position.
    pub judged: usize,
    pub from_fen: usize,
    worth: Vec<Option<GameScores>>,
}

/// A structure that he meets, with his card for it.
#[derive(Debug, Clone)]
pub struct Structure {
    pub met: Met,
    pub card: Option<PlanCard>,
}

impl GameService {
    /// The openings of his games, with the scores of those that are judged. No engine is asked.
    ///
    /// # Errors
    /// There are no games, or the store cannot be read.
    pub fn openings(&self, least: usize) -> Result<Openings, AppError> {
        let games = self.own_games()?;
        if games.is_empty() {
            return Err(AppError::NoGames);
        }
        let worth: Result<Vec<Option<GameScores>>, AppError> = games
            .iter()
            .map(|g| Ok(self.repository.store().get::<GameScores>(&g.id)?))
            .collect();
        let worth = worth?;
        let known = known(&games, &worth);
        let from_start = |i: &usize| games.get(*i).is_some_and(|g| !g.game.from_fen);
        let places: Vec<usize> = (0..games.len()).filter(from_start).collect();
        Ok(Openings {
            sides: opening::openings(&known, least),
            all: opening::marks(&known, &places),
            judged: worth.iter().flatten().count(),
            from_fen: games.len() - places.len(),
            worth,
            games,
        })
    }

    /// The drills of the positions in which the opening was over: of the branch with this number, else those
    /// in which he stood worse or had taken much time.
    ///
    /// # Errors
    /// There is no such branch, or the engine failed.
    pub fn opening_drills(
        &self,
        openings: &Openings,
        branch: Option<usize>,
        judged: &mut JudgedGames,
        settings: &Settings,
    ) -> Result<Vec<Drill>, AppError> {
        let wanted = openings.positions(branch)?;
        let judge = self.judges.judge()?;
        let mut drills: Vec<Drill> = Vec::new();
        for (id, ply) in wanted {
            let place = judged.games.iter().position(|g| g.game.id == id);
            let Some((at, surveyed)) = place.and_then(|p| Some((p, judged.games.get_mut(p)?)))
            else {
                continue;
            };
            survey::confirm(surveyed, &[ply], &*judge, settings, &mut |_| {})?;
            let moment = moment::at(surveyed, at, ply, Reason::OpeningOver);
            let drill = moment.and_then(|m| crate::games::drill(surveyed, &m));
            drills.extend(drill.filter(|d| drills.iter().all(|o| o.id != d.id)));
        }
        Ok(drills)
    }
}

fn known<'a>(games: &'a [OwnGame], worth: &'a [Option<GameScores>]) -> Vec<Known<'a>> {
    let pair = |(game, worth): (&'a OwnGame, &'a Option<GameScores>)| Known {
        game,
        worth: worth.as_ref(),
    };
    games.iter().zip(worth).map(pair).collect()
}

impl Openings {
    /// All branches in the order of their numbers.
    #[must_use]
    pub fn branches(&self) -> Vec<&Branch> {
        self.sides.iter().flat_map(|s| s.all.all()).collect()
    }

    /// Games and half-moves of which drills are to be made.
    fn positions(&self, branch: Option<usize>) -> Result<Vec<(String, usize)>, AppError> {
        let places: Vec<usize> = match branch {
            None => (0..self.games.len()).collect(),
            Some(number) => {
                let all = self.branches();
                let found = all.iter().find(|b| b.number == number);
                let missing = || AppError::NoSuchBranch(number, all.len());
                found.map(|b| b.games.clone()).ok_or_else(missing)?
            }
        };
        let mut wanted = Vec::new();
        for place in places {
            let Some(game) = self.games.get(place).filter(|g| !g.game.from_fen) else {
                continue;
            };
            let ends = opening::ends(game).into_iter().zip(&self.all);
            let of_game = ends
                .filter(|(ply, mark)| branch.is_some() || self.is_bad(place, *ply, mark))
                .map(|(ply, _)| (game.id.clone(), ply));
            wanted.extend(of_game);
        }
        Ok(wanted)
    }

    /// He stood worse there, or had taken much more time than he mostly does.
    fn is_bad(&self, place: usize, ply: usize, mark: &Mark) -> bool {
        let worth = self.worth.get(place).and_then(Option::as_ref);
        let worse = worth
            .and_then(|w| w.before(ply))
            .is_some_and(|e| e < opening::WORSE);
        let game = self.games.get(place);
        let used = game.and_then(|g| opening::used_seconds(g, 2 * mark.after_move));
        let slow = used
            .zip(mark.used_seconds)
            .is_some_and(|(u, mean)| u > opening::SLOW * mean);
        worse || slow
    }
}

impl GameService {
    /// The pawn structures that stood in at least `least` of his games, and those that have a card.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn structures(&self, games: &[OwnGame], least: usize) -> Result<Vec<Structure>, AppError> {
        let mut cards: std::collections::BTreeMap<String, PlanCard> = self
            .repository
            .store()
            .scan::<PlanCard>()?
            .into_iter()
            .collect();
        let met = structure::met(games, 1).into_iter();
        let with_card = met.map(|met| Structure {
            card: cards.remove(&met.key),
            met,
        });
        Ok(with_card
            .filter(|s| s.met.games.len() >= least || s.card.is_some())
            .collect())
    }

    /// Writes on the card of a structure, and gives it as it is then.
    ///
    /// # Errors
    /// A text is too long, or it could not be kept; the card is as it was.
    pub fn write_plan(&self, key: &str, written: Written) -> Result<PlanCard, AppError> {
        let mut card = self
            .repository
            .store()
            .get::<PlanCard>(key)?
            .unwrap_or_default();
        card.write(written).map_err(AppError::Card)?;
        if card.is_empty() {
            self.repository.store().remove::<PlanCard>(key)?;
        } else {
            self.repository.store().put(key, &card)?;
        }
        Ok(card)
    }
}
