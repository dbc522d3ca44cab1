//! Shares, and what is forecast from them.

use super::Figure;

pub(super) const ALL: &[Figure] = &[
    Figure {
        name: "share",
        heads: &["share"],
        shown: "Crosses, the pages of a cross and a pairing, `trug crosses`",
        reading: "The share that was counted, and the range in which the true share would be looked for.",
        formula: "p = k ÷ n; range (p + z²/2n ± z √(p(1 − p)/n + z²/4n²)) ÷ (1 + z²/n), z = 1.96 for \
                  95 %",
        source: "E. B. Wilson 1927, Probable inference, the law of succession, and statistical \
                 inference",
    },
    Figure {
        name: "steadied",
        heads: &["steadied"],
        shown: "the page of a pairing, `trug pairings`",
        reading: "The share drawn towards what the other pairings do, the more so the fewer were judged.",
        formula: "(a + k) ÷ (a + b + n), a and b fitted to all pairings; range from that beta \
                  distribution",
        source: "J. G. Skellam 1948, A probability distribution derived from the binomial \
                 distribution by regarding the probability of success as variable between the sets \
                 of trials",
    },
    Figure {
        name: "forecast",
        heads: &["forecast", "chance", "new seedling"],
        shown: "Evening, Pairings, the page of a pairing, `trug pairings`",
        reading: "The chance that a new seedling of the pair would be kept in an average season.",
        formula: "Φ(η ÷ √(1 + m σ²)), η = usual + season + half of each parent’s worth + what the \
                  pair adds + λ × inbreeding, averaged over what is believed of all of these; where \
                  too little is known, the steadied share stands in",
        source: "D. Gianola & J. L. Foulley 1983, Sire evaluation for ordered categorical data with \
                 a threshold model",
    },
    Figure {
        name: "chance of being best",
        heads: &["best", "is best"],
        shown: "`trug pairings`",
        reading: "The chance that this pair is the best of those shown.",
        formula: "the share of draws from what is believed of all pairs in which it is the highest",
        source: "computed from the forecasts; common practice",
    },
    Figure {
        name: "from whom a forecast comes",
        heads: &["own record", "parents", "kin"],
        shown: "the page of a pairing, `trug pairings`",
        reading: "How much of a forecast rests on the pair itself, on its parents, and on their kin.",
        formula: "how far the forecast moves when each of these is taken in, one after the other",
        source: "computed from the forecasts; common practice",
    },
    Figure {
        name: "as seed parent, as pollen parent",
        heads: &["seed parent", "pollen parent", "as seed", "as pollen"],
        shown: "the page of a plant, its page as a parent, `trug parents`",
        reading: "Kept of judged in the crosses in which the plant bore the seed, or gave the pollen.",
        formula: "the sum over those crosses; the range as for share",
        source: "E. B. Wilson 1927, Probable inference, the law of succession, and statistical \
                 inference",
    },
    Figure {
        name: "partners",
        heads: &["partners", "partner"],
        shown: "the page of a plant, its page as a parent",
        reading: "The plants it was crossed with, the best first by the steadied share.",
        formula: "kept of judged of the pairing, both directions together; order by steadied",
        source: "J. G. Skellam 1948, A probability distribution derived from the binomial \
                 distribution by regarding the probability of success as variable between the sets \
                 of trials",
    },
    Figure {
        name: "merit",
        heads: &["passes on", "merit"],
        shown: "Pairings, the page of a plant, its page as a parent, `trug parents`",
        reading: "The share of its seedlings that would be kept with an average partner in an average \
                  season.",
        formula: "the forecast of a pair of this plant and the mean of all parents",
        source: "D. Gianola & J. L. Foulley 1983, Sire evaluation for ordered categorical data with \
                 a threshold model",
    },
    Figure {
        name: "blooming and second season",
        heads: &["opens", "kept again"],
        shown: "the page of a plant as a parent, `trug parents`",
        reading: "The share of its seedlings that bloom when planted, and of the kept that are kept again.",
        formula: "as merit, with bloomed of planted, and kept again of kept, in place of kept of judged",
        source: "D. Gianola & J. L. Foulley 1983, Sire evaluation for ordered categorical data with \
                 a threshold model",
    },
    Figure {
        name: "seeds a head",
        heads: &["seed set", "seeds a head"],
        shown: "the page of a plant as a parent, `trug parents`",
        reading: "Seeds from a threshed head of this seed parent, empty ones among them.",
        formula: "mean m of n heads; range m ± t s ÷ √n, s the spread of the heads, t of Student with n − 1, from three heads on",
        source: "Student 1908, The probable error of a mean, Biometrika 6, 1–25",
    },
    Figure {
        name: "perhaps in",
        heads: &["perhaps in"],
        shown: "`trug parents`",
        reading: "Crosses of which the plant may have been a parent, among others; they count nowhere \
                  else.",
        formula: "one for each cross that names it among several",
        source: super::COUNTED,
    },
    Figure {
        name: "keepers of a plan",
        heads: &["keepers", "range"],
        shown: "`trug plan`",
        reading: "Keepers to be expected of the places dealt out to a pair, or of all, with their range.",
        formula: "sum over the pairs of places × forecast; the range takes in the doubt of the \
                  forecasts, of the season and of chance",
        source: "computed from the forecasts; common practice",
    },
    Figure {
        name: "heads to pollinate",
        heads: &["or up to"],
        shown: "`trug plan`",
        reading: "Heads that usually give so many plants and, where seed sets badly, as many as up to.",
        formula: "plants ÷ (seeds a head × share up × share planted), at what is usual and at what is \
                  rarely fallen short of",
        source: "the book's own rates, and the crop file where it has none; common practice",
    },
    Figure {
        name: "seeds to sow",
        heads: &["to sow", "keepers wanted", "assurance"],
        shown: "`trug sow`",
        reading: "How many seeds give at least so many keepers, with this assurance.",
        formula: "the smallest n with P(at least r of n) ≥ q, over the shares that come up, bloom and \
                  are kept, each as uncertain as it is",
        source: "the binomial distribution with its shares integrated over; common practice",
    },
];
