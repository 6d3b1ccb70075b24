//! Trees as PGN: the movetext of the PGN standard 1994, in and out.
