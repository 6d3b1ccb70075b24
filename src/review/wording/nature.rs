//! What kind of move a move is, by the board alone, and the question that looks for such a move.

use shakmaty::{Chess, Move, Position, Role, attacks};

use crate::board::motif::{self, Motif};
use crate::board::{Line, exchange};
use crate::notation::piece_name;

/// The kind of move, by what one would have to look for to find it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Nature {
    Check,
    /// Instead of taking back, or of saving what is attacked, something that must be answered first.
    InBetween,
    Recapture,
    Promotion,
    Capture,
    MateThreat,
    Threat,
    Defence,
    PawnBreak,
    Retreat,
    /// Every other move harms, or none changes anything.
    Waiting,
    KingMove,
    PawnMove,
    Quiet,
}

/// The nature of the move in the position the line has reached. `waits` says that it only hands over the move.
pub(super) fn of(line: &Line, mv: &Move, waits: bool) -> Nature {
    let motifs = motif::motifs(line, mv);
    let has = |m: Motif| motifs.contains(&m);
    if has(Motif::Intermezzo) {
        Nature::InBetween
    } else if has(Motif::Check) || has(Motif::DoubleCheck) {
        Nature::Check
    } else if has(Motif::Promotion) {
        Nature::Promotion
    } else if mv.is_capture() {
        if takes_back(line, mv) {
            Nature::Recapture
        } else {
            Nature::Capture
        }
    } else if has(Motif::ThreatOfMate) {
        Nature::MateThreat
    } else if has(Motif::OtherThreat) {
        Nature::Threat
    } else {
        quiet(line.position(), mv, waits, has(Motif::Backward))
    }
}

fn quiet(pos: &Chess, mv: &Move, waits: bool, backward: bool) -> Nature {
    if waits {
        Nature::Waiting
    } else if defends(pos, mv) {
        Nature::Defence
    } else if is_pawn_break(pos, mv) {
        Nature::PawnBreak
    } else if backward {
        Nature::Retreat
    } else {
        match mv.role() {
            Role::King => Nature::KingMove,
            Role::Pawn => Nature::PawnMove,
            _ => Nature::Quiet,
        }
    }
}

/// True where the move takes what has just taken.
pub(in super::super) fn takes_back(line: &Line, mv: &Move) -> bool {
    let last = line.moves().last().or(line.past().last());
    mv.is_capture() && last.is_some_and(|last| last.is_capture() && last.to() == mv.to())
}

/// True where the other side could have taken something with profit, and no longer can to that extent.
fn defends(pos: &Chess, mv: &Move) -> bool {
    let won = |pos: &Chess| exchange::best_capture(pos).map_or(0, |(won, _)| won);
    let Ok(passed) = pos.clone().swap_turn() else {
        return false;
    };
    let mut next = pos.clone();
    next.play_unchecked(mv);
    let hung = won(&passed);
    hung >= 1 && won(&next) < hung
}

/// True where a pawn goes next to a pawn of the other side that it can take, or that can take it.
pub(in super::super) fn is_pawn_break(pos: &Chess, mv: &Move) -> bool {
    let side = pos.turn();
    let theirs = pos.board().by_color(side.other()) & pos.board().pawns();
    mv.role() == Role::Pawn
        && !mv.is_capture()
        && (attacks::pawn_attacks(side, mv.to()) & theirs).any()
}

/// The question that looks for a move of this kind by `mv`'s man: of the player's own men, or of his opponent's.
pub(super) fn question(line: &Line, mv: &Move, waits: bool) -> String {
    let piece = piece_name(mv.role());
    let own = line.is_players_turn();
    let (whose, you, do_you, other) = if own {
        (tr!("your"), tr!("you"), tr!("do you"), tr!("he"))
    } else {
        (tr!("his"), tr!("he"), tr!("does he"), tr!("you"))
    };
    match of(line, mv, waits) {
        Nature::Check => {
            tr!("Which checks {do_you} have here, those of {whose} {piece} among them?")
        }
        Nature::InBetween => {
            let must = if own { tr!("must he") } else { tr!("must you") };
            tr!(
                "Before {you} {}: which move {must} answer first?",
                if own {
                    tr!("take back")
                } else {
                    tr!("takes back")
                }
            )
        }
        Nature::Recapture => tr!("In which ways can {you} take back on {}?", mv.to()),
        Nature::Promotion => tr!(
            "What happens when {whose} pawn reaches the last rank, with each piece it can become?"
        ),
        Nature::Capture => tr!("What can {whose} {piece} take here?"),
        Nature::MateThreat => tr!("Which move of {whose} {piece} would threaten mate?"),
        Nature::Threat => tr!("Which quiet move of {whose} {piece} would threaten something?"),
        Nature::Defence => tr!(
            "What {} threatening here, and which move of {whose} {piece} meets it?",
            if own { tr!("is he") } else { tr!("are you") }
        ),
        Nature::PawnBreak => tr!(
            "Which pawn can {you} push against {} here?",
            if own { tr!("his pawns") } else { tr!("yours") }
        ),
        Nature::Retreat => tr!("Would {whose} {piece} stand better further back?"),
        Nature::Waiting => {
            tr!("If {other} had to move here, what would {other} have to give up?")
        }
        Nature::KingMove => tr!("Where does {whose} king stand best here?"),
        Nature::PawnMove => tr!("What does each of {whose} pawn moves change here?"),
        Nature::Quiet => tr!("On which square would {whose} {piece} do more?"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;

    /// The question about the last of some moves; White is the player where he moves first.
    fn asked(fen: &str, moves: &str) -> String {
        let mut line = Line::new(read_fen(fen).unwrap());
        let mut last = None;
        for san in moves.split(' ') {
            let san: shakmaty::san::San = san.parse().unwrap();
            let mv = san.to_move(line.position()).unwrap();
            last = Some((line.clone(), mv.clone()));
            line.push(&mv).unwrap();
        }
        let (line, mv) = last.unwrap();
        question(&line, &mv, false)
    }

    /// Made positions, one for each kind of move; Black's moves are those of the opponent.
    #[test]
    fn the_question_is_about_the_kind_of_move_and_its_man() {
        let rooks = "r5k1/5ppp/8/8/8/8/5PPP/R5K1 w - - 0 1";
        let pawns = "6k1/2p2ppp/8/3p4/8/2P5/5PPP/1B4K1 w - - 0 1";
        let cases = [
            (
                rooks,
                "Rxa8#",
                "Which checks do you have here, those of your rook among them?",
            ),
            (
                rooks,
                "h3 Rxa1+",
                "Which checks does he have here, those of his rook among them?",
            ),
            (
                pawns,
                "Bxh7+",
                "Which checks do you have here, those of your bishop among them?",
            ),
            (
                pawns,
                "c4",
                "Which pawn can you push against his pawns here?",
            ),
            (pawns, "h3 d4", "Which pawn can he push against yours here?"),
            (pawns, "Kf1", "Where does your king stand best here?"),
            (
                pawns,
                "h3",
                "What does each of your pawn moves change here?",
            ),
            (pawns, "c4 dxc4", "What can his pawn take here?"),
            (
                "4k3/8/8/3p4/4P3/8/8/4K2R w K - 0 1",
                "exd5",
                "What can your pawn take here?",
            ),
            (
                "4k3/8/8/3pn3/4P3/8/6N1/4K3 w - - 0 1",
                "exd5 Nf3+",
                "Which checks does he have here, those of his knight among them?",
            ),
            (
                "4k3/3r4/8/3p4/4P3/8/8/4K3 w - - 0 1",
                "exd5 Rxd5",
                "In which ways can he take back on d5?",
            ),
            (
                "4k3/8/8/8/8/4b3/P7/1N2K3 w - - 0 1",
                "Nc3",
                "On which square would your knight do more?",
            ),
            (
                "6k1/5ppp/8/8/4N3/8/5PPP/6K1 w - - 0 1",
                "Nc3",
                "Would your knight stand better further back?",
            ),
            (
                "6k1/5ppp/8/8/8/8/r4PPP/1R5K w - - 0 1",
                "Rb7",
                "Which move of your rook would threaten mate?",
            ),
        ];
        for (fen, moves, question) in cases {
            assert_eq!(asked(fen, moves), question, "{moves} in {fen}");
        }
    }

    #[test]
    fn only_pawns_that_meet_pawns_are_a_break() {
        let pos = read_fen("6k1/8/8/3p4/8/2P5/8/6K1 w - - 0 1").unwrap();
        let is_break = |san: &str| {
            let san: shakmaty::san::San = san.parse().unwrap();
            is_pawn_break(&pos, &san.to_move(&pos).unwrap())
        };
        assert!(is_break("c4"));
        assert!(!is_break("Kg2"));
        let far = read_fen("6k1/8/8/8/8/2P5/8/6K1 w - - 0 1").unwrap();
        let c4: shakmaty::san::San = "c4".parse().unwrap();
        assert!(!is_pawn_break(&far, &c4.to_move(&far).unwrap()));
    }
}
