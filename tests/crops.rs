//! Crop files: the one that is built in, a second one, and what is said of a bad one.

use std::{collections::BTreeSet, fs, path::Path};

use trug::{
    book::{Crop, SizeTable, fold},
    shelf::crop_file::{builtin, builtin_names, builtin_text, parse},
};

fn dahlia() -> Crop {
    builtin("dahlia").expect("the dahlia file is built in and sound")
}

fn sweet_pea() -> (String, Crop) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/crops/sweet_pea.ron");
    let text = fs::read_to_string(path).expect("the second crop is there");
    let crop = parse(&text, "sweet_pea.ron").expect("the second crop is sound");
    (text, crop)
}

fn class<'c>(crop: &'c Crop, table: &str, bloom_mm: f64, group: Option<&str>) -> Option<&'c str> {
    let table = crop.size_table(Some(table)).expect("a table");
    table.class(bloom_mm, group).map(|class| &*class.name)
}

#[test]
fn every_crop_built_in_is_sound_and_bears_its_name() {
    assert!(builtin_names().count() > 0);
    for name in builtin_names() {
        let text = builtin_text(name).expect("a text");
        let crop = parse(text, name).unwrap_or_else(|problems| panic!("{problems:#?}"));
        assert_eq!(&*crop.name, name);
        assert_eq!(builtin(&name.to_uppercase()), Some(crop), "asked for in capitals");
    }
    assert_eq!(builtin("nobody grows this"), None);
}

#[test]
fn a_word_means_one_thing() {
    let crop = dahlia();
    let colours = crop.colours.iter().map(|c| &c.word).chain(&crop.markings);
    let all: Vec<&Box<str>> = colours
        .chain(crop.groups.iter().map(|g| &g.code))
        .chain(crop.traits.iter().map(|t| &t.name))
        .chain(&crop.faults)
        .collect();
    let folded: BTreeSet<String> = all.iter().map(|word| fold(word)).collect();
    assert!(all.len() > 60, "{} words", all.len());
    // `colour` is a trait and no colour word, so nothing is both.
    assert_eq!(folded.len(), all.len(), "{all:?}");
    for word in all {
        assert_eq!(**word, *word.trim(), "no blanks around a word");
    }
}

#[test]
fn swatches_can_be_told_apart() {
    let crop = dahlia();
    for (n, a) in crop.colours.iter().enumerate() {
        for b in &crop.colours[..n] {
            let apart: u32 =
                a.swatch.iter().zip(b.swatch).map(|(&x, y)| u32::from(x.abs_diff(y))).sum();
            assert!(apart >= 40, "{} and {} are only {apart} apart", a.word, b.word);
        }
    }
}

/// The classes for one group, or for those that have none of their own.
fn ranges(table: &SizeTable, group: Option<&str>) -> Vec<(f64, Option<f64>)> {
    let mut ranges: Vec<(f64, Option<f64>)> = table
        .classes
        .iter()
        .filter(|c| match group {
            Some(group) => c.groups.iter().any(|g| **g == *group),
            None => c.groups.is_empty(),
        })
        .map(|c| (c.above_mm, c.up_to_mm))
        .collect();
    ranges.sort_by(|a, b| a.0.total_cmp(&b.0));
    ranges
}

#[test]
fn size_classes_leave_no_gap_and_do_not_overlap() {
    let crop = dahlia();
    assert!(crop.sizes.len() >= 4);
    let groups = crop.groups.iter().map(|g| Some(&*g.code)).chain([None]);
    let mut n_seams = 0;
    for group in groups {
        for table in &crop.sizes {
            for pair in ranges(table, group).windows(2) {
                assert_eq!(pair[0].1, Some(pair[1].0), "{} of {group:?}", table.name);
                n_seams += 1;
            }
        }
    }
    assert!(n_seams > 20, "{n_seams} seams looked at");
}

#[test]
fn every_group_is_sized_or_said_not_to_be() {
    let crop = dahlia();
    for table in &crop.sizes {
        for group in &crop.groups {
            let sized = [45.0, 60.0, 90.0, 130.0, 180.0, 240.0, 300.0]
                .iter()
                .any(|&mm| table.class(mm, Some(&group.code)).is_some());
            let said = table.unsized_groups.contains(&group.code);
            assert!(sized != said, "{} in {}", group.code, table.name);
        }
        assert_eq!(table.class(0.0, None), None, "no bloom has no class");
    }
}

#[test]
fn published_tables_disagree_and_the_book_says_which_is_used() {
    let crop = dahlia();
    // A ball of 95 mm and a pompon of 53 mm: British figures against American inches.
    assert_eq!(class(&crop, "uk", 95.0, Some("Ba")), Some("miniature ball"));
    assert_eq!(class(&crop, "usa", 95.0, Some("Ba")), Some("BA ball"));
    assert_eq!(class(&crop, "uk", 53.0, Some("Pom")), Some("pompon"));
    assert_eq!(class(&crop, "usa", 53.0, Some("Pom")), Some("MB miniature ball"));
    // One bloom by four tables.
    let of = |table| class(&crop, table, 165.0, Some("D"));
    assert_eq!(of("uk"), Some("medium"));
    assert_eq!(of("uk shows"), Some("small"));
    assert_eq!(of("australia"), Some("medium"));
    assert_eq!(of("usa"), Some("B medium"));
    // The figure itself belongs below; a millimetre more is the next class.
    assert_eq!(class(&crop, "uk", 250.0, Some("C")), Some("large"));
    assert_eq!(class(&crop, "uk", 251.0, Some("C")), Some("giant"));
    assert_eq!(class(&crop, "uk", 251.0, None), Some("giant"), "the group is not known");
    assert_eq!(class(&crop, "uk", 90.0, Some("Sin")), None, "singles are not sized");
    assert_eq!(class(&crop, "uk", 90.0, Some("sin")), None, "however it is written");
    assert_eq!(
        crop.size_table(None).map(|t| &*t.name),
        Some("uk"),
        "the first, unless one is picked"
    );
    assert_eq!(crop.size_table(Some("no such")).map(|t| &*t.name), Some("uk"));
}

#[test]
fn inches_are_turned_to_millimetres_exactly() {
    let crop = dahlia();
    let usa = crop.size_table(Some("usa")).expect("a table");
    let inches = [0.0, 2.0, 3.5, 4.0, 6.0, 8.0, 10.0].map(|inches| inches * 25.4);
    for class in &usa.classes {
        for mm in [Some(class.above_mm), class.up_to_mm].into_iter().flatten() {
            assert!(inches.iter().any(|i| (i - mm).abs() < 1e-9), "{}: {mm}", class.name);
        }
    }
}

#[test]
fn every_usual_figure_says_where_it_is_from() {
    let crop = dahlia();
    let r = &crop.rates;
    for usual in [
        &r.up_of_sown,
        &r.planted_of_sown,
        &r.bloomed_of_planted,
        &r.kept_of_judged,
        &r.held_over_kept,
        &r.ripened_of_heads,
        &r.seeds_of_head,
    ] {
        assert!(usual.source.len() > 15, "{usual:?}");
        assert!(!usual.source.contains(['\n', '\t']), "one line: {usual:?}");
    }
    assert!((r.kept_of_judged.value - 0.40).abs() < 1e-9);
    assert!((r.planted_of_sown.value - 650.0 / 864.0).abs() < 5e-4);
    assert!((r.bloomed_of_planted.value - 619.0 / 750.0).abs() < 5e-4);
}

#[test]
fn a_second_crop_brings_its_own_words() {
    let (_, crop) = sweet_pea();
    assert_eq!((&*crop.plural, crop.ploidy), ("sweet peas", 2));
    assert_eq!(class(&crop, "bench", 31.0, Some("B")), Some("large"));
    assert!(crop.knows_colour("Mauve") && !crop.knows_colour("apricot"));
    assert!(crop.scored("scent").is_some() && crop.scored("form").is_none());
    assert!(dahlia().knows_colour("bicoloured") && dahlia().colour("bicoloured").is_none());
}

/// Each slip of the pen, the line it is on, what is pointed at there, and what is said.
const SLIPS: [(&str, &str, usize, &str, &str); 14] = [
    ("ploidy: 2", "ploidy: 3", 6, "3,", "Chromosomes come in pairs."),
    ("ploidy: 2", "ploidy: -2", 6, "-2,", "This number is too large or too small to stand here."),
    ("reduction: 0.0", "reduction: 1.5", 7, "1.5,", "1.5 cannot be at ploidy 2."),
    ("code: \"B\"", "code: \"t\"", 11, "\"t\",", "\"t\" stands here a second time."),
    ("above: 30", "above: 30, up_to: 20", 19, "20)", "20 cannot stand here."),
    (
        "above: 30",
        "above: 30, groups: [\"X\"]",
        19,
        "\"X\"]",
        "There is no group \"X\" in this crop.",
    ),
    ("#b784a7", "mauve", 26, "\"mauve\")", "A swatch is six digits of red, green and blue."),
    ("\"mauve\"", "\"White\"", 26, "\"White\",", "\"White\" stands here a second time."),
    ("high: 5", "high: 0", 28, "0)]", "0 cannot stand here."),
    ("value: 0.1,", "value: 1.0,", 36, "1.0,", "1 cannot stand here."),
    ("value: 0.1,", "value: NaN,", 36, "NaN,", "NaN cannot stand here."),
    ("from: 7, to: 14", "from: 7, to: 1", 43, "1,", "1 is less than 7."),
    (
        "tallest_cm",
        "tallest_mm",
        31,
        "tallest_mm",
        "There is no field \"tallest_mm\" in such a record.",
    ),
    (
        "format: 1",
        "format: 2",
        3,
        "2,",
        "The file is of format 2; this trug reads format 1 and older.",
    ),
];

#[test]
fn a_bad_crop_file_is_refused_with_line_and_column() {
    let (text, _) = sweet_pea();
    for (good, bad, line, points_at, message) in SLIPS {
        assert_eq!(text.matches(good).count(), 1, "{good}");
        let text = text.replace(good, bad);
        let problems = parse(&text, "crop.ron").expect_err(bad);
        let [problem] = &problems[..] else { panic!("{bad}: {problems:#?}") };
        assert_eq!(problem.message, message, "{bad}");
        assert_eq!((&*problem.file, problem.line), ("crop.ron", line), "{bad}");
        let shown = &text.lines().nth(line - 1).expect("a line")[problem.column - 1..];
        assert!(shown.starts_with(points_at), "{bad}: points at {shown}");
        assert!(problem.hint.ends_with('.'), "{bad}: {}", problem.hint);
    }
    let problems = parse(&text[..text.len() / 2], "crop.ron").expect_err("cut short");
    assert_eq!(problems.len(), 1, "{problems:#?}");
    assert!(parse("", "crop.ron").is_err());
}

/// The code knows no plant by name: the word stands only where a default crop is named.
#[test]
fn the_code_knows_no_dahlia() {
    let may = ["shelf/crop_file.rs", "cli/", "config/", "sim/"];
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut folders = vec![root.clone()];
    let (mut wrong, mut n_files) = (Vec::new(), 0);
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("readable") {
            let path = entry.expect("readable").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let name = path.strip_prefix(&root).expect("below src").to_string_lossy().into_owned();
            if path.extension().is_none_or(|e| e != "rs") || may.iter().any(|m| name.starts_with(m))
            {
                continue;
            }
            n_files += 1;
            let text = fs::read_to_string(&path).expect("readable");
            let code = text.split("\n#[cfg(test)]\n").next().unwrap_or_default();
            for (n, line) in code.lines().enumerate() {
                let line = line.split("//").next().unwrap_or_default();
                if line.to_lowercase().contains("dahlia") {
                    wrong.push(format!("src/{name}:{}: {}", n + 1, line.trim()));
                }
            }
        }
    }
    assert!(n_files > 30, "{n_files} files read");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
