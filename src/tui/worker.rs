//! Heavy work beside the screen: one thread, which takes what is asked in turn.
//!
//! A page keeps what it asked for in a [`Later`]. The answer goes there and nowhere else: when a
//! page asks anew, or goes, the old question is dropped before it is begun, or its answer after.
//! So an answer from a book that has changed since can never come onto the screen.

use std::{
    io,
    panic::{AssertUnwindSafe, catch_unwind},
    sync::{
        Arc,
        atomic::{AtomicBool, Ordering},
        mpsc::{self, Receiver, Sender, TryRecvError},
    },
    thread,
};

use super::{event::Event, guard};
use crate::views::Desk;

type Job = Box<dyn FnOnce() + Send>;

/// Tells long work that nobody waits for it any more.
#[derive(Debug, Clone, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Whether to give up.
    pub fn asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// Takes work and does it, in a thread or on the spot.
#[derive(Debug)]
pub struct Worker(Option<Sender<Job>>);

impl Worker {
    /// A worker that does everything on the spot; so the tests see no half-drawn page.
    pub fn on_the_spot() -> Self {
        Self(None)
    }

    /// A worker with a thread of its own, which tells of each piece of work done.
    pub(super) fn in_a_thread(tell: Sender<Event>) -> io::Result<Self> {
        let (sender, jobs) = mpsc::channel::<Job>();
        thread::Builder::new().name(guard::WORKER.to_owned()).spawn(move || {
            for job in jobs {
                // A panic leaves the answer's channel closed, which the page takes for a failure.
                catch_unwind(AssertUnwindSafe(job)).ok();
                if tell.send(Event::Ready).is_err() {
                    return;
                }
            }
        })?;
        Ok(Self(Some(sender)))
    }

    /// Asks for a piece of work on the book.
    pub fn ask<T: Send + 'static>(
        &self,
        desk: &Arc<Desk>,
        work: impl FnOnce(&Desk, &Stop) -> T + Send + 'static,
    ) -> Later<T> {
        let Some(sender) = &self.0 else { return Later::Here(work(desk, &Stop::default())) };
        let (answer, waiting) = mpsc::channel();
        let (desk, stop) = (Arc::clone(desk), Stop::default());
        let asked = Asked { waiting, stop: stop.clone() };
        let job: Job = Box::new(move || {
            if !stop.asked() {
                // The page may have gone meanwhile.
                answer.send(work(&desk, &stop)).ok();
            }
        });
        match sender.send(job) {
            Ok(()) => Later::Asked(asked),
            Err(_) => Later::Failed,
        }
    }
}

/// An answer under way.
#[derive(Debug)]
pub struct Asked<T> {
    waiting: Receiver<T>,
    stop: Stop,
}

impl<T> Drop for Asked<T> {
    fn drop(&mut self) {
        self.stop.0.store(true, Ordering::Relaxed);
    }
}

/// Something that was asked for, or is not wanted yet.
#[derive(Debug)]
pub enum Later<T> {
    /// Not asked for.
    Unasked,
    /// Under way.
    Asked(Asked<T>),
    /// Under way anew; until then the answer before it stands.
    AskedAnew(Asked<T>, T),
    /// Here.
    Here(T),
    /// The work broke down.
    Failed,
}

impl<T> Later<T> {
    /// Asks anew. Where the answer that is here may still be shown, it stands until the new one
    /// has come, so that nothing flickers.
    pub fn renew(&mut self, asked: Self, may_stand: bool) {
        let before = std::mem::replace(self, asked);
        if !may_stand {
            return;
        }
        if let Self::Here(old) | Self::AskedAnew(_, old) = before {
            *self = match std::mem::replace(self, Self::Unasked) {
                Self::Asked(asked) => Self::AskedAnew(asked, old),
                other => other,
            };
        }
    }

    /// Whether an answer is under way.
    pub fn is_asked(&self) -> bool {
        matches!(self, Self::Asked(_) | Self::AskedAnew(..))
    }

    /// Takes the answer in if it has come. Returns whether it came just now.
    pub fn settle(&mut self) -> bool {
        let (Self::Asked(asked) | Self::AskedAnew(asked, _)) = self else { return false };
        match asked.waiting.try_recv() {
            Ok(answer) => *self = Self::Here(answer),
            Err(TryRecvError::Empty) => return false,
            Err(TryRecvError::Disconnected) => *self = Self::Failed,
        }
        true
    }

    /// Takes the answer away, if it is here.
    pub fn take(&mut self) -> Option<T> {
        match self {
            Self::Here(_) => match std::mem::replace(self, Self::Unasked) {
                Self::Here(answer) => Some(answer),
                _ => None,
            },
            _ => None,
        }
    }

    /// The answer, if it is here; the one before, if it stands until then.
    pub fn here(&self) -> Option<&T> {
        match self {
            Self::Here(answer) | Self::AskedAnew(_, answer) => Some(answer),
            Self::Unasked | Self::Asked(_) | Self::Failed => None,
        }
    }

    /// What to say in its place while it is not here.
    pub fn instead(&self) -> &'static str {
        match self {
            Self::Failed => "This could not be worked out; `trug check` may tell why.",
            _ => "working it out",
        }
    }
}
