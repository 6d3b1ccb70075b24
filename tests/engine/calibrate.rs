//! The curve of expected scores, fitted to games of people.

use crate::support::Program;

const SEASON: &str = include_str!("../data/harrowmere-season.pgn");

/// The season `times` over: its results are no less made up.
fn seasons(program: &Program, name: &str, times: usize) -> String {
    let path = program.desk.path().join(name);
    std::fs::write(&path, SEASON.repeat(times)).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn games_with_ratings_are_fitted_and_the_rating_is_a_term() {
    let program = Program::new();
    let games = seasons(&program, "games.PGN", 4);
    let curve = program.desk.path().join("fitted.rs");
    let args = ["engine", "calibrate", &games, "--nodes", "50"];
    let write = ["--stride", "9", "--write", curve.to_str().unwrap()];
    let args = [&args[..], &write[..]].concat();
    let told = program.run(&args).ok(&args);
    assert!(
        told.starts_with("48 games of people with ratings, scores of searches of 50 nodes, each hundred points of difference\nworth "),
        "{told}"
    );
    assert!(told.contains("every game of the same weight"), "{told}");
    let written = std::fs::read_to_string(&curve).unwrap();
    for line in told.lines() {
        assert!(written.contains(line), "{line}");
    }
    assert!(
        written.contains("pub const FITTED: [f64; 5] = ["),
        "{written}"
    );
}

#[test]
fn what_cannot_be_fitted_is_refused() {
    let program = Program::new();
    let refused = |args: &[&str], words: &str| {
        let ran = program.run(args);
        assert_ne!(ran.code, 0);
        assert!(ran.err.contains(words), "{}", ran.err);
        ran
    };
    let few = seasons(&program, "few.pgn", 1);
    refused(
        &["engine", "calibrate", &few, "--nodes", "50"],
        "12 games with a result and both ratings are too few",
    );
    // Without ratings there is nothing that tells who is better from who stands better.
    let unrated = program.desk.path().join("unrated.pgn");
    let text = SEASON.replace("WhiteElo", "WhiteClub");
    std::fs::write(&unrated, text.repeat(4)).unwrap();
    let ran = refused(
        &["engine", "calibrate", unrated.to_str().unwrap()],
        "0 games with a result and both ratings are too few",
    );
    assert!(ran.out.contains("48 games are left out"), "{}", ran.out);
    let kept = program.desk.path().join("kept.bin");
    std::fs::write(&kept, []).unwrap();
    refused(
        &["engine", "calibrate", &few, kept.to_str().unwrap()],
        "kept.bin",
    );
}
