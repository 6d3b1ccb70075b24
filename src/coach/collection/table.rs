//! What came back from several students, as one table.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use serde::Serialize;

use super::points::{Point, Seen, seen};
use super::read::CollectedPosition;
use crate::board::{Line, PositionKey, line};
use crate::notation::{self, Reading};
use crate::review::Review;
use crate::tree::Tree;

/// One tree of a student's, with its review where the engine was asked.
#[derive(Debug, Clone, Copy)]
pub struct HandedIn<'a> {
    pub student: &'a str,
    pub tree: &'a Tree,
    pub review: Option<&'a Review>,
}

/// Who saw what of a collection.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct CollectionTable {
    pub positions: Vec<TablePosition>,
    /// In the order of their names.
    pub students: Vec<StudentRow>,
    /// What most missed first: by the number of students who came there and did not see it, then by those who did not
    /// see it at all, then as the collection has it.
    pub rows: Vec<Row>,
    /// True where the engine was asked too, so that rows of findings can be among them.
    pub judged: bool,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct TablePosition {
    /// From 1, in the order of the collection.
    pub number: usize,
    pub fen: String,
    /// Points of the coach's tree.
    pub points: usize,
    /// Students who handed it in.
    pub handed_in: usize,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct StudentRow {
    /// May come from a file.
    pub name: String,
    /// Positions that he handed in; of several trees to one the first counts.
    pub handed_in: usize,
    /// The numbers of those that he did not.
    pub missing: Vec<usize>,
    /// Points at the positions that he handed in, and how many of them he saw whole.
    pub points: usize,
    pub saw: usize,
    /// Trees of his to a position of which an earlier one counts.
    pub again: usize,
}

/// One point of the coach's tree, or one thing that the engine found, against all students.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Row {
    /// The position by its number.
    pub position: usize,
    #[serde(flatten)]
    pub of: RowOf,
    /// Students who came there.
    pub came: usize,
    /// Of those, who saw it whole.
    pub saw: usize,
    /// What each student saw, in the order of the students.
    pub marks: Vec<Mark>,
}

#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", tag = "of")]
pub enum RowOf {
    /// A point of the coach's tree.
    Point(Point),
    /// A finding of the engine's, by the kind and the move that was overlooked; it outranks no coach.
    Finding {
        /// The code of the kind of finding.
        kind: String,
        label: String,
        /// 'after 1.c7 Rd6+', where the first student has it.
        place: String,
        /// The move that was overlooked, in SAN.
        resource: String,
        /// What follows, with move numbers.
        line: String,
    },
}

/// What one student saw of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", tag = "mark")]
pub enum Mark {
    /// All of it.
    Saw,
    /// So many of its moves.
    Part { moves: usize },
    /// He came there and wrote none of it; of a finding, it was found in his tree.
    Missed,
    /// His lines do not come there.
    NotReached,
    /// It was not found in his tree, which may be because his lines do not come there.
    NotFound,
    /// He handed nothing in at this position.
    NotHandedIn,
}

impl Mark {
    const fn came(self) -> bool {
        matches!(self, Self::Saw | Self::Part { .. } | Self::Missed)
    }
}

/// Trees at other positions are passed over, and so are further ones of the same student at one position: what he saw
/// first is what he saw.
#[must_use]
pub fn table(collection: &[CollectedPosition], handed_in: &[HandedIn<'_>]) -> CollectionTable {
    let mut by_student: BTreeMap<&str, Student<'_>> = BTreeMap::new();
    for tree in handed_in {
        let student = by_student.entry(tree.student).or_default();
        let key = PositionKey::of(tree.tree.root().position());
        let Some(at) = collection.iter().position(|p| p.key() == key) else {
            continue;
        };
        match student.trees.entry(at) {
            Entry::Occupied(_) => student.again += 1,
            Entry::Vacant(first) => {
                first.insert(tree);
            }
        }
    }
    let students: Vec<(&str, Student<'_>)> = by_student.into_iter().collect();
    let mut rows: Vec<Row> = Vec::new();
    for (at, position) in collection.iter().enumerate() {
        rows.extend(of_points(at, position, &students));
        rows.extend(of_findings(at, position, &students));
    }
    rows.sort_by_key(|row| {
        let saw = row.marks.iter().filter(|m| **m == Mark::Saw).count();
        (std::cmp::Reverse(row.came - row.saw), saw)
    });
    let told = (1..).zip(collection).map(|(number, p)| TablePosition {
        number,
        fen: line::fen(p.tree.root().position()),
        points: p.points.len(),
        handed_in: students
            .iter()
            .filter(|(_, s)| s.trees.contains_key(&(number - 1)))
            .count(),
    });
    CollectionTable {
        positions: told.collect(),
        students: students
            .iter()
            .enumerate()
            .map(|(column, (name, of))| student(collection, &rows, column, (name, of)))
            .collect(),
        judged: handed_in.iter().any(|h| h.review.is_some()),
        rows,
    }
}

/// A student's trees by the place of their position in the collection.
#[derive(Default)]
struct Student<'a> {
    trees: BTreeMap<usize, &'a HandedIn<'a>>,
    again: usize,
}

fn student(
    collection: &[CollectedPosition],
    rows: &[Row],
    column: usize,
    (name, of): (&str, &Student<'_>),
) -> StudentRow {
    let points = rows.iter().filter(|r| matches!(r.of, RowOf::Point(_)));
    let marks = points.filter_map(|r| r.marks.get(column));
    let marks: Vec<&Mark> = marks.filter(|m| **m != Mark::NotHandedIn).collect();
    StudentRow {
        name: name.to_owned(),
        handed_in: of.trees.len(),
        missing: (0..collection.len())
            .filter(|at| !of.trees.contains_key(at))
            .map(|at| at + 1)
            .collect(),
        points: marks.len(),
        saw: marks.iter().filter(|m| ***m == Mark::Saw).count(),
        again: of.again,
    }
}

fn row(at: usize, of: RowOf, marks: Vec<Mark>) -> Row {
    Row {
        position: at + 1,
        of,
        came: marks.iter().filter(|m| m.came()).count(),
        saw: marks.iter().filter(|m| **m == Mark::Saw).count(),
        marks,
    }
}

fn of_points(
    at: usize,
    position: &CollectedPosition,
    students: &[(&str, Student<'_>)],
) -> Vec<Row> {
    let all: Vec<Option<Vec<Seen>>> = students
        .iter()
        .map(|(_, s)| {
            let tree = s.trees.get(&at)?;
            Some(seen(&position.points, &position.tree, tree.tree))
        })
        .collect();
    let points = position.points.iter().enumerate();
    points
        .map(|(number, point)| {
            let marks = all.iter().map(|of| match of {
                None => Mark::NotHandedIn,
                Some(seen) => match seen.get(number) {
                    Some(Seen::Whole) => Mark::Saw,
                    Some(Seen::Part(moves)) => Mark::Part { moves: *moves },
                    Some(Seen::Missed) => Mark::Missed,
                    Some(Seen::NotReached) | None => Mark::NotReached,
                },
            });
            row(at, RowOf::Point(point.clone()), marks.collect())
        })
        .collect()
}

/// What the engine found in at least one tree; the same oversight is the same kind with the same move.
fn of_findings(
    at: usize,
    position: &CollectedPosition,
    students: &[(&str, Student<'_>)],
) -> Vec<Row> {
    let mut rows: Vec<(String, String, Row)> = Vec::new();
    for (column, (_, student)) in students.iter().enumerate() {
        let review = student.trees.get(&at).and_then(|t| t.review);
        for finding in review.into_iter().flat_map(Review::counted) {
            let (code, resource) = (finding.kind.code(), &finding.resource);
            let known = rows
                .iter_mut()
                .find(|(kind, mv, _)| kind == code && mv == resource);
            let row = match known {
                Some((_, _, row)) => row,
                None => {
                    let marks = students.iter().map(|(_, s)| match s.trees.get(&at) {
                        Some(tree) if tree.review.is_some() => Mark::NotFound,
                        _ => Mark::NotHandedIn,
                    });
                    let of = found(position, finding);
                    rows.push((
                        code.to_owned(),
                        resource.clone(),
                        row(at, of, marks.collect()),
                    ));
                    match rows.last_mut() {
                        Some((_, _, row)) => row,
                        None => continue,
                    }
                }
            };
            if let Some(mark @ Mark::NotFound) = row.marks.get_mut(column) {
                *mark = Mark::Missed;
                row.came += 1;
            }
        }
    }
    rows.into_iter().map(|(_, _, row)| row).collect()
}

fn found(position: &CollectedPosition, finding: &crate::review::Finding) -> RowOf {
    let root = position.tree.root().position();
    let way = finding.paths.first().map_or(&[][..], Vec::as_slice);
    let place = match way {
        [] => tr!("in the position").to_owned(),
        way => tr!("after {}", line::numbered(root, way)),
    };
    RowOf::Finding {
        kind: finding.kind.code().to_owned(),
        label: finding.kind.label().to_owned(),
        place,
        resource: finding.resource.clone(),
        line: line::numbered(&reached(root, way), &finding.proof),
    }
}

/// The position behind a way of legal moves in SAN; as far as it can be gone.
fn reached(root: &shakmaty::Chess, way: &[String]) -> shakmaty::Chess {
    let mut at = Line::new(root.clone());
    for san in way {
        let reading = notation::parse(san).map(|token| notation::resolve(&token, &at));
        match reading {
            Ok(Reading::Legal(mv)) if at.push(&mv).is_ok() => {}
            _ => break,
        }
    }
    at.position().clone()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coach::collection::collected;
    use crate::tree::pgn;

    const START: &str = "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n";

    fn tree(moves: &str) -> Tree {
        let text = format!("{START}{moves} *\n");
        let game = pgn::games(&text).next().unwrap().unwrap();
        pgn::written_trees(&game).remove(0).tree
    }

    /// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory).
    #[test]
    fn what_most_missed_comes_first() {
        let model = format!(
            "{START}1. c7 Rd6+ 2. Kb5 (2. Kc5 Rd1) 2... Rd5+ 3. Kb4 *\n\n\
             [FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1\"]\n\n1. Kf2 Kf7 *\n"
        );
        let found = collected(&model);
        assert!(found.errors.is_empty(), "{:?}", found.errors);
        let trees = [
            ("Marrowby", tree("1. c7 Rd6+ 2. Kb5 Rd5+ 3. Kb4 (3. Kc4) ")),
            ("Pell", tree("1. c7 Rd6+ 2. Kb5 Rd5+")),
            ("Verrick", tree("1. Kb7")),
            ("Pell", tree("1. c7 Rd6+ 2. Kb5 Rd5+ 3. Kb4")),
        ];
        let handed_in: Vec<HandedIn<'_>> = trees
            .iter()
            .map(|(student, tree)| HandedIn {
                student,
                tree,
                review: None,
            })
            .collect();
        let table = table(&found.positions, &handed_in);
        let told: Vec<String> = table
            .rows
            .iter()
            .map(|r| {
                let RowOf::Point(point) = &r.of else {
                    panic!("{r:?}");
                };
                format!(
                    "{} {}: {} of {} {:?}",
                    r.position, point.line, r.saw, r.came, r.marks
                )
            })
            .collect();
        insta::assert_snapshot!(told.join("\n"), @r"
        1 2.Kc5 Rd1: 0 of 2 [Missed, Missed, NotReached]
        1 2.Kb5 Rd5+ 3.Kb4: 1 of 2 [Saw, Part { moves: 2 }, NotReached]
        1 1.c7 Rd6+: 2 of 3 [Saw, Saw, Missed]
        2 1.Kf2 Kf7: 0 of 0 [NotHandedIn, NotHandedIn, NotHandedIn]
        ");
        let students: Vec<_> = table
            .students
            .iter()
            .map(|s| (s.name.as_str(), s.handed_in, s.points, s.saw, s.again))
            .collect();
        assert_eq!(
            students,
            [
                ("Marrowby", 1, 3, 2, 0),
                ("Pell", 1, 3, 1, 1),
                ("Verrick", 1, 3, 0, 0)
            ]
        );
        assert_eq!(table.students[0].missing, [2]);
        assert_eq!(table.positions[1].handed_in, 0);
    }
}
