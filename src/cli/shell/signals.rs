//! SIGTERM, SIGHUP, SIGINT and SIGQUIT while a command works: no engine stays behind.
//!
//! Engines are groups of their own, so that none of these reaches them. What is kept is kept by then, and
//! nothing else is to be done; the screens give the terminal back first, and so watch for themselves.

use std::sync::atomic::{AtomicBool, Ordering};

use signal_hook::consts::{SIGHUP, SIGINT, SIGQUIT, SIGTERM};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;

use crate::app::end_engines;

/// The screens stand: a signal is theirs.
static LEFT_TO_SCREENS: AtomicBool = AtomicBool::new(false);

/// Ends engines and program at the signals that are not ignored (`nohup` has SIGHUP ignored).
pub(crate) fn watch() {
    let ignored = ignored();
    let heeded = [SIGTERM, SIGHUP, SIGINT, SIGQUIT].into_iter();
    let heeded = heeded.filter(|signal| ignored & (1 << (signal - 1)) == 0);
    // Where they cannot be watched, they do what they would have done anyway.
    let Ok(mut signals) = Signals::new(heeded) else {
        return;
    };
    std::thread::spawn(move || {
        for signal in signals.forever() {
            if !LEFT_TO_SCREENS.load(Ordering::Relaxed) {
                end_engines();
                let _ = emulate_default_handler(signal);
            }
        }
    });
}

pub(crate) fn leave_to_screens() {
    LEFT_TO_SCREENS.store(true, Ordering::Relaxed);
}

/// The signals that were ignored when the program was started, a bit each; none where the system does not
/// tell (proc(5): `SigIgn`).
fn ignored() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let mask = status.lines().find_map(|l| l.strip_prefix("SigIgn:"));
    mask.and_then(|m| u64::from_str_radix(m.trim(), 16).ok())
        .unwrap_or(0)
}
