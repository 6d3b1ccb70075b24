//! Many reviews as one table, a row for each student.

use super::Reviewed;
use crate::coach::{Student, students};
use crate::text::{dates_in, decimal, fit, safe};

/// Columns of what was seen of the coach's own trees.
const MODEL: usize = 13;
/// Columns of a name.
const NAME: usize = 22;

/// The students of the reviews; who is not named goes under his heading.
pub(super) fn of(reviews: &[Reviewed]) -> Vec<Student> {
    students(reviews.iter().map(|r| {
        let name = r.of.student.as_deref().unwrap_or(&r.of.heading);
        (name, &r.review, r.of.model.as_ref())
    }))
}

/// The table: trees, those that hold, half-moves needed, reached and sound, and what was missed most.
#[must_use]
pub fn desk(reviews: &[Reviewed]) -> String {
    let mut out = tr!(
        "{} trees  hold  needed  reached  sound  ",
        fit(tr!("Student"), NAME)
    );
    let students = of(reviews);
    let held = students.iter().any(|s| s.wanted.is_some());
    if held {
        out += &fit(tr!("the coach's"), MODEL);
    }
    out += tr!("missed\n");
    for student in &students {
        out += &row(student, held);
    }
    let model = match held {
        true => tr!("; the coach's: moves of his own trees that were written"),
        false => "",
    };
    out += &tr!(
        "\nHalf-moves are means of the trees with a choice{model}. A coach's judgement outranks an engine's number.\n"
    );
    out
}

fn row(student: &Student, held: bool) -> String {
    let mut kinds: Vec<_> = student.kinds.iter().collect();
    kinds.sort_by_key(|(kind, count)| (std::cmp::Reverse(**count), **kind));
    let struck = (student.struck > 0).then(|| tr!("struck by the coach {}", student.struck));
    let kinds: Vec<String> = kinds
        .iter()
        .map(|(k, n)| format!("{} {n}", k.label()))
        .chain(struck)
        .collect();
    let model = match (held, student.seen.zip(student.wanted)) {
        (false, _) => String::new(),
        (true, Some((seen, wanted))) => fit(&tr!("{seen} of {wanted}"), MODEL),
        (true, None) => fit("-", MODEL),
    };
    let figures = format!(
        "{} {:>5}  {:>4}  {:>6}  {:>7}  {:>5}  {model}",
        fit(&safe(&dates_in(&student.name)), NAME),
        student.trees,
        student.clean,
        decimal(student.needed, 1),
        decimal(student.reached, 1),
        decimal(student.sound, 1)
    );
    let mut kinds = kinds.into_iter();
    let mut out = format!(
        "{figures}{}\n",
        kinds.next().unwrap_or_else(|| "-".to_owned())
    );
    // A kind a line: the columns on the left belong to the student.
    for kind in kinds {
        out += &format!("{}{kind}\n", " ".repeat(figures.chars().count()));
    }
    out
}
