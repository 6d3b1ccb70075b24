//! Screens as (state, keys, state), and as they appear on a terminal of 80 by 24.

mod blind_spots;
mod board_visibility;
mod browse;
mod coach;
mod flow;
mod harness;
mod no_hints_before_lock;
mod partial_review;
mod random_keys;
mod review;
mod window;
mod writing;
