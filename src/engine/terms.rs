//! Names of everything the evaluation counts, each with its place in the list of weights.
//!
//! An evaluation is a sum of weight times count over these terms, White minus Black. Only the danger
//! to a king is not a plain sum: its terms add up to one number first, which is then squared.

macro_rules! layout {
    (@offsets $at:expr;) => {
        /// Number of weights.
        pub const COUNT: usize = $at;
    };
    (@offsets $at:expr; $(#[$doc:meta])* $name:ident $len:expr, $($rest:tt)*) => {
        $(#[$doc])*
        pub const $name: usize = $at;
        layout!(@offsets $at + $len; $($rest)*);
    };
    ($($(#[$doc:meta])* $name:ident $len:expr,)*) => {
        layout!(@offsets 0; $($(#[$doc])* $name $len,)*);
        /// Groups of weights: name and number, in the order of the list.
        pub const GROUPS: &[(&str, usize)] = &[$((stringify!($name), $len),)*];
    };
}

layout! {
    /// Pawn to queen.
    MATERIAL 5,
    /// Pawn to king, 32 squares each: files a to d by rank, the other wing mirrored.
    SQUARES 192,
    /// By number of squares reached in the mobility area.
    MOBILITY_KNIGHT 9,
    MOBILITY_BISHOP 14,
    MOBILITY_ROOK 15,
    MOBILITY_QUEEN 28,
    BISHOP_PAIR 1,
    /// On a square of ranks 4 to 6 that a pawn covers and no enemy pawn can ever attack.
    KNIGHT_OUTPOST 1,
    BISHOP_OUTPOST 1,
    /// A knight that can reach such a square.
    KNIGHT_NEAR_OUTPOST 1,
    /// A minor piece right behind a pawn of either side.
    MINOR_BEHIND_PAWN 1,
    /// Per own pawn on squares of the bishop's colour.
    BISHOP_OWN_PAWNS 1,
    /// Per pawn among those that is blocked and on the four centre files.
    BISHOP_BLOCKED_PAWNS 1,
    /// Both squares of a centre diagonal in sight.
    BISHOP_LONG_DIAGONAL 1,
    ROOK_OPEN_FILE 1,
    ROOK_HALF_OPEN_FILE 1,
    /// Few squares to go and shut in by the own king.
    ROOK_SHUT_IN 1,
    ROOK_ON_SEVENTH 1,
    /// A piece or pawn alone between the queen and an enemy bishop or rook.
    QUEEN_EXPOSED 1,
    /// Steps between a minor piece and the own king.
    KNIGHT_FROM_KING 1,
    BISHOP_FROM_KING 1,

    /// No own pawn on a neighbouring file: on a closed, on a half-open file.
    PAWN_ISOLATED 2,
    /// Cannot be covered by a pawn when it steps forward: on a closed, on a half-open file.
    PAWN_BACKWARD 2,
    PAWN_DOUBLED 1,
    /// By rank: a neighbour on the same rank; covered by a pawn.
    PAWN_PHALANX 8,
    PAWN_COVERED 8,
    /// By rank: on a half-open file with at least as many helpers as opponents.
    PAWN_CANDIDATE 8,
    /// By rank.
    PASSED 8,
    /// By rank: an enemy man stands right before it.
    PASSED_BLOCKED 8,
    /// By rank: no enemy attack on the way to promotion.
    PASSED_FREE 8,
    /// By rank: the next square is safe to enter.
    PASSED_CAN_STEP 8,
    PASSED_COVERED 8,
    /// From rank 4 on, by steps from the square before the pawn.
    PASSED_OWN_KING 8,
    PASSED_ENEMY_KING 8,
    /// A rook of the own or of the other side behind the passed pawn.
    PASSED_ROOK_BEHIND 1,
    PASSED_ROOK_AGAINST 1,
    /// Enemy king outside the square of the pawn and no enemy pieces.
    PASSED_OUTRUNS 1,

    /// A pawn attacks a knight, bishop, rook, queen.
    THREAT_BY_PAWN 4,
    /// A minor piece attacks a pawn, knight, bishop, rook, queen.
    THREAT_BY_MINOR 5,
    THREAT_BY_ROOK 5,
    THREAT_BY_KING 1,
    /// Attacked and not covered, or attacked twice and covered once.
    THREAT_HANGING 1,
    /// A pawn can step safely and will then attack a piece.
    THREAT_BY_PUSH 1,
    /// Squares of the enemy's reach that are contested.
    RESTRICTED 1,
    /// A knight can safely reach a square that attacks the queen; a slider likewise.
    THREAT_KNIGHT_ON_QUEEN 1,
    THREAT_SLIDER_ON_QUEEN 1,
    /// Safe squares of the own half on the centre files.
    SPACE 1,

    /// Nearest own pawn before the king by rank (0: none), for files by distance from the edge.
    SHELTER 28,
    /// Nearest enemy pawn before the king by rank (0: none): free to move, blocked by a pawn.
    STORM 16,
    KING_OPEN_FILE 1,
    KING_HALF_OPEN_FILE 1,
    /// No own pawn on the king's wing.
    KING_BARE_WING 1,

    /// Danger, always counted for the king's side: knights to queens that reach the king's zone.
    DANGER_ATTACKER 4,
    /// Attacks on the squares next to the king.
    DANGER_HITS 1,
    /// Squares of the zone that are attacked and covered by nothing but king or queen.
    DANGER_WEAK 1,
    /// Safe checks by knight to queen.
    DANGER_SAFE_CHECK 4,
    DANGER_UNSAFE_CHECK 1,
    DANGER_PINNED 1,
    DANGER_NO_QUEEN 1,
    DANGER_KNIGHT_NEAR 1,
    DANGER_BASE 1,

    /// The right to move; only White's counts, as for the side to move.
    TEMPO 1,
}
