//! The threads that compute. Others read, write and send, and compute nothing.
//!
//! Each thread keeps its parser and the memory of its largest computation. So the one that was busy last takes the
//! next job, and another is started only when all are busy: an editor that asks one thing after the other keeps one
//! or two. A pool that takes turns keeps them all, which costs some 2 MB a thread.

use std::any::Any;
use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::{Builder, available_parallelism};

use tokio::sync::{AcquireError, OwnedSemaphorePermit, Semaphore, oneshot};

/// What computes. The threads end when the last of its clones is gone.
#[derive(Clone)]
pub(crate) struct Computing {
    idle: Arc<Mutex<Vec<Thread>>>,
    seats: Arc<Semaphore>,
}

/// A thread, by where its jobs are left. It goes with the job and is given back by it.
struct Thread(Sender<(Job, Thread)>);

type Job = Box<dyn FnOnce(Thread) + Send>;

impl Computing {
    /// Lets as many requests compute at once as the machine can.
    pub(crate) fn new() -> Computing {
        let seats = available_parallelism().map_or(2, usize::from);
        Computing {
            idle: Arc::default(),
            seats: Arc::new(Semaphore::new(seats)),
        }
    }

    /// A seat for a request, when one is free.
    pub(crate) async fn seat(&self) -> Result<OwnedSemaphorePermit, AcquireError> {
        self.seats.clone().acquire_owned().await
    }

    /// Computes. Fails with the words of a panic.
    pub(crate) async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, String> {
        let (answer, answered) = oneshot::channel();
        let idle = Arc::downgrade(&self.idle);
        let job = move |thread| {
            let worked = catch_unwind(AssertUnwindSafe(work)).map_err(|panic| words(&*panic));
            // Before the answer: who has it may give the next job.
            if let Some(idle) = idle.upgrade() {
                lock(&idle).push(thread);
            }
            // An answer that nobody waits for any more is dropped.
            let _ = answer.send(worked);
        };
        let busy_last = lock(&self.idle).pop();
        let thread = busy_last.map_or_else(start, Ok);
        let thread = thread.map_err(|failure| format!("no thread to compute it: {failure}"))?;
        let jobs = thread.0.clone();
        let given = jobs.send((Box::new(job), thread));
        given.map_err(|_| "its thread has ended".to_owned())?;
        answered.await.map_err(|lost| lost.to_string())?
    }
}

fn start() -> io::Result<Thread> {
    let (sender, jobs) = channel::<(Job, Thread)>();
    Builder::new()
        .name("computing".to_owned())
        .spawn(move || jobs.into_iter().for_each(|(job, thread)| job(thread)))?;
    Ok(Thread(sender))
}

fn lock(idle: &Mutex<Vec<Thread>>) -> MutexGuard<'_, Vec<Thread>> {
    idle.lock().unwrap_or_else(PoisonError::into_inner)
}

fn words(panic: &(dyn Any + Send)) -> String {
    let fixed = panic.downcast_ref::<&str>().copied();
    let made = panic.downcast_ref::<String>().map(String::as_str);
    fixed.or(made).unwrap_or("it panicked").to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn here() -> std::thread::ThreadId {
        std::thread::current().id()
    }

    #[tokio::test]
    async fn the_thread_that_was_busy_last_takes_the_next_job() {
        let computing = Computing::new();
        let first = computing.run(here).await.expect("a thread");
        for _ in 0..100 {
            assert_eq!(computing.run(here).await, Ok(first));
        }
        assert_ne!(first, here(), "it is none of those that answer");
    }

    #[tokio::test]
    async fn what_is_asked_at_once_is_computed_at_once() {
        let computing = Computing::new();
        let (to_first, told) = channel();
        let waiting = computing.run(move || told.recv());
        let telling = computing.run(move || to_first.send(7));
        let (heard, said) = tokio::join!(waiting, telling);
        assert_eq!((heard, said), (Ok(Ok(7)), Ok(Ok(()))));
        assert_eq!(lock(&computing.idle).len(), 2);
    }

    #[tokio::test]
    async fn a_panic_is_told_and_its_thread_goes_on() {
        let computing = Computing::new();
        let thread = computing.run(here).await;
        let failed: Result<(), String> = computing.run(|| panic!("no {}", "luck")).await;
        assert_eq!(failed, Err("no luck".to_owned()));
        assert_eq!(computing.run(here).await, thread);
    }
}
