//! A good plan within milliseconds: pairs are added, exchanged and given other numbers as long as
//! that is better. Kinship beyond its limit has a price, which rises until the limit is kept.

use std::rc::Rc;

use super::{
    CannotBe, Dealt, Question,
    kin::{Kin, Load, ROUNDING},
};

/// Steps after which a search ends in any case; far more than any takes.
const MOST_STEPS: usize = 400;
const MOST_KICKS: usize = 8;
/// Gains below this share of the whole are none.
const SLIGHT: f64 = 1e-9;
/// How often the price of kinship is raised, and by how much each time.
const N_PRICES: usize = 16;
const DEARER: f64 = 3.0;

/// New numbers of places for at most three choices.
type Move = [Option<(usize, u32)>; 3];

/// A plan under way.
#[derive(Debug, Clone)]
struct State<'q> {
    question: &'q Question,
    places: Vec<u32>,
    chosen: Vec<usize>,
    /// Pairs of each parent.
    in_pairs: Vec<u32>,
    total: u32,
    worth: f64,
    /// Choices worth trying.
    shortlist: Rc<[usize]>,
    /// A choice that may not be made for now.
    barred: Option<usize>,
    load: Load,
    /// What [`Kin::with_all`] says of the load, and the sum over pairs of plants.
    with_all: Vec<f64>,
    kin_sum: f64,
}

impl<'q> State<'q> {
    fn new(question: &'q Question, shortlist: Rc<[usize]>, places: Vec<u32>) -> Self {
        let chosen: Vec<usize> = (0..places.len()).filter(|&at| places[at] > 0).collect();
        let mut in_pairs = vec![0; question.n_parents];
        for &at in &chosen {
            let [a, b] = question.choices[at].parents;
            in_pairs[a] += 1;
            in_pairs[b] += u32::from(a != b);
        }
        let load = Load::of(question, &places);
        let with_all = question.kin.as_ref().map(|kin| kin.with_all(&load)).unwrap_or_default();
        let kin_sum = Kin::among_sibs(&load, &with_all) + load.own_sum();
        Self {
            total: places.iter().sum(),
            worth: question.worth(&places),
            question,
            places,
            chosen,
            in_pairs,
            shortlist,
            barred: None,
            load,
            with_all,
            kin_sum,
        }
    }

    /// Places, pairs and pairs of a parent are within the limits after a move.
    fn allows(&self, change: &Move) -> bool {
        let limits = &self.question.limits;
        let mut total = i64::from(self.total);
        let mut pairs = i64::try_from(self.chosen.len()).unwrap_or(i64::MAX);
        let mut parents = [(usize::MAX, 0_i64); 6];
        let mut n_parents = 0;
        for &(at, n) in change.iter().flatten() {
            let choice = &self.question.choices[at];
            if n == 0 && choice.must || n > choice.most || n > 0 && n < choice.least {
                return false;
            }
            total += i64::from(n) - i64::from(self.places[at]);
            let more = i64::from(n > 0) - i64::from(self.places[at] > 0);
            pairs += more;
            let [a, b] = choice.parents;
            for parent in [Some(a), Some(b).filter(|_| a != b)].into_iter().flatten() {
                let seen = parents[..n_parents].iter_mut().find(|(other, _)| *other == parent);
                if let Some((_, sum)) = seen {
                    *sum += more;
                } else {
                    parents[n_parents] = (parent, more);
                    n_parents += 1;
                }
            }
        }
        let fits = |&(parent, more): &(usize, i64)| {
            more <= 0 || i64::from(self.in_pairs[parent]) + more <= i64::from(limits.per_parent)
        };
        total <= i64::from(limits.places)
            && pairs <= i64::from(limits.pairs)
            && parents[..n_parents].iter().all(fits)
    }

    /// What a move makes of worth, places and the sum of kinship.
    fn after(&self, change: &Move) -> (f64, f64, f64) {
        let (mut worth, mut total, mut kin_sum) = (self.worth, f64::from(self.total), self.kin_sum);
        let kin = self.question.kin.as_ref();
        let mut gametes = [(0, 0.0); 6];
        let mut n_gametes = 0;
        for &(at, n) in change.iter().flatten() {
            let choice = &self.question.choices[at];
            let more = f64::from(n) - f64::from(self.places[at]);
            worth += choice.worth * more;
            total += more;
            if let Some(kin) = kin {
                kin_sum += kin.own[at] * more;
                for parent in choice.parents {
                    gametes[n_gametes] = (parent, 0.5 * more);
                    n_gametes += 1;
                }
            }
        }
        if let Some(kin) = kin {
            let gametes = &gametes[..n_gametes];
            for &(a, x) in gametes {
                kin_sum += 2.0 * x * self.with_all[a];
                kin_sum += gametes.iter().map(|&(b, y)| x * y * kin.of(a, b)).sum::<f64>();
            }
        }
        (worth, total, kin_sum)
    }

    /// The worth less the price of too much kinship.
    fn score(&self, (worth, total, kin_sum): (f64, f64, f64), price: f64) -> f64 {
        let Some(kin) = self.question.kin.as_ref().filter(|_| total > 0.0) else { return worth };
        let excess = kin_sum / total - (kin.most + ROUNDING) * total;
        if excess <= 0.0 { worth } else { worth - price * excess }
    }

    fn apply(&mut self, change: &Move) {
        let mut places = std::mem::take(&mut self.places);
        for &(at, n) in change.iter().flatten() {
            places[at] = n;
        }
        let shortlist = Rc::clone(&self.shortlist);
        *self = Self { barred: self.barred, ..Self::new(self.question, shortlist, places) };
    }

    /// Whether kinship keeps its limit.
    fn is_within(&self) -> bool {
        self.question.kin.as_ref().is_none_or(|kin| kin.excess(&self.load) <= 0.0)
    }

    /// Every move worth trying, one after another.
    fn moves(&self, mut try_one: impl FnMut(Move)) {
        let choices = &self.question.choices;
        let free = self.question.limits.places - self.total;
        let sized = |at: usize, n: u32| Some((at, n.min(choices[at].most)));
        for &at in &self.chosen {
            let (n, choice) = (self.places[at], &choices[at]);
            try_one([sized(at, n + free), None, None]);
            try_one([Some((at, 0)), None, None]);
            try_one([Some((at, choice.least.max(n.saturating_sub(1)))), None, None]);
            for &to in self.chosen.iter().filter(|&&to| to != at) {
                let room = (choices[to].most - self.places[to]).min(n);
                for step in [room.min(n - n.min(choice.least)), room.min(8), room.min(1)] {
                    if step > 0 {
                        try_one([Some((at, n - step)), Some((to, self.places[to] + step)), None]);
                    }
                }
            }
        }
        let may = |at: usize| self.places[at] == 0 && Some(at) != self.barred;
        for to in self.shortlist.iter().copied().filter(|&at| may(at)) {
            try_one([sized(to, free), None, None]);
            for (k, &at) in self.chosen.iter().enumerate() {
                let n = self.places[at];
                try_one([Some((at, 0)), sized(to, n + free), None]);
                let given = choices[to].least.saturating_sub(free);
                if given > 0 && given < n {
                    try_one([Some((at, n - given)), Some((to, choices[to].least)), None]);
                }
                // A pair may stand in the way of another by both its parents.
                if self.shares_parent(at, to) {
                    for &other in
                        self.chosen[k + 1..].iter().filter(|&&o| self.shares_parent(o, to))
                    {
                        let freed = n + self.places[other] + free;
                        try_one([Some((at, 0)), Some((other, 0)), sized(to, freed)]);
                    }
                }
            }
        }
    }

    fn shares_parent(&self, one: usize, other: usize) -> bool {
        let parents = self.question.choices[other].parents;
        self.question.choices[one].parents.iter().any(|parent| parents.contains(parent))
    }

    /// Makes the best move again and again.
    fn climb(&mut self, price: f64) {
        for _ in 0..MOST_STEPS {
            let now = self.score(self.now(), price);
            let mut best = (now + SLIGHT * (1.0 + now.abs()), None);
            self.moves(|change| {
                if self.allows(&change) {
                    let score = self.score(self.after(&change), price);
                    if score > best.0 {
                        best = (score, Some(change));
                    }
                }
            });
            let Some(change) = best.1 else { return };
            self.apply(&change);
        }
    }
}

impl State<'_> {
    /// Leaves out each chosen pair in turn, and goes on from there where that turns out better.
    fn climb_around(&mut self, price: f64) {
        self.climb(price);
        for _ in 0..MOST_KICKS {
            let now = self.score(self.now(), price);
            let without = |&at: &usize| {
                let mut other = self.clone();
                other.apply(&[Some((at, 0)), None, None]);
                other.barred = Some(at);
                other.climb(price);
                other.barred = None;
                other.climb(price);
                (other.score(other.now(), price), other)
            };
            let free = self.chosen.iter().filter(|&&at| !self.question.choices[at].must);
            let best = free.map(without).max_by(|a, b| a.0.total_cmp(&b.0));
            match best {
                Some((score, other)) if score > now + SLIGHT * (1.0 + now.abs()) => *self = other,
                _ => return,
            }
        }
    }

    fn now(&self) -> (f64, f64, f64) {
        (self.worth, f64::from(self.total), self.kin_sum)
    }
}

/// Up to this many choices all are tried; of more, the best few of every parent.
const MOST_TRIED: usize = 250;

/// The choices worth trying: each parent's best by worth, and by worth for their kinship.
fn shortlist(question: &Question) -> Vec<usize> {
    let choices = &question.choices;
    if choices.len() <= MOST_TRIED {
        return (0..choices.len()).collect();
    }
    let of_each = 2 * question.limits.per_parent.min(4) + 2;
    let mut is_tried = vec![false; choices.len()];
    let mut take = |worth: &dyn Fn(usize) -> f64| {
        let mut order: Vec<(f64, usize)> = (0..choices.len()).map(|at| (worth(at), at)).collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut taken = vec![0; question.n_parents];
        for (_, at) in order {
            let parents = choices[at].parents;
            if parents.iter().any(|&parent| taken[parent] < of_each) {
                is_tried[at] = true;
                for parent in parents {
                    taken[parent] += 1;
                }
            }
        }
    };
    take(&|at| choices[at].worth);
    if let Some(kin) = &question.kin {
        let each = f64::from(question.limits.places) / question.n_parents.max(1) as f64;
        let all = Load::of_gametes(vec![each; question.n_parents]);
        let with_all = kin.with_all(&all);
        let mean = Kin::among_sibs(&all, &with_all) / f64::from(question.limits.places.max(1));
        take(&|at| {
            let [a, b] = choices[at].parents;
            let own = 0.25 * (kin.of(a, a) + kin.of(b, b) + 2.0 * kin.of(a, b));
            let others = 0.5 * (with_all[a] + with_all[b]) / mean.max(1e-9);
            choices[at].worth / (own + others * kin.most).max(1e-9)
        });
    }
    (0..choices.len()).filter(|&at| is_tried[at]).collect()
}

pub(super) fn search(question: &Question) -> Result<Dealt, CannotBe> {
    let musts = question.choices.iter().map(|choice| if choice.must { choice.least } else { 0 });
    let mut state = State::new(question, shortlist(question).into(), musts.collect());
    state.climb_around(0.0);
    if state.is_within() {
        return Ok(question.dealt(state.places));
    }
    let dearest = question.choices.iter().map(|choice| choice.worth.abs()).fold(1e-9, f64::max);
    let mut least = f64::INFINITY;
    let mut price = dearest;
    for _ in 0..N_PRICES {
        state.climb(price);
        if let Some(mean) = question.kinship(&state.places) {
            least = least.min(mean);
        }
        if state.is_within() && state.total > 0 {
            state.climb_around(f64::INFINITY);
            return Ok(question.dealt(state.places));
        }
        price *= DEARER;
    }
    let most = question.kin.as_ref().map_or(f64::INFINITY, |kin| kin.most);
    Err(CannotBe::Kin { least, most })
}
