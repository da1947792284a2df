//! Plastic left around the insert holes of a laid-out actuator, against the rule for bosses.

use crate::design::Joint;
use crate::layout::{Actuator, Anchor, Bolting};

/// Least plastic between an insert's hole and the outside of its part, lead-in left out; none without an insert of the layout.
pub fn boss_wall(actuator: &Actuator, joint: &Bolting) -> Option<f64> {
    let hole = match &joint.anchor {
        Anchor::Insert(insert) | Anchor::Outside(insert) => insert.hole / 2.0,
        Anchor::Thread => return None,
    };
    let (base, housing, carrier) = (&actuator.base, &actuator.housing, &actuator.carrier);
    let radius = joint.radius();
    let between = |inner: f64, outer: f64| f64::min(radius - inner, outer - radius);
    // Sides of a sector boss.
    let beside = |half: f64| radius * libm::sin(half);
    let to_edge = match joint.joint {
        Joint::Machine | Joint::StatorMount => {
            between(base.column_inner_radius, base.column_outer_radius).min(beside(base.column_half_angle))
        }
        Joint::Service => {
            between(base.mouth_bore / 2.0, base.boss_outer_radius).min(beside(base.boss_half_angle))
        }
        Joint::Keeper => between(housing.seat / 2.0, housing.tube_diameter / 2.0),
        Joint::Pillars => between(carrier.bore / 2.0, carrier.plate_diameter / 2.0),
        Joint::ClampRing | Joint::Output => between(carrier.bore / 2.0, carrier.hub_diameter / 2.0),
        Joint::RingInsert => {
            let (outer, half) = housing.lobe_column?;
            between(housing.free_bore / 2.0, outer).min(beside(half))
        }
        Joint::Sun => actuator.adapter.boss_diameter / 2.0,
        Joint::Board => base.standoffs.diameter / 2.0,
        Joint::MotorToMount | Joint::AdapterToRotor => return None,
    };
    Some(to_edge - hole)
}

/// What the rule asks for.
pub fn wall_wanted(joint: &Bolting) -> Option<f64> {
    match &joint.anchor {
        Anchor::Insert(insert) | Anchor::Outside(insert) => Some(insert.boss_wall()),
        Anchor::Thread => None,
    }
}
