//! The line of a plant on the screen: what is drawn can be read back without mistake, and the
//! arrows lead where the picture says.

#[path = "pedigrees.rs"]
mod pedigrees;

use std::{collections::BTreeMap, sync::Arc};

use chrono::NaiveDate;
use proptest::prelude::*;
use trug::{
    book::{Book, PlantId},
    lineage::{Link, Pedigree},
    tui::{Settings, Stage, place::Place},
    views::Desk,
};

fn demo_desk() -> Arc<Desk> {
    let book = trug::shelf::open(&crate::demo::folder(), None).expect("the demo").book;
    let day = book.about().today.expect("a day");
    Arc::new(Desk::new(Arc::new(book), day))
}

/// Opens the line of a plant on a screen of a size.
fn line_of(desk: &Arc<Desk>, who: &str, size: (u16, u16), ascii: bool) -> Stage {
    let settings = Settings { ascii, ..Settings::default() };
    let mut stage = Stage::new(desk.clone(), settings, size);
    stage.press(&format!("/{who}<enter>5")).expect("keys");
    assert!(matches!(stage.place(), Place::Line(Some(_))), "{who}: {:?}", stage.place());
    stage
}

/// A picture as a stranger reads it: along the rails, knowing nothing of the book.
struct Reader {
    cells: Vec<Vec<char>>,
}

/// A plant as it stands in the picture.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Seen {
    name: String,
    /// The number behind it and where that sends the eye.
    mark: Option<(u32, char)>,
    /// More stands behind it than is drawn.
    has_more: bool,
    /// The parents drawn above and below, with the word on the rail.
    above: Vec<(String, Seen)>,
    below: Vec<(String, Seen)>,
}

impl Reader {
    fn of(stage: &Stage) -> Self {
        let plain = |c| match c {
            '╮' | '┓' => '.',
            '╯' | '┛' => '\'',
            '┤' | '┫' => '+',
            '│' | '┃' | '!' => '|',
            '─' | '━' | '=' => '-',
            '×' => 'x',
            '…' => '~',
            '›' => '>',
            '↑' => '^',
            '↓' => 'v',
            '■' => '#',
            c => c,
        };
        let text = stage.text();
        let mut cells: Vec<Vec<char>> =
            text.lines().map(|line| line.chars().map(plain).collect()).collect();
        let wide = cells.iter().map(Vec::len).max().unwrap_or_default();
        for row in &mut cells {
            row.resize(wide, ' ');
        }
        Self { cells }
    }

    /// The plant in the middle: the one before a node from which nothing goes on but offspring.
    fn centre(&self, name: &str) -> Option<Seen> {
        for (y, row) in self.cells.iter().enumerate() {
            for (x, _) in row.iter().enumerate().filter(|(_, c)| **c == 'x') {
                let goes_on = row[x + 1..].iter().any(|&c| c != ' ') && row[x + 1] != '-';
                let seen = if goes_on { continue } else { self.plant(x, y) };
                if seen.name == name {
                    return Some(seen);
                }
            }
        }
        None
    }

    /// The plant whose node is at a column and row.
    fn plant(&self, x: usize, y: usize) -> Seen {
        let mut seen = self.name_before(x, y);
        if self.cells[y][x] == 'x' {
            let mut up = (0..y).rev();
            seen.above = self.parents(x, &mut up, '.');
            seen.above.reverse();
            let mut down = y + 1..self.cells.len();
            seen.below = self.parents(x, &mut down, '\'');
        }
        seen
    }

    /// Follows a rail along its column until it turns to the left for good.
    fn parents(
        &self,
        x: usize,
        rows: &mut dyn Iterator<Item = usize>,
        last: char,
    ) -> Vec<(String, Seen)> {
        let mut found = Vec::new();
        for y in rows {
            let here = self.cells[y][x];
            if here == last || here == '+' {
                let mut start = x;
                while !matches!(self.cells[y][start - 1], ' ' | 'x') {
                    start -= 1;
                }
                if self.cells[y][start - 1] == 'x' {
                    start -= 1;
                }
                let rail = self.cells[y][start..x].iter();
                let word = rail.filter(|c| !matches!(c, '-' | 'x')).collect();
                found.push((word, self.plant(start, y)));
            }
            if here != '+' && here != '|' {
                break;
            }
        }
        found
    }

    fn name_before(&self, x: usize, y: usize) -> Seen {
        let before: String = self.cells[y][..x.saturating_sub(1)].iter().collect();
        let own = before.rsplit("  ").next().unwrap_or_default();
        let (behind, own) = own.rsplit_once("> ").unwrap_or(("", own));
        let own = own.trim_start_matches(' ');
        let (behind, own) = own.strip_prefix("~ ").map_or((behind, own), |own| ("~", own));
        let own = own.trim_start_matches("# ");
        let (name, mark) = match own.rsplit_once(" [") {
            Some((name, mark)) => {
                let mark = mark.trim_end_matches(']');
                let arrow = mark.chars().find(|c| !c.is_ascii_digit()).unwrap_or('=');
                let number = mark.trim_end_matches(arrow).parse().expect("a number");
                (name, Some((number, arrow)))
            }
            None => (own, None),
        };
        let has_more = !behind.is_empty();
        Seen { name: name.to_owned(), mark, has_more, above: Vec::new(), below: Vec::new() }
    }
}

/// The words and names that must stand on one side of a plant.
fn side(book: &Book, links: &[Link], unknown: f64, word: &str) -> Vec<(String, String)> {
    let doubt = |certain: bool| format!("{word}{}", if certain { "" } else { "?" });
    let mut all: Vec<_> = links
        .iter()
        .map(|link| (doubt(link.is_certain()), book.plant(link.plant).label().to_owned()))
        .collect();
    if unknown > 0.0 {
        all.push((doubt(links.is_empty()), "unknown".to_owned()));
    }
    all
}

/// Whether a name is read as another, which may have been cut.
fn is_same(seen: &str, name: &str) -> bool {
    seen == name || seen.strip_suffix('~').is_some_and(|start| name.starts_with(start))
}

/// Checks one plant of a picture against the book, and those behind it.
fn check(book: &Book, pedigree: &Pedigree, seen: &Seen, marks: &mut BTreeMap<u32, Vec<Seen>>) {
    let plant = book.plants().find(|&plant| is_same(&seen.name, book.plant(plant).label()));
    if let Some(mark) = seen.mark {
        marks.entry(mark.0).or_default().push(seen.clone());
    }
    let Some(plant) = plant else {
        assert!(seen.name == "unknown" || seen.name.starts_with("one of "), "{seen:?}");
        return;
    };
    let parents = pedigree.parents(plant);
    let drawn: [Vec<(String, String)>; 2] = [&seen.above, &seen.below]
        .map(|side| side.iter().map(|(word, p)| (word.clone(), p.name.clone())).collect());
    let is_elsewhere = seen.mark.is_some_and(|(_, arrow)| arrow != '=');
    if is_elsewhere || seen.has_more || pedigree.is_founder(plant) {
        assert_eq!(drawn, [vec![], vec![]], "{seen:?}");
        assert!(!(seen.has_more && pedigree.is_founder(plant)), "{seen:?}");
        return;
    }
    let known = parents.known_seed().filter(|seed| Some(*seed) == parents.known_pollen());
    let expected = match known {
        Some(one) => [vec![("selfed".to_owned(), book.plant(one).label().to_owned())], vec![]],
        None => [
            side(book, parents.seed, parents.unknown_seed(), "seed"),
            side(book, parents.pollen, parents.unknown_pollen(), "pollen"),
        ],
    };
    for (drawn, expected) in drawn.iter().zip(&expected) {
        let same = drawn.len() == expected.len()
            && drawn.iter().zip(expected).all(|(a, b)| a.0 == b.0 && is_same(&a.1, &b.1));
        let in_short = vec![(
            expected.first().map(|(word, _)| word.clone()).unwrap_or_default(),
            format!("one of {}", expected.len()),
        )];
        assert!(same || *drawn == in_short, "{seen:?} but {expected:?}");
    }
    for (_, parent) in seen.above.iter().chain(&seen.below) {
        check(book, pedigree, parent, marks);
    }
}

/// Reads the line of a plant off the screen and holds it against the book.
fn read_back(desk: &Arc<Desk>, who: PlantId, size: (u16, u16), ascii: bool) {
    let (book, pedigree) = (desk.book(), desk.pedigree());
    let name = book.plant(who).label();
    let stage = line_of(desk, name, size, ascii);
    assert_eq!(stage.place(), Place::Line(Some(who)));
    let seen = Reader::of(&stage).centre(name);
    let Some(seen) = seen else {
        let is_told = pedigree.is_founder(who);
        assert!(is_told, "{name} was not found:\n{}", stage.text());
        return;
    };
    let mut marks = BTreeMap::new();
    check(book, pedigree, &seen, &mut marks);
    for (number, seen) in marks {
        let n_drawn = seen.iter().filter(|s| s.mark == Some((number, '='))).count();
        assert!(n_drawn <= 1, "[{number}] is drawn {n_drawn} times:\n{}", stage.text());
        assert!(seen.iter().all(|s| s.name == seen[0].name), "[{number}] is of two plants");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, ..ProptestConfig::default() })]

    #[test]
    fn what_is_drawn_can_be_read_back(
        book in crate::lineage::any_book(true),
        wide in 80_u16..200,
        high in 16_u16..60,
        ascii in any::<bool>(),
    ) {
        let day = NaiveDate::from_ymd_opt(2026, 11, 3).expect("a day");
        let desk = Arc::new(Desk::new(Arc::new(book), day));
        for who in desk.book().plants().skip(usize::from(high) % 5).step_by(5) {
            read_back(&desk, who, (wide, high), ascii);
        }
    }
}

#[test]
fn the_two_invented_pedigrees_can_be_read_back_at_every_usual_size() {
    for rows in [pedigrees::FORTY_FOUR, pedigrees::TANGLED_TWELVE] {
        let desk = pedigrees::desk(rows);
        for size in [(80, 24), (120, 40)] {
            for who in desk.book().plants() {
                read_back(&desk, who, size, false);
            }
        }
    }
}

/// The plant or cross under the cursor, as Enter would open it.
fn under(desk: &Desk, stage: &mut Stage) -> String {
    stage.press("<enter>").expect("a key");
    let name = match stage.place() {
        Place::Plant(plant) => desk.label(plant).to_owned(),
        Place::Cross(cross) => desk.book().cross(cross).code.to_string(),
        other => format!("{other:?}"),
    };
    stage.press("<backspace>").expect("a key");
    name
}

#[test]
fn arrows_go_to_parents_on_the_left_and_offspring_on_the_right() {
    let desk = pedigrees::desk(pedigrees::FORTY_FOUR);
    let mut stage = line_of(&desk, "22-104", (120, 40), false);
    let mut walk = |keys: &str| {
        stage.press(keys).expect("keys");
        under(&desk, &mut stage)
    };
    assert_eq!(walk(""), "22-104");
    assert_eq!(walk("<left>"), "21-02", "the seed parent");
    assert_eq!(walk("<down>"), "21-05", "the pollen parent, below it in the same column");
    assert_eq!(walk("<left>"), "20-11");
    assert_eq!(walk("<up>"), "20-07");
    assert_eq!(walk("<right><right>"), "22-104");
    assert_eq!(walk("<down>"), "21-05", "from the middle, down is the pollen parent");
    assert_eq!(walk("<right><right>"), "23X1", "the cross that hangs nearest");
    assert_eq!(walk("<up><up><up><up><up><up><up>"), "23-011");
    assert_eq!(walk("<right><right>"), "25-040", "its cross, and a seedling of that");
    assert_eq!(walk("<left><left><left><left>"), "22-104");
}

#[test]
fn an_arrow_beyond_what_is_drawn_puts_that_plant_in_the_middle() {
    let desk = pedigrees::desk(pedigrees::FORTY_FOUR);
    let mut stage = line_of(&desk, "22-104", (80, 24), false);
    stage.press("<left><left><left>").expect("keys");
    assert_eq!(under(&desk, &mut stage), "19-01");
    stage.press("<left>").expect("a key");
    assert_eq!(stage.place(), Place::Line(desk.book().by_key("19-01")));
    stage.press("<backspace>").expect("a key");
    assert_eq!(stage.place(), Place::Line(desk.book().by_key("22-104")));
    assert_eq!(under(&desk, &mut stage), "19-01", "the cursor is where it was");
}

#[test]
fn the_number_of_a_plant_drawn_elsewhere_leads_there() {
    let desk = pedigrees::desk(pedigrees::TANGLED_TWELVE);
    let mut stage = line_of(&desk, "25-09", (120, 40), false);
    assert!(stage.text().contains("22-11 [3↓]"), "{}", stage.text());
    // 24-01, its seed parent 23-02, the plant of whose selfing is drawn further down.
    stage.press("<left><left><left>").expect("keys");
    assert_eq!(under(&desk, &mut stage), "22-11");
    stage.press("<left><right>").expect("keys");
    assert_eq!(under(&desk, &mut stage), "25-09", "the other 22-11 is its pollen parent");
}

#[test]
fn without_a_plant_in_hand_the_latest_keeper_is_shown() {
    let desk = pedigrees::desk(pedigrees::TANGLED_TWELVE);
    let mut stage = Stage::new(desk, Settings::default(), (120, 40));
    stage.press("2").expect("a key");
    stage.press("5").expect("a key");
    assert!(stage.text().contains("The line of 25-09, the latest keeper"), "{}", stage.text());
}

#[test]
fn loops_are_marked_on_the_ancestors_that_close_them_and_add_up_to_the_f_that_is_shown() {
    let desk = pedigrees::desk(pedigrees::TANGLED_TWELVE);
    for ascii in [false, true] {
        let stage = line_of(&desk, "25-09", (160, 40), ascii);
        let shown = stage.text();
        let loops = trug::views::kin::loops(&desk, desk.book().by_key("25-09").unwrap()).unwrap();
        assert!(loops.through.len() > 1, "{loops:?}");
        for &(through, adds) in &loops.through {
            let name = desk.label(through.unwrap());
            let mark = format!("loop {:.0} %", adds * 100.0);
            let is_marked = |line: &str| line.contains(&mark) && line.contains(name);
            assert!(shown.lines().any(is_marked), "{name}, {mark}:\n{shown}");
        }
        let f = format!("inbred {:.0} %", loops.of_full_sibs * 100.0);
        assert!(shown.lines().any(|line| line.contains(&f) && line.contains("25-09")), "{shown}");
        let sum: f64 = loops.through.iter().map(|(_, adds)| adds).sum();
        assert!((sum + loops.in_parents - loops.of_full_sibs).abs() < 1e-9);
        let [heavy, light] = if ascii { ["==", "--"] } else { ["━━", "──"] };
        assert!(shown.contains(heavy) && shown.contains(light), "{shown}");
        assert!(shown.contains("25-09: ") && shown.contains("through "), "{shown}");
    }
}

#[test]
fn a_plant_of_strangers_has_no_loop_and_a_selfed_one_has_its_parent_for_one() {
    let desk = pedigrees::desk(pedigrees::TANGLED_TWELVE);
    let plain = desk.book().plants().find(|&plant| {
        desk.kinship().inbreeding(plant) <= 0.0 && !desk.pedigree().is_founder(plant)
    });
    let shown = line_of(&desk, desk.label(plain.unwrap()), (120, 40), false).text();
    assert!(!shown.contains("loop ") && !shown.contains('━'), "{shown}");
    let selfed = desk.book().plants().find(|&plant| {
        let parents = desk.pedigree().parents(plant);
        parents.known_seed().is_some() && parents.known_seed() == parents.known_pollen()
    });
    let selfed = selfed.unwrap();
    let parent = desk.pedigree().parents(selfed).known_seed().unwrap();
    let shown = line_of(&desk, desk.label(selfed), (120, 40), false).text();
    let name = desk.label(parent);
    let is_marked = |line: &str| line.contains("loop ") && line.contains(name);
    assert!(shown.lines().any(is_marked), "{shown}");
}

#[test]
fn a_variety_raised_without_a_cross_hangs_on_its_parent_like_a_cross() {
    let stage = line_of(&demo_desk(), "Ferry Lantern", (120, 40), false);
    let shown = stage.text();
    let line = shown.lines().find(|line| line.contains("Oatfield")).unwrap();
    assert!(line.contains("seed─ ■ Oatfield  variety"), "{line}");
}
