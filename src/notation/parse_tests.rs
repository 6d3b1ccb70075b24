use insta::assert_snapshot;
use proptest::prelude::*;

use crate::notation::{Claim, Shape, Token, parse};
use shakmaty::{CastlingSide, File, Rank, Role, Square};

/// A step in one line: role, from, `x`, to, promotion, claim.
fn told(text: &str) -> String {
    let token = match parse(text) {
        Ok(token) => token,
        Err(e) => return e.to_string(),
    };
    let claim = match token.claim {
        Claim::None => "",
        Claim::Check => " check",
        Claim::Mate => " mate",
    };
    match token.shape {
        Shape::Castle(CastlingSide::KingSide) => format!("short{claim}"),
        Shape::Castle(CastlingSide::QueenSide) => format!("long{claim}"),
        Shape::Pass => format!("pass{claim}"),
        Shape::Takes { from, to } => format!("Pawn {}x{}{claim}", from.char(), to.char()),
        Shape::Step {
            role,
            file,
            rank,
            capture,
            to,
            promotion,
        } => {
            let role = role.map_or("?".into(), |r| format!("{r:?}"));
            let from: String = file
                .map(File::char)
                .into_iter()
                .chain(rank.map(Rank::char))
                .collect();
            let sign = if capture { "x" } else { "-" };
            let promotion = promotion.map_or(String::new(), |p| format!("={p:?}"));
            format!("{role} {from}{sign}{to}{promotion}{claim}")
        }
    }
}

fn all(texts: &[&str], wanted: &str) {
    for text in texts {
        assert_eq!(told(text), wanted, "{text}");
    }
}

/// Common practice, no source: the two files alone.
#[test]
fn a_pawns_capture_by_its_files() {
    all(&["ed", "exd", "e:d", " ed", "12.ed", "ed e.p."], "Pawn exd");
    all(&["bc", "bxc"], "Pawn bxc");
    all(&["ed+"], "Pawn exd check");
    for text in ["ec", "e-d", "ee", "e", "be"] {
        assert!(parse(text).is_err(), "{text}");
    }
}

/// PGN standard 1994, 8.2.3.3 to 8.2.3.7 (from memory): basic form, captures, disambiguation by file,
/// rank and both, castling, promotion, check and mate signs.
#[test]
fn standard_algebraic_notation_is_read() {
    let table = [
        ("e4", "Pawn -e4"),
        ("Nf3", "Knight -f3"),
        ("Bxf7", "Bishop xf7"),
        ("exd5", "Pawn exd5"),
        ("Nbd2", "Knight b-d2"),
        ("R1e2", "Rook 1-e2"),
        ("Qh4e1", "Queen h4-e1"),
        ("Qh4xe1", "Queen h4xe1"),
        ("O-O", "short"),
        ("O-O-O", "long"),
        ("e8=Q", "Pawn -e8=Queen"),
        ("exd8=N", "Pawn exd8=Knight"),
        ("Qh5+", "Queen -h5 check"),
        ("Qxf7#", "Queen xf7 mate"),
        ("O-O-O+", "long check"),
        ("dxe1=R#", "Pawn dxe1=Rook mate"),
    ];
    for (text, wanted) in table {
        assert_eq!(told(text), wanted, "{text}");
    }
}

#[test]
fn blanks_and_a_move_number_may_stand_around() {
    all(
        &[
            " Nf3 ",
            "12.Nf3",
            "12. Nf3",
            "12...Nf3",
            "12… Nf3",
            "\tNf3\n",
        ],
        "Knight -f3",
    );
    all(&["1.O-O", "1.0-0"], "short");
}

#[test]
fn long_algebraic_is_read() {
    all(&["Ng1-f3", "Ng1f3"], "Knight g1-f3");
    all(&["Ng1xf3"], "Knight g1xf3");
    all(&["e2-e4", "e2e4", "e2–e4"], "? e2-e4");
    all(&["e4xd5", "e4:d5"], "? e4xd5");
}

/// Universal Chess Interface: 'e2e4, e7e5, e1g1 (white short castling), e7e8q (for promotion)'.
#[test]
fn uci_is_read() {
    all(&["e2e4"], "? e2-e4");
    all(&["e1g1"], "? e1-g1");
    all(&["e7e8q"], "? e7-e8=Queen");
    all(&["a2a1b"], "? a2-a1=Bishop");
}

/// FIDE Laws of Chess, Appendix C.13 (from memory), writes castling with digits, PGN with letters.
#[test]
fn castling_takes_letters_digits_and_typographic_dashes() {
    all(&["O-O", "o-o", "0-0", "0–0", "O-0", "0-0!", "0−0"], "short");
    all(&["O-O-O", "o-o-o", "0-0-0", "0—0—0"], "long");
    all(&["0-0+", "O-O+!?"], "short check");
}

#[test]
fn figurines_of_either_colour_are_read() {
    all(&["♘f3", "♞f3", "♘\u{FE0E}f3", "♞\u{FE0F}f3"], "Knight -f3");
    all(&["♔e2", "♚e2"], "King -e2");
    all(&["♕xd8", "♛xd8"], "Queen xd8");
    all(&["♖1e2", "♜1e2"], "Rook 1-e2");
    all(&["♗b5", "♝b5"], "Bishop -b5");
    all(&["♙e4", "♟e4", "♟\u{FE0E}e4", "Pe4", "pe4"], "Pawn -e4");
    all(&["e8♕", "e8=♛", "e8=♛\u{FE0F}"], "Pawn -e8=Queen");
}

#[test]
fn small_piece_letters_are_read_where_they_are_no_file() {
    all(&["nf3"], "Knight -f3");
    all(&["qxd5"], "Queen xd5");
    all(&["rae1"], "Rook a-e1");
    all(&["kf1"], "King -f1");
}

#[test]
fn a_small_b_is_a_pawn_where_a_pawn_can_be_meant() {
    all(&["b4"], "Pawn -b4");
    all(&["bxc3"], "Pawn bxc3");
    all(&["bc3"], "Pawn b-c3");
    all(&["ba5"], "Pawn b-a5");
    all(&["bxa8=Q", "bxa8q"], "Pawn bxa8=Queen");
    all(&["b2b4"], "? b2-b4");
    all(&["b1c3"], "? b1-c3");
    all(&["bd3"], "Bishop -d3");
    all(&["bxd5"], "Bishop xd5");
    all(&["bb5"], "Bishop -b5");
    all(&["bc1e3"], "Bishop c1-e3");
    all(&["bd2xf4"], "Bishop d2xf4");
}

#[test]
fn the_sign_for_a_capture_may_be_missing_or_another() {
    all(&["ed5"], "Pawn e-d5");
    all(&["Nxf3", "N:f3", "NXf3", "N×f3", "Nf3:"], "Knight xf3");
    all(&["exd5", "e:d5", "ed5:"], "Pawn exd5");
    all(&["Nf3", "N-f3"], "Knight -f3");
}

#[test]
fn signs_behind_the_move_are_read() {
    all(&["Qh5+", "Qh5++", "Qh5+!"], "Queen -h5 check");
    all(&["Qh5#", "Qh5+#"], "Queen -h5 mate");
    all(
        &["Qh5!", "Qh5??", "Qh5!?", "Qh5‼", "Qh5⁉", "Qh5!!!"],
        "Queen -h5",
    );
}

#[test]
fn taking_in_passing_may_be_said() {
    all(
        &[
            "exd6 e.p.",
            "exd6e.p.",
            "exd6ep",
            "exd6 ep",
            "exd6 (e.p.)",
            "exd6(ep)",
            "ed6 e.p.",
        ],
        "Pawn exd6",
    );
    all(&["exd6 e.p.+", "exd6+ e.p."], "Pawn exd6 check");
}

#[test]
fn a_promotion_may_be_written_in_every_usual_way() {
    all(
        &[
            "e8=Q", "e8Q", "e8(Q)", "e8/Q", "e8=q", "e8q", "e8(q)", "e8/q",
        ],
        "Pawn -e8=Queen",
    );
    all(&["e8=b", "e8b", "e8(b)"], "Pawn -e8=Bishop");
    all(&["exd8b"], "Pawn exd8=Bishop");
    all(&["e8=N+", "e8N+"], "Pawn -e8=Knight check");
    all(&["e7-e8=Q"], "? e7-e8=Queen");
}

#[test]
fn a_pass_is_read() {
    all(&["--", "Z0", "null"], "pass");
}

/// Every text of this parser, one by one.
#[test]
fn what_is_no_move_says_where_and_why() {
    assert_snapshot!(told(""), @"'' is not a move: nothing is written");
    assert_snapshot!(told("12."), @"'12.' is not a move: a move number stands alone");
    assert_snapshot!(told("Kz9"), @"'Kz9' is not a move: 'z' is no file; files are a to h");
    assert_snapshot!(told("xyzzy"), @"'xyzzy' is not a move: 'x' does not begin a move; a piece letter (K Q R B N), a square or O-O does");
    assert_snapshot!(told("e9"), @"'e9' is not a move: '9' is no rank; ranks are 1 to 8");
    assert_snapshot!(told("♞"), @"'♞' is not a move: the square to go to is missing");
    assert_snapshot!(told("N"), @"'N' is not a move: the square to go to is missing");
    assert_snapshot!(told("Nf"), @"'Nf' is not a move: the rank behind the file 'f' is missing");
    assert_snapshot!(told("ex"), @"'ex' is not a move: the square to go to is missing");
    assert_snapshot!(told("E4"), @"'E4' is not a move: squares are written with small letters: 'e', not 'E'");
    assert_snapshot!(told("0"), @"'0' is not a move: castling is written O-O or O-O-O");
    assert_snapshot!(told("O-"), @"'O-' is not a move: castling is written O-O or O-O-O");
    assert_snapshot!(told("O-O-O-O"), @"'O-O-O-O' is not a move: '-O' is left over behind the move");
    assert_snapshot!(told("Nf3 Nf6"), @"'Nf3 Nf6' is not a move: 'Nf6' is left over behind the move");
    assert_snapshot!(told("e8="), @"'e8=' is not a move: the piece to promote to is missing");
    assert_snapshot!(told("e8=K"), @"'e8=K' is not a move: a pawn is promoted to a queen, rook, bishop or knight");
    assert_snapshot!(told("Nf8=Q"), @"'Nf8=Q' is not a move: only a pawn is promoted");
    assert_snapshot!(told("Nxd6 e.p."), @"'Nxd6 e.p.' is not a move: only a pawn takes in passing");
    assert_snapshot!(told("1-0"), @"'1-0' is not a move: '1' does not begin a move; a piece letter (K Q R B N), a square or O-O does");
    assert_snapshot!(told("N\u{1b}[2J"), @"'N�[2J' is not a move: '�' is no file; files are a to h");
}

#[test]
fn the_span_covers_the_offending_bytes() {
    for (text, wanted) in [
        ("Kz9", "z"),
        ("e9", "9"),
        ("xyzzy", "x"),
        ("♞", "♞"),
        ("♞z3", "z"),
        (" Nf3zz ", "zz"),
        ("e8=K", "=K"),
        ("Nf8=Q", "=Q"),
        ("Nfé", "é"),
        ("O-O-O-O", "-O"),
    ] {
        let error = parse(text).expect_err(text);
        assert_eq!(error.text.get(error.span.clone()), Some(wanted), "{text}");
    }
}

#[test]
fn a_long_text_is_told_short() {
    let message = told(&"z".repeat(100_000));
    assert!(message.len() < 300, "{message}");
    let message = told(&format!("Nf3{}", "z".repeat(100_000)));
    assert!(message.len() < 300, "{message}");
}

#[test]
fn a_square_alone_is_a_pawn_move_there() {
    let step = Shape::Step {
        role: Some(Role::Pawn),
        file: None,
        rank: None,
        capture: false,
        to: Square::E4,
        promotion: None,
    };
    assert_eq!(
        parse("e4"),
        Ok(Token {
            shape: step,
            claim: Claim::None
        })
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// No text at all makes it panic, and every span lies between characters of the text.
    #[test]
    fn any_text_is_answered(text in any::<String>()) {
        if let Err(e) = parse(&text) {
            prop_assert!(text.get(e.span).is_some());
            prop_assert!(!e.why.is_empty());
        }
    }

    /// The same for texts made of what moves are made of.
    #[test]
    fn any_text_of_move_letters_is_answered(text in "[KQRBNPqrnkbpa-h1-8Oo0xX:=/()+#!?. e♞♔\u{FE0F}-]{0,12}") {
        if let Err(e) = parse(&text) {
            prop_assert!(text.get(e.span).is_some());
        }
    }
}
