//! What was taken to be so although the files do not say it, gathered by kind.

use std::collections::BTreeMap;

use super::{
    Remark,
    faults::{At, Faults},
};

/// Remarks by what they say: how many rows, and the first of them.
#[derive(Debug, Default)]
pub(super) struct Remarks {
    said: BTreeMap<String, (usize, At)>,
}

impl Remarks {
    /// Notes something about a row.
    pub(super) fn add(&mut self, what: &str, at: At) {
        match self.said.get_mut(what) {
            Some((n, first)) => {
                *n += 1;
                *first = at.min(*first);
            }
            None => {
                self.said.insert(what.to_owned(), (1, at));
            }
        }
    }

    /// The remarks in the order of the files.
    pub(super) fn into_list(self, faults: &Faults<'_>) -> Vec<Remark> {
        let mut list: Vec<_> = self.said.into_iter().collect();
        list.sort_by(|(a, (_, first)), (b, (_, other))| (first, a).cmp(&(other, b)));
        let remark = |(what, (rows, at)): (String, (usize, At))| Remark {
            what,
            rows,
            file: faults.file(at.file).to_owned(),
            line: at.line,
        };
        list.into_iter().map(remark).collect()
    }
}
