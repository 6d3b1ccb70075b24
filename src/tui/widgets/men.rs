//! The men as shapes of half blocks, for boards on which one character would be lost. The shapes are our own.

use shakmaty::Role;

/// Rows of points of one man, two of them to a row of characters; `#` is a point.
type Shape = &'static [&'static str];

const SMALL: [Shape; 6] = [
    &["     ", "     ", "  #  ", " ### ", "  #  ", " ### "],
    &["  ## ", " ### ", "#####", "# ###", "  ## ", " ####"],
    &["  #  ", " ### ", " ### ", "  #  ", " ### ", "#####"],
    &["## ##", "#####", " ### ", " ### ", "#####", "#####"],
    &["# # #", "# # #", "#####", " ### ", "  #  ", " ### "],
    &["  #  ", " ### ", "  #  ", "#####", " ### ", "#####"],
];

#[rustfmt::skip]
const MIDDLE: [Shape; 6] = [
    &["       ", "       ", "   #   ", "  ###  ", "  ###  ", "   #   ", "  ###  ", " ##### "],
    &["   ##  ", "  ###  ", " ##### ", "###### ", "## ### ", "  #### ", " ##### ", "#######"],
    &["   #   ", "  ###  ", " ## ## ", " ##### ", "  ###  ", "   #   ", "  ###  ", "#######"],
    &["## # ##", "#######", " ##### ", "  ###  ", "  ###  ", "  ###  ", " ##### ", "#######"],
    &["#  #  #", "#  #  #", "## # ##", "#######", " ##### ", "  ###  ", " ##### ", "#######"],
    &["   #   ", "  ###  ", "   #   ", " ## ## ", "#######", " ##### ", "  ###  ", "#######"],
];

#[rustfmt::skip]
const LARGE: [Shape; 6] = [
    &["         ", "         ", "    #    ", "   ###   ", "   ###   ", "    #    ", "   ###   ", "   ###   ", "  #####  ", " ####### "],
    &["    ##   ", "   ####  ", "  ###### ", " ####### ", "######## ", "##  #### ", "   ##### ", "  #####  ", " ####### ", "#########"],
    &["    #    ", "   ###   ", "  ## ##  ", "  ## ##  ", "  #####  ", "   ###   ", "    #    ", "   ###   ", "  #####  ", "#########"],
    &[" ## # ## ", " ####### ", "  #####  ", "   ###   ", "   ###   ", "   ###   ", "   ###   ", "  #####  ", " ####### ", "#########"],
    &["#   #   #", "##  #  ##", "##  #  ##", "### # ###", " ####### ", " ####### ", "  #####  ", "   ###   ", "  #####  ", "#########"],
    &["    #    ", "   ###   ", "    #    ", " ### ### ", "#########", "#########", " ####### ", "  #####  ", "  #####  ", "#########"],
];

/// The man in so many rows of characters, each two columns narrower than a square of that height; `None` where
/// there is no shape of that size.
#[must_use]
pub fn drawn(role: Role, rows: usize) -> Option<Vec<String>> {
    let shapes = match rows {
        3 => &SMALL,
        4 => &MIDDLE,
        5 => &LARGE,
        _ => return None,
    };
    let [pawn, knight, bishop, rook, queen, king] = shapes;
    let points = match role {
        Role::Pawn => pawn,
        Role::Knight => knight,
        Role::Bishop => bishop,
        Role::Rook => rook,
        Role::Queen => queen,
        Role::King => king,
    };
    Some(points.chunks(2).map(row).collect())
}

/// Two rows of points as one row of characters.
fn row(points: &[&str]) -> String {
    let [upper, lower] = points else {
        return String::new();
    };
    let pairs = upper.chars().zip(lower.chars());
    pairs
        .map(|pair| match pair {
            ('#', '#') => '█',
            ('#', _) => '▀',
            (_, '#') => '▄',
            _ => ' ',
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every man has a shape of its own, and all of one size are as wide and as high as their square allows.
    #[test]
    fn every_man_can_be_told_from_the_others() {
        for (rows, width) in [(3, 5), (4, 7), (5, 9)] {
            let men: Vec<Vec<String>> = Role::ALL
                .into_iter()
                .map(|role| drawn(role, rows).unwrap())
                .collect();
            for (i, man) in men.iter().enumerate() {
                assert_eq!(man.len(), rows);
                assert!(man.iter().all(|row| row.chars().count() == width));
                assert!(men.iter().skip(i + 1).all(|other| other != man));
            }
        }
        assert_eq!(drawn(Role::King, 1), None);
    }
}
