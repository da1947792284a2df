//! Which regions lie to the left and to the right of each piece.

use super::inputs::{Inputs, Item};
use super::{Alone, Arrangement, Members, Source, Step, Sub};
use crate::geometry::intersect::SNAP;
use crate::geometry::point::Point;

impl Arrangement {
    /// Fills in the left and right sets.
    pub(super) fn find_members(&mut self, inputs: &Inputs) {
        let all: Members = inputs.runs.iter().enumerate().fold(0, |set, (region, _)| set | 1 << region);
        self.alone = inputs.items.iter().filter_map(|item| alone(item, inputs, all)).collect();
        let on_boundary: Vec<Members> =
            self.subs.iter().map(|sub| sub.sources.iter().fold(0, |set, s| set | 1 << s.region)).collect();
        let mut touching: Vec<Members> = vec![0; self.points.len()];
        for (sub, on) in self.subs.iter().zip(&on_boundary) {
            touching[sub.from] |= on;
            touching[sub.to] |= on;
        }
        for sub in &mut self.subs {
            set_own_sides(sub, inputs);
        }
        let mut known = vec![false; self.subs.len()];
        let chains: Vec<Vec<Step>> = self.paths.iter().flatten().map(|segments| segments.concat()).collect();
        for chain in &chains {
            // Along a chain, membership in a region changes only at a point that region's boundary passes.
            let (mut inherited, mut valid): (Members, Members) = (0, 0);
            for step in chain {
                let on = on_boundary[step.sub];
                valid &= !touching[self.start_of(*step)];
                let middle = self.subs[step.sub].segment.middle();
                let inside = if known[step.sub] {
                    self.subs[step.sub].left & !on
                } else {
                    let inside = (inherited & valid) | covering(inputs, all & !(on | valid), middle);
                    let inside = inside & !on;
                    self.subs[step.sub].left |= inside;
                    self.subs[step.sub].right |= inside;
                    known[step.sub] = true;
                    inside
                };
                (inherited, valid) = (inside, !on);
            }
        }
    }
}

/// Sides of the regions whose boundary the sub-segment is.
fn set_own_sides(sub: &mut Sub, inputs: &Inputs) {
    let mut sources = sub.sources.as_slice();
    while let Some(first) = sources.first() {
        // Sources come grouped by region, since items do.
        let count = sources.iter().take_while(|source| source.region == first.region).count();
        let (own, rest) = sources.split_at(count);
        let net: i32 = own.iter().map(|source| if source.forward { 1 } else { -1 }).sum();
        let bit: Members = 1 << first.region;
        match net {
            0 => {
                // The region runs along here both ways: both sides are alike; look a little to the left.
                let aside = sub.segment.tangent_at(sub.segment.middle()).left_normal() * (10.0 * SNAP);
                if inputs.covers(first.region, sub.segment.middle() + aside) {
                    sub.left |= bit;
                    sub.right |= bit;
                }
            }
            1.. => sub.left |= bit,
            _ => sub.right |= bit,
        }
        sources = rest;
    }
}

/// What lies on both sides of a loop that stays whole, told from its first segment.
fn alone(item: &Item, inputs: &Inputs, all: Members) -> Option<Alone> {
    let Source { region, loop_index, segment, .. } = item.source;
    if !item.alone || segment != 0 {
        return None;
    }
    let own: Members = 1 << region;
    let around = covering(inputs, all & !own, item.segment.middle());
    Some(Alone { region, loop_index, left: around | own, right: around })
}

/// Which of these regions cover a point.
fn covering(inputs: &Inputs, asked: Members, point: Point) -> Members {
    let (mut left, mut covering) = (asked, 0);
    while left != 0 {
        let region = left.trailing_zeros() as usize;
        left &= left - 1;
        if inputs.covers(region, point) {
            covering |= 1 << region;
        }
    }
    covering
}
