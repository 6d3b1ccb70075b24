//! Own games against the outside: the PGN standard's own sample game, and python-chess, a reader that shares
//! no code with us, on generated files.

use crate::support::left_out;
use std::io::Write;
use std::process::Command;

use foreply::board::line::fen;
use foreply::games::{Importer, KeptGame, OwnGame, Player};

use super::SEASON;

/// The sample game of the PGN standard of 1994 (section 2.3, from memory).
const SAMPLE: &str = r#"[Event "F/S Return Match"]
[Site "Belgrade, Serbia JUG"]
[Date "1992.11.04"]
[Round "29"]
[White "Fischer, Robert J."]
[Black "Spassky, Boris V."]
[Result "1/2-1/2"]

1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. O-O Be7 6. Re1 b5 7. Bb3 d6 8. c3
O-O 9. h3 Nb8 10. d4 Nbd7 11. c4 c6 12. cxb5 axb5 13. Nc3 Bb7 14. Bg5 b4 15.
Nb1 h6 16. Bh4 c5 17. dxe5 Nxe4 18. Bxe7 Qxe7 19. exd6 Qf6 20. Nbd2 Nxd6 21.
Nc4 Nxc4 22. Bxc4 Nb6 23. Ne5 Rae8 24. Bxf7+ Rxf7 25. Nxf7 Rxe1+ 26. Qxe1 Kxf7
27. Qe3 Qg5 28. Qxg5 hxg5 29. b3 Ke6 30. a3 Kd6 31. axb4 cxb4 32. Ra5 Nd5 33.
f3 Bc8 34. Kf2 Bf5 35. Ra7 g6 36. Ra6+ Kc5 37. Ke1 Nf4 38. g3 Nxh3 39. Kd2 Kb5
40. Rd6 Kc5 41. Ra6 Nf2 42. g4 Bd3 43. Re6 1/2-1/2
"#;

/// The games of a player in a text, as they would be kept.
fn games_of(player: &str, bytes: &[u8]) -> (Vec<OwnGame>, usize) {
    let player = Player {
        name: player.to_owned(),
        ..Player::default()
    };
    let mut kept: Vec<KeptGame> = Vec::new();
    let mut decide = |_: &str| Some(true);
    let importer = Importer::new(player, &[], &mut decide);
    let mut keep = |games: Vec<KeptGame>| {
        kept.extend(games);
        Ok::<(), std::io::Error>(())
    };
    let (added, _) = importer.read(bytes, &mut keep, &mut |_| {}).unwrap();
    (kept.iter().filter_map(OwnGame::read).collect(), added.games)
}

#[test]
fn the_sample_game_of_the_standard() {
    let (games, _) = games_of("Robert J. Fischer", SAMPLE.as_bytes());
    assert_eq!(games.len(), 1);
    assert_eq!((games[0].plies(), games[0].points()), (85, Some(0.5)));
    let end = games[0].line_to(85);
    assert_eq!(
        fen(end.position()),
        "8/8/4R1p1/2k3p1/1p4P1/1P1b1P2/3K1n2/8 b - - 2 43"
    );
}

/// What python-chess finds in a file; `None` where it is not installed.
fn read_by_python(bytes: &[u8]) -> Option<serde_json::Value> {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(bytes).unwrap();
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/python/read_pgn.py");
    let run = Command::new("python3")
        .args([script, "--phantoms"])
        .arg(file.path())
        .output();
    let run = match run {
        Ok(run) if run.status.code() != Some(2) => run,
        _ => {
            left_out("python3 with the package 'chess' is not there");
            return None;
        }
    };
    let errors = String::from_utf8_lossy(&run.stderr);
    assert!(!run.stdout.is_empty(), "{errors}");
    let report: serde_json::Value = serde_json::from_slice(&run.stdout).unwrap();
    Some(report["files"][0]["games"].clone())
}

pub(super) fn compare(bytes: &[u8]) {
    let Some(theirs) = read_by_python(bytes) else {
        return;
    };
    let (ours, count) = games_of("Ansa Verrick", bytes);
    let theirs = theirs.as_array().unwrap();
    assert_eq!((ours.len(), count), (theirs.len(), theirs.len()));
    for (own, their) in ours.iter().zip(theirs) {
        let moves = &own.game.moves;
        let clocks = moves.iter().filter(|m| m.clock_ms.is_some());
        let elapsed = moves.iter().filter(|m| m.elapsed_ms.is_some());
        let first = own.line_to(own.plies());
        assert_eq!(own.plies(), their["mainline"], "{}", own.heading());
        assert_eq!(fen(first.position()), their["end"]);
        assert_eq!(moves.len(), their["moves"], "{}", own.heading());
        assert_eq!(clocks.count(), their["clocks"]);
        assert_eq!(elapsed.count(), their["elapsed"]);
    }
}

#[test]
fn an_independent_reader_finds_the_same_season() {
    compare(&std::fs::read(SEASON).unwrap());
}

/// Games with everything that the import format allows: comments over lines and to the end of the line,
/// escapes, glyphs, variations in variations, move numbers as one likes, no result, clocks.
#[test]
fn an_independent_reader_finds_the_same_in_generated_files() {
    let openings = [
        "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. O-O",
        "1.d4 d5 2.c4 e6 3.Nc3 Nf6 4.Bg5 Be7",
        "1. e4 c5 2. Nf3 d6 3. d4 cxd4 4. Nxd4 Nf6 5. Nc3 a6",
        "1. f3 e5 2. g4 Qh4#",
        "e4 e6 d4 d5 exd5 exd5 Nf3",
    ];
    let dresses: [fn(&str, usize) -> String; 5] = [
        |mv, i| format!("{mv} {{[%clk 1:{:02}:30] a ( ; word}}", 59 - i),
        |mv, _| format!("{mv} $1 $14"),
        |mv, _| format!("{mv}\n% an escaped line ( {{\n"),
        |mv, _| format!("{mv} ; to the end {{ of the line\n"),
        |mv, _| mv.to_owned(),
    ];
    let mut text = String::from("\u{FEFF}");
    for round in 0..40usize {
        let moves: Vec<String> = openings[round % openings.len()]
            .split(' ')
            .enumerate()
            .map(|(i, mv)| match mv.ends_with('.') {
                true => mv.to_owned(),
                false => dresses[(i * 7 + round) % dresses.len()](mv, i),
            })
            .collect();
        let result = ["1-0", "0-1", "1/2-1/2", "*"][round % 4];
        let line = ["\n", "\r\n"][round % 2];
        text += &format!(
            "[Event \"Round [{round}] {{\"]{line}[White \"Verrick, Ansa\"]{line}[Black \"Player {round}\"]{line}[Result \"{result}\"]{line}{line}{} {result}{line}{line}",
            moves.join(" ")
        );
    }
    compare(text.as_bytes());
}

/// Old games with the move that is published as their turning point: players, year, the one who erred, his move,
/// nodes for each position (fewer than the default where they do), and all moves. All from memory.
const TURNING_POINTS: [(&str, &str, &str, &str, &str, &str, &str); 4] = [
    // R. Réti, Masters of the Chessboard (1930): the king is drawn to the double check.
    (
        "Reti, Richard",
        "Tartakower, Savielly",
        "1910",
        "Tartakower, Savielly",
        "8...Nxe4",
        "2000",
        "1. e4 c6 2. d4 d5 3. Nc3 dxe4 4. Nxe4 Nf6 5. Qd3 e5 6. dxe5 Qa5+ 7. Bd2 Qxe5 8. O-O-O Nxe4 9. Qd8+ Kxd8 10. Bg5+ Kc7 11. Bd8# 1-0",
    ),
    // I. Chernev, The 1000 Best Short Games of Chess (1955): the pawn drives the knight where it wants to go.
    (
        "Gibaud, Amedee",
        "Lazard, Frederic",
        "1924",
        "Gibaud, Amedee",
        "4.h3",
        "2000",
        "1. d4 Nf6 2. Nd2 e5 3. dxe5 Ng4 4. h3 Ne3 0-1",
    ),
    // Ed. Lasker, Chess for Fun and Chess for Blood (1942): the queen is given up and the king walks to g1.
    (
        "Lasker, Edward",
        "Thomas, George",
        "1912",
        "Thomas, George",
        "10...Qe7",
        "2000",
        "1. d4 e6 2. Nf3 f5 3. Nc3 Nf6 4. Bg5 Be7 5. Bxf6 Bxf6 6. e4 fxe4 7. Nxe4 b6 8. Ne5 O-O 9. Bd3 Bb7 10. Qh5 Qe7 11. Qxh7+ Kxh7 12. Nxf6+ Kh6 13. Neg4+ Kg5 14. h4+ Kf4 15. g3+ Kf3 16. Be2+ Kg2 17. Rh2+ Kg1 18. Kd2# 1-0",
    ),
    // J. R. Capablanca, My Chess Career (1920): the pawn may not be taken, the queen comes to b2.
    (
        "Bernstein, Ossip",
        "Capablanca, Jose Raul",
        "1914",
        "Bernstein, Ossip",
        "27.Nxc3",
        "20000",
        "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Nf3 Be7 5. Bg5 O-O 6. e3 Nbd7 7. Rc1 b6 8. cxd5 exd5 9. Qa4 Bb7 10. Ba6 Bxa6 11. Qxa6 c5 12. Bxf6 Nxf6 13. dxc5 bxc5 14. O-O Qb6 15. Qe2 c4 16. Rfd1 Rfd8 17. Nd4 Bb4 18. b3 Rac8 19. bxc4 dxc4 20. Rc2 Bxc3 21. Rxc3 Nd5 22. Rc2 c3 23. Rdc1 Rc5 24. Nb3 Rc6 25. Nd4 Rc7 26. Nb5 Rc5 27. Nxc3 Nxc3 28. Rxc3 Rxc3 29. Rxc3 Qb2 0-1",
    ),
];

#[test]
fn published_turning_points_are_among_the_chosen_moments() {
    for (white, black, year, player, turn, nodes, moves) in TURNING_POINTS {
        let program = crate::support::Program::new();
        let text = format!(
            "[Date \"{year}.??.??\"]\n[White \"{white}\"]\n[Black \"{black}\"]\n\n{moves}\n"
        );
        let file = program.file("old.pgn", &text);
        let added = program.run(&["games", "add", &file, "--player", player]);
        assert_eq!(added.code, 0, "{}", added.err);
        let args = ["games", "moments", "--nodes", nodes, "--format", "json"];
        let ran = program.run(&args);
        let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
        let found = json["moments"].as_array().unwrap().iter().any(|m| {
            let place = [&m["number"], &m["played"]].map(|v| v.as_str().unwrap_or_default());
            place.concat() == turn && m["reasons"][0] != "control"
        });
        assert!(found, "{white} - {black}: {}", ran.out);
    }
}
