//! Work spread over plain threads.
//!
//! Not a thread pool with work stealing: the PDF exporter waits inside its own, and would start
//! the next document on the same stack.

use crate::model::Failure;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::thread;

// Deeply nested layouts need more stack than a thread usually gets.
const STACK: usize = 16 << 20;

/// Does `work` for every index below `count` on `jobs` threads and hands each result to `done`
/// on the calling thread, as they come. Stops handing out work once `done` says so. Where the
/// system starts fewer threads, they do the work.
///
/// # Errors
/// The system starts no thread at all.
pub fn spread<R: Send>(
    count: usize,
    jobs: usize,
    work: impl Fn(usize) -> R + Sync,
    mut done: impl FnMut(usize, R) -> bool,
) -> Result<(), Failure> {
    let next = AtomicUsize::new(0);
    let (send, receive) = mpsc::sync_channel(2 * jobs.max(1));
    thread::scope(|scope| {
        let mut started = 0;
        for _ in 0..jobs.clamp(1, count.max(1)) {
            let (send, next, work) = (send.clone(), &next, &work);
            let worker = move || {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    if index >= count || send.send((index, work(index))).is_err() {
                        break;
                    }
                }
            };
            match thread::Builder::new().stack_size(STACK).spawn_scoped(scope, worker) {
                Ok(_) => started += 1,
                Err(_) if started > 0 => break,
                Err(e) => return Err(Failure::new("start a thread for", Path::new("out"), e)),
            }
        }
        drop(send);
        while let Ok((index, result)) = receive.recv() {
            if !done(index, result) {
                break;
            }
        }
        drop(receive);
        Ok(())
    })
}

/// One job per core, as far as the system says how many there are.
pub fn cores() -> usize {
    thread::available_parallelism().map_or(2, usize::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_index_is_done_once() {
        let mut seen = vec![0; 1000];
        spread(
            1000,
            4,
            |i| i * 2,
            |i, twice| {
                assert_eq!(twice, i * 2);
                seen[i] += 1;
                true
            },
        )
        .unwrap();
        assert!(seen.iter().all(|&n| n == 1));
    }

    #[test]
    fn work_stops_when_told() {
        let mut done = 0;
        spread(
            100_000,
            2,
            |i| i,
            |_, _| {
                done += 1;
                done < 10
            },
        )
        .unwrap();
        assert_eq!(done, 10);
    }
}
