//! His own thoughts on a game: said before the judge speaks of it, locked, then held against the game.

use crate::app::attempts::import::AttemptImporter;
use crate::app::attempts::listing::short_names;
use crate::app::games::memory_notes::log_of;
use crate::app::games::service::{GameService, Step};
use crate::app::{AppError, AttemptId, EntryToken, Subject};
use crate::attempt::Origin;
use crate::games::moment::{self, Habits, Moment};
use crate::games::survey::{self, Settings, Surveyed};
use crate::games::thoughts::compare::{Compared, FearRead, compare, feared_reply};
use crate::games::thoughts::turning::doubtful_gifts;
use crate::games::thoughts::{Thought, ThoughtError, Thoughts};
use crate::games::{OwnGame, may_be_going_on};
use crate::judge::Question;
use crate::progress::recognising::Recognised;
use crate::tree::pgn::Written;
use crate::tree::{Author, NodeId, Tree};

/// His thoughts on a game beside what the judge says of it.
#[derive(Debug, Clone)]
pub struct ThoughtsRead {
    pub thoughts: Thoughts,
    pub surveyed: Surveyed,
    pub compared: Compared,
    /// The program's moments of the game, without those at which he merely thought well.
    pub moments: Vec<Moment>,
    pub judge: String,
    pub nodes: u64,
}

impl GameService {
    /// What he has said of a game; nothing yet where he has not begun.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn thoughts(&self, game: &OwnGame) -> Result<Thoughts, AppError> {
        Ok(self.repository.store().get(&game.id)?.unwrap_or_default())
    }

    /// Takes in something that he says of a game, and keeps it.
    ///
    /// # Errors
    /// The game may be going on, his thoughts are locked, it is too much, or it could not be kept; they are as they were.
    pub fn think(&self, game: &OwnGame, thought: Thought) -> Result<Thoughts, AppError> {
        let marks = self.game_marks(&game.id)?;
        if may_be_going_on(&game.game, &self.today()) && !marks.over {
            return Err(AppError::NotesInPlay(game.heading()));
        }
        let mut thoughts = self.thoughts(game)?;
        if thoughts.begun_ms == 0 {
            thoughts.begun_ms = self.clock.wall_ms();
            thoughts.late = marks.judged;
        }
        thoughts.say(thought)?;
        self.repository.store().put(&game.id, &thoughts)?;
        Ok(thoughts)
    }

    /// Keeps what he saw at a move of his as an attempt from memory, and marks the moment. Each line is a list of what
    /// he wrote one below the other; the move of the game is a candidate too, and the choice.
    ///
    /// # Errors
    /// As [`GameService::think`]; or a line cannot stand there.
    pub fn think_lines(
        &self,
        game: &OwnGame,
        ply: usize,
        lines: &[Vec<EntryToken>],
    ) -> Result<Thoughts, AppError> {
        if self.thoughts(game)?.locked_ms.is_some() {
            return Err(ThoughtError::Locked.into());
        }
        let written = written(game, ply, lines)?;
        self.think(game, Thought::Mark(ply))?;
        let words = memory_words(game, ply);
        let mut incoming = AttemptImporter::new(&self.repository);
        let id = incoming.attempt(&log_of(&words, &written, self.clock.wall_ms()))?;
        let mut marks = self.game_marks(&game.id)?;
        marks.notes.push((ply, id.0.clone()));
        incoming.put(&game.id, &marks)?;
        incoming.keep()?;
        self.think(game, Thought::Saw(ply, id.0))
    }

    /// What a sitting is opened on, in which he writes what he saw before a move of a game.
    #[must_use]
    pub fn memory_of(&self, game: &OwnGame, ply: usize) -> Subject {
        Subject::Memory {
            words: memory_words(game, ply),
            line: game.line_to(ply),
        }
    }

    /// The sitting at a move of a game that was begun and not locked.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn begun_at(&self, game: &OwnGame, ply: usize) -> Result<Option<AttemptId>, AppError> {
        let begun = self.begun_sittings(game)?.into_iter();
        Ok(begun.filter(|(p, _)| *p == ply).map(|(_, id)| id).next())
    }

    fn begun_sittings(&self, game: &OwnGame) -> Result<Vec<(usize, AttemptId)>, AppError> {
        let open = self.repository.unfinished()?.into_iter();
        let of_game = open.filter_map(|(id, attempt)| match &attempt.opened().origin {
            Origin::Notes(words) => Some((ply_of(game, words)?, id)),
            _ => None,
        });
        Ok(of_game.collect())
    }

    /// Takes in the sittings of a game that were locked since it was last looked at; gives his thoughts as they are then.
    ///
    /// # Errors
    /// The store cannot be used.
    pub fn gather_thoughts(&self, game: &OwnGame) -> Result<Thoughts, AppError> {
        let mut thoughts = self.thoughts(game)?;
        if thoughts.locked_ms.is_some() {
            return Ok(thoughts);
        }
        let found: Vec<(usize, AttemptId)> = {
            let marks = self.game_marks(&game.id)?;
            let mut found = Vec::new();
            for (id, entry) in self.repository.summaries()? {
                let known = marks.notes.iter().any(|(_, name)| *name == id.0);
                if let (Origin::Notes(words), false) = (&entry.origin, known)
                    && let Some(ply) = ply_of(game, words)
                {
                    found.push((ply, id));
                }
            }
            found
        };
        for (ply, id) in found {
            let mut marks = self.game_marks(&game.id)?;
            marks.notes.push((ply, id.0.clone()));
            self.repository.store().put(&game.id, &marks)?;
            thoughts = self.think(game, Thought::Saw(ply, id.0))?;
        }
        Ok(thoughts)
    }

    /// The own game before a move of which a sitting from memory stood; `None` for one that came from elsewhere.
    pub(crate) fn game_of_memory(&self, words: &str) -> Result<Option<OwnGame>, AppError> {
        if !words.starts_with(FROM_MEMORY) {
            return Ok(None);
        }
        let mut games = self.own_games()?.into_iter();
        Ok(games.find(|g| ply_of(g, words).is_some()))
    }

    /// Makes his thoughts on a game final.
    ///
    /// # Errors
    /// They are final already, there is nothing in them, a tree of the game is begun and not locked, or it could not be
    /// kept.
    pub fn lock_thoughts(&self, game: &OwnGame) -> Result<Thoughts, AppError> {
        let mut thoughts = self.gather_thoughts(game)?;
        if let Some((ply, _)) = self.begun_sittings(game)?.first() {
            return Err(AppError::TreeOpen(game.number(*ply)));
        }
        thoughts.lock(self.clock.wall_ms())?;
        self.repository.store().put(&game.id, &thoughts)?;
        Ok(thoughts)
    }

    /// Refuses to speak of a game on which his thoughts are begun and not locked.
    pub(crate) fn refuse_before_lock(&self, game: &OwnGame) -> Result<(), AppError> {
        match self.thoughts(game)? {
            t if t.locked_ms.is_some() || t.is_empty() => Ok(()),
            _ => Err(AppError::ThoughtsOpen {
                game: game.heading(),
                id: game.id.clone(),
            }),
        }
    }

    /// Holds his locked thoughts on a game against it, and counts how many turning points he recognised.
    ///
    /// # Errors
    /// They are not locked, the engine failed, or the store cannot be used.
    pub fn compare_thoughts(
        &self,
        game: &OwnGame,
        settings: &Settings,
        progress: &mut dyn FnMut(Step),
    ) -> Result<ThoughtsRead, AppError> {
        let thoughts = self.thoughts(game)?;
        if thoughts.locked_ms.is_none() {
            return Err(AppError::ThoughtsNotLocked(game.id.clone()));
        }
        let (surveyed, judge) = self.judge_whole(game, settings, progress)?;
        let mut compared = compare(&thoughts, &surveyed, settings);
        self.count_recognised(&thoughts, &compared, &game.id)?;
        self.read_fears(&thoughts, &surveyed, &mut compared, settings)?;
        let names = short_names(&*self.repository.index()?);
        for attempt in compared.marks.iter_mut().filter_map(|m| m.attempt.as_mut()) {
            *attempt = names.shown(attempt).to_owned();
        }
        let habits = Habits::of_games(self.own_games()?.iter());
        let surveyed = [surveyed];
        let found = moment::moments(&surveyed, 0, &habits, settings);
        let mut moments = crate::games::choose(found);
        moments.retain(|m| m.reasons != [moment::Reason::Control]);
        let [surveyed] = surveyed;
        Ok(ThoughtsRead {
            thoughts,
            surveyed,
            compared,
            moments,
            judge,
            nodes: settings.nodes,
        })
    }

    /// One game, every move judged, and asked again wherever a moment or a turning point hangs on it; with the judge's name.
    pub(crate) fn judge_whole(
        &self,
        game: &OwnGame,
        settings: &Settings,
        progress: &mut dyn FnMut(Step),
    ) -> Result<(Surveyed, String), AppError> {
        self.refuse_before_lock(game)?;
        let mut judged = self.judge_these(vec![game.clone()], settings, progress)?;
        let Some(mut surveyed) = judged.games.pop() else {
            return Err(AppError::MayGoOn(game.heading()));
        };
        let mut plies = moment::doubtful(&surveyed, settings);
        plies.extend(doubtful_gifts(&surveyed, settings));
        plies.sort_unstable();
        let of = plies.len();
        let mut done = 0;
        let judge = self.judges.judge()?;
        let mut step = |more: usize| {
            done += more;
            progress(Step { done, of });
        };
        survey::confirm(&mut surveyed, &plies, &*judge, settings, &mut step)?;
        Ok((surveyed, judged.judge))
    }

    /// Asks about each reply that he feared by itself, with as many nodes as what is asked again.
    fn read_fears(
        &self,
        thoughts: &Thoughts,
        surveyed: &Surveyed,
        compared: &mut Compared,
        settings: &Settings,
    ) -> Result<(), AppError> {
        let judge = self.judges.judge()?;
        for (mark, read) in thoughts.marks.iter().zip(&mut compared.marks) {
            let Some((reply, line)) = feared_reply(&surveyed.game, mark) else {
                continue;
            };
            let nodes = settings.nodes * settings.confirm;
            let answer = judge.answer_one(Question {
                line,
                lines: 1,
                nodes,
            })?;
            // After the reply it is his turn again.
            let then = answer.expected.value();
            let best = surveyed.plies.get(mark.ply).map_or(then, |p| p.after);
            read.fear = Some(FearRead::of(reply, then, best, settings));
        }
        Ok(())
    }

    pub(crate) fn count_recognised(
        &self,
        thoughts: &Thoughts,
        compared: &Compared,
        id: &str,
    ) -> Result<(), AppError> {
        let store = self.repository.store();
        if thoughts.late || store.is_read_only() {
            return Ok(());
        }
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let now = Recognised {
            wall_ms: thoughts.locked_ms.unwrap_or_default(),
            turning: count(compared.turning.len()),
            recognised: count(compared.recognised()),
            marks: count(compared.marks.len()),
            right: count(compared.right()),
        };
        if store.get::<Recognised>(id)? != Some(now) {
            store.put(id, &now)?;
        }
        Ok(())
    }
}

/// How the words of an attempt from memory begin.
const FROM_MEMORY: &str = "from memory: ";

/// Which game and which move, as the words of an attempt from memory say it.
fn memory_words(game: &OwnGame, ply: usize) -> String {
    format!("{}, move {}", game.heading(), game.number(ply))
}

/// The player's half-move of a game that the words of an attempt from memory speak of.
fn ply_of(game: &OwnGame, words: &str) -> Option<usize> {
    let about = words.strip_prefix(FROM_MEMORY)?;
    let number = about
        .strip_prefix(&game.heading())?
        .strip_prefix(", move ")?;
    let number: usize = number.parse().ok()?;
    game.his_ply(number)
}

/// The tree of what he wrote.
fn written(game: &OwnGame, ply: usize, lines: &[Vec<EntryToken>]) -> Result<Written, AppError> {
    let mut tree = Tree::new(game.line_to(ply));
    let wrong = |e: crate::tree::EditError| AppError::Line(e.to_string());
    for line in lines {
        let mut at = NodeId::ROOT;
        for token in line {
            match token {
                EntryToken::Move(text) => {
                    at = tree
                        .add_as_typed(at, text, Author::Player, 0)
                        .map_err(wrong)?;
                }
                EntryToken::Verdict(verdict) => {
                    tree.set_verdict(at, Some(*verdict)).map_err(wrong)?;
                }
                EntryToken::Comment(words) => tree.set_comment(at, words).map_err(wrong)?,
            }
        }
    }
    let played = game.game.main_moves.get(ply);
    let root = tree.children(NodeId::ROOT).to_vec();
    let own = root.into_iter().find(|n| tree.legal(*n) == played);
    let choice = match (own, played) {
        (Some(node), _) => Some(node),
        (None, Some(mv)) => {
            let san = crate::board::line::san(tree.root().position(), mv);
            Some(
                tree.add(NodeId::ROOT, &san, Author::Player, 0)
                    .map_err(wrong)?,
            )
        }
        (None, None) => None,
    };
    Ok(Written {
        tree,
        choice,
        game_ply: ply,
        clock_before_ms: game.times.before(ply),
        clock_after_ms: None,
        comment: String::new(),
        source: Vec::new(),
    })
}
