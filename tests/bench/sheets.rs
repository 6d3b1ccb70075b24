//! Score sheets with planted slips of the pen: `cargo bench --bench sheets -- FILE.pgn [--sheets N] [--seed N] [--half 0|1] [--failures]`.
//!
//! Each game of the file gets one slip: a file or rank beside the right one, figures that look alike, another piece letter or
//! none, castling to the other side, a move pair or one move left out, moves written twice, two own moves in the other order,
//! a move that cannot be read. Prints for each kind how often the first reading of the list is the game that was played, and
//! how often it is among the eight that are listed. Sheets in which the slip does not show are passed over and counted: they
//! are games like any other. `--half` takes every second game alone, so that prices can be set on one half and told of the other;
//! `--failures` prints each sheet whose first reading is wrong, with what its readings cost. The files that were measured are never shipped.

use std::collections::BTreeMap;
use std::time::Instant;

use foreply::board::line::sans;
use foreply::games::sheet::{Fitted, fit, read};
use foreply::tree::pgn;
use shakmaty::Chess;

#[path = "../support/dice.rs"]
mod dice;
use dice::Dice;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let number = |name: &str, or: usize| {
        let at = words.iter().position(|w| w == name);
        at.and_then(|at| words.get(at + 1)?.parse().ok())
            .unwrap_or(or)
    };
    let Some(path) = words.iter().find(|w| w.ends_with(".pgn")) else {
        println!("left out: name a PGN file of games behind --");
        return;
    };
    let text = std::fs::read_to_string(path).unwrap();
    let games: Vec<Vec<String>> = pgn::games(&text)
        .filter_map(Result::ok)
        .filter(|g| g.start == Chess::default() && g.main_moves.len() >= 20)
        .map(|g| sans(&g.start, &g.main_moves))
        .collect();
    let half = number("--half", 2);
    let halves = games.into_iter().enumerate();
    let games: Vec<Vec<String>> = halves
        .filter(|(at, _)| half > 1 || at % 2 == half)
        .map(|(_, game)| game)
        .collect();
    let telling = words.iter().any(|w| w == "--failures");
    println!("{} games of twenty half-moves or more", games.len());
    let wanted = number("--sheets", 1000);
    let mut dice = Dice(number("--seed", 1) as u64);
    let mut by: BTreeMap<&str, [usize; 3]> = BTreeMap::new();
    let (mut shown, mut silent) = (0, 0);
    let mut took = Vec::new();
    for game in games.iter().cycle() {
        if shown == wanted {
            break;
        }
        let Some((kind, written)) = planted(&mut dice, game) else {
            continue;
        };
        let began = Instant::now();
        let fitted = fit(&read(&written.join(" ")).unwrap());
        took.push(began.elapsed().as_secs_f64());
        if fitted.misfit.is_none() {
            silent += 1;
            continue;
        }
        shown += 1;
        let rank = rank(&fitted, game);
        if telling && rank != Some(0) {
            failure(kind, &written, game, &fitted, rank);
        }
        let row = by.entry(kind).or_default();
        row[0] += 1;
        row[1] += usize::from(rank == Some(0));
        row[2] += usize::from(rank.is_some());
    }
    println!("{:<28}{:>7}{:>8}{:>8}", "slip", "sheets", "first", "among");
    let all = by
        .values()
        .fold([0; 3], |a, b| [a[0] + b[0], a[1] + b[1], a[2] + b[2]]);
    for (kind, row) in by.iter().map(|(k, r)| (*k, *r)).chain([("all", all)]) {
        println!(
            "{kind:<28}{:>7}{:>8.3}{:>8.3}",
            row[0],
            share(row[1], row[0]),
            share(row[2], row[0])
        );
    }
    took.sort_by(f64::total_cmp);
    println!(
        "{silent} slips did not show; {:.0} ms a sheet (median), {:.0} at worst",
        1e3 * took[took.len() / 2],
        1e3 * took[took.len() - 1]
    );
}

/// One sheet whose first reading is wrong.
fn failure(kind: &str, written: &[String], game: &[String], fitted: &Fitted, rank: Option<usize>) {
    let misfit = fitted.misfit.unwrap_or_default();
    let slip = written.iter().zip(game).position(|(w, g)| w != g);
    let slip = slip.unwrap_or_default();
    println!(
        "{kind}: slip at {slip} ({} for {}), shows at {misfit}, right reading {rank:?}",
        written[slip], game[slip]
    );
    let last = rank.map_or(1, |r| r + 1).max(2);
    for repair in fitted.repairs.iter().take(last) {
        let slips: Vec<String> = repair.slips.iter().map(|s| format!("{s:?}")).collect();
        println!("    {:.2}  {}", repair.cost, slips.join(" + "));
    }
}

fn share(part: usize, of: usize) -> f64 {
    part as f64 / of.max(1) as f64
}

fn rank(fitted: &Fitted, game: &[String]) -> Option<usize> {
    let is_it = |moves: &[shakmaty::Move]| sans(&Chess::default(), moves) == game;
    fitted.repairs.iter().position(|r| is_it(&r.moves))
}

/// A sheet with a slip; `None` where the one that was drawn does not apply to the move that was.
fn planted(dice: &mut Dice, game: &[String]) -> Option<(&'static str, Vec<String>)> {
    let mut sheet = game.to_vec();
    let at = dice.roll(game.len() - 3);
    let move_text = game[at].clone();
    let mut word: Vec<char> = move_text.chars().collect();
    let rank = word.iter().rposition(char::is_ascii_digit);
    let kind = match dice.roll(100) {
        0..36 => {
            let rank = rank?;
            let place = if dice.roll(2) == 0 { rank } else { rank - 1 };
            let by = if dice.roll(10) < 7 { 1 } else { 2 };
            let code = u32::from(word[place]);
            let moved = if dice.roll(2) == 0 {
                code + by
            } else {
                code - by
            };
            word[place] = char::from_u32(moved)?;
            if !('a'..='h').contains(&word[rank - 1]) || !('1'..='8').contains(&word[rank]) {
                return None;
            }
            sheet[at] = word.into_iter().collect();
            "square beside"
        }
        36..44 => {
            let rank = rank?;
            word[rank] = match word[rank] {
                '1' => '7',
                '7' => '1',
                '3' => '8',
                '8' => '3',
                '5' => '6',
                '6' => '5',
                _ => return None,
            };
            sheet[at] = word.into_iter().collect();
            "figure that looks alike"
        }
        44..60 => {
            let letter = dice.one(&["K", "Q", "R", "B", "N", ""]);
            if !"KQRBN".contains(word[0])
                || letter.starts_with(word[0])
                || (letter.is_empty() && word[1] == 'x')
            {
                return None;
            }
            sheet[at] = format!("{letter}{}", &move_text[1..]);
            "piece letter"
        }
        60..68 => {
            sheet[at] = match move_text.trim_end_matches(['+', '#']) {
                "O-O" => "O-O-O".to_owned(),
                "O-O-O" => "O-O".to_owned(),
                _ => return None,
            };
            "castling side"
        }
        68..76 => {
            sheet.insert(at + 1, move_text);
            "written twice"
        }
        76..84 => {
            if sheet[at] == sheet[at + 2] {
                return None;
            }
            sheet.swap(at, at + 2);
            "own moves in other order"
        }
        84..88 => {
            sheet.remove(at);
            "one move left out"
        }
        88..94 => {
            sheet.drain(at..at + 2);
            "a pair left out"
        }
        _ => {
            sheet[at] = "?".to_owned();
            "cannot be read"
        }
    };
    Some((kind, sheet))
}
