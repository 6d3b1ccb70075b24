//! The shape of a move from its text.
//!
//! The standard form is that of the PGN standard 1994, 8.2.3 (SAN). The standard asks whoever reads
//! to be lenient ("import format", 3.1 and 8.2.3.8); players are less careful still. Accepted beyond
//! SAN, each with its test below:
//!
//! - blanks around the move, and a move number before it: `12.Nf3`, `12... Nf6`
//! - long algebraic: `Ng1-f3`, `Ng1f3`, `e2-e4`, `e4xd5`; two squares alone as engines write them:
//!   `e2e4`, `e7e8q` (the piece is then whatever stands there)
//! - castling with the letter `O` or `o` or the digit `0`, and with a typographic dash
//! - figurines of either colour for piece letters, with or without variation selector; `P` for a pawn
//! - small piece letters where they cannot be a file: `nf3`, `qxd5`. A small `b` is the b-file as
//!   long as a pawn from there can be meant (`b4`, `bxc3`, `ba5`), else the bishop (`bd3`, `bb5`)
//! - a missing `x` (`ed5`, `Nd4`), a superfluous one (`Nxf3`), `:`, `X` or `×` for it, `:` behind
//! - a pawn's capture by its two files alone: `ed`, `exd`
//! - `+`, `++`, `#` present, wrong or missing; `e.p.`, `e.p`, `ep.`, `ep`, also in brackets or after
//!   a blank; `!` and `?` in any number and their one-character forms
//! - promotion as `e8=Q`, `e8Q`, `e8(Q)`, `e8/Q`, each also with a small letter or a figurine
//! - `--`, `Z0` and `null` for a pass
//!
//! Superfluous disambiguation (`Ngf3` with one knight) needs no leniency: 8.2.3.4 is about which
//! letters suffice, and the position decides.

use shakmaty::{CastlingSide, File, Rank, Role, Square};

use super::scan::{Cursor, Fault, shown};
use super::{Claim, Shape, Token, Unreadable};

pub(super) fn token(text: &str) -> Result<Token, Unreadable> {
    read(text).map_err(|(span, why)| Unreadable {
        text: text.to_owned(),
        span,
        why,
    })
}

fn read(text: &str) -> Result<Token, Fault> {
    let cursor = Cursor::new(text);
    let Some(first) = cursor.peek() else {
        let why = if text.trim().is_empty() {
            tr!("nothing is written")
        } else {
            tr!("a move number stands alone")
        };
        return Err((0..text.len(), why.to_owned()));
    };
    if let Some(behind) = pass(cursor) {
        return finish(behind, Shape::Pass);
    }
    match first {
        'O' | 'o' | '0' => castling(cursor),
        'b' => small_b(cursor),
        _ => piece_or_pawn(cursor),
    }
}

fn pass(mut cursor: Cursor) -> Option<Cursor> {
    ["--", "Z0", "null"]
        .iter()
        .any(|w| cursor.word(w))
        .then_some(cursor)
}

fn castling(mut cursor: Cursor) -> Result<Token, Fault> {
    const FORM: &str = tr_later!("castling is written O-O or O-O-O");
    cursor.bump();
    let mut wings = 0;
    while wings < 2 && cursor.take(dash).is_some() {
        if cursor.run_one(|c| matches!(c, 'O' | 'o' | '0')).is_none() {
            return Err(cursor.missing(crate::translation::text(FORM)));
        }
        wings += 1;
    }
    let side = match wings {
        1 => CastlingSide::KingSide,
        2 => CastlingSide::QueenSide,
        _ => return Err(cursor.missing(crate::translation::text(FORM))),
    };
    finish(cursor, Shape::Castle(side))
}

fn dash(c: char) -> Option<()> {
    matches!(c, '-' | '‐' | '‑' | '–' | '—' | '−').then_some(())
}

/// The b-file if a pawn from there can be meant, else the bishop.
fn small_b(cursor: Cursor) -> Result<Token, Fault> {
    if let Some(takes) = takes(cursor) {
        return Ok(takes);
    }
    let pawn = step(cursor, None);
    if pawn.as_ref().is_ok_and(b_pawn_can_be_meant) {
        return pawn;
    }
    let mut behind = cursor;
    behind.bump();
    step(behind, Some(Role::Bishop)).or(pawn)
}

fn b_pawn_can_be_meant(token: &Token) -> bool {
    match token.shape {
        Shape::Step {
            role: Some(Role::Pawn),
            file: Some(from),
            to,
            ..
        } => from.distance(to.file()) == 1,
        _ => true,
    }
}

/// A pawn's capture by its two files; `None` where more is said, or less.
fn takes(mut cursor: Cursor) -> Option<Token> {
    let from = cursor.file()?;
    if cursor.take(separator) == Some(false) {
        return None;
    }
    let to = cursor.file()?;
    let said = from.distance(to) == 1 && cursor.rank().is_none();
    said.then(|| finish(cursor, Shape::Takes { from, to }).ok())?
}

fn piece_or_pawn(mut cursor: Cursor) -> Result<Token, Fault> {
    if let Some(takes) = takes(cursor) {
        return Ok(takes);
    }
    let role = cursor.role();
    step(cursor, role)
}

/// Everything behind the piece letter, for a piece or (with `None`) a pawn or two squares alone.
fn step(mut cursor: Cursor, letter: Option<Role>) -> Result<Token, Fault> {
    let (from, mut capture, to) = squares(&mut cursor, letter)?;
    capture |= cursor.word(":");
    let promotion = promotion(&mut cursor, letter)?;
    let role = match (letter, from) {
        (None, (Some(_), Some(_))) => None,
        (None, _) => Some(Role::Pawn),
        (letter, _) => letter,
    };
    let shape = Shape::Step {
        role,
        file: from.0,
        rank: from.1,
        capture,
        to,
        promotion,
    };
    finish(cursor, shape)
}

type From = (Option<File>, Option<Rank>);

fn squares(cursor: &mut Cursor, letter: Option<Role>) -> Result<(From, bool, Square), Fault> {
    let file = cursor.file();
    if file.is_none() && letter.is_none() {
        return Err(no_beginning(cursor));
    }
    let rank = cursor.rank();
    let before_sign = *cursor;
    let sign = cursor.take(separator);
    match (file, rank) {
        // `Nf3:` has the sign behind the square.
        (Some(file), Some(rank)) if sign == Some(true) && before_sign.ends_in_colon() => {
            *cursor = before_sign;
            Ok(((None, None), false, Square::from_coords(file, rank)))
        }
        (Some(file), Some(rank)) if sign.is_none() && !cursor.at_square() => {
            Ok(((None, None), false, Square::from_coords(file, rank)))
        }
        (Some(file), None) if sign.is_none() && cursor.file_ahead().is_none() => {
            Err(no_rank(cursor, file))
        }
        from => Ok((from, sign == Some(true), square(cursor)?)),
    }
}

/// `x` and its like say that something is taken, a dash does not.
fn separator(c: char) -> Option<bool> {
    match c {
        'x' | 'X' | '×' | ':' => Some(true),
        c => dash(c).map(|()| false),
    }
}

fn square(cursor: &mut Cursor) -> Result<Square, Fault> {
    let file = cursor.file().ok_or_else(|| no_file(cursor))?;
    let rank = cursor.rank().ok_or_else(|| no_rank(cursor, file))?;
    Ok(Square::from_coords(file, rank))
}

fn no_beginning(cursor: &Cursor) -> Fault {
    match cursor.peek() {
        Some(c) if capital_file(c) => no_file(cursor),
        Some(c) => {
            let why = tr!(
                "'{}' does not begin a move; a piece letter (K Q R B N), a square or O-O does",
                shown(c.encode_utf8(&mut [0; 4]))
            );
            cursor.wrong(c, why)
        }
        None => cursor.missing(tr!("nothing is written")),
    }
}

fn no_file(cursor: &Cursor) -> Fault {
    match cursor.peek() {
        None => cursor.missing(tr!("the square to go to is missing")),
        Some(c) if capital_file(c) => cursor.wrong(
            c,
            tr!(
                "squares are written with small letters: '{}', not '{c}'",
                c.to_ascii_lowercase()
            ),
        ),
        Some(c) => cursor.wrong(
            c,
            tr!(
                "'{}' is no file; files are a to h",
                shown(c.encode_utf8(&mut [0; 4]))
            ),
        ),
    }
}

fn capital_file(c: char) -> bool {
    matches!(c, 'A'..='H')
}

fn no_rank(cursor: &Cursor, file: File) -> Fault {
    match cursor.peek() {
        None => cursor.missing(&tr!("the rank behind the file '{file}' is missing")),
        Some(c) => cursor.wrong(
            c,
            tr!(
                "'{}' is no rank; ranks are 1 to 8",
                shown(c.encode_utf8(&mut [0; 4]))
            ),
        ),
    }
}

fn promotion(cursor: &mut Cursor, letter: Option<Role>) -> Result<Option<Role>, Fault> {
    let from = cursor.at;
    let Some(role) = promotion_piece(cursor)? else {
        return Ok(None);
    };
    if letter.is_some_and(|l| l != Role::Pawn) {
        return Err((from..cursor.at, tr!("only a pawn is promoted").to_owned()));
    }
    if matches!(role, Role::King | Role::Pawn) {
        let why = tr!("a pawn is promoted to a queen, rook, bishop or knight");
        return Err((from..cursor.at, why.to_owned()));
    }
    Ok(Some(role))
}

fn promotion_piece(cursor: &mut Cursor) -> Result<Option<Role>, Fault> {
    if cursor.word("=") || cursor.word("/") {
        return match promoted(cursor) {
            Some(role) => Ok(Some(role)),
            None => Err(cursor.missing(tr!("the piece to promote to is missing"))),
        };
    }
    let mut bracketed = *cursor;
    if bracketed.word("(") {
        // '(' may also open '(e.p.)'.
        let role = promoted(&mut bracketed).filter(|_| bracketed.word(")"));
        if role.is_some() {
            *cursor = bracketed;
        }
        return Ok(role);
    }
    Ok(promoted(cursor))
}

fn promoted(cursor: &mut Cursor) -> Option<Role> {
    if cursor.word("b") {
        return Some(Role::Bishop);
    }
    cursor.role()
}

/// What may stand behind every move, and then the end of the text.
fn finish(mut cursor: Cursor, mut shape: Shape) -> Result<Token, Fault> {
    let mut claim = Claim::None;
    loop {
        let from = cursor.at;
        if en_passant(&mut cursor) {
            mark_en_passant(&mut shape, from..cursor.at)?;
        } else if let Some(more) = cursor.take(claimed) {
            claim = stronger(claim, more);
        } else if cursor.run(is_annotation) == 0 {
            break;
        }
    }
    if cursor.rest().trim().is_empty() {
        Ok(Token { shape, claim })
    } else {
        Err(cursor.left_over())
    }
}

fn en_passant(cursor: &mut Cursor) -> bool {
    const FORMS: [&str; 8] = [
        "(e.p.)", "(e.p)", "(ep.)", "(ep)", "e.p.", "e.p", "ep.", "ep",
    ];
    let mut behind = *cursor;
    behind.blanks();
    let found = FORMS.iter().any(|f| behind.word(f));
    if found {
        *cursor = behind;
    }
    found
}

fn mark_en_passant(shape: &mut Shape, span: std::ops::Range<usize>) -> Result<(), Fault> {
    match shape {
        Shape::Step {
            role: None | Some(Role::Pawn),
            capture,
            ..
        } => {
            *capture = true;
            Ok(())
        }
        Shape::Takes { .. } => Ok(()),
        _ => Err((span, tr!("only a pawn takes in passing").to_owned())),
    }
}

fn claimed(c: char) -> Option<Claim> {
    match c {
        '+' => Some(Claim::Check),
        '#' => Some(Claim::Mate),
        _ => None,
    }
}

fn stronger(one: Claim, other: Claim) -> Claim {
    match (one, other) {
        (Claim::Mate, _) | (_, Claim::Mate) => Claim::Mate,
        (Claim::Check, _) | (_, Claim::Check) => Claim::Check,
        _ => Claim::None,
    }
}

fn is_annotation(c: char) -> bool {
    matches!(c, '!' | '?' | '‼' | '⁇' | '⁈' | '⁉')
}

impl Cursor<'_> {
    fn run_one(&mut self, wanted: impl Fn(char) -> bool) -> Option<()> {
        self.take(|c| wanted(c).then_some(()))
    }

    fn ends_in_colon(mut self) -> bool {
        self.word(":") && !self.at_square()
    }

    fn file_ahead(&self) -> Option<File> {
        let mut ahead = *self;
        ahead.file()
    }
}

#[cfg(test)]
#[path = "parse_tests.rs"]
mod tests;
