//! What is told of a coach's table. A coach is at the command line or at a page; the screens are his students'.

use super::{Empty, Surface, any_of, elsewhere, held, value};
use crate::coach::collection::{
    CollectionTable, Mark, Row, RowOf, StudentRow, TablePosition, collected,
};
use crate::report;

use Surface::{Html, Json, Text};

const PEOPLE: &[Surface] = &[Text, Html];

#[test]
fn a_coachs_table_reaches_every_surface() {
    let pgn = "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n1. c7 Rd6+ (1... Kb2 2. c8=Q) 2. Kb5 $18 {zqwords} *\n";
    let point = collected(pgn).positions.remove(0).points.remove(1);
    let finding = RowOf::Finding {
        kind: "zqkind".to_owned(),
        label: "zqlabel".to_owned(),
        place: "zqplace".to_owned(),
        resource: "zqresource".to_owned(),
        line: "zqline zqresource".to_owned(),
    };
    let row = |position, of, came, saw, marks| Row {
        position,
        of,
        came,
        saw,
        marks,
    };
    let table = CollectionTable {
        positions: vec![
            TablePosition {
                number: 1,
                fen: "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1".to_owned(),
                points: 1_301,
                handed_in: 2,
            },
            TablePosition {
                number: 1_303,
                fen: "7K/8/k1P5/7p/8/8/8/8 w - - 0 1".to_owned(),
                points: 1_307,
                handed_in: 0,
            },
        ],
        students: vec![StudentRow {
            name: "Zqstudent".to_owned(),
            handed_in: 1_319,
            missing: vec![1_321],
            points: 1_327,
            saw: 1_361,
            again: 1_367,
        }],
        rows: vec![
            row(
                1_373,
                RowOf::Point(point.clone()),
                1_381,
                1_399,
                vec![Mark::Part { moves: 1_409 }],
            ),
            row(1_423, finding, 1_427, 0, vec![Mark::Missed]),
            row(1, RowOf::Point(point), 1, 1, vec![Mark::Saw]),
            row(
                1,
                RowOf::Point(collected(pgn).positions.remove(0).points.remove(0)),
                0,
                0,
                vec![Mark::NotReached],
            ),
        ],
        judged: true,
    };
    // Taken apart without `..`: a new value is met here first.
    let CollectionTable {
        positions,
        students,
        rows,
        judged: _,
    } = &table;
    let TablePosition {
        number,
        fen,
        points: in_position,
        handed_in: _,
    } = &positions[1];
    let StudentRow {
        name,
        handed_in,
        missing,
        points,
        saw,
        again,
    } = &students[0];
    let Row {
        position,
        of: _,
        came,
        saw: row_saw,
        marks: _,
    } = &rows[0];
    let values = vec![
        value("number of a position that nobody handed in", number),
        any_of("board", &[fen.as_str(), "<figure class=\"small\">"]),
        value("points of a position", in_position),
        value("name", name),
        value("handed in", handed_in),
        value("missing", missing[0]),
        value("points", points),
        value("saw", saw),
        value("again", again),
        value("position of a row", position),
        value("came", came),
        value("row saw", row_saw),
        any_of("moves of a part", &["1409", "~"]),
        any_of("line of a point", &["1...Rd6+ 2.Kb5"]),
        value("place of a point", "after 1.c7"),
        value("verdict of a point", "+-"),
        value("words of a point", "zqwords"),
        value("position of a finding", 1_423),
        value("came to a finding", 1_427),
        value("kind", "zqkind"),
        value("label", "zqlabel"),
        value("place", "zqplace"),
        value("resource", "zqresource"),
        value("line", "zqline"),
        any_of("seen", &["saw", "+"]),
        any_of("not reached", &["not reached", "not-reached", "."]),
        any_of("the engine is outranked", &["outranks", "\"judged\": true"]),
    ];
    let shown = || {
        vec![
            (Text, report::collection_text("zqcollection", &table)),
            (
                Html,
                report::collection_html("zqcollection", &table).unwrap(),
            ),
            (
                Json,
                report::collection_json("zqcollection", &table).unwrap(),
            ),
        ]
    };
    let empty: &[Empty] = &[
        (
            "board",
            &[Text],
            "boards are for a page; the coach has the position in his file",
        ),
        (
            "points of a position",
            PEOPLE,
            "each student's line has them",
        ),
        ("kind", PEOPLE, "for programs; people have the label"),
    ];
    held(&values, &shown(), empty);
    elsewhere(&shown);
}
