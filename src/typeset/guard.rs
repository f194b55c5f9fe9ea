//! A guard over templates that did not come with the program. The typesetter
//! cannot be interrupted, and ends a `while` after ten thousand rounds and a
//! recursion after some eighty calls by itself, but a template may still loop
//! or fill the memory by other means. A thread looks on, and ends the program
//! when a card takes too long or all cards together too much memory. Cards
//! that were written before stay.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, mpsc};
use std::time::{Duration, Instant};

/// What a template may take.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Longest time for one compilation.
    pub time: Duration,
    /// Most memory of the program while templates run, in bytes, where the
    /// system tells it.
    pub memory: u64,
}

impl Default for Limits {
    fn default() -> Self {
        Self { time: Duration::from_secs(20), memory: 2 << 30 }
    }
}

/// Most pages that one compilation may bring forth.
pub const MOST_PAGES: usize = 200;

const LOOK: Duration = Duration::from_millis(20);

/// Looks on until it is dropped.
pub struct Guard {
    shared: Arc<Shared>,
    _end: mpsc::Sender<()>,
}

struct Shared {
    begin: Instant,
    /// Start of each thread's compilation, in milliseconds from `begin`, plus
    /// one; 0 while it has none.
    since: Vec<AtomicU64>,
    taken: Vec<AtomicBool>,
}

/// One compilation under guard.
pub struct Watch<'a>(Option<(&'a Shared, usize)>);

impl Guard {
    /// Starts a guard over so many threads. `over` is told in words what went
    /// wrong and must end the program.
    pub fn start(threads: usize, limits: Limits, over: impl Fn(&str) + Send + 'static) -> Self {
        let shared = Arc::new(Shared {
            begin: Instant::now(),
            since: (0..threads.max(1)).map(|_| AtomicU64::new(0)).collect(),
            taken: (0..threads.max(1)).map(|_| AtomicBool::new(false)).collect(),
        });
        let (end, ended) = mpsc::channel::<()>();
        let seen = Arc::clone(&shared);
        // Without a thread there is no guard, and nothing else would run either.
        let _ = std::thread::Builder::new().spawn(move || {
            while ended.recv_timeout(LOOK) == Err(mpsc::RecvTimeoutError::Timeout) {
                let now = seen.now();
                let slow = seen.since.iter().any(|since| {
                    let since = since.load(Ordering::Relaxed);
                    since > 0 && u128::from(now.saturating_sub(since)) > limits.time.as_millis()
                });
                let runs = seen.since.iter().any(|since| since.load(Ordering::Relaxed) > 0);
                if slow {
                    over(&format!("the template takes more than {} seconds for one card", limits.time.as_secs()));
                } else if runs && memory().is_some_and(|bytes| bytes > limits.memory) {
                    over(&format!("the template takes more than {} GB of memory", limits.memory >> 30));
                }
            }
        });
        Self { shared, _end: end }
    }

    /// Watches one compilation until the returned watch is dropped.
    pub fn watch(&self) -> Watch<'_> {
        let free = self.shared.taken.iter().position(|taken| !taken.swap(true, Ordering::AcqRel));
        if let Some(since) = free.and_then(|at| self.shared.since.get(at)) {
            since.store(self.shared.now(), Ordering::Relaxed);
        }
        Watch(free.map(|at| (&*self.shared, at)))
    }
}

impl Shared {
    fn now(&self) -> u64 {
        u64::try_from(self.begin.elapsed().as_millis()).unwrap_or(u64::MAX - 1) + 1
    }
}

impl Drop for Watch<'_> {
    fn drop(&mut self) {
        if let Some((shared, at)) = self.0 {
            if let Some(since) = shared.since.get(at) {
                since.store(0, Ordering::Relaxed);
            }
            if let Some(taken) = shared.taken.get(at) {
                taken.store(false, Ordering::Release);
            }
        }
    }
}

/// Memory of this process, where the system tells it.
fn memory() -> Option<u64> {
    let pages = std::fs::read_to_string("/proc/self/statm").ok()?;
    // The second figure counts pages in memory; a page has 4 KiB or more.
    pages.split(' ').nth(1)?.parse::<u64>().ok()?.checked_mul(4096)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The guard's word on a compilation that lasts until it has spoken.
    fn word(limits: Limits) -> Result<String, mpsc::RecvTimeoutError> {
        let (say, heard) = mpsc::channel();
        let guard = Guard::start(1, limits, move |why| drop(say.send(why.to_owned())));
        let _watch = guard.watch();
        heard.recv_timeout(Duration::from_secs(60))
    }

    #[test]
    fn time_has_an_end() {
        let limits = Limits { time: Duration::from_millis(50), ..Limits::default() };
        assert_eq!(word(limits), Ok("the template takes more than 0 seconds for one card".to_owned()));
    }

    #[test]
    #[cfg(target_os = "linux")]
    fn memory_has_an_end() {
        let limits = Limits { memory: 1 << 20, ..Limits::default() };
        assert_eq!(word(limits), Ok("the template takes more than 0 GB of memory".to_owned()));
    }

    #[test]
    fn nothing_is_said_of_a_card_that_is_done() {
        let (say, heard) = mpsc::channel();
        let limits = Limits { time: Duration::from_millis(1), memory: u64::MAX };
        let guard = Guard::start(2, limits, move |why| drop(say.send(why.to_owned())));
        // Its time is over before the guard looks, but so is the work.
        for _ in 0..100 {
            drop(guard.watch());
        }
        std::thread::sleep(LOOK * 4);
        assert!(heard.try_recv().is_err());
    }
}
