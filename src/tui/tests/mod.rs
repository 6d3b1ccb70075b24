//! Screens as (state, keys, state), and as they appear on a terminal of 80 by 24.

mod coach;
mod entry;
mod flow;
mod habits;
mod keys;
mod lists;
mod plain;
mod review;
mod rig;
mod secrets;
mod sight;
mod stream;
