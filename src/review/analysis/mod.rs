//! TODO

pub mod choice_impact;
pub mod forcing_moves;
pub mod judge_client;
pub mod player_valuation;
pub mod proof_line;
pub mod refutation;
pub mod tree_analysis;
