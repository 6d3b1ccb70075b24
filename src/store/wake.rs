//! Wakes a wait that the database library has forgotten.
//!
//! sled 0.34 writes on threads of its own, and where the system refuses a write that came from a full buffer, it
//! notes the error without waking whoever waits for that write: he waits for ever. Any later write finds the error and wakes
//! all. So whoever waits has somebody write again from time to time.

use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread::{Builder, scope};
use std::time::Duration;

/// After so long somebody knocks, and after as long again: far longer than a disk needs that does well, and far
/// shorter than anybody waits.
pub(super) const PATIENCE: Duration = Duration::from_secs(1);

/// Does `wait`, and calls `knock` from another thread each time `patience` is over, until it has returned.
pub(super) fn while_waiting<T>(
    patience: Duration,
    knock: impl Fn() + Send,
    wait: impl FnOnce() -> T,
) -> T {
    let (waits, returned) = channel::<()>();
    scope(|scope| {
        let watch = move || {
            while returned.recv_timeout(patience) == Err(RecvTimeoutError::Timeout) {
                knock();
            }
        };
        // Where the system gives no thread, one waits as without: a disk that does well is no worse for it.
        Builder::new().spawn_scoped(scope, watch).ok();
        let done = wait();
        drop(waits);
        done
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicU32, Ordering};

    #[test]
    fn who_is_forgotten_is_woken() {
        let (wake, woken) = channel();
        let knocks = AtomicU32::new(0);
        let knock = || {
            // The third finds what there is to find.
            if knocks.fetch_add(1, Ordering::Relaxed) == 2 {
                wake.send("an error").unwrap();
            }
        };
        let told = while_waiting(Duration::from_millis(5), knock, || woken.recv());
        assert_eq!(told, Ok("an error"));
        assert!(knocks.load(Ordering::Relaxed) >= 3);
    }

    #[test]
    fn nobody_knocks_where_all_is_well() {
        let never = || panic!("nobody has waited");
        assert_eq!(while_waiting(Duration::from_secs(600), never, || 7), 7);
    }

    #[test]
    fn a_panic_comes_through() {
        let broken = || while_waiting(Duration::from_secs(600), || {}, || panic!("damaged"));
        assert_eq!(
            super::super::guard::catch::<()>(broken),
            Err("damaged".to_owned())
        );
    }
}
