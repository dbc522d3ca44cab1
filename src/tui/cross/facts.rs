//! What is said of a cross: one line at the head, the counts, the parents, and the story of its
//! heads and packets.

use crate::book::By;
use crate::tui::{
    diary::{self, Row},
    facts::Fact,
    links::{self, Link},
    page::Around,
    said,
};
use crate::views::{Interval, Levels, cross::Page as Record, plant::Line, words};

/// The cross in one line.
pub(super) fn says(record: &Record, around: &Around<'_>) -> String {
    let row = &record.row;
    let code = &around.desk.book().cross(row.cross).code;
    let parents = said::cross(around.desk, row.cross, around.glyphs());
    let made = row.season.map_or_else(String::new, |season| format!(", made in {season}"));
    let by = match row.by {
        By::Hand => "",
        By::Bees => " by bees",
    };
    let kept = match row.counts.judged {
        0 => String::new(),
        judged => format!("; kept {}", said::of(row.counts.kept, judged)),
    };
    said::fitting(
        [
            format!("Cross {code}: {parents}{made}{by}{kept}."),
            format!("{code}: {parents}{made}{kept}."),
            format!("{code}: {parents}{kept}."),
            format!("{code}: {parents}."),
        ],
        around.line_room(),
    )
}

/// How many of each, and what is usual.
pub(super) fn of<'a>(record: &'a Record, around: &Around<'a>) -> Vec<Fact<'a>> {
    let row = &record.row;
    let counts = row.counts;
    let usual = &around.desk.book().crop().rates;
    let mut all = Vec::new();
    let mut say = |name, said: String| all.push(Fact::Words(name, said));
    if counts.heads > 0 {
        say("heads", heads(record));
    }
    if counts.seeds > 0 {
        let left = match row.left {
            Some(left) => format!(", {left} left in {}", words::many(row.packets, "packet")),
            None => String::new(),
        };
        say("seeds", format!("{}{left}", counts.seeds));
    }
    let share = |part: u32, whole: u32, usual: f64| {
        let usual =
            if usual > 0.0 { format!(", usual {:.0}", usual * 100.0) } else { String::new() };
        let share = Levels::default().rate(part.min(whole), whole);
        let share =
            share.map_or_else(String::new, |share| format!(", {}{usual}", spread(&share, around)));
        format!("{}{share}", said::of(part, whole))
    };
    if counts.sown > 0 {
        say("came up", share(counts.up, counts.sown, usual.up_of_sown.value));
    }
    if counts.planted > 0 {
        say("planted", counts.planted.to_string());
        say("opened", share(counts.bloomed, counts.planted, usual.bloomed_of_planted.value));
    }
    if counts.judged > 0 {
        say("kept", share(counts.kept, counts.judged, 0.0));
    }
    if let Some(from) = &record.from {
        say("seed from", from.to_string());
    }
    if record.has_totals {
        say("known", "some of its plants by totals only".to_owned());
    }
    if let Some(note) = &record.note {
        say("note", note.to_string());
    }
    all
}

fn spread(share: &Interval, around: &Around<'_>) -> String {
    format!("{} ({})", said::percent(share.p), said::ends(share, around.glyphs()))
}

fn heads(record: &Record) -> String {
    let heads = record.row.heads;
    let parts = [
        (heads.ripe, "ripe"),
        (heads.hanging, "hanging"),
        (heads.rotted, "rotted"),
        (heads.empty, "empty"),
        (heads.lost, "lost"),
    ];
    let parts: Vec<String> =
        parts.into_iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{n} {what}")).collect();
    if parts.is_empty() {
        return record.row.counts.heads.to_string();
    }
    format!("{}: {}", record.row.counts.heads, parts.join(", "))
}

/// Its parents and its pairing.
pub(super) fn from(record: &Record, around: &Around<'_>) -> Vec<Link> {
    let row = &record.row;
    let mut all = links::parent(around, "seed parent", &row.seed, By::Hand);
    if row.seed == row.pollen && row.seed.plant().is_some() {
        "selfed".clone_into(&mut all[0].note);
    } else {
        all.extend(links::parent(around, "pollen parent", &row.pollen, row.by));
    }
    let pairings = around.desk.pairings();
    let at = pairings.iter().position(|pairing| pairing.crosses.contains(&row.cross));
    all.extend(at.and_then(|at| links::of_pairing(around, at)));
    all
}

/// What happened to its heads and packets, each told in one entry.
pub(super) fn story(record: &Record, wide: u16, around: &Around<'_>) -> Vec<Row> {
    let heads = record.heads.iter().enumerate().map(|(i, head)| {
        let tag = head.tag.as_deref().map_or_else(|| format!("head {}", i + 1), str::to_owned);
        (tag, told(&head.diary))
    });
    let packets = record.packets.iter().map(|packet| {
        let lot = &around.desk.book().cross(packet.row.packet.cross).lots[packet.row.packet.lot];
        let left = packet.row.left.map_or_else(String::new, |left| format!("; {left} left"));
        let filled = match lot.seeds {
            Some(seeds) => format!("{} in it", words::many(seeds, "seed")),
            None => "not counted".to_owned(),
        };
        let told = told(&packet.diary);
        let between = if told.is_empty() { "" } else { "; " };
        (lot.code.to_string(), format!("{filled}{between}{told}{left}"))
    });
    let entries: Vec<(String, String)> = packets.chain(heads).collect();
    diary::told(&entries, wide, around)
}

fn told(entries: &[Line]) -> String {
    let each: Vec<String> =
        entries.iter().map(|line| format!("{} {}", words::day(line.on), line.text)).collect();
    each.join("; ")
}
