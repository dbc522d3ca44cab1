//! Writing down from any page: the list of deeds, the form, and what comes of it.

use super::App;
use crate::tui::{
    action::Action,
    layer::Cover,
    noting::{Noted, Noting},
    place::{Kind, Place},
};

impl App {
    /// Shows what can be written down of what is under the cursor or, on the page of a thing with
    /// nothing of its own under the cursor, of that thing.
    pub(super) fn begin_note(&mut self) {
        let here = self.place();
        let place = match here.kind() {
            Kind::Plant | Kind::Cross | Kind::Pairing => Some(here),
            Kind::Walk => here.plant().map(Place::Plant),
            _ => self.under(),
        };
        let around = self.scene.around();
        let noting = Noting::of(place, self.trail.top().spot(&around).as_ref(), &around);
        self.cover(Cover::Note(noting));
    }

    /// Takes an action for the list of deeds or the form.
    pub(super) fn act_on_note(&mut self, action: Action) {
        let around = self.scene.around();
        let Some(Cover::Note(noting)) = self.covers.last_mut() else { return };
        if let Noted::Writes(entered) = noting.act(action, &around) {
            self.covers.pop();
            self.write(*entered);
            self.refresh();
        }
    }
}
