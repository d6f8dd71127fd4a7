//! A gate that lets work through only as far as all of it together stays below a bound: what each
//! worker may hold in memory is bounded by itself, and the workers together are bounded here.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

pub struct Gate {
    most: u64,
    within: Mutex<u64>,
    left: Condvar,
}

/// Held while the work lasts.
pub struct Pass<'a> {
    gate: &'a Gate,
    weight: u64,
}

impl Gate {
    pub fn new(most: u64) -> Gate {
        Gate { most, within: Mutex::new(0), left: Condvar::new() }
    }

    /// Waits until there is room. What is heavier than the bound goes through alone.
    pub fn pass(&self, weight: u64) -> Pass<'_> {
        let weight = weight.min(self.most);
        let mut within = self.within();
        while *within + weight > self.most {
            within = self.left.wait(within).unwrap_or_else(PoisonError::into_inner);
        }
        *within += weight;
        Pass { gate: self, weight }
    }

    fn within(&self) -> MutexGuard<'_, u64> {
        self.within.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Drop for Pass<'_> {
    fn drop(&mut self) {
        *self.gate.within() -= self.weight;
        self.gate.left.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicU64, Ordering};

    #[test]
    fn all_together_stay_below_the_bound_and_everything_gets_through() {
        let gate = Gate::new(100);
        let (now, most, done) = (AtomicU64::new(0), AtomicU64::new(0), AtomicU64::new(0));
        std::thread::scope(|scope| {
            for worker in 0..8 {
                let (gate, now, most, done) = (&gate, &now, &most, &done);
                scope.spawn(move || {
                    for round in 0..50 {
                        // The heaviest is heavier than the bound, and counts as all of it.
                        let weight = (worker * 17 + round * 7) % 120 + 1;
                        let _pass = gate.pass(weight);
                        let weight = weight.min(100);
                        let all = now.fetch_add(weight, Ordering::SeqCst) + weight;
                        most.fetch_max(all, Ordering::SeqCst);
                        std::thread::yield_now();
                        now.fetch_sub(weight, Ordering::SeqCst);
                        done.fetch_add(1, Ordering::SeqCst);
                    }
                });
            }
        });
        assert_eq!(done.into_inner(), 400);
        assert!(most.into_inner() <= 100);
    }
}
