//! The shape of a move from its text.

use super::{Claim, Shape, Token, Unreadable};
use shakmaty::san::{San, SanPlus};

pub(super) fn token(text: &str) -> Result<Token, Unreadable> {
    let plus: SanPlus = text.parse().map_err(|_| Unreadable {
        text: text.to_owned(),
        span: 0..text.len(),
        why: "it does not name a piece and a square".to_owned(),
    })?;
    let shape = match plus.san {
        San::Normal {
            role,
            file,
            rank,
            capture,
            to,
            promotion,
        } => Shape::Step {
            role: Some(role),
            file,
            rank,
            capture,
            to,
            promotion,
        },
        San::Castle(side) => Shape::Castle(side),
        San::Null | San::Put { .. } => Shape::Pass,
    };
    Ok(Token {
        shape,
        claim: Claim::None,
    })
}
