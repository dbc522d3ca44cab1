//! What there is on a walk past plants. Its keys are chosen for one cold thumb: the first letter
//! of the word, and nothing held down but to give a reason.

use super::{
    Action, Group, Layer, Row, Snapshot,
    table::{hinted, row},
};
use crate::book::Verdict;
use crate::tui::place::Kind;

fn walks(s: &Snapshot) -> bool {
    s.layer == Layer::Page && s.kind == Kind::Walk
}

const fn walking(
    action: Action,
    name: &'static str,
    keys: &'static [&'static str],
    help: &'static str,
) -> Row {
    row(action, name, keys, Group::Writing, help, walks)
}

/// The rows, in the order of the footer.
pub(super) const WALKING: &[Row] = &[
    hinted(
        walking(
            Action::NextPlant,
            "next-plant",
            &["right", "down", "space"],
            "the next plant, without a word on this one",
        ),
        "next",
    ),
    hinted(
        walking(Action::PlantBefore, "plant-before", &["left", "up"], "the plant before"),
        "back",
    ),
    hinted(
        walking(Action::NextField, "next-figure", &["tab", "enter"], "the next figure"),
        "figure",
    ),
    walking(Action::FieldBefore, "figure-before", &["shift-tab"], "the figure before"),
    walking(
        Action::Digit,
        "digit",
        &["0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "."],
        "a figure: of a score one digit is enough",
    ),
    walking(Action::Erase, "erase", &["backspace", "delete"], "take a digit back"),
    hinted(walking(Action::Faults, "faults", &["x"], "its faults, a letter each"), "faults"),
    hinted(walking(Action::Colours, "colours", &["c"], "its colours, a letter each"), "colours"),
    hinted(walking(Action::Remark, "remark", &["n"], "a note on it"), "note"),
    hinted(
        walking(Action::Jump, "to-number", &["g"], "to a number: its last digits are enough"),
        "number",
    ),
    walking(Action::Verdict(Verdict::Keep), "keep", &["k"], "keep it, and on"),
    walking(Action::Verdict(Verdict::Hold), "hold", &["h"], "hold it, and on"),
    walking(Action::Verdict(Verdict::Discard), "discard", &["d"], "discard it, and on"),
    walking(Action::VerdictWhy(Verdict::Keep), "keep-why", &["K"], "keep it, and say why"),
    walking(Action::VerdictWhy(Verdict::Hold), "hold-why", &["H"], "hold it, and say why"),
    walking(Action::VerdictWhy(Verdict::Discard), "discard-why", &["D"], "discard it, and say why"),
    walking(Action::Lose, "lost", &["l"], "it is lost, and by what"),
    walking(Action::FirstBloom, "in-bloom", &["b"], "its first bloom is open"),
    walking(Action::InBud, "in-bud", &["i"], "not in bloom yet, and on"),
    walking(Action::Photo, "picture", &["p"], "the path of a picture of it"),
    walking(Action::Who, "who", &["w"], "who looks: what others see is kept apart"),
    walking(Action::NoteMore, "anything", &["a"], "write down anything else that happened to it"),
    walking(Action::Everything, "everything", &["e"], "its page, with everything known of it"),
    hinted(
        row(
            Action::LeaveWalk,
            "leave",
            &["esc"],
            Group::Going,
            "leave the walk; what was begun is written",
            walks,
        ),
        "leave",
    ),
];
