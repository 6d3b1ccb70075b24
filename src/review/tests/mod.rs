//! Reviews against a judge whose answers are given, so that each condition can be tested by itself.

mod ahead;
mod choice_impact;
mod end_card;
mod findings;
mod fixture;
mod foreseen;
mod illegal_move;
mod last_board;
mod notes;
mod one_by_one;
mod partial;
mod patterns;
mod recheck;
mod sentences;
mod telling;
mod trials;
mod twins;
