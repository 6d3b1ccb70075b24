//! Time as an argument: whoever opens the application says where it comes from.

use std::sync::atomic::{AtomicI64, AtomicU64, Ordering};
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

/// A source of time.
pub trait Clock: Send + Sync {
    /// Milliseconds since some fixed moment; never goes back.
    fn ticks_ms(&self) -> u64;
    /// Wall-clock time, milliseconds since 1970-01-01 UTC.
    fn wall_ms(&self) -> i64;
}

/// The computer's clocks.
#[derive(Debug)]
pub struct SystemClock(Instant);

impl SystemClock {
    #[must_use]
    pub fn new() -> Self {
        Self(Instant::now())
    }
}

impl Default for SystemClock {
    fn default() -> Self {
        Self::new()
    }
}

impl Clock for SystemClock {
    fn ticks_ms(&self) -> u64 {
        u64::try_from(self.0.elapsed().as_millis()).unwrap_or(u64::MAX)
    }

    fn wall_ms(&self) -> i64 {
        since_epoch(SystemTime::now())
    }
}

/// Milliseconds since 1970-01-01 UTC: fewer than none where the computer's clock stands before that day.
fn since_epoch(time: SystemTime) -> i64 {
    let whole = |d: Duration| i64::try_from(d.as_millis()).unwrap_or(i64::MAX);
    match time.duration_since(UNIX_EPOCH) {
        Ok(after) => whole(after),
        Err(before) => -whole(before.duration()),
    }
}

/// A clock that stands until it is moved: for tests and replays.
#[derive(Debug)]
pub struct SetClock {
    ticks: AtomicU64,
    epoch_ms: AtomicI64,
}

impl SetClock {
    /// Stands at tick 0; `epoch_ms` is the wall-clock time of that tick.
    #[must_use]
    pub fn new(epoch_ms: i64) -> Self {
        Self {
            ticks: AtomicU64::new(0),
            epoch_ms: AtomicI64::new(epoch_ms),
        }
    }

    /// Moves it forward.
    pub fn advance(&self, ms: u64) {
        self.ticks.fetch_add(ms, Ordering::SeqCst);
    }

    /// Sets the wall clock back; ticks go on as they did.
    pub fn set_back(&self, ms: i64) {
        self.epoch_ms.fetch_sub(ms, Ordering::SeqCst);
    }
}

impl Clock for SetClock {
    fn ticks_ms(&self) -> u64 {
        self.ticks.load(Ordering::SeqCst)
    }

    fn wall_ms(&self) -> i64 {
        self.epoch_ms.load(Ordering::SeqCst)
            + i64::try_from(self.ticks_ms()).unwrap_or(i64::MAX / 2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_before_1970_tells_its_time() {
        let day = Duration::from_secs(86_400);
        assert_eq!(since_epoch(UNIX_EPOCH - day), -86_400_000);
        assert_eq!(since_epoch(UNIX_EPOCH + day), 86_400_000);
    }
}
