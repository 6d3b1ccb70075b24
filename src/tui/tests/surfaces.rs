//! Everything that the screens and the line mode show of one value, as one text: every stop, every pane,
//! scrolled to its end.

use std::sync::Arc;

use crate::app::testing::app::Trial;
use crate::app::{AttemptId, GameAccountRead, PlayoutSession};
use crate::attempt::Attempt;
use crate::playout::Account;
use crate::review::Review;
use crate::tui::console::after_lock::AfterLockDialogue;
use crate::tui::input::key::KeyPress;
use crate::tui::nav::context::ReportTexts;
use crate::tui::nav::screen::Screen;
use crate::tui::router::Router;
use crate::tui::screens::browse::figures::FiguresScreen;
use crate::tui::screens::browse::quick::QuickScreen;
use crate::tui::screens::game::account::GameAccountScreen;
use crate::tui::screens::own_games::account::OwnAccountScreen;
use crate::tui::screens::review::open_review::OpenReview;
use crate::tui::screens::review::partial::ReviewSnapshot;
use crate::tui::screens::review::screen::ReviewScreen;
use crate::tui::tests::harness::context;

/// Columns and rows.
pub(crate) type Size = (usize, usize);

/// A screen that is walked through, with all its frames.
struct Walk {
    router: Router,
    size: Size,
    frames: String,
}

impl Walk {
    fn on(trial: &Trial, screen: Box<dyn Screen>, size: Size) -> Self {
        Self {
            router: Router::on(context(&trial.app), screen),
            size,
            frames: String::new(),
        }
    }

    fn frame(&self) -> String {
        self.router.draw(self.size.0, self.size.1).to_text()
    }

    /// Presses keys, and scrolls down as long as that shows something else.
    fn keys(&mut self, script: &str) {
        for key in KeyPress::script(script) {
            self.router.press(key);
        }
        self.keep();
        loop {
            let before = self.frame();
            self.router.press(KeyPress::PageDown);
            if self.frame() == before {
                break;
            }
            self.keep();
        }
    }

    /// Keeps the frame as it is, and what stands beside a board of either size as running text.
    fn keep(&mut self) {
        let frame = self.frame();
        for column in [0, 29, 77] {
            let beside = frame.lines().flat_map(|row| {
                let from = row.char_indices().nth(column);
                let cut = from.and_then(|(at, _)| row.get(at..)).unwrap_or_default();
                cut.split_whitespace()
                    .map(str::to_owned)
                    .collect::<Vec<_>>()
            });
            self.frames += &beside.collect::<Vec<_>>().join(" ");
            self.frames.push('\n');
        }
    }
}

/// A review with its attempt: all stops, then the tree move by move, and the other panes.
pub(crate) fn of_review(trial: &Trial, review: &Review, attempt: &Attempt, size: Size) -> String {
    let ctx = context(&trial.app);
    let snapshot = ReviewSnapshot::Whole(Arc::new(review.clone()));
    let open = OpenReview::new(&ctx, "Position 1", snapshot, attempt.clone());
    let stops = open.stops().len();
    let moves = open.shown_tree().len();
    let mut walk = Walk::on(trial, Box::new(ReviewScreen::telling(open)), size);
    walk.keys("e");
    for _ in 0..stops {
        walk.keys("n");
    }
    for _ in 0..stops {
        walk.keys("p");
    }
    walk.keys("g");
    walk.keys("gs");
    walk.keys("st");
    for key in ["<Right>", "<Down>"] {
        for _ in 0..moves {
            walk.keys(key);
        }
        for _ in 0..moves {
            walk.keys("<Left>");
        }
    }
    walk.frames
}

/// The same on lines of text.
pub(crate) fn plain_review(trial: &Trial, review: &Review, id: &AttemptId) -> String {
    let sitting = trial.app.attempts().locked(id).unwrap();
    let numbers = (1..=review.findings.len()).map(|n| format!("{n}\n"));
    let script = format!(
        "{}candidates\ntree\nfigures\nnumbers\nsource\nend\n",
        numbers.collect::<String>()
    );
    let mut out = Vec::new();
    AfterLockDialogue::new(&trial.app, sitting)
        .tell_and_answer(review, (&mut script.as_bytes(), &mut out))
        .unwrap();
    String::from_utf8(out).unwrap()
}

/// The account of a game: every decision, then the whole of it in the words it is given.
pub(crate) fn of_account(
    trial: &Trial,
    (playing, account): (PlayoutSession, &Account),
    told: fn(&Account) -> String,
    size: Size,
) -> String {
    let screen = GameAccountScreen::of(playing, account.clone());
    let mut ctx = context(&trial.app);
    ctx.texts.account = told;
    let mut walk = Walk {
        router: Router::on(ctx, Box::new(screen)),
        size,
        frames: String::new(),
    };
    for _ in 0..=account.moments.len() {
        walk.keys("n");
    }
    walk.keys("g");
    walk.frames
}

/// The account of an own game in the words that are given: every move of which something is said, then all of it.
pub(crate) fn of_own_account(
    trial: &Trial,
    (read, texts): (GameAccountRead, ReportTexts),
    size: Size,
) -> String {
    let mut ctx = context(&trial.app);
    ctx.texts = texts;
    let plies = read.surveyed.game.plies();
    let screen = OwnAccountScreen::of(&ctx, read);
    let mut walk = Walk {
        router: Router::on(ctx, Box::new(screen)),
        size,
        frames: String::new(),
    };
    for _ in 0..=plies {
        walk.keys("<Left>");
    }
    for _ in 0..plies {
        walk.keys("n");
    }
    walk.keys("g");
    walk.frames
}

/// The text of a report.
pub(crate) fn of_progress(trial: &Trial, told: String, size: Size) -> String {
    let mut walk = Walk::on(trial, Box::new(FiguresScreen::of(told)), size);
    walk.keys("");
    walk.frames
}

/// The text of what speed comes to.
pub(crate) fn of_quick(trial: &Trial, told: String, size: Size) -> String {
    let mut walk = Walk::on(trial, Box::new(QuickScreen::of(told)), size);
    walk.keys("");
    walk.frames
}
