//! The one integration binary: everything that needs the whole house, or the program itself.

mod cli;
mod coach;
mod docs;
mod drills;
mod edges;
mod engine;
mod first_home;
mod games;
mod hostile;
mod judge;
mod judge_own;
mod keeping;
mod ladder;
mod layers;
mod pgn;
mod playout;
mod progress;
mod published;
mod safety;
mod screen_imports;
mod screens;
mod standards;
mod stored_names;
mod supply;
mod support;
mod worked;
