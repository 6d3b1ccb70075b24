//! Draws by rule inside the tree.

use crate::engine::generate;
use crate::engine::position::Position;
use crate::engine::worker::Worker;

impl Worker {
    /// Whether the game is drawn here by rule, or as good as: a position that stood before in the
    /// searched line, or twice before in the game; fifty moves (FIDE Laws of Chess, articles 9.2 and
    /// 9.3); no material to mate with (5.2.2).
    pub(super) fn is_draw(&mut self, p: &Position, ply: usize) -> bool {
        if p.quiet_plies >= 100 {
            return !p.in_check() || self.has_legal(p);
        }
        self.repeats(p, ply) || p.is_dead()
    }

    fn has_legal(&mut self, p: &Position) -> bool {
        let start = self.moves.len();
        generate::legal(p, &mut self.moves);
        let any = self.moves.len() > start;
        self.moves.truncate(start);
        any
    }

    fn repeats(&self, p: &Position, ply: usize) -> bool {
        let last = self.keys.len() - 1;
        let back = usize::from(p.quiet_plies).min(last);
        let mut seen = 0;
        let mut distance = 4;
        while distance <= back {
            if self.keys[last - distance] == p.key {
                seen += 1;
                if distance <= ply || seen == 2 {
                    return true;
                }
            }
            distance += 2;
        }
        false
    }
}
