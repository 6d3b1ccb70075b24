//! Written trees for the tests of this room.

use crate::board::{Line, line};
use crate::tree::{Author, NodeId, Tree};

/// Lines written in F. Saavedra's position (after G. E. Barbier, Glasgow Weekly Citizen, 1895).
pub(super) fn saavedra(lines: &[&str]) -> Tree {
    let root = line::read_fen("8/8/1KP5/3r4/8/8/8/k7 w - - 0 1").unwrap();
    let mut tree = Tree::new(Line::new(root));
    for line in lines {
        let mut at = NodeId::ROOT;
        for mv in line.split(' ') {
            at = tree.add(at, mv, Author::Player, 0).unwrap();
        }
    }
    tree
}
