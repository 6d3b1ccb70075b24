//! `foreply games`: own games, from PGN to the moments worth calculating.

mod account;
mod clock;
mod event;
mod import;
mod judging;
mod list;
mod moments;
mod openings;
mod opponent;
mod plan;
mod prepare;
mod recall;
mod sheet;

use crate::cli::Failure;
use crate::cli::args::{Games, Global};

pub(crate) fn run(global: &Global, command: &Games) -> Result<(), Failure> {
    match command {
        Games::Add(args) => import::run(global, args),
        Games::Sheet(args) => sheet::run(global, args),
        Games::List(args) => list::run(global, args),
        Games::Account(args) => account::run(global, args),
        Games::Event(args) => event::run(global, args),
        Games::Opponent(args) => opponent::run(global, args),
        Games::Prepare(args) => prepare::run(global, args),
        Games::Recall(args) => recall::run(global, args),
        Games::Moments(args) => moments::run(global, args),
        Games::Clock(args) => clock::run(global, args),
        Games::Openings(args) => openings::run(global, args),
        Games::Plan(args) => plan::run(global, args),
    }
}
