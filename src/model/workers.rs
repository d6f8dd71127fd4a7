//! The same work on many items at once. No item's work may itself wait for a pool of threads.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// What `work` makes of each item, in the items' order, by as many threads as the machine has.
pub fn in_order<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let workers = thread::available_parallelism().map_or(2, usize::from).min(items.len());
    let next = AtomicUsize::new(0);
    let run = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(index) else { return done };
            done.push((index, work(item)));
        }
    };
    let mut done: Vec<(usize, R)> = thread::scope(|scope| {
        // The calling thread works too, so that the work is done where the system starts no other.
        let start = |_| thread::Builder::new().spawn_scoped(scope, run).ok();
        let threads: Vec<_> = (1..workers).filter_map(start).collect();
        let own = run();
        let join = |thread: thread::ScopedJoinHandle<_>| match thread.join() {
            Ok(done) => done,
            Err(panic) => std::panic::resume_unwind(panic),
        };
        threads.into_iter().flat_map(join).chain(own).collect()
    });
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_stand_in_the_order_of_the_items() {
        let items: Vec<usize> = (0..1000).collect();
        assert_eq!(in_order(&items, |n| n * 2), items.iter().map(|n| n * 2).collect::<Vec<_>>());
        assert!(in_order(&[], |n: &usize| *n).is_empty());
    }
}
