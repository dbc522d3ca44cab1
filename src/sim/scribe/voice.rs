//! How the raisers put things: short, and not always kind.

use super::seen::Seen;

use crate::sim::Dice;

const SINGLE: &[&str] =
    &["single", "single again", "one ring and a yellow eye", "daisy", "single, for the bees"];
const OPEN: &[&str] = &[
    "open eye",
    "eye by day three",
    "centre shows before the petals are out",
    "blows by noon",
    "open centre, all three blooms",
];
const STEM: &[&str] = &[
    "neck like string",
    "hangs its head",
    "stem too thin",
    "looks at its own feet",
    "lies down after rain",
    "stem bends under the bloom",
];
const SHAPE: &[&str] = &[
    "petals all ways",
    "no shape to it",
    "gaps you could post a letter through",
    "ragged",
    "lopsided, every bloom",
    "quilled and flat on one plant",
];
const PALE: &[&str] = &["washed out by noon", "another pale one", "goes grey in the rain", "fades"];
const STRONG: &[&str] = &["burns in the sun", "muddy", "shouts", "colour runs in the wet"];
const TALL: &[&str] = &["six feet of leaf, two blooms", "too tall for its bloom", "needs a mast"];
const SMALL: &[&str] = &["small and mean", "hides in its leaves", "nothing of it"];
const DULL: &[&str] = &[
    "nothing new",
    "we have better",
    "not worth the room",
    "no",
    "dull",
    "seen it before",
    "compost",
    "its sisters are better",
    "too like its mother",
    "one bloom a month",
    "only its mother could love it",
    "a poor doer",
    "rather like a wet hen",
];

const KEEP_SHAPE: &[&str] =
    &["best form in the row", "sits like a saucer", "shape", "every petal in its place"];
const KEEP_STEM: &[&str] =
    &["stem like a broom handle", "holds up in rain", "carries it well", "long stem, cuts well"];
const KEEP: &[&str] = &[
    "yes",
    "colour nobody has",
    "glows at dusk",
    "clean colour",
    "lights up the row",
    "neat",
    "lasted nine days in the jug",
    "early and keeps on",
    "good doer",
    "full to the frost",
    "stopped us both",
    "worth another year",
    "better than its mother",
    "a florist would pay for it",
];
/// Why an older plant is kept again.
pub(super) const AGAIN: &[&str] = &[
    "as good again",
    "better than last year",
    "still yes",
    "holds its form",
    "made a fine clump",
    "stock up",
    "clean all summer",
    "asked after at the gate",
];
/// Why an older plant is thrown out.
pub(super) const NO_MORE: &[&str] = &[
    "worse the second year",
    "centre opens now",
    "gone coarse",
    "poor tubers, not worth it",
    "sisters are better",
    "no room",
    "mottled leaf, not risking it",
    "late again",
    "liked it more in the memory",
    "colour not what it was",
];
/// Why a plant is put off.
pub(super) const HOLD: &[&str] = &[
    "stem may firm up",
    "one bloom only, give it a year",
    "second flush better",
    "nice colour, poor plant",
    "in the shade of the hedge, move it",
    "see it beside Saltmarsh",
    "form comes and goes",
    "can't decide",
    "Tom says keep",
    "good days and bad days",
];
/// Why a late plant is put off.
pub(super) const HOLD_LATE: &[&str] =
    &["late, can't tell", "one bloom, in the rain", "came with the frost behind it"];
/// Why a plant that never bloomed is thrown out.
pub(super) const NEVER: &[&str] =
    &["never flowered", "not one bud", "all leaf", "frost got the buds"];
/// Why a plant that never bloomed gets another year.
pub(super) const UNBLOOMED_HOLD: &[&str] =
    &["no bloom, strong plant", "buds at the frost, try again", "good leaf, give it a year"];

/// How a young plant is lost.
pub(super) const LOST_YOUNG: &[&str] = &[
    "slugs",
    "slugs, label standing alone",
    "cut off at the ground, cutworm",
    "trodden on",
    "the cat",
    "leatherjackets",
    "never got going",
];
/// How a seedling is lost before it is planted.
pub(super) const LOST_IN_POT: &[&str] = &[
    "slug in the frame",
    "damped off",
    "knocked off the bench",
    "dried out over the holiday",
    "snapped at planting",
];
/// How a grown plant is lost.
pub(super) const LOST_GROWN: &[&str] = &[
    "snapped in the gale",
    "rotted at the neck",
    "mole under it",
    "fork through it",
    "collapsed, cause unknown",
    "mottled and stunted, burnt it",
    "taken over the fence",
];
/// How a clump is lost in store.
pub(super) const LOST_STORE: &[&str] =
    &["rotted in store", "shrivelled to nothing", "mice", "no eye on it", "soft by February"];
/// How a clump is lost in a winter of frost in the shed.
pub(super) const LOST_FROST: &[&str] =
    &["frost in the shed", "frozen through, January", "mush", "frost in the shed, whole box"];

/// How a head is lost.
pub(super) const HEAD_LOST: &[&str] =
    &["snapped off", "gone, mice", "wind", "cut by mistake", "tag found, no head", "earwigs"];

/// A first word that was taken back.
pub(super) const BEFORE_KEEP: &[&str] =
    &["first bloom poor", "too many of these", "looked like nothing", "no room"];
/// What is said when a label is gone.
pub(super) const TAG_REMARKS: &[&str] = &[
    "named again from the plan",
    "label in the blackbird's nest",
    "pencil washed off, counted along the row",
    "label found two places on, so counted twice",
];
/// Anything else.
pub(super) const REMARKS: &[&str] = &[
    "slug damage, came back",
    "staked twice",
    "pinched late",
    "wasps like it",
    "earwigs",
    "leaf dark, almost bronze",
    "shaded by its neighbour",
    "showed it to Ines, she wants a tuber",
    "two shoots, took one off",
    "blackfly, rubbed off",
    "cut four for the church",
    "hail",
];

impl Seen {
    /// Why a plant is thrown out in its first season.
    pub(super) fn discard(&self, dice: &mut Dice) -> &'static str {
        let mut lists = vec![DULL, DULL];
        if self.full < -0.8 {
            lists.extend([SINGLE, SINGLE, SINGLE]);
        } else if self.full < 0.0 {
            lists.extend([OPEN, OPEN]);
        }
        if self.stem < -0.4 {
            lists.extend([STEM, STEM]);
        }
        if self.form < -0.4 {
            lists.extend([SHAPE, SHAPE]);
        }
        if self.height_cm > 145.0 {
            lists.push(TALL);
        }
        if self.bloom_mm < 80.0 && !matches!(self.group, "Pom" | "Ba") {
            lists.push(SMALL);
        }
        match self.colours.first() {
            Some(&("white" | "cream" | "straw" | "pink" | "lavender")) => lists.push(PALE),
            Some(&("flame" | "red" | "dark red" | "bronze" | "purple")) => lists.push(STRONG),
            _ => {}
        }
        let list = lists[dice.below(lists.len())];
        dice.word(list)
    }

    /// Why a plant is kept in its first season.
    pub(super) fn keep(&self, dice: &mut Dice) -> &'static str {
        let mut lists = vec![KEEP, KEEP];
        if self.form > 0.9 {
            lists.push(KEEP_SHAPE);
        }
        if self.stem > 0.9 {
            lists.push(KEEP_STEM);
        }
        let list = lists[dice.below(lists.len())];
        dice.word(list)
    }
}
