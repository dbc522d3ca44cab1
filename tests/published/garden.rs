//! A pedigree of varieties, for the checks that need kinship.

use std::sync::Arc;

use trug::{
    book::{About, Book, Crop, Cross, Parent, PlantId, Variety},
    kinship::{Descent, Inheritance, Kinship},
    lineage::Pedigree,
};

use super::Row;

pub(crate) struct Garden {
    pub(crate) book: Book,
    pub(crate) kinship: Kinship,
}

pub(crate) fn parent(text: &str) -> Parent {
    if text.is_empty() { Parent::Unknown } else { Parent::Known(text.into()) }
}

impl Garden {
    pub(crate) fn new(varieties: Vec<Variety>, ploidy: u8, double_reduction: f64) -> Self {
        Self::with_crosses(varieties, Vec::new(), ploidy, double_reduction)
    }

    pub(crate) fn with_crosses(
        varieties: Vec<Variety>,
        crosses: Vec<Cross>,
        ploidy: u8,
        double_reduction: f64,
    ) -> Self {
        let rules = Inheritance::new(ploidy, double_reduction).unwrap();
        let book = Book::new(About::default(), Arc::new(Crop::default()), varieties, crosses);
        let kinship = Kinship::of(&book, &Pedigree::of(&book), rules);
        Self { book, kinship }
    }

    pub(crate) fn of(rows: &[Row], ploidy: u8, double_reduction: f64) -> Self {
        Self::new(rows.iter().map(variety).collect(), ploidy, double_reduction)
    }

    pub(crate) fn at(&self, key: &str) -> PlantId {
        self.book.by_key(key).unwrap_or_else(|| panic!("{key} is not in the book"))
    }

    pub(crate) fn inbreeding(&self, key: &str) -> f64 {
        self.kinship.inbreeding(self.at(key))
    }

    pub(crate) fn coancestry(&self, a: &str, b: &str) -> f64 {
        self.kinship.coancestry(self.at(a), self.at(b))
    }

    pub(crate) fn relationship(&self, a: &str, b: &str) -> f64 {
        self.kinship.relationship(self.at(a), self.at(b))
    }

    pub(crate) fn mean_inbreeding(&self) -> f64 {
        let sum: f64 = self.book.plants().map(|plant| self.kinship.inbreeding(plant)).sum();
        sum / self.book.n_plants() as f64
    }

    pub(crate) fn everybody(&self) -> Descent {
        self.kinship.descent(self.book.plants())
    }
}

pub(crate) fn variety(row: &Row) -> Variety {
    Variety {
        id: row.text("id").into(),
        seed: parent(row.text("parent1")),
        pollen: parent(row.text("parent2")),
        ..Variety::default()
    }
}
