//! The judge's work spread over processes: the same result as on one machine, whatever is killed in between.

use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::time::{Duration, Instant};

use crate::support::Program;

const SEASON: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/tests/data/harrowmere-season.pgn"
);
const NODES: [&str; 2] = ["--nodes", "300"];

fn with_games() -> Program {
    let program = Program::new();
    let added = program.run(&["games", "add", SEASON, "--player", "Verrick, Ansa"]);
    assert_eq!(added.code, 0, "{}", added.err);
    program
}

fn moments(program: &Program) -> String {
    let ran = program.run(
        &[
            &["--quiet", "games", "moments", "--format", "json"],
            &NODES[..],
        ]
        .concat(),
    );
    assert_eq!(ran.code, 0, "{}", ran.err);
    ran.out
}

fn shards(folder: &Path) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .collect();
    files.retain(|f| f.extension().is_some_and(|e| e == "questions"));
    files.sort();
    files
}

/// A worker that is killed as soon as it has written something.
fn killed(program: &Program, shard: &Path, answers: &Path) {
    let args = [
        "judge",
        "answer",
        shard.to_str().unwrap(),
        "-o",
        answers.to_str().unwrap(),
        "--jobs",
        "1",
    ];
    let mut worker = program
        .command(&args)
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let began = Instant::now();
    let size = || answers.metadata().map_or(0, |m| m.len());
    while size() < 2_000
        && began.elapsed() < Duration::from_secs(60)
        && worker.try_wait().unwrap().is_none()
    {
        std::thread::sleep(Duration::from_millis(5));
    }
    worker.kill().unwrap();
    worker.wait().unwrap();
}

#[test]
fn what_workers_answer_gives_the_same_moments() {
    let alone = with_games();
    let wanted = moments(&alone);
    let program = with_games();
    let work = program.out("work");
    let folder = work.to_str().unwrap();
    let plan = [
        &["judge", "plan", "-o", folder, "--questions", "150"],
        &NODES[..],
    ]
    .concat();
    let planned = program.run(&plan);
    assert_eq!(planned.code, 0, "{}", planned.err);
    let shards = shards(&work);
    assert!(shards.len() >= 3, "{}", planned.out);
    let mut answers = Vec::new();
    for (number, shard) in shards.iter().enumerate() {
        let file = shard.with_extension("answers");
        if number == 0 {
            killed(&program, shard, &file);
            // And cut off in the middle of a line, as by a full disk.
            let text = std::fs::read(&file).unwrap();
            std::fs::write(&file, &text[..text.len().saturating_sub(7)]).unwrap();
        }
        let (from, to) = (shard.to_str().unwrap(), file.to_str().unwrap().to_owned());
        let ran = program.run(&["judge", "answer", from, "-o", &to]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        // Once more is nothing new.
        let size = file.metadata().unwrap().len();
        assert_eq!(program.run(&["judge", "answer", from, "-o", &to]).code, 0);
        assert_eq!(file.metadata().unwrap().len(), size);
        answers.push(to);
    }
    let files: Vec<&str> = answers.iter().map(String::as_str).collect();
    let ran = program.run(&[&["judge", "gather"], &files[..]].concat());
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(
        ran.out.contains(" 0 questions of these shards still open"),
        "{}",
        ran.out
    );
    // Nothing of it is asked again, and what comes of it is the same, byte for byte.
    let again = program.run(&plan);
    assert!(again.out.contains(" 0 to ask in 0 shards"), "{}", again.out);
    assert_eq!(moments(&program), wanted);
}

#[test]
fn another_engine_a_damaged_shard_and_another_file_are_refused() {
    let program = with_games();
    let work = program.out("work");
    let plan = [
        "judge",
        "plan",
        "-o",
        work.to_str().unwrap(),
        "--questions",
        "40",
        "--nodes",
        "100",
    ];
    assert_eq!(program.run(&plan).code, 0);
    let shards = shards(&work);
    let (one, two) = (shards[0].to_str().unwrap(), shards[1].to_str().unwrap());
    let file = program.out("one.answers");
    let to = file.to_str().unwrap();
    assert_eq!(program.run(&["judge", "answer", one, "-o", to]).code, 0);
    let told = |args: &[&str]| {
        let ran = program.run(args);
        assert_eq!(ran.code, 1, "{args:?}: {}", ran.out);
        ran.err
    };
    let said = told(&["judge", "answer", two, "-o", to]);
    assert!(said.contains("does not answer this shard"), "{said}");
    let text = std::fs::read_to_string(one).unwrap();
    let damaged = program.file("damaged.questions", &text[..text.len() / 2]);
    let said = told(&[
        "judge",
        "answer",
        &damaged,
        "-o",
        program.out("x").to_str().unwrap(),
    ]);
    assert!(said.contains("it is damaged"), "{said}");
    // Answers of another engine: the same file, with another name in its first line.
    let stub = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/support/stub_engine.sh");
    let engine = format!("sh {stub} ordinary {}", program.out("pids").display());
    let ran = program.run(&["judge", "gather", to, "--engine", &engine]);
    assert_ne!(ran.code, 0);
    assert!(
        ran.err.contains("another engine is asked for"),
        "{}",
        ran.err
    );
    let words = program.file("words.answers", "not answers");
    assert!(told(&["judge", "gather", &words]).contains("no file of answers"));
    // A line that was changed is not believed; the others are.
    let answers = std::fs::read_to_string(&file).unwrap();
    let last = answers.lines().last().unwrap();
    let forged = answers.replace(last, &last.replace("\"expected\":", "\"expected\": "));
    let forged = program.file("forged.answers", &forged);
    let said = told(&["judge", "gather", &forged]);
    assert!(said.contains("it was cut off"), "{said}");
}
