//! Printed teeth: the gear's outline turned along its helix, chamfered at both faces, thinned by what the printer adds.
//!
//! A herringbone turns back at the middle of the planets. A chamfer is made of steps a layer high, which is what a
//! printer makes of a slope; on the bed it also takes the elephant foot.

use crate::design::ToothForm;
use crate::gears::{Gear, GearKind, ProfileFault, TipRelief};
use crate::geometry::{Body, Loop};
use crate::layout::Actuator;

/// How far an arc of a tooth's outline may lie from the true curve: half a micrometre, under any printer's step.
pub const PROFILE_TOLERANCE: f64 = 5e-4;
/// First layers of a gear are thinned against the elephant foot: over this height, by at most this much.
pub(super) const FOOT_HEIGHT: f64 = 0.3;
const FOOT_MOST: f64 = 0.15;

/// What an end of the teeth is like.
#[derive(Clone, Copy, PartialEq)]
pub enum End {
    /// Chamfered.
    Free,
    /// Chamfered, and thinned against the elephant foot.
    OnBed,
    /// The outline goes on there, or something holds it.
    Joined,
}

/// Teeth of one gear of the actuator, in the assembly frame (a planet's about its own axis).
pub struct Teeth<'a> {
    actuator: &'a Actuator,
    gear: Gear,
    /// Turn of the outline at z = 0 \[rad\]: at the planets' back it is the one asked for.
    turn: f64,
    name: &'static str,
}

/// Turn at z = 0 of teeth that stand at their phase at the planets' back \[rad\]. Phases are told from there, so that a motor of
/// another height moves the stage without turning its teeth against the rest of their parts.
pub fn turn_at_zero(actuator: &Actuator, gear: &Gear) -> f64 {
    -gear.twist_per_mm() * actuator.stations.planet_back
}

impl<'a> Teeth<'a> {
    /// As they print: with tip relief, and the printer's growth taken off; turned by `turn` at the planets' back.
    pub fn new(actuator: &'a Actuator, name: &'static str, gear: Gear, turn: f64) -> Teeth<'a> {
        let gearset = &actuator.design.gearset;
        let relief = TipRelief { amount: gearset.tip_relief, height: gearset.tip_relief_height };
        let turn = turn + turn_at_zero(actuator, &gear);
        Teeth { actuator, gear: gear.relieved(relief), turn, name }
    }

    /// Adds an external gear to the body, or cuts a ring's tooth spaces out of it, over `z`; `ends`: back, front.
    pub fn make(&self, body: &mut Body, z: [f64; 2], ends: [End; 2]) -> Result<(), ProfileFault> {
        let mut from = z[0];
        for (height, thinned) in self.chamfer(ends[0]) {
            self.slab(body, [from, from + height], thinned)?;
            from += height;
        }
        let mut front: Vec<(f64, f64)> = self.chamfer(ends[1]);
        front.reverse();
        let front_height: f64 = front.iter().map(|(height, _)| height).sum();
        self.slab(body, [from, z[1] - front_height], 0.0)?;
        from = z[1] - front_height;
        for (height, thinned) in front {
            self.slab(body, [from, from + height], thinned)?;
            from += height;
        }
        Ok(())
    }

    /// Steps from the face inwards: height, and how much the tooth is thinned on either flank.
    fn chamfer(&self, end: End) -> Vec<(f64, f64)> {
        let printer = &self.actuator.design.printer;
        let chamfer = self.actuator.design.gearset.face_chamfer;
        let foot = f64::min(printer.elephant_foot, FOOT_MOST);
        match end {
            End::Joined => Vec::new(),
            End::OnBed if f64::max(foot, chamfer) > 0.0 => vec![(FOOT_HEIGHT, f64::max(foot, chamfer))],
            End::Free if chamfer > 0.0 => {
                let steps = (chamfer / printer.layer_height).round().max(1.0);
                // 0.5 mm of chamfer in 0.04 mm layers at most: few steps.
                (0..steps as u32)
                    .map(|step| (printer.layer_height, chamfer * (1.0 - f64::from(step) / steps)))
                    .collect()
            }
            End::OnBed | End::Free => Vec::new(),
        }
    }

    /// Outline at z = 0, the tooth thinned by `thinned` on either flank besides the printer's growth.
    pub fn outline(&self, thinned: f64) -> Result<Loop, ProfileFault> {
        let into_tooth = match self.gear.kind {
            GearKind::External => -1.0,
            GearKind::Internal => 1.0,
        };
        let by = into_tooth * (thinned + self.actuator.design.printer.tooth_growth);
        Ok(self.gear.profile_grown(by, PROFILE_TOLERANCE)?.rotated(self.turn))
    }

    fn slab(&self, body: &mut Body, z: [f64; 2], thinned: f64) -> Result<(), ProfileFault> {
        if z[1] - z[0] < 1e-9 {
            return Ok(());
        }
        let outline = self.outline(thinned)?;
        let twist = self.gear.twist_per_mm();
        let stations = &self.actuator.stations;
        let apex = 0.5 * (stations.planet_back + stations.planet_front);
        if self.actuator.stage.tooth_form != ToothForm::Herringbone || z[1] <= apex {
            self.twisted(body, z, outline, twist);
        } else {
            // Beyond the middle it turns back: at z as it was at 2 apex - z.
            let mirrored = outline.rotated(2.0 * apex * twist);
            if z[0] < apex {
                self.twisted(body, [z[0], apex], outline, twist);
            }
            self.twisted(body, [f64::max(z[0], apex), z[1]], mirrored, -twist);
        }
        Ok(())
    }

    fn twisted(&self, body: &mut Body, z: [f64; 2], outline: Loop, twist: f64) {
        match self.gear.kind {
            GearKind::External => body.add_twisted(self.name, z, outline, twist),
            GearKind::Internal => body.cut_twisted(self.name, z, outline, twist),
        };
    }
}
