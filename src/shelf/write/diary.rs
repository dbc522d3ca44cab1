//! Diaries: each entry on a line of its own.

use super::ron::{Fields, Ron, Word, call, lines, map};
use crate::book::{Entry, GardenDeed, HeadDeed, Look, LotDeed, PlantDeed};

/// Writes the `diary` field, unless nothing is in it.
pub(super) fn diary<D: Ron>(fields: &mut Fields<'_>, depth: usize, diary: &[Entry<D>]) {
    if !diary.is_empty() {
        lines(fields.name("diary"), depth, diary.iter(), entry);
    }
}

/// Writes one entry.
pub(super) fn entry<D: Ron>(out: &mut String, entry: &Entry<D>) {
    let mut fields = Fields::open(out, "");
    fields.put("on", &entry.on).put("did", &entry.did);
    fields.close();
}

impl Ron for HeadDeed {
    fn ron(&self, out: &mut String) {
        match self {
            Self::Pollinated => out.push_str("Pollinated"),
            Self::Cut => out.push_str("Cut"),
            Self::InWater => out.push_str("InWater"),
            Self::Hung => out.push_str("Hung"),
            Self::Rotted => out.push_str("Rotted"),
            Self::Lost(why) => call(out, "Lost", why),
            Self::Threshed { seeds } => bracket(out, "Threshed", |f| {
                f.put("seeds", seeds);
            }),
            Self::Note(text) => call(out, "Note", text),
        }
    }
}

impl Ron for LotDeed {
    fn ron(&self, out: &mut String) {
        match self {
            Self::Sown { seeds } => bracket(out, "Sown", |f| {
                f.some("seeds", seeds.as_ref());
            }),
            Self::Up(n) => call(out, "Up", n),
            Self::PrickedOut(n) => call(out, "PrickedOut", n),
            Self::Given { seeds, to } => bracket(out, "Given", |f| {
                f.put("seeds", seeds).some("to", to.as_ref());
            }),
            Self::Gone(why) => call(out, "Gone", why),
            Self::Note(text) => call(out, "Note", text),
        }
    }
}

impl Ron for PlantDeed {
    fn ron(&self, out: &mut String) {
        match self {
            Self::Acquired { from } => bracket(out, "Acquired", |f| {
                f.some("from", from.as_ref());
            }),
            Self::Numbered => out.push_str("Numbered"),
            Self::Planted(position) => bracket(out, "Planted", |f| {
                if let Some(at) = position {
                    f.put("bed", &at.bed).put("row", &at.row).put("place", &at.place);
                }
            }),
            Self::SeenUnbloomed => out.push_str("SeenUnbloomed"),
            Self::FirstBloom => out.push_str("FirstBloom"),
            Self::Look(look) => look.ron(out),
            Self::Verdict { is, why, who } => bracket(out, "Verdict", |f| {
                f.put("is", is).some("why", why.as_ref()).some("who", who.as_ref());
            }),
            Self::TagLost => out.push_str("TagLost"),
            Self::Lost(why) => call(out, "Lost", why),
            Self::Lifted { tubers, store } => bracket(out, "Lifted", |f| {
                f.some("tubers", tubers.as_ref()).some("store", store.as_ref());
            }),
            Self::Checked { sound } => bracket(out, "Checked", |f| {
                f.put("sound", sound);
            }),
            Self::Woken => out.push_str("Woken"),
            Self::Ailing(what) => call(out, "Ailing", what),
            Self::Treated(how) => call(out, "Treated", how),
            Self::MovedFrom { cross, why } => bracket(out, "MovedFrom", |f| {
                f.put("cross", cross).some("why", why.as_ref());
            }),
            Self::Given { tubers, to } => bracket(out, "Given", |f| {
                f.put("tubers", tubers).some("to", to.as_ref());
            }),
            Self::Disposed(how) => call(out, "Disposed", how),
            Self::Named(name) => call(out, "Named", name),
            Self::Note(text) => call(out, "Note", text),
        }
    }
}

impl Ron for GardenDeed {
    fn ron(&self, out: &mut String) {
        match self {
            Self::Weather(text) => call(out, "Weather", text),
            Self::Fed(with) => call(out, "Fed", with),
            Self::Job(job) => call(out, "Job", job),
            Self::Note(text) => call(out, "Note", text),
        }
    }
}

impl Ron for crate::book::Verdict {
    fn ron(&self, out: &mut String) {
        Word(match self {
            Self::Keep => "Keep",
            Self::Hold => "Hold",
            Self::Discard => "Discard",
        })
        .ron(out);
    }
}

impl Ron for Look {
    fn ron(&self, out: &mut String) {
        bracket(out, "Look", |f| {
            f.some("who", self.who.as_ref())
                .some("bloom_mm", self.bloom_mm.as_ref())
                .some("height_cm", self.height_cm.as_ref())
                .some("group", self.group.as_ref())
                .list("colours", &self.colours);
            if !self.scores.is_empty() {
                map(f.name("scores"), &self.scores);
            }
            f.list("faults", &self.faults)
                .some("note", self.note.as_ref())
                .some("photo", self.photo.as_ref());
        });
    }
}

fn bracket(out: &mut String, name: &str, put: impl FnOnce(&mut Fields<'_>)) {
    let mut fields = Fields::open(out, name);
    put(&mut fields);
    fields.close();
}
