//! The fitted curve, written by `foreply engine calibrate`; what it said:
//!
//! 8479 games of 60000 nodes a move, the scores of the games' own searches: 844584 positions,
//! each predicted by a curve fitted to the other nine tenths of the games.
//! Loss 0.8117, with the curve before 0.8174 (of the curve fitted to all 0.8114).
//!
//! | expected | made | off | positions | games |
//! | --- | --- | --- | --- | --- |
//! | 0.036 | 0.059 | +0.022 | 65738 | 3371 |
//! | 0.152 | 0.160 | +0.008 | 41544 | 3954 |
//! | 0.253 | 0.255 | +0.002 | 59164 | 5295 |
//! | 0.355 | 0.379 | +0.024 | 99812 | 6858 |
//! | 0.451 | 0.467 | +0.016 | 138296 | 6646 |
//! | 0.539 | 0.529 | -0.010 | 174133 | 6706 |
//! | 0.645 | 0.624 | -0.022 | 99863 | 6923 |
//! | 0.747 | 0.747 | +0.000 | 59187 | 5277 |
//! | 0.848 | 0.845 | -0.003 | 41221 | 3941 |
//! | 0.963 | 0.943 | -0.021 | 65626 | 3366 |
//!
//! Brier score 0.1034: reliability 0.0003, resolution 0.0543, uncertainty 0.1583
//! (the parts leave out the spread within a tenth).

/// Parameters of `wdl::Curve`.
pub const FITTED: [f64; 5] = [169.0, -103.5, 73.75, 37.25, 1242.0];
