//! The forecasts of a book: asked for once beside the screen, as soon as a page wants them, and
//! what is to be said until they are there.

use std::sync::Arc;

use super::worker::{Later, Worker};
use crate::merit::liability::NotEnough;
use crate::views::{
    Desk, Weighed,
    weighed::{Forecast, Stage},
};

/// The weighing of one desk.
#[derive(Debug, Default)]
pub struct Weighing {
    of: Option<Arc<Desk>>,
    coming: Later<()>,
    is_stopped: bool,
}

/// How it stands with the forecasts.
#[derive(Debug, Clone, Copy)]
pub enum Standing<'a> {
    /// They are there.
    Here(&'a Weighed),
    /// The book has too little for them, or too much.
    Not(NotEnough),
    /// Somebody works at them, or will.
    UnderWay,
    /// The raiser stopped it.
    Stopped,
    /// It broke down.
    Failed,
}

impl Weighing {
    /// Asks for the forecasts of this desk where they are wanted. What was asked of another desk
    /// is let go.
    pub(super) fn keep_up(&mut self, desk: &Arc<Desk>, worker: &Worker, is_wanted: bool) {
        if !self.is_of(desk) {
            *self = Self { of: Some(Arc::clone(desk)), ..Self::default() };
        }
        self.coming.settle();
        let is_idle = matches!(self.coming, Later::Unasked) && !self.is_stopped;
        if is_wanted && is_idle && desk.weighed().is_none() {
            self.coming = worker.ask_slowly(desk, |desk, stop| {
                desk.weigh(&|stage| {
                    stop.tell(|| words(stage));
                    !stop.asked()
                });
            });
        }
    }

    /// Stops the work, or lets it begin anew after it was stopped.
    pub(super) fn turn(&mut self) {
        self.coming = Later::Unasked;
        self.is_stopped = !self.is_stopped;
    }

    /// What turning it would do, in a word; empty where there is nothing to turn.
    pub(super) fn next_words(&self, desk: &Desk) -> &'static str {
        match (&self.coming, desk.weighed()) {
            (_, Some(_)) => "",
            (Later::Asked(_), None) => "stop",
            _ if self.is_stopped => "forecasts",
            _ => "",
        }
    }

    /// How it stands.
    pub fn standing<'a>(&self, desk: &'a Desk) -> Standing<'a> {
        match (desk.weighed(), &self.coming) {
            (Some(Ok(weighed)), _) => Standing::Here(weighed),
            (Some(Err(why)), _) => Standing::Not(why),
            (None, _) if self.is_stopped => Standing::Stopped,
            (None, Later::Failed) => Standing::Failed,
            (None, _) => Standing::UnderWay,
        }
    }

    /// How far the work has come.
    pub fn come(&self) -> String {
        self.coming.come()
    }

    fn is_of(&self, desk: &Arc<Desk>) -> bool {
        self.of.as_ref().is_some_and(|of| Arc::ptr_eq(of, desk))
    }
}

impl<'a> Standing<'a> {
    /// The forecasts, if they are there.
    pub fn here(self) -> Option<&'a Weighed> {
        match self {
            Self::Here(weighed) => Some(weighed),
            Self::Not(_) | Self::UnderWay | Self::Stopped | Self::Failed => None,
        }
    }

    /// What is forecast of one of [`Desk::pairings`], if it is there.
    pub fn of(self, pairing: usize) -> Option<&'a Forecast> {
        self.here()?.made.get(pairing)
    }

    /// What the chances that are shown rest on, from the longest wording to the shortest. `come`
    /// is how far the work has come.
    pub fn basis(self, come: &str) -> Vec<String> {
        let lines: [&str; 3] = match self {
            Self::Here(_) => [
                "forecast from the pair's own record, its parents with others, and kin",
                "forecast: own record, parents, kin",
                "forecast",
            ],
            Self::UnderWay if come.is_empty() => [
                "steadied by the other pairings; the forecasts are on their way",
                "steadied; forecasts on their way",
                "steadied",
            ],
            Self::UnderWay => {
                return vec![
                    format!("steadied by the other pairings; the forecasts: {come}"),
                    format!("steadied; forecasts: {come}"),
                    format!("steadied; {come}"),
                    "steadied".to_owned(),
                ];
            }
            Self::Stopped => [
                "steadied by the other pairings; the forecasts were stopped",
                "steadied; forecasts stopped",
                "steadied",
            ],
            Self::Not(NotEnough::NothingJudged) => [
                "as is usual; no forecast before anything was judged",
                "as is usual; nothing judged yet",
                "as is usual",
            ],
            Self::Not(NotEnough::TooManyParents) => [
                "steadied by the other pairings; no forecasts, the parents are too many",
                "steadied; too many parents to forecast",
                "steadied",
            ],
            Self::Not(NotEnough::NotSettled) | Self::Failed => [
                "steadied by the other pairings; no forecast could be found",
                "steadied; no forecast found",
                "steadied",
            ],
        };
        lines.map(str::to_owned).to_vec()
    }
}

fn words(stage: Stage) -> String {
    match stage {
        Stage::Weighing(n) => format!("weighing, step {n}"),
        Stage::Telling(share) => format!("{:.0} % told", share * 100.0),
    }
}
