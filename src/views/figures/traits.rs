//! What is measured, and what parents pass on of it.

use super::Figure;

const BLUP: &str = "C. R. Henderson 1975, Best linear unbiased estimation and prediction under a \
                    selection model";

pub(super) const ALL: &[Figure] = &[
    Figure {
        name: "bloom and height",
        heads: &["mm", "cm", "bloom mm", "height cm", "height"],
        shown: "the pages of a plant and a cross, `trug sibs`",
        reading: "The width of the bloom in mm and the height in cm, the mean where there are more.",
        formula: "sum ÷ number of looks with a measure",
        source: "measured; common practice",
    },
    Figure {
        name: "family and programme",
        heads: &["family", "programme"],
        shown: "`trug sibs`",
        reading: "The mean of the family, and of all seedlings of the book, to hold one plant against.",
        formula: "sum ÷ number of plants measured",
        source: super::COUNTED,
    },
    Figure {
        name: "measured of bloomed",
        heads: &["measured of bloomed", "families"],
        shown: "`trug parents`",
        reading: "On how many plants and families a trait rests; only liked plants tend to be measured.",
        formula: "plants with a measure, of the plants that bloomed; crosses with one or more",
        source: super::COUNTED,
    },
    Figure {
        name: "average",
        heads: &["average"],
        shown: "`trug parents`",
        reading: "A seedling of average parents in an average season and bed.",
        formula: "the seasons and beds of the model, weighted as they were looked at, and the mean \
                  worth of all parents",
        source: BLUP,
    },
    Figure {
        name: "by descent",
        heads: &["by descent"],
        shown: "`trug parents`",
        reading: "How much of the differences between plants of one season and bed comes by descent.",
        formula: "σ²(descent) ÷ (σ²(descent) + σ²(pairing) + σ²(plant) + σ²(look)), by REML",
        source: "H. D. Patterson & R. Thompson 1971, Recovery of inter-block information when block \
                 sizes are unequal",
    },
    Figure {
        name: "what a plant passes on of a trait",
        heads: &["its seedlings", "passes on of"],
        shown: "the page of a plant, its page as a parent, `trug parents`",
        reading: "The mean of its seedlings with an average partner in an average season, with its \
                  range.",
        formula: "average + ½ (breeding value − mean breeding value of all parents), from the \
                  mixed-model equations over the pedigree",
        source: BLUP,
    },
    Figure {
        name: "reliability",
        heads: &["reliability", "known to"],
        shown: "its page as a parent, `trug parents --json`",
        reading: "How well a breeding value is known: 0 % not at all, 100 % for certain.",
        formula: "1 − PEV ÷ (a σ²(descent)), a the relationship of the plant to itself",
        source: BLUP,
    },
    Figure {
        name: "general combining ability",
        heads: &["against the rest", "general"],
        shown: "its page as a parent, `trug parents --json`",
        reading: "How much its seedlings lie above or below those of the other parents.",
        formula: "½ (breeding value − mean breeding value of all parents)",
        source: "G. F. Sprague & L. A. Tatum 1942, General vs. specific combining ability in single \
                 crosses of corn",
    },
    Figure {
        name: "specific combining ability",
        heads: &["pair adds", "specific"],
        shown: "its page as a parent, `trug parents --json`",
        reading: "What one pair gives beyond what its two parents pass on.",
        formula: "the effect of the pairing in the model, where there are three more pairings than \
                  parents",
        source: "G. F. Sprague & L. A. Tatum 1942, General vs. specific combining ability in single \
                 crosses of corn",
    },
    Figure {
        name: "mid-parent",
        heads: &["mid-parent", "family mean"],
        shown: "its page as a parent, `trug parents --json`",
        reading: "The mean of a family beside the mean of its two parents, both freed of season and bed.",
        formula: "mean of the family; ½ (seed parent + pollen parent)",
        source: "D. S. Falconer & T. F. C. Mackay 1996, Introduction to quantitative genetics",
    },
    Figure {
        name: "towards the aims",
        heads: &["towards the aims"],
        shown: "its page as a parent, `trug parents`",
        reading: "How much nearer to what is wanted its seedlings come than those of an average parent.",
        formula: "sum over the aims of weight × steps nearer ÷ spread of single plants",
        source: "L. N. Hazel 1943, The genetic basis for constructing selection indexes, for traits \
                 that do not go together",
    },
];
