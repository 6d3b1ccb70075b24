//! The sheet as it is drawn: the board beside it, the moves as they stand on paper, what does not fit.

use shakmaty::{Chess, Move, Position};

use super::open::{Doing, OpenSheet};
use crate::board::line;
use crate::games::sheet::{Fitted, Repair, Sheet, contradiction, doubt, misfit, repaired};
use crate::text;
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::widgets::board::{BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::list::ListView;
use crate::tui::widgets::page::{PageScroll, TextPage};

/// Rows that what is said of the sheet may take below it.
const SAID: usize = 7;

pub(super) fn draw(of: &OpenSheet, canvas: &mut Canvas, ctx: &Context) {
    chrome::title(canvas, tr!("A score sheet"), &result(of));
    let scale = BoardScale::fitting(canvas);
    let (board, last) = position(of);
    let squares: Vec<_> = last.map(|mv| mv.to()).into_iter().collect();
    let view = BoardView {
        board: board.board(),
        look: of.look,
        glyphs: ctx.display.glyphs,
        marked: &squares,
    };
    view.draw(canvas, 0, 2, scale);
    head(of, canvas, scale);
    let x = scale.width() + 3;
    let bottom = canvas.height() - 2;
    match &of.doing {
        Doing::Choosing(list) => readings(of, canvas, (x, *list)),
        _ => {
            let said = said(of, canvas.width() - x);
            let rows = bottom.saturating_sub(4);
            let below = said.len().min(SAID);
            moves(of, canvas, (x, 2, rows.saturating_sub(below)));
            let y = 2 + rows.saturating_sub(below) + 1;
            said.draw(canvas, (x, y, below), &PageScroll::default());
        }
    }
    let notice_row = match of.doing {
        Doing::Typing => {
            chrome::entry_line(canvas, bottom, &prompt(of), &of.line);
            bottom - 1
        }
        Doing::AskingSide => {
            let words = tr!(
                "Which of the two are you? w: {}, b: {}",
                of.tag("White").unwrap_or_default(),
                of.tag("Black").unwrap_or_default()
            );
            canvas.put_wrapped(
                (0, bottom - 1, canvas.width(), 2),
                &words,
                TextStyle::PLAIN.bold(),
            );
            bottom - 2
        }
        Doing::Choosing(_) => bottom,
    };
    if let Some(notice) = &of.notice {
        notice.draw(canvas, notice_row);
    }
    chrome::bar(
        canvas,
        match of.doing {
            Doing::Typing => KeyContext::Sheet,
            Doing::Choosing(_) => KeyContext::SheetReadings,
            Doing::AskingSide => KeyContext::SheetSide,
        },
    );
}

/// The result, where one is typed.
fn result(of: &OpenSheet) -> String {
    match of.draft.result.as_str() {
        "" | "*" => String::new(),
        result => result.to_owned(),
    }
}

/// Which move is typed: '12...>'.
fn prompt(of: &OpenSheet) -> String {
    let start = of
        .reading
        .last()
        .map_or_else(Chess::default, |(s, _)| s.start.clone());
    let half = of.at + usize::from(start.turn().is_black());
    let number = start.fullmoves().get() as usize + half / 2;
    let dots = if half.is_multiple_of(2) { "." } else { "..." };
    match of.at < of.draft.entries.len() {
        true => tr!("{number}{dots} anew >"),
        false => format!("{number}{dots} >"),
    }
}

/// The position before the move under the cursor as far as the sheet fits, with the move that led there; of a reading the position
/// behind its first slip.
fn position(of: &OpenSheet) -> (Chess, Option<Move>) {
    let Some((sheet, fitted)) = of.reading.last() else {
        return (Chess::default(), None);
    };
    let (moves, to) = match &of.doing {
        Doing::Choosing(list) => match of.reading.repairs().get(list.at()) {
            Some(repair) => (&repair.moves, behind_slip(repair)),
            None => (&fitted.moves, of.at),
        },
        _ => (&fitted.moves, of.at),
    };
    let mut at = sheet.start.clone();
    let mut last = None;
    for mv in moves.iter().take(to) {
        if !at.is_legal(mv) {
            break;
        }
        at.play_unchecked(mv);
        last = Some(mv.clone());
    }
    (at, last)
}

/// Half-moves up to the move that the first slip is about.
fn behind_slip(repair: &Repair) -> usize {
    let Some(at) = repair.slips.first().map(|slip| slip.at()) else {
        return repair.moves.len();
    };
    let place = repair.from.iter().position(|f| f.is_some_and(|f| f >= at));
    place.unwrap_or(repair.moves.len()) + 1
}

/// Below the board: who played, when and where.
fn head(of: &OpenSheet, canvas: &mut Canvas, scale: BoardScale) {
    let y = 2 + scale.height() + 1;
    let rows = canvas.height().saturating_sub(y + 4);
    let mut page = TextPage::new(scale.width());
    for (name, value) in of.draft.tags.iter().filter(|(n, _)| n != "SetUp") {
        let value = text::day(value);
        page.say(&format!("{name}: {value}"), TextStyle::PLAIN);
    }
    for name in ["White", "Black", "Event", "Round", "Date"] {
        if of.tag(name).is_none() {
            page.say(&format!("{name}: ?"), TextStyle::QUIET);
        }
    }
    page.draw(canvas, (0, y, rows), &PageScroll::default());
}

/// The moves as they stand on paper, a pair a row, round the cursor.
fn moves(of: &OpenSheet, canvas: &mut Canvas, (x, y, rows): (usize, usize, usize)) {
    let read = of.reading.last();
    let start = read.map_or_else(Chess::default, |(s, _)| s.start.clone());
    let first = usize::from(start.turn().is_black());
    let count = (of.draft.entries.len() + 1 + first).div_ceil(2);
    let here = (of.at + first) / 2;
    let skipped = here
        .saturating_sub(rows / 2)
        .min(count.saturating_sub(rows));
    let cell = (canvas.width() - x).saturating_sub(5) / 2;
    for row in (skipped..count).take(rows) {
        let number = start.fullmoves().get() as usize + row;
        let line = y + row - skipped;
        canvas.put(x, line, &format!("{number:>3}."), TextStyle::QUIET);
        for side in 0..2 {
            if let Some(entry) = (2 * row + side).checked_sub(first) {
                let (words, style) = written(of, entry, read);
                let words = text::fit(&words, cell);
                canvas.put(x + 5 + side * cell, line, words.trim_end(), style);
            }
        }
    }
}

/// One entry: the one under the cursor in brackets; '!' where the sheet stops to fit, '?' where it can be meant in several ways.
fn written(of: &OpenSheet, at: usize, read: Option<&(Sheet, Fitted)>) -> (String, TextStyle) {
    let entry = of.draft.entries.get(at);
    let clock = entry.and_then(|e| e.clock_ms).map(|ms| {
        let s = ms / 1000;
        format!(" {}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60)
    });
    let text = entry.map_or("", |e| e.text.as_str());
    let (misfit, doubtful) = read.map_or((None, false), |(_, f)| {
        (f.misfit, f.doubtful.iter().any(|(d, _)| *d == at))
    });
    let (mark, style) = match misfit {
        Some(misfit) if misfit == at => ("!", TextStyle::ALERT.bold()),
        Some(misfit) if at > misfit => ("", TextStyle::QUIET),
        _ if doubtful => ("?", TextStyle::ACCENT),
        _ => ("", TextStyle::PLAIN),
    };
    let words = match at == of.at {
        true => format!("[{text}]"),
        false => text.to_owned(),
    };
    let words = format!("{mark}{}{}", text::safe(&words), clock.unwrap_or_default());
    (words, style)
}

/// What is said of the sheet.
fn said(of: &OpenSheet, width: usize) -> TextPage {
    let mut page = TextPage::new(width);
    match of.reading.last() {
        None => {
            let words = tr!(
                "Type the moves as they stand on the sheet, one or more and Enter; a time behind its move (0:58); the result \
                         at the end. The head: 'White: Verrick, Ansa'."
            );
            page.say(words, TextStyle::QUIET);
        }
        Some((sheet, fitted)) => {
            match fitted.misfit {
                Some(at) => {
                    page.say(
                        &without_line(&misfit(sheet, &fitted.moves, at)),
                        TextStyle::ALERT,
                    );
                    let words = match of.reading.repairs().len() {
                        _ if of.reading.is_coming() => {
                            tr!("Looking for slips of the pen ...").to_owned()
                        }
                        0 => tr!("No reading with one or two slips of the pen makes the rest fit.")
                            .to_owned(),
                        n => {
                            tr!(n; "F2: one reading makes the rest fit." | "F2: {} readings make the rest fit.", text::number(n))
                        }
                    };
                    page.say(&words, TextStyle::PLAIN);
                }
                None => {
                    for (at, ways) in &fitted.doubtful {
                        page.say(&doubt(sheet, &fitted.moves, *at, ways), TextStyle::ACCENT);
                    }
                    if let Some(words) = contradiction(sheet, &fitted.moves) {
                        page.say(&words, TextStyle::ALERT);
                    }
                }
            }
            for words in of.draft.mended.iter().rev().take(2) {
                page.say(&tr!("Mended: {words}"), TextStyle::QUIET);
            }
        }
    }
    page
}

/// Without the line of a file: on the screen the move itself is marked.
fn without_line(words: &str) -> String {
    let rest = words
        .split_once(": ")
        .filter(|(head, _)| head.starts_with("line "));
    rest.map_or(words, |(_, rest)| rest).to_owned()
}

/// The readings, the likeliest first.
fn readings(of: &OpenSheet, canvas: &mut Canvas, (x, list): (usize, ListView)) {
    let Some((sheet, fitted)) = of.reading.now() else {
        return;
    };
    let mut page = TextPage::new(canvas.width() - x);
    let marked = fitted.misfit;
    if let Some(at) = marked {
        page.say(
            &without_line(&misfit(sheet, &fitted.moves, at)),
            TextStyle::ALERT,
        );
        page.gap();
    }
    page.say(
        tr!("What makes the rest fit, the likeliest first:"),
        TextStyle::ACCENT,
    );
    let repairs = of.reading.repairs();
    for (i, repair) in repairs.iter().enumerate() {
        let sign = if i == list.at() { ">" } else { " " };
        let style = TextStyle::PLAIN.turned(i == list.at());
        page.hanging(
            &format!("{sign}{} ", i + 1),
            &repaired(sheet, repair),
            style,
        );
    }
    if let Some(repair) = repairs.get(list.at()) {
        page.gap();
        page.say(&tr!("Then: {}", around(sheet, repair)), TextStyle::QUIET);
    }
    let rows = canvas.height().saturating_sub(5);
    page.draw(canvas, (x, 2, rows), &PageScroll::default());
}

/// The moves of a reading round its first slip.
fn around(sheet: &Sheet, repair: &Repair) -> String {
    const BEFORE: usize = 3;
    const AFTER: usize = 5;
    let behind = behind_slip(repair);
    let from = behind.saturating_sub(BEFORE);
    let mut at = sheet.start.clone();
    for mv in repair.moves.iter().take(from) {
        at.play_unchecked(mv);
    }
    let moves = repair
        .moves
        .get(from..(behind + AFTER).min(repair.moves.len()));
    let sans = line::sans(&at, moves.unwrap_or_default());
    line::numbered(&at, &sans)
}
