//! One running engine: greeting, options, questions.

use std::collections::BTreeMap;
use std::str::FromStr;
use std::time::Duration;

use ruci::engine::{self, Message};
use ruci::gui::{Go, IsReady, SetOption, Stop, Uci, UciNewGame};
use shakmaty::uci::UciMove;

use super::error::Fault;
use super::process::Process;
use super::search::{Heard, Searched};
use super::{Answer, EngineCommand, JudgeError, Question, question, rules};

/// How long an engine may take. Real time, since a hanging engine counts no nodes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// From the start to `uciok`, and from `isready` to `readyok`. Large, since a file system over the
    /// network or big tables take their time.
    pub ready: Duration,
    /// For a search, besides what its nodes take at [`SLOWEST`] nodes a second.
    pub search: Duration,
    /// From `stop` to `bestmove`.
    pub stop: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            ready: Duration::from_secs(10),
            search: Duration::from_secs(10),
            stop: Duration::from_secs(2),
        }
    }
}

/// No engine that is worth asking searches fewer nodes a second.
const SLOWEST: u64 = 10_000;
/// Nodes a second taken for granted where an engine has to be given time instead of nodes.
const ORDINARY: u64 = 500_000;
/// Size of the measurement whether `go nodes` is honoured.
const MEASURED: u64 = 20_000;

/// How often a search that was cut off in the middle, its last word a bound, goes on with half as many nodes: what
/// was true before it found something is no answer.
const ASKED_ON: usize = 2;

/// What an engine can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Able {
    /// Most lines of MultiPV; 1 where it has no such option.
    pub lines: usize,
    /// It tells win, draw and loss.
    pub wdl: bool,
    /// It honours `go nodes`.
    pub nodes: bool,
    /// It honours `searchmoves`.
    pub searchmoves: bool,
}

/// A started engine.
pub(super) struct Session {
    process: Process,
    limits: Limits,
    name: String,
    able: Able,
}

impl Session {
    /// Starts the engine and sets its options. What it can do is measured unless `able` tells.
    pub(super) fn start(
        command: &EngineCommand,
        hash_mb: u32,
        limits: Limits,
        able: Option<Able>,
    ) -> Result<Self, Fault> {
        let mut process = Process::start(command)?;
        let greeting = greet(&mut process, limits.ready)?;
        let mut session = Self {
            process,
            limits,
            name: greeting.name.clone().unwrap_or_else(|| command.to_string()),
            able: able.unwrap_or(Able {
                lines: greeting.most("MultiPV").unwrap_or(1),
                wdl: greeting.has("UCI_ShowWDL"),
                nodes: false,
                searchmoves: false,
            }),
        };
        session.set_options(&greeting, hash_mb)?;
        session.ready()?;
        if able.is_none() {
            session.measure()?;
        }
        Ok(session)
    }

    /// The name it gives itself, made safe to print.
    pub(super) fn name(&self) -> &str {
        &self.name
    }

    pub(super) fn able(&self) -> Able {
        self.able
    }

    fn set_options(&mut self, greeting: &Greeting, hash_mb: u32) -> Result<(), Fault> {
        let hash = i64::from(hash_mb).clamp(
            greeting.least("Hash").unwrap_or(1),
            greeting
                .most("Hash")
                .map_or(i64::MAX, |m| i64::try_from(m).unwrap_or(i64::MAX)),
        );
        for (option, value) in [
            ("Hash", hash.to_string()),
            ("Threads", "1".to_owned()),
            ("UCI_ShowWDL", "true".to_owned()),
        ] {
            if greeting.has(option) {
                self.set(option, value)?;
            }
        }
        Ok(())
    }

    fn set(&mut self, name: &'static str, value: String) -> Result<(), Fault> {
        let option = SetOption {
            name: name.into(),
            value: Some(value.into()),
        };
        self.process.send(tr!("set its options"), &option)
    }

    fn ready(&mut self) -> Result<(), Fault> {
        let doing = tr!("was asked whether it is ready");
        self.process.send(doing, &IsReady)?;
        self.process.wait(doing, self.limits.ready, |line| {
            (line == "readyok").then_some(())
        })
    }

    /// Answers one question from an empty table; a search that ends on a bound goes on.
    pub(super) fn ask(&mut self, question: &Question) -> Result<Answer, Fault> {
        let doing = tr!("was given a position");
        let lines = rules::lines(question).min(self.able.lines);
        self.process.send(doing, &UciNewGame)?;
        if self.able.lines > 1 {
            self.set("MultiPV", lines.to_string())?;
        }
        self.ready()?;
        self.process
            .send(doing, &question::position(&question.line))?;
        let mut searched = self.search(&self.budget(question.nodes), question.nodes)?;
        for _ in 0..ASKED_ON {
            if !searched.heard.is_open(lines) {
                break;
            }
            // From the full table of the search before it is soon where that was cut off.
            let surplus = question.nodes.div_ceil(2);
            let more = self.search(&self.budget(surplus), surplus)?;
            searched = searched.then(more);
        }
        searched.answer(question)
    }

    fn budget(&self, nodes: u64) -> Go<'static> {
        if self.able.nodes {
            go_nodes(nodes)
        } else {
            let ms = (nodes.saturating_mul(1000) / ORDINARY).max(10);
            Go {
                move_time: usize::try_from(ms).ok(),
                ..Go::default()
            }
        }
    }

    /// Runs a search to its end; stops it when its time is up.
    fn search(&mut self, go: &Go<'_>, nodes: u64) -> Result<Searched, Fault> {
        let limit =
            self.limits.search + Duration::from_millis(nodes.saturating_mul(1000) / SLOWEST);
        let (searched, _) = self.search_within(go, limit)?;
        Ok(searched)
    }

    /// The search, and whether it ended by itself.
    fn search_within(&mut self, go: &Go<'_>, limit: Duration) -> Result<(Searched, bool), Fault> {
        let doing = tr!("was searching");
        let mut heard = Heard::default();
        self.process.send(doing, go)?;
        match self.process.wait(doing, limit, |line| heard.hear(line)) {
            Ok(best) => Ok((Searched { heard, best }, true)),
            Err(silent @ Fault::Silent { .. }) => {
                self.process.send(doing, &Stop)?;
                let stop = self.limits.stop;
                match self.process.wait(doing, stop, |line| heard.hear(line)) {
                    Ok(best) => Ok((Searched { heard, best }, false)),
                    // What was waited for is the search, not its stop.
                    Err(Fault::Silent { .. }) => Err(silent),
                    Err(other) => Err(other),
                }
            }
            Err(other) => Err(other),
        }
    }

    /// Engines differ: some ignore `go nodes`, some `searchmoves` (measured on two common ones).
    fn measure(&mut self) -> Result<(), Fault> {
        self.able.nodes = self.measure_nodes()?;
        self.able.searchmoves = self.measure_searchmoves()?;
        Ok(())
    }

    fn measure_nodes(&mut self) -> Result<bool, Fault> {
        let doing = tr!("was given a position");
        self.process.send(doing, &start_position())?;
        let limit = Duration::from_secs(3).min(self.limits.search);
        let (searched, by_itself) = self.search_within(&go_nodes(MEASURED), limit)?;
        let nodes = searched.heard.nodes;
        // The count that is told last can be that of the last full round, an eighth at worst; one that
        // is stopped by us before it came so far is slow, not deaf.
        let enough = nodes >= MEASURED / 8 || !by_itself;
        Ok(enough && nodes <= MEASURED * 4)
    }

    fn measure_searchmoves(&mut self) -> Result<bool, Fault> {
        let doing = tr!("was given a position");
        // No engine plays this by choice.
        let only: UciMove = "f2f3".parse().map_err(|_| Fault::Nonsense(String::new()))?;
        self.process.send(doing, &UciNewGame)?;
        self.ready()?;
        self.process.send(doing, &start_position())?;
        let go = Go {
            search_moves: vec![only.clone()].into(),
            ..self.budget(MEASURED / 10)
        };
        Ok(self.search(&go, MEASURED / 10)?.best == Some(only))
    }
}

fn start_position() -> ruci::gui::Position<'static> {
    ruci::gui::Position::StartPos {
        moves: Vec::new().into(),
    }
}

fn go_nodes(nodes: u64) -> Go<'static> {
    Go {
        nodes: usize::try_from(nodes).ok(),
        ..Go::default()
    }
}

/// What the engine says of itself.
#[derive(Debug, Default)]
struct Greeting {
    name: Option<String>,
    /// By name in lower case, since names of options are compared so: least and most of a number.
    options: BTreeMap<String, (Option<i64>, Option<i64>)>,
}

impl Greeting {
    fn has(&self, option: &str) -> bool {
        self.options.contains_key(&option.to_lowercase())
    }

    fn least(&self, option: &str) -> Option<i64> {
        self.options.get(&option.to_lowercase())?.0
    }

    fn most(&self, option: &str) -> Option<usize> {
        let most = self.options.get(&option.to_lowercase())?.1?;
        usize::try_from(most).ok()
    }

    /// Takes in one line; lines that are none of the protocol's, such as a banner, are passed over.
    fn hear(&mut self, line: &str) {
        if let Some(name) = line.strip_prefix("id name ") {
            // By hand: the message parser stumbles over names that hold its key words.
            self.name = Some(name.chars().take(80).collect());
        } else if line.starts_with("option ")
            && let Ok(Message::Option(option)) = Message::from_str(line)
        {
            let range = match option.r#type {
                engine::OptionType::Spin { min, max, .. } => (min, max),
                _ => (None, None),
            };
            // An engine has some dozens of options; more are a flood.
            if self.options.len() < 1000 {
                self.options.insert(option.name.to_lowercase(), range);
            }
        }
    }
}

/// The answer that an engine's lines amount to, read as a running engine's are: as its greeting up to
/// `uciok`, the rest as one search.
///
/// # Errors
/// No `bestmove`, one that is not legal, or no score.
pub fn overhear(question: &Question, said: &str) -> Result<Answer, JudgeError> {
    let mut greeting = Greeting::default();
    let mut heard = Heard::default();
    let mut lines = said.lines();
    if said.lines().any(|line| line == "uciok") {
        lines
            .by_ref()
            .take_while(|line| *line != "uciok")
            .for_each(|line| greeting.hear(line));
    }
    let best = lines.find_map(|line| heard.hear(line)).flatten();
    let name = greeting.name.unwrap_or_default();
    let searched = Searched { heard, best };
    searched.answer(question).map_err(|fault| fault.of(name))
}

fn greet(process: &mut Process, limit: Duration) -> Result<Greeting, Fault> {
    let doing = tr!("was greeted with 'uci'");
    let mut greeting = Greeting::default();
    process.send(doing, &Uci)?;
    process.wait(doing, limit, |line| {
        greeting.hear(line);
        (line == "uciok").then_some(())
    })?;
    Ok(greeting)
}
