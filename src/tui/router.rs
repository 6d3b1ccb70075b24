//! The router: it alone makes a screen of a [`Route`], owns the stack of them, and says what a key, a
//! click or a second does to it.
//!
//! Knows no terminal: keys go in, a [`Canvas`] comes out.

use crate::app::{AppError, Subject};
use crate::tui::Start;
use crate::tui::input::key::KeyPress;
use crate::tui::nav::context::{Context, Touring};
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::tour_step::TourStep;
use crate::tui::screens::browse::blind_spots::BlindSpotsScreen;
use crate::tui::screens::browse::drills::DrillsScreen;
use crate::tui::screens::browse::figures::FiguresScreen;
use crate::tui::screens::browse::history::HistoryScreen;
use crate::tui::screens::browse::home::HomeScreen;
use crate::tui::screens::browse::quick::QuickScreen;
use crate::tui::screens::game::account::GameAccountScreen;
use crate::tui::screens::game::screen::GameScreen;
use crate::tui::screens::game::terms::TermsScreen;
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::overlays::pause::PauseScreen;
use crate::tui::screens::overlays::tour;
use crate::tui::screens::own_games::account::OwnAccountScreen;
use crate::tui::screens::own_games::list::OwnGamesScreen;
use crate::tui::screens::own_games::page::OwnGamePageScreen;
use crate::tui::screens::recalling::recall::RecallScreen;
use crate::tui::screens::review::pending::PendingReviewScreen;
use crate::tui::screens::review::screen::ReviewScreen;
use crate::tui::screens::sheets::screen::SheetScreen;
use crate::tui::screens::writing::commit::CommitScreen;
use crate::tui::screens::writing::locked::LockedScreen;
use crate::tui::screens::writing::preview::PreviewScreen;
use crate::tui::screens::writing::screen::WritingScreen;
use crate::tui::screens::writing::second_look::SecondLookScreen;
use crate::tui::widgets::canvas::{Canvas, ClickTarget, MIN_HEIGHT, MIN_WIDTH};
use crate::tui::widgets::chrome::{self, Notice};

/// The key that ends the tour, on every screen.
pub const TOUR_ENDS: KeyPress = KeyPress::F(12);

/// All that is on.
pub struct Router {
    ctx: Context,
    stack: Vec<Box<dyn Screen>>,
    over: bool,
    /// What depends on time alone, as drawn last.
    time_text: String,
    touring: bool,
}

impl Router {
    /// Begins where `start` says. With an empty store the home screen gives way to the first drill.
    ///
    /// # Errors
    /// The drill does not exist, or the store fails.
    pub fn new(ctx: Context, start: &Start) -> Result<Self, AppError> {
        let first = first(&ctx, start)?;
        let touring = match ctx.display.tour {
            Touring::Never => false,
            Touring::Once => {
                first.tour_step() == Some(TourStep::Preview) && !ctx.app.maintenance().has_toured()
            }
            Touring::Now => true,
        };
        let mut router = Self::on(ctx, first);
        router.touring = touring;
        Ok(router)
    }

    /// Begins on a given screen.
    pub(crate) fn on(ctx: Context, screen: Box<dyn Screen>) -> Self {
        Self {
            ctx,
            stack: vec![screen],
            over: false,
            time_text: String::new(),
            touring: false,
        }
    }

    /// True once the player has left the program.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.over
    }

    pub fn press(&mut self, key: KeyPress) {
        if self.touring && key == TOUR_ENDS {
            return self.end_tour();
        }
        if let Some(top) = self.stack.pop() {
            let input = ScreenInput::of_key(top.key_contexts(), key);
            let next = top.handle(input, &self.ctx);
            self.follow(next);
        }
    }

    pub fn click(&mut self, target: ClickTarget) {
        if let Some(top) = self.stack.pop() {
            let next = top.handle(ScreenInput::Click(target), &self.ctx);
            self.follow(next);
        }
    }

    /// Lets time pass; true where the screen has to be drawn again.
    pub fn tick(&mut self) -> bool {
        let route = self.stack.last_mut().and_then(|top| top.tick(&self.ctx));
        let replaced = route.is_some();
        if let Some(route) = route {
            self.replace(route);
        }
        let top = self.stack.last();
        let time_text = top.map_or_else(String::new, |s| s.time_text(&self.ctx));
        let changed = replaced || time_text != self.time_text;
        self.time_text = time_text;
        changed
    }

    /// The program ends: an open sitting is left, so that its time counts until here.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn close(&mut self) -> Result<(), AppError> {
        self.stack
            .drain(..)
            .try_for_each(|mut screen| screen.close())
    }

    fn follow(&mut self, transition: Transition) {
        match transition {
            Transition::Stay(screen) => self.stack.push(screen),
            Transition::Push(below, route) => self.push(below, route),
            Transition::Replace(route) => self.put(route),
            Transition::Pop => self.uncover(),
            Transition::Back(notice) => {
                self.uncover();
                if let Some(top) = self.stack.last_mut() {
                    top.notify(notice);
                }
            }
            Transition::Home(notice) => self.go_home(notice),
            Transition::StartTour => self.start_tour(),
            Transition::Quit => self.over = true,
        }
    }

    /// What cannot be opened is told on the screen that asked for it.
    fn push(&mut self, mut below: Box<dyn Screen>, route: Route) {
        let opened = open(route, &self.ctx);
        let top = opened.map_err(|error| below.notify(Notice::error(&error)));
        self.stack.push(below);
        self.stack.extend(top);
    }

    /// The top screen gives way.
    fn replace(&mut self, route: Route) {
        self.stack.pop();
        self.put(route);
    }

    /// On top of the stack; the home screen alone.
    fn put(&mut self, route: Route) {
        match route {
            Route::Home(notice) => self.go_home(notice),
            route => match open(route, &self.ctx) {
                Ok(screen) => self.stack.push(screen),
                Err(error) => self.go_home(Some(Notice::error(&error))),
            },
        }
    }

    /// A list that is seen again shows what has changed.
    fn uncover(&mut self) {
        if self.touring && !self.stack.iter().any(|s| s.tour_step().is_some()) {
            self.end_tour();
        }
        match self.stack.last_mut() {
            Some(top) => {
                if let Some(route) = top.uncovered(&self.ctx) {
                    self.replace(route);
                }
            }
            None => self.go_home(None),
        }
    }

    /// The tour goes beside the sitting that is on; elsewhere it begins one.
    fn start_tour(&mut self) {
        self.touring = true;
        if !self.stack.iter().any(|s| s.tour_step().is_some()) {
            match preview_of_next(&self.ctx) {
                Ok(preview) => self.stack.push(preview),
                Err(error) => self.go_home(Some(Notice::Quiet(error.to_string()))),
            }
        }
    }

    /// It is not shown again by itself.
    fn end_tour(&mut self) {
        self.touring = false;
        // Where that cannot be kept it comes once more.
        let _ = self.ctx.app.maintenance().keep_toured();
    }

    fn go_home(&mut self, notice: Option<Notice>) {
        if self.touring {
            self.end_tour();
        }
        self.stack.clear();
        let home = HomeScreen::open(&self.ctx, notice);
        self.stack.push(Box::new(home));
    }

    /// Draws what is on top.
    #[must_use]
    pub fn draw(&self, width: usize, height: usize) -> Canvas {
        let mut canvas = Canvas::new(width, height)
            .ascii(self.ctx.display.glyphs.ascii)
            .letters(self.ctx.display.letters);
        if width < MIN_WIDTH || height < MIN_HEIGHT {
            chrome::too_small(&mut canvas);
        } else if let Some(top) = self.stack.last() {
            top.draw(&mut canvas, &self.ctx);
            if let (true, Some(step)) = (self.touring, top.tour_step()) {
                tour::draw(step, &mut canvas);
            }
        }
        canvas
    }
}

/// The first screen.
fn first(ctx: &Context, start: &Start) -> Result<Box<dyn Screen>, AppError> {
    let preview = |subject| Route::Preview(Box::new(subject));
    let route = match start {
        Start::Home if ctx.display.tour == Touring::Now => return preview_of_next(ctx),
        Start::Home => {
            let home = HomeScreen::first(ctx)?;
            match home.first_drill(ctx) {
                Some(subject) => preview(subject),
                None => return Ok(Box::new(home)),
            }
        }
        Start::Homework => preview(ctx.app.homework().next()?),
        Start::Quick(ladder) => preview(ctx.app.quick().next(*ladder)?.subject),
        Start::Drill(id) => preview(Subject::Drill(id.clone())),
        Start::Playout(id) => Route::ResumedGame(id.clone()),
        Start::Position(line) => preview(Subject::Position((**line).clone())),
    };
    open(route, ctx)
}

/// A new sitting on what is to be practised next.
fn preview_of_next(ctx: &Context) -> Result<Box<dyn Screen>, AppError> {
    let subject = ctx.app.attempts().next_subject()?;
    open(Route::Preview(Box::new(subject)), ctx)
}

/// The only place where screens are made.
fn open(route: Route, ctx: &Context) -> Result<Box<dyn Screen>, AppError> {
    Ok(match route {
        Route::Home(notice) => Box::new(HomeScreen::open(ctx, notice)),
        Route::Drills => Box::new(DrillsScreen::open(ctx)?),
        Route::History => Box::new(HistoryScreen::open(ctx)?),
        Route::BlindSpots => Box::new(BlindSpotsScreen::open(ctx)?),
        Route::Figures => Box::new(FiguresScreen::open(ctx)?),
        Route::Quick => Box::new(QuickScreen::open(ctx)?),
        Route::Preview(subject) => Box::new(PreviewScreen::open(ctx, &subject)?),
        Route::Writing(open) => Box::new(WritingScreen::new(*open)),
        Route::Pause(open) => Box::new(PauseScreen::new(*open)),
        Route::Commit(open) => Box::new(CommitScreen::new(*open)),
        Route::Locked(locked) => Box::new(LockedScreen::new(*locked)),
        Route::SecondLook(locked) => Box::new(SecondLookScreen::begin(*locked)),
        Route::PendingReview(request) => Box::new(PendingReviewScreen::begin(ctx, request)),
        Route::Review(request, attempt) => Box::new(ReviewScreen::open(ctx, request, *attempt)),
        Route::NewGame(subject) => Box::new(TermsScreen::open(ctx, *subject)?),
        Route::ResumedGame(id) => Box::new(GameScreen::resume(ctx, &id)?),
        Route::Game(playing) => Box::new(GameScreen::on(ctx, *playing)),
        Route::GameAccount(playing) => Box::new(GameAccountScreen::begin(ctx, *playing)),
        Route::OwnGames => Box::new(OwnGamesScreen::open(ctx)?),
        Route::Sheet => Box::new(SheetScreen::open(ctx)?),
        Route::Recall(id) => Box::new(RecallScreen::open(ctx, &id)?),
        Route::OwnGameAccount(id) => Box::new(OwnAccountScreen::begin(ctx, id)),
        Route::OwnGamePage(page) => Box::new(OwnGamePageScreen::begin(ctx, page)),
        Route::Help(contexts) => Box::new(HelpScreen::of(contexts)),
    })
}
