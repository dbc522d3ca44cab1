//! A page with nothing on it yet.

use super::{
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    theme::Role,
    widget::Canvas,
};

/// Stands in for a page that is not laid out.
#[derive(Debug)]
pub(super) struct Blank {
    place: Place,
}

impl Blank {
    pub(super) fn new(place: Place) -> Self {
        Self { place }
    }
}

impl Page for Blank {
    fn place(&self) -> Place {
        self.place
    }

    fn says(&self, around: &Around<'_>) -> String {
        self.place.name(around.desk, around.glyphs())
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        Stand::default()
    }

    fn refresh(&mut self, _: &Around<'_>) {}

    fn update(&mut self, _: Input<'_>, _: &Around<'_>) -> Step {
        Step::Passed
    }

    fn view(&self, canvas: &mut Canvas<'_>, _: &Around<'_>) {
        canvas.say(1, 0, "Nothing stands here yet.", Role::Quiet);
    }
}
