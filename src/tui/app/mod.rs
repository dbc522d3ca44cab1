//! The screen as a whole: the trail of pages, what lies on top of them, and what an event does.

mod drawing;
mod going;
mod mouse;

use std::sync::Arc;

use ratatui::layout::Rect;

use super::{
    action::{Action, Keymap, Layer, Snapshot, Under},
    event::Event,
    frame::Parts,
    keys::Key,
    layer::{Cover, Covered},
    page::{Around, Input, Step, open},
    place::Place,
    settings::Settings,
    theme::Theme,
    trail::Trail,
    widget::Hit,
    worker::Worker,
};
use crate::book::Season;
use crate::views::Desk;

/// What the terminal is asked to do after an event.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Draw again.
    Draw,
    /// Clear and draw again.
    Redraw,
    /// Give the mouse to the terminal, or take it.
    Mouse(bool),
    /// Stop until the shell lets us run again.
    Suspend,
    /// End.
    Quit,
}

/// What is around every page.
#[derive(Debug)]
struct Scene {
    desk: Arc<Desk>,
    worker: Worker,
    theme: Theme,
    season: Season,
    area: Rect,
}

/// The full screen, without a terminal.
#[derive(Debug)]
pub struct App {
    scene: Scene,
    keys: Keymap,
    mouse: bool,
    trail: Trail,
    covers: Vec<Cover>,
    said: Option<String>,
    hits: Vec<Hit>,
}

impl Scene {
    fn around(&self) -> Around<'_> {
        Around {
            desk: &self.desk,
            worker: &self.worker,
            theme: &self.theme,
            season: self.season,
            body: Parts::of(self.area).map_or(Rect::ZERO, |parts| parts.body),
        }
    }
}

impl App {
    /// The screen on an opened book, at its first page.
    pub fn new(desk: Arc<Desk>, settings: Settings, worker: Worker) -> Self {
        let season = latest(&desk);
        let theme = Theme::new(settings);
        let mut app = Self {
            scene: Scene { desk, worker, theme, season, area: Rect::ZERO },
            keys: Keymap::default(),
            mouse: settings.mouse,
            trail: Trail::new(open(Place::Evening)),
            covers: Vec::new(),
            said: None,
            hits: Vec::new(),
        };
        app.refresh();
        app
    }

    /// Whether something that is shown is still being worked out.
    pub fn waits(&self) -> bool {
        self.trail.top().waits() || self.covers.last().is_some_and(Cover::waits)
    }

    /// Where one is.
    pub fn place(&self) -> Place {
        self.trail.top().place()
    }

    /// Says something at the foot of the screen until the next key.
    pub fn say(&mut self, content: String) {
        self.said = Some(content);
    }

    fn desk(&self) -> &Desk {
        &self.scene.desk
    }

    fn refresh(&mut self) {
        let around = self.scene.around();
        self.trail.top_mut().refresh(&around);
        for cover in &mut self.covers {
            cover.refresh(&around);
        }
    }

    /// How the screen stands, for the action table.
    pub fn snapshot(&self) -> Snapshot {
        let page = self.trail.top();
        let stand = page.stand(&self.scene.around());
        Snapshot {
            kind: page.place().kind(),
            layer: self.covers.last().map_or(Layer::Page, Cover::layer),
            under: match stand.under {
                Some(Place::Plant(_)) => Under::Plant,
                Some(Place::Cross(_)) => Under::Cross,
                Some(Place::Pairing(_)) => Under::Pairing,
                _ => Under::Nothing,
            },
            n_behind: self.trail.n_behind(),
            n_lists: stand.n_lists,
            sorts: stand.sorts,
            filters: stand.filters,
            chooses: stand.chooses,
            seasons: stand.seasons,
            sideways: stand.sideways,
            filtered: stand.filtered,
        }
    }

    /// Takes an event in.
    pub fn take(&mut self, event: Event) -> Wish {
        match event {
            Event::Key(key) => self.key(key),
            Event::Paste(content) => {
                self.typed(|cover| cover.paste(&content));
                Wish::Draw
            }
            Event::Press(x, y) => self.press(x, y),
            Event::Wheel(x, y, notches) => {
                self.wheel(x, y, notches);
                Wish::Draw
            }
            Event::Ready | Event::Resized => {
                self.refresh();
                if let Some(place) = self.covers.last_mut().and_then(Cover::overdue) {
                    self.go(place);
                }
                Wish::Draw
            }
            Event::Continued => Wish::Redraw,
            Event::EndAsked | Event::InputClosed(_) => Wish::Quit,
        }
    }

    fn key(&mut self, key: Key) -> Wish {
        self.said = None;
        if let Some(action) = self.keys.action(key, &self.snapshot()) {
            return self.act(action);
        }
        self.typed(|cover| cover.key(key));
        Wish::Draw
    }

    /// Passes what was typed to the cover on top, and a filter that it changed to the page.
    fn typed(&mut self, type_in: impl FnOnce(&mut Cover) -> bool) {
        if self.covers.last_mut().is_some_and(type_in) {
            self.after_typing();
        }
    }

    fn after_typing(&mut self) {
        if let Some(letters) = self.covers.last().and_then(Cover::filter) {
            self.trail.top_mut().update(Input::Filter(&letters), &self.scene.around());
        }
        self.refresh();
    }

    fn act(&mut self, action: Action) -> Wish {
        match action {
            Action::Quit => return Wish::Quit,
            Action::Suspend => return Wish::Suspend,
            Action::Redraw => return Wish::Redraw,
            Action::Mouse => {
                self.mouse = !self.mouse;
                let whose = if self.mouse { "trug's" } else { "the terminal's" };
                self.said = Some(format!("The mouse is {whose} now."));
                return Wish::Mouse(self.mouse);
            }
            Action::Close => self.close(),
            _ if !self.covers.is_empty() => self.act_on_cover(action),
            Action::Help => {
                let here = self.snapshot();
                self.cover(Cover::help(&self.keys, &here, self.scene.theme.is_ascii()));
            }
            Action::Find => self.cover(Cover::find()),
            Action::Filter => {
                self.cover(Cover::filter_line());
                self.after_typing();
            }
            Action::Back => {
                self.trail.back();
                self.refresh();
            }
            Action::Open => {
                if let Some(place) = self.under() {
                    self.go(place);
                }
            }
            Action::Go(kind) => self.go_to_screen(kind),
            Action::SeedParent | Action::PollenParent => self.go_to_parent(action),
            Action::Family => {
                match self.plant().and_then(|plant| self.desk().book().cross_of(plant)) {
                    Some(cross) => self.go(Place::Cross(cross)),
                    None => self.said = Some("No cross of this book bore it.".to_owned()),
                }
            }
            _ => self.update(Input::Do(action)),
        }
        Wish::Draw
    }

    fn update(&mut self, input: Input<'_>) {
        let step = self.trail.top_mut().update(input, &self.scene.around());
        match (step, input) {
            (Step::Go(place), _) => self.go(place),
            (Step::Open, _) => {
                if let Some(place) = self.under() {
                    self.go(place);
                }
            }
            (Step::Say(content), _) => self.said = Some(content),
            (Step::Passed, Input::Do(Action::SeasonBefore)) => self.turn_season(false),
            (Step::Passed, Input::Do(Action::SeasonAfter)) => self.turn_season(true),
            (Step::Passed | Step::Taken, _) => {}
        }
    }

    fn turn_season(&mut self, later: bool) {
        let seasons = self.desk().seasons();
        let next = if later {
            seasons.iter().find(|s| **s > self.scene.season)
        } else {
            seasons.iter().rev().find(|s| **s < self.scene.season)
        };
        if let Some(season) = next {
            self.scene.season = *season;
            self.refresh();
        } else {
            let which = if later { "later" } else { "earlier" };
            self.said = Some(format!("The book tells of no {which} season."));
        }
    }

    fn cover(&mut self, cover: Cover) {
        self.covers.push(cover);
        self.refresh();
    }

    fn close(&mut self) {
        let was_filter = match self.covers.pop() {
            Some(cover) => cover.filter().is_some(),
            None => true,
        };
        if was_filter {
            self.trail.top_mut().update(Input::Filter(""), &self.scene.around());
        }
        self.refresh();
    }

    fn act_on_cover(&mut self, action: Action) {
        let height = self.scene.around().body.height;
        let Some(cover) = self.covers.last_mut() else { return };
        match cover.act(action, height) {
            Covered::Stays => {}
            Covered::Goes => {
                self.covers.pop();
                self.refresh();
            }
            Covered::Opens(place) => self.go(place),
        }
    }
}

/// The season to begin with: today's or, where the book ends before, its last.
fn latest(desk: &Desk) -> Season {
    let today = desk.season();
    desk.seasons().into_iter().rev().find(|season| *season <= today).unwrap_or(today)
}
