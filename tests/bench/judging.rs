//! Judging the demo season with the built-in engine: `cargo bench --bench judging [-- --nodes N] [--games N]`.
//!
//! With one engine process and with two: positions a second and the share of the time in which the processes had
//! something to do, first for every move of the games, then for what is asked again with more nodes; and the same
//! once more by a new judge that finds all of it in the store. Each figure stands beside that of one process in the
//! same run.

use std::sync::Arc;
use std::time::Instant;

use foreply::games::moment::doubtful;
use foreply::games::survey::{self, Settings, Surveyed};
use foreply::games::{Importer, KeptGame, OwnGame, Player};
use foreply::judge::{self, CachedJudge, EngineCommand, EngineJudge};
use foreply::store::Store;

const SEASON: &[u8] = include_bytes!("../data/harrowmere-season.pgn");

type Judge = CachedJudge<EngineJudge>;

/// What one pass over the games took.
struct Pass {
    what: &'static str,
    positions: usize,
    seconds: f64,
    /// Share of the time of all processes.
    busy: f64,
    nodes: u64,
}

impl Pass {
    fn speed(&self) -> f64 {
        self.positions as f64 / self.seconds
    }

    fn print(&self, jobs: usize, one: Option<&Self>) {
        let ratio = one.map_or(1.0, |one| self.speed() / one.speed());
        println!(
            "{jobs} {} {:<12} {:>5} positions {:>7.2} s {:>9.1} a second ({ratio:.2} of one process) {:>4.0} % busy {:>5.2} M nodes/s",
            if jobs == 1 { "process  " } else { "processes" },
            self.what,
            self.positions,
            self.seconds,
            self.speed(),
            100.0 * self.busy,
            self.nodes as f64 / 1e6 / self.seconds
        );
    }
}

fn main() {
    let settings = Settings {
        nodes: number("--nodes").unwrap_or(Settings::default().nodes),
        ..Settings::default()
    };
    let games = season(number("--games").map_or(usize::MAX, |n| n as usize));
    let one = passes(&games, 1, &settings);
    let two = passes(&games, 2, &settings);
    for (jobs, found) in [(1, &one), (2, &two)] {
        for (pass, of_one) in found.iter().zip(&one) {
            pass.print(jobs, (jobs > 1).then_some(of_one));
        }
        let [every, _, cached] = found;
        let times = cached.speed() / every.speed();
        println!("  from the store {times:.0} times as fast as from the engine");
    }
}

fn number(name: &str) -> Option<u64> {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|word| word == name)?;
    words.get(at + 1)?.parse().ok()
}

fn season(limit: usize) -> Vec<OwnGame> {
    let player = Player {
        name: "Verrick, Ansa".to_owned(),
        ..Player::default()
    };
    let mut kept: Vec<KeptGame> = Vec::new();
    let mut decide = |_: &str| None;
    let mut keep = |games: Vec<KeptGame>| {
        kept.extend(games);
        Ok::<(), std::io::Error>(())
    };
    Importer::new(player, &[], &mut decide)
        .read(SEASON, &mut keep, &mut |_| {})
        .expect("the season can be read");
    kept.iter().filter_map(OwnGame::read).take(limit).collect()
}

fn passes(games: &[OwnGame], jobs: usize, settings: &Settings) -> [Pass; 3] {
    let home = tempfile::tempdir().expect("a folder");
    let store = Arc::new(Store::open(home.path()).expect("a store"));
    let start = || {
        let command = EngineCommand::new(env!("CARGO_BIN_EXE_foreply"), ["engine"]);
        let run = judge::Settings {
            jobs,
            ..judge::Settings::default()
        };
        let engine = EngineJudge::start(command, run).expect("an engine");
        CachedJudge::new(engine, Some(store.clone()))
    };
    let judge = start();
    let mut judged = Vec::new();
    let every = pass("every move", &judge, jobs, || {
        judged = surveyed(games, &judge, settings);
        judged.iter().map(|g| g.plies.len() + 1).sum()
    });
    let again = pass("closer", &judge, jobs, || {
        let mut asked = 0;
        for game in &mut judged {
            let plies = doubtful(game, settings);
            asked += plies.len();
            survey::confirm(game, &plies, &judge, settings, &mut |_| {}).expect("answers");
        }
        asked
    });
    let other = start();
    let cached = pass("from store", &other, jobs, || {
        let again = surveyed(games, &other, settings);
        again.iter().map(|g| g.plies.len() + 1).sum()
    });
    assert_eq!(other.inner().work().searches, 0, "all of it was known");
    [every, again, cached]
}

fn surveyed(games: &[OwnGame], judge: &Judge, settings: &Settings) -> Vec<Surveyed> {
    let of = |game| survey::survey(game, judge, settings, &mut |_| {}).expect("answers");
    games.iter().map(of).collect()
}

fn pass(what: &'static str, judge: &Judge, jobs: usize, work: impl FnOnce() -> usize) -> Pass {
    let (before, begun) = (judge.inner().work(), Instant::now());
    let positions = work();
    let seconds = begun.elapsed().as_secs_f64();
    let after = judge.inner().work();
    let busy = (after.busy - before.busy).as_secs_f64() / (seconds * jobs as f64);
    Pass {
        what,
        positions,
        seconds,
        busy,
        nodes: after.nodes - before.nodes,
    }
}
