//! `trug bed`: what stands where.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{PlantName, many, plant_text},
    first_bloom::OutlookRow,
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::book::{PlantId, Season, State, fold};
use crate::views::{
    Desk, Levels,
    bed::{self, Beds},
    first_bloom::outlook,
    plant, words,
};

/// What stands where in a season
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug bed
  trug bed A --season 2025")]
pub(super) struct Ask {
    /// Only this bed
    bed: Option<String>,
    /// The season; else the last in which anything was planted
    #[arg(long, value_name = "YEAR")]
    season: Option<i16>,
}

#[derive(Debug, Serialize)]
struct PlaceRow<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    bed: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    row: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<u16>,
    #[serde(flatten)]
    name: PlantName<'a>,
    state: &'static str,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    colours: &'a [Box<str>],
    season: i16,
    #[serde(flatten)]
    outlook: OutlookRow,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let season = ask.season.map_or_else(|| bed::last_planted(&desk), Season);
    let mut beds = bed::beds(&desk, season);
    if let Some(name) = &ask.bed {
        let known: Vec<String> = beds.plans.iter().map(|plan| plan.bed.to_string()).collect();
        beds.plans.retain(|plan| fold(&plan.bed) == fold(name));
        beds.elsewhere.clear();
        if beds.plans.is_empty() {
            return Err(Failure::Usage(
                format!("nothing was planted in a bed \"{name}\" in {season}."),
                format!("The beds of that season: {}", known.join(", ")),
            ));
        }
    }
    let levels = shell.levels();
    shell.show(|| json(&desk, &beds, levels), || sheet(&desk, &beds, levels))
}

fn json<'a>(desk: &'a Desk, beds: &'a Beds, levels: Levels) -> Vec<PlaceRow<'a>> {
    let row = |id: PlantId, state: State| PlaceRow {
        bed: None,
        row: None,
        place: None,
        name: PlantName::of(desk, id),
        state: words::standing(desk.book(), id, state),
        colours: plant::colours(desk, id),
        season: beds.season.0,
        outlook: outlook(desk, id, levels).into(),
    };
    let placed = beds.plans.iter().flat_map(|plan| {
        plan.cells.iter().map(|cell| PlaceRow {
            bed: Some(&*plan.bed),
            row: Some(cell.row),
            place: Some(cell.place),
            ..row(cell.plant, cell.state)
        })
    });
    placed.chain(beds.elsewhere.iter().map(|&(plant, state)| row(plant, state))).collect()
}

fn sheet(desk: &Desk, beds: &Beds, levels: Levels) -> Sheet {
    let n: usize = beds.plans.iter().map(|plan| plan.cells.len()).sum();
    let mut sheet = Sheet::titled(format!(
        "{} in {} in {}, row by row",
        many(n, "plant"),
        many(beds.plans.len(), "bed"),
        beds.season
    ));
    for plan in &beds.plans {
        sheet.blank();
        sheet.line(format!(
            "Bed {}: {} in {}, {} planted",
            plan.bed,
            many(usize::from(plan.rows) * usize::from(plan.places), "place"),
            many(plan.rows.into(), "row"),
            plan.cells.len()
        ));
        let mut table = Table::new()
            .number("row")
            .number("place")
            .text("plant")
            .text("stands")
            .text("colour")
            .text("");
        for cell in &plan.cells {
            table.row([
                cell.row.to_string(),
                cell.place.to_string(),
                plant_text(desk, cell.plant),
                words::standing(desk.book(), cell.plant, cell.state).to_owned(),
                plant::colours(desk, cell.plant).join(", "),
                outlook(desk, cell.plant, levels).as_ref().map(words::outlook).unwrap_or_default(),
            ]);
        }
        sheet.table(table);
    }
    if !beds.elsewhere.is_empty() {
        sheet.blank();
        sheet.line(format!("{} more were planted, and nobody wrote where", beds.elsewhere.len()));
        let mut table = Table::new().text("plant").text("stands").text("");
        for &(plant, state) in &beds.elsewhere {
            table.row([
                plant_text(desk, plant),
                words::standing(desk.book(), plant, state).to_owned(),
                outlook(desk, plant, levels).as_ref().map(words::outlook).unwrap_or_default(),
            ]);
        }
        sheet.table(table);
    }
    sheet
}
