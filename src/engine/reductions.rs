//! How much less deeply late moves are searched.
//!
//! Late move reductions growing with the logarithms of depth and move number are common practice, no
//! source; they go back to history pruning (M. Winands et al., "Enhanced Forward Pruning", 2005).

/// Reductions in 1024ths of a half-move by depth and move number.
pub struct Reductions(Box<[[i32; 64]; 64]>);

/// Natural logarithms of 1 to 63 by series, from basic operations alone: equal on every machine.
fn logarithms() -> [f64; 64] {
    let mut log = [0.0; 64];
    for n in 2..64 {
        let x = 1.0 / (2.0 * n as f64 - 1.0);
        let (mut power, mut sum) = (x, 0.0);
        for k in 0..20 {
            sum += power / f64::from(2 * k + 1);
            power *= x * x;
        }
        log[n] = log[n - 1] + 2.0 * sum;
    }
    log
}

impl Default for Reductions {
    fn default() -> Reductions {
        let log = logarithms();
        let mut table = Box::new([[0; 64]; 64]);
        for (depth, row) in table.iter_mut().enumerate().skip(1) {
            for (number, value) in row.iter_mut().enumerate().skip(1) {
                *value = (1024.0 * (1.05 + log[depth] * log[number] / 1.8)) as i32;
            }
        }
        Reductions(table)
    }
}

impl Reductions {
    pub fn of(&self, depth: i32, number: usize) -> i32 {
        self.0[depth.clamp(0, 63) as usize][number.min(63)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn series_agrees_with_the_library_logarithm() {
        let log = logarithms();
        for (n, value) in log.iter().enumerate().skip(1) {
            assert!((value - (n as f64).ln()).abs() < 1e-12);
        }
    }
}
