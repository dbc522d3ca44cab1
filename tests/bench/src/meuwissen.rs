//! F of every plant as the textbooks have it: the peer of our own.

/// The parents of a plant, counted from 1; 0 where there is none.
pub type Parents = (usize, usize);

/// F of every plant, each worked out from its own ancestors, which stand before it.
///
/// T. H. E. Meuwissen & Z. Luo 1992, Genet. Sel. Evol. 24:305–313: ancestors are kept in a list
/// from the youngest to the oldest, and each hands half its share on to either parent.
pub fn inbreeding(plants: &[Parents]) -> Vec<f64> {
    let n = plants.len() + 1;
    let mut f = vec![0.0; n];
    // F of a parent that there is not, so that its offspring's sampling comes out whole.
    f[0] = -1.0;
    let (mut sampling, mut share, mut next) = (vec![0.0; n], vec![0.0; n], vec![0_usize; n]);
    for plant in 1..n {
        let (seed, pollen) = plants[plant - 1];
        sampling[plant] = 0.5 - 0.25 * (f[seed] + f[pollen]);
        if seed == 0 || pollen == 0 {
            continue;
        }
        let mut own = 0.0;
        share[plant] = 1.0;
        let mut at = plant;
        while at != 0 {
            let half = 0.5 * share[at];
            let (seed, pollen) = plants[at - 1];
            let mut before = at;
            for parent in [seed.max(pollen), seed.min(pollen)] {
                if parent == 0 {
                    continue;
                }
                share[parent] += half;
                while next[before] > parent {
                    before = next[before];
                }
                if next[before] != parent {
                    next[parent] = next[before];
                    next[before] = parent;
                }
            }
            own += share[at] * share[at] * sampling[at];
            share[at] = 0.0;
            at = std::mem::take(&mut next[at]);
        }
        f[plant] = own - 1.0;
    }
    f.remove(0);
    f
}
