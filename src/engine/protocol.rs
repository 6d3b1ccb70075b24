//! Lines of the UCI protocol to commands (Stefan Meyer-Kahlen and Rudolf Huber, "Description of the
//! universal chess interface", April 2006).
//!
//! Lenient where the protocol asks for it: unknown commands and unknown words are passed over, blanks
//! may repeat, numbers that are none leave their limit unset. Never panics on any line.

use std::time::Duration;

/// A line from the other side.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Command {
    Uci,
    IsReady,
    NewGame,
    SetOption {
        name: String,
        value: String,
    },
    Position {
        fen: Option<String>,
        moves: Vec<String>,
    },
    Go(Go),
    Stop,
    PonderHit,
    Quit,
    Unknown,
}

/// What `go` asks for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Go {
    pub moves: Option<Vec<String>>,
    pub depth: Option<u64>,
    pub nodes: Option<u64>,
    pub mate: Option<u64>,
    pub move_time: Option<Duration>,
    /// Clock and increment, White's and Black's.
    pub clock: [Option<Duration>; 2],
    pub increment: [Duration; 2],
    pub moves_to_go: Option<u64>,
    pub infinite: bool,
    pub ponder: bool,
}

const GO_WORDS: [&str; 12] = [
    "searchmoves",
    "ponder",
    "wtime",
    "btime",
    "winc",
    "binc",
    "movestogo",
    "depth",
    "nodes",
    "mate",
    "movetime",
    "infinite",
];

impl Command {
    /// Reads one line. The first known word starts the command; words before it are passed over.
    pub fn parse(line: &str) -> Command {
        let words: Vec<&str> = line.split_ascii_whitespace().collect();
        for (i, word) in words.iter().enumerate() {
            let rest = words.get(i + 1..).unwrap_or_default();
            return match *word {
                "uci" => Command::Uci,
                "isready" => Command::IsReady,
                "ucinewgame" => Command::NewGame,
                "setoption" => set_option(rest),
                "position" => position(rest),
                "go" => Command::Go(go(rest)),
                "stop" => Command::Stop,
                "ponderhit" => Command::PonderHit,
                "quit" => Command::Quit,
                _ => continue,
            };
        }
        Command::Unknown
    }
}

fn set_option(words: &[&str]) -> Command {
    let value_at = words
        .iter()
        .position(|w| *w == "value")
        .unwrap_or(words.len());
    let name = words.get(..value_at).unwrap_or_default();
    let name = name.strip_prefix(&["name"]).unwrap_or(name).join(" ");
    let value = words.get(value_at + 1..).unwrap_or_default().join(" ");
    Command::SetOption { name, value }
}

fn position(words: &[&str]) -> Command {
    let moves_at = words
        .iter()
        .position(|w| *w == "moves")
        .unwrap_or(words.len());
    let moves = words
        .get(moves_at + 1..)
        .unwrap_or_default()
        .iter()
        .map(|w| (*w).to_owned())
        .collect();
    let head = words.get(..moves_at).unwrap_or_default();
    let fen = match head {
        ["startpos", ..] => None,
        ["fen", fields @ ..] => Some(fields.join(" ")),
        fields => Some(fields.join(" ")),
    };
    Command::Position { fen, moves }
}

fn millis(word: &str) -> Option<Duration> {
    word.parse::<i64>()
        .ok()
        .map(|ms| Duration::from_millis(ms.clamp(0, 1 << 40) as u64))
}

fn go(words: &[&str]) -> Go {
    let mut go = Go::default();
    let mut words = words.iter().peekable();
    while let Some(word) = words.next() {
        let mut take = || {
            words
                .next_if(|w| !GO_WORDS.contains(*w))
                .copied()
                .unwrap_or_default()
        };
        match *word {
            "infinite" => go.infinite = true,
            "ponder" => go.ponder = true,
            "depth" => go.depth = take().parse().ok(),
            "nodes" => go.nodes = take().parse().ok(),
            "mate" => go.mate = take().parse().ok(),
            "movestogo" => go.moves_to_go = take().parse().ok(),
            "movetime" => go.move_time = millis(take()),
            "wtime" => go.clock[0] = millis(take()),
            "btime" => go.clock[1] = millis(take()),
            "winc" => go.increment[0] = millis(take()).unwrap_or_default(),
            "binc" => go.increment[1] = millis(take()).unwrap_or_default(),
            "searchmoves" => {
                let mut moves = Vec::new();
                while let Some(m) = words.next_if(|w| !GO_WORDS.contains(*w)) {
                    moves.push((*m).to_owned());
                }
                go.moves = Some(moves);
            }
            _ => {}
        }
    }
    go
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_go_in_any_order() {
        let Command::Go(go) =
            Command::parse("go  nodes 500 searchmoves e2e4 d2d4 depth 7 wtime -5")
        else {
            panic!("not a go");
        };
        assert_eq!((go.nodes, go.depth), (Some(500), Some(7)));
        assert_eq!(go.moves, Some(vec!["e2e4".into(), "d2d4".into()]));
        assert_eq!(go.clock, [Some(Duration::ZERO), None]);
    }

    #[test]
    fn numbers_that_are_none_leave_the_limit_unset() {
        assert_eq!(
            Command::parse("go nodes depth 3"),
            Command::Go(Go {
                depth: Some(3),
                ..Go::default()
            })
        );
        assert_eq!(Command::parse("go nodes 1e9"), Command::Go(Go::default()));
    }

    #[test]
    fn reads_options_with_blanks_in_their_names() {
        let expected = Command::SetOption {
            name: "Clear Hash".into(),
            value: String::new(),
        };
        assert_eq!(Command::parse("setoption name Clear Hash"), expected);
        let expected = Command::SetOption {
            name: "Hash".into(),
            value: "32".into(),
        };
        assert_eq!(Command::parse("setoption  name Hash\tvalue 32"), expected);
    }

    #[test]
    fn passes_over_what_it_does_not_know() {
        assert_eq!(Command::parse("joho debug uci"), Command::Uci);
        for line in ["", "   ", "\u{0}\u{ff}", "xyzzy"] {
            assert_eq!(Command::parse(line), Command::Unknown);
        }
    }
}
