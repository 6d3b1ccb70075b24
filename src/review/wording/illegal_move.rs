//! Why a written move is not possible, told to its writer: the first reason, and how old the picture
//! of the board was that he had in mind.

use shakmaty::{Move, Role};

use crate::board::line;
use crate::notation::{Attacker, Reading, Reason, piece_name};
use crate::review::model::evidence::Evidence;
use crate::text;
use crate::tree::NodeId;

/// `meant` is the move that one edit of the text makes of it, where that would have been good.
pub(super) fn sentence(evidence: &Evidence<'_>, illegal: NodeId, meant: Option<&Move>) -> String {
    let Some(node) = evidence.tree.node(illegal) else {
        return String::new();
    };
    let Reading::Phantom(phantom) = &node.reading else {
        return String::new();
    };
    if let Some(rule) = evidence.line.rule().filter(|r| !r.is_claim()) {
        return tr!(
            "{} is not possible: the game is over there, by {}.",
            node.text,
            rule.words()
        );
    }
    let told = Told::of(evidence);
    let first = phantom.reasons.first();
    let why = first.map_or_else(String::new, |r| format!(": {}", told.reason(r)));
    if let Some(meant) = meant {
        let meant = line::san(evidence.line.position(), meant);
        return tr!(
            "{} is not possible{why}. Did you mean {meant}? It is judged as that and not counted.",
            node.text
        );
    }
    // Where the reason names the half-move already, the image adds nothing.
    let image = phantom
        .retained
        .filter(|k| first.is_none_or(|r| r.ply() != Some(*k)));
    let image = image.map_or_else(String::new, |k| told.image(k));
    let ahead = evidence.forward_image.as_ref().filter(|_| image.is_empty());
    let ahead = ahead.map_or_else(String::new, |mv| {
        tr!(" It could be played if {mv} stood on the board, which you wrote in another line.")
    });
    tr!("{} is not possible{why}.{image}{ahead}", node.text)
}

struct Told {
    /// Half-move of the impossible move.
    ply: usize,
    /// Whose move it would be.
    whose: &'static str,
}

impl Told {
    fn of(evidence: &Evidence<'_>) -> Self {
        let line = evidence.line;
        let players = line.is_players_turn();
        Self {
            ply: evidence.tree.ply(evidence.place) + 1,
            whose: if players { tr!("your") } else { tr!("his") },
        }
    }

    fn others(&self) -> &'static str {
        if self.whose == "your" {
            tr!("his")
        } else {
            tr!("your")
        }
    }

    fn reason(&self, reason: &Reason) -> String {
        let whose = self.whose;
        match reason {
            Reason::NoSuchPiece { role } => tr!("there is no {} to do it", piece_name(*role)),
            Reason::NoneOn { role, file, rank } => {
                let file = file.map(|f| tr!("the {f}-file"));
                let rank = rank.map(|r| tr!("rank {r}"));
                let place = file
                    .or(rank)
                    .unwrap_or_else(|| tr!("that square").to_owned());
                tr!("{whose} {} never stood on {place}", piece_name(*role))
            }
            Reason::NothingOn { on } => tr!("nothing stands on {on}"),
            Reason::NotYours { role, on } => {
                tr!("the {} on {on} is {} own", piece_name(*role), self.others())
            }
            Reason::Captured { role, on, ply } => {
                tr!(
                    "{whose} {} was captured on {on} {}",
                    piece_name(*role),
                    self.earlier(*ply)
                )
            }
            Reason::MovedAway { role, from, ply } => {
                tr!(
                    "{whose} {} left {from} {}",
                    piece_name(*role),
                    self.earlier(*ply)
                )
            }
            Reason::Occupied {
                role,
                on,
                yours,
                since,
            } => self.occupied(*role, &on.to_string(), *yours, *since),
            Reason::NothingToTake { on, gone } => match gone {
                Some(k) => tr!("what stood on {on} went {}", self.earlier(*k)),
                None => tr!("there is nothing to take on {on}"),
            },
            Reason::EnPassantOver { pawn, .. } => {
                tr!("the pawn on {pawn} could be taken in passing only at once")
            }
            Reason::CastlingLost { ply } => match ply {
                Some(k) => tr!("the right to castle was lost {}", self.earlier(*k)),
                None => tr!("the right to castle was lost before").to_owned(),
            },
            Reason::Pinned { role, on, by } => {
                tr!(
                    "{whose} {} on {on} shields the king from {}",
                    piece_name(*role),
                    self.attacker(by)
                )
            }
            Reason::InCheck { by } => {
                tr!("{whose} king is in check from {}", self.attacker(by))
            }
            Reason::IntoCheck { to, by } => tr!("{to} is attacked by {}", self.attacker(by)),
            Reason::CastlingThroughCheck { over, by } => {
                tr!(
                    "the king would cross {over}, which is attacked by {}",
                    self.attacker(by)
                )
            }
            Reason::OpensCheck { by } => {
                tr!(
                    "taking in passing would open the line of {}",
                    self.attacker(by)
                )
            }
            Reason::DoesNotReach { role, from } => {
                tr!(
                    "the {} on {from} does not move like that",
                    piece_name(*role)
                )
            }
            Reason::NoPromotionOn { on } => tr!("a pawn does not promote on {on}"),
            Reason::NotAPawn { role, on } => {
                tr!(
                    "only a pawn promotes, and on {on} stands a {}",
                    piece_name(*role)
                )
            }
        }
    }

    fn occupied(&self, role: Role, on: &str, yours: bool, since: Option<usize>) -> String {
        let owner = if yours { self.whose } else { self.others() };
        let when = match since {
            Some(k) => tr!("came there {}", self.earlier(k)),
            None => tr!("stood there all the time").to_owned(),
        };
        tr!("{owner} {} is on {on}; it {when}", piece_name(role))
    }

    fn attacker(&self, by: &Attacker) -> String {
        let who = tr!("{} {} on {}", self.others(), piece_name(by.role), by.on);
        match (by.since, by.opened_from) {
            (Some(k), Some(from)) => tr!(
                "{who}, whose line was opened from {from} {}",
                self.earlier(k)
            ),
            (Some(k), None) => tr!("{who}, which came there {}", self.earlier(k)),
            (None, _) => who,
        }
    }

    /// The retained image (N. Krogius, Psychology in Chess, 1976, from memory).
    fn image(&self, k: usize) -> String {
        match self.ply.saturating_sub(k) {
            0 | 1 => String::new(),
            n => tr!(
                " You still had the board of {} half-moves earlier in mind.",
                text::number(n)
            ),
        }
    }

    fn earlier(&self, k: usize) -> String {
        tr!(self.ply.saturating_sub(k); "one half-move earlier" | "{} half-moves earlier", text::number(self.ply.saturating_sub(k)))
    }
}
