//! Many reviews on one page: a row for each student.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::review::{FindingKind, Review};

/// What the reviews of one student say together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Student {
    pub name: String,
    pub trees: usize,
    /// Of those, trees that hold.
    pub clean: usize,
    /// Half-moves, each the mean of his trees with a choice; 0 where there is none.
    pub needed: f64,
    pub reached: f64,
    pub sound: f64,
    /// The counted findings by kind.
    pub kinds: BTreeMap<FindingKind, usize>,
}

/// The students in the order of their names.
#[must_use]
pub fn students<'a>(reviews: impl IntoIterator<Item = (&'a str, &'a Review)>) -> Vec<Student> {
    let mut by_name: BTreeMap<&str, Vec<&Review>> = BTreeMap::new();
    for (name, review) in reviews {
        by_name.entry(name).or_default().push(review);
    }
    by_name
        .into_iter()
        .map(|(name, of)| student(name, &of))
        .collect()
}

fn student(name: &str, reviews: &[&Review]) -> Student {
    let chosen: Vec<&&Review> = reviews.iter().filter(|r| r.choice.is_some()).collect();
    let mean = |of: fn(&Review) -> usize| {
        let sum: usize = chosen.iter().map(|r| of(r)).sum();
        ratio(sum, chosen.len())
    };
    let mut kinds = BTreeMap::new();
    for finding in reviews.iter().flat_map(|r| r.counted()) {
        *kinds.entry(finding.kind).or_default() += 1;
    }
    Student {
        name: name.to_owned(),
        trees: reviews.len(),
        clean: reviews.iter().filter(|r| r.is_clean()).count(),
        needed: mean(|r| r.depth.needed),
        reached: mean(|r| r.depth.reached),
        sound: mean(|r| r.depth.sound),
        kinds,
    }
}

fn ratio(sum: usize, of: usize) -> f64 {
    let number = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    number(sum) / number(of.max(1))
}
