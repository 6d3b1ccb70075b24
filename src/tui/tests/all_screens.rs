//! Every screen in both sizes, as it looks with all signs: nothing is cut, and what changes is seen.

use std::collections::BTreeSet;
use std::sync::OnceLock;
use std::thread;
use std::time::Duration;

use crate::app::testing::app::Trial;
use crate::text::within;
use crate::translation::{self, Catalogue, foreign};
use crate::tui::Start;
use crate::tui::input::key::KeyPress;
use crate::tui::router::Router;
use crate::tui::tests::harness::context;
use crate::tui::tests::past_the_locale::{french, past_the_locale};
use crate::tui::widgets::board::Glyphs;

struct Tour {
    router: Router,
    size: (usize, usize),
    frames: String,
}

impl Tour {
    fn begin(trial: &Trial, size: (usize, usize)) -> Self {
        let mut ctx = context(&trial.app);
        ctx.display.glyphs = Glyphs::default();
        Self {
            router: Router::new(ctx, &Start::Home).unwrap(),
            size,
            frames: String::new(),
        }
    }

    fn frame(&self) -> String {
        self.router.draw(self.size.0, self.size.1).to_text()
    }

    fn keys(&mut self, script: &str) -> &mut Self {
        for key in KeyPress::script(script) {
            self.router.press(key);
        }
        self
    }

    fn wait_for(&mut self, words: &str) -> &mut Self {
        for _ in 0..2_000 {
            self.router.tick();
            let frame = self.frame();
            if frame.contains(words) || frame.contains(&foreign::letters(words)) {
                return self;
            }
            thread::sleep(Duration::from_millis(5));
        }
        panic!("'{words}' never came:\n{}", self.frame());
    }

    /// Keeps the frame under a name; a row that ends in an ellipsis is a row that was cut.
    fn keep(&mut self, name: &str) -> &mut Self {
        let frame = self.frame();
        let cut: Vec<&str> = frame.lines().filter(|row| row.ends_with('…')).collect();
        assert!(cut.is_empty(), "{name}: cut: {cut:?}\n{frame}");
        self.frames += &format!("===== {name}\n{frame}\n");
        self
    }
}

fn frames(size: (usize, usize)) -> String {
    let trial = Trial::usual();
    let mut tour = Tour::begin(&trial, size);
    tour.keep("first look")
        .keys("<Enter>")
        .keep("writing, empty");
    tour.keys("c7 Rd6+ Kc5 +- {and the pawn queens}<Enter><Enter>");
    trial.clock.advance(100_000);
    tour.keys("Kb7 Rd7+ =<Enter><Tab>").keep("writing");
    tour.keys("<F2>").keep("overview").keys("<F2><F1>");
    tour.keep("help").keys("<Esc><Ctrl-X>").keep("paused");
    tour.keys("<Enter><F10>").keep("commit").keys("e");
    tour.keep("end card")
        .keys("me<Enter>pawn up<Enter>queen it<Enter>y");
    tour.keep("locked").keys("2now I see Rd1<Enter>");
    tour.keep("second look").keys("<Esc><Enter>");
    tour.wait_for("Depth in half-moves").keep("review");
    tour.keys("n")
        .keep("finding")
        .keys("e")
        .keep("finding, numbers");
    tour.keys("ew")
        .keep("causes")
        .keys("2")
        .keep("cause, words");
    tour.keys("<Esc>t").keep("tree at a finding");
    tour.keys("<Tab><Right>").keep("tree");
    tour.keys("<Left><Up><Up>").keep("tree at the position");
    tour.keys("g").keep("figures of a review").keys("s");
    tour.wait_for("The judge").keep("source").keys("<Esc>nn");
    tour.keep("end of the line").keys("x").keep("terms");
    tour.keys("<Enter>").keep("game").keys("<F2>c7 Rd6+<Enter>");
    tour.keep("game, writing")
        .keys("<Enter><Enter>resign<Enter>");
    tour.keep("game over").keys("<Enter>");
    tour.wait_for("No single move").keep("account");
    tour.keys("<Esc><Esc>").keep("home").keys("p");
    tour.keep("position as FEN").keys("<Esc>e").keep("eve");
    tour.keys("+c").keep("collection").keys("<Esc>h");
    tour.keep("history").keys("/lost<Enter>").keep("filtered");
    tour.keys("/<Esc>b")
        .keep("habits")
        .keys("g")
        .keep("all figures")
        .keys("s")
        .keep("what speed comes to");
    tour.frames.clone()
}

/// All that stands on the screens in Latin letters while every text of the template has others: names, moves, keys and
/// typed words, and what is said by a thread that this test does not translate (the review and the judge).
#[test]
fn what_the_screens_say_comes_from_the_template() {
    static READ: OnceLock<Catalogue> = OnceLock::new();
    let text = foreign::translation(translation::TEMPLATE);
    let catalogue = READ.get_or_init(|| Catalogue::read(&text).unwrap());
    let seen = translation::with(catalogue, || frames((140, 45)));
    let seen = seen.lines().filter(|row| !row.starts_with("====="));
    let mut left = BTreeSet::new();
    for row in seen {
        let words = foreign::words(row);
        if !words.is_empty() {
            // Seen where the list differs.
            println!("{row}");
        }
        left.extend(words);
    }
    let left: Vec<String> = left.into_iter().collect();
    insta::assert_snapshot!(left.join(" "), @"Down Enter One Shift Space Tab The Then What You Your and any are ask attempts better board chose coach come correct counted counter counts does early end engine finds fold for gain giving has here his holds judged king lets level line lost material men move not nothing now one only pause pawn plan position queen queens quiet redo resigned rook same see should slightly something source speed spite stopped stops take tell that the there title too took tree tries turn was way what win winning with words would you your");
}

#[test]
fn every_screen_at_80_by_24() {
    insta::assert_snapshot!("screens_80x24", frames((80, 24)));
}

#[test]
fn every_screen_at_140_by_45() {
    insta::assert_snapshot!("screens_140x45", frames((140, 45)));
}

/// No number and no day of a screen but as the locale has it.
#[test]
fn every_screen_in_another_locale() {
    for size in [(80, 24), (140, 45)] {
        let frames = within(french(), || frames(size));
        let own = frames
            .split_whitespace()
            .filter(|w| w.contains("/2026") || w.contains("0,"));
        assert!(own.count() > 1, "{frames}");
        let past = past_the_locale(&frames);
        assert!(past.is_empty(), "{past:?}");
    }
}
