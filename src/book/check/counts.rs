//! Counts: packets, sowings, and families known by totals.

use super::{
    super::{Book, Cross, HeadDeed, Lot, LotDeed, Place, Totals},
    Found, Owner, did_you_mean,
};

pub(super) fn check(book: &Book, found: &mut Found) {
    for cross in book.crosses() {
        for (n, lot) in cross.lots.iter().enumerate() {
            check_lot(cross, n, lot, found);
        }
        check_lots_of_seedlings(book, cross, found);
        if let Some(totals) = &cross.totals {
            check_totals(cross, totals, found);
            check_both(cross, totals, found);
        }
    }
}

fn check_lot(cross: &Cross, n: usize, lot: &Lot, found: &mut Found) {
    let at = || Owner::Lot(&cross.code, n).place();
    if lot.code.is_empty() {
        found.error(at(), "This packet has no code.".to_owned(), "Give it one.");
    }
    let given = lot.diary.iter().map(|e| match e.did {
        LotDeed::Given { seeds, .. } => seeds,
        _ => 0,
    });
    let sown = lot.sown();
    let out = given.fold(sown, u32::saturating_add);
    if let Some(seeds) = lot.seeds
        && out > seeds
    {
        found.warning(
            at(),
            format!("{out} seeds were sown or given from this packet, and it held {seeds}."),
            "Look whether one of the counts is wrong.",
        );
    }
    let all_counted = lot.diary.iter().all(|e| !matches!(e.did, LotDeed::Sown { seeds: None }));
    if all_counted && lot.up() > sown {
        found.warning(
            at(),
            format!("{} seedlings came up of {sown} seeds sown.", lot.up()),
            "Look whether one of the counts is wrong; Up takes only those that are new.",
        );
    }
}

fn check_lots_of_seedlings(book: &Book, cross: &Cross, found: &mut Found) {
    for (n, seedling) in cross.seedlings.iter().enumerate() {
        let Some(code) = seedling.lot.as_deref() else { continue };
        if cross.lot(code).is_some() {
            continue;
        }
        let other = book.crosses().iter().find(|other| other.lot(code).is_some());
        let hint = if let Some(other) = other {
            format!(
                "That packet is of the cross \"{}\": move the seedling there, or write a packet \
                 of this cross.",
                other.code
            )
        } else {
            let near = did_you_mean(code, cross.lots.iter().map(|lot| &*lot.code));
            format!("{near}Add the packet to the cross, or take the field out.")
        };
        found.error(
            Owner::Seedling(&cross.code, n).place().field("lot"),
            format!("This cross has no packet \"{code}\" of which {} came.", seedling.number),
            hint,
        );
    }
}

/// Totals that cannot be, step by step.
fn check_totals(cross: &Cross, totals: &Totals, found: &mut Found) {
    let steps = [
        ("seeds", totals.seeds),
        ("sown", totals.sown),
        ("up", totals.up),
        ("planted", totals.planted),
        ("bloomed", totals.bloomed),
        ("judged", totals.judged),
        ("kept", totals.kept),
    ];
    let mut known = steps.into_iter().filter_map(|(name, n)| Some((name, n?)));
    let Some(mut before) = known.next() else { return };
    for step in known {
        if step.1 > before.1 {
            found.error(
                Place::Cross(cross.code.clone()).field("totals"),
                format!("{} {} of {} {} cannot be.", step.1, step.0, before.1, before.0),
                "Look whether one of the two is wrong; none can be more than the one before it.",
            );
        }
        before = step;
    }
}

/// What stands both in the totals and in numbered records is added up: right where the totals
/// are of the plants that have no number, and counted twice where they are of all.
fn check_both(cross: &Cross, totals: &Totals, found: &mut Found) {
    let threshed = |did: &HeadDeed| matches!(did, HeadDeed::Threshed { .. });
    let has_seeds = cross.lots.iter().any(|lot| lot.seeds.is_some())
        || cross.heads.iter().any(|head| head.diary.iter().any(|e| threshed(&e.did)));
    let has_plants = !cross.seedlings.is_empty();
    let both = [
        ("heads", totals.heads.is_some() && !cross.heads.is_empty()),
        ("seeds", totals.seeds.is_some() && has_seeds),
        ("sown", totals.sown.is_some() && cross.lots.iter().any(|lot| lot.first_sown().is_some())),
        ("up", totals.up.is_some() && cross.lots.iter().any(|lot| lot.up() > 0)),
        ("planted", totals.planted.is_some() && has_plants),
        ("bloomed", totals.bloomed.is_some() && has_plants),
        ("judged", totals.judged.is_some() && has_plants),
        ("kept", totals.kept.is_some() && has_plants),
    ];
    let twice: Vec<&str> =
        both.into_iter().filter(|(_, both)| *both).map(|(name, _)| name).collect();
    if !twice.is_empty() {
        found.warning(
            Place::Cross(cross.code.clone()).field("totals"),
            format!("The totals and the records of this cross both count: {}.", twice.join(", ")),
            "Both are added up: let the totals count only what has no record of its own.",
        );
    }
}
