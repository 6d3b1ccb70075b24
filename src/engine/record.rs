//! Positions with their outcome, packed into 28 bytes each: what tuning and calibration read.
//!
//! Layout, little endian: 8 bytes occupied squares; 16 bytes with one nibble per man in the order of
//! squares (kind plus eight times colour); 2 bytes score in centipawns, White's view; 1 byte turn
//! (bit 0) and White's points doubled (bits 1 and 2); 1 byte with bit 0 set if the position is not
//! quiet (check, or the best move captures or promotes). Castling and en passant are left out, as no
//! evaluation looks at them.
//!
//! After the positions of a game stands its end: 8 bytes zero (no board), 8 bytes number of the game,
//! 8 bytes nodes per move, 4 bytes zero. A game whose opening was refused has an end alone.

use shakmaty::Bitboard;

use super::position::Position;

pub const BYTES: usize = 28;

/// A position, the score a search gave it, and how its game ended.
#[derive(Clone, Copy)]
pub struct Record {
    pub position: Position,
    /// Centipawns, White's view.
    pub score: i32,
    /// White's points doubled: 0, 1 or 2.
    pub points: u8,
    /// Neither in check nor with a capture or promotion as best move.
    pub quiet: bool,
}

/// What stands after the positions of a game.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct End {
    pub game: u64,
    /// Nodes per move.
    pub nodes: u64,
}

impl End {
    pub fn pack(self) -> [u8; BYTES] {
        let mut bytes = [0; BYTES];
        bytes[8..16].copy_from_slice(&self.game.to_le_bytes());
        bytes[16..24].copy_from_slice(&self.nodes.to_le_bytes());
        bytes
    }

    /// `None` if the bytes are a position.
    pub fn unpack(bytes: &[u8; BYTES]) -> Option<End> {
        let word = |at: usize| Some(u64::from_le_bytes(bytes.get(at..at + 8)?.try_into().ok()?));
        (word(0)? == 0).then_some(End {
            game: word(8)?,
            nodes: word(16)?,
        })
    }
}

impl Record {
    pub fn pack(&self) -> [u8; BYTES] {
        let mut bytes = [0; BYTES];
        let occupied = self.position.occupied();
        bytes[..8].copy_from_slice(&occupied.0.to_le_bytes());
        for (i, square) in occupied.into_iter().enumerate().take(32) {
            bytes[8 + i / 2] |= self.position.on(square) << (4 * (i & 1));
        }
        bytes[24..26].copy_from_slice(&(self.score.clamp(-32_000, 32_000) as i16).to_le_bytes());
        bytes[26] = self.position.turn as u8 | self.points << 1;
        bytes[27] = u8::from(!self.quiet);
        bytes
    }

    /// `None` unless the bytes are a board with one king each and pawns on their ranks.
    pub fn unpack(bytes: &[u8; BYTES]) -> Option<Record> {
        let (head, tail) = bytes.split_at(8);
        let occupied = Bitboard(u64::from_le_bytes(head.try_into().ok()?));
        if occupied.count() > 32 {
            return None;
        }
        let men = occupied
            .into_iter()
            .enumerate()
            .map(|(i, s)| (s, tail[i / 2] >> (4 * (i & 1)) & 15));
        let position = Position::from_men(men, usize::from(bytes[26] & 1))?;
        let score = i32::from(i16::from_le_bytes([bytes[24], bytes[25]]));
        let points = bytes[26] >> 1 & 3;
        (points < 3).then_some(Record {
            position,
            score,
            points,
            quiet: bytes[27] & 1 == 0,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packing_keeps_the_board() {
        for p in super::super::bench::positions() {
            let record = Record {
                position: p,
                score: -123,
                points: 2,
                quiet: false,
            };
            let back = Record::unpack(&record.pack()).unwrap();
            let men = |p: &Position| [p.side(0), p.side(1)];
            assert_eq!(back.position.pawn_key, p.pawn_key);
            assert_eq!(men(&back.position), men(&p));
            assert_eq!(
                (back.score, back.points, back.position.turn),
                (-123, 2, p.turn)
            );
            assert!(!back.quiet);
            assert_eq!(End::unpack(&record.pack()), None);
        }
        assert!(Record::unpack(&[0xff; BYTES]).is_none());
        assert!(Record::unpack(&[0; BYTES]).is_none());
        let end = End {
            game: 7,
            nodes: 100_000,
        };
        assert_eq!(End::unpack(&end.pack()), Some(end));
        assert!(Record::unpack(&end.pack()).is_none());
    }
}
