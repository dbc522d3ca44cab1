//! A mean of a few values with its range.

use statrs::distribution::{ContinuousCDF, StudentsT};

use super::Interval;

/// The mean of values with the range that holds it with a confidence of `level`, after Student
/// 1908, Biometrika 6:1–25. None of fewer than two values.
pub fn mean(values: &[f64], level: f64) -> Option<Interval> {
    if values.len() < 2 {
        return None;
    }
    let n = values.len() as f64;
    let p = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|value| (value - p).powi(2)).sum();
    let t = StudentsT::new(0.0, 1.0, n - 1.0).ok()?.inverse_cdf(f64::midpoint(1.0, level));
    let reach = t * (squares / (n - 1.0) / n).sqrt();
    Some(Interval { p, low: p - reach, high: p + reach, level })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    /// Hours of sleep gained by two drugs: A. R. Cushny & A. R. Peebles 1905, as in Student 1908;
    /// ranges computed with scipy 1.17.1.
    #[test]
    fn hours_of_sleep_have_the_ranges_that_others_find() {
        let first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
        let second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
        for (values, wanted) in
            [(first, [0.75, -0.529_780_4, 2.029_780_4]), (second, [2.33, 0.897_677_5, 3.762_322_5])]
        {
            let got = mean(&values, 0.95).unwrap();
            for (got, wanted) in [got.p, got.low, got.high].into_iter().zip(wanted) {
                assert!((got - wanted).abs() < 1e-6, "{got} and {wanted}");
            }
        }
        assert!(mean(&[1.0], 0.95).is_none());
    }
}
