//! Rectangles into as few equal bins as a good rule finds: each, largest first, into the free rectangle it leaves the least of.
//!
//! The rule is "best short side fit" over maximal free rectangles (J. Jylänki, A Thousand Ways to Pack the Bin, 2010, from
//! memory); the same input gives the same packing.

/// Where a rectangle went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Packed {
    pub bin: usize,
    /// Low corner.
    pub corner: [f64; 2],
    /// A quarter turn.
    pub turned: bool,
}

/// A free rectangle: low corner and size.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Free {
    corner: [f64; 2],
    size: [f64; 2],
}

impl Free {
    fn end(&self, axis: usize) -> f64 {
        self.corner[axis] + self.size[axis]
    }

    fn holds(&self, other: &Free) -> bool {
        (0..2).all(|axis| self.corner[axis] <= other.corner[axis] && self.end(axis) >= other.end(axis))
    }

    fn meets(&self, other: &Free) -> bool {
        (0..2).all(|axis| self.corner[axis] < other.end(axis) && other.corner[axis] < self.end(axis))
    }

    /// What is left of it around a rectangle placed somewhere in it: up to four, overlapping.
    fn around(&self, taken: &Free) -> Vec<Free> {
        let mut left = Vec::new();
        for axis in 0..2 {
            let before = taken.corner[axis] - self.corner[axis];
            if before > 0.0 {
                let mut free = *self;
                free.size[axis] = before;
                left.push(free);
            }
            let after = self.end(axis) - taken.end(axis);
            if after > 0.0 {
                let mut free = *self;
                free.corner[axis] = taken.end(axis);
                free.size[axis] = after;
                left.push(free);
            }
        }
        left
    }
}

/// Packs rectangles into bins of one size, in the order of `sizes`. One larger than a bin both ways gets a bin of its own, and
/// stands out.
pub fn pack(sizes: &[[f64; 2]], bin: [f64; 2]) -> Vec<Packed> {
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    // Longest side first, then area, then as given.
    let rank = |index: usize| {
        let [a, b] = sizes[index];
        [f64::max(a, b), a * b]
    };
    order.sort_by(|&a, &b| {
        let (a_rank, b_rank) = (rank(a), rank(b));
        b_rank[0].total_cmp(&a_rank[0]).then(b_rank[1].total_cmp(&a_rank[1])).then(a.cmp(&b))
    });
    let mut bins: Vec<Vec<Free>> = Vec::new();
    let mut packed = vec![Packed { bin: 0, corner: [0.0; 2], turned: false }; sizes.len()];
    for index in order {
        let found = (0..bins.len()).find_map(|number| Some((number, best(&bins[number], sizes[index])?)));
        let (number, (taken, turned)) = found.unwrap_or_else(|| {
            bins.push(vec![Free { corner: [0.0; 2], size: bin }]);
            let [a, b] = sizes[index];
            let turned = a > bin[0] || b > bin[1];
            let size = if turned { [b, a] } else { [a, b] };
            (bins.len() - 1, (Free { corner: [0.0; 2], size }, turned))
        });
        packed[index] = Packed { bin: number, corner: taken.corner, turned };
        let split: Vec<Free> = bins[number]
            .iter()
            .flat_map(|free| if free.meets(&taken) { free.around(&taken) } else { vec![*free] })
            .collect();
        bins[number] = maximal(&split);
    }
    packed
}

/// The place that leaves the least on the shorter of the two sides, and whether turned.
fn best(free: &[Free], size: [f64; 2]) -> Option<(Free, bool)> {
    let candidates = free.iter().flat_map(|space| {
        [(size, false), ([size[1], size[0]], true)].into_iter().filter_map(move |(size, turned)| {
            let left = [space.size[0] - size[0], space.size[1] - size[1]];
            let room = left[0] >= 0.0 && left[1] >= 0.0;
            room.then(|| {
                (Free { corner: space.corner, size }, turned, [left[0].min(left[1]), left[0].max(left[1])])
            })
        })
    });
    // The first of equals: unturned, lowest in the list.
    candidates
        .reduce(|best, other| if other.2 < best.2 { other } else { best })
        .map(|(place, turned, _)| (place, turned))
}

/// Those that lie in no other one, in a fixed order.
fn maximal(free: &[Free]) -> Vec<Free> {
    let mut kept: Vec<Free> = Vec::new();
    for one in free {
        if kept.iter().any(|other| other.holds(one)) {
            continue;
        }
        kept.retain(|other| !one.holds(other));
        kept.push(*one);
    }
    kept.sort_by(|a, b| a.corner[1].total_cmp(&b.corner[1]).then(a.corner[0].total_cmp(&b.corner[0])));
    kept
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn placed(sizes: &[[f64; 2]], packed: &[Packed]) -> Vec<(usize, Free)> {
        sizes
            .iter()
            .zip(packed)
            .map(|(&[a, b], place)| {
                let size = if place.turned { [b, a] } else { [a, b] };
                (place.bin, Free { corner: place.corner, size })
            })
            .collect()
    }

    proptest! {
        /// Nothing overlaps, nothing stands out, no bin is empty.
        #[test]
        fn all_lie_apart_within_their_bins(
            sizes in prop::collection::vec(prop::array::uniform2(1.0..100.0f64), 1..40)
        ) {
            let packed = pack(&sizes, [100.0, 120.0]);
            let placed = placed(&sizes, &packed);
            for (i, (bin, one)) in placed.iter().enumerate() {
                prop_assert!(one.corner[0] >= 0.0 && one.corner[1] >= 0.0);
                prop_assert!(one.end(0) <= 100.0 + 1e-9 && one.end(1) <= 120.0 + 1e-9);
                for (other_bin, other) in &placed[..i] {
                    let apart = (0..2).any(|axis| {
                        one.corner[axis] >= other.end(axis) - 1e-9 || other.corner[axis] >= one.end(axis) - 1e-9
                    });
                    prop_assert!(bin != other_bin || apart, "{one:?} {other:?}");
                }
            }
            let bins = placed.iter().map(|(bin, _)| bin + 1).max().unwrap_or(0);
            for number in 0..bins {
                prop_assert!(placed.iter().any(|(bin, _)| *bin == number));
            }
        }
    }

    #[test]
    fn four_quarters_fill_a_bin() {
        let packed = pack(&[[50.0, 60.0]; 4], [100.0, 120.0]);
        assert!(packed.iter().all(|place| place.bin == 0), "{packed:?}");
    }
}
