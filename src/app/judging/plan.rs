//! The questions that a survey of the player's games would ask, each once, in shards.

use std::collections::HashSet;
use std::sync::Arc;

use crate::app::AppError;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::games::service::GameService;
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::games::may_be_going_on;
use crate::games::survey::{self, Settings};
use crate::judge::{Judge, Kept, PortableQuestion, ShardHead, line_of};

/// The judge's work, portable.
#[derive(Clone)]
pub struct JudgeWorkService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) judges: Arc<JudgeProvider>,
    pub(crate) games: GameService,
}

/// What there is to ask.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WorkPlan {
    /// The files, as text.
    pub shards: Vec<String>,
    /// Games whose positions are asked about.
    pub games: usize,
    /// Positions of these games.
    pub positions: usize,
    /// Of those, positions that came up in a game before.
    pub repeated: usize,
    /// Of those, positions whose answer is kept already, or that the Laws answer.
    pub known: usize,
    /// Questions in the shards.
    pub questions: usize,
    /// Games that may be going on, by their headings: they are left out.
    pub held_back: Vec<String>,
}

impl JudgeWorkService {
    /// The first look at every position of the player's games, as far as no answer is kept: `each` questions a shard.
    ///
    /// # Errors
    /// There are no games, the store cannot be read, or the engine cannot be started.
    pub fn plan(&self, settings: &Settings, each: usize) -> Result<WorkPlan, AppError> {
        let games = self.games.own_games()?;
        if games.is_empty() {
            return Err(AppError::NoGames);
        }
        let identity = self.judges.engine_alone()?.identity();
        let today = self.games.today();
        let mut plan = WorkPlan::default();
        let (mut seen, mut asked) = (HashSet::new(), Vec::new());
        for game in &games {
            let over = self.games.game_marks(&game.id)?.over;
            if may_be_going_on(&game.game, &today) && !over {
                plan.held_back.push(game.heading());
                continue;
            }
            plan.games += 1;
            for question in survey::questions(game, settings) {
                plan.positions += 1;
                let Some(portable) = PortableQuestion::of(&question) else {
                    plan.known += 1;
                    continue;
                };
                let Some(key) = portable.key(&identity) else {
                    continue;
                };
                if !seen.insert(key.clone()) {
                    plan.repeated += 1;
                } else if self.repository.store().get::<Kept>(&key)?.is_some() {
                    plan.known += 1;
                } else {
                    asked.push(portable);
                }
            }
        }
        plan.questions = asked.len();
        let of = asked.len().div_ceil(each.max(1));
        for (number, some) in (1..).zip(asked.chunks(each.max(1))) {
            let head = ShardHead {
                engine: identity.clone(),
                shard: number,
                of,
                questions: some.len(),
            };
            let mut text = line_of(&head).map_err(not_json)?;
            for question in some {
                text += &line_of(question).map_err(not_json)?;
            }
            plan.shards.push(text);
        }
        Ok(plan)
    }
}

pub(super) fn not_json(error: serde_json::Error) -> AppError {
    AppError::Work(error.to_string())
}
