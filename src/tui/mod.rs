//! The full screen.
//!
//! One loop ([`run`]) takes one closed list of events; a key becomes an [`action::Action`] by the
//! one table there is; the page on top of the trail updates its state, and everything is drawn
//! afresh. Each page has a folder with its state, update and view. Drawing is plain cells on a
//! [`widget::Canvas`]; all looks come from [`theme`].
//!
//! May use every room but `cli`. What a page wants written down it answers as a
//! [`page::Step::Write`]; only the [`App`] writes, through the keeper that it was handed.

pub mod action;
mod app;
mod ask;
mod basis;
mod bed;
mod blooms;
mod changes;
mod cross;
mod crosses;
mod diary;
mod due;
mod evening;
mod event;
mod facts;
mod find;
mod frame;
pub mod glyphs;
mod guard;
mod help;
pub mod keys;
mod layer;
mod line;
mod links;
mod noting;
mod opening;
pub mod page;
mod pairing;
mod pairings;
mod parent;
pub mod place;
mod plant;
mod plants;
mod problems;
mod run;
mod said;
mod settings;
mod settle;
mod sheet;
mod stage;
pub mod theme;
mod trail;
mod walk;
pub mod weighing;
mod welcome;
pub mod widget;
pub mod worker;

pub use app::{App, Wish};
pub use ask::{Ask, Question};
pub use basis::Edition;
pub use event::Event;
pub use guard::{Guard, ScreenError};
pub use opening::{Choice, NoBook, Opener, Shown, Start};
pub use run::run;
pub use settings::{Depth, Ground, Settings, columns};
pub use stage::Stage;
