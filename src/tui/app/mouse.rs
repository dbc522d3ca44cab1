//! What a click and the wheel do.

use super::{App, Wish};
use crate::tui::{
    action::Action,
    layer::{Cover, Covered},
    page::Input,
    widget::Target,
};

impl App {
    pub(super) fn press(&mut self, x: u16, y: u16) -> Wish {
        self.said = None;
        let hit = self.hits.iter().rev().find(|hit| hit.area.contains((x, y).into())).copied();
        match hit.map(|hit| hit.target) {
            Some(Target::Do(action)) => return self.act(action),
            Some(Target::Line { list, line }) => match self.covers.last_mut() {
                Some(Cover::Note(noting)) => {
                    if noting.press(line) {
                        self.act_on_note(Action::Open);
                    }
                }
                Some(cover) => {
                    if let Covered::Opens(place) = cover.press(line) {
                        self.go(place);
                    }
                }
                None => return self.update(Input::Line { list, line }),
            },
            Some(Target::Head { list, column }) => {
                return self.update(Input::Head { list, column });
            }
            None => {}
        }
        Wish::Draw
    }

    pub(super) fn wheel(&mut self, x: u16, y: u16, notches: i16) {
        let mut over = self.hits.iter().rev().filter(|hit| hit.area.contains((x, y).into()));
        let list = over.find_map(|hit| match hit.target {
            Target::Line { list, .. } | Target::Head { list, .. } => Some(list),
            Target::Do(_) => None,
        });
        let height = self.scene.around().body.height;
        match self.covers.last_mut() {
            Some(cover) => cover.scroll(notches, height),
            None => {
                self.update(Input::Wheel { list, notches });
            }
        }
    }
}
