//! `foreply games openings` and `plan`: a season by its first moves, and what the player means to do.

use crate::support::Program;

use super::SEASON;

/// A game with the tags that matter here. White gives the queen away at move 13.
fn game(white: &str, black: &str, date: &str, eco: &str, moves: &str, result: &str) -> String {
    format!(
        "[Event \"Harrowmere Chess League\"]\n[Date \"{date}\"]\n[White \"{white}\"]\n[Black \"{black}\"]\n[Result \"{result}\"]\n[ECO \"{eco}\"]\n[TimeControl \"3600\"]\n\n{moves} {result}\n\n"
    )
}

const ITALIAN: &str = "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. c3 Nf6 5. d3 d6 6. O-O O-O 7. Re1 a6 8. Bb3 Ba7 9. h3 h6 10. Nbd2 Re8 11. Nf1 Be6 12. Bc2 d5";

fn season() -> String {
    let (ansa, doran) = ("Verrick, Ansa", "Pell, Doran");
    let long = format!("{ITALIAN} 13. exd5 Qxd5 14. Qe2 Rad8");
    game(ansa, doran, "2026.01.10", "C54", &long, "1-0")
        + &game(
            ansa,
            doran,
            "2026.01.17",
            "C54",
            &format!("{ITALIAN} 13. Ng3 dxe4"),
            "1/2-1/2",
        )
        + &game(
            ansa,
            doran,
            "2026.01.24",
            "C42",
            "1. e4 e5 2. Nf3 Nf6 3. Nxe5 d6",
            "0-1",
        )
        + &game(doran, ansa, "2026.01.31", "A00", "1. g3 e5", "1-0")
}

fn added(program: &Program) -> String {
    let file = program.file("season.pgn", &season());
    let added = program.run(&["games", "add", &file, "--player", "Ansa Verrick"]);
    assert_eq!(added.code, 0, "{}", added.err);
    file
}

#[test]
fn openings_branch_where_the_games_do() {
    let program = Program::new();
    added(&program);
    let page = program.run(&["games", "openings"]);
    assert_eq!(page.code, 0, "{}", page.err);
    insta::assert_snapshot!(page.out.trim_end(), @"
    With White: 3 games
                  stood at     time used to
        games points  12   20      12      20
      1     3    1.5    -    -       -       -  1.e4 e5 2.Nf3
      2     2    1.5    -    -       -       -    2...Nc6 3.Bc4 Bc5 4.c3 Nf6 5.d3
                                                  d6 6.O-O O-O 7.Re1 a6 8.Bb3 Ba7
                                                  9.h3 h6 10.Nbd2 Re8 11.Nf1 Be6
                                                  12.Bc2 d5 (C54)
            1                                   others

    With Black: 1 game
                  stood at     time used to
        games points  12   20      12      20
      3     1      0    -    -       -       -  1.g3 e5 (A00)

    None of the games is judged yet, so nothing is said of where you stood;
    `foreply games moments` judges them. No clock times in them. Points are of the
    games with a result.
    ");
    let wrong = program.run(&[
        "games", "openings", "--branch", "99", "-o", "x.yaml", "--nodes", "100",
    ]);
    assert_eq!(wrong.code, 1);
    insta::assert_snapshot!(wrong.err.lines().last().unwrap_or_default(), @"foreply: there is no branch 99; `foreply games openings` numbers them from 1 to 3");
}

/// Judged games say where he stood; the positions become drills under the same names in every run.
#[test]
fn positions_after_the_opening_become_drills() {
    let program = Program::new();
    added(&program);
    let own = program.out("own.yaml");
    let own = own.to_str().unwrap();
    let args = [
        "games", "openings", "--nodes", "300", "--branch", "2", "-o", own,
    ];
    let first = program.run(&args);
    assert_eq!(first.code, 0, "{}", first.err);
    let yaml = std::fs::read_to_string(own).unwrap();
    let drills = foreply::drill::load(&yaml, "own.yaml").unwrap();
    let names: Vec<&str> = drills.iter().map(|d| d.title.as_str()).collect();
    assert_eq!(
        names,
        [
            "Own game of 2026.01.10, move 13",
            "Own game of 2026.01.17, move 13"
        ]
    );
    assert!(yaml.contains("after-the-opening"), "{yaml}");
    assert_eq!(program.run(&args).code, 0);
    assert_eq!(std::fs::read_to_string(own).unwrap(), yaml);
    let json = program.run(&["games", "openings", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(
        (json["format"].as_str(), json["judged"].as_u64()),
        (Some("foreply-openings"), Some(4))
    );
    let marks = &json["sides"][0]["all"]["marks"];
    assert_eq!(
        (marks[0]["games"].as_u64(), marks[0]["judged"].as_u64()),
        (Some(2), Some(2))
    );
    assert_eq!(marks[1]["games"], 0);
    let expected = marks[0]["expected"].as_f64().unwrap();
    assert!((0.2..0.8).contains(&expected), "{expected}");
}

#[test]
fn a_plan_is_kept_in_his_words_with_the_coachs_beside_them() {
    let program = Program::new();
    let added = program.run(&["games", "add", SEASON, "--player", "Ansa Verrick"]);
    assert_eq!(added.code, 0, "{}", added.err);
    let list = program.run(&["games", "plan"]);
    assert_eq!(list.code, 0, "{}", list.err);
    insta::assert_snapshot!(list.out.trim_end(), @"
      1  White c3 d4, Black c4 d5 e6; you have Black (b-c3d4-c4d5e6): 2 games; no
         plan yet.
      2  White c4 d4 e3, Black c7 d5 e6; you have Black (b-c4d4e3-c7d5e6): 2
         games; no plan yet.
      3  White c4 d5 e4, Black c6 d6 e5; you have White (w-c4d5e4-c6d6e5): 2
         games; no plan yet.

    `foreply games plan NUMBER` shows one; with --break, --good, --bad, --trade
    and --other you write on its card.
    ");
    let write = |args: &[&str]| {
        let ran = program.run(&[&["games", "plan", "1"], args].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out
    };
    write(&[
        "--break",
        "b4-b5",
        "--good",
        "the knight on e5",
        "--other",
        "an attack on the king",
    ]);
    write(&[
        "--coach",
        "First the rook to b1.",
        "--by",
        "Bram Oskarn",
        "--tried",
        "2",
    ]);
    insta::assert_snapshot!(write(&["--bad", "the bishop on c1", "--good", ""]).trim_end(), @"
    White c3 d4, Black c4 d5 e6; you have Black (b-c3d4-c4d5e6)

    1 . K N R Q B . R
    2 . P P . . . P P
    3 P . N . . P . .
    4 . . . . P p . .
    5 . . . . p . . .
    6 . . n p . . . .
    7 p p p b n q p p
    8 . k r . . . . r
      h g f e d c b a

               the break  b4-b5
              good piece  -
               bad piece  the bishop on c1
      the trade you want  -
    the other side wants  an attack on the king
                   coach  Bram Oskarn: First the rook to b1.

      1  Fennick, Joram - Verrick, Ansa, Harrowmere Chess League, 2025.11.01: won
      2  Marrowby, Ilse - Verrick, Ansa, Harrowmere Chess League, 2026.02.07: won,
         tried
    ");
    let refused =
        |args: &[&str]| program.plain(&program.run(&[&["games", "plan"], args].concat()).err);
    insta::assert_snapshot!(refused(&["99"]), @"foreply: there is no structure '99' here: `foreply games plan` lists them with numbers and keys; --least 1 lists those of one game too");
    insta::assert_snapshot!(refused(&["w-0-0"]), @"foreply: there is no structure 'w-0-0' here: it stood in none of your games long enough");
    insta::assert_snapshot!(refused(&["1", "--tried", "9"]), @"foreply: there is no game '9' with this structure; its games are numbered 1 to 2 on the card");
    insta::assert_snapshot!(refused(&["1", "--break", &"x".repeat(2001)]), @"foreply: a text on a plan card has at most 2000 characters; this one has 2001; the card is as it was");
    let json = program.run(&["games", "plan", "1", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json["structures"][0]["card"]["pawn_break"], "b4-b5");
}

/// Three structures that the literature names by their centre pawns (H. Kmoch, Pawn Power in Chess, 1959, and
/// A. Soltis, Pawn Structure Chess, 1976, from memory), reached by usual moves.
#[test]
fn structures_of_the_literature() {
    use foreply::board::line::read_fen;
    use foreply::games::structure::{is_key, key, words};
    use shakmaty::Color;
    let cases = [
        // Queen's gambit declined, exchange variation.
        (
            "r1bq1rk1/pp1nbppp/2p2n2/3p2B1/3P4/2NBPN2/PPQ2PPP/R3K2R w KQ - 0 10",
            "d4e3-c6d5",
        ),
        // French defence, advance variation.
        (
            "rnbqkbnr/pp3ppp/4p3/2ppP3/3P4/2P5/PP3PPP/RNBQKBNR b KQkq - 0 4",
            "c3d4e5-c5d5e6",
        ),
        // An isolated queen's pawn, and nothing of White's on the three files.
        (
            "r1bq1rk1/pp3ppp/2n2n2/3p4/8/2N2N2/PP3PPP/R1BQ1RK1 w - - 0 12",
            "0-d5",
        ),
    ];
    for (fen, pawns) in cases {
        let pos = read_fen(fen).unwrap();
        for (side, letter) in [(Color::White, 'w'), (Color::Black, 'b')] {
            let key = key(&pos, side);
            assert_eq!(key, format!("{letter}-{pawns}"));
            assert!(is_key(&key));
        }
    }
    assert_eq!(words("b-0-d5"), "White none, Black d5; you have Black");
    for no_key in [
        "", "w", "w-d4", "x-d4-d5", "w-d9-d5", "w-d4-d5-", "w-é-d5", "w-d-d5",
    ] {
        assert!(!is_key(no_key), "{no_key}");
    }
}
