//! Endings whose result is a published fact, as worked numbers of a review: what a line that ends there is worth,
//! that a verdict which says otherwise is told, and that the right one is left in peace.
//!
//! Endings of three men are answered by the tables of `tests/data/syzygy`, the others by the embedded engine;
//! their results are held against the tables of `tests/data/syzygy-results` where those know them. That king,
//! bishop and knight need 33 moves at most is worked out in `engine/bishop_knight.rs`.

use std::path::Path;

use crate::ladder::table_judge;
use foreply::board::Line;
use foreply::board::line::read_fen;
use foreply::judge::Tables;
use foreply::review::{FindingKind, Review, ReviewInput, Settings, review};
use foreply::tree::{Author, NodeId, Tree, Verdict};
use shakmaty::{CastlingMode, Chess, Color, FromSetup, Piece, Position, Role, Setup, Square};
use shakmaty_syzygy::{Tablebase, Wdl};

/// A line from a position, and what its end is worth to the player.
struct Row {
    fen: &'static str,
    line: &'static str,
    wrong: &'static str,
    right: &'static str,
    /// Expected score, from and to.
    worth: (f64, f64),
}

const WON: (f64, f64) = (0.9, 1.0);
/// By a table.
const LEVEL: (f64, f64) = (0.5, 0.5);
/// By an engine: the bounds of the verdict.
const ABOUT_LEVEL: (f64, f64) = (0.45, 0.55);

const ROWS: [Row; 5] = [
    // King and rook against king: won (tables of three men).
    Row {
        fen: "8/8/8/4k3/8/8/8/R3K3 w - - 0 1",
        line: "Ke2 Ke4 Ra4+ Kd5",
        wrong: "50%",
        right: "99%",
        worth: WON,
    },
    // A rook's pawn whose king is not on the corner in time: a draw (tables of three men).
    Row {
        fen: "1k6/8/K7/P7/8/8/8/8 w - - 0 1",
        line: "Kb6 Ka8 a6 Kb8 a7+ Ka8",
        wrong: "99%",
        right: "50%",
        worth: LEVEL,
    },
    // Queen against rook, A. D. Philidor, Analyse du jeu des echecs, 2nd edition, 1777 (from memory): the side
    // with the rook must move it away from its king, and loses it.
    Row {
        fen: "1k6/1r6/2K5/Q7/8/8/8/8 w - - 0 1",
        line: "Qe5+ Ka7 Qa1+ Kb8 Qa5 Rb1",
        wrong: "50%",
        right: "99%",
        worth: WON,
    },
    // King, bishop and knight against king: won, in 33 moves at most.
    Row {
        fen: "8/8/8/4k3/8/8/8/2B1K1N1 w - - 0 1",
        line: "Ke2 Ke4 Nf3 Kd5",
        wrong: "50%",
        right: "99%",
        worth: WON,
    },
    // A rook's pawn with the bishop that does not command its corner: a draw (textbooks; from memory).
    Row {
        fen: "6k1/8/7P/6K1/4B3/8/8/8 w - - 0 1",
        line: "Kg6 Kh8 Bd3 Kg8 Bc4+ Kh8",
        wrong: "99%",
        right: "50%",
        worth: ABOUT_LEVEL,
    },
];

fn written(row: &Row, verdict: &str) -> Tree {
    let mut tree = Tree::new(Line::new(read_fen(row.fen).unwrap()));
    let mut at = NodeId::ROOT;
    for text in row.line.split(' ') {
        at = tree.add(at, text, Author::Player, 0).unwrap();
        assert!(tree.legal(at).is_some(), "{}: {text}", row.fen);
    }
    let verdict = Verdict::parse(verdict).unwrap();
    tree.set_verdict(at, Some(verdict)).unwrap();
    tree
}

#[test]
fn the_worth_of_textbook_endings() {
    let judge = table_judge::judge();
    let settings = Settings {
        nodes: 10_000,
        ..Settings::default()
    };
    let reviewed = |row: &Row, verdict| -> Review {
        let tree = written(row, verdict);
        let written = ReviewInput {
            tree: &tree,
            choice: tree.children(NodeId::ROOT).first().copied(),
            attempt: None,
            ply_in_game: None,
        };
        review(&written, &judge, &settings, &mut |_, _| {}).unwrap()
    };
    for row in &ROWS {
        let told = reviewed(row, row.wrong);
        let worth = told.expected.choice.unwrap().value();
        let (from, to) = row.worth;
        assert!((from..=to).contains(&worth), "{}: {worth}", row.line);
        let end: Vec<&str> = row.line.split(' ').collect();
        let misjudged = told.counted().any(|f| {
            matches!(
                f.kind,
                FindingKind::Misjudged | FindingKind::SeenMisjudged | FindingKind::StoppedShort
            ) && f.paths.first().is_some_and(|p| *p == end)
        });
        assert!(misjudged, "{}: {:#?}", row.line, told.findings);
        let right = reviewed(row, row.right);
        assert!(right.is_clean(), "{}: {:#?}", row.line, right.findings);
    }
}

/// The results that the rows rest on, by tables, where there are some for their men.
#[test]
fn the_tables_say_the_same() {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let mut base = Tablebase::<Chess>::new();
    for folder in ["syzygy", "syzygy-results"] {
        base.add_directory(data.join(folder)).unwrap();
    }
    let known = ROWS.iter().filter_map(|row| {
        let chess = read_fen(row.fen).unwrap();
        let wdl = base.probe_wdl_after_zeroing(&chess).ok()?;
        Some((row, wdl))
    });
    let mut all = 0;
    for (row, wdl) in known {
        let won = row.worth == WON;
        assert_eq!(wdl, if won { Wdl::Win } else { Wdl::Draw }, "{}", row.fen);
        all += 1;
    }
    assert_eq!(all, 4, "only the bishop and rook's pawn have no table here");
}

/// No mate with a rook takes longer than 16 moves (complete tables, from memory).
#[test]
fn a_rook_mates_in_sixteen_moves_at_most() {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/syzygy");
    let (tables, trouble) = Tables::open(&dir);
    assert!(trouble.is_empty(), "{trouble:?}");
    let longest = rook_endings().filter_map(|chess| tables.probe(&Line::new(chess)));
    let longest = longest.map(|result| result.dtz).max().unwrap();
    assert_eq!((longest + 1) / 2, 16, "{longest} half-moves");
}

/// Every position of king and rook against king with the rook's side to move, but for turned boards: the lone
/// king stands in one eighth.
fn rook_endings() -> impl Iterator<Item = Chess> {
    let lone = Square::ALL
        .into_iter()
        .filter(|s| s.file() as u32 <= 3 && s.rank() as u32 <= s.file() as u32);
    let pairs = lone.flat_map(|l| Square::ALL.into_iter().map(move |k| (l, k)));
    let all = pairs.flat_map(|(l, k)| Square::ALL.into_iter().map(move |r| [l, k, r]));
    all.filter_map(|[lone, king, rook]| {
        let mut setup = Setup::empty();
        let men = [
            (lone, Color::Black, Role::King),
            (king, Color::White, Role::King),
            (rook, Color::White, Role::Rook),
        ];
        for (square, color, role) in men {
            setup.board.set_piece_at(square, Piece { color, role });
        }
        let whole = setup.board.occupied().count() == 3;
        let chess = Chess::from_setup(setup, CastlingMode::Standard).ok()?;
        (whole && !chess.is_game_over()).then_some(chess)
    })
}
