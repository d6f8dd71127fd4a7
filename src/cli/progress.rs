//! How far a long run has come.

use super::Screen;
use super::screen::plain;
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

    /// One more is done; `name` tells what the one of this position is, which is in work now.
    pub fn step(&mut self, screen: &mut Screen, name: impl Fn(usize) -> String) {
        self.done += 1;
        let due = Duration::from_millis(if self.shown { 100 } else { 700 });
        if self.done < self.total && self.since.elapsed() >= due {
            let name = plain(&name(self.done), false);
            screen.progress(&format!("\r\u{1b}[K{} of {}: {name}", self.done, self.total));
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
