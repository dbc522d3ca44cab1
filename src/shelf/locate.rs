//! The line and column of a value in a book's files.
//!
//! A file is looked at again only when something is wrong, so that opening a sound book costs
//! nothing for it.

use std::{collections::BTreeMap, path::Path};

use super::{
    amiss::Step,
    open::Opened,
    read::text,
    tree::{Node, Tree, line_and_column},
};
use crate::book::{Fault, Place, Problem, When, label_order};

/// The line and column of the value at the end of a trail in a file; zeros if the file cannot be
/// read any more.
pub(super) fn spot(root: &Path, file: &str, trail: &[Step]) -> (usize, usize) {
    let mut bytes = Vec::new();
    text(&root.join(file), &mut bytes)
        .map(|text| line_and_column(text, Tree::of(text).find(trail)))
        .unwrap_or_default()
}

impl Opened {
    /// The line and column of a fault.
    pub fn problem_of(&self, fault: &Fault) -> Problem {
        let file = self.file_of(&fault.at);
        let mut bytes = Vec::new();
        let text = text(&self.shelf.root().join(&*file), &mut bytes).ok();
        problem(fault, &file, text.map(|text| (text, Tree::of(text))).as_ref())
    }

    /// The lines and columns of faults, in order of file, line and column.
    pub fn problems_of(&self, faults: &[Fault]) -> Vec<Problem> {
        let mut by_file: BTreeMap<Box<str>, Vec<&Fault>> = BTreeMap::new();
        for fault in faults {
            by_file.entry(self.file_of(&fault.at)).or_default().push(fault);
        }
        let mut problems = Vec::with_capacity(faults.len());
        let mut bytes = Vec::new();
        for (file, faults) in by_file {
            let text = text(&self.shelf.root().join(&*file), &mut bytes).ok();
            let looked_at = text.map(|text| (text, Tree::of(text)));
            problems.extend(faults.iter().map(|fault| problem(fault, &file, looked_at.as_ref())));
        }
        problems.sort();
        problems
    }

    fn file_of(&self, place: &Place) -> Box<str> {
        let file = match place {
            Place::About => None,
            Place::Variety(id, _) => self.shelf.varieties.get(id),
            Place::Cross(code)
            | Place::Head(code, ..)
            | Place::Lot(code, ..)
            | Place::Seedling(code, ..) => self.shelf.crosses.get(code),
            Place::Field(inside, _) | Place::Item(inside, ..) => {
                return self.file_of(inside);
            }
        };
        file.unwrap_or("book.ron").into()
    }
}

fn problem(fault: &Fault, file: &str, looked_at: Option<&(&str, Tree<'_>)>) -> Problem {
    let (line, column) = looked_at
        .map(|(text, tree)| line_and_column(text, tree.find(&trail(&fault.at, &tree.root))))
        .unwrap_or_default();
    Problem {
        file: file.to_owned(),
        line,
        column,
        severity: fault.severity,
        message: fault.message.clone(),
        hint: fault.hint.clone(),
    }
}

/// The way to a place in the file of its record.
fn trail(place: &Place, root: &Node<'_>) -> Vec<Step> {
    match place {
        Place::About | Place::Cross(_) => Vec::new(),
        Place::Variety(_, entry) => to_entry(Vec::new(), Some(root), *entry),
        Place::Head(_, n, entry) => in_list(root, "heads", *n, *entry),
        Place::Lot(_, n, entry) => in_list(root, "lots", *n, *entry),
        Place::Seedling(_, n, entry) => in_list(root, "seedlings", in_file(root, *n), *entry),
        Place::Field(inside, name) => {
            let mut trail = trail(inside, root);
            trail.push(Step::Field(name));
            trail
        }
        Place::Item(inside, list, n) => {
            let mut trail = trail(inside, root);
            trail.push(Step::Field(list));
            if root.value(list).is_some_and(|value| value.word == "OneOf") {
                trail.push(Step::Item(0));
            }
            trail.push(Step::Item(*n));
            trail
        }
    }
}

fn in_list(root: &Node<'_>, list: &'static str, n: usize, entry: Option<usize>) -> Vec<Step> {
    let owner = root.value(list).and_then(|list| list.items.get(n)).map(|item| &item.value);
    to_entry(vec![Step::Field(list), Step::Item(n)], owner, entry)
}

/// Goes on to an entry of the diary. An entry whose date could not be read is not in memory, so
/// it does not count.
fn to_entry(mut trail: Vec<Step>, owner: Option<&Node<'_>>, entry: Option<usize>) -> Vec<Step> {
    let Some(entry) = entry else { return trail };
    let has_date = |node: &Node<'_>| {
        node.value("on").and_then(Node::string).is_some_and(|on| When::parse(&on).is_ok())
    };
    let n = owner.and_then(|owner| owner.value("diary")).and_then(|diary| {
        let entries = diary.items.iter().enumerate().filter(|(_, item)| has_date(&item.value));
        entries.map(|(n, _)| n).nth(entry)
    });
    trail.push(Step::Field("diary"));
    trail.extend(n.map(Step::Item));
    trail
}

/// Where in the file a seedling stands that is the `n`-th by number.
fn in_file(root: &Node<'_>, n: usize) -> usize {
    let Some(list) = root.value("seedlings") else { return n };
    let number = |item: usize| list.items[item].value.value("number").and_then(Node::string);
    let mut order: Vec<(Option<String>, usize)> =
        (0..list.items.len()).map(|item| (number(item), item)).collect();
    order.sort_by(|(a, _), (b, _)| {
        label_order(a.as_deref().unwrap_or_default(), b.as_deref().unwrap_or_default())
    });
    order.get(n).map_or(n, |(_, item)| *item)
}

/// Every key that a plant in this text bears, as far as it can be made out.
pub(super) fn keys_in(text: &str) -> Vec<Box<str>> {
    let tree = Tree::of(text);
    let key = |node: &Node<'_>| {
        node.value("id").or(node.value("number")).and_then(Node::string).map(Into::into)
    };
    let seedlings = tree.root.value("seedlings").map(|list| &list.items[..]).unwrap_or_default();
    seedlings.iter().filter_map(|item| key(&item.value)).chain(key(&tree.root)).collect()
}
