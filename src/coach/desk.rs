//! Many reviews on one page: a row for each student.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Model;
use crate::review::{FindingKind, FindingStatus, Review};

/// What the reviews of one student say together.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
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
    /// Moves of the coach's own trees at these positions, and how many of them were written; `None` where he gave no
    /// tree at any.
    pub wanted: Option<usize>,
    pub seen: Option<usize>,
    /// Findings that a coach struck; they are not among the kinds.
    pub struck: usize,
}

/// A review, and the tree held against the coach's own where he gave one.
type Tree<'a> = (&'a Review, Option<&'a Model>);

/// The students in the order of their names.
#[must_use]
pub fn students<'a>(
    reviews: impl IntoIterator<Item = (&'a str, &'a Review, Option<&'a Model>)>,
) -> Vec<Student> {
    let mut by_name: BTreeMap<&str, Vec<Tree<'a>>> = BTreeMap::new();
    for (name, review, model) in reviews {
        by_name.entry(name).or_default().push((review, model));
    }
    by_name
        .into_iter()
        .map(|(name, of)| student(name, &of))
        .collect()
}

fn student(name: &str, trees: &[Tree<'_>]) -> Student {
    let reviews: Vec<&Review> = trees.iter().map(|(review, _)| *review).collect();
    let models = || trees.iter().filter_map(|(_, model)| *model);
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
        wanted: models().map(|m| m.wanted).reduce(|a, b| a + b),
        seen: models().map(|m| m.seen).reduce(|a, b| a + b),
        struck: reviews
            .iter()
            .flat_map(|r| &r.findings)
            .filter(|f| f.class == FindingStatus::Overruled)
            .count(),
    }
}

fn ratio(sum: usize, of: usize) -> f64 {
    let number = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    number(sum) / number(of.max(1))
}
