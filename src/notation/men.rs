//! The men and their names.

use shakmaty::Role;

/// The kinds of men in the order in which they are listed, the king first.
pub const MEN: [Role; 6] = [
    Role::King,
    Role::Queen,
    Role::Rook,
    Role::Bishop,
    Role::Knight,
    Role::Pawn,
];

/// The piece in words.
#[must_use]
pub fn piece(role: Role) -> &'static str {
    match role {
        Role::Pawn => tr!("pawn"),
        Role::Knight => tr!("knight"),
        Role::Bishop => tr!("bishop"),
        Role::Rook => tr!("rook"),
        Role::Queen => tr!("queen"),
        Role::King => tr!("king"),
    }
}
