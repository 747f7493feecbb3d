//! Work that takes longer than a key may: it runs in a thread of its own, while the screen goes
//! on drawing and listening.
//!
//! Whoever starts one keeps a [`Running`] in the state and hands the [`Job`] out as a task. The
//! loop starts the job, and each time that it has news, a message says so; then the state looks
//! into its `Running`. So nothing here knows what is worked on, and tests run a job without a
//! thread.

use std::cell::Cell;
use std::fmt;
use std::io;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// How often progress is told: faster than this nobody reads.
const EACH: Duration = Duration::from_millis(100);

/// What a job and the state share.
struct Shared<P, R> {
    stop: AtomicBool,
    news: Mutex<News<P, R>>,
}

/// What was not looked at yet.
struct News<P, R> {
    progress: Option<P>,
    result: Option<R>,
}

impl<P, R> Shared<P, R> {
    /// A thread that panicked left the news as they were: whole.
    fn news(&self) -> MutexGuard<'_, News<P, R>> {
        self.news.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A job as the state sees it. Dropped, it asks the job to stop.
pub struct Running<P, R>(Arc<Shared<P, R>>);

impl<P, R> Running<P, R> {
    /// Asks the job to stop; it hears that when it tells of its progress next.
    pub fn stop(&self) {
        self.0.stop.store(true, Ordering::Relaxed);
    }

    /// Whether it was asked to stop.
    pub fn is_stopping(&self) -> bool {
        self.0.stop.load(Ordering::Relaxed)
    }

    /// How far the job has come, where that is news.
    pub fn progress(&self) -> Option<P> {
        self.0.news().progress.take()
    }

    /// What the job came to, once, when it has ended.
    pub fn result(&self) -> Option<R> {
        self.0.news().result.take()
    }
}

impl<P, R> Drop for Running<P, R> {
    fn drop(&mut self) {
        self.stop();
    }
}

impl<P, R> fmt::Debug for Running<P, R> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Running").field(&self.is_stopping()).finish()
    }
}

/// To whom a job tells how far it has come.
pub struct Watch<'a, P> {
    stop: &'a AtomicBool,
    tell: &'a dyn Fn(P),
    next: Cell<Option<Instant>>,
}

impl<P> Watch<'_, P> {
    /// Whether the job is to go on, where there is nothing to tell.
    pub fn go_on(&self) -> ControlFlow<()> {
        match self.stop.load(Ordering::Relaxed) {
            true => ControlFlow::Break(()),
            false => ControlFlow::Continue(()),
        }
    }

    /// Tells it, where somebody has time to look; a break says that the job is to stop.
    pub fn tell(&self, progress: impl FnOnce() -> P) -> ControlFlow<()> {
        self.go_on()?;
        let now = Instant::now();
        if self.next.get().is_none_or(|next| now >= next) {
            self.next.set(Some(now + EACH));
            (self.tell)(progress());
        }
        ControlFlow::Continue(())
    }
}

/// What is done, with whom to wake when there is news.
type Work = Box<dyn FnOnce(&dyn Fn()) + Send>;

/// Work to be started; copies of it are the same work, which is done once.
#[derive(Clone)]
pub struct Job(Arc<Mutex<Option<Work>>>);

impl Job {
    /// Does the work here, where it was not done yet; `wake` is called at every news.
    pub fn run(&self, wake: &dyn Fn()) {
        let work = self.0.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let Some(work) = work {
            work(wake);
        }
    }

    /// Does the work in a thread of its own.
    ///
    /// # Errors
    /// Where the system has no room for a thread.
    pub fn start(self, wake: impl Fn() + Send + 'static) -> io::Result<()> {
        let named = thread::Builder::new().name("job".to_owned());
        named.spawn(move || self.run(&wake)).map(drop)
    }
}

impl fmt::Debug for Job {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Job")
    }
}

impl PartialEq for Job {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl Eq for Job {}

/// A job that does some work, and what the state keeps of it.
pub fn job<P: Send + 'static, R: Send + 'static>(
    work: impl FnOnce(&Watch<P>) -> R + Send + 'static,
) -> (Running<P, R>, Job) {
    let shared = Arc::new(Shared {
        stop: AtomicBool::new(false),
        news: Mutex::new(News {
            progress: None,
            result: None,
        }),
    });
    let running = Running(Arc::clone(&shared));
    let work: Work = Box::new(move |wake| {
        let tell = |progress| {
            shared.news().progress = Some(progress);
            wake();
        };
        let watch = Watch {
            stop: &shared.stop,
            tell: &tell,
            next: Cell::new(None),
        };
        let result = work(&watch);
        shared.news().result = Some(result);
        wake();
    });
    (running, Job(Arc::new(Mutex::new(Some(work)))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_job_tells_how_far_it_is_and_what_it_came_to() {
        let (running, job) = job(|watch: &Watch<usize>| {
            let told = (1..=3).map(|count| watch.tell(|| count));
            told.filter(ControlFlow::is_continue).count()
        });
        assert_eq!((running.progress(), running.result()), (None, None));
        let woken = Cell::new(0);
        job.run(&|| woken.set(woken.get() + 1));
        // The first of many words at once is passed on, and the end always.
        assert_eq!(running.progress(), Some(1));
        assert_eq!(running.result(), Some(3));
        assert_eq!(woken.get(), 2);
        assert_eq!(running.result(), None);
        // It is done once only.
        job.run(&|| woken.set(9));
        assert_eq!(woken.get(), 2);
    }

    #[test]
    fn a_job_that_nobody_waits_for_stops() {
        let work = |watch: &Watch<()>| watch.tell(|| ()).is_break();
        let (running, first) = job(work);
        running.stop();
        first.run(&|| ());
        assert_eq!(running.result(), Some(true));
        let (send, heard) = std::sync::mpsc::channel();
        let (running, second) = job(move |watch: &Watch<()>| {
            while watch.tell(|| ()).is_continue() {
                thread::sleep(Duration::from_millis(1));
            }
            send.send(()).expect("somebody listens");
        });
        second.start(|| ()).expect("a thread");
        drop(running);
        let ended = heard.recv_timeout(Duration::from_secs(20));
        assert_eq!(ended, Ok(()));
    }
}
