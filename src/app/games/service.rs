//! Own games: taking them in, and what is asked of them.

use std::io::Read;

use crate::app::AppError;
use crate::app::Clock;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::drill::{self, Drill};
use crate::games::moment::{self, Habits, Moment};
use crate::games::survey::{self, Settings, Surveyed};
use crate::games::{Added, Block, GameScores, Importer, KeptGame, Marks, OwnGame, Player};
use crate::store::Record;
use std::sync::Arc;

/// The key under which the player stands in the store: there is one.
const ME: &str = "me";

/// Who the games of a file are of.
#[derive(Debug, Clone, Default)]
pub struct Whose {
    /// The player's name; `None` for the one that the store knows.
    pub player: Option<String>,
    /// Other ways in which files write it.
    pub also: Vec<String>,
    /// Names that look like his and are somebody else's.
    pub not: Vec<String>,
}

/// The player's own games: added, judged, looked at.
#[derive(Clone)]
pub struct GameService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) judges: Arc<JudgeProvider>,
    pub(crate) clock: Arc<dyn Clock>,
}

impl GameService {
    /// The player whose games are kept; `None` before the first were added.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn player(&self) -> Result<Option<Player>, AppError> {
        Ok(self.repository.store().get(ME)?)
    }

    /// Adds the player's games of a PGN stream. `decide` is asked where a name is not sure; `progress`
    /// is told how many bytes have been read.
    ///
    /// # Errors
    /// Nobody knows whose games they are, the stream cannot be read, or the store failed; what was
    /// kept before stays.
    pub fn add_games(
        &self,
        stream: impl Read,
        whose: &Whose,
        decide: &mut dyn FnMut(&str) -> Option<bool>,
        progress: &mut dyn FnMut(u64),
    ) -> Result<Added, AppError> {
        let before = self.player()?;
        let player = named(before.clone(), whose)?;
        let (_, kept) = self.kept_games()?;
        let importer = Importer::new(player, &kept, decide);
        // Past every block that is there, one that cannot be read too: it must not be written over.
        let blocks = self.repository.store().keys::<Block>()?;
        let numbers = blocks.iter().filter_map(|key| key.parse::<usize>().ok());
        let mut number = numbers.max().unwrap_or_default();
        let mut keep = |games: Vec<KeptGame>| {
            number += 1;
            let key = format!("{number:06}");
            Ok::<(), AppError>(self.repository.store().put(&key, &Block { games })?)
        };
        let (added, player) = importer.read(stream, &mut keep, progress)?;
        let came = added.new + added.better + added.known > 0;
        if came && before.as_ref() != Some(&player) {
            self.repository.store().put(ME, &player)?;
        }
        Ok(added)
    }

    /// The kept texts of all games: the last of each id, in the order in which the ids came.
    fn kept_games(&self) -> Result<(usize, Vec<KeptGame>), AppError> {
        let blocks = self.repository.store().scan::<Block>()?;
        let count = blocks.len();
        let mut places = std::collections::HashMap::new();
        let mut games: Vec<KeptGame> = Vec::new();
        for kept in blocks.into_iter().flat_map(|(_, b)| b.games) {
            let place = *places.entry(kept.id.clone()).or_insert(games.len());
            match games.get_mut(place) {
                Some(old) => *old = kept,
                None => games.push(kept),
            }
        }
        Ok((count, games))
    }

    /// The player's games in the order of their dates.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn own_games(&self) -> Result<Vec<OwnGame>, AppError> {
        self.games_where(|_| true)
    }

    /// Those whose kept text is wanted, in the order of their dates.
    pub(crate) fn games_where(
        &self,
        wanted: impl Fn(&KeptGame) -> bool,
    ) -> Result<Vec<OwnGame>, AppError> {
        let (_, kept) = self.kept_games()?;
        let wanted = kept.iter().filter(|game| wanted(game));
        let mut games: Vec<OwnGame> = wanted.filter_map(OwnGame::read).collect();
        games.sort_by(|a, b| (a.date(), &a.id).cmp(&(b.date(), &b.id)));
        Ok(games)
    }

    /// What happened to a game since it was added.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn game_marks(&self, id: &str) -> Result<Marks, AppError> {
        Ok(self.repository.store().get(id)?.unwrap_or_default())
    }
}

/// The games with what the judge says of them, and what it may not speak of.
#[derive(Debug, Clone, Default)]
pub struct JudgedGames {
    pub games: Vec<Surveyed>,
    /// Games that may be going on, by their headings.
    pub held_back: Vec<String>,
    /// Games on which his own thoughts are begun and not locked, by identifier and heading.
    pub waiting: Vec<(String, String)>,
    /// The judge's name, and its nodes for each position.
    pub judge: String,
    pub nodes: u64,
}

/// How far judging has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// Positions done and in all.
    pub done: usize,
    pub of: usize,
}

impl GameService {
    /// Asks the judge about every move of the games that are over. What was asked before comes from the
    /// cache, so an interrupt costs a few positions.
    ///
    /// # Errors
    /// There are no games, the engine failed, or the store cannot be used.
    pub fn judge_games(
        &self,
        settings: &Settings,
        progress: &mut dyn FnMut(Step),
    ) -> Result<JudgedGames, AppError> {
        let games = self.own_games()?;
        if games.is_empty() {
            return Err(AppError::NoGames);
        }
        self.judge_these(games, settings, progress)
    }

    /// The same for some of his games.
    pub(crate) fn judge_these(
        &self,
        games: Vec<OwnGame>,
        settings: &Settings,
        progress: &mut dyn FnMut(Step),
    ) -> Result<JudgedGames, AppError> {
        let today = self.today();
        let mut judged = JudgedGames {
            nodes: settings.nodes,
            ..JudgedGames::default()
        };
        let mut open = Vec::new();
        for game in games {
            let mut marks = self.game_marks(&game.id)?;
            if crate::games::may_be_going_on(&game.game, &today) && !marks.over {
                judged.held_back.push(game.heading());
                continue;
            }
            if self.refuse_before_lock(&game).is_err() {
                judged.waiting.push((game.id.clone(), game.heading()));
                continue;
            }
            if !marks.judged {
                // Before the first judgement: what he writes from here on is no longer from memory.
                marks.judged = true;
                self.repository.store().put(&game.id, &marks)?;
            }
            open.push(game);
        }
        let judge = self.judges.judge()?;
        judged.judge = judge.name();
        let of = open.iter().map(|g| g.plies() + 1).sum();
        let mut done = 0;
        for game in &open {
            let mut step = |more: usize| {
                done += more;
                progress(Step { done, of });
            };
            let surveyed = survey::survey(game, &*judge, settings, &mut step)?;
            self.keep_worth(
                &GameScores::of(&surveyed, &judged.judge, settings.nodes),
                &game.id,
            )?;
            self.keep_advantage(&surveyed)?;
            self.keep_misses(&surveyed, settings.delta)?;
            judged.games.push(surveyed);
        }
        Ok(judged)
    }

    fn keep_worth(&self, worth: &GameScores, id: &str) -> Result<(), AppError> {
        if self.repository.store().get::<GameScores>(id)?.as_ref() != Some(worth) {
            self.repository.store().put(id, worth)?;
        }
        Ok(())
    }

    /// The moments of judged games that are worth a sitting. What decides about them is asked again with
    /// more nodes.
    ///
    /// # Errors
    /// The engine failed.
    pub fn moments(
        &self,
        judged: &mut JudgedGames,
        settings: &Settings,
        progress: &mut dyn FnMut(Step),
    ) -> Result<Vec<Moment>, AppError> {
        let judge = self.judges.judge()?;
        let doubts: Vec<Vec<usize>> = judged
            .games
            .iter()
            .map(|g| moment::doubtful(g, settings))
            .collect();
        let of = doubts.iter().map(Vec::len).sum();
        let mut done = 0;
        for (surveyed, plies) in judged.games.iter_mut().zip(&doubts) {
            let mut step = |more: usize| {
                done += more;
                progress(Step { done, of });
            };
            survey::confirm(surveyed, plies, &*judge, settings, &mut step)?;
        }
        let habits = Habits::of(&judged.games);
        let all = (0..judged.games.len())
            .flat_map(|at| moment::moments(&judged.games, at, &habits, settings));
        Ok(crate::games::choose(all.collect()))
    }

    /// Keeps the drills of the chosen moments in the place of earlier ones, so that the screens offer them.
    ///
    /// # Errors
    /// They could not be kept.
    pub fn keep_moments(
        &self,
        judged: &JudgedGames,
        chosen: &[Moment],
    ) -> Result<Vec<Drill>, AppError> {
        let mut all = Vec::new();
        for (at, surveyed) in judged.games.iter().enumerate() {
            let of_game = chosen.iter().filter(|m| m.game == at);
            let drills: Vec<Drill> = of_game
                .filter_map(|m| crate::games::drill(surveyed, m))
                .collect();
            let id = &surveyed.game.id;
            if drills.is_empty() {
                self.repository.store().remove::<OwnDrills>(id)?;
                continue;
            }
            let yaml = drill::write(&drills).map_err(|e| AppError::Collection(e.to_string()))?;
            let kept = OwnDrills { yaml };
            if self.repository.store().get::<OwnDrills>(id)?.as_ref() != Some(&kept) {
                self.repository.store().put(id, &kept)?;
            }
            all.extend(drills);
        }
        Ok(all)
    }

    /// Marks every game that has no result and is dated today as over: the player says so.
    ///
    /// # Errors
    /// The store cannot be used.
    pub fn say_over(&self) -> Result<usize, AppError> {
        let today = self.today();
        let mut count = 0;
        for game in self.own_games()? {
            let mut marks = self.game_marks(&game.id)?;
            if crate::games::may_be_going_on(&game.game, &today) && !marks.over {
                marks.over = true;
                self.repository.store().put(&game.id, &marks)?;
                count += 1;
            }
        }
        Ok(count)
    }

    /// Today's date as PGN writes it.
    #[must_use]
    pub fn today(&self) -> String {
        date_of(self.clock.wall_ms())
    }
}

/// A wall-clock time (milliseconds since 1970-01-01 UTC) as a date of PGN, in the zone of this machine.
#[must_use]
pub fn date_of(wall_ms: i64) -> String {
    let then = jiff::Timestamp::from_millisecond(wall_ms).unwrap_or_default();
    let zone = jiff::tz::TimeZone::system();
    then.to_zoned(zone).strftime("%Y.%m.%d").to_string()
}

/// The drills of one game's moments.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub(crate) struct OwnDrills {
    yaml: String,
}

impl Record for OwnDrills {
    const TABLE: &'static str = "own-drills";
    const VERSION: u32 = 1;
}

/// The drills of own games that are kept, the newest games first; what cannot be read is told.
pub(crate) fn own_drills(
    store: &crate::store::Store,
) -> Result<(Vec<Drill>, Vec<String>), AppError> {
    let (mut drills, mut wrong) = (Vec::new(), Vec::new());
    for (id, kept) in store.scan::<OwnDrills>()?.into_iter().rev() {
        match drill::load(&kept.yaml, &id) {
            Ok(own) => drills.extend(own),
            Err(errors) => wrong.extend(errors.iter().map(|e| {
                tr!("a position of your own games cannot be read: {e}; `foreply games moments` makes it again")
            })),
        }
    }
    Ok((drills, wrong))
}

/// The player as the call names him, together with what the store knows.
fn named(known: Option<Player>, whose: &Whose) -> Result<Player, AppError> {
    use crate::games::{Same, same_name};
    let mut player = match (known, &whose.player) {
        (None, None) => return Err(AppError::WhoseGames),
        (None, Some(name)) => Player {
            name: name.trim().to_owned(),
            ..Player::default()
        },
        (Some(player), None) => player,
        (Some(mut player), Some(name)) => {
            let is = |n: &String| same_name(n, name) == Same::Yes;
            if !is(&player.name) && !player.also.iter().any(is) {
                if same_name(&player.name, name) == Same::No {
                    return Err(AppError::OtherPlayer(player.name));
                }
                player.also.push(name.trim().to_owned());
            }
            player
        }
    };
    player.also.extend(whose.also.iter().cloned());
    player.not.extend(whose.not.iter().cloned());
    Ok(player)
}
