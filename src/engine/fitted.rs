//! The fitted curve, written by `foreply engine calibrate`; what it said:
//!
//! 2761 games of 50000 nodes a move, the scores of the games' own searches: 134928 positions fitted,
//! 136999 of other games held out.
//! Loss of the held-out ones 0.7898, with the curve before 0.8794 (of the fitted ones 0.7850).
//!
//! | expected | made | off | positions | games |
//! | --- | --- | --- | --- | --- |
//! | 0.029 | 0.051 | +0.022 | 10436 | 534 |
//! | 0.151 | 0.116 | -0.035 | 5603 | 616 |
//! | 0.255 | 0.247 | -0.008 | 8138 | 802 |
//! | 0.357 | 0.361 | +0.004 | 15585 | 1102 |
//! | 0.455 | 0.456 | +0.000 | 27492 | 1164 |
//! | 0.541 | 0.543 | +0.002 | 30021 | 1167 |
//! | 0.643 | 0.642 | -0.001 | 15605 | 1099 |
//! | 0.745 | 0.757 | +0.011 | 8135 | 805 |
//! | 0.849 | 0.889 | +0.040 | 5552 | 609 |
//! | 0.971 | 0.950 | -0.021 | 10432 | 536 |
//!
//! Brier score 0.0994: reliability 0.0002, resolution 0.0559, uncertainty 0.1561
//! (the parts leave out the spread within a tenth).

/// Parameters of `wdl::Curve`.
pub const FITTED: [f64; 5] = [186.0, -108.5, 57.25, 88.25, 2309.0];
