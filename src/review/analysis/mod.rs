//! The judge on the tree: what is asked, and what is known then.
//!
//! In comes what was written and the judge; out comes a [`TreeAnalysis`](tree_analysis::TreeAnalysis): every
//! written position with its scored moves, what the opponent threatened, and what the player's own verdicts
//! make of it all. [`stages`] says in which order the judge is asked, [`judge_client`] alone calls it.
//! [`player_valuation`] and [`choice_impact`] read the finished analysis, [`proof_line`] and [`settling`]
//! follow single lines.
//!
//! Nothing in here must know what a finding is, whether one counts, or how anything is worded.

pub mod choice_impact;
pub mod joined;
pub mod judge_client;
pub mod one_by_one;
pub mod player_valuation;
pub mod point;
pub mod position;
pub mod proof_line;
pub mod refutation;
pub mod settling;
pub mod stages;
pub mod tree_analysis;
