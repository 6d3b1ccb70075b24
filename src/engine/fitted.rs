//! The fitted curve.
//!
//! Fitted by `foreply engine calibrate` to 125,000 positions of play-outs at 4,000 nodes a move, and
//! checked on 125,000 others:
//!
//! | expected | made | positions |   | expected | made | positions |
//! | --- | --- | --- | --- | --- | --- | --- |
//! | .047 | .059 | 8,050 |   | .541 | .542 | 29,850 |
//! | .149 | .151 | 6,013 |   | .643 | .640 | 13,306 |
//! | .253 | .239 | 7,149 |   | .747 | .755 | 7,225 |
//! | .357 | .351 | 13,022 |   | .850 | .840 | 6,161 |
//! | .455 | .450 | 26,846 |   | .952 | .936 | 7,378 |
//!
//! Brier score .1440: reliability .0001, resolution .0483, uncertainty .1932. Play-outs of more nodes
//! squander less: there the curve would be steeper.

/// Parameters of `wdl::Curve`.
pub const FITTED: [f64; 5] = [164.5, -105.5, 92.75, 156.25, 1244.0];
