//! The few statistics this program needs, as pure functions with their sources.
//!
//! Takes counts and numbers; gives rates with intervals ([`Rate`]), tests over strata ([`mantel`]),
//! the choice among many tests ([`many`]) and the score of forecasts ([`forecast`]). Each is held
//! against worked examples of the literature in its tests, and against independent implementations in
//! `tests/progress/statistics.rs`.

pub mod forecast;
pub mod mantel;
pub mod many;
pub mod randomisation;
mod rate;

pub use rate::{Interval, Rate, difference, mean, median};

/// The standard normal quantile of a two-sided 95 % interval.
pub const Z95: f64 = 1.959_963_984_540_054;

/// Probability that a standard normal variable exceeds `z`.
#[must_use]
pub fn upper_tail(z: f64) -> f64 {
    0.5 * libm::erfc(z / std::f64::consts::SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Textbook table of the normal distribution (common practice, no source).
    #[test]
    fn tails_of_the_normal_distribution() {
        for (z, p) in [
            (0.0, 0.5),
            (1.0, 0.158_655),
            (1.959_964, 0.025),
            (2.575_829, 0.005),
        ] {
            assert!((upper_tail(z) - p).abs() < 1e-6, "{z}");
            assert!((upper_tail(-z) - (1.0 - p)).abs() < 1e-6, "-{z}");
        }
    }
}
