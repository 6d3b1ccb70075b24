//! Keeps panics of the database library from ending the program.
//!
//! sled 0.34 panics, rather than returning an error, on most kinds of damage to its files.

use std::cell::Cell;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Once;

thread_local! {
    static GUARDED: Cell<bool> = const { Cell::new(false) };
}

/// True while this thread runs something whose panic the store catches and turns into an error. A
/// panic hook asks this before it gives the terminal back or prints.
#[must_use]
pub fn panic_is_handled() -> bool {
    GUARDED.with(Cell::get)
}

/// Runs `work`; a panic in it becomes an `Err` with its message, and nothing is printed.
pub(super) fn catch<T>(work: impl FnOnce() -> T) -> Result<T, String> {
    silence_once();
    let before = GUARDED.with(|g| g.replace(true));
    let done = catch_unwind(AssertUnwindSafe(work));
    GUARDED.with(|g| g.set(before));
    done.map_err(|panic| message(panic.as_ref()))
}

fn message(panic: &(dyn std::any::Any + Send)) -> String {
    let text = panic
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| panic.downcast_ref::<&str>().copied());
    // One line: a message of the library can hold the whole page it could not read.
    let line = text
        .unwrap_or("unknown")
        .lines()
        .next()
        .unwrap_or("unknown");
    line.chars().take(200).collect()
}

/// Puts a filter before the panic hook that stands, once per process.
fn silence_once() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let hook = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |info| {
            if !panic_is_handled() {
                hook(info);
            }
        }));
    });
}
