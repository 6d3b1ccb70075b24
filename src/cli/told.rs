//! What the use cases give, as the reports take it: the same for commands and screens.

use crate::app::{EventRead, GameAccountRead, ThoughtsRead};
use crate::report::games::By;
use crate::report::{AccountTold, EventTold, ThoughtsTold};

/// His thoughts on a game, beside the game.
pub(crate) fn thoughts(read: &ThoughtsRead) -> ThoughtsTold<'_> {
    ThoughtsTold {
        thoughts: &read.thoughts,
        surveyed: &read.surveyed,
        compared: &read.compared,
        moments: &read.moments,
        by: By {
            engine: &read.judge,
            nodes: read.nodes,
        },
    }
}

/// The account of an own game.
pub(crate) fn account(read: &GameAccountRead) -> AccountTold<'_> {
    AccountTold {
        surveyed: &read.surveyed,
        account: &read.account,
        compared: read.compared.as_ref(),
        by: By {
            engine: &read.judge,
            nodes: read.nodes,
        },
    }
}

/// The account of an event.
pub(crate) fn event(read: &EventRead) -> EventTold<'_> {
    EventTold {
        event: &read.event,
        account: &read.account,
        resolutions: &read.resolutions,
        earlier: read.earlier.as_deref(),
        takeaways: &read.takeaways,
        held_back: &read.held_back,
        by: By {
            engine: &read.judge,
            nodes: read.nodes,
        },
    }
}
