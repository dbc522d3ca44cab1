//! A plan as a sheet to read, and as a list to take outside.

use super::{
    super::{
        figures::percent,
        sheet::{Sheet, Table},
    },
    Told,
};
use crate::plan::{Keepers, Needed};
use crate::views::{plan, words};

impl Told<'_> {
    pub(super) fn sheet(&self) -> Sheet {
        let next = self.next;
        let Keepers { mean, low, high } = next.keepers;
        let seedlings: u32 = next.planned.iter().map(|planned| planned.seedlings).sum();
        let mut sheet = Sheet::titled(format!(
            "Next season: {} in {}; keepers {mean:.0} ({low:.0}–{high:.0})",
            words::many(seedlings, "seedling"),
            words::many(count(next.planned.len()), "pair"),
        ));
        let mut table = Table::new()
            .text("pair")
            .number("heads")
            .spare("")
            .number("seeds")
            .spare("")
            .number("plants")
            .number("keepers")
            .number("range")
            .text("why");
        for planned in &next.planned {
            let [heads, head_range] = needed(planned.heads);
            let [seeds, seed_range] = needed(planned.seeds);
            let Keepers { mean, low, high } = planned.keepers;
            table.cells(vec![
                self.pair(planned.pair),
                heads,
                head_range,
                seeds,
                seed_range,
                planned.seedlings.to_string(),
                format!("{mean:.1}"),
                format!("{low:.0}–{high:.0}"),
                plan::why(self.desk, self.field, next, planned.pair, self.source),
            ]);
        }
        sheet.table(table);
        sheet.line(self.reach());
        sheet.line(self.proved());
        if !next.left_out.is_empty() {
            sheet.blank();
            sheet.line("Not in it, though one might expect them:");
            let mut table = Table::new().text("pair").text("why");
            for &(pair, limit) in &next.left_out {
                let why = plan::left_out(self.desk, self.field, pair, limit);
                table.cells(vec![self.pair(pair), why]);
            }
            sheet.part(table);
        }
        sheet
    }

    /// How a planted seedling gets to be judged.
    fn reach(&self) -> String {
        let stages = &self.field.stages;
        format!(
            "of 100 planted about {:.0} bloom and {:.0} are judged; ranges hold nine of ten seasons",
            100.0 * stages.bloom.mean(),
            100.0 * stages.bloom.mean() * stages.judged.mean(),
        )
    }

    /// How good the plan is known to be.
    fn proved(&self) -> String {
        let next = self.next;
        let from = if self.source.is_forecast() {
            ""
        } else {
            "; the book has too few records for forecasts, so usual rates stand in"
        };
        if next.is_optimal {
            format!("no plan within these limits promises more{from}")
        } else {
            let gap = (next.bound - next.objective) / next.bound.abs().max(1e-9);
            format!("no plan within these limits promises {} more than this{from}", percent(gap))
        }
    }

    /// The list to take outside: what to do, and room to tick it off.
    pub(super) fn list(&self) -> Sheet {
        let mut sheet = Sheet::titled(format!(
            "To pollinate: {}",
            words::many(count(self.next.planned.len()), "pair")
        ));
        let mut table = Table::new()
            .text("seed parent")
            .text("pollen from")
            .number("heads")
            .number("or up to")
            .text("done");
        for planned in &self.next.planned {
            let [seed, pollen] = self.names(planned.pair).map(str::to_owned);
            let heads = planned.heads;
            let boxes = heads.map_or(1, |heads| heads.usual).min(MOST_BOXES);
            table.cells(vec![
                seed,
                pollen,
                heads.map_or_else(|| "?".to_owned(), |heads| heads.usual.to_string()),
                heads.map_or_else(String::new, |heads| heads.sure.to_string()),
                "[ ] ".repeat(boxes as usize).trim_end().to_owned(),
            ]);
        }
        sheet.table(table);
        sheet.line("clean hands and tools between plants; tag each head on the day");
        sheet
    }
}
/// Boxes to tick that fit on a line.
const MOST_BOXES: u32 = 8;

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

fn needed(needed: Option<Needed>) -> [String; 2] {
    needed.map_or_else(
        || ["?".to_owned(), String::new()],
        |needed| [needed.usual.to_string(), format!("{}–{}", needed.lucky, needed.sure)],
    )
}
