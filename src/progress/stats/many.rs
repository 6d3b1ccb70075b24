//! Which of many tests may be believed.

/// True for each test that may be called positive when, of all that are, no more than the share `q` is
/// to be false on average (Y. Benjamini and Y. Hochberg, Controlling the false discovery rate, Journal
/// of the Royal Statistical Society B 57, 1995): the `k` smallest, `k` being the largest number with
/// p(k) <= q k / m.
#[must_use]
pub fn discoveries(p: &[f64], q: f64) -> Vec<bool> {
    let mut sorted: Vec<f64> = p.to_vec();
    sorted.sort_by(f64::total_cmp);
    let m = p.len() as f64;
    let passes = |(rank, p): &(usize, &f64)| **p <= q * (*rank as f64 + 1.0) / m;
    let bar = sorted
        .iter()
        .enumerate()
        .rev()
        .find(|at| passes(at))
        .map(|(_, p)| *p);
    p.iter().map(|p| bar.is_some_and(|bar| *p <= bar)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The worked example of the paper, section 3.2: fifteen hypotheses of a study on myocardial
    /// infarction; at .05 the four smallest are rejected (from memory).
    #[test]
    fn the_papers_example() {
        let p = [
            0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262,
            0.5719, 0.6528, 0.7590, 1.000,
        ];
        let found = discoveries(&p, 0.05);
        assert_eq!(found.iter().filter(|f| **f).count(), 4);
        assert!(found[..4].iter().all(|f| *f));
    }

    /// The procedure steps up: a small rank that fails does not stop a larger one that passes.
    #[test]
    fn it_steps_up() {
        assert_eq!(discoveries(&[0.04, 0.045, 0.049], 0.05), [true, true, true]);
        assert_eq!(discoveries(&[0.5, 0.02], 0.05), [false, true]);
        assert_eq!(discoveries(&[], 0.1), Vec::<bool>::new());
    }
}
