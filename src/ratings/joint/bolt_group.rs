//! Loads shared among the screws of one joint.
//!
//! Rigid parts: a torque is shared by distance from the centre, `F_i = T r_i / sum r^2`; an overturning moment about the edge over
//! which the joint tilts, `F_i = M l_i A_i / sum A l^2` (from memory; areas count where screws differ). Forces N, moments N mm.

/// Force on the screw at radius `of` from a torque about the centre of all `radii`.
pub fn by_torque(torque: f64, radii: &[f64], of: f64) -> f64 {
    torque * of / radii.iter().map(|radius| radius * radius).sum::<f64>()
}

/// Direct and turning share as vectors; `angle` between them.
pub fn together(direct: f64, turning: f64, angle: f64) -> f64 {
    let across = turning * libm::sin(angle);
    libm::hypot(direct + turning * libm::cos(angle), across)
}

/// A screw of a tilting joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tilted {
    /// From the edge about which the joint tilts.
    pub lever: f64,
    /// Stress area; 1 where all are alike.
    pub area: f64,
}

impl Tilted {
    /// Its part of `sum A l^2`.
    pub fn resistance(&self) -> f64 {
        self.area * self.lever * self.lever
    }
}

/// Force on one screw of a tilting joint whose screws together have this resistance.
pub fn by_overturning(moment: f64, resistance: f64, of: Tilted) -> f64 {
    moment * of.lever * of.area / resistance
}

/// Torque that friction holds: `n F mu r`.
pub fn friction_torque(count: u32, clamp: f64, friction: f64, radius: f64) -> f64 {
    f64::from(count) * clamp * friction * radius
}
