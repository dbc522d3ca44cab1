//! Dates: nothing in the future, nothing before what must come first.

use chrono::NaiveDate;

use super::{
    super::{Book, Cross, Entry, HeadDeed, Life, Place, PlantDeed, When},
    Found, Owner, Plant, plants, season_of,
};

pub(super) fn check(book: &Book, today: NaiveDate, found: &mut Found) {
    for cross in book.crosses() {
        check_cross(cross, today, found);
    }
    for plant in plants(book) {
        check_order(plant.owner, plant.diary, today, found);
        check_plant(&plant, found);
    }
}

fn check_cross(cross: &Cross, today: NaiveDate, found: &mut Found) {
    if let Some(season) = cross.season
        && season > season_of(today)
    {
        found.error(
            Place::Cross(cross.code.clone()).field("season"),
            format!("The season {season} has not come yet; today is {today}."),
            "Look whether the year is right.",
        );
    }
    for (n, head) in cross.heads.iter().enumerate() {
        let owner = Owner::Head(&cross.code, n);
        check_order(owner, &head.diary, today, found);
        check_after_cross(cross, owner, &head.diary, |_| true, today, found);
        check_head(cross, owner, &head.diary, found);
    }
    for (n, lot) in cross.lots.iter().enumerate() {
        let owner = Owner::Lot(&cross.code, n);
        check_order(owner, &lot.diary, today, found);
        check_after_cross(cross, owner, &lot.diary, |_| true, today, found);
    }
    for (n, seedling) in cross.seedlings.iter().enumerate() {
        let owner = Owner::Seedling(&cross.code, n);
        check_after_cross(cross, owner, &seedling.diary, is_growing, today, found);
        let sown = seedling.lot.as_deref().and_then(|lot| cross.lot(lot)?.first_sown());
        let planted = first(&seedling.diary, |did| matches!(did, PlantDeed::Planted(_)));
        if let (Some(sown), Some((entry, planted))) = (sown, planted)
            && planted.surely_before(sown)
        {
            found.error(
                owner.at_entry(entry),
                format!("It was planted on {planted}, before its seed was sown on {sown}."),
                "Look whether the year of one of the two is wrong.",
            );
        }
    }
}

/// Entries in the future, and the first one that stands after a later one.
fn check_order<D>(owner: Owner<'_>, diary: &[Entry<D>], today: NaiveDate, found: &mut Found) {
    let mut latest: Option<When> = None;
    let mut in_order = true;
    for (n, Entry { on, .. }) in diary.iter().enumerate() {
        if on.first() > today {
            found.error(
                owner.at_entry(n),
                format!("{on} has not come yet; today is {today}."),
                "Look whether the date is right.",
            );
            continue;
        }
        let later = latest.filter(|&before| on.surely_before(before));
        if let (Some(before), true) = (later, in_order) {
            in_order = false;
            found.warning(
                owner.at_entry(n),
                format!("This entry of {on} stands after one of {before}."),
                "Look whether a date is wrong; a diary has its oldest entry first.",
            );
        }
        latest = latest.max(Some(*on));
    }
}

/// Entries of a time before the cross was made.
fn check_after_cross<D>(
    cross: &Cross,
    owner: Owner<'_>,
    diary: &[Entry<D>],
    counts: impl Fn(&D) -> bool,
    today: NaiveDate,
    found: &mut Found,
) {
    // A cross of a season that has not come is a fault of its own.
    let Some(season) = cross.season.filter(|&season| season <= season_of(today)) else { return };
    let early = diary.iter().position(|e| counts(&e.did) && e.on.season() < season);
    if let Some(n) = early {
        found.error(
            owner.at_entry(n),
            format!("{} is before this cross was made in {season}.", diary[n].on),
            "Look whether the date or the season of the cross is wrong.",
        );
    }
}

/// Deeds that take a plant which has grown from the seed.
fn is_growing(did: &PlantDeed) -> bool {
    !matches!(did, PlantDeed::Note(_) | PlantDeed::MovedFrom { .. } | PlantDeed::Acquired { .. })
}

fn check_head(cross: &Cross, owner: Owner<'_>, diary: &[Entry<HeadDeed>], found: &mut Found) {
    let Some((entry, pollinated)) = first(diary, |did| matches!(did, HeadDeed::Pollinated)) else {
        return;
    };
    if let Some(season) = cross.season
        && pollinated.season() > season
    {
        found.warning(
            owner.at_entry(entry),
            format!("This head was pollinated on {pollinated}, and the cross is of {season}."),
            "Pollinations of another season are a cross of their own.",
        );
    }
    let early = diary.iter().position(|e| e.on.surely_before(pollinated) && is_after(&e.did));
    if let Some(n) = early {
        found.error(
            owner.at_entry(n),
            format!("{} is before the head was pollinated on {pollinated}.", diary[n].on),
            "Look whether one of the two dates is wrong.",
        );
    }
}

fn is_after(did: &HeadDeed) -> bool {
    !matches!(did, HeadDeed::Pollinated | HeadDeed::Note(_))
}

fn check_plant(plant: &Plant<'_>, found: &mut Found) {
    let Plant { owner, label, diary } = *plant;
    let planted = first(diary, |did| matches!(did, PlantDeed::Planted(_)));
    let bloomed = diary
        .iter()
        .enumerate()
        .filter(|(_, e)| shows_bloom(&e.did))
        .min_by_key(|(_, e)| e.on)
        .map(|(n, e)| (n, e.on));
    if let (Owner::Seedling(..), Some((_, planted)), Some((n, bloomed))) = (owner, planted, bloomed)
        && bloomed.surely_before(planted)
    {
        found.error(
            owner.at_entry(n),
            format!("{label} was in bloom on {bloomed}, before it was planted on {planted}."),
            "Look whether one of the two dates is wrong.",
        );
    }
    let mut blooms = diary.iter().enumerate().filter(|(_, e)| e.did == PlantDeed::FirstBloom);
    if let (Some(_), Some((n, _))) = (blooms.next(), blooms.next()) {
        found.warning(
            owner.at_entry(n),
            format!("{label} has a first bloom already."),
            "Take one of the two out; blooms of later seasons are looks.",
        );
    }
    check_lost(plant, found);
}

/// Signs of life after the loss.
fn check_lost(plant: &Plant<'_>, found: &mut Found) {
    let Plant { owner, label, diary } = *plant;
    let Some((lost, _)) = Life::of(diary).lost else { return };
    let alive = diary.iter().position(|e| lost.surely_before(e.on) && is_sign_of_life(&e.did));
    if let Some(n) = alive {
        let what = match diary[n].did {
            PlantDeed::Verdict { .. } => "has a verdict of",
            _ => "was alive on",
        };
        found.warning(
            owner.at_entry(n),
            format!("{label} {what} {}, but was lost on {lost}.", diary[n].on),
            "Take the loss out if it was found again.",
        );
    }
}

fn is_sign_of_life(did: &PlantDeed) -> bool {
    matches!(
        did,
        PlantDeed::Planted(_)
            | PlantDeed::SeenUnbloomed
            | PlantDeed::FirstBloom
            | PlantDeed::Look(_)
            | PlantDeed::Verdict { .. }
            | PlantDeed::Lifted { .. }
            | PlantDeed::Woken
    )
}

fn shows_bloom(did: &PlantDeed) -> bool {
    match did {
        PlantDeed::FirstBloom => true,
        PlantDeed::Look(look) => look.shows_bloom(),
        _ => false,
    }
}

/// The earliest entry of a kind.
fn first<D>(diary: &[Entry<D>], is: impl Fn(&D) -> bool) -> Option<(usize, When)> {
    let entries = diary.iter().enumerate().filter(|(_, e)| is(&e.did));
    entries.min_by_key(|(_, e)| e.on).map(|(n, e)| (n, e.on))
}
