//! What must come off to change one thing: the shortest way that the paths allow.

use super::item::{Item, Kind};
use super::order::{base_side, called, module, motor_unit, of_kinds, on_rotor, planet_set};
use super::path::{Obstacles, Side};
use crate::design::{Joint, PartName};

/// Deeper chains of obstacles aren't followed.
const DEEPEST: usize = 12;

/// One change.
#[derive(Clone, Debug)]
pub struct Exchange {
    pub target: &'static str,
    /// Removals in order, the target last; none if it can't be reached.
    pub steps: Option<Vec<Removal>>,
    /// Joints that the service rule lets one undo for it; none where it says nothing.
    pub allowed: Option<&'static [Joint]>,
}

/// One removal.
#[derive(Clone, Debug, PartialEq)]
pub struct Removal {
    pub name: String,
    pub items: Vec<usize>,
    pub side: Side,
    /// The screws' joint, when they are what comes off.
    pub joint: Option<Joint>,
    /// Pieces, or screws.
    pub count: usize,
}

impl Exchange {
    /// Joints undone on the way, with their screws.
    pub fn joints(&self) -> impl Iterator<Item = (Joint, usize)> + '_ {
        self.steps.iter().flatten().filter_map(|removal| Some((removal.joint?, removal.count)))
    }

    /// Pieces and units that come off before the target.
    pub fn parts(&self) -> usize {
        let removals = self.steps.iter().flatten().filter(|removal| removal.joint.is_none()).count();
        removals.saturating_sub(1)
    }
}

/// Everything one may want to change.
pub fn exchanges(items: &[Item], obstacles: &Obstacles) -> Vec<Exchange> {
    // Planets after J2 and the back plate, the sun after J2, a ring insert after J2 with its own screws; split rings of herringbone
    // teeth hold the planets, so that both come out.
    let split = items.iter().any(|item| item.kind == Kind::Part(PartName::RingInsertBack));
    let planets: &[Joint] = match split {
        true => &[Joint::Service, Joint::Pillars, Joint::RingInsert, Joint::Sun],
        false => &[Joint::Service, Joint::Pillars],
    };
    let ring: &[Joint] = if split { planets } else { &[Joint::Service, Joint::RingInsert] };
    let insert = items.iter().any(|item| item.kind == Kind::Part(PartName::RingInsert));
    let (ring_target, ring_rule) = match insert {
        true => (Kind::Part(PartName::RingInsert), Some(ring)),
        false => (Kind::Part(PartName::RingHousing), None),
    };
    let sun = items.iter().any(|item| item.kind == Kind::Part(PartName::Sun));
    let (sun_target, sun_rule): (Kind, &[Joint]) = match sun {
        true => (Kind::Part(PartName::Sun), &[Joint::Service, Joint::Sun]),
        // In one with the adapter.
        false => (Kind::Part(PartName::RotorAdapter), &[Joint::Service, Joint::AdapterToRotor, Joint::Sun]),
    };
    let exchange = |target, kinds: &[Kind], allowed| Exchange {
        target,
        steps: shortest(items, obstacles, &of_kinds(items, kinds)),
        allowed,
    };
    vec![
        exchange("planets", &planet_set(), Some(planets)),
        // Herringbone teeth hold the sun in the pack: the rule says nothing of it.
        exchange("sun", &[sun_target], (!split).then_some(sun_rule)),
        exchange("ring", &[ring_target], ring_rule),
        exchange(
            "motor",
            &motor_unit(),
            Some(&[Joint::Service, Joint::Sun, Joint::AdapterToRotor, Joint::StatorMount]),
        ),
        exchange("controller board", &[Kind::Board], None),
        exchange("output bearing", &[Kind::OutputBearing(1)], None),
    ]
}

/// From the whole actuator, or from what is left when module and motor are off.
fn shortest(items: &[Item], obstacles: &Obstacles, target: &[usize]) -> Option<Vec<Removal>> {
    let everything: Vec<usize> = (0..items.len()).collect();
    let mut ways: Vec<Vec<Removal>> = Vec::new();
    ways.extend(Search { items, obstacles, target }.clear(target, &everything, &mut Vec::new()));

    // J2 opens; herringbone teeth keep the sun in the module.
    let screws = of_kinds(items, &[Kind::Screws(Joint::Service)]);
    let sun_screw = of_kinds(items, &[Kind::Screws(Joint::Sun)]);
    let sun = of_kinds(items, &[Kind::Part(PartName::Sun)]);
    let alone = module(items);
    let with_sun: Vec<usize> = alone.iter().chain(&sun).copied().collect();
    let whole = Search { items, obstacles, target: &everything };
    // A sun that comes off with the module goes where the planets go.
    let opened = whole
        .take(&everything, &[&screws, &alone])
        .or_else(|| whole.take(&everything, &[&screws, &sun_screw, &with_sun]))
        .map(|steps| (steps, alone));
    if let Some((opening, off)) = opened {
        let gone: Vec<usize> = opening.iter().flat_map(|removal| removal.items.clone()).collect();
        let rest: Vec<usize> = everything.iter().filter(|index| !gone.contains(index)).copied().collect();
        let mut from = vec![(opening.clone(), off), (opening.clone(), rest.clone())];
        let mount = of_kinds(items, &[Kind::Screws(Joint::StatorMount)]);
        let mut unit = motor_unit();
        unit.extend(on_rotor());
        let motor: Vec<usize> =
            of_kinds(items, &unit).into_iter().filter(|index| rest.contains(index)).collect();
        if let Some(more) = whole.take(&rest, &[&mount, &motor]) {
            let below: Vec<usize> = of_kinds(items, &base_side())
                .into_iter()
                .filter(|index| !motor.contains(index) && !mount.contains(index))
                .collect();
            let steps: Vec<Removal> = opening.iter().chain(&more).cloned().collect();
            from.push((steps.clone(), motor));
            from.push((steps, below));
        }
        for (before, left) in from {
            // What came off by itself isn't in the module any more.
            let single = |index: &usize| before.iter().any(|removal| removal.items == [*index]);
            let left: Vec<usize> = left.into_iter().filter(|index| !single(index)).collect();
            if target.iter().all(|index| left.contains(index)) {
                let after = Search { items, obstacles, target }.clear(target, &left, &mut Vec::new());
                ways.extend(after.map(|after| before.into_iter().chain(after).collect()));
            }
        }
    }
    ways.into_iter().min_by_key(Vec::len)
}

struct Search<'a> {
    items: &'a [Item],
    obstacles: &'a Obstacles,
    target: &'a [usize],
}

impl Search<'_> {
    /// Units off one after the other: a joint's screws after what covers them, larger ones if they are free.
    fn take(&self, present: &[usize], units: &[&[usize]]) -> Option<Vec<Removal>> {
        let mut present = present.to_vec();
        let mut steps: Vec<Removal> = Vec::new();
        for unit in units {
            let unit: Vec<usize> = unit.iter().filter(|index| present.contains(index)).copied().collect();
            let more = match unit.as_slice() {
                [] => Vec::new(),
                [_] => self.clear(&unit, &present, &mut Vec::new())?,
                _ => {
                    let free = |side: &Side| self.obstacles.blocker(&unit, &present, *side).is_none();
                    let side = [Side::Front, Side::Back].into_iter().find(free)?;
                    vec![self.removal(&unit, side)]
                }
            };
            present.retain(|index| !more.iter().any(|removal| removal.items.contains(index)));
            steps.extend(more);
        }
        Some(steps)
    }

    /// The unit off, after what stands in its way.
    fn clear(&self, unit: &[usize], present: &[usize], pending: &mut Vec<usize>) -> Option<Vec<Removal>> {
        if pending.len() > DEEPEST {
            return None;
        }
        let mut best: Option<Vec<Removal>> = None;
        for side in [Side::Front, Side::Back] {
            let mut present = present.to_vec();
            let mut steps = Vec::new();
            let mut possible = true;
            while let Some((_, standing)) = self.obstacles.blocker(unit, &present, side) {
                if pending.contains(&standing)
                    || best.as_ref().is_some_and(|known| known.len() <= steps.len() + 1)
                {
                    possible = false;
                    break;
                }
                pending.extend(unit);
                let others = self.clear(&self.whole(standing, &present), &present, pending);
                pending.truncate(pending.len() - unit.len());
                let Some(others) = others else {
                    possible = false;
                    break;
                };
                present.retain(|index| !others.iter().any(|removal| removal.items.contains(index)));
                steps.extend(others);
            }
            if possible && best.as_ref().is_none_or(|known| steps.len() + 1 < known.len()) {
                steps.push(self.removal(unit, side));
                best = Some(steps);
            }
        }
        best
    }

    /// Planets come off with their bearings, a carrier with its pins.
    fn whole(&self, item: usize, present: &[usize]) -> Vec<usize> {
        let sets = [planet_set(), vec![Kind::Part(PartName::OutputCarrier), Kind::Pins], motor_unit()];
        let kind = self.items.get(item).map(|item| item.kind);
        let set = sets.into_iter().find(|set| kind.is_some_and(|kind| set.contains(&kind)));
        match set {
            Some(set) => of_kinds(self.items, &set)
                .into_iter()
                .filter(|index| present.contains(index) && !self.target.contains(index) || *index == item)
                .collect(),
            None => vec![item],
        }
    }

    fn removal(&self, unit: &[usize], side: Side) -> Removal {
        let first = unit.first().and_then(|&index| self.items.get(index));
        let joint = first.and_then(|item| match item.kind {
            Kind::Screws(joint) => Some(joint),
            _ => None,
        });
        let has = |kind: Kind| {
            unit.iter().any(|&index| self.items.get(index).is_some_and(|item| item.kind == kind))
        };
        let name = match unit.len() {
            0..=2 => called(self.items, "", unit),
            _ if has(Kind::Part(PartName::RingHousing)) => "housing module".to_string(),
            _ if has(Kind::Motor) && has(Kind::Part(PartName::RotorAdapter)) => {
                "motor on its mount, with the adapter".to_string()
            }
            _ if has(Kind::Motor) => "motor on its mount".to_string(),
            _ => "planets with their bearings".to_string(),
        };
        Removal { name, items: unit.to_vec(), side, joint, count: first.map_or(0, |item| item.count) }
    }
}
