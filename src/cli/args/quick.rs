//! The arguments of `foreply quick`.

use super::form::PageTarget;

#[derive(Debug, clap::Args)]
pub(crate) struct QuickPage {
    #[command(flatten)]
    pub page: PageTarget,
}

pub(super) const QUICK: &str = "\
WHAT IT IS
  Positions of equal depth and difficulty (a ladder) under a clock that follows you: after one that you solve it
  becomes shorter by a ninth, after one that you do not it becomes longer by four tenths, so that it settles where
  you solve three of four (C. Kaernbach, weighted up-down method, 1991). Up to the first that you do not solve it
  shrinks faster. It begins where you solved three of four of such positions without a hurry, or with the time that
  they have of their own. It is a sitting as every other: written tree, lock, review. One rule more: when the clock
  is over no line is written any more; you choose and lock. Solved means what it means everywhere: the choice is as
  good as the best, and nothing counts against the tree.

WHAT IT TELLS
  Which time you need to solve three of four, with its 95 % interval, from 8 tries on; half-moves that were sound in
  a minute, week by week; which kinds of findings come of speed: those that you have more often here than in
  sittings without a hurry, at equal difficulty. A try that was not reviewed yet counts for nothing until it is. On
  the screens it is `s`, on the home screen and among the figures; a digit there opens the next position of that
  ladder. What you fail comes back later with its own time. What a ladder is of is told here and never before the
  lock. No race, no points, no streaks.

  Expect it to take its time: with invented players whose true time is known the interval held it in 97 of 100 runs
  and more, and its upper end was 17 times the lower one after 12 tries, 6.6 times after 24, 3.4 times after 48.
  From the 13th try on they solved 75 of 100 (`cargo test --lib quick`, 300 runs each).

EXAMPLES
  foreply practice --quick
  foreply practice --quick --ladder 3
  foreply quick --format html -o quick.html";
