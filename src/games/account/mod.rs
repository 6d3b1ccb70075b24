//! The account of one game: its course in three bands, the time of both, its moments, how hard it was to play, what was
//! let go and what was not brought home, opening, structures and preparation.
//!
//! Takes a judged game with what is known of his other games, and a judge for the difficulty; gives a [`GameAccount`].
//!
//! * [`bands`]: the expected score as win, draw and loss.
//! * [`difficulty`]: how hard a position is for whoever has to move.
//! * [`passed`]: a chance that was there for several moves. [`unconverted`]: an advantage and its drops.
//! * [`preparation`]: prepared lines, and where the game left them.
//!
//! # Definitions
//!
//! - **The draw grows**: over ten half-moves or fewer the share of a draw rises by .20 or more while his expected score
//!   does not fall by more than .05 (common practice, no source).
//! - **A hard task**: a move of one side after which the other side's position is very hard (`difficulty.rs`), though the
//!   move gives away less than .05. **Made harder for himself**: a move of his that gives away less than .10, after which
//!   his next position is hard, though after the best move and its reply it would have been easy.
//! - The other thresholds stand in the files.

pub mod bands;
pub mod difficulty;
pub mod passed;
pub mod preparation;
pub mod unconverted;

use serde::Serialize;

use self::bands::{Drawishness, Ratings, Shares, shares};
use self::difficulty::{Difficulty, HARD, VERY_HARD, difficulties};
use self::passed::{PassedChance, passed};
use self::preparation::{Book, PreparationEnd};
use self::unconverted::{Unconverted, unconverted};
use super::kept::result;
use super::moment::{self, Habits, Moment, Reason};
use super::plan::PlanCard;
use super::structure;
use super::survey::{Settings, Surveyed};
use super::thoughts::turning::given;
use super::{OwnGame, choose};
use crate::board::Line;
use crate::judge::{Judge, JudgeError};

/// How far the share of a draw has to rise, within how many half-moves, and what his score may lose meanwhile.
pub const DRAW_RISE: f64 = 0.20;
pub const DRAW_WITHIN: usize = 10;
pub const DRAW_LOSS: f64 = 0.05;
/// Half-moves of which the first moves of earlier games are compared, at most.
const OPENING: usize = 16;
/// Hard tasks that are told of one game.
const TASKS_MAX: usize = 6;
/// A game of fewer half-moves is half a game (common practice, no source).
const SHORT: usize = 20;

/// The account.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct GameAccount {
    pub moves: Vec<AccountMove>,
    /// Before the first move.
    pub start: Shares,
    /// Whose ratings the shares go by.
    pub players: Ratings,
    #[serde(skip)]
    pub moments: Vec<Moment>,
    pub draws: Vec<DrawGrows>,
    pub tasks: Vec<Task>,
    pub passed: Vec<PassedChance>,
    pub unconverted: Option<Unconverted>,
    pub opening: Option<OpeningMet>,
    pub structures: Vec<StructureMet>,
    pub preparation: Option<PreparationEnd>,
    /// What is odd about the game as it was written down.
    pub odd: Vec<OddGame>,
}

/// One half-move.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct AccountMove {
    pub san: String,
    /// True where the player made it.
    pub his: bool,
    /// The player's shares after it.
    pub shares: Shares,
    /// What the mover gave away, 0 to 1.
    pub given: f64,
    pub spent_ms: Option<u64>,
    /// His clock before it.
    pub left_ms: Option<u64>,
    /// How hard the position before it was.
    pub difficulty: Option<Difficulty>,
}

/// The likelihood of a draw grew, though he did not stand worse.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct DrawGrows {
    /// Half-moves before which, and after which.
    pub from: usize,
    pub to: usize,
    /// The shares of a draw there.
    pub before: f64,
    pub after: f64,
    /// What the position had become.
    pub kind: Drawishness,
}

/// A move that made the game hard for one of the two.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Task {
    pub ply: usize,
    pub played: String,
    pub kind: TaskKind,
    /// How hard it was, in a few words.
    pub words: &'static str,
}

/// For whom.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TaskKind {
    /// He set it for his opponent.
    SetByPlayer,
    /// His opponent set it for him.
    SetByOpponent,
    /// He made it for himself.
    HarderForHimself,
}

/// How often he had these first moves before.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct OpeningMet {
    /// Half-moves that they have in common.
    pub plies: usize,
    pub games: usize,
    /// Points of those with a result, and how many those are.
    pub points: f64,
    pub finished: usize,
    /// ECO code of the game's tag.
    pub eco: Option<String>,
}

/// A pawn structure of the game, with his card for it.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct StructureMet {
    pub key: String,
    /// The half-move at which it first stood.
    pub from: usize,
    /// His games in which it stood, this one with them.
    pub games: usize,
    /// His words for it, each with what it is about.
    pub card: Vec<(&'static str, String)>,
}

/// What is odd about a game.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OddGame {
    /// The result contradicts the last position.
    Contradicted {
        result: String,
        board: String,
    },
    NoResult,
    /// So few half-moves that it is hardly a whole game.
    Short(usize),
    NoClock,
}

impl OddGame {
    /// In one sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::Contradicted { result, board } => tr!(
                "The result says {result}, the board says {board}: one of the two is written down wrongly; the result counts."
            ),
            Self::NoResult => tr!("No result is written down: it counts for no points.").to_owned(),
            Self::Short(plies) => tr!(
                "Only {} half-moves are written down: is the rest of the game missing?",
                crate::text::number(*plies)
            ),
            Self::NoClock => {
                tr!("No clock times in it: nothing can be said about time.").to_owned()
            }
        }
    }
}

/// What is known besides the game itself.
pub struct Known<'a> {
    pub others: &'a [OwnGame],
    pub habits: &'a Habits,
    pub cards: &'a dyn Fn(&str) -> Option<PlanCard>,
    pub book: &'a Book,
}

/// The account of a judged game. `progress` is told how many positions more have been asked for their difficulty.
///
/// # Errors
/// The engine failed.
pub fn account(
    surveyed: &Surveyed,
    known: &Known<'_>,
    judge: &dyn Judge,
    settings: &Settings,
    progress: &mut dyn FnMut(usize),
) -> Result<GameAccount, JudgeError> {
    let game = &surveyed.game;
    let lines = game.lines();
    let places = asked(surveyed, known.habits);
    let open: Vec<Line> = places
        .iter()
        .filter_map(|p| lines.get(*p).cloned())
        .collect();
    let mut difficulty: Vec<Option<Difficulty>> = vec![None; surveyed.plies.len()];
    for (place, found) in places.iter().zip(difficulties(&open, judge, progress)?) {
        if let Some(slot) = difficulty.get_mut(*place) {
            *slot = found;
        }
    }
    let bands = bands_of(surveyed, &lines);
    let moves = moves(surveyed, &lines, &bands, &difficulty);
    let tasks = tasks(surveyed, &moves, judge)?;
    let found = moment::moments(std::slice::from_ref(surveyed), 0, known.habits, settings);
    let mut moments = choose(found);
    moments.retain(|m| m.reasons != [Reason::Control]);
    Ok(GameAccount {
        draws: draws(surveyed, &bands, &lines),
        players: Ratings::of(&game.game),
        start: bands.first().copied().unwrap_or_else(|| shares(0.5, 1.0)),
        tasks,
        moments,
        passed: passed(surveyed),
        unconverted: unconverted(surveyed),
        opening: opening(game, known.others),
        structures: structures(game, known),
        preparation: known.book.end_of(game),
        odd: odd(game),
        moves,
    })
}

/// Positions whose difficulty is asked: with a choice, not book, not decided.
fn asked(surveyed: &Surveyed, habits: &Habits) -> Vec<usize> {
    let plies = surveyed.plies.iter().enumerate();
    plies
        .filter(|(ply, p)| p.legal > 1 && !moment::is_decided(p) && !habits.is_book(surveyed, *ply))
        .map(|(ply, _)| ply)
        .collect()
}

/// His shares before each half-move, and after the last one.
fn bands_of(surveyed: &Surveyed, lines: &[Line]) -> Vec<Shares> {
    let players = Ratings::of(&surveyed.game.game);
    let last = surveyed.plies.last().map(|p| p.after);
    let scores = surveyed.plies.iter().map(|p| p.before).chain(last);
    scores
        .zip(lines)
        .map(|(expected, line)| {
            // What the Laws decide is no likelihood.
            match line.rule().filter(|r| !r.is_claim()) {
                Some(rule) => decided(rule.winner(line.turn()).map(|w| w == surveyed.game.side)),
                None => bands::shares_in(line.position(), expected, players),
            }
        })
        .collect()
}

fn decided(won: Option<bool>) -> Shares {
    let share = |is: bool| f64::from(u8::from(is));
    Shares {
        win: share(won == Some(true)),
        draw: share(won.is_none()),
        loss: share(won == Some(false)),
    }
}

fn moves(
    surveyed: &Surveyed,
    lines: &[Line],
    bands: &[Shares],
    difficulty: &[Option<Difficulty>],
) -> Vec<AccountMove> {
    let game = &surveyed.game;
    let played = game.game.main_moves.iter().zip(lines);
    let after = bands.iter().skip(1);
    played
        .zip(&surveyed.plies)
        .zip(after)
        .enumerate()
        .map(|(ply, (((mv, line), scored), shares))| AccountMove {
            san: crate::board::line::san(line.position(), mv),
            his: game.is_his(ply),
            shares: *shares,
            given: given(scored, game.is_his(ply)),
            spent_ms: game.times.spent(ply),
            left_ms: game.times.before(ply),
            difficulty: difficulty.get(ply).copied().flatten(),
        })
        .collect()
}

/// Moves that set a hard task, and those by which he made it harder for himself.
fn tasks(
    surveyed: &Surveyed,
    moves: &[AccountMove],
    judge: &dyn Judge,
) -> Result<Vec<Task>, JudgeError> {
    let mut found = Vec::new();
    let hard = |ply: usize, from: f64| {
        let next = moves.get(ply)?.difficulty.filter(|d| d.value() >= from)?;
        next.words()
    };
    for (ply, mv) in moves.iter().enumerate() {
        let task = |kind, words| Task {
            ply,
            played: mv.san.clone(),
            kind,
            words,
        };
        if let Some(words) = hard(ply + 1, VERY_HARD).filter(|_| mv.given < 0.05) {
            let kind = match mv.his {
                true => TaskKind::SetByPlayer,
                false => TaskKind::SetByOpponent,
            };
            // Whoever stood before the same task already was not set it by this move.
            let before = ply.checked_sub(1).and_then(|p| hard(p, VERY_HARD));
            if before.is_none() {
                found.push(task(kind, words));
            }
        }
        let easy_before = mv.difficulty.is_some_and(|d| d.value() < HARD);
        if mv.his
            && easy_before
            && (0.02..0.10).contains(&mv.given)
            && let Some(words) = hard(ply + 2, HARD)
            && easy_otherwise(surveyed, ply, judge)?
        {
            found.push(task(TaskKind::HarderForHimself, words));
        }
    }
    // The hardest of them, in the order of the game; what he did to himself comes first.
    let value = |t: &Task| {
        let own = t.kind == TaskKind::HarderForHimself;
        let next = moves.get(t.ply + if own { 2 } else { 1 });
        let difficulty = next.and_then(|m| m.difficulty);
        difficulty.map_or(0.0, |d| d.value()) + f64::from(u8::from(own))
    };
    found.sort_by(|a, b| value(b).total_cmp(&value(a)).then(a.ply.cmp(&b.ply)));
    found.truncate(TASKS_MAX);
    found.sort_by_key(|t| t.ply);
    Ok(found)
}

/// After the best move and its reply his next position would have been easy.
fn easy_otherwise(surveyed: &Surveyed, ply: usize, judge: &dyn Judge) -> Result<bool, JudgeError> {
    let best = surveyed.plies.get(ply).and_then(|p| p.best.first());
    let Some([mv, reply]) = best.and_then(|b| b.line.first_chunk::<2>()) else {
        return Ok(false);
    };
    let mut line = surveyed.game.line_to(ply);
    if line.push(mv).is_err() || line.push(reply).is_err() {
        return Ok(false);
    }
    let found = difficulties(&[line.rooted_here()], judge, &mut |_| {})?;
    Ok(found
        .first()
        .copied()
        .flatten()
        .is_some_and(|d| d.is_easy()))
}

fn draws(surveyed: &Surveyed, bands: &[Shares], lines: &[Line]) -> Vec<DrawGrows> {
    let mut found: Vec<DrawGrows> = Vec::new();
    let score = |s: &Shares| s.win + s.draw / 2.0;
    for (from, before) in bands.iter().enumerate() {
        if found.last().is_some_and(|f| from < f.to) {
            continue;
        }
        let ahead = bands.iter().enumerate().skip(from + 1).take(DRAW_WITHIN);
        let grown = ahead
            .filter(|(_, after)| {
                after.draw - before.draw >= DRAW_RISE && score(before) - score(after) <= DRAW_LOSS
            })
            .max_by(|a, b| a.1.draw.total_cmp(&b.1.draw));
        // A game that is over is no likelihood any more.
        let Some((to, after)) = grown.filter(|(to, _)| *to < surveyed.plies.len()) else {
            continue;
        };
        let Some(line) = lines.get(to) else {
            continue;
        };
        found.push(DrawGrows {
            from,
            to,
            before: before.draw,
            after: after.draw,
            kind: Drawishness::of(line.position()),
        });
    }
    found
}

/// Earlier games of the same colour with the same first moves, as many of them as any has in common.
fn opening(game: &OwnGame, others: &[OwnGame]) -> Option<OpeningMet> {
    if game.game.from_fen {
        return None;
    }
    let common = |other: &OwnGame| {
        let pairs = game.game.main_moves.iter().zip(&other.game.main_moves);
        pairs.take_while(|(a, b)| a == b).count().min(OPENING)
    };
    let earlier = others.iter().filter(|o| {
        let before = (o.date(), &o.id) < (game.date(), &game.id);
        before && o.side == game.side && !o.game.from_fen
    });
    let earlier: Vec<(usize, &OwnGame)> = earlier.map(|o| (common(o), o)).collect();
    let plies = earlier.iter().map(|(n, _)| *n).max().unwrap_or(0);
    let same: Vec<&OwnGame> = earlier
        .iter()
        .filter(|e| e.0 == plies)
        .map(|e| e.1)
        .collect();
    let points: Vec<f64> = same.iter().filter_map(|o| o.points()).collect();
    Some(OpeningMet {
        plies,
        games: if plies == 0 { 0 } else { same.len() },
        points: points.iter().sum(),
        finished: points.len(),
        eco: game.game.tag("ECO").map(str::to_owned),
    })
}

fn structures(game: &OwnGame, known: &Known<'_>) -> Vec<StructureMet> {
    let others = known.others.iter().filter(|o| o.id != game.id);
    let others: Vec<Vec<(String, usize)>> = others.map(structure::of_game).collect();
    structure::of_game(game)
        .into_iter()
        .map(|(key, from)| {
            let met = others.iter().filter(|o| o.iter().any(|(k, _)| *k == key));
            let card = (known.cards)(&key).unwrap_or_default();
            let words = card.fields().into_iter().filter(|(_, w)| !w.is_empty());
            StructureMet {
                from,
                games: met.count() + 1,
                card: words.map(|(name, w)| (name, w.to_owned())).collect(),
                key,
            }
        })
        .collect()
}

/// What is odd about a game as it was written down.
#[must_use]
pub fn odd(game: &OwnGame) -> Vec<OddGame> {
    let mut odd = Vec::new();
    let end = game.line_to(game.plies());
    let rule = end.rule().filter(|r| !r.is_claim());
    let written = result(&game.game);
    if let (Some(rule), Some(written)) = (rule, written) {
        let board = match rule.winner(end.turn()) {
            Some(shakmaty::Color::White) => "1-0",
            Some(shakmaty::Color::Black) => "0-1",
            None => "1/2-1/2",
        };
        if board != written {
            odd.push(OddGame::Contradicted {
                result: written.to_owned(),
                board: format!("{board} ({})", rule.words()),
            });
        }
    }
    if written.is_none() {
        odd.push(OddGame::NoResult);
    }
    if game.plies() < SHORT && rule.is_none() {
        odd.push(OddGame::Short(game.plies()));
    }
    if game.times.is_empty() {
        odd.push(OddGame::NoClock);
    }
    odd
}
