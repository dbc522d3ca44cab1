//! First blooms.

use super::Figure;

pub(super) const ALL: &[Figure] = &[
    Figure {
        name: "in bloom by a day",
        heads: &["in bloom by", "first bloom"],
        shown: "First bloom, `trug evening`",
        reading: "Of the plants watched, the share that had opened so many days after planting.",
        formula: "1 − S, S = ∏ (1 − opened that day ÷ still watched and waiting); plants lost, thrown \
                  out or stopped by frost count until then",
        source: "E. L. Kaplan & P. Meier 1958, Nonparametric estimation from incomplete observations; \
                 range: M. Greenwood 1926, The natural duration of cancer, on the log–log scale",
    },
    Figure {
        name: "half in bloom",
        heads: &["half were open after", "half open", "range of that"],
        shown: "First bloom, `trug evening`",
        reading: "Days from planting until half of the plants had opened.",
        formula: "the first day on which the curve falls to one half; its range is where the range of \
                  the curve crosses one half",
        source: "R. Brookmeyer & J. Crowley 1982, A confidence interval for the median survival time",
    },
    Figure {
        name: "watched",
        heads: &["watched"],
        shown: "First bloom, `trug evening`",
        reading: "Plants whose day of planting is known and that were looked after in their first \
                  season.",
        formula: "one for each such plant, whether it opened or not",
        source: super::COUNTED,
    },
    Figure {
        name: "in bud",
        heads: &["in bud", "opens before frost"],
        shown: "Evening, Bed, the page of a plant",
        reading: "The chance that a plant not in bloom yet opens before the frost.",
        formula: "1 − mean of S(frost) over this garden’s frosts ÷ S(today), S as for the share in \
                  bloom",
        source: "E. L. Kaplan & P. Meier 1958, Nonparametric estimation from incomplete observations",
    },
    Figure {
        name: "held over",
        heads: &["held over", "waiting", "no bloom"],
        shown: "Evening, Bed, First bloom, the pages of a plant and a cross",
        reading: "Of plants that never flowered in their first season and were held over, those kept in \
                  the end.",
        formula: "(s p + kept) ÷ (s + held over), p the usual share of the crop and s what it weighs; \
                  range from that beta distribution",
        source: "the usual share stands in the crop file with its own source; common practice",
    },
];
