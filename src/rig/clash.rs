//! Whether the rig's parts and the actuator's keep out of each other where they stand together.
//!
//! Parts of the rig against every body that stays in the actuator at a test: the lock takes the place of base, motor and board, and
//! what turns with the output is met as it stands (its shape about the axis doesn't matter to lever and pointer, which lie in front of
//! all that is fixed).

use super::parts::RigPart;
use crate::design::{Joint, PartName};
use crate::interference::body::place_all;
use crate::interference::still::lie;
use crate::interference::{Body, Role, Unmet};
use crate::layout::Actuator;
use crate::parts::Part;

/// Shared volumes under this are rounding \[mm3\].
const ROUNDING: f64 = 1e-3;

/// Two bodies that share space.
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    pub rig_part: &'static str,
    pub body: String,
    /// \[mm3\]
    pub volume: f64,
}

/// All clashes of the rig's parts with an actuator's bodies.
///
/// # Errors
/// A section that can't be formed.
pub fn clashes(actuator: &Actuator, bodies: &[Body], parts: &[RigPart]) -> Result<Vec<Clash>, Unmet> {
    let mut found = Vec::new();
    for part in parts {
        let Some(lift) = part.lift else { continue };
        let stack = part.made.part.stack.translated_z(lift);
        let placed = place_all(actuator, &[Part { stack, ..part.made.part.clone() }], &[])?;
        for own in &placed {
            for body in bodies.iter().filter(|body| part.name != "input-lock" || stays(body.role)) {
                let shared = lie(own, body, 0.0)?.map_or(0.0, |lie| lie.volume);
                if shared > ROUNDING {
                    found.push(Clash { rig_part: part.name, body: body.label(), volume: shared });
                }
            }
        }
    }
    Ok(found)
}

/// Whether a body is still there when the lock has taken the place of base and motor.
fn stays(role: Role) -> bool {
    match role {
        Role::Printed(part) => {
            !matches!(part, PartName::VentedBase | PartName::StatorMount | PartName::MagnetCup)
        }
        Role::Screw(joint) | Role::Insert(joint) => !matches!(
            joint,
            Joint::Machine | Joint::StatorMount | Joint::MotorToMount | Joint::Board | Joint::Service
        ),
        Role::Stator | Role::Rotor | Role::Magnet | Role::Board => false,
        _ => true,
    }
}
