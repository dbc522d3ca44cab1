//! What plants gave as parents, in the demo garden: counted again another way.

use std::{collections::BTreeSet, path::Path, sync::Arc};

use trug::{
    book::{PlantId, first_sorting},
    views::{Desk, Levels, Party, given, plant},
};

fn desk() -> Desk {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    let opened = trug::shelf::open(&dir, None).unwrap();
    let today = opened.book.about().today.unwrap();
    Desk::new(Arc::new(opened.book), today)
}

#[test]
fn partners_are_those_of_its_crosses_and_the_best_come_first() {
    let desk = desk();
    let mut most = 0;
    for parent in desk.pedigree().used().iter().copied() {
        let partners = given::partners(&desk, parent, Levels::default());
        assert!(partners.windows(2).all(|two| two[0].shrunk.p >= two[1].shrunk.p));
        assert!(partners.iter().all(|p| p.judged > 0 && p.kept <= p.judged));
        let mut judged = 0;
        let mut with = BTreeSet::new();
        for cross in desk.book().cross_ids() {
            let (seed, pollen) = desk.parties(cross);
            let of = Party::Plant(parent);
            let other = if *seed == of { pollen } else { seed };
            if (*seed == of || *pollen == of) && desk.counts(cross).judged > 0 {
                judged += desk.counts(cross).judged;
                with.insert(other.clone());
            }
        }
        assert_eq!(partners.iter().map(|p| p.judged).sum::<u32>(), judged);
        // A partner that is not known is one a direction.
        let named: BTreeSet<Party> = partners.iter().map(|p| p.with.clone()).collect();
        assert_eq!(named, with);
        most = most.max(partners.len());
    }
    assert!(most > 4, "some parent had several partners");
}

#[test]
fn what_offspring_went_on_to_do_is_what_their_diaries_say() {
    let desk = desk();
    let (mut named, mut parents) = (0, 0);
    for parent in desk.pedigree().used().iter().copied() {
        let went_on = given::went_on(&desk, parent);
        let is_parent = |&id: &PlantId| {
            let (seed, pollen) = desk.parents(id);
            [seed, pollen].contains(&Party::Plant(parent))
        };
        let is_seedling = |id: &PlantId| desk.book().cross_of(*id).is_some();
        let all: Vec<PlantId> =
            desk.book().plants().filter(is_seedling).filter(is_parent).collect();
        let sorted = all.iter().filter_map(|&id| first_sorting(desk.book().plant(id).diary()));
        let words: Vec<&str> = sorted.map(trug::book::Verdict::word).collect();
        assert_eq!(went_on.seedlings as usize, all.len());
        assert_eq!(went_on.kept as usize, words.iter().filter(|word| **word == "keep").count());
        assert!(went_on.kept <= went_on.judged && went_on.judged <= went_on.bloomed);
        assert!(went_on.named.len() <= went_on.kept_again as usize);
        assert!(went_on.parents.iter().all(|id| all.contains(id)));
        named += went_on.named.len();
        parents += went_on.parents.len();
    }
    assert!(named > 0 && parents > 10, "{named} named, {parents} parents");
}

#[test]
fn only_the_page_of_a_parent_says_what_it_passes_on() {
    let desk = desk();
    let page = |id| plant::page(&desk, id, Levels::default());
    let parent = desk.pedigree().used()[0];
    assert!(!page(parent).passed_on.is_empty());
    let spare = desk.book().plants().find(|&id| desk.pedigree().offspring(id).is_empty()).unwrap();
    let page = page(spare);
    assert!(page.passed_on.is_empty() && page.partners.is_empty());
    assert_eq!(page.went_on, given::WentOn::default());
}
