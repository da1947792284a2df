//! The actuator as drawn: the one that is printed without what the printer asks for.
//!
//! The layout's sizes carry the printer's fits (a fit is the whole allowance). Drawings and nominal solids have seats at the
//! size of what sits in them, pin holes at the pin, clearance holes of ISO 273, teeth as calculated, inserts' holes of the
//! table: what the print should come out as. Clearances that belong to the design stay: running gaps, room round heads,
//! the float of planets, backlash.

use crate::design::{Design, Printer};

use super::Actuator;
use super::hardware::{Anchor, Bolting};

impl Actuator {
    /// The same actuator with every fit, growth and shrinkage taken off.
    pub fn nominal(&self) -> Actuator {
        let printer = &self.design.printer;
        let mut nominal = self.clone();
        nominal.design = Design { printer: exact(printer), ..self.design.clone() };

        nominal.housing.seat = self.design.bearings.output.outer;
        nominal.housing.insert_bore = self.housing.insert_bore.map(|bore| bore - printer.ring_insert);
        // The register: the base's bore is what both others are made to.
        nominal.housing.spigot_diameter += printer.register;
        nominal.mount.disc_diameter += printer.register;
        nominal.carrier.hub_diameter = self.design.bearings.output.bore;
        nominal.carrier.pin_hole = self.planet.pin_diameter;
        nominal.back_plate.pin_hole = self.planet.pin_diameter;
        nominal.planet.seat = self.planet.turns_on.outer();
        nominal.cup.shaft_bore = self.design.motor.shaft_diameter;
        for joint in nominal.joints.iter_mut() {
            joint.clearance -= printer.clearance_hole;
        }
        nominal
    }

    /// Diameter at which to print the hole of a joint's insert.
    pub fn insert_hole(&self, joint: &Bolting) -> f64 {
        match joint.anchor {
            Anchor::Insert(_) | Anchor::Outside(_) => self.design.printer.hole(joint.hole_diameter()),
            Anchor::Thread => joint.hole_diameter(),
        }
    }
}

/// A printer that prints what is drawn.
fn exact(printer: &Printer) -> Printer {
    Printer {
        bearing_seat: Vec::new(),
        bearing_post: 0.0,
        ring_insert: 0.0,
        sun_socket: 0.0,
        clearance_hole: 0.0,
        pin_press: 0.0,
        pin_slip: 0.0,
        register: 0.0,
        hole_growth: Vec::new(),
        post_growth: 0.0,
        post_growth_by_size: Vec::new(),
        elephant_foot: 0.0,
        tooth_growth: 0.0,
        shrinkage: 0.0,
        material_shrinkage: Vec::new(),
        ..printer.clone()
    }
}
