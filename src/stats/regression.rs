//! A straight line through points, by least squares.

use super::mixed::Estimate;

/// A straight line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Where it crosses x = 0.
    pub intercept: f64,
    /// Its slope.
    pub slope: Estimate,
    /// The correlation of x and y.
    pub correlation: f64,
    /// How many points there are.
    pub n: usize,
}

/// The line through points (x, y). None where the points do not lie apart along x.
///
/// Points that belong together, such as the plants of one family on their parents' mean, are not
/// independent, and the standard error is then too small.
pub fn line(points: &[(f64, f64)]) -> Option<Line> {
    let n = points.len() as f64;
    let mean = |of: &dyn Fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / n;
    let (x, y) = (mean(&|p| p.0), mean(&|p| p.1));
    let sum =
        |of: &dyn Fn(f64, f64) -> f64| -> f64 { points.iter().map(|p| of(p.0 - x, p.1 - y)).sum() };
    let (xx, xy, yy) = (sum(&|x, _| x * x), sum(&|x, y| x * y), sum(&|_, y| y * y));
    if xx.is_nan() || xx <= 0.0 {
        return None;
    }
    let slope = xy / xx;
    let left = (yy - slope * xy).max(0.0);
    let se = (points.len() > 2).then(|| (left / (n - 2.0) / xx).sqrt());
    let correlation = if yy > 0.0 { xy / (xx * yy).sqrt() } else { 0.0 };
    let slope = Estimate { value: slope, se };
    Some(Line { intercept: y - slope.value * x, slope, correlation, n: points.len() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_at_one_place_have_no_line() {
        assert_eq!(line(&[]), None);
        assert_eq!(line(&[(1.0, 2.0), (1.0, 5.0)]), None);
        let two = line(&[(1.0, 2.0), (2.0, 4.0)]).map(|line| (line.slope.value, line.slope.se));
        assert_eq!(two, Some((2.0, None)));
    }
}
