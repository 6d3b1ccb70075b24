//! The real terminal: our own event loop, and the terminal given back whatever happens.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use cursive::backends::crossterm;
use cursive::event::Event;
use cursive::theme::{BorderStyle, Color, Palette, PaletteColor, Theme};
use cursive::{Cursive, CursiveRunner};

use crate::app::{end_engines, panic_is_handled};
use crate::platform;
use crate::tui::TuiError;
use crate::tui::terminal::backend;
use crate::tui::terminal::colours::Colours;
use crate::tui::terminal::root_view::{RootView, RouterHandle};

/// Pause between two looks for input, while the player is typing and while he is not. The library's
/// own loop waits 30 ms, more than a key may take to the screen.
const QUICK: Duration = Duration::from_millis(4);
const CALM: Duration = Duration::from_millis(10);
/// How long after the last key the quick pause lasts.
const TYPING: Duration = Duration::from_secs(2);
/// How often the clock is looked at.
const TICK: Duration = Duration::from_millis(100);

/// How often it is asked whether the terminal is still there.
const WATCH: Duration = Duration::from_millis(500);
/// Exit code when it is not: 128 and the number of SIGHUP, as shells tell it.
const GONE: i32 = 129;

/// The message of a panic that nobody has handled, kept until the terminal is given back.
static PANIC: Mutex<Option<String>> = Mutex::new(None);

/// Columns and rows of the terminal; `None` where there is none.
#[must_use]
pub fn size() -> Option<(u16, u16)> {
    crossterm::crossterm::terminal::size().ok()
}

/// Says whether screens can be drawn here, before anything is opened.
///
/// # Errors
/// `TERM` names no terminal that can place text.
pub fn check(variable: &dyn Fn(&str) -> Option<String>) -> Result<(), TuiError> {
    match variable("TERM").as_deref() {
        None | Some("") => Err(TuiError::NoTerminal(tr!("TERM is not set").to_owned())),
        Some("dumb") => Err(TuiError::NoTerminal(tr!("TERM is 'dumb'").to_owned())),
        Some(_) => Ok(()),
    }
}

/// Shows the screens until the player leaves, or a signal asks the program to end.
///
/// # Errors
/// There is no terminal, or the screens stopped by an internal error.
pub fn show(router: &RouterHandle, colours: Colours) -> Result<(), TuiError> {
    let stop = stop_on_signals()?;
    let pause = Arc::new(AtomicBool::new(false));
    let unheard = |e: std::io::Error| TuiError::NoTerminal(e.to_string());
    platform::pause_on_signal(&pause).map_err(unheard)?;
    let mut backend = backend::take()?;
    let hook = std::panic::take_hook();
    keep_panics();
    let watched = Arc::new(AtomicBool::new(true));
    end_with_the_terminal(router.clone(), watched.clone());
    let run = || loop {
        // The runner gives the terminal back when it is dropped, also on the way out of a panic.
        let mut runner = CursiveRunner::new(cursive(router, colours), backend);
        let pressed = pause.clone();
        runner.set_on_pre_event(Event::CtrlChar('z'), move |_| {
            pressed.store(true, Ordering::Relaxed);
        });
        turn(&mut runner, router, &[&stop, &pause]);
        drop(runner);
        if !pause.swap(false, Ordering::Relaxed) {
            return Ok(());
        }
        platform::wait_for_the_shell();
        backend = backend::take()?;
    };
    let done = catch_unwind(AssertUnwindSafe(run));
    watched.store(false, Ordering::Relaxed);
    std::panic::set_hook(hook);
    done.map_err(|_| TuiError::Panic(panic_message()))?
}

/// The library's root with our one view and no colours of its own.
#[must_use]
pub fn cursive(router: &RouterHandle, colours: Colours) -> Cursive {
    let mut siv = Cursive::new();
    let mut palette = Palette::default();
    for part in [
        PaletteColor::Background,
        PaletteColor::View,
        PaletteColor::Primary,
        PaletteColor::Shadow,
    ] {
        palette[part] = Color::TerminalDefault;
    }
    siv.set_theme(Theme {
        shadow: false,
        borders: BorderStyle::None,
        palette,
    });
    siv.add_fullscreen_layer(RootView::new(router.clone(), colours));
    siv
}

/// The event loop: input first, then time.
pub fn turn(runner: &mut CursiveRunner<Cursive>, router: &RouterHandle, ends: &[&AtomicBool]) {
    let ended = || ends.iter().any(|end| end.load(Ordering::Relaxed));
    let mut last_key = Instant::now();
    let mut last_tick = Instant::now();
    runner.refresh();
    while runner.is_running() && !router.lock().is_over() && !ended() {
        let mut changed = runner.process_events();
        if changed {
            last_key = Instant::now();
        }
        if changed || last_tick.elapsed() >= TICK {
            last_tick = Instant::now();
            changed |= router.lock().tick();
        }
        if changed {
            runner.refresh();
        } else {
            let typing = last_key.elapsed() < TYPING;
            thread::sleep(if typing { QUICK } else { CALM });
        }
    }
}

/// SIGTERM, SIGHUP, SIGINT and SIGQUIT end the loop, so that the terminal is given back.
fn stop_on_signals() -> Result<Arc<AtomicBool>, TuiError> {
    let stop = Arc::new(AtomicBool::new(false));
    let watched = platform::stop_on_signals(&stop);
    watched.map_err(|e| TuiError::NoTerminal(e.to_string()))?;
    Ok(stop)
}

/// Ends the program when its terminal has gone away. The library's reader (crossterm 0.28) then loops
/// for ever over an end of file, so that neither keys nor the signal come through to our loop. The
/// router is free meanwhile: it is locked only while an event is worked on or a canvas is drawn.
fn end_with_the_terminal(router: RouterHandle, watched: Arc<AtomicBool>) {
    thread::spawn(move || {
        while watched.load(Ordering::Relaxed) {
            thread::sleep(WATCH);
            if platform::terminal_is_gone() && watched.load(Ordering::Relaxed) {
                // Nobody is there to be told of an error; what was shown is kept already.
                let _ = router.lock().close();
                end_engines();
                std::process::exit(GONE);
            }
        }
    });
}

/// Keeps the message of a panic instead of printing it onto the screen, where it would be wiped.
fn keep_panics() {
    std::panic::set_hook(Box::new(|info| {
        if !panic_is_handled() {
            let mut kept = PANIC.lock().unwrap_or_else(PoisonError::into_inner);
            kept.get_or_insert_with(|| info.to_string());
        }
    }));
}

fn panic_message() -> String {
    let mut kept = PANIC.lock().unwrap_or_else(PoisonError::into_inner);
    kept.take().unwrap_or_default()
}
