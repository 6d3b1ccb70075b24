//! `foreply games`: own games, from PGN to the moments worth calculating.

mod clock;
mod import;
mod judging;
mod moments;
mod openings;
mod plan;
mod sheet;

use crate::cli::Failure;
use crate::cli::args::{Games, Global};

pub(crate) fn run(global: &Global, command: &Games) -> Result<(), Failure> {
    match command {
        Games::Add(args) => import::run(global, args),
        Games::Sheet(args) => sheet::run(global, args),
        Games::Moments(args) => moments::run(global, args),
        Games::Clock(args) => clock::run(global, args),
        Games::Openings(args) => openings::run(global, args),
        Games::Plan(args) => plan::run(global, args),
    }
}
