//! The real screens on the puppet backend: how long a key takes to the screen while the engine works behind
//! it, what the program costs while nobody types, and how long it takes to its first frame.
//!
//! Usage: `cargo bench --bench screens [-- --attempts N]`; N is the largest store that is opened (10,000).
//! The goals are those of the project's design: 16 ms a key at the 99th percentile, under 1 % of a processor
//! while idle, 100 ms to the first frame. They are printed beside the figures, not enforced: a benchmark
//! measures the machine as well.

use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, Sender};
use cursive::backends::puppet::Backend;
use cursive::backends::puppet::observed::ObservedScreen;
use cursive::event::{Event, Key};
use cursive::{Cursive, CursiveRunner, Vec2};
use foreply::app::{App, Config, EntryToken, Subject};
use foreply::attempt::BoardVisibility;
use foreply::report;
use foreply::tree::NodeId;
use foreply::tui::{Options, ReportTexts, ScreenHost, Start};

/// The smallest screen.
const SIZE: (usize, usize) = (80, 24);
/// The program, which is its own engine.
const FOREPLY: &str = env!("CARGO_BIN_EXE_foreply");
/// A pause after which the engine works on what is written.
const SETTLED: Duration = Duration::from_millis(2_500);
/// Keys that are measured for one row of the table.
const KEYS: usize = 2_000;
const IDLE: Duration = Duration::from_secs(10);

/// A line of the score of A. Anderssen - L. Kieseritzky, London 1851, as far as it is needed, and replies
/// beside it: what a tree of any position looks like on the screen. Whether the moves are possible in the
/// drill does not matter to the entry.
const LINES: &[&str] = &[
    "Nf3 Qh6 d3 Nh5 Nh4 Qg5 Nf5 c6 +-",
    "Nf3 Qh5 d3 d6 Bxf4 =",
    "Bc4 Qh4+ Kf1 b5 Bxb5 Nf6 +/=",
    "Nc3 Qh4+ Ke2 d5 Nxd5 Bg4+ ~",
];

struct Rig {
    stage: ScreenHost,
    runner: CursiveRunner<Cursive>,
    input: Sender<Option<Event>>,
    frames: Receiver<ObservedScreen>,
}

impl Rig {
    fn open(app: App, start: &Start) -> Self {
        let backend = Backend::init(Some(Vec2::from(SIZE)));
        let (input, frames) = (backend.input(), backend.stream());
        let truecolor = |name: &str| (name == "COLORTERM").then(|| "truecolor".to_owned());
        let texts = ReportTexts {
            sheet: |_, _| String::new(),
            own_game_stops: |_| Vec::new(),
            method: String::new,
            quick: report::quick_text,
            progress: report::progress_text,
            account: report::account_text,
            thoughts: |_| String::new(),
            own_game: |_| String::new(),
            event: |_| String::new(),
            opponent: |_| String::new(),
        };
        let stage = ScreenHost::open(app, start, Options::default(), texts, &truecolor).unwrap();
        let mut runner = CursiveRunner::new(stage.cursive(), backend);
        runner.refresh();
        Self {
            stage,
            runner,
            input,
            frames,
        }
    }

    /// One key as the event loop takes it; the time until its frame is drawn.
    fn key(&mut self, event: Event) -> Duration {
        let began = Instant::now();
        self.input.send(Some(event)).unwrap();
        while self.runner.process_events() {}
        self.stage.tick();
        self.runner.refresh();
        let took = began.elapsed();
        let drawn = self.frames.try_iter().count();
        assert!(drawn > 0, "the key drew nothing");
        took
    }

    fn line(&mut self, text: &str) {
        text.chars().for_each(|c| {
            self.key(Event::Char(c));
        });
        self.key(Event::Key(Key::Enter));
    }
}

fn app(home: &Path, ahead: bool) -> App {
    let mut config = Config::new(home.to_owned());
    config.engine = Some(format!("{FOREPLY} engine"));
    config.ahead = ahead;
    config.writing = true;
    App::open(config).unwrap()
}

/// Writes a tree of so many moves, each line below the position.
fn write(rig: &mut Rig, nodes: usize) {
    rig.key(Event::Key(Key::Enter));
    let mut written = 0;
    for round in 0.. {
        for line in LINES {
            // A first move of its own for every round, so that no line is walked into.
            let first = format!(
                "{}{}",
                ["Na", "Nb", "Nc", "Nd", "Ne"][round % 5],
                1 + round / 5 % 8
            );
            rig.line(&format!("{first} {line}"));
            written += line.split(' ').count();
            for _ in 0..12 {
                rig.key(Event::Key(Key::Enter));
            }
            if written >= nodes {
                return;
            }
        }
    }
}

/// Keys as they come while a line is typed, corrected and the tree is walked.
fn typing() -> impl Iterator<Item = Event> {
    let typed = "Qxf7 Kd8 Nd5".chars().map(Event::Char);
    let back = std::iter::repeat_n(Event::Key(Key::Backspace), 12);
    let walk = [Key::Up, Key::Up, Key::Down, Key::Left, Key::Right, Key::Tab].map(Event::Key);
    typed
        .chain(back)
        .chain(walk)
        .collect::<Vec<_>>()
        .into_iter()
        .cycle()
}

fn percentiles(name: &str, mut times: Vec<Duration>) {
    times.sort();
    let at = |part: usize| times[(times.len() - 1) * part / 1000].as_secs_f64() * 1000.0;
    println!(
        "{name:<38} {:>7.2} {:>7.2} {:>7.2} {:>7.2}",
        at(500),
        at(900),
        at(990),
        at(1000)
    );
}

fn keys(nodes: usize, ahead: bool) {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::open(
        app(home.path(), ahead),
        &Start::Drill("saavedra-1895".to_owned()),
    );
    write(&mut rig, nodes);
    if ahead {
        std::thread::sleep(SETTLED);
    }
    let times = typing().take(KEYS).map(|event| rig.key(event)).collect();
    let engine = if ahead { "engine at work" } else { "no engine" };
    percentiles(&format!("{nodes} moves, {engine}"), times);
    let entered = (0..40).map(|i| {
        rig.key(Event::Key(Key::Home));
        for c in format!("Ra{} Rb{}", 1 + i % 8, 1 + i / 8).chars() {
            rig.key(Event::Char(c));
        }
        rig.key(Event::Key(Key::Enter))
    });
    let entered = entered.collect();
    percentiles(&format!("{nodes} moves, Enter: two moves kept"), entered);
    rig.stage.close().unwrap();
}

/// Processor time of this process in clock ticks of a hundredth of a second (proc(5), `utime`, `stime`).
fn ticks() -> Option<u64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    let fields: Vec<&str> = stat.rsplit_once(')')?.1.split_whitespace().collect();
    Some(fields.get(11)?.parse::<u64>().ok()? + fields.get(12)?.parse::<u64>().ok()?)
}

fn idle() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::open(
        app(home.path(), false),
        &Start::Drill("saavedra-1895".to_owned()),
    );
    write(&mut rig, 40);
    let stop = AtomicBool::new(false);
    let Some(before) = ticks() else {
        println!("idle: this system does not tell processor time in /proc");
        return;
    };
    std::thread::scope(|scope| {
        scope.spawn(|| {
            std::thread::sleep(IDLE);
            stop.store(true, Ordering::Relaxed);
        });
        rig.stage.turn(&mut rig.runner, &stop);
    });
    let used = ticks().unwrap_or(before) - before;
    let share = used as f64 / IDLE.as_secs_f64();
    println!("\nidle with a running clock: {share:.1} % of one processor (goal: under 1 %)");
    rig.stage.close().unwrap();
}

/// Locked attempts of three moves each.
fn fill(home: &Path, from: usize, to: usize) {
    let app = app(home, false);
    let drills = app.drills().all();
    for i in from..to {
        let subject = Subject::Drill(drills[i % drills.len()].id.clone());
        let mut sitting = app
            .attempts()
            .open_sitting(&subject, None, BoardVisibility::Root)
            .unwrap();
        sitting.start().unwrap();
        let moves = ["Kb7", "Rd7+", "Kc6"].map(|m| EntryToken::Move(m.to_owned()));
        sitting.write(NodeId::ROOT, &moves).unwrap();
        sitting.choose(NodeId(1)).unwrap();
        sitting.lock().unwrap();
    }
    app.maintenance().leave();
}

fn starts(most: usize) {
    println!("\nstart to first frame, ms (goal: 100 with 10,000 attempts)");
    let home = tempfile::tempdir().unwrap();
    let mut stored = 0;
    for attempts in [0, 1_000, 10_000].into_iter().filter(|n| *n <= most) {
        if attempts > stored {
            fill(home.path(), stored, attempts);
            stored = attempts;
        }
        let mut times: Vec<f64> = (0..5).map(|_| start(home.path())).collect();
        times.sort_by(f64::total_cmp);
        println!("{attempts:>6} attempts: {:>6.1} (middle of five)", times[2]);
    }
}

fn start(home: &Path) -> f64 {
    let began = Instant::now();
    let app = app(home, false);
    let rig = Rig::open(app.clone(), &Start::Home);
    let took = began.elapsed();
    assert!(rig.frames.try_iter().count() > 0, "nothing was drawn");
    drop(rig);
    app.maintenance().leave();
    took.as_secs_f64() * 1000.0
}

fn main() {
    let args: Vec<String> = std::env::args().collect();
    let named = args.iter().position(|a| a == "--attempts");
    let most = named
        .and_then(|i| args.get(i + 1)?.parse().ok())
        .unwrap_or(10_000);
    println!("key to screen, ms (goal: 16)               median    90 %    99 %     max");
    for (nodes, ahead) in [(20, false), (20, true), (300, false), (300, true)] {
        keys(nodes, ahead);
    }
    println!("The event loop adds a pause of up to 4 ms while keys come.");
    idle();
    starts(most);
}
