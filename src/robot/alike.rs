//! Joints with the same motor and output bearing take the same gearset where that costs nothing that shows: one more sun of
//! a kind in the order, one planet to print over and over.
//!
//! A joint may take another's gearset if all its checks hold with it and its mass stays within the same step, so that no
//! joint nearer the body feels it. Of these the fewest gearsets are chosen, then the lightest.

/// Which gearset each joint takes: the fewest in all, then the least mass, then the first in the list.
///
/// # Arguments
/// * `masses`: by joint and gearset \[kg\]; none where the joint can't take it. Each joint can take one at least, and there
///   are fewer than 32.
pub fn fewest(masses: &[Vec<Option<f64>>]) -> Vec<usize> {
    let gearsets = masses.iter().map(Vec::len).max().unwrap_or(0).min(31);
    let mut best: Option<(u32, f64, Vec<usize>)> = None;
    for set in 1_u32..1 << gearsets {
        let kinds = set.count_ones();
        if best.as_ref().is_some_and(|(fewest, ..)| kinds > *fewest) {
            continue;
        }
        let lightest = |joint: &Vec<Option<f64>>| {
            let within = joint.iter().enumerate().filter(|(index, _)| set >> index & 1 == 1);
            within
                .filter_map(|(index, mass)| Some((index, (*mass)?)))
                .reduce(|a, b| if b.1 < a.1 { b } else { a })
        };
        let Some(taken) = masses.iter().map(lightest).collect::<Option<Vec<_>>>() else { continue };
        let mass: f64 = taken.iter().map(|(_, mass)| mass).sum();
        if best.as_ref().is_none_or(|(fewest, least, _)| (kinds, mass) < (*fewest, *least)) {
            best = Some((kinds, mass, taken.into_iter().map(|(index, _)| index).collect()));
        }
    }
    // Without any set each keeps its own, which callers list at its own place.
    best.map_or_else(|| (0..masses.len()).collect(), |(.., taken)| taken)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_for_all_where_all_can_take_it() {
        let masses = vec![
            vec![Some(0.50), Some(0.51), None],
            vec![None, Some(0.49), Some(0.47)],
            vec![Some(0.48), Some(0.48), Some(0.47)],
        ];
        assert_eq!(fewest(&masses), [1, 1, 1]);
    }

    /// Two kinds cannot be one; of the pairs that do, the lightest: 0 with 2 weighs 1.45, 0 with 1 weighs 1.46.
    #[test]
    fn then_the_lightest() {
        let masses = vec![
            vec![Some(0.50), None, None],
            vec![None, Some(0.49), Some(0.47)],
            vec![Some(0.48), Some(0.47), Some(0.48)],
        ];
        assert_eq!(fewest(&masses), [0, 2, 0]);
    }
}
