//! Going from page to page: what is meant where nothing is named, and what leads there.

use super::App;
use crate::book::{CrossId, PlantId};
use crate::tui::{
    action::Action,
    place::{Kind, Place},
    walk::Walk,
};
use crate::views::{Party, waits::Whose};

impl App {
    pub(super) fn under(&self) -> Option<Place> {
        self.trail.top().stand(&self.scene.around()).under
    }

    /// What is meant where nothing is named: on the page of a thing that thing, on a screen what
    /// the cursor is on.
    pub(super) fn subject(&self) -> Place {
        let here = self.place();
        match here.kind() {
            Kind::Plant | Kind::Parent | Kind::Walk | Kind::Cross | Kind::Pairing => here,
            _ => self.under().unwrap_or(here),
        }
    }

    /// The plant that is meant where none is named.
    pub(super) fn plant(&self) -> Option<PlantId> {
        self.subject().plant().or_else(|| self.under().and_then(Place::plant))
    }

    pub(super) fn go(&mut self, place: Place) {
        self.covers.clear();
        self.leave();
        self.trail.go(place);
        self.refresh();
    }

    /// Begins to walk past the plants that stand here.
    pub(super) fn walk(&mut self) {
        let around = self.scene.around();
        let plants = self.trail.top().plants(&around);
        let under = self.under().and_then(Place::plant).filter(|plant| plants.contains(plant));
        let Some(from) = under.or(plants.first().copied()) else { return };
        let walk = Walk::of(&plants, from, &around);
        self.trail.enter(Box::new(walk));
        self.refresh();
    }

    pub(super) fn go_to_screen(&mut self, kind: Kind) {
        let place = match kind {
            Kind::Evening => Place::Evening,
            Kind::Bed => Place::Bed,
            Kind::Crosses => Place::Crosses,
            Kind::Pairings => Place::Pairings,
            Kind::Line => {
                if let Some(plant) = self.plant() {
                    return self.go(Place::Line(Some(plant)));
                }
                if let Some((plant, why)) = self.stands_for(self.subject()) {
                    self.go(Place::Line(Some(plant)));
                    self.said = Some(why);
                    return;
                }
                if self.trail.go_again(Kind::Line) {
                    return self.refresh();
                }
                Place::Line(None)
            }
            Kind::Parent => match self.plant() {
                Some(plant) => Place::Parent(plant),
                None => return,
            },
            Kind::Blooms => Place::Blooms(self.whose()),
            Kind::History => Place::History,
            Kind::Earlier => Place::Earlier,
            Kind::Problems => Place::Problems,
            Kind::Plant | Kind::Walk | Kind::Cross | Kind::Pairing | Kind::Due | Kind::Welcome => {
                return;
            }
        };
        self.go(place);
    }

    pub(super) fn go_to_parent(&mut self, action: Action) {
        let of = self.subject();
        let Some((seed, pollen)) = of.parents(self.desk()) else { return };
        let (party, role) = match action {
            Action::SeedParent => (seed, "seed parent"),
            _ => (pollen, "pollen parent"),
        };
        let name = of.name(self.desk(), self.scene.theme.glyphs());
        match party {
            Party::Plant(plant) => self.go(Place::Plant(plant)),
            Party::Unknown => self.said = Some(format!("Nobody knows the {role} of {name}.")),
            Party::Among(_) | Party::Stranger(_) => {
                let who = party.name(self.desk().book(), " or ").unwrap_or_default();
                self.said = Some(format!("The {role} of {name} may be {who}."));
            }
        }
    }

    /// Whose first blooms are meant: of a plant its offspring or, where it has none, its family.
    fn whose(&self) -> Whose {
        let desk = self.desk();
        match self.subject() {
            Place::Cross(cross) => Whose::Cross(cross),
            Place::Pairing(at) => Whose::Pairing(at),
            Place::Plant(plant) | Place::Parent(plant) | Place::Line(Some(plant)) => {
                match (desk.pedigree().offspring(plant), desk.book().cross_of(plant)) {
                    ([], Some(cross)) => Whose::Cross(cross),
                    ([], None) => Whose::Programme,
                    _ => Whose::Parent(plant),
                }
            }
            _ => Whose::Programme,
        }
    }

    /// The plant whose line is shown for a cross or a pairing, and why it is that one: its best
    /// keeper or, as long as there is none, its seed parent.
    fn stands_for(&self, of: Place) -> Option<(PlantId, String)> {
        let desk = self.desk();
        let crosses: Vec<CrossId> = match of {
            Place::Cross(cross) => vec![cross],
            Place::Pairing(at) => desk.pairings().get(at)?.crosses.clone(),
            Place::Pair(..) => Vec::new(),
            _ => return None,
        };
        let name = of.name(desk, self.scene.theme.glyphs());
        let plants = crosses.iter().flat_map(|&cross| desk.book().family(cross));
        let best = plants
            .filter_map(|plant| Some((desk.brief(plant).stage?, plant)))
            .max_by_key(|&(stage, plant)| (stage, desk.brief(plant).first_bloom, plant));
        if let Some((_, plant)) = best {
            let who = desk.label(plant);
            return Some((plant, format!("{who} is the best keeper of {name} so far.")));
        }
        let (seed, pollen) = of.parents(desk)?;
        let (parent, role) = match (seed.plant(), pollen.plant()) {
            (Some(seed), _) => (seed, "seed parent"),
            (None, Some(pollen)) => (pollen, "pollen parent"),
            (None, None) => return None,
        };
        let who = desk.label(parent);
        Some((parent, format!("No plant of {name} is kept; {who} is its {role}.")))
    }
}
