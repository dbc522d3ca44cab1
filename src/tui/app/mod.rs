//! The screen as a whole: the trail of pages, what lies on top of them, and what an event does.

mod drawing;
mod going;
mod keeping;
mod mouse;
mod noting;

use std::{path::PathBuf, sync::Arc};

use ratatui::layout::Rect;

use super::{
    action::{Action, Keymap, Layer, Snapshot, Under},
    basis::Edition,
    event::Event,
    frame::Parts,
    keys::Key,
    layer::{Cover, Covered},
    opening::{Choice, NoBook, Opener, Shown, Start},
    page::{Around, Input, Step, open},
    place::{Kind, Place},
    said,
    settings::Settings,
    theme::Theme,
    trail::Trail,
    weighing::Weighing,
    welcome::Welcome,
    widget::Hit,
    worker::Worker,
};
use crate::book::{Problem, Season};
use crate::shelf::Keeper;
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
    problems: Vec<Problem>,
    edition: Edition,
    /// Whoever writes in the book.
    keeper: Option<Box<Keeper>>,
    worker: Worker,
    weighing: Weighing,
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
    /// Opens a book, where there is none yet.
    opener: Option<Opener>,
    crops: Option<PathBuf>,
}

impl Scene {
    fn around(&self) -> Around<'_> {
        Around {
            desk: &self.desk,
            worker: &self.worker,
            weighing: &self.weighing,
            theme: &self.theme,
            problems: &self.problems,
            edition: self.edition,
            keeper: self.keeper.as_deref(),
            season: self.season,
            body: Parts::of(self.area).map_or(Rect::ZERO, |parts| parts.body),
        }
    }
}

impl App {
    /// The screen on an opened book, at its first page, or on the page that stands where there is
    /// none.
    pub fn new(start: Start, settings: Settings, worker: Worker) -> Self {
        let (shown, why, opener) = match start {
            Start::Book(shown) => (shown, None, None),
            Start::NoBook(NoBook { why, desk, opener }) => {
                (Shown::only(desk, Vec::new()), Some(why), Some(opener))
            }
        };
        let Shown { desk, problems, keeper, crops } = shown;
        let season = latest(&desk);
        let theme = Theme::new(settings);
        let first = match why {
            Some(why) => Box::new(Welcome::new(why)),
            None => open(Place::Evening),
        };
        let mut app = Self {
            scene: Scene {
                desk,
                problems,
                edition: Edition::default(),
                keeper,
                worker,
                weighing: Weighing::default(),
                theme,
                season,
                area: Rect::ZERO,
            },
            keys: Keymap::default(),
            mouse: settings.mouse,
            trail: Trail::new(first),
            covers: Vec::new(),
            said: None,
            hits: Vec::new(),
            opener,
            crops,
        };
        app.greet();
        app.refresh();
        app
    }

    /// Says what is to be said of a book when it is opened.
    fn greet(&mut self) {
        if let Some(cut_short) = self.scene.keeper.as_deref().and_then(Keeper::interrupted) {
            let what = &cut_short.change.what;
            self.said = Some(format!(
                "\"{what}\" was cut short, and the same was changed since; it was not done."
            ));
            return;
        }
        let key = self.keys.keys(Action::Go(Kind::Problems)).next();
        let (n, Some(key)) = (self.scene.problems.len(), key) else { return };
        self.said = match n {
            0 => None,
            1 => Some(format!("1 thing in this book is amiss: {key} tells what.")),
            n => Some(format!(
                "{} things in this book are amiss: {key} lists them.",
                said::grouped(n)
            )),
        };
    }

    /// Opens what was chosen where there is no book, or says why that cannot be.
    fn begin(&mut self, choice: &Choice) {
        let Some(opener) = &mut self.opener else { return };
        match opener.open(choice) {
            Ok(Shown { desk, problems, keeper, crops }) => {
                (self.scene.keeper, self.crops) = (keeper, crops);
                self.scene.season = latest(&desk);
                (self.scene.desk, self.scene.problems) = (desk, problems);
                self.trail = Trail::new(open(Place::Evening));
                self.covers.clear();
                self.opener = None;
                self.greet();
                self.refresh();
            }
            // The question stays, so that the folder can be mended.
            Err(why) => self.trail = Trail::new(Box::new(Welcome::new(why))),
        }
    }

    /// What the window is called.
    pub fn title(&self) -> String {
        match self.opener {
            Some(_) => "trug".to_owned(),
            None => format!("{} · trug", self.desk().book().about().garden),
        }
    }

    /// Whether something that is shown is still being worked out.
    pub fn waits(&self) -> bool {
        self.trail.top().waits() || self.covers.last().is_some_and(Cover::waits)
    }

    /// Where one is.
    pub fn place(&self) -> Place {
        self.trail.top().place()
    }

    fn desk(&self) -> &Desk {
        &self.scene.desk
    }

    fn refresh(&mut self) {
        let Scene { desk, worker, weighing, .. } = &mut self.scene;
        weighing.keep_up(desk, worker, self.trail.top().weighs());
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
                Some(Place::Plant(_) | Place::Walk(_) | Place::Parent(_)) => Under::Plant,
                Some(Place::Cross(_)) => Under::Cross,
                Some(Place::Pairing(_) | Place::Pair(..)) => Under::Pairing,
                Some(Place::Due(_)) => Under::Due,
                _ => Under::Nothing,
            },
            n_behind: self.trail.n_behind(),
            n_lists: stand.n_lists,
            sorts: stand.sorts,
            filters: stand.filters,
            next_choice: stand.next_choice,
            seasons: stand.seasons,
            sideways: stand.sideways,
            walks: stand.walks && self.writes(),
            filtered: stand.filtered,
            amiss: !self.scene.problems.is_empty(),
            writes: self.writes(),
            stuck: self.is_stuck(),
            other_shade: stand.other_shade,
            weighing: if page.weighs() {
                self.scene.weighing.next_words(&self.scene.desk)
            } else {
                ""
            },
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
            Event::Tick => {
                self.take_over();
                Wish::Draw
            }
            Event::Continued => Wish::Redraw,
            Event::EndAsked | Event::InputClosed(_) => {
                self.leave();
                self.retry();
                Wish::Quit
            }
        }
    }

    fn key(&mut self, key: Key) -> Wish {
        self.said = None;
        if let Some(action) = self.keys.action(key, &self.snapshot()) {
            if let (Action::Digit, Some(digit)) = (action, key.typed()) {
                return self.update(Input::Typed(digit));
            }
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
            Action::Quit => return self.quit(),
            Action::Suspend => return Wish::Suspend,
            Action::Redraw => return Wish::Redraw,
            Action::Mouse => {
                self.mouse = !self.mouse;
                let whose = if self.mouse { "trug's" } else { "the terminal's" };
                self.said = Some(format!("The mouse is {whose} now."));
                return Wish::Mouse(self.mouse);
            }
            Action::Close => self.close(),
            Action::Weigh => {
                self.scene.weighing.turn();
                self.refresh();
            }
            _ if matches!(self.covers.last(), Some(Cover::Note(_))) => self.act_on_note(action),
            Action::Figures => self.cover(Cover::figures(self.place().kind())),
            _ if !self.covers.is_empty() => return self.act_on_cover(action),
            Action::Help => {
                let here = self.snapshot();
                self.cover(Cover::help(&self.keys, &here, self.scene.theme.is_ascii()));
            }
            Action::Find => self.cover(Cover::find()),
            Action::Filter => {
                self.cover(Cover::filter_line());
                self.after_typing();
            }
            Action::Back | Action::LeaveWalk => {
                self.leave();
                self.trail.back();
                self.refresh();
            }
            Action::Note => self.begin_note(),
            Action::NoteMore => {
                self.leave();
                self.begin_note();
            }
            Action::Walk => self.walk(),
            Action::Undo => self.undo(),
            Action::Redo => self.redo(),
            Action::TryAgain => self.try_again(),
            Action::Demo => self.begin(&Choice::Demo),
            Action::NewBook => self.cover(Cover::ask("my-garden")),
            Action::Open => match self.under() {
                Some(place) => self.go(place),
                None => return self.update(Input::Do(action)),
            },
            Action::Go(kind) => self.go_to_screen(kind),
            Action::SeedParent | Action::PollenParent => self.go_to_parent(action),
            Action::Family => {
                match self.plant().and_then(|plant| self.desk().book().cross_of(plant)) {
                    Some(cross) => self.go(Place::Cross(cross)),
                    None => self.said = Some("No cross of this book bore it.".to_owned()),
                }
            }
            _ => return self.update(Input::Do(action)),
        }
        Wish::Draw
    }

    fn update(&mut self, input: Input<'_>) -> Wish {
        let step = self.trail.top_mut().update(input, &self.scene.around());
        match (step, input) {
            (Step::Go(place), _) => self.go(place),
            (Step::Open, _) => {
                if let Some(place) = self.under() {
                    self.go(place);
                }
            }
            (Step::Do(action), _) => return self.act(action),
            (Step::Say(content), _) => self.said = Some(content),
            (Step::UndoOne(n), _) => self.undo_one(n),
            (Step::BringBack(version), _) => self.bring_back(&version),
            (Step::Ask(question), _) => self.cover(Cover::question(question)),
            (Step::Write(entered), _) => {
                self.write(*entered);
            }
            (Step::Passed, Input::Do(Action::SeasonBefore)) => self.turn_season(false),
            (Step::Passed, Input::Do(Action::SeasonAfter)) => self.turn_season(true),
            (Step::Passed | Step::Taken, _) => {}
        }
        Wish::Draw
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
        if self.covers.last_mut().is_some_and(Cover::step_back) {
            return;
        }
        let cover = self.covers.pop();
        if let Some(Cover::Settle(settle)) = &cover {
            let what = settle.what();
            self.said = Some(format!("Left as it is now; not written: {what}."));
        }
        let around = self.scene.around();
        if cover.as_ref().is_none_or(|cover| cover.filter().is_some()) {
            self.trail.top_mut().update(Input::Filter(""), &around);
        }
        if cover.is_none() {
            self.trail.top_mut().update(Input::Do(Action::Close), &around);
        }
        self.refresh();
    }

    fn act_on_cover(&mut self, action: Action) -> Wish {
        let height = self.scene.around().body.height;
        let Some(cover) = self.covers.last_mut() else { return Wish::Draw };
        match cover.act(action, height) {
            Covered::Stays => {}
            Covered::Goes => {
                self.covers.pop();
                self.refresh();
            }
            Covered::Opens(place) => self.go(place),
            Covered::Answers(folder) => self.begin(&Choice::New(folder)),
            Covered::Says(to, text) => {
                self.covers.pop();
                return self.update(Input::Said { to, text: &text });
            }
            Covered::Settles(change) => {
                self.covers.pop();
                let what = change.what.clone();
                if self.keep(change) {
                    self.said = Some(format!("Settled and written: {what}."));
                }
            }
            Covered::TriesAgain => {
                self.covers.pop();
                self.retry();
            }
            Covered::LetsGo => {
                self.covers.pop();
                self.let_go();
            }
        }
        Wish::Draw
    }
}

/// The season to begin with: today's or, where the book ends before, its last.
fn latest(desk: &Desk) -> Season {
    let today = desk.season();
    desk.seasons().into_iter().rev().find(|season| *season <= today).unwrap_or(today)
}
