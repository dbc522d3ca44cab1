//! Heavy work beside the screen: one thread, which takes what is asked in turn, and another for
//! what may take long, so that no page has to wait for it.
//!
//! A page keeps what it asked for in a [`Later`]. The answer goes there and nowhere else: when a
//! page asks anew, or goes, the old question is dropped before it is begun, or its answer after.
//! So an answer from a book that has changed since can never come onto the screen.

use std::{
    io,
    panic::{AssertUnwindSafe, catch_unwind},
    sync::{
        Arc, Mutex, PoisonError,
        atomic::{AtomicBool, Ordering},
        mpsc::{self, Receiver, Sender, TryRecvError},
    },
    thread,
    time::{Duration, Instant},
};

use super::{event::Event, guard};
use crate::views::Desk;

type Job = Box<dyn FnOnce() + Send>;

/// Between long work and whoever waits for it: tells the one that nobody waits any more, and the
/// other how far it has come.
#[derive(Debug, Clone, Default)]
pub struct Stop(Arc<Between>);

#[derive(Debug, Default)]
struct Between {
    is_asked: AtomicBool,
    come: Mutex<Come>,
    tell: Option<Sender<Event>>,
}

/// How far work has come, in words, and when that was last told.
#[derive(Debug, Default)]
struct Come {
    words: String,
    told: Option<Instant>,
}

/// Between two tellings of how far work has come, and before the first.
const PAUSE: Duration = Duration::from_millis(200);

impl Stop {
    fn telling(tell: Sender<Event>) -> Self {
        Self(Arc::new(Between { tell: Some(tell), ..Between::default() }))
    }

    /// Whether to give up.
    pub fn asked(&self) -> bool {
        self.0.is_asked.load(Ordering::Relaxed)
    }

    /// Tells how far the work has come. It may be called at every step; what is told too soon
    /// after the last time is dropped.
    pub fn tell(&self, words: impl FnOnce() -> String) {
        let Some(tell) = &self.0.tell else { return };
        let mut come = self.0.come.lock().unwrap_or_else(PoisonError::into_inner);
        if come.told.get_or_insert_with(Instant::now).elapsed() < PAUSE {
            return;
        }
        *come = Come { words: words(), told: Some(Instant::now()) };
        drop(come);
        // Where nobody listens any more, somebody has asked to stop.
        tell.send(Event::Ready).ok();
    }
}

/// Takes work and does it, in a thread or on the spot.
#[derive(Debug)]
pub struct Worker(Hands);

#[derive(Debug)]
enum Hands {
    OnTheSpot,
    /// On the spot, and only what is quick.
    Hasty,
    Threads(Lanes),
}

/// The ways to the threads.
#[derive(Debug)]
struct Lanes {
    quick: Sender<Job>,
    slow: Sender<Job>,
    tell: Sender<Event>,
}

impl Worker {
    /// A worker that does everything on the spot; so the tests see no half-drawn page.
    pub fn on_the_spot() -> Self {
        Self(Hands::OnTheSpot)
    }

    /// A worker that leaves undone what may take long, for whoever wants to see what stands until
    /// it is done.
    pub fn hasty() -> Self {
        Self(Hands::Hasty)
    }

    /// A worker with threads of its own, which tell of each piece of work done.
    pub(super) fn in_a_thread(tell: Sender<Event>) -> io::Result<Self> {
        let quick = lane(tell.clone())?;
        Ok(Self(Hands::Threads(Lanes { quick, slow: lane(tell.clone())?, tell })))
    }

    /// Asks for a piece of work on the book.
    pub fn ask<T: Send + 'static>(
        &self,
        desk: &Arc<Desk>,
        work: impl FnOnce(&Desk, &Stop) -> T + Send + 'static,
    ) -> Later<T> {
        self.asked(|lanes| &lanes.quick, desk, work)
    }

    /// Asks for a piece of work that may take long. It holds up nothing but others of its kind.
    pub fn ask_slowly<T: Send + 'static>(
        &self,
        desk: &Arc<Desk>,
        work: impl FnOnce(&Desk, &Stop) -> T + Send + 'static,
    ) -> Later<T> {
        match self.0 {
            Hands::Hasty => Later::Unasked,
            _ => self.asked(|lanes| &lanes.slow, desk, work),
        }
    }

    fn asked<T: Send + 'static>(
        &self,
        lane: impl FnOnce(&Lanes) -> &Sender<Job>,
        desk: &Arc<Desk>,
        work: impl FnOnce(&Desk, &Stop) -> T + Send + 'static,
    ) -> Later<T> {
        let Hands::Threads(lanes) = &self.0 else {
            return Later::Here(work(desk, &Stop::default()));
        };
        let (answer, waiting) = mpsc::channel();
        let (desk, stop) = (Arc::clone(desk), Stop::telling(lanes.tell.clone()));
        let asked = Asked { waiting, stop: stop.clone() };
        let job: Job = Box::new(move || {
            if !stop.asked() {
                // The page may have gone meanwhile.
                answer.send(work(&desk, &stop)).ok();
            }
        });
        match lane(lanes).send(job) {
            Ok(()) => Later::Asked(asked),
            Err(_) => Later::Failed,
        }
    }
}

/// A thread that does what is sent to it, one piece after another.
fn lane(tell: Sender<Event>) -> io::Result<Sender<Job>> {
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
    Ok(sender)
}

/// An answer under way.
#[derive(Debug)]
pub struct Asked<T> {
    waiting: Receiver<T>,
    stop: Stop,
}

impl<T> Drop for Asked<T> {
    fn drop(&mut self) {
        self.stop.0.is_asked.store(true, Ordering::Relaxed);
    }
}

/// Something that was asked for, or is not wanted yet.
#[derive(Debug, Default)]
pub enum Later<T> {
    /// Not asked for.
    #[default]
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

    /// The answer to be changed, if it is here.
    pub fn here_mut(&mut self) -> Option<&mut T> {
        match self {
            Self::Here(answer) | Self::AskedAnew(_, answer) => Some(answer),
            Self::Unasked | Self::Asked(_) | Self::Failed => None,
        }
    }

    /// How far the work has come, in the words of the work; nothing before there is anything to
    /// tell.
    pub fn come(&self) -> String {
        match self {
            Self::Asked(asked) | Self::AskedAnew(asked, _) => {
                let come = asked.stop.0.come.lock().unwrap_or_else(PoisonError::into_inner);
                come.words.clone()
            }
            Self::Unasked | Self::Here(_) | Self::Failed => String::new(),
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
