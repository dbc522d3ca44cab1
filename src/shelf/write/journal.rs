//! The steps of a change as text, for the journal.

use super::{
    cross::{cross, head, lot, seedling},
    ron::{Fields, Ron, call, lines, show},
};
use crate::book::{Part, Spot, Step};

/// A list of steps, one after the other.
pub(in super::super) fn steps(steps: &[Step]) -> String {
    let mut out = String::new();
    lines(&mut out, 0, steps.iter(), step);
    out.push('\n');
    out
}

/// A text in quotation marks.
pub(in super::super) fn quoted(text: &str) -> String {
    let mut out = String::new();
    text.ron(&mut out);
    out
}

fn step(out: &mut String, step: &Step) {
    let mut fields = Fields::open(out, "");
    spot(fields.name("spot"), &step.spot);
    for (name, part) in [("before", &step.before), ("after", &step.after)] {
        if let Some(part) = part {
            self::part(fields.name(name), part);
        }
    }
    fields.close();
}

fn spot(out: &mut String, spot: &Spot) {
    match spot {
        Spot::About => out.push_str("About"),
        Spot::Variety(id) => call(out, "Variety", id),
        Spot::Cross(code) => call(out, "Cross", code),
        Spot::Head(code, n) => {
            out.push_str("Head(");
            code.ron(out);
            show(out, format_args!(", {n})"));
        }
        Spot::Lot(code, n) => {
            out.push_str("Lot(");
            code.ron(out);
            show(out, format_args!(", {n})"));
        }
        Spot::Seedling(code, key) => {
            out.push_str("Seedling");
            (&**code, &**key).ron(out);
        }
    }
}

fn part(out: &mut String, part: &Part) {
    match part {
        Part::About(about) => sheet(out, "About", &super::about(about)),
        Part::Variety(variety) => sheet(out, "Variety", &super::variety(variety)),
        Part::Cross(cover) => sheet(out, "Cross", &cross(cover)),
        Part::Head(of) => inside(out, "Head", |out| head(out, of)),
        Part::Lot(of) => inside(out, "Lot", |out| lot(out, of)),
        Part::Seedling(of) => inside(out, "Seedling", |out| seedling(out, of)),
    }
}

fn sheet(out: &mut String, name: &str, text: &str) {
    inside(out, name, |out| out.push_str(text.trim_end()));
}

fn inside(out: &mut String, name: &str, put: impl FnOnce(&mut String)) {
    out.push_str(name);
    out.push('(');
    put(out);
    out.push(')');
}
