//! Positions of games with what was asked about them, one line of JSON each: a run that is stopped goes on where it was, and
//! several take a part each.

use std::collections::BTreeMap;
use std::fs::{self, OpenOptions};
use std::io::Write;

use foreply::board::{Line, line};
use foreply::games::account::bands::Drawishness;
use foreply::games::account::difficulty;
use foreply::games::{result, white_points};
use foreply::judge::{Answer, EngineJudge, Judge, Question};
use foreply::tree::pgn;
use serde::{Deserialize, Serialize};
use shakmaty::Move;

/// Which positions of which games.
pub struct Wanted {
    pub skip: usize,
    pub games: usize,
    /// Every so many half-moves, from a move on.
    pub every: usize,
    pub from: usize,
    /// Ratings of whoever is to move; all where he has none.
    pub rated: (u32, u32),
    /// Nodes of the label.
    pub label: u64,
    /// The bands alone: one search a position.
    pub bands: bool,
    /// The part of the positions that is this process's: which, of how many.
    pub part: (usize, usize),
}

/// One position.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Seen {
    pub game: usize,
    pub ply: usize,
    /// Ratings of White and Black, as the game has them.
    pub ratings: (Option<u32>, Option<u32>),
    /// White's points.
    pub points: f64,
    pub white_to_move: bool,
    pub kind: String,
    /// What the side to move expects, and what the move that was played left, with the nodes of the label.
    pub best: f64,
    pub came: f64,
    /// Moves with what they are worth, search by search of [`difficulty::questions`]; empty with the bands alone.
    pub searches: Vec<Vec<(String, f64)>>,
    /// What the position is worth by [`difficulty::questions_behind`], and its likely moves.
    #[serde(default)]
    pub here: f64,
    #[serde(default)]
    pub likely: Vec<(String, f64)>,
}

impl Seen {
    /// The rating of whoever was to move.
    pub fn mover(&self) -> Option<u32> {
        if self.white_to_move {
            self.ratings.0
        } else {
            self.ratings.1
        }
    }
}

/// Positions that are searched together.
const TOGETHER: usize = 8;

/// Collects what is wanted; what the file holds already is not asked again.
pub fn collect(text: &str, wanted: &Wanted, judge: &EngineJudge, file: Option<&str>) -> Vec<Seen> {
    let mut seen: BTreeMap<(usize, usize), Seen> = file
        .map(read)
        .unwrap_or_default()
        .into_iter()
        .map(|s| ((s.game, s.ply), s))
        .collect();
    let mut out = file.map(|file| {
        let open = OpenOptions::new().create(true).append(true).open(file);
        open.expect("the file can be written")
    });
    let games = pgn::games(text).filter_map(Result::ok);
    let games = games.filter(|g| !g.from_fen && result(g).is_some());
    let mut count = 0;
    for (number, game) in games.enumerate().skip(wanted.skip).take(wanted.games) {
        let lines = lines(&game);
        let places = (2 * (wanted.from - 1)..game.main_moves.len())
            .filter(|ply| (ply + number) % wanted.every == 0)
            .filter(|ply| is_rated(&game, *ply, wanted.rated));
        let mine: Vec<usize> = places
            .filter(|_| {
                count += 1;
                count % wanted.part.1 + 1 == wanted.part.0
            })
            .filter(|ply| !seen.contains_key(&(number, *ply)))
            .collect();
        for some in mine.chunks(TOGETHER) {
            for one in asked((number, &game), &lines, some, wanted, judge) {
                if let Some(out) = &mut out {
                    let line = serde_json::to_string(&one).expect("JSON");
                    writeln!(out, "{line}").expect("the file can be written");
                }
                seen.insert((one.game, one.ply), one);
            }
        }
        if !mine.is_empty() && number % 20 == 19 {
            eprintln!("{} games, {} positions", number + 1, seen.len());
        }
    }
    seen.into_values().collect()
}

/// What a file holds. A last line that was not written whole is left out, and asked again.
pub fn read(file: &str) -> Vec<Seen> {
    let Ok(text) = fs::read_to_string(file) else {
        return Vec::new();
    };
    let whole = text.rfind('\n').map_or(0, |end| end + 1);
    if whole < text.len() {
        fs::write(file, &text[..whole]).expect("the file can be written");
    }
    let lines = text[..whole].lines();
    lines
        .map(|line| serde_json::from_str(line).expect("a line of an earlier run"))
        .collect()
}

/// The game's positions, each as its own start with its history behind it.
fn lines(game: &pgn::Game) -> Vec<Line> {
    let mut at = Line::new(game.start.clone());
    let mut lines = vec![at.clone()];
    for mv in &game.main_moves {
        at.push(mv).expect("a legal move");
        lines.push(at.clone().rooted_here());
    }
    lines
}

fn rating(game: &pgn::Game, tag: &str) -> Option<u32> {
    game.tag(tag).and_then(|r| r.parse().ok())
}

fn is_rated(game: &pgn::Game, ply: usize, (low, high): (u32, u32)) -> bool {
    let tag = if ply.is_multiple_of(2) {
        "WhiteElo"
    } else {
        "BlackElo"
    };
    rating(game, tag).is_none_or(|r| (low..=high).contains(&r))
}

fn asked(
    (number, game): (usize, &pgn::Game),
    lines: &[Line],
    places: &[usize],
    wanted: &Wanted,
    judge: &EngineJudge,
) -> Vec<Seen> {
    let ask = |ply: usize| Question {
        line: lines[ply].clone(),
        lines: 1,
        nodes: wanted.label,
    };
    let questions: Vec<Question> = places.iter().map(|ply| ask(*ply)).collect();
    let before = judge.answer(&questions).expect("answers");
    // Where the best move was played it gives nothing away, and no second search is needed.
    let other: Vec<usize> = (0..places.len())
        .filter(|i| {
            !wanted.bands
                && before[*i].moves.first().map(|r| &r.mv) != game.main_moves.get(places[*i])
        })
        .collect();
    let questions: Vec<Question> = other.iter().map(|i| ask(places[*i] + 1)).collect();
    let after = judge.answer(&questions).expect("answers");
    // Of each position the searches, then what it and its likely moves are worth.
    let mut told: Vec<Told> = vec![Told::default(); places.len()];
    if !wanted.bands {
        told = difficulty_of(lines, places, judge);
    }
    let one = |(i, ply): (usize, &usize)| {
        let best = before[i].expected.value();
        let came = other
            .iter()
            .position(|o| *o == i)
            .map_or(best, |at| 1.0 - after[at].expected.value());
        Seen {
            game: number,
            ply: *ply,
            ratings: (rating(game, "WhiteElo"), rating(game, "BlackElo")),
            points: white_points(game).unwrap_or(0.5),
            white_to_move: lines[*ply].turn().is_white(),
            kind: Drawishness::of(lines[*ply].position()).words().to_owned(),
            best: best.max(came),
            came,
            searches: told[i].searches.clone(),
            here: told[i].here,
            likely: told[i].likely.clone(),
        }
    };
    places.iter().enumerate().map(one).collect()
}

/// What the difficulty of a position is made of.
#[derive(Clone, Default)]
struct Told {
    searches: Vec<Vec<(String, f64)>>,
    here: f64,
    likely: Vec<(String, f64)>,
}

fn difficulty_of(lines: &[Line], places: &[usize], judge: &EngineJudge) -> Vec<Told> {
    let asked: Vec<Question> = places
        .iter()
        .flat_map(|ply| difficulty::questions(&lines[*ply]))
        .collect();
    let answers = judge.answer(&asked).expect("answers");
    let each = asked.len() / places.len();
    let searches = answers.chunks(each).map(difficulty::told);
    let searches: Vec<_> = searches.collect();
    let likely = searches.iter().map(|s| difficulty::likely(s));
    let likely: Vec<_> = likely.collect();
    let behind: Vec<Vec<Question>> = places
        .iter()
        .zip(&likely)
        .map(|(ply, likely)| difficulty::questions_behind(&lines[*ply], likely))
        .collect();
    let mut answers = judge.answer(&behind.concat()).expect("answers").into_iter();
    let named = |moves: &[(Move, f64)]| -> Vec<(String, f64)> {
        let moves = moves.iter();
        moves.map(|(mv, worth)| (line::uci(mv), *worth)).collect()
    };
    let mut told = Vec::with_capacity(places.len());
    for ((searches, likely), behind) in searches.iter().zip(&likely).zip(&behind) {
        let answers: Vec<Answer> = answers.by_ref().take(behind.len()).collect();
        let (here, worths) = difficulty::worths(&answers, likely).expect("an answer to each");
        told.push(Told {
            searches: searches.iter().map(|s| named(s)).collect(),
            here,
            likely: named(&worths),
        });
    }
    told
}
