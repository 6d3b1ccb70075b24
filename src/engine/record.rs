//! Positions with their outcome, packed into 28 bytes each: what tuning and calibration read.
//!
//! Layout, little endian: 8 bytes occupied squares; 16 bytes with one nibble per man in the order of
//! squares (kind plus eight times colour); 2 bytes score in centipawns, White's view; 1 byte turn
//! (bit 0) and White's points doubled (bits 1 and 2); 1 byte reserved. Castling and en passant are
//! left out, as no evaluation looks at them.

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
            };
            let back = Record::unpack(&record.pack()).unwrap();
            assert_eq!(
                (back.position.pawn_key, back.position.sum),
                (p.pawn_key, p.sum)
            );
            assert_eq!(
                (back.score, back.points, back.position.turn),
                (-123, 2, p.turn)
            );
        }
        assert!(Record::unpack(&[0xff; BYTES]).is_none());
        assert!(Record::unpack(&[0; BYTES]).is_none());
    }
}
