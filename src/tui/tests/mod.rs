//! Screens as (state, keys, state), and as they appear on a terminal of 80 by 24.

mod all_screens;
mod blind_spots;
mod board_visibility;
mod browse;
mod centre;
mod coach;
mod flow;
mod games;
mod harness;
mod letters;
mod no_hints_before_lock;
mod own_games;
mod partial_review;
pub(crate) mod past_the_locale;
mod quick;
mod random_keys;
mod review;
mod sheets;
pub(crate) mod surfaces;
mod window;
mod writing;
