//! Walking the bed: one plant at a time, one key a verdict, one key a score, and the next plant
//! comes by itself.

mod draft;
mod route;
mod view;
mod write;

use super::{
    action::Action,
    ask::{Ask, Question},
    basis::Basis,
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    widget::Canvas,
    worker::Later,
};
use crate::book::{PlantId, PlantRecord, Verdict, When};
use crate::views::{Beside, Levels, beside};
use draft::Draft;
use route::Route;

/// The page.
#[derive(Debug)]
pub(super) struct Walk {
    route: Route,
    /// The plant one stands before, in the book as it is.
    plant: PlantId,
    draft: Draft,
    /// The plant and the book that the draft was made of.
    drafted: Basis,
    beside: Later<Beside>,
    /// Who looks; none is the raiser.
    who: Option<Box<str>>,
    /// Whether to go on to the next plant once it is written down.
    goes_on: bool,
}

impl Walk {
    /// A walk past these plants, from one of them.
    pub(super) fn of(plants: &[PlantId], from: PlantId, around: &Around<'_>) -> Self {
        let keys = plants.iter().map(|id| around.desk.book().plant(*id).key().into()).collect();
        let at = plants.iter().position(|plant| *plant == from).unwrap_or_default();
        Self::on(Route::new(keys, at), from)
    }

    /// A walk past one plant.
    pub(super) fn past(plant: PlantId) -> Self {
        Self::on(Route::default(), plant)
    }

    fn on(route: Route, plant: PlantId) -> Self {
        Self {
            route,
            plant,
            draft: Draft::default(),
            drafted: Basis::default(),
            beside: Later::Unasked,
            who: None,
            goes_on: false,
        }
    }

    /// Stands before the plant that the route says, with a draft of its own.
    fn arrive(&mut self, around: &Around<'_>) {
        let key = self.route.key();
        if let Some(plant) = key.and_then(|key| around.desk.book().by_key(key)) {
            self.plant = plant;
        }
        self.goes_on = false;
        let today = When::day(around.desk.today());
        self.draft = Draft::of(around.desk.book(), self.plant, self.who.as_deref(), today);
        self.ask(around, false);
    }

    fn ask(&mut self, around: &Around<'_>, may_stand: bool) {
        let (plant, season) = (self.plant, around.desk.season());
        let asked = around.worker.ask(around.desk, move |desk, _| {
            beside::beside(desk, plant, season, Levels::default())
        });
        self.beside.renew(asked, may_stand);
    }

    /// Goes on by so many plants, once what was begun here is written down.
    fn go(&mut self, by: isize, around: &Around<'_>) -> Step {
        if self.draft.is_touched() {
            self.route.intend(by);
            self.goes_on = true;
            return self.write(around);
        }
        self.route.step(by);
        self.arrive(around);
        Step::Taken
    }

    /// Goes to the plant of this number, or says that it is not on the way.
    fn jump(&mut self, number: &str, around: &Around<'_>) -> Step {
        let book = around.desk.book();
        let Some(at) = self.route.find(number, book) else {
            return Step::Say(format!("No plant on this walk is called \"{number}\"."));
        };
        self.route.intend_to(at);
        self.goes_on = true;
        if self.draft.is_touched() {
            return self.write(around);
        }
        self.route.arrive();
        self.arrive(around);
        Step::Taken
    }

    fn take(&mut self, action: Action, around: &Around<'_>) -> Step {
        match action {
            Action::Verdict(is) => return self.judge(is, None, around),
            Action::VerdictWhy(is) => return ask(Ask::Reason(is), ""),
            Action::NextPlant => return self.go(1, around),
            Action::PlantBefore => return self.go(-1, around),
            Action::NextField => self.draft.go(1),
            Action::FieldBefore => self.draft.go(-1),
            Action::Erase => self.draft.erase(),
            Action::FirstBloom => return self.first_bloom(around),
            Action::InBud => return self.in_bud(around),
            Action::Lose => return ask(Ask::Loss, ""),
            Action::Remark => {
                return ask(Ask::Remark, self.draft.look().note.as_deref().unwrap_or_default());
            }
            Action::Photo => {
                return ask(Ask::Photo, self.draft.look().photo.as_deref().unwrap_or("photos/"));
            }
            Action::Who => return ask(Ask::Who, self.who.as_deref().unwrap_or_default()),
            Action::Jump => return ask(Ask::Jump, ""),
            Action::Faults => {
                let crop = around.desk.book().crop();
                let chosen = self.draft.look().faults.clone();
                return Step::Ask(Question::pick(Ask::Faults, crop.faults.clone(), chosen));
            }
            Action::Colours => {
                let crop = around.desk.book().crop();
                let words = crop.colours.iter().map(|colour| colour.word.clone());
                let words = words.chain(crop.markings.iter().cloned()).collect();
                let chosen = self.draft.look().colours.clone();
                return Step::Ask(Question::pick(Ask::Colours, words, chosen));
            }
            Action::Sort => {
                let said = self.route.turn_order(around.desk.book());
                return Step::Say(said.to_owned());
            }
            Action::Everything => return Step::Go(Place::Plant(self.plant)),
            _ => return Step::Passed,
        }
        Step::Taken
    }

    /// Takes in what was typed or picked.
    fn told(&mut self, to: Ask, text: &str, around: &Around<'_>) -> Step {
        let some = || (!text.trim().is_empty()).then(|| text.trim().into());
        let words = || text.lines().map(Into::into).collect();
        match to {
            Ask::Reason(is) => return self.judge(is, some(), around),
            Ask::Loss => return self.lose(text.trim(), around),
            Ask::Jump => return self.jump(text.trim(), around),
            Ask::Remark => self.draft.change(|look| look.note = some()),
            Ask::Photo => {
                let path = some().filter(|_| text.trim() != "photos/");
                self.draft.change(|look| look.photo = path);
            }
            Ask::Faults => self.draft.change(|look| look.faults = words()),
            Ask::Colours => self.draft.change(|look| look.colours = words()),
            Ask::Who => {
                if self.draft.is_touched() {
                    self.goes_on = false;
                    let step = self.write(around);
                    self.who = some();
                    return step;
                }
                self.who = some();
                self.arrive(around);
            }
        }
        Step::Taken
    }
}

fn ask(to: Ask, holding: &str) -> Step {
    Step::Ask(Question::line(to, holding))
}

impl Page for Walk {
    fn place(&self) -> Place {
        Place::Walk(self.plant)
    }

    fn says(&self, around: &Around<'_>) -> String {
        self.route.says(around, self.who.as_deref())
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        Stand { n_lists: 1, sorts: true, ..Stand::default() }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        match self.drafted.moved(around, false) {
            // The first time, or plants have changed their places.
            Some(false) if !self.draft.is_touched() => {
                if self.route.is_empty() {
                    let key = around.desk.book().plant(self.plant).key().into();
                    self.route = Route::new(vec![key], 0);
                }
                self.arrive(around);
            }
            Some(may_stand) => {
                let key = self.route.key();
                if let Some(plant) = key.and_then(|key| around.desk.book().by_key(key)) {
                    self.plant = plant;
                }
                if !self.draft.is_touched() {
                    let today = When::day(around.desk.today());
                    let at = self.draft.at;
                    let book = around.desk.book();
                    self.draft = Draft::of(book, self.plant, self.who.as_deref(), today);
                    self.draft.at = at;
                }
                self.ask(around, may_stand);
            }
            None => {}
        }
        self.beside.settle();
    }

    fn waits(&self) -> bool {
        self.beside.is_asked()
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        match input {
            Input::Do(action) => self.take(action, around),
            Input::Typed(digit) => {
                self.draft.digit(digit);
                Step::Taken
            }
            Input::Said { to, text } => self.told(to, text, around),
            Input::Kept => {
                if self.goes_on {
                    self.route.arrive();
                }
                self.arrive(around);
                Step::Taken
            }
            Input::Leave if self.draft.is_touched() => {
                self.goes_on = false;
                self.write(around)
            }
            Input::Filter(letters) => {
                self.route.filter(letters, around);
                Step::Taken
            }
            Input::Line { line, .. } => {
                self.draft.at = line.min(self.draft.fields.len().saturating_sub(1));
                Step::Taken
            }
            Input::Wheel { notches, .. } => self.go(notches.into(), around),
            Input::TakenBack(key) => {
                // One changes one's mind where one stood.
                if let Some(at) = self.route.place_of(key) {
                    self.route.intend_to(at);
                    self.route.arrive();
                    self.arrive(around);
                }
                Step::Taken
            }
            Input::Head { .. } | Input::Leave => Step::Passed,
        }
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        view::draw(self, canvas, around);
    }
}

/// Whether a plant is a seedling of the book.
fn is_seedling(plant: PlantId, around: &Around<'_>) -> bool {
    matches!(around.desk.book().plant(plant), PlantRecord::Seedling(..))
}

/// The words of the three verdicts, with the keys that say why besides.
const VERDICTS: [Verdict; 3] = [Verdict::Keep, Verdict::Hold, Verdict::Discard];
