//! Score sheets: slips of the pen planted into games, and the command.

use foreply::board::line::san;
use foreply::games::sheet::{fit, read};
use shakmaty::{Chess, Move, Position};

use crate::support::Program;
use crate::support::dice::Dice;

/// A game of moves that look like moves: what wins material is taken, else any move that loses none.
fn game(dice: &mut Dice) -> Vec<String> {
    let mut pos = Chess::default();
    let mut sans = Vec::new();
    while sans.len() < 70 && !pos.is_game_over() {
        let legal = pos.legal_moves();
        let gain = |mv: &Move| foreply::board::exchange::after_move(&pos, mv);
        let calm: Vec<&Move> = legal.iter().filter(|mv| gain(mv) >= 0).collect();
        let best = legal.iter().max_by_key(|mv| gain(mv)).unwrap();
        let mv = match gain(best) {
            1.. => best.clone(),
            _ if calm.is_empty() => legal[dice.roll(legal.len())].clone(),
            _ => calm[dice.roll(calm.len())].clone(),
        };
        sans.push(san(&pos, &mv));
        pos.play_unchecked(&mv);
    }
    sans
}

/// Plants one slip; `None` where it does not apply to the move that was drawn.
fn planted(dice: &mut Dice, sans: &[String]) -> Option<Vec<String>> {
    let mut sheet = sans.to_vec();
    let at = dice.roll(sans.len() - 3);
    let mut word: Vec<char> = sans[at].chars().collect();
    let rank = word.iter().rposition(char::is_ascii_digit);
    match dice.roll(5) {
        // A file or a rank beside the right one.
        0 | 1 => {
            let rank = rank?;
            let place = if dice.roll(2) == 0 { rank } else { rank - 1 };
            let step = if dice.roll(2) == 0 { 1 } else { u32::MAX };
            word[place] = char::from_u32((word[place] as u32).wrapping_add(step))?;
            let inside = ('a'..='h').contains(&word[rank - 1]) && ('1'..='8').contains(&word[rank]);
            sheet[at] = word.into_iter().collect();
            inside.then_some(sheet)
        }
        // Another piece letter.
        2 => {
            let letter = dice.one(&["K", "Q", "R", "B", "N"]);
            let same = letter.starts_with(word[0]);
            if !word[0].is_ascii_uppercase() || word[0] == 'O' || same {
                return None;
            }
            sheet[at] = format!("{letter}{}", &sans[at][1..]);
            Some(sheet)
        }
        // Written twice.
        3 => {
            sheet.insert(at + 1, sans[at].clone());
            Some(sheet)
        }
        // Two own moves in the wrong order.
        _ => {
            sheet.swap(at, at + 2);
            (sheet[at] != sans[at]).then_some(sheet)
        }
    }
}

/// A slip that shows is found, and the right reading is the first in nearly all. The games are random, so that every move is
/// as likely as the right one: games of people are easier (`cargo bench --bench sheets -- FILE.pgn`).
#[test]
fn planted_slips_are_found() {
    let mut dice = Dice(5);
    let (mut shown, mut first, mut among) = (0, 0, 0);
    while shown < 60 {
        let sans = game(&mut dice);
        if sans.len() < 20 {
            continue;
        }
        let Some(written) = planted(&mut dice, &sans) else {
            continue;
        };
        let sheet = read(&written.join(" ")).unwrap();
        let fitted = fit(&sheet);
        if fitted.misfit.is_none() {
            continue;
        }
        shown += 1;
        let right = |r: &foreply::games::sheet::Repair| {
            foreply::board::line::sans(&Chess::default(), &r.moves) == sans
        };
        let rank = fitted.repairs.iter().position(right);
        first += usize::from(rank == Some(0));
        among += usize::from(rank.is_some());
        // Whatever is offered is a game, and explains every word.
        for repair in &fitted.repairs {
            assert_eq!(repair.fits, sheet.entries.len());
            let mut pos = Chess::default();
            for mv in &repair.moves {
                assert!(pos.is_legal(mv));
                pos.play_unchecked(mv);
            }
        }
    }
    assert!(
        first >= 45 && among >= 54,
        "first {first}, among them {among} of {shown}"
    );
}

#[test]
fn a_sheet_that_fits_becomes_a_game_that_can_be_added() {
    let program = Program::new();
    let sheet = "White: Verrick, Ansa\nBlack: Pell, Doran\nEvent: Harrowmere Chess League\nDate: 2026.02.14\n\
                 1. e4 e5 2. Ng1-f3 0:58 Nc6 0:57:30\n3 d4 exd4 4 Nxd4 Nf6\n5 Qg4 Ng4 0-1\n";
    let file = program.file("round.txt", sheet);
    let pgn = program.out("round.pgn");
    let pgn = pgn.to_str().unwrap();
    let ran = program.run(&["games", "sheet", &file, "-o", pgn]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    insta::assert_snapshot!(ran.out.trim_end(), @"The sheet fits: 5 moves.");
    insta::assert_snapshot!(std::fs::read_to_string(pgn).unwrap(), @r#"
    [Event "Harrowmere Chess League"]
    [Site "?"]
    [Date "2026.02.14"]
    [Round "?"]
    [White "Verrick, Ansa"]
    [Black "Pell, Doran"]
    [Result "0-1"]

    1. e4 e5 2. Nf3 {[%clk 0:58:00]} 2... Nc6 {[%clk 0:57:30]} 3. d4 exd4 4. Nxd4
    Nf6 5. Qg4 Nxg4 0-1
    "#);
    let added = program.run(&["games", "add", pgn, "--player", "Verrick, Ansa"]);
    assert!(
        added.out.contains("one new of yours"),
        "{}{}",
        added.out,
        added.err
    );
}

#[test]
fn a_sheet_that_does_not_fit_is_told_with_its_repairs_and_nothing_is_written() {
    let program = Program::new();
    let sheet = "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba3 Nf6 5. O-O Be7 6. Re1 b5 7. Bb3 d6 1-0\n";
    let file = program.file("round.txt", sheet);
    let pgn = program.out("round.pgn");
    let pgn = pgn.to_str().unwrap();
    let ran = program.run(&["games", "sheet", &file, "-o", pgn]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.out.trim_end(), @r"
    line 1: White's 4th: 'Ba3' is not possible there: from here the sheet does not
    fit.
    What makes the rest fit, the likeliest first:
      1  White's 4th was 4.Ba4, not 'Ba3'.
      2  White's 4th was 4.Bc4, not 'Ba3'.
    ");
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME/round.txt: nothing was written; choose a reading with --repair N, write the game up to there with --as-far, or mend the sheet");
    assert!(!std::path::Path::new(pgn).exists());
    assert_eq!(
        program
            .run(&["games", "sheet", &file, "-o", pgn, "--repair", "1"])
            .code,
        0
    );
    let game = std::fs::read_to_string(pgn).unwrap();
    assert!(game.contains("4. Ba4 Nf6"), "{game}");
    let far = program.run(&["games", "sheet", &file, "--as-far"]);
    assert!(far.out.trim_end().ends_with("3. Bb5 a6 1-0"), "{}", far.out);
    let none = program.run(&["games", "sheet", &file, "--repair", "99"]);
    assert_eq!(none.code, 1);
    assert!(
        none.err.contains("no reading 99: there are"),
        "{}",
        none.err
    );
    let json = program.run(&["games", "sheet", &file, "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(
        (&json["format"], &json["fits"], &json["line"]),
        (&"foreply-sheet".into(), &false.into(), &1.into())
    );
}

#[test]
fn doubts_and_contradictions_are_said() {
    let program = Program::new();
    let said = |text: &str| {
        let file = program.file("sheet.txt", text);
        let out = program.out("sheet.pgn");
        let ran = program.run(&[
            "games",
            "sheet",
            &file,
            "-o",
            out.to_str().unwrap(),
            "--force",
        ]);
        ran.out
    };
    insta::assert_snapshot!(said("1. f3 e5 2. g4 Qh4 1-0").trim_end(), @r"
    The sheet fits: 2 moves.
    The game ends with checkmate, which is 0-1; the sheet says 1-0. Written to the
    PGN is what the sheet says.
    ");
    insta::assert_snapshot!(said("1. Nf3 d5 2. d4 Nf6 3. Nd2 e6 *").trim_end(), @r"
    The sheet fits: 3 moves.
    White's 3rd: 'Nd2' is possible as Nfd2 or Nbd2; Nfd2 was taken.
    ");
    let empty = program.file("empty.txt", "White: Verrick, Ansa\n");
    let ran = program.run(&["games", "sheet", &empty]);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME/empty.txt: no move is written on it; write the moves behind each other: 1. e4 e5 2. Nf3");
}
