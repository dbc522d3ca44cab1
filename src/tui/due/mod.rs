//! The page of something that is due: the plants, heads, packets or crosses concerned, the one
//! that waits longest first.

use super::{
    page::Around,
    place::Place,
    said,
    sheet::{Sheet, SheetPage, Work, note, table},
    widget::{
        Canvas,
        listing::Key,
        lists::Lists,
        section,
        table::{self as tables, Cell, Column},
    },
};
use crate::book::{CrossId, Spot, When};
use crate::views::{
    evening::{self, Task, Thing, What},
    forms, words,
};

const COLUMNS: &[Column] = &[
    Column::words("what", 8, 26, 0),
    Column::words("of", 12, 70, 2),
    Column::figures("since", 11, 1),
];

/// The page.
#[derive(Debug)]
pub(super) struct Due {
    what: What,
}

impl Due {
    pub(super) fn page(what: What) -> SheetPage<Self> {
        SheetPage::new(Self { what })
    }
}

/// Where a thing that is due leads.
pub(super) fn place(thing: Thing) -> Place {
    match thing {
        Thing::Plant(plant) => Place::Plant(plant),
        Thing::Head(cross, _) | Thing::Cross(cross) => Place::Cross(cross),
        Thing::Packet(packet) => Place::Cross(packet.cross),
    }
}

fn name(around: &Around<'_>, thing: Thing) -> String {
    let book = around.desk.book();
    let code = |id: CrossId| book.cross(id).code.clone();
    match thing {
        Thing::Plant(plant) => around.desk.label(plant).to_owned(),
        Thing::Head(id, n) => forms::name(book, &Spot::Head(code(id), n)),
        Thing::Packet(packet) => forms::name(book, &Spot::Lot(code(packet.cross), packet.lot)),
        Thing::Cross(id) => code(id).into(),
    }
}

/// What it is of, and how it stands.
fn of(around: &Around<'_>, thing: Thing) -> String {
    let (desk, book) = (around.desk, around.desk.book());
    let parents = |id| said::cross(desk, id, around.glyphs());
    match thing {
        Thing::Plant(plant) => {
            let state = words::state(desk.brief(plant).state);
            match book.cross_of(plant) {
                Some(cross) => format!("{state}, {}", parents(cross)),
                None => state.to_owned(),
            }
        }
        Thing::Head(id, _) | Thing::Cross(id) => parents(id),
        Thing::Packet(packet) => {
            let left = book.cross(packet.cross).lots[packet.lot].left();
            let left = left.map_or_else(|| "not counted".to_owned(), |n| words::many(n, "seed"));
            format!("{left}, {}", parents(packet.cross))
        }
    }
}

impl Sheet for Due {
    type Record = Option<Task>;

    const COLUMNS: &'static [&'static [Column]] = &[COLUMNS];

    fn place(&self) -> Place {
        Place::Due(self.what)
    }

    fn work(&self, _: &Around<'_>) -> Option<Work<Self::Record>> {
        let what = self.what;
        Some(Box::new(move |desk| evening::task(desk, what)))
    }

    fn height(&self, _: &Self::Record, _: &Lists, _: usize, around: &Around<'_>) -> u16 {
        around.body.height.saturating_sub(2)
    }

    fn n_rows(&self, task: &Self::Record, _: usize) -> usize {
        task.as_ref().map_or(0, |task| task.things.len())
    }

    fn key(
        &self,
        task: &Self::Record,
        (_, column): (usize, usize),
        row: usize,
        around: &Around<'_>,
    ) -> Key {
        let Some((thing, since)) = task.as_ref().and_then(|task| task.things.get(row)) else {
            return Key::Missing;
        };
        match column {
            0 => Key::label(name(around, *thing)),
            1 => Key::label(of(around, *thing)),
            _ => Key::day(since.map(When::day)),
        }
    }

    fn letters(&self, task: &Self::Record, _: usize, row: usize, around: &Around<'_>) -> String {
        let thing = task.as_ref().and_then(|task| task.things.get(row));
        thing.map_or_else(String::new, |(thing, _)| {
            format!("{} {}", name(around, *thing), of(around, *thing))
        })
    }

    fn opens(&self, task: &Self::Record, _: usize, row: usize) -> Option<Place> {
        task.as_ref()?.things.get(row).map(|(thing, _)| place(*thing))
    }

    fn spot(&self, task: &Self::Record, row: usize, around: &Around<'_>) -> Option<Spot> {
        let code = |id: CrossId| around.desk.book().cross(id).code.clone();
        match task.as_ref()?.things.get(row)?.0 {
            Thing::Head(id, n) => Some(Spot::Head(code(id), n)),
            Thing::Packet(packet) => Some(Spot::Lot(code(packet.cross), packet.lot)),
            Thing::Plant(_) | Thing::Cross(_) => None,
        }
    }

    fn says(&self, task: &Self::Record, around: &Around<'_>) -> String {
        let Some(task) = task else {
            return format!("Nothing is due here any more: 0 {}.", self.what.says(0));
        };
        let n = task.things.len();
        let (says, age) = (task.what.says(n), task.age(around.desk.today()));
        let note = said::with_ends(&task.note, around.glyphs());
        let parts = [age, note].into_iter().filter(|part| !part.is_empty());
        let whole = std::iter::once(format!("{} {says}", said::grouped(n))).chain(parts);
        let whole: Vec<String> = whole.collect();
        let wordings = (1..=whole.len()).rev().map(|n| format!("{}.", whole[..n].join("; ")));
        said::fitting(wordings, around.line_room())
    }

    fn draw(
        &self,
        task: &Self::Record,
        lists: &Lists,
        canvas: &mut Canvas<'_>,
        around: &Around<'_>,
    ) {
        let n = self.n_rows(task, 0);
        let area = canvas.area();
        let note = note::<Self>(lists, 0, n, around);
        let rest = section::draw(canvas, area, self.what.says(n), &note);
        let Some(task) = task else {
            return section::instead(canvas, rest, "Nothing of this is due any more.");
        };
        let cell = |row: usize, column| match (task.things[row], column) {
            ((thing, _), 0) => Cell::text(name(around, thing)),
            ((thing, _), 1) => Cell::quiet(of(around, thing)),
            ((_, Some(since)), _) => Cell::quiet(said::day(When::day(since), around.season)),
            _ => Cell::Blank,
        };
        tables::draw(canvas, rest, &table::<Self>(lists, 0, &cell));
    }
}
