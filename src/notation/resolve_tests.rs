use proptest::prelude::*;
use shakmaty::{
    CastlingMode, CastlingSide, Chess, Move, Position, PositionError, Role, Square, fen::Fen,
    san::San,
};

use crate::board::{
    Line,
    line::{fen, read_fen, san},
};
use crate::notation::{Reading, Shape, false_mate_claim, parse, resolve, slips, walks};

fn at(fen: &str) -> Line {
    Line::new(read_fen(fen).unwrap())
}

fn read(text: &str, line: &Line) -> Reading {
    resolve(&parse(text).unwrap(), line)
}

/// The reading in one word: the SAN it means, or its kind.
fn told(text: &str, line: &Line) -> String {
    match read(text, line) {
        Reading::Legal(mv) => san(line.position(), &mv),
        Reading::Ambiguous(moves) => format!("{} moves", moves.len()),
        Reading::Phantom(_) => "phantom".into(),
        Reading::Pass => "pass".into(),
        Reading::Unplaced => "unplaced".into(),
    }
}

/// PGN standard 1994, 8.2.3.4 (from memory): a knight that is pinned does not make the other
/// ambiguous.
#[test]
fn a_pinned_twin_needs_no_letter() {
    let line = at("4k3/4r3/8/8/8/8/4N1N1/4K3 w - - 0 1");
    assert_eq!(told("Nf4", &line), "Nf4");
    assert_eq!(told("Ngf4", &line), "Nf4");
    assert_eq!(told("Nef4", &line), "phantom");
}

#[test]
fn several_legal_meanings_are_ambiguous() {
    let line = at("4k3/8/8/8/8/8/2N1N3/K7 w - - 0 1");
    assert_eq!(told("Nd4", &line), "2 moves");
    assert_eq!(told("Ncd4", &line), "Ncd4");
    let line = at("8/2P5/8/8/8/8/8/k1K5 w - - 0 1");
    assert_eq!(told("c8", &line), "4 moves");
    assert_eq!(told("c7c8", &line), "4 moves");
    assert_eq!(told("c8R", &line), "c8=R");
}

#[test]
fn wrong_signs_do_no_harm() {
    let line = at("4k3/8/8/3p4/4P3/5n2/6P1/3Q3K w - - 0 1");
    for (text, wanted) in [
        ("ed5", "exd5"),
        ("exd5+", "exd5"),
        ("Qf3", "Qxf3"),
        ("gf3", "gxf3"),
        ("Qxd2", "Qd2"),
        ("exe5", "e5"),
        ("Qxf3#", "Qxf3"),
    ] {
        let legal = told(text, &line);
        assert_eq!(
            legal.trim_end_matches('+'),
            wanted.trim_end_matches('+'),
            "{text}"
        );
    }
}

#[test]
fn a_pawn_without_a_file_goes_straight_on() {
    let line = at("4k3/8/8/3p4/3PP3/8/8/4K3 w - - 0 1");
    assert_eq!(told("d5", &line), "phantom");
    assert_eq!(told("ed5", &line), "exd5");
}

#[test]
fn a_pawn_takes_by_its_files_alone() {
    let one = at("4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1");
    assert_eq!(told("ed", &one), "exd5");
    assert_eq!(told("ef", &one), "phantom");
    let passing = at("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1");
    assert_eq!(told("ed", &passing), "exd6");
    let two = at("4k3/8/3p4/3pP3/4P3/8/8/4K3 w - - 0 1");
    assert_eq!(told("exd", &two), "2 moves");
    // No pawn at all, and one with nothing to take: why not is told in both cases.
    for (fen, text) in [
        ("4k3/8/8/8/8/8/8/4K3 w - - 0 1", "ed"),
        ("4k3/8/8/8/4p3/8/8/4K3 b - - 0 1", "ed"),
    ] {
        let Reading::Phantom(phantom) = read(text, &at(fen)) else {
            panic!("{text} cannot be played in {fen}");
        };
        assert!(!phantom.reasons.is_empty(), "{fen}");
    }
}

#[test]
fn castling_is_read_from_two_squares() {
    let line = at("r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1");
    for text in ["e1g1", "e1h1", "Ke1-g1", "Ke1h1", "O-O", "0-0"] {
        assert_eq!(told(text, &line), "O-O", "{text}");
    }
    for text in ["e1c1", "e1a1", "O-O-O"] {
        assert_eq!(told(text, &line), "O-O-O", "{text}");
    }
    assert_eq!(told("Kg1", &line), "phantom");
}

#[test]
fn taking_in_passing_is_read_in_every_form() {
    let line = at("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1");
    for text in ["exd6", "ed6", "exd6 e.p.", "e5d6", "e5xd6"] {
        assert_eq!(told(text, &line), "exd6", "{text}");
    }
}

#[test]
fn mate_that_is_none_is_noticed() {
    let claim = |text: &str, line: &Line| false_mate_claim(&parse(text).unwrap(), line);
    let line = at("6k1/5ppp/8/8/8/8/8/K3R3 w - - 0 1");
    assert!(!claim("Re8#", &line));
    assert!(!claim("Re7", &line));
    assert!(claim("Re7#", &line));
}

#[test]
fn slips_are_one_edit_away() {
    let line = at("4k3/8/8/8/8/8/4P3/1N2K3 w - - 0 1");
    let told = |text: &str| -> Vec<String> {
        slips(&parse(text).unwrap(), &line)
            .iter()
            .map(|mv| san(line.position(), mv))
            .collect()
    };
    assert_eq!(told("Nb3"), ["Na3", "Nc3"]);
    assert_eq!(told("Bc3"), ["Nc3"]);
    assert_eq!(told("c3"), ["Nc3"]);
    assert_eq!(told("e5"), ["e4"]);
    assert_eq!(told("e1g1"), ["Kf1"]);
    assert_eq!(told("Ndc3"), ["Nc3"]);
    let line = at("r3k2r/8/8/8/8/8/8/R3K2R w Qkq - 0 1");
    let other = slips(&parse("O-O").unwrap(), &line);
    assert_eq!(san(line.position(), &other[0]), "O-O-O");
}

fn figurine(role: Role) -> char {
    match role {
        Role::Pawn => '♟',
        Role::Knight => '♞',
        Role::Bishop => '♗',
        Role::Rook => '♜',
        Role::Queen => '♕',
        Role::King => '♚',
    }
}

/// All the ways in which a legal move may be written.
fn forms(pos: &Chess, mv: &Move) -> Vec<String> {
    let standard = san(pos, mv);
    let uci = mv.to_uci(CastlingMode::Standard).to_string();
    let mut forms = vec![
        standard.replace('O', "0"),
        standard.replace('x', ""),
        standard.replace('=', ""),
        format!("{}!?", standard.trim_end_matches(['+', '#'])),
        format!("{}#", standard.trim_end_matches(['+', '#'])),
        format!("17... {standard}"),
        mv.to_uci(CastlingMode::Chess960).to_string(),
        uci.clone(),
        standard.clone(),
    ];
    if !mv.is_castle() {
        let letter = if mv.role() == Role::Pawn {
            String::new()
        } else {
            mv.role().upper_char().to_string()
        };
        let sign = if mv.is_capture() { "x" } else { "-" };
        let (from, rest) = uci.split_at(2);
        forms.push(format!("{letter}{from}{sign}{rest}"));
        forms.push(format!("{}{from}{rest}", figurine(mv.role())));
    }
    if let Some(role) = Role::from_char(standard.chars().next().unwrap())
        .filter(|_| standard.starts_with(char::is_uppercase))
    {
        forms.push(format!("{}\u{FE0F}{}", figurine(role), &standard[1..]));
        if role != Role::Bishop {
            forms.push(format!("{}{}", role.char(), &standard[1..]));
        }
    }
    forms
}

/// A written move of any kind, sense or none.
fn any_shape() -> impl Strategy<Value = String> {
    let readable = |text: &String| parse(text).is_ok();
    prop_oneof![
        4 => "[KQRBN]?([a-h]|[1-8])?x?[a-h][1-8]".prop_filter("no move", readable),
        2 => "[KQRBN]?[a-h][1-8][a-h][1-8]".prop_filter("no move", readable),
        2 => "[a-h]x[a-h][1-8]",
        1 => "[a-h][1-8]=?[QRBN]",
        1 => "e[18][a-h][18]",
        1 => Just("O-O".to_owned()),
        1 => Just("O-O-O".to_owned()),
    ]
}

/// Does shakmaty, asked by itself, find a legal move for this text? Independent of our matching: the
/// token is turned into every full (role, from, to, promotion) that it may mean.
fn legal_by_hand(text: &str, pos: &Chess) -> usize {
    let token = parse(text).unwrap();
    let legal = pos.legal_moves();
    let Shape::Step {
        role,
        file,
        rank,
        capture,
        to,
        promotion,
    } = token.shape
    else {
        let Shape::Castle(side) = token.shape else {
            return 0;
        };
        return usize::from(!pos.castling_moves(side).is_empty());
    };
    legal
        .iter()
        .filter(|mv| {
            let uci = mv.to_uci(CastlingMode::Standard).to_string();
            let alt = mv.to_uci(CastlingMode::Chess960).to_string();
            let from = &uci[..2];
            let goes =
                uci[2..4] == to.to_string() || (mv.is_castle() && alt[2..4] == to.to_string());
            let named = file.is_none_or(|f| from.starts_with(f.char()))
                && rank.is_none_or(|r| from.ends_with(r.char()));
            let full = !mv.is_castle() || (file.is_some() && rank.is_some());
            let straight = role != Some(Role::Pawn)
                || capture
                || file.is_some()
                || from.starts_with(to.file().char());
            goes && named
                && full
                && straight
                && role.is_none_or(|r| r == mv.role())
                && promotion.is_none_or(|p| mv.promotion() == Some(p))
        })
        .count()
}

/// The retained image by brute force: the position before ply `k` says what moved and what was
/// taken; the board now is edited as FEN text and read again.
fn retained_by_hand(text: &str, line: &Line) -> Option<usize> {
    (1..=line.ply()).rev().find(|k| {
        let before = line.position_at(k - 1).unwrap();
        let mv = &line.moves()[k - 1];
        let mut squares: Vec<Square> = mv.from().into_iter().collect();
        if let Move::Castle { rook, .. } = mv {
            squares.push(*rook);
        } else if let Move::EnPassant { from, to } = mv {
            squares.push(Square::from_coords(to.file(), from.rank()));
        } else if mv.is_capture() {
            squares.push(mv.to());
        }
        squares
            .into_iter()
            .filter_map(|square| image_by_hand(line, *k, square, before))
            .any(|image| legal_by_hand(text, &image) > 0)
    })
}

fn image_by_hand(line: &Line, k: usize, square: Square, before: &Chess) -> Option<Chess> {
    let piece = before.board().piece_at(square)?;
    // Follow the piece to where it is now.
    let mut at = Some(square);
    for mv in &line.moves()[k - 1..] {
        let here = at?;
        let passed = matches!(mv, Move::EnPassant { from, to }
            if Square::from_coords(to.file(), from.rank()) == here);
        at = match mv {
            Move::Castle { king, .. } if *king == here => mv
                .castling_side()
                .map(|s| Square::from_coords(s.king_to_file(), king.rank())),
            Move::Castle { rook, .. } if *rook == here => mv
                .castling_side()
                .map(|s| Square::from_coords(s.rook_to_file(), rook.rank())),
            Move::Castle { .. } => Some(here),
            _ if mv.from() == Some(here) => Some(mv.to()),
            _ if passed || mv.to() == here => None,
            _ => Some(here),
        };
        if at.is_none() {
            break;
        }
    }
    let now = line.position();
    let mut board = now.board().clone();
    if let Some(at) = at {
        board.discard_piece_at(at);
    }
    if board.role_at(square) == Some(Role::King) {
        return None;
    }
    board.set_piece_at(square, piece);
    let text = fen(now);
    let mut fields: Vec<String> = text.split(' ').map(str::to_owned).collect();
    let ep = Fen::from_position(now.clone(), shakmaty::EnPassantMode::Always).to_string();
    fields[3] = ep.split(' ').nth(3)?.to_owned();
    fields[0] = board.to_string();
    if matches!(piece.role, Role::King | Role::Rook) {
        fields[2] = rights(before, line.position_at(k).unwrap(), now);
    }
    let setup: Fen = fields.join(" ").parse().ok()?;
    setup
        .into_position::<Chess>(CastlingMode::Standard)
        .or_else(PositionError::ignore_invalid_castling_rights)
        .or_else(PositionError::ignore_invalid_ep_square)
        .or_else(PositionError::ignore_too_much_material)
        .or_else(PositionError::ignore_impossible_check)
        .ok()
}

/// The rights now and those that went between two positions, as in a FEN.
fn rights(before: &Chess, after: &Chess, now: &Chess) -> String {
    let mut text = String::new();
    for (color, side, letter) in [
        (shakmaty::Color::White, CastlingSide::KingSide, 'K'),
        (shakmaty::Color::White, CastlingSide::QueenSide, 'Q'),
        (shakmaty::Color::Black, CastlingSide::KingSide, 'k'),
        (shakmaty::Color::Black, CastlingSide::QueenSide, 'q'),
    ] {
        let has = |pos: &Chess| pos.castles().has(color, side);
        if has(now) || (has(before) && !has(after)) {
            text.push(letter);
        }
    }
    if text.is_empty() { "-".into() } else { text }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    /// Every way of writing a legal move means that move.
    #[test]
    fn every_form_of_a_legal_move_is_that_move(line in walks::line(60)) {
        let pos = line.position();
        for mv in pos.legal_moves() {
            for form in forms(pos, &mv) {
                prop_assert_eq!(read(&form, &line), Reading::Legal(mv.clone()), "{} in {}", form, fen(pos));
            }
            let plain = San::from_move(pos, &mv).to_string();
            prop_assert_eq!(read(&plain, &line), Reading::Legal(mv));
        }
    }

    /// A well-formed text means exactly the moves of shakmaty's list; a phantom has a reason, and its
    /// retained image is the one found by brute force.
    #[test]
    fn any_shape_is_legal_ambiguous_or_explained(
        line in walks::line(30),
        texts in proptest::collection::vec(any_shape(), 20),
    ) {
        for text in texts {
            let wanted = legal_by_hand(&text, line.position());
            match read(&text, &line) {
                Reading::Legal(mv) => {
                    prop_assert_eq!(wanted, 1);
                    prop_assert!(line.position().is_legal(&mv));
                }
                Reading::Ambiguous(moves) => prop_assert_eq!(moves.len(), wanted),
                Reading::Phantom(phantom) => {
                    prop_assert_eq!(wanted, 0, "{}", text);
                    prop_assert!(!phantom.reasons.is_empty(), "{} in {}", text, fen(line.position()));
                    prop_assert_eq!(phantom.retained, retained_by_hand(&text, &line), "{} in {}", text, fen(line.position()));
                    prop_assert!(phantom.reasons.iter().all(|r| r.ply().is_none_or(|p| (1..=line.ply()).contains(&p))));
                    prop_assert!(phantom.reasons.is_sorted_by_key(crate::notation::Reason::order));
                    prop_assert!(serde_json::to_string(&phantom).is_ok());
                }
                Reading::Pass | Reading::Unplaced => prop_assert!(false, "{}", text),
            }
        }
    }

    /// Slips are legal, and never what the text means anyway.
    #[test]
    fn slips_are_other_legal_moves(line in walks::line(30), text in any_shape()) {
        let token = parse(&text).unwrap();
        for mv in slips(&token, &line) {
            prop_assert!(line.position().is_legal(&mv));
            prop_assert_ne!(read(&text, &line), Reading::Legal(mv));
        }
    }
}
