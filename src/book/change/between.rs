//! What was done to a record between two versions of it, as steps.

use std::collections::BTreeMap;

use super::{
    super::{About, Cross, Head, Lot, Seedling, Variety},
    Part, Spot, Step,
};

impl Step {
    /// The steps from one version of a cross to another, with all that came of it.
    ///
    /// None where no steps lead there: the code is another, or two plants of the family bear the
    /// same key.
    pub fn between_crosses(old: Option<&Cross>, new: Option<&Cross>) -> Option<Vec<Self>> {
        let code = &old.or(new)?.code;
        if old.is_some_and(|old| old.code != *code) || new.is_some_and(|new| new.code != *code) {
            return None;
        }
        let cover = |cross: &Cross| Part::cover(cross);
        let cover =
            Self { spot: Spot::Cross(code.clone()), before: old.map(cover), after: new.map(cover) };
        let heads = |cross: Option<&Cross>| cross.map_or_else(Vec::new, |c| c.heads.clone());
        let lots = |cross: Option<&Cross>| cross.map_or_else(Vec::new, |c| c.lots.clone());
        let is_same_head = |a: &Head, b: &Head| a.tag.is_some() && a.tag == b.tag;
        let is_same_lot = |a: &Lot, b: &Lot| a.code == b.code;
        let mut steps = items(&heads(old), &heads(new), is_same_head, |n, head| {
            (Spot::Head(code.clone(), n), Part::Head(head))
        });
        steps.extend(items(&lots(old), &lots(new), is_same_lot, |n, lot| {
            (Spot::Lot(code.clone(), n), Part::Lot(lot))
        }));
        let (before, after) = (family(old)?, family(new)?);
        let mut keys: Vec<&str> = before.keys().chain(after.keys()).copied().collect();
        keys.sort_unstable();
        keys.dedup();
        let part = |plant: Option<&&Seedling>| plant.map(|s| Part::Seedling(Seedling::clone(s)));
        steps.extend(keys.into_iter().map(|key| Self {
            spot: Spot::Seedling(code.clone(), key.into()),
            before: part(before.get(key)),
            after: part(after.get(key)),
        }));
        // The cross comes before what came of it, and goes after.
        if new.is_some() {
            steps.insert(0, cover);
        } else {
            steps.push(cover);
        }
        steps.retain(|step| step.before != step.after);
        Some(steps)
    }

    /// The step from one version of a variety to another; none where they are the same, or not of
    /// one variety.
    pub fn between_varieties(old: Option<&Variety>, new: Option<&Variety>) -> Option<Self> {
        let id = old.or(new)?.id.clone();
        let part = |variety: Option<&Variety>| variety.map(|v| Part::Variety(Box::new(v.clone())));
        let step = Self { spot: Spot::Variety(id), before: part(old), after: part(new) };
        let fits = |part: &Option<Part>| part.as_ref().is_none_or(|part| part.fits(&step.spot));
        (step.before != step.after && fits(&step.before) && fits(&step.after)).then_some(step)
    }

    /// The step from one version of the first page to another.
    pub fn between_pages(old: &About, new: &About) -> Self {
        let part = |about: &About| Some(Part::About(Box::new(about.clone())));
        Self { spot: Spot::About, before: part(old), after: part(new) }
    }
}

/// A family by key; none where two bear the same.
fn family(cross: Option<&Cross>) -> Option<BTreeMap<&str, &Seedling>> {
    let mut plants = BTreeMap::new();
    for plant in cross.into_iter().flat_map(|cross| &cross.seedlings) {
        if plants.insert(plant.key(), plant).is_some() {
            return None;
        }
    }
    Some(plants)
}

/// The steps from one list to another, each at the place that it has when its turn comes.
fn items<T: Clone + PartialEq>(
    old: &[T],
    new: &[T],
    is_same: impl Fn(&T, &T) -> bool,
    at: impl Fn(usize, T) -> (Spot, Part),
) -> Vec<Step> {
    let is_same = |a: &T, b: &T| a == b || is_same(a, b);
    let mut steps = Vec::new();
    let (mut i, mut j) = (0, 0);
    loop {
        let (taken_out, put_in) = match (old.get(i), new.get(j)) {
            (None, None) => return steps,
            (Some(was), None) => (Some(was), None),
            (None, Some(is)) => (None, Some(is)),
            (Some(was), Some(is)) if is_same(was, is) => (Some(was), Some(is)),
            (Some(was), Some(is)) if new[j..].iter().any(|other| is_same(was, other)) => {
                (None, Some(is))
            }
            (Some(was), Some(is)) if old[i..].iter().any(|other| is_same(other, is)) => {
                (Some(was), None)
            }
            (Some(was), Some(is)) => (Some(was), Some(is)),
        };
        let before = taken_out.map(|item| at(j, item.clone()));
        let after = put_in.map(|item| at(j, item.clone()));
        if let Some((spot, _)) = before.as_ref().or(after.as_ref()) {
            let spot = spot.clone();
            let part = |item: Option<(Spot, Part)>| item.map(|(_, part)| part);
            let step = Step { spot, before: part(before), after: part(after) };
            steps.extend((step.before != step.after).then_some(step));
        }
        i += usize::from(taken_out.is_some());
        j += usize::from(put_in.is_some());
    }
}
