//! How a parent is written in a cell: a name, `?`, or candidates with or without weights.

use super::value::{Wrong, shown, wrong};

/// A parent as a cell has it, not yet looked up.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum ParentText<'s> {
    /// `?`: nobody knows.
    Unknown,
    /// `selfed`: the seed parent itself.
    Selfed,
    /// One or several, each with its probability; what is left of 1 is an unknown plant's.
    OneOf(Vec<(&'s str, f64)>),
}

/// Weights are sums of decimal fractions and may miss 1 by a rounding.
const ROUNDING: f64 = 1e-9;

struct Piece<'s> {
    /// Absent for `?`.
    name: Option<&'s str>,
    weight: Option<f64>,
}

impl<'s> ParentText<'s> {
    /// Reads a cell. Candidates without a weight share equally what the others leave.
    pub(super) fn read(text: &'s str) -> Result<Self, Wrong> {
        if text.eq_ignore_ascii_case("selfed") {
            return Ok(Self::Selfed);
        }
        let pieces = text.split('|').map(piece).collect::<Result<Vec<_>, _>>()?;
        for (n, piece) in pieces.iter().enumerate() {
            if pieces.iter().skip(n + 1).any(|other| other.name == piece.name) {
                return Err(wrong(
                    format!("{} stands twice among the candidates.", piece.name.unwrap_or("?")),
                    "Name each candidate once.",
                ));
            }
        }
        let given: f64 = pieces.iter().filter_map(|p| p.weight).sum();
        if given > 1.0 + ROUNDING {
            return Err(wrong(
                format!("The weights in \"{}\" come to more than 1.", shown(text)),
                "Make them add up to 1, or to less where somebody else may be the parent.",
            ));
        }
        let open = pieces.iter().filter(|p| p.weight.is_none()).count();
        let share = if open == 0 { 0.0 } else { (1.0 - given).max(0.0) / open as f64 };
        let mut list = Vec::new();
        for Piece { name, weight } in pieces {
            let weight = weight.unwrap_or(share);
            let Some(name) = name else { continue };
            if weight <= ROUNDING {
                return Err(wrong(
                    format!("The weights leave nothing for {}.", shown(name)),
                    "Give every candidate a weight above 0, or leave it out.",
                ));
            }
            list.push((name, weight.min(1.0)));
        }
        list.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(b.0)));
        Ok(if list.is_empty() { Self::Unknown } else { Self::OneOf(list) })
    }
}

fn piece(text: &str) -> Result<Piece<'_>, Wrong> {
    let text = text.trim();
    let (name, weight) = match text.rsplit_once('=') {
        Some((name, weight)) => (name.trim(), Some(weight.trim())),
        None => (text, None),
    };
    if name.is_empty() {
        return Err(wrong(
            "A candidate is missing between two strokes.",
            "Write ? for a plant that nobody knows.",
        ));
    }
    let weight = weight.map(|text| {
        let weight: Option<f64> = text.parse().ok();
        weight.filter(|w| (0.0..=1.0).contains(w)).ok_or_else(|| {
            wrong(
                format!("The weight \"{}\" is not a number between 0 and 1.", shown(text)),
                "Write it as in Saltmarsh=0.5.",
            )
        })
    });
    Ok(Piece { name: (name != "?").then_some(name), weight: weight.transpose()? })
}
