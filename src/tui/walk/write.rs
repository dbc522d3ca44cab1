//! What is written down before a plant.

use super::Walk;
use crate::book::{
    Entry, PlantDeed, Verdict, When,
    enter::{self, Entered, Refused},
};
use crate::tui::page::{Around, Step};
use crate::views::words;

impl Walk {
    /// Gives a verdict, together with the look under way, and goes on. Another person's word is
    /// kept apart, as part of what that person saw.
    pub(super) fn judge(
        &mut self,
        is: Verdict,
        why: Option<Box<str>>,
        around: &Around<'_>,
    ) -> Step {
        self.route.intend(1);
        self.goes_on = true;
        if self.who.is_some() {
            let word = format!("would {}", is.word());
            let said = match why {
                Some(why) => format!("{word}, {why}"),
                None => word,
            };
            self.draft.change(|look| {
                look.note = Some(match look.note.take() {
                    Some(note) if !note.starts_with("would ") => format!("{said}; {note}").into(),
                    _ => said.into(),
                });
            });
        } else {
            self.draft.judge(is, why);
        }
        self.write(around)
    }

    /// Writes the look under way down.
    pub(super) fn write(&mut self, around: &Around<'_>) -> Step {
        let book = around.desk.book();
        let today = When::day(around.desk.today());
        let outcome = self.draft.entered(book, self.plant, today);
        self.draft.unjudge();
        self.finished(outcome, around)
    }

    /// The plant is lost, for a reason that has to be said.
    pub(super) fn lose(&mut self, why: &str, around: &Around<'_>) -> Step {
        if why.is_empty() {
            return Step::Say("Nothing is written: a loss needs its cause.".to_owned());
        }
        self.deed(PlantDeed::Lost(why.into()), 1, around)
    }

    /// It is in bloom today for the first time.
    pub(super) fn first_bloom(&mut self, around: &Around<'_>) -> Step {
        if let Some(on) = around.desk.brief(self.plant).first_bloom {
            return Step::Say(format!("Its first bloom was seen on {} already.", words::day(on)));
        }
        self.deed(PlantDeed::FirstBloom, 0, around)
    }

    /// It is not in bloom yet.
    pub(super) fn in_bud(&mut self, around: &Around<'_>) -> Step {
        if let Some(on) = around.desk.brief(self.plant).first_bloom {
            return Step::Say(format!("Its first bloom was seen on {}.", words::day(on)));
        }
        self.deed(PlantDeed::SeenUnbloomed, 1, around)
    }

    fn deed(&mut self, did: PlantDeed, goes: isize, around: &Around<'_>) -> Step {
        let book = around.desk.book();
        let what = format!("{}: {}", words::plant(book, self.plant), words::plant_deed(&did));
        let today = around.desk.today();
        let entry = Entry { on: When::day(today), did };
        let outcome = enter::note(book, &[book.spot_of(self.plant)], &entry, &what, today);
        self.route.intend(goes);
        self.goes_on = goes != 0;
        self.finished(outcome, around)
    }

    fn finished(&mut self, outcome: Result<Entered, Refused>, around: &Around<'_>) -> Step {
        match outcome {
            Ok(entered) if entered.change.is_nothing() => {
                if std::mem::take(&mut self.goes_on) {
                    self.route.arrive();
                }
                self.arrive(around);
                Step::Say(format!("{}, as it was.", entered.change.what))
            }
            Ok(entered) => Step::Write(Box::new(entered)),
            Err(refused) => {
                self.goes_on = false;
                Step::Say(format!("Not written: {refused}"))
            }
        }
    }
}
