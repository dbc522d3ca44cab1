//! Parents as they are written.

use serde::Deserialize;

use super::super::amiss::{Amiss, Step};
use crate::book;

/// Weights may miss 1 by so much: thirds written with two or three digits are no fault.
const SLACK: f64 = 1e-6;

/// A seed parent.
#[derive(Default, Deserialize)]
pub(super) enum Parent {
    Known(Box<str>),
    OneOf(Vec<(Box<str>, f64)>),
    #[default]
    Unknown,
}

/// A pollen parent.
#[derive(Default, Deserialize)]
pub(super) enum Pollen {
    Known(Box<str>),
    OneOf(Vec<(Box<str>, f64)>),
    #[default]
    Unknown,
    Selfed,
}

impl Parent {
    pub(super) fn take(self, field: &'static str, amiss: &mut Amiss) -> book::Parent {
        amiss.at(Step::Field(field), |amiss| match self {
            Self::Known(key) => book::Parent::Known(amiss.line(Step::Item(0), key)),
            Self::OneOf(list) => one_of(list, amiss),
            Self::Unknown => book::Parent::Unknown,
        })
    }
}

impl Pollen {
    pub(super) fn take(self, field: &'static str, amiss: &mut Amiss) -> book::Pollen {
        let parent = match self {
            Self::Known(key) => Parent::Known(key),
            Self::OneOf(list) => Parent::OneOf(list),
            Self::Unknown => Parent::Unknown,
            Self::Selfed => return book::Pollen::Selfed,
        };
        book::Pollen::From(parent.take(field, amiss))
    }
}

fn one_of(list: Vec<(Box<str>, f64)>, amiss: &mut Amiss) -> book::Parent {
    let n_written = list.len();
    let mut candidates = Vec::with_capacity(n_written);
    for (n, (key, weight)) in list.into_iter().enumerate() {
        amiss.at(Step::Item(0), |amiss| {
            amiss.at(Step::Item(n), |amiss| {
                let key = amiss.line(Step::Item(0), key);
                if (0.0..=1.0).contains(&weight) {
                    candidates.push(book::Candidate { key, weight });
                } else {
                    amiss.at(Step::Item(1), |amiss| {
                        amiss.say(
                            format!("The weight {weight} of \"{key}\" is not between 0 and 1."),
                            "Write the chance that it was this plant, such as 0.5.",
                        );
                    });
                }
            });
        });
    }
    if candidates.is_empty() && n_written > 0 {
        return book::Parent::Unknown;
    }
    let sum: f64 = candidates.iter().map(|c| c.weight).sum();
    if sum > 1.0 + SLACK {
        let shown = (sum * 1000.0).round() / 1000.0;
        amiss.say(
            format!("The weights of these candidates add up to {shown}, which is more than 1."),
            "Make them add up to 1, or to less where it may have been another plant.",
        );
        for candidate in &mut candidates {
            candidate.weight /= sum;
        }
    }
    book::Parent::OneOf(candidates)
}
