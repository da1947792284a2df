//! Efficiency of the planetary stage, sun and carrier as its ends and the ring fixed, from the friction of its teeth.
//!
//! `eta0 = (1 - mu HVs)(1 - mu HVr)` with the carrier held; `k = zr / zs`; forward `(1 + eta0 k) / (1 + k)`, back-driven
//! `(1 + k) / (1 + k / eta0)`: torque balance of a basic train whose loss is the same either way (Mueller, Epicyclic
//! Drive Trains, from memory). A constant [`Drag`] comes on top; it is the user's to give, 0 unless given.
//!
//! Range: small losses (each mesh's is reckoned on the power going in); both meshes as in
//! [`mesh_loss`](super::mesh_loss). Friction at rest is higher than in motion: a hold must not be reckoned with these.
//! Not covered: bearings, grease, seals, churning and misfit, but for the drag. Tooth friction of 0.1 leaves 98 % in an
//! ordinary stage: it can't explain the 60 to 85 % of printed ones.

use thiserror::Error;

use super::mesh_loss::mesh_loss_factor;
use crate::gears::Stage;

/// Torques that oppose the motion whatever the load \[N m\].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Drag {
    /// At the sun: rotor bearings, cogging.
    pub sun: f64,
    /// At the carrier: output bearing, its seals.
    pub output: f64,
}

/// Why there is no efficiency.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NoEfficiency {
    #[error("a mesh's transverse contact ratio is under 1")]
    ContactBroken,
    #[error("tooth friction takes all the power of a mesh: the stage locks itself")]
    SelfLocking,
    #[error("not a stage: basic efficiency {basic}, ring over sun {teeth_ratio}")]
    OutOfRange { basic: f64, teeth_ratio: f64 },
}

/// What the sun does when the output is turned by hand or by its load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BackDriving {
    /// This part of the output's power arrives at the sun.
    Turns { efficiency: f64 },
    /// Friction and drag hold the output.
    Locks,
}

/// Efficiencies by tooth friction alone, each over 0 and at most 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageEfficiency {
    /// eta0: of the two meshes in a row, carrier held.
    pub basic: f64,
    /// Sun in, carrier out.
    pub forward: f64,
    /// Carrier in, sun out.
    pub back: f64,
    /// Sun's turns over the carrier's, `1 + k`.
    ratio: f64,
}

impl StageEfficiency {
    /// Of a stage whose teeth have the friction coefficient `friction`.
    ///
    /// # Errors
    /// Outside the range, and when the stage locks itself.
    pub fn of(stage: &Stage, friction: f64) -> Result<StageEfficiency, NoEfficiency> {
        let factors = [
            mesh_loss_factor(&stage.sun_mesh, [&stage.sun, &stage.planet]),
            mesh_loss_factor(&stage.ring_mesh, [&stage.planet, &stage.ring]),
        ];
        let [Some(at_sun), Some(at_ring)] = factors else { return Err(NoEfficiency::ContactBroken) };
        let [through_sun, through_ring] = [at_sun, at_ring].map(|factor| 1.0 - friction * factor);
        // Each by itself: two negative ones would make a positive product.
        if through_sun <= 0.0 || through_ring <= 0.0 {
            return Err(NoEfficiency::SelfLocking);
        }
        StageEfficiency::from_basic(
            through_sun * through_ring,
            f64::from(stage.ring.teeth) / f64::from(stage.sun.teeth),
        )
    }

    /// From eta0 and `teeth_ratio`, the fixed gear's teeth over the driving gear's: ring over sun here, sun over ring for
    /// a driving ring about a fixed sun.
    ///
    /// # Errors
    /// `basic` of 0 and below locks; over 1, or a ratio that isn't positive, is no stage.
    pub fn from_basic(basic: f64, teeth_ratio: f64) -> Result<StageEfficiency, NoEfficiency> {
        if basic <= 0.0 {
            return Err(NoEfficiency::SelfLocking);
        }
        let ratio = 1.0 + teeth_ratio;
        let back = ratio / (1.0 + teeth_ratio / basic);
        // Also what isn't a number.
        if !(basic <= 1.0 && teeth_ratio > 0.0 && back > 0.0) {
            return Err(NoEfficiency::OutOfRange { basic, teeth_ratio });
        }
        Ok(StageEfficiency { basic, forward: (1.0 + basic * teeth_ratio) / ratio, back, ratio })
    }

    /// Efficiency forward when `torque` \[N m\] leaves at the output.
    pub fn forward_with(&self, torque: f64, drag: Drag) -> f64 {
        let at_sun = (torque + drag.output) / (self.ratio * self.forward) + drag.sun;
        torque / (self.ratio * at_sun)
    }

    /// What happens when `torque` \[N m\] turns the output.
    pub fn back_with(&self, torque: f64, drag: Drag) -> BackDriving {
        let at_sun = (torque - drag.output) * self.back / self.ratio - drag.sun;
        if at_sun > 0.0 {
            BackDriving::Turns { efficiency: at_sun * self.ratio / torque }
        } else {
            BackDriving::Locks
        }
    }

    /// Torque at the output \[N m\] that just turns the unloaded sun: `drag_out + drag_sun i / eta_back`.
    pub fn backdrive_torque(&self, drag: Drag) -> f64 {
        drag.output + drag.sun * self.ratio / self.back
    }
}
