use super::*;
use crate::board::{Rule, line};
use crate::judge::FixedJudge;
use shakmaty::{CastlingMode, Color, Piece, Role, Setup, Square};
use std::fs;

/// The tables of three men that stand with the tests.
fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/syzygy")
}

fn three_men() -> Tables {
    let (tables, notices) = Tables::open(&folder());
    assert_eq!((tables.men(), notices), (3, Vec::new()));
    tables
}

fn question(fen: &str, moves: &str, lines: usize) -> Question {
    let mut line = Line::new(line::read_fen(fen).unwrap());
    for word in moves.split_whitespace() {
        let san: shakmaty::san::SanPlus = word.parse().unwrap();
        let mv = san.san.to_move(line.position()).unwrap();
        line.push(&mv).unwrap();
    }
    Question {
        line,
        lines,
        nodes: 1,
    }
}

fn class(tables: &Tables, fen: &str) -> Class {
    let line = Line::new(line::read_fen(fen).unwrap());
    tables.probe(&line).unwrap().class
}

/// The longest way to the next capture or mate for White to move, who has the given pieces, Black
/// having at most one: over every position, or every `step`th.
fn longest(tables: &Tables, white: &[Role], black: Option<Role>, step: usize) -> i32 {
    // The eighth of the board that turning and mirroring leave, for the black king.
    let corner = ["a1", "b1", "c1", "d1", "b2", "c2", "d2", "c3", "d3", "d4"];
    let mut men: Vec<Piece> = vec![Color::White.king()];
    men.extend(white.iter().map(|role| role.of(Color::White)));
    men.extend(black.map(|role| role.of(Color::Black)));
    let (mut most, mut count) = (0, 0);
    for king in corner {
        let mut setup = Setup::empty();
        let king: Square = king.parse().unwrap();
        setup.board.set_piece_at(king, Color::Black.king());
        place(&setup, &men, &mut |pos| {
            count += 1;
            if count % step == 0 {
                let there = tables.probe(&Line::new(pos)).unwrap();
                most = most.max(there.dtz);
            }
        });
    }
    most
}

/// Every legal position that has the men of `setup` and `men` besides, on squares that are free.
fn place(setup: &Setup, men: &[Piece], found: &mut impl FnMut(Chess)) {
    let Some((first, rest)) = men.split_first() else {
        if let Ok(pos) = setup.clone().position::<Chess>(CastlingMode::Standard) {
            found(pos);
        }
        return;
    };
    for square in !setup.board.occupied() {
        let mut more = setup.clone();
        more.board.set_piece_at(square, *first);
        place(&more, rest, found);
    }
}

/// Mate in 10 moves at most with the queen, in 16 with the rook: facts of every endgame textbook (from
/// memory). Half-moves: 2 n - 1. No capture or pawn move comes before, so it is what the tables hold.
#[test]
fn queen_and_rook_mate_in_ten_and_sixteen() {
    let tables = three_men();
    assert_eq!(longest(&tables, &[Role::Queen], None, 1), 19);
    assert_eq!(longest(&tables, &[Role::Rook], None, 1), 31);
}

/// King and pawn, as in every textbook (from memory): the opposition decides, and the rook's pawn does
/// not win against the king in its corner.
#[test]
fn the_opposition_decides() {
    let tables = three_men();
    let ahead = "8/8/4k3/8/4K3/4P3/8/8";
    assert_eq!(class(&tables, &format!("{ahead} w - - 0 1")), Class::Draw);
    assert_eq!(class(&tables, &format!("{ahead} b - - 0 1")), Class::Loss);
    assert_eq!(class(&tables, "k7/8/K7/P7/8/8/8/8 w - - 0 1"), Class::Draw);
    // A pawn beside its king that has not come in front of it.
    assert_eq!(
        class(&tables, "8/8/8/4k3/4P3/4K3/8/8 b - - 0 1"),
        Class::Draw
    );
}

/// FIDE Laws, article 9.3: what takes more moves than are left to fifty is no win.
#[test]
fn the_fifty_moves_already_made_count() {
    let tables = three_men();
    let far = "8/8/8/3k4/8/8/8/R3K3 w - -";
    assert_eq!(class(&tables, &format!("{far} 0 1")), Class::Win);
    assert_eq!(
        class(&tables, &format!("{far} 90 100")),
        Class::SpoiltByRule
    );
    let answer = tables.answer(&question(&format!("{far} 90 100"), "", 1));
    assert_eq!(answer.unwrap().expected, MoverScore::LEVEL);
}

#[test]
fn the_answer_is_the_result_the_distance_and_a_line_to_mate() {
    let tables = three_men();
    let near = question("7k/8/5K2/8/8/8/8/6R1 w - - 0 1", "", 2);
    let answer = tables.answer(&near).unwrap();
    assert_eq!(answer.expected, MoverScore::WON);
    let Basis::Table { dtz } = answer.basis else {
        panic!("{:?}", answer.basis)
    };
    assert_eq!(answer.moves.len(), 2);
    let pv = &answer.moves[0].pv;
    assert_eq!(i32::try_from(pv.len()).unwrap(), dtz);
    let mut end = near.line.clone();
    pv.iter().for_each(|mv| end.push(mv).unwrap());
    assert_eq!(end.rule(), Some(Rule::Checkmate));
    // One move: 1. Qg7 mate.
    let mate = tables.answer(&question("7k/8/5K2/8/8/8/8/6Q1 w - - 0 1", "", 1));
    assert_eq!(mate.unwrap().moves[0].mate, Some(1));
}

#[test]
fn only_moves_that_keep_the_result_lead() {
    let tables = three_men();
    // The king goes in front of its pawn.
    let question = question("4k3/8/4K3/4P3/8/8/8/8 w - - 0 1", "", 9);
    let answer = tables.answer(&question).unwrap();
    let told: Vec<String> = answer
        .moves
        .iter()
        .map(|m| {
            format!(
                "{} {}",
                line::san(question.line.position(), &m.mv),
                m.expected
            )
        })
        .collect();
    insta::assert_snapshot!(told.join(", "), @"Kd6 1, Kf6 1, Kd5 .50, Kf5 .50");
}

#[test]
fn the_laws_come_before_the_tables() {
    let tables = three_men();
    let stalemate = tables.answer(&question("k7/8/1Q6/8/8/8/8/K7 b - - 0 1", "", 1));
    assert_eq!(stalemate.unwrap().basis, Basis::Rule(Rule::Stalemate));
    // Lost, but the position stands for the third time: the side to move claims (article 9.2).
    let fen = "6k1/8/8/8/8/8/R7/1K6 w - - 0 1";
    let shuffle = "Kc2 Kg7 Kb1 Kg8 Kc2 Kg7 Kb1 Kg8".to_owned();
    let won = tables.answer(&question(fen, &shuffle, 99)).unwrap();
    assert_eq!(won.expected, MoverScore::WON);
    // The move that lets the other side claim is a draw.
    let allows = won
        .moves
        .iter()
        .find(|m| m.mv.to() == Square::C2 && m.mv.role() == Role::King);
    assert_eq!(allows.unwrap().expected, MoverScore::LEVEL);
    let lost = tables
        .answer(&question(fen, &(shuffle + " Kc2"), 1))
        .unwrap();
    assert_eq!(lost.basis, Basis::Rule(Rule::Threefold));
    assert_eq!(lost.expected, MoverScore::LEVEL);
}

#[test]
fn what_the_tables_do_not_know_goes_to_the_judge_behind() {
    let inner = FixedJudge::new(|_: &Line| vec![("e4".to_owned(), 0.7)]);
    let judge = TableJudge::new(three_men(), inner);
    let four = question("4k3/4p3/8/8/8/8/4P3/4K3 w - - 0 1", "", 1);
    let three = question("4k3/8/8/8/8/8/Q7/4K3 w - - 0 1", "", 1);
    let castling = question("4k3/8/8/8/8/8/8/4K2R w K - 0 1", "", 1);
    let answers = judge.answer(&[four.clone(), three, four]).unwrap();
    let told: Vec<f64> = answers.iter().map(|a| a.expected.value()).collect();
    assert_eq!(told, [0.7, 1.0, 0.7]);
    assert_eq!(judge.tables().answer(&castling), None);
    insta::assert_snapshot!(judge.name(), @"a table of known positions and Syzygy tables to 3 men");
    insta::assert_snapshot!(judge.identity(), @"a table of known positions | tables KBvK KNvK KPvK KQvK KRvK");
}

/// A folder with the given files, opened; the notices without the folder's name.
fn opened(files: &[(&str, &[u8])]) -> (Tables, String) {
    let home = tempfile::tempdir().unwrap();
    for (name, bytes) in files {
        fs::write(home.path().join(name), bytes).unwrap();
    }
    let (tables, notices) = Tables::open(home.path());
    let shown = notices
        .join("\n")
        .replace(&home.path().display().to_string(), "DIR");
    (tables, shown)
}

#[test]
fn damaged_and_missing_files_are_named_and_left_out() {
    let whole = |name: &str| fs::read(folder().join(name)).unwrap();
    let (wdl, dtz) = (whole("KQvK.rtbw"), whole("KQvK.rtbz"));
    let told = |files: &[(&str, &[u8])]| {
        let (tables, notices) = opened(files);
        assert_eq!(tables.men(), 0);
        notices
    };
    insta::assert_snapshot!(told(&[("notes.txt", b"x")]), @"there are no usable tables in DIR");
    insta::assert_snapshot!(told(&[("KQvK.rtbw", b"garbage"), ("KQvK.rtbz", &dtz)]), @r"
    the table KQvK is left out: KQvK.rtbw is cut short or damaged (7 bytes)
    there are no usable tables in DIR
    ");
    insta::assert_snapshot!(told(&[("KQvK.rtbw", &wdl), ("KQvK.rtbz", &dtz[..1000])]), @r"
    the table KQvK is left out: KQvK.rtbz is cut short or damaged (1000 bytes)
    there are no usable tables in DIR
    ");
    insta::assert_snapshot!(told(&[("KQvK.rtbw", &wdl)]), @r"
    the table KQvK is left out: KQvK.rtbz is missing
    there are no usable tables in DIR
    ");
    insta::assert_snapshot!(told(&[("KQvK.rtbw", &dtz), ("KQvK.rtbz", &wdl)]), @r"
    the table KQvK is left out: KQvK.rtbw is no Syzygy table
    there are no usable tables in DIR
    ");
    insta::assert_snapshot!(told(&[("KXvK.rtbw", &wdl), ("KXvK.rtbz", &dtz)]), @r"
    the table KXvK is left out: no table has that name
    there are no usable tables in DIR
    ");
    let (_, notices) = Tables::open(Path::new("no/such/folder"));
    insta::assert_snapshot!(notices.join("\n"), @"the tables' folder no/such/folder cannot be read: No such file or directory (os error 2); no tables are used");
}

#[test]
fn a_table_that_is_needed_and_missing_is_named_once() {
    let home = tempfile::tempdir().unwrap();
    for name in ["KPvK.rtbw", "KPvK.rtbz"] {
        fs::copy(folder().join(name), home.path().join(name)).unwrap();
    }
    let (tables, notices) = Tables::open(home.path());
    assert_eq!(notices, Vec::<String>::new());
    for _ in 0..2 {
        let promotes = question("8/4P1k1/8/8/8/8/8/4K3 w - - 0 1", "", 1);
        assert_eq!(tables.answer(&promotes), None);
    }
    insta::assert_snapshot!(tables.trouble().join("\n"), @"the table KQvK (wdl) is needed and not there; the engine is asked instead");
}

/// Bytes turned one by one, and tables cut at every length that a whole file could have: whatever comes
/// of it, the program goes on and answers something. (A wrong byte in the packed part can give a wrong
/// answer; the check sum at the file's end is not tested.)
#[test]
fn no_damage_ends_the_program() {
    let asked = Line::new(line::read_fen("8/8/8/3k4/8/8/8/R3K3 w - - 0 1").unwrap());
    let mut troubled = 0;
    for half in ["KRvK.rtbw", "KRvK.rtbz"] {
        let home = tempfile::tempdir().unwrap();
        for name in ["KRvK.rtbw", "KRvK.rtbz"] {
            fs::copy(folder().join(name), home.path().join(name)).unwrap();
        }
        let whole = fs::read(folder().join(half)).unwrap();
        let mut tries: Vec<Vec<u8>> = (4..whole.len().min(200))
            .flat_map(|at| [0x01, 0xff].map(|bits| (at, bits)))
            .map(|(at, bits)| {
                let mut bytes = whole.clone();
                bytes[at] ^= bits;
                bytes
            })
            .collect();
        tries.extend((80..whole.len()).step_by(640).map(|n| whole[..n].to_vec()));
        for bytes in tries {
            fs::write(home.path().join(half), bytes).unwrap();
            let (tables, _) = Tables::open(home.path());
            let known = tables.probe(&asked).is_some();
            troubled += usize::from(!known);
        }
    }
    assert!(troubled > 100, "{troubled}");
}

/// Textbook facts of four men, for whoever has the tables: FOREPLY_TABLES=DIR. The rook is won, or mate
/// given, in 31 moves at most with the queen against it (half-moves: 61); bishop and knight mate in 33
/// at most (65); F. Saavedra's study of 1895 is won with White to move (all from memory). Every 31st
/// position is asked, so the greatest found may lie a little below the greatest there is, never above.
#[test]
#[ignore = "needs four-men tables: FOREPLY_TABLES=DIR"]
fn facts_of_four_men() {
    let dir = std::env::var_os("FOREPLY_TABLES").expect("FOREPLY_TABLES names a folder");
    let (tables, _) = Tables::open(Path::new(&dir));
    assert_eq!(
        class(&tables, "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1"),
        Class::Win
    );
    let queen = longest(&tables, &[Role::Queen], Some(Role::Rook), 31);
    assert!((57..=61).contains(&queen), "{queen}");
    let knight = longest(&tables, &[Role::Bishop, Role::Knight], None, 31);
    assert!((61..=65).contains(&knight), "{knight}");
    eprintln!("{queen} and {knight} half-moves at most");
    assert_eq!(tables.trouble(), Vec::<String>::new());
}
