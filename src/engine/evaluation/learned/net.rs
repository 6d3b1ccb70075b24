//! The numbers of the network, and the form of the file that holds them.
//!
//! `net.bin`, little endian, all after each other:
//!
//! | bytes | what |
//! | --- | --- |
//! | 8 | `FORENET1` |
//! | 2 x 4 | width W; groups of king squares G (1); groups of outputs O (8); 1: clamped and squared |
//! | 2 x 4 | QA: one in the hidden layer (255); QB: one in the output weights (64); centipawns an output of one is worth (200); 0 |
//! | 64 | group of king squares by square, as that side sees it (all 0) |
//! | 2 x 768 x W | input weights times QA; input = 384 (a man of the other side) + 64 kind + square |
//! | 2 x W | hidden biases times QA |
//! | 2 x O x 2 x W | output weights times QB, the side to move first |
//! | 4 x O | output biases times QA QB |
//!
//! The value is `(sum(h h w) / QA + bias) centipawns / (QA QB)` with `h` a sum clamped to 0 to QA and both
//! divisions towards zero. Weights stay within [`MOST_INPUT`] and [`MOST_OUTPUT`], so sums of 32 men fit
//! 16 bits and so does `h w`; a test holds the file to it.

use std::sync::LazyLock;

use wide::i16x8;

const BYTES: &[u8] = include_bytes!("net.bin");

/// A word of the header, read when the program is compiled.
const fn word(at: usize) -> usize {
    BYTES[at] as usize | (BYTES[at + 1] as usize) << 8
}

pub const WIDTH: usize = word(8);
pub const QA: i32 = word(16) as i32;
pub const QB: i32 = word(18) as i32;
/// Centipawns that an output of one is worth.
pub const SCALE: i32 = word(20) as i32;
pub const INPUTS: usize = 768;
pub const GROUPS: usize = 8;
const HEADER: usize = 24 + 64;
const LENGTH: usize = HEADER + 2 * WIDTH * (INPUTS + 1 + 2 * GROUPS) + 4 * GROUPS;

/// What the trainer clips weights to.
#[cfg(test)]
pub const MOST_INPUT: i32 = 505;
#[cfg(test)]
pub const MOST_OUTPUT: i32 = 127;

// A file of another form must not be compiled in: its numbers would be read as something else.
const _: () = {
    assert!(
        BYTES.len() == LENGTH,
        "net.bin is not as long as its header says"
    );
    let magic = *b"FORENET1";
    let mut i = 0;
    while i < 8 {
        assert!(BYTES[i] == magic[i], "net.bin does not begin with FORENET1");
        i += 1;
    }
    assert!(
        word(10) == 1 && word(12) == GROUPS && word(14) == 1 && word(22) == 0,
        "net.bin is of a shape that this program does not compute"
    );
    assert!(
        QA == 255 && QB == 64 && SCALE > 0,
        "net.bin is of another scale"
    );
};

/// Numbers that the processor takes at once.
const LANE: usize = 8;

/// One number for each unit of the hidden layer.
#[derive(Clone)]
#[repr(C, align(64))]
pub struct Row(pub [i16x8; WIDTH / LANE]);

impl Row {
    #[cfg(test)]
    pub fn numbers(&self) -> impl Iterator<Item = i16> {
        self.0.iter().flat_map(|lane| lane.to_array())
    }
}

pub struct Net {
    pub inputs: Vec<Row>,
    pub bias: Row,
    /// By group of the number of men: for the side to move, and for the other.
    pub output: [[Row; 2]; GROUPS],
    pub output_bias: [i32; GROUPS],
}

pub static NET: LazyLock<Net> = LazyLock::new(|| {
    let (words, _) = BYTES[HEADER..].as_chunks::<2>();
    let mut words = words.iter().map(|w| i16::from_le_bytes(*w));
    // The length is checked above: there is always a next one.
    let mut lane = || i16x8::new(std::array::from_fn(|_| words.next().unwrap_or(0)));
    let mut row = || Row(std::array::from_fn(|_| lane()));
    let (biases, _) = BYTES[LENGTH - 4 * GROUPS..].as_chunks::<4>();
    Net {
        inputs: (0..INPUTS).map(|_| row()).collect(),
        bias: row(),
        output: std::array::from_fn(|_| [row(), row()]),
        output_bias: std::array::from_fn(|i| i32::from_le_bytes(biases[i])),
    }
});

/// Which output weights count with so many men on the board.
pub fn group(men: usize) -> usize {
    (men.max(2) - 2).min(4 * GROUPS - 1) / 4
}
