//! Kinship.

use super::Figure;

pub(super) const ALL: &[Figure] = &[
    Figure {
        name: "inbreeding",
        heads: &["F", "inbred", "of brother × sister", "offspring inbred"],
        shown: "Line, Pairings, the page of a plant, `trug kin`",
        reading: "How inbred a plant is, 100 % being as much as the offspring of a brother and a sister.",
        formula: "F = c (F(seed) + F(pollen)) + e θ(seed, pollen), c = (v/2 − 1) ÷ 2(v − 1), \
                  e = (v/2) ÷ (v − 1), v sets of chromosomes; divided by 1 ÷ 4(v − 1)",
        source: "R. J. Kerr et al. 2012, Use of the numerator relationship matrix in genetic \
                 analysis of autopolyploid species; O. Kempthorne 1957, An introduction to genetic \
                 statistics",
    },
    Figure {
        name: "loop",
        heads: &["loop", "adds to coancestry"],
        shown: "Line, `trug kin`",
        reading: "What of a plant’s inbreeding comes through this ancestor, whom both its parents have.",
        formula: "e × the sum over all ways from one parent up to it and down to the other of \
                  ½^steps × θ(it, it)",
        source: "S. Wright 1922, Coefficients of inbreeding and relationship",
    },
    Figure {
        name: "relationship",
        heads: &["relationship"],
        shown: "the page of a plant as a parent, `trug kin`",
        reading: "How much of what two plants carry they have from the same ancestors; sibs 50 %.",
        formula: "v × θ, v sets of chromosomes",
        source: "S. Wright 1922, Coefficients of inbreeding and relationship; for more than two sets, \
                 R. J. Kerr et al. 2012",
    },
    Figure {
        name: "coancestry",
        heads: &["coancestry"],
        shown: "`trug kin`, `trug paths`",
        reading: "The chance that an allele drawn from each of two plants is a copy of the same one.",
        formula: "θ(o, y) = ½ (θ(seed, y) + θ(pollen, y)); θ(o, o) = (1 + (v − 1) F(o)) ÷ v",
        source: "G. Malécot 1948, Les mathématiques de l’hérédité; for more than two sets, R. J. Kerr \
                 et al. 2012",
    },
];
