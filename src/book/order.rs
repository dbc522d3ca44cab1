//! The order in which labels are listed.

use std::cmp::Ordering;

/// Orders labels as people do: a run of digits by its value, so that 26-9 comes before 26-10.
/// Labels that differ only in leading zeros are told apart too, so the order is total.
pub fn label_order(a: &str, b: &str) -> Ordering {
    let (mut left, mut right) = (a.as_bytes(), b.as_bytes());
    while let ([l, ..], [r, ..]) = (left, right) {
        let step = if l.is_ascii_digit() && r.is_ascii_digit() {
            let (x, y) = (take_digits(&mut left), take_digits(&mut right));
            x.len().cmp(&y.len()).then_with(|| x.cmp(y))
        } else {
            (left, right) = (&left[1..], &right[1..]);
            l.cmp(r)
        };
        if step != Ordering::Equal {
            return step;
        }
    }
    left.len().cmp(&right.len()).then_with(|| a.cmp(b))
}

/// Takes the digits off the front, and returns them without leading zeros.
fn take_digits<'a>(text: &mut &'a [u8]) -> &'a [u8] {
    let end = text.iter().position(|b| !b.is_ascii_digit()).unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    *text = rest;
    let zeros = digits.iter().take_while(|&&b| b == b'0').count();
    &digits[zeros..]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_inside_labels_count_by_value() {
        let mut labels = ["26-10", "26-9", "26-009", "26", "25X07", "25X7", "A", "26-9b", ""];
        labels.sort_by(|a, b| label_order(a, b));
        assert_eq!(labels, ["", "25X07", "25X7", "26", "26-009", "26-9", "26-9b", "26-10", "A"]);
    }
}
