//! The judge against a scripted engine: one test for each fault of an engine, and for its manners.
//!
//! Every test asks under short limits, so it also proves that nothing waits for ever, and looks
//! afterwards whether a process is left.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use foreply::board::{Line, line};
use foreply::judge::{
    Answer, Basis, EngineCommand, EngineJudge, Judge, JudgeError, Limits, Question, Settings,
};

const WHITE: &str = "rnbqkbnr/ppp1pppp/8/3p4/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 2";
const BLACK: &str = "rnbqkbnr/pppppppp/8/8/8/5N2/PPPPPPPP/RNBQKB1R b KQkq - 1 1";

/// Says whether a process runs. One that has ended, and that nobody has asked about yet, does not.
const NOT_A_CORPSE: &str =
    "kill -0 \"$1\" 2>/dev/null && ! grep -qs '^State:[[:space:]]*Z' \"/proc/$1/status\"";

/// The scripted engine in one of its parts.
struct Stub {
    part: &'static str,
    home: tempfile::TempDir,
}

impl Stub {
    fn new(part: &'static str) -> Self {
        Self {
            part,
            home: tempfile::tempdir().unwrap(),
        }
    }

    fn pids(&self) -> PathBuf {
        self.home.path().join("pids")
    }

    fn command(&self) -> EngineCommand {
        let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/support/stub_engine.sh");
        let pids = self.pids();
        EngineCommand::new(
            "sh",
            [script.as_os_str(), self.part.as_ref(), pids.as_os_str()],
        )
    }

    fn start(&self, jobs: usize) -> Result<EngineJudge, JudgeError> {
        // Short only where they are to run out: the machine of a test may be busy.
        let all = self.part.starts_with("hangs-at") || self.part == "rubbish";
        let short = |parts: &[&str]| {
            Duration::from_secs(if all || parts.contains(&self.part) {
                1
            } else {
                20
            })
        };
        let limits = Limits {
            ready: short(&["mute", "floods-at-once", "deaf-to-isready"]),
            search: short(&[
                "hangs",
                "tires",
                "floods",
                "never-ends",
                "late-after-stop",
                "dies-at-stop",
            ]),
            stop: Duration::from_secs(1),
        };
        let settings = Settings {
            jobs,
            hash_mb: 16,
            limits,
        };
        EngineJudge::start(self.command(), settings)
    }

    /// Starts the engine and asks one question.
    fn ask(&self) -> Result<Answer, JudgeError> {
        let mut answers = self.start(1)?.answer(&[question(WHITE, 1000)])?;
        Ok(answers.remove(0))
    }

    /// The message of the failure, with the folders taken out; fails where a process is left or where
    /// it took longer than the limits allow.
    fn fails(&self) -> String {
        let began = Instant::now();
        let error = self.ask().unwrap_err();
        // Two tries of at most three waits of a second, and room for a busy machine.
        assert!(
            began.elapsed() < Duration::from_secs(30),
            "{:?}",
            began.elapsed()
        );
        self.no_process_left();
        self.plain(&error.to_string())
    }

    fn plain(&self, text: &str) -> String {
        let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/support/");
        let pids = self.pids().display().to_string();
        text.replace(script, "").replace(&pids, "PIDS")
    }

    fn started(&self) -> Vec<String> {
        let pids = fs::read_to_string(self.pids()).unwrap_or_default();
        pids.lines().map(str::to_owned).collect()
    }

    fn left(&self) -> Vec<String> {
        let alive = |pid: &String| {
            let ask = ["-c", NOT_A_CORPSE, "sh", pid];
            Command::new("sh").args(ask).status().unwrap().success()
        };
        self.started().into_iter().filter(alive).collect()
    }

    fn no_process_left(&self) {
        let left = self.left();
        assert!(
            left.is_empty(),
            "of part '{}' are still there: {left:?}",
            self.part
        );
    }
}

fn question(fen: &str, nodes: u64) -> Question {
    Question {
        line: Line::new(line::read_fen(fen).unwrap()),
        lines: 1,
        nodes,
    }
}

#[test]
fn an_ordinary_engine_answers() {
    let stub = Stub::new("ordinary");
    let judge = stub.start(1).unwrap();
    let able = judge.able();
    assert!(able.nodes && able.searchmoves && !able.wdl);
    assert_eq!((able.lines, judge.name().as_str()), (5, "Stub 1.0"));
    let answers = judge
        .answer(&[question(WHITE, 1000), question(BLACK, 700)])
        .unwrap();
    let nodes: Vec<Basis> = answers.iter().map(|a| a.basis).collect();
    assert_eq!(
        nodes,
        [
            Basis::Engine {
                depth: 6,
                nodes: 1000
            },
            Basis::Engine {
                depth: 6,
                nodes: 700
            }
        ]
    );
    assert_eq!(answers[0].expected.to_string(), ".54");
    assert_eq!(stub.started().len(), 1);
    drop(judge);
    stub.no_process_left();
}

#[test]
fn manners_that_differ_are_borne() {
    for part in [
        "banner",
        "one-line",
        "cut-line",
        "escape",
        "latin",
        "long-line",
    ] {
        let stub = Stub::new(part);
        let answer = stub.ask().unwrap_or_else(|e| panic!("{part}: {e}"));
        assert_eq!(answer.expected.to_string(), ".54", "{part}");
        assert_eq!(answer.moves[0].pv.len(), 1, "{part}");
        assert_eq!(stub.started().len(), 1, "{part}");
        stub.no_process_left();
    }
}

#[test]
fn an_engine_that_ignores_nodes_is_given_time() {
    let stub = Stub::new("deaf-to-nodes");
    let judge = stub.start(1).unwrap();
    assert!(!judge.able().nodes);
    assert_eq!(judge.name(), "Stub 1.0 (given time instead of nodes)");
    assert_eq!(judge.answer(&[question(WHITE, 1000)]).unwrap().len(), 1);
    let other = Stub::new("deaf-to-searchmoves");
    assert!(!other.start(1).unwrap().able().searchmoves);
}

#[test]
fn a_search_that_does_not_end_is_stopped_and_its_answer_counts() {
    let stub = Stub::new("never-ends");
    assert_eq!(stub.ask().unwrap().expected.to_string(), ".54");
    assert_eq!(stub.started().len(), 1);
    stub.no_process_left();
}

#[test]
fn a_program_that_is_not_there() {
    let command = EngineCommand::parse("/nowhere/engine --uci").unwrap();
    let error = EngineJudge::start(command, Settings::default())
        .err()
        .unwrap();
    insta::assert_snapshot!(error, @"the engine 'engine --uci' did not start: No such file or directory (os error 2); nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn an_engine_that_exits_at_once() {
    let stub = Stub::new("exits-at-once");
    insta::assert_snapshot!(stub.fails(), @"the engine 'sh stub_engine.sh exits-at-once PIDS' ended by itself while it was greeted with 'uci' (exit status: 7), also after a new start; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
    assert_eq!(stub.started().len(), 2);
}

#[test]
fn a_mute_engine() {
    insta::assert_snapshot!(Stub::new("mute").fails(), @"the engine 'sh stub_engine.sh mute PIDS' was greeted with 'uci' and did not answer for 1 s, also after a new start; it was ended; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn an_engine_that_only_talks() {
    insta::assert_snapshot!(Stub::new("floods-at-once").fails(), @"the engine 'sh stub_engine.sh floods-at-once PIDS' was greeted with 'uci' and did not answer for 1 s, also after a new start; it was ended; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn an_engine_that_is_never_ready() {
    insta::assert_snapshot!(Stub::new("deaf-to-isready").fails(), @"the engine 'sh stub_engine.sh deaf-to-isready PIDS' was asked whether it is ready and did not answer for 1 s, also after a new start; it was ended; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn an_engine_that_dies_in_a_search() {
    let stub = Stub::new("dies");
    insta::assert_snapshot!(stub.fails(), @"the engine 'sh stub_engine.sh dies PIDS' ended by itself while it was searching (exit status: 3), also after a new start; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
    assert_eq!(stub.started().len(), 2);
}

#[test]
fn an_engine_that_dies_once_is_started_again_and_asked_again() {
    let stub = Stub::new("dies-once");
    assert_eq!(stub.ask().unwrap().expected.to_string(), ".54");
    assert_eq!(stub.started().len(), 2);
    stub.no_process_left();
}

#[test]
fn an_engine_that_hangs_in_a_search() {
    let stub = Stub::new("hangs");
    insta::assert_snapshot!(stub.fails(), @"the engine 'sh stub_engine.sh hangs PIDS' was searching and did not answer for 1 s, also after a new start; it was ended; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
    assert_eq!(stub.started().len(), 2);
}

/// Every start brings one answer, and then it hangs: a review of a hundred questions does not wait a hundred times.
#[test]
fn an_engine_that_hangs_after_every_search_is_given_up() {
    let stub = Stub::new("tires");
    let judge = stub.start(1).unwrap();
    let answers = (0..20).map(|n| judge.answer(&[question(WHITE, 1000 + n)]));
    let answered = answers.take_while(Result::is_ok).count();
    assert_eq!(answered, 3);
    drop(judge);
    assert_eq!(stub.started().len(), 3);
    stub.no_process_left();
}

#[test]
fn an_engine_that_floods_in_a_search() {
    insta::assert_snapshot!(Stub::new("floods").fails(), @"the engine 'sh stub_engine.sh floods PIDS' was searching and did not answer for 1 s, also after a new start; it was ended; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn an_engine_that_plays_what_is_not_legal() {
    insta::assert_snapshot!(Stub::new("illegal").fails(), @"the engine 'sh stub_engine.sh illegal PIDS' talks nonsense: it plays a1a1, which is not legal in rnbqkbnr/ppp1pppp/8/3p4/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 2, also after a new start; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn an_engine_that_names_no_move() {
    insta::assert_snapshot!(Stub::new("no-move").fails(), @"the engine 'sh stub_engine.sh no-move PIDS' talks nonsense: it named no move in rnbqkbnr/ppp1pppp/8/3p4/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 2, also after a new start; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn an_engine_that_tells_no_score() {
    insta::assert_snapshot!(Stub::new("no-score").fails(), @"the engine 'sh stub_engine.sh no-score PIDS' talks nonsense: it gave no score in rnbqkbnr/ppp1pppp/8/3p4/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 2, also after a new start; nothing else is affected; name another engine with --engine, or leave it out to use the embedded one");
}

#[test]
fn the_judge_survives_a_failure() {
    let stub = Stub::new("dies");
    let judge = stub.start(2).unwrap();
    assert!(judge.answer(&[question(WHITE, 1000)]).is_err());
    // What the Laws decide needs no engine. Fool's mate, known since G. Greco (1620, from memory).
    let mated = "rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3";
    let answer = judge.answer(&[question(mated, 1000)]).unwrap().remove(0);
    assert_eq!(answer.expected.to_string(), "0");
    assert!(judge.answer(&[question(BLACK, 1000)]).is_err());
    drop(judge);
    stub.no_process_left();
}

#[test]
fn many_questions_are_answered_in_their_order_and_equal_ones_once() {
    let stub = Stub::new("ordinary");
    let judge = stub.start(3).unwrap();
    let questions: Vec<Question> = (0..40u64)
        .map(|n| question(if n % 2 == 0 { WHITE } else { BLACK }, 1000 + n / 4))
        .collect();
    let answers = judge.answer(&questions).unwrap();
    assert_eq!(answers.len(), questions.len());
    for (question, answer) in questions.iter().zip(&answers) {
        let Basis::Engine { nodes, .. } = answer.basis else {
            panic!("not searched")
        };
        assert_eq!(nodes, question.nodes);
        assert!(question.line.child(&answer.moves[0].mv).is_ok());
    }
    assert_eq!(judge.answer(&questions).unwrap(), answers);
    assert!(stub.started().len() <= 3);
    drop(judge);
    stub.no_process_left();
}

/// Whatever message it dies or hangs at: an error in bounded time, and no process left.
#[test]
fn an_engine_that_dies_or_hangs_at_any_message() {
    for part in [
        "dies-at-uci",
        "dies-at-setoption",
        "dies-at-isready",
        "dies-at-ucinewgame",
        "dies-at-position",
        "dies-at-go",
        "dies-at-stop",
        "hangs-at-uci",
        "hangs-at-setoption",
        "hangs-at-isready",
        "hangs-at-ucinewgame",
        "hangs-at-position",
        "hangs-at-go",
        "hangs-at-stop",
        "late-after-stop",
    ] {
        let told = Stub::new(part).fails();
        let how = if part.starts_with("dies") {
            "ended by itself"
        } else {
            "did not answer"
        };
        assert!(told.contains(how), "{part}: {told}");
    }
}

#[test]
fn a_program_that_is_no_engine() {
    let told = Stub::new("rubbish").fails();
    assert!(told.contains("did not answer for 1 s"), "{told}");
    let limits = Limits {
        ready: Duration::from_secs(1),
        ..Limits::default()
    };
    let settings = Settings {
        jobs: 1,
        hash_mb: 16,
        limits,
    };
    for (program, how) in [
        ("/bin/cat", "did not answer"),
        ("/bin/true", "ended by itself"),
        ("/bin", "did not start"),
    ] {
        let command = EngineCommand::parse(program).unwrap();
        let told = EngineJudge::start(command, settings)
            .err()
            .unwrap()
            .to_string();
        assert!(told.contains(how), "{program}: {told}");
    }
}

/// It ends and leaves a process behind that holds its pipes: noticed at once, and that one is ended too.
#[test]
fn an_engine_that_leaves_a_process_behind() {
    let stub = Stub::new("grandchild");
    let began = Instant::now();
    let told = stub.fails();
    assert!(told.contains("ended by itself"), "{told}");
    // Far under the 20 s that an answer may take.
    assert!(began.elapsed() < Duration::from_secs(15));
    assert_eq!(stub.started().len(), 4);
}

/// One line of 300 MB: passed over, answered, and never in memory.
#[cfg(target_os = "linux")]
#[test]
fn a_flood_takes_no_memory() {
    // In a process of its own: the figure is that of a whole process, and other tests run in this one.
    let alone = Command::new(std::env::current_exe().unwrap())
        .args([
            "judge::a_flood_alone",
            "--exact",
            "--ignored",
            "--nocapture",
        ])
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&alone.stdout);
    assert!(
        alone.status.success() && told.contains("1 passed"),
        "{told}"
    );
}

#[cfg(target_os = "linux")]
#[test]
#[ignore = "run by a_flood_takes_no_memory, in a process of its own"]
fn a_flood_alone() {
    let stub = Stub::new("one-huge-line");
    let before = peak_kb();
    assert_eq!(stub.ask().unwrap().expected.to_string(), ".54");
    let grown = peak_kb().saturating_sub(before);
    assert!(grown < 100_000, "{grown} kB");
    stub.no_process_left();
}

/// Largest memory of this process so far (proc(5), VmHWM).
#[cfg(target_os = "linux")]
fn peak_kb() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap();
    let line = status.lines().find(|l| l.starts_with("VmHWM")).unwrap();
    line.split_whitespace().nth(1).unwrap().parse().unwrap()
}

#[test]
fn a_line_that_is_no_text_is_passed_over() {
    let stub = Stub::new("bad-pv");
    assert_eq!(stub.ask().unwrap().expected.to_string(), ".54");
    stub.no_process_left();
}

/// SIGTERM and the end of the terminal reach this program alone: engines are groups of their own.
#[cfg(unix)]
#[test]
fn a_command_that_is_ended_ends_its_engine() {
    use std::os::unix::process::ExitStatusExt;
    let stub = Stub::new("mute");
    let engine = stub.command().to_string();
    let mut program = Command::new(env!("CARGO_BIN_EXE_foreply"))
        .arg("--home")
        .arg(stub.home.path().join("home"))
        .args(["--engine", &engine, "review"])
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/harrowmere-homework.pgn"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    while stub.started().is_empty() {
        assert!(program.try_wait().unwrap().is_none(), "it ended by itself");
        std::thread::sleep(Duration::from_millis(10));
    }
    let number = program.id().to_string();
    assert!(
        Command::new("kill")
            .arg(&number)
            .status()
            .unwrap()
            .success()
    );
    assert_eq!(program.wait().unwrap().signal(), Some(15));
    // The system takes a moment between the signal and the end.
    let since = Instant::now();
    while !stub.left().is_empty() && since.elapsed() < Duration::from_secs(5) {
        std::thread::sleep(Duration::from_millis(20));
    }
    stub.no_process_left();
}
