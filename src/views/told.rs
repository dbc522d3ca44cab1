//! Where a forecast comes from, in a sentence.

use crate::merit::liability::Sources;

/// Where a forecast comes from, in whole percent that add up to it as it is shown.
pub fn sources(sources: &Sources) -> String {
    let Sources { book, inbreeding, kin, parents, own, .. } = *sources;
    let (mut passed, start) = (book, percent(book));
    let mut shown = start;
    // Rounded one after another, so that nothing is left over at the end.
    let mut adds = |share: f64| {
        passed += share;
        percent(passed) - std::mem::replace(&mut shown, percent(passed))
    };
    let mut parts = [
        (adds(inbreeding), "because they are related"),
        (adds(kin), "by their kin"),
        (adds(parents), "by what its parents did with other partners"),
        (adds(own), "by its own seedlings"),
    ];
    parts.sort_by(|(a, _), (b, _)| b.abs().total_cmp(&a.abs()));
    let moved = parts.iter().filter(|(by, _)| *by != 0.0).map(|(by, what)| {
        let sign = if *by > 0.0 { '+' } else { '–' };
        format!("{sign}{:.0} {what}", by.abs())
    });
    let moved: Vec<String> = moved.collect();
    if moved.is_empty() {
        return format!("{start:.0} %, as for any pair of which nothing is known.");
    }
    format!("From {start:.0} % for a pair of which nothing is known: {}.", moved.join(", "))
}

fn percent(share: f64) -> f64 {
    (share * 100.0).round()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::merit::Interval;

    fn told([book, inbreeding, kin, parents, own]: [f64; 5]) -> String {
        let p = book + inbreeding + kin + parents + own;
        let whole = Interval { p, low: 0.1, high: 0.6, level: 0.9 };
        sources(&Sources { book, inbreeding, kin, parents, own, whole })
    }

    #[test]
    fn the_parts_are_told_from_the_largest_and_add_up_to_what_is_shown() {
        // 0.294 to 0.392: 29 and 10 more.
        assert_eq!(
            told([0.294, -0.004, 0.006, 0.034, 0.062]),
            "From 29 % for a pair of which nothing is known: +6 by its own seedlings, +3 by what \
             its parents did with other partners, +1 by their kin."
        );
        assert_eq!(
            told([0.3, -0.05, 0.0, 0.0, 0.0]),
            "From 30 % for a pair of which nothing is known: –5 because they are related."
        );
        assert_eq!(
            told([0.3, 0.001, 0.0, 0.0, 0.0]),
            "30 %, as for any pair of which nothing is known."
        );
    }
}
