//! How far a long run has come.

use super::Screen;
use std::time::{Duration, Instant};

/// One line on a terminal, and only once the work has taken a moment.
pub struct Progress {
    total: usize,
    done: usize,
    shown: bool,
    since: Instant,
}

impl Progress {
    pub fn new(total: usize, wanted: bool) -> Progress {
        Progress {
            total: if wanted { total } else { 0 },
            done: 0,
            shown: false,
            since: Instant::now(),
        }
    }

    pub fn step(&mut self, screen: &mut Screen) {
        self.done += 1;
        let due = Duration::from_millis(if self.shown { 100 } else { 700 });
        if self.total > 0 && self.since.elapsed() >= due {
            screen.progress(&format!("\r{} of {}", self.done, self.total));
            self.shown = true;
            self.since = Instant::now();
        }
    }

    pub fn end(&self, screen: &mut Screen) {
        if self.shown {
            screen.progress("\r\u{1b}[K");
        }
    }
}
