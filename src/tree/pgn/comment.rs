//! What a comment says beyond words: clocks, percentages, and moves that cannot stand as moves.

use super::super::Verdict;

/// Opens the comment that holds moves which are not legal.
pub(super) const NOT_LEGAL: &str = "Written, not legal:";
/// The same for the choice.
pub(super) const CHOSEN_NOT_LEGAL: &str = "Chosen, not legal:";
/// Stands before the first move where nothing was chosen.
pub(super) const NO_CHOICE: &str = "No move chosen.";

/// One comment, read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Said {
    Words(String),
    Percent(Verdict),
    /// Movetext of moves that are not legal, still with its escapes.
    NotLegal {
        movetext: String,
        chosen: bool,
    },
    NoChoice,
}

/// The parts of a comment: its clock in milliseconds, and what it says.
pub(super) fn read(text: &str) -> (Option<u64>, Said) {
    let (clock, text) = without_commands(text);
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = if words == NO_CHOICE {
        Said::NoChoice
    } else if let Some(verdict) = percent(&words) {
        Said::Percent(verdict)
    } else if let Some(moves) = words.strip_prefix(NOT_LEGAL) {
        not_legal(moves, false)
    } else if let Some(moves) = words.strip_prefix(CHOSEN_NOT_LEGAL) {
        not_legal(moves, true)
    } else {
        Said::Words(words)
    };
    (clock, said)
}

fn not_legal(moves: &str, chosen: bool) -> Said {
    Said::NotLegal {
        movetext: moves.trim().to_owned(),
        chosen,
    }
}

/// The comment for a percentage, and back.
pub(super) fn percent_words(percent: u8) -> String {
    format!("I expect {percent}%.")
}

fn percent(words: &str) -> Option<Verdict> {
    let number = words.strip_prefix("I expect ")?.strip_suffix("%.")?;
    let percent = number.trim().parse().ok().filter(|p| *p <= 100)?;
    Some(Verdict::Percent(percent))
}

/// Takes the `[%...]` commands out of a comment; the first readable clock is kept.
fn without_commands(text: &str) -> (Option<u64>, String) {
    let mut clock = None;
    let mut words = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, command)) = rest.split_once("[%") {
        let Some((command, behind)) = command.split_once(']') else {
            break;
        };
        words.push_str(before);
        words.push(' ');
        clock = clock.or_else(|| command.strip_prefix("clk").and_then(clock_ms));
        rest = behind;
    }
    words.push_str(rest);
    (clock, words)
}

/// The time spent on the move as `[%emt h:mm:ss]` gives it (PGN supplement of 2001, from memory), in
/// milliseconds; the first readable one.
pub(super) fn elapsed_ms(text: &str) -> Option<u64> {
    let commands = text.split("[%emt").skip(1);
    commands
        .filter_map(|behind| clock_ms(behind.split_once(']')?.0))
        .next()
}

/// `h:mm:ss` or `m:ss`, with or without a fraction, in milliseconds.
fn clock_ms(text: &str) -> Option<u64> {
    let text = text.trim();
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let mut seconds: u64 = 0;
    for part in whole.split(':') {
        seconds = seconds.checked_mul(60)?.checked_add(part.parse().ok()?)?;
    }
    let digits: String = fraction.chars().chain("000".chars()).take(3).collect();
    seconds.checked_mul(1000)?.checked_add(digits.parse().ok()?)
}

/// A clock as the command that gives it.
pub(super) fn clock_command(ms: u64) -> String {
    command("clk", ms)
}

/// Time spent as the command that gives it.
pub(super) fn elapsed_command(ms: u64) -> String {
    command("emt", ms)
}

fn command(name: &str, ms: u64) -> String {
    let (s, fraction) = (ms / 1000, ms % 1000);
    let whole = format!("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
    match fraction {
        0 => format!("[%{name} {whole}]"),
        _ => format!("[%{name} {whole}.{fraction:03}]"),
    }
}

const ESCAPES: [(char, char); 5] = [('\\', '\\'), ('{', '('), ('}', ')'), ('«', '<'), ('»', '>')];

/// Words so that they can stand in a comment within a comment.
pub(super) fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match ESCAPES.iter().find(|(from, _)| *from == c) {
            Some((_, to)) => out.extend(['\\', *to]),
            None => out.push(c),
        }
    }
    out
}

/// The words again.
pub(super) fn unescaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    let mut chars = words.chars().peekable();
    while let Some(c) = chars.next() {
        let known = chars
            .peek()
            .and_then(|next| ESCAPES.iter().find(|(_, to)| to == next));
        match known.filter(|_| c == '\\') {
            Some((from, _)) => {
                chars.next();
                out.push(*from);
            }
            None => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_is_read_and_written() {
        let (clock, said) = read(" [%clk 1:02:03] a plan [%emt 0:01] was seen ");
        assert_eq!(clock, Some(3_723_000));
        assert_eq!(said, Said::Words("a plan was seen".into()));
        assert_eq!(read("[%clk 0:00:05.5]").0, Some(5_500));
        assert_eq!(read("[%clk 12:05]").0, Some(725_000));
        assert_eq!(read("[%clk x]").0, None);
        assert_eq!(read("[%clk 99999999999999999999:00]").0, None);
        for ms in [0, 5_500, 3_723_000, 36_000_001] {
            assert_eq!(read(&clock_command(ms)).0, Some(ms));
        }
    }

    #[test]
    fn the_time_spent_is_read_and_written() {
        assert_eq!(
            elapsed_ms("x [%clk 1:00:00] [%emt 0:01:05] y"),
            Some(65_000)
        );
        assert_eq!(elapsed_ms("[%emt 12]"), Some(12_000));
        assert_eq!(elapsed_ms("[%emt x] [%emt"), None);
        assert_eq!(elapsed_ms(&elapsed_command(65_500)), Some(65_500));
    }

    #[test]
    fn a_percentage_is_read_and_written() {
        for p in [0, 65, 100] {
            let said = read(&percent_words(p)).1;
            assert_eq!(said, Said::Percent(Verdict::Percent(p)));
        }
        assert!(matches!(read("I expect 101%.").1, Said::Words(_)));
    }

    #[test]
    fn escapes_are_undone() {
        for words in ["a } b { c", "«x» \\", "\\( \\", ""] {
            assert_eq!(unescaped(&escaped(words)), words);
            assert!(!escaped(words).contains(['{', '}', '«', '»']));
        }
    }
}
