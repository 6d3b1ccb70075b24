use super::*;
use crate::board::line::{read_fen, sans};

fn line(fen: &str, moves: &str) -> (Line, Vec<Move>) {
    let from = Line::new(read_fen(fen).unwrap());
    let mut line = from.clone();
    for san in moves.split(' ') {
        let san: shakmaty::san::San = san.parse().unwrap();
        line.push(&san.to_move(line.position()).unwrap()).unwrap();
    }
    (from, line.moves().to_vec())
}

fn told(fen: &str, moves: &str, truth: f64) -> (String, Shown) {
    let (from, moves) = line(fen, moves);
    let gains = if truth < 0.5 {
        from.player().other()
    } else {
        from.player()
    };
    let point = of(&from, &moves, claim(truth, gains));
    let told = sans(from.position(), &moves[..point.plies]);
    (told.join(" "), point.shown)
}

fn claim(truth: f64, gains: Color) -> Claim {
    Claim {
        truth: PlayerScore::new(truth),
        gains,
        offers: false,
    }
}

const ROOK: &str = "6k1/8/8/8/8/8/8/R5K1 w - - 0 1";
const ROUND: &str = "Rb1 Kh8 Ra1 Kg8 Rb1 Kh8";

#[test]
fn a_repetition_is_told_where_it_is_the_point() {
    assert_eq!(
        told(ROOK, ROUND, 0.5),
        ("Rb1 Kh8 Ra1 Kg8".to_owned(), Shown::Repetition)
    );
}

#[test]
fn going_round_proves_no_win() {
    assert_eq!(told(ROOK, ROUND, 0.9), ("Rb1".to_owned(), Shown::Nothing));
}

/// A position that stood before the place comes again, and the score is not level: nothing repeats in it.
#[test]
fn a_position_that_stood_earlier_on_the_line_is_no_point_of_a_win() {
    let (from, moves) = line(ROOK, "Rb1 Kh8 Ra1 Kg8");
    let mut place = from;
    for mv in &moves[..2] {
        place.push(mv).unwrap();
    }
    let point = of(&place, &moves[2..], claim(0.9, Color::White));
    assert_eq!(point.shown, Shown::Nothing);
    assert_eq!(point.plies, 1);
    let point = of(&place, &moves[2..], claim(0.5, Color::White));
    assert_eq!((point.plies, point.shown), (2, Shown::Repetition));
}

/// A queen is taken, and mate by two rooks follows ten half-moves later: the queen is the point (a made position).
#[test]
fn a_queen_that_is_taken_is_the_point_and_not_the_mate_long_after() {
    let fen = "q7/8/8/8/7k/8/1R6/R3K3 w - - 0 1";
    let moves = "Rxa8 Kg5 Ra4 Kf5 Rb5+ Kf6 Ra6+ Kg7 Rb7+ Kf8 Ra8#";
    assert_eq!(told(fen, moves, 1.0), ("Rxa8".to_owned(), Shown::Material));
    let ladder = "8/8/8/5k2/R7/8/1R6/4K3 w - - 0 1";
    let moves = "Rb5+ Kf6 Ra6+ Kg7 Rb7+ Kf8 Ra8#";
    assert_eq!(told(ladder, moves, 1.0), (moves.to_owned(), Shown::End));
}

/// What is taken is taken back: nothing is won (made positions).
#[test]
fn what_is_taken_back_is_no_point() {
    let fen = "6k1/5ppp/8/3r4/8/8/5PPP/3R2K1 w - - 0 1";
    assert_eq!(
        told(fen, "Rxd5 Kf8 g3", 0.9),
        ("Rxd5".to_owned(), Shown::Material)
    );
    let guarded = "3r2k1/5ppp/8/3r4/8/8/5PPP/3R2K1 w - - 0 1";
    assert_eq!(told(guarded, "Rxd5 Rxd5 g3 Kf8", 0.6).1, Shown::Nothing);
    // Between the two captures nothing is settled yet.
    assert_eq!(told(guarded, "Rxd5 Rxd5", 0.6).0, "Rxd5 Rxd5");
}

/// A judgement is a few half-moves long, however long the line is.
#[test]
fn a_line_without_a_point_is_told_in_a_few_half_moves() {
    let fen = "6k1/5ppp/8/8/8/8/5PPP/6K1 w - - 0 1";
    let (told, shown) = told(fen, "Kf1 Kf8 Ke2 Ke7 Ke3 Ke6 Ke4 f5+ Kf4 Kf6", 0.6);
    assert_eq!((told.as_str(), shown), ("Kf1 Kf8 Ke2", Shown::Nothing));
}

/// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895: the false solution ends in stalemate.
#[test]
fn a_stalemate_is_the_point_though_a_rook_was_given() {
    let fen = "2Q5/8/8/8/3r4/8/2K5/k7 b - - 0 1";
    let (told, shown) = told(fen, "Rc4+ Qxc4", 0.5);
    assert_eq!((told.as_str(), shown), ("Rc4+ Qxc4", Shown::End));
}
