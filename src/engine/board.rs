//! What the engine takes from the program's board: its one generator of numbers, in the program's own file.

#[path = "../board/random.rs"]
pub mod random;
