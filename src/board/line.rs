//! A position together with the moves that led to it.
//!
//! Repetition and the move-count rules look back along the game, and the reasons why a written move
//! is impossible look back along the written line. A [`Line`] carries both: the game's moves before
//! the *root* (the position to calculate) and the written moves since.

use shakmaty::{
    CastlingMode, Chess, Color, EnPassantMode, Move, Position, PositionErrorKinds,
    fen::Fen,
    san::SanPlus,
    uci::UciMove,
    zobrist::{Zobrist128, ZobristHash},
};

use super::Rule;

/// A move that is not legal where it was to be played.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", tr!("{mv:?} is not legal at ply {ply}"))]
pub struct IllegalMove {
    /// The move that was not played.
    pub mv: Move,
    /// Plies since the root where it was tried.
    pub ply: usize,
}

/// A root position with its past, and a sequence of legal moves from it.
#[derive(Debug, Clone)]
pub struct Line {
    positions: Vec<Chess>,
    keys: Vec<u128>,
    moves: Vec<Move>,
    root: usize,
}

impl PartialEq for Line {
    fn eq(&self, other: &Self) -> bool {
        self.root == other.root && self.moves == other.moves && self.positions == other.positions
    }
}

impl Eq for Line {}

// Every constructor keeps one position and one key more than moves, and a root that is no more than the moves.
#[allow(clippy::indexing_slicing)]
impl Line {
    /// A line without a past: the root is `root`, nothing is played yet.
    #[must_use]
    pub fn new(root: Chess) -> Self {
        Self {
            keys: vec![key(&root)],
            positions: vec![root],
            moves: Vec::new(),
            root: 0,
        }
    }

    /// The same line, but with the root moved to the position now reached: what was played so far
    /// becomes the game before the root.
    #[must_use]
    pub fn rooted_here(mut self) -> Self {
        self.root = self.moves.len();
        self
    }

    /// Plays one more move.
    ///
    /// # Errors
    /// The move is not legal in the position reached; the line is unchanged.
    pub fn push(&mut self, mv: &Move) -> Result<(), IllegalMove> {
        if !self.position().is_legal(mv) {
            return Err(IllegalMove {
                mv: mv.clone(),
                ply: self.ply(),
            });
        }
        let mut next = self.position().clone();
        next.play_unchecked(mv);
        self.keys.push(key(&next));
        self.positions.push(next);
        self.moves.push(mv.clone());
        Ok(())
    }

    /// This line and one move more.
    ///
    /// # Errors
    /// The move is not legal in the position reached.
    pub fn child(&self, mv: &Move) -> Result<Self, IllegalMove> {
        let mut line = self.clone();
        line.push(mv)?;
        Ok(line)
    }

    /// Takes back the last move since the root; `None` at the root.
    pub fn pop(&mut self) -> Option<Move> {
        if self.ply() == 0 {
            return None;
        }
        self.positions.pop();
        self.keys.pop();
        self.moves.pop()
    }

    /// The position reached.
    #[must_use]
    pub fn position(&self) -> &Chess {
        // `positions` starts with one element and `pop` never removes it.
        &self.positions[self.positions.len() - 1]
    }

    /// The position to calculate.
    #[must_use]
    pub fn root(&self) -> &Chess {
        &self.positions[self.root]
    }

    /// The position `ply` half-moves after the root; `None` past the end.
    #[must_use]
    pub fn position_at(&self, ply: usize) -> Option<&Chess> {
        self.positions.get(self.root + ply)
    }

    /// Half-moves since the root.
    #[must_use]
    pub fn ply(&self) -> usize {
        self.moves.len() - self.root
    }

    /// The moves since the root.
    #[must_use]
    pub fn moves(&self) -> &[Move] {
        &self.moves[self.root..]
    }

    /// The moves of the game before the root, where they are known.
    #[must_use]
    pub fn past(&self) -> &[Move] {
        &self.moves[..self.root]
    }

    /// The position from which the known moves start: the root, or the start of its game.
    #[must_use]
    pub fn start(&self) -> &Chess {
        &self.positions[0]
    }

    /// The side to move at the root: the player.
    #[must_use]
    pub fn player(&self) -> Color {
        self.root().turn()
    }

    /// The side to move in the position reached.
    #[must_use]
    pub fn turn(&self) -> Color {
        self.position().turn()
    }

    /// Whether the player is to move in the position reached.
    #[must_use]
    pub fn is_players_turn(&self) -> bool {
        self.turn() == self.player()
    }

    /// A number that is equal for positions the Laws call the same (article 9.2.3): same pieces on
    /// the same squares, same side to move, same castling rights, same possible en passant capture.
    /// Two different positions agree by accident with a chance of about 2^-128.
    #[must_use]
    pub fn key(&self) -> u128 {
        self.keys[self.keys.len() - 1]
    }

    /// How often the position reached has stood in the whole known line, this time included.
    #[must_use]
    pub fn occurrences(&self) -> usize {
        let key = self.key();
        self.keys.iter().filter(|k| **k == key).count()
    }

    /// How often it has stood since the root, this time included.
    #[must_use]
    pub fn occurrences_since_root(&self) -> usize {
        let key = self.key();
        self.keys[self.root..].iter().filter(|k| **k == key).count()
    }

    /// What the Laws say here: a result first, then a claim, then nothing.
    #[must_use]
    pub fn rule(&self) -> Option<Rule> {
        let pos = self.position();
        if pos.is_checkmate() {
            return Some(Rule::Checkmate);
        }
        if pos.is_stalemate() {
            return Some(Rule::Stalemate);
        }
        if pos.is_insufficient_material() {
            return Some(Rule::DeadPosition);
        }
        let times = self.occurrences();
        match (times, pos.halfmoves()) {
            (5.., _) => Some(Rule::Fivefold),
            (_, 150..) => Some(Rule::SeventyFiveMoves),
            (3.., _) => Some(Rule::Threefold),
            (_, 100..) => Some(Rule::FiftyMoves),
            _ => None,
        }
    }

    /// The line from the last move that can never be undone (capture or pawn move): the position
    /// after it and the moves since. All that repetition and move counting can still depend on.
    #[must_use]
    pub fn since_irreversible(&self) -> (&Chess, &[Move]) {
        let back = usize::try_from(self.position().halfmoves()).unwrap_or(usize::MAX);
        let from = self.moves.len().saturating_sub(back);
        (&self.positions[from], &self.moves[from..])
    }

    /// The moves since the root in Standard Algebraic Notation (PGN standard 1994, 8.2.3).
    #[must_use]
    pub fn sans(&self) -> Vec<String> {
        self.moves()
            .iter()
            .zip(&self.positions[self.root..])
            .map(|(mv, pos)| SanPlus::from_move(pos.clone(), mv).to_string())
            .collect()
    }
}

/// A game as it is kept: its first position in FEN and its moves in UCI notation, rooted at its end.
///
/// # Errors
/// What is wrong, in words: the position cannot be set up, or a move is not legal where it stands.
pub fn replay<T: AsRef<str>>(start_fen: &str, moves: &[T]) -> Result<Line, String> {
    let mut line = Line::new(read_fen(start_fen).map_err(|e| e.to_string())?);
    for text in moves {
        let text = text.as_ref();
        let mv = read_uci(line.position(), text)
            .ok_or_else(|| tr!("'{text}' is not a legal move at ply {}", line.ply() + 1))?;
        line.push(&mv).map_err(|e| e.to_string())?;
    }
    Ok(line.rooted_here())
}

/// A move in UCI notation; `None` where it is not legal in the position.
#[must_use]
pub fn read_uci(pos: &Chess, text: &str) -> Option<Move> {
    UciMove::from_ascii(text.as_bytes()).ok()?.to_move(pos).ok()
}

/// A move in UCI notation.
#[must_use]
pub fn uci(mv: &Move) -> String {
    mv.to_uci(CastlingMode::Standard).to_string()
}

fn key(pos: &Chess) -> u128 {
    pos.zobrist_hash::<Zobrist128>(EnPassantMode::Legal).0
}

/// One move in Standard Algebraic Notation, with `+` or `#` (PGN standard 1994, 8.2.3).
#[must_use]
pub fn san(pos: &Chess, mv: &Move) -> String {
    SanPlus::from_move(pos.clone(), mv).to_string()
}

/// A sequence in Standard Algebraic Notation; stops at the first move that is not legal.
#[must_use]
pub fn sans(pos: &Chess, moves: &[Move]) -> Vec<String> {
    let mut line = Line::new(pos.clone());
    for mv in moves {
        if line.push(mv).is_err() {
            break;
        }
    }
    line.sans()
}

/// Moves as books print them, with the numbers of the game: '29...Nc2+ 30.Ke2 Bg4+'. They are shown as they are
/// written; none is played.
#[must_use]
pub fn numbered<T: AsRef<str>>(pos: &Chess, moves: &[T]) -> String {
    numbered_from(pos, 0, moves)
}

/// The same where `pos` came about by leaving a move of the other side out.
#[must_use]
pub fn numbered_after_pass<T: AsRef<str>>(pos: &Chess, moves: &[T]) -> String {
    // What was left out was Black's answer: the next move has the next number.
    numbered_from(pos, usize::from(pos.turn().is_white()), moves)
}

fn numbered_from<T: AsRef<str>>(pos: &Chess, more: usize, moves: &[T]) -> String {
    let first = usize::try_from(pos.fullmoves().get()).unwrap_or(usize::MAX);
    let first = first.saturating_add(more);
    let blacks = usize::from(pos.turn().is_black());
    let words = moves.iter().enumerate().map(|(i, text)| {
        let number = first.saturating_add((i + blacks) / 2);
        match (i + blacks) % 2 {
            0 => format!("{number}.{}", text.as_ref()),
            _ if i == 0 => format!("{number}...{}", text.as_ref()),
            _ => text.as_ref().to_owned(),
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

/// The position as Forsyth-Edwards Notation (PGN standard 1994, 16.1); the en passant square is
/// given only where the capture is legal.
#[must_use]
pub fn fen(pos: &Chess) -> String {
    Fen::from_position(pos.clone(), EnPassantMode::Legal).to_string()
}

/// Why a text is no position to calculate.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FenError {
    /// Not Forsyth-Edwards Notation.
    #[error("{}", tr!("'{text}' is not a FEN position: {reason}"))]
    Syntax { text: String, reason: String },
    /// Readable, but not a position that can occur under the rules.
    #[error("{}", tr!("'{text}' is not a possible position: {reason}"))]
    Position { text: String, reason: String },
}

/// Reads a position from Forsyth-Edwards Notation (PGN standard 1994, 16.1).
///
/// Lenient: missing trailing fields are filled in (white to move, no castling, no en passant,
/// counters 0 and 1), and an en passant square that no pawn can have passed is ignored.
///
/// # Errors
/// The text is not FEN, or that of another game (men in hand, checks left), or the position has no king, two kings,
/// a pawn on the last rank, or the side not to move in check.
pub fn read_fen(text: &str) -> Result<Chess, FenError> {
    let wrong = |reason: &str| FenError::Syntax {
        text: quoted(text),
        reason: reason.to_owned(),
    };
    let setup = text
        .trim()
        .parse::<Fen>()
        .map_err(|e| wrong(&e.to_string()))?;
    if !ends_with_counters(text) {
        return Err(wrong(tr!(
            "the halfmove clock and the number of the move are whole numbers, and stand last"
        )));
    }
    if setup.as_setup().pockets.is_some() {
        return Err(wrong(tr!("men in hand belong to another game")));
    }
    setup
        .into_position::<Chess>(CastlingMode::Standard)
        .or_else(shakmaty::PositionError::ignore_invalid_ep_square)
        .map_err(|e| FenError::Position {
            text: quoted(text),
            reason: impossible(e.kinds()),
        })
}

/// Whether nothing but digits stands in the fifth and the sixth field, and nothing after them: the reader takes a
/// number that is too large for the largest without looking at the rest of it, and the counters of another game.
fn ends_with_counters(fen: &str) -> bool {
    let mut counters = fen
        .split([' ', '_'])
        .map(str::trim)
        .filter(|field| !field.is_empty())
        .skip(4);
    let numbers = counters
        .by_ref()
        .take(2)
        .all(|field| field.bytes().all(|b| b.is_ascii_digit()));
    numbers && counters.next().is_none()
}

/// A text to be shown in an error: FEN is short and printable ASCII, whatever else comes is escaped and cut.
fn quoted(text: &str) -> String {
    const MOST: usize = 120;
    let mut shown: String = text
        .chars()
        .take(MOST)
        .flat_map(char::escape_default)
        .collect();
    if text.chars().nth(MOST).is_some() {
        shown.push_str("...");
    }
    shown
}

/// Why no game reaches a position, in words.
fn impossible(kinds: PositionErrorKinds) -> String {
    let words = [
        (PositionErrorKinds::EMPTY_BOARD, tr!("the board is empty")),
        (PositionErrorKinds::MISSING_KING, tr!("a king is missing")),
        (
            PositionErrorKinds::TOO_MANY_KINGS,
            tr!("a side has more than one king"),
        ),
        (
            PositionErrorKinds::PAWNS_ON_BACKRANK,
            tr!("a pawn stands on the first or the last rank"),
        ),
        (
            PositionErrorKinds::INVALID_CASTLING_RIGHTS,
            tr!(
                "a castling right needs king and rook on their first squares (castling of Chess960 is not supported)"
            ),
        ),
        (
            PositionErrorKinds::OPPOSITE_CHECK,
            tr!("the side that is not to move stands in check"),
        ),
        (
            PositionErrorKinds::IMPOSSIBLE_CHECK,
            tr!("no move gives the check that stands on the board"),
        ),
        (
            PositionErrorKinds::TOO_MUCH_MATERIAL,
            tr!("a side has more men than pawns and promotions can give"),
        ),
    ];
    let told = words.iter().filter(|(kind, _)| kinds.contains(*kind));
    let told: Vec<&str> = told.map(|(_, why)| *why).collect();
    told.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_have_the_numbers_of_the_game() {
        let white = read_fen("8/8/8/8/8/8/8/K6k w - - 0 30").unwrap();
        let black = read_fen("8/8/8/8/8/8/8/K6k b - - 0 29").unwrap();
        assert_eq!(
            numbered(&white, &["Ke2", "Bg4+", "f3"]),
            "30.Ke2 Bg4+ 31.f3"
        );
        assert_eq!(
            numbered(&black, &["Nc2+", "Ke2", "Bg4+"]),
            "29...Nc2+ 30.Ke2 Bg4+"
        );
        assert_eq!(numbered::<&str>(&black, &[]), "");
        // 30.Ke2 and a pass of Black; 29...Nc2+ and a pass of White.
        let passed = white.clone();
        assert_eq!(numbered_after_pass(&passed, &["Ke3"]), "31.Ke3");
        assert_eq!(numbered_after_pass(&black, &["Nd4"]), "29...Nd4");
    }
}
