//! The signs we draw with, in a fine set and in one that every terminal has.

/// A set of signs.
#[derive(Debug)]
pub struct Glyphs {
    /// Set at the end of a text that was cut.
    pub ellipsis: &'static str,
    /// Between the parents of a cross.
    pub times: &'static str,
    /// Between two facts in a line.
    pub dot: &'static str,
    /// Between the steps of the trail.
    pub step: &'static str,
    /// The rule under the head of the page.
    pub rule: &'static str,
    /// The line of a range.
    pub whisker: &'static str,
    /// The lower end of a range.
    pub low: &'static str,
    /// The upper end of a range.
    pub high: &'static str,
    /// The estimate on its range.
    pub estimate: &'static str,
    /// A mark of the scale behind a range.
    pub grid: &'static str,
    /// Bars.
    pub bar: &'static str,
    /// The band of a curve.
    pub band: &'static str,
    /// Half a cell of a bar.
    pub stub: &'static str,
    /// A swatch.
    pub swatch: &'static str,
    /// Beside the row that a list would open, while the cursor is in another list.
    pub here: &'static str,
    /// Order from small to large.
    pub rising: &'static str,
    /// Order from large to small.
    pub falling: &'static str,
    /// For a figure that nobody knows.
    pub unknown: &'static str,
    /// Between the ends of a range in figures.
    pub to: &'static str,
    /// A line that is joined to the left (1), to the right (2), above (4) and below (8), by the
    /// sum of these.
    pub rails: [&'static str; 16],
    /// The same for a line that lies in a loop.
    pub loops: [&'static str; 16],
    /// How the plants of a plan stand.
    pub plants: Plants,
    /// Shades from little to much.
    pub shades: [&'static str; 8],
}

/// The signs of plants on a plan, each told from every other by its shape.
#[derive(Debug)]
pub struct Plants {
    /// A place where nothing stands.
    pub empty: &'static str,
    /// In leaf, no bloom seen.
    pub unbloomed: &'static str,
    /// In bloom, without a word.
    pub open: &'static str,
    /// Held.
    pub held: &'static str,
    /// Kept.
    pub kept: &'static str,
    /// Kept and named.
    pub named: &'static str,
    /// Thrown out.
    pub discarded: &'static str,
    /// Lost.
    pub lost: &'static str,
}

/// For terminals that write Unicode.
pub static FINE: Glyphs = Glyphs {
    ellipsis: "…",
    times: "×",
    dot: "·",
    step: "›",
    rule: "─",
    whisker: "─",
    low: "├",
    high: "┤",
    estimate: "●",
    grid: "·",
    bar: "━",
    band: "░",
    stub: "╸",
    swatch: "■",
    here: "›",
    rising: "↑",
    falling: "↓",
    unknown: "–",
    to: "–",
    rails: [" ", "─", "─", "─", "│", "╯", "╰", "┴", "│", "╮", "╭", "┬", "│", "┤", "├", "┼"],
    loops: [" ", "━", "━", "━", "┃", "┛", "┗", "┻", "┃", "┓", "┏", "┳", "┃", "┫", "┣", "╋"],
    plants: Plants {
        empty: "·",
        unbloomed: "|",
        open: "○",
        held: "◐",
        kept: "●",
        named: "◆",
        discarded: "×",
        lost: "–",
    },
    shades: ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"],
};

/// For terminals that do not.
pub static PLAIN: Glyphs = Glyphs {
    ellipsis: "~",
    times: "x",
    dot: "-",
    step: ">",
    rule: "-",
    whisker: "-",
    low: "[",
    high: "]",
    estimate: "o",
    grid: ".",
    bar: "=",
    band: ":",
    stub: "-",
    swatch: "#",
    here: ">",
    rising: "^",
    falling: "v",
    unknown: "-",
    to: "-",
    rails: [" ", "-", "-", "-", "|", "'", "'", "+", "|", ".", ".", "+", "|", "+", "+", "+"],
    loops: [" ", "=", "=", "=", "!", "'", "'", "+", "!", ".", ".", "+", "!", "+", "+", "+"],
    plants: Plants {
        empty: ".",
        unbloomed: "'",
        open: "o",
        held: "?",
        kept: "*",
        named: "#",
        discarded: "x",
        lost: "-",
    },
    shades: [".", ":", "-", "=", "+", "*", "#", "@"],
};

#[cfg(test)]
mod tests {
    use super::*;
    use unicode_width::UnicodeWidthStr as _;

    #[test]
    fn every_sign_is_one_cell_wide_and_the_plain_ones_are_plain() {
        for (set, plain) in [(&FINE, false), (&PLAIN, true)] {
            let all = [
                set.ellipsis,
                set.times,
                set.dot,
                set.step,
                set.rule,
                set.whisker,
                set.low,
                set.high,
                set.estimate,
                set.grid,
                set.swatch,
                set.here,
                set.rising,
                set.falling,
                set.unknown,
                set.to,
                set.bar,
                set.band,
                set.stub,
            ];
            let Plants { empty, unbloomed, open, held, kept, named, discarded, lost } = set.plants;
            let plants = [empty, unbloomed, open, held, kept, named, discarded, lost];
            assert!(plants.iter().all(|a| plants.iter().filter(|b| a == *b).count() == 1));
            for sign in
                all.into_iter().chain(plants).chain(set.shades).chain(set.rails).chain(set.loops)
            {
                assert_eq!(sign.width(), 1, "{sign}");
                assert!(!plain || sign.is_ascii(), "{sign}");
            }
        }
    }
}
