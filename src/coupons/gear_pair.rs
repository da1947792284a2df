//! A small gear and its mates, each mate's flanks thinned by more, and a plate that holds two pins at their distance.
//!
//! The gears have the design's module, helix and rack, few teeth, and no backlash as drawn: whatever a flank grows in
//! printing is what keeps them from turning. The mate carries both gears' correction, so that the pair with mate n is
//! the pair that a growth of its step lets turn: the tightest that runs freely names the growth itself.

use crate::design::ToothForm;
use crate::gears::{Gear, GearKind, GearSpec, MeshKind, Pair, ToothSystem};
use crate::geometry::{Body, Point, Region};
use crate::layout::{Actuator, stage_input};
use crate::parts::PartFault;
use crate::parts::teeth::{End, Teeth};

use super::coupon::Piece;
use super::marks::Digit;
use super::ring_ladder::{engrave, foot_chamfer};

/// Face width: thin, and enough for the flanks to guide each other.
const FACE: f64 = 4.0;
/// Fewest teeth: without undercut or shift at 20 degrees.
const LEAST_TEETH: u32 = 17;
/// Most that a bore is widened at the bed, on the radius.
const FOOT: f64 = 0.4;
/// Thickness of the plate, and wall around its pins.
const PLATE: f64 = 4.0;
const PLATE_WALL: f64 = 3.0;

/// The pair's gears as drawn.
#[derive(Clone, Copy, Debug)]
pub struct GearPair {
    pub gear: Gear,
    pub mate: Gear,
    pub centre_distance: f64,
    /// Of the bores, as printed.
    bore: f64,
}

impl GearPair {
    /// None if no mesh can be had with the design's rack.
    pub fn of(actuator: &Actuator) -> Option<GearPair> {
        let input = stage_input(&actuator.design);
        let system = ToothSystem::new(input.rack, input.normal_module, input.helix_angle);
        let bore = actuator.planet.pin_diameter + actuator.design.printer.pin_slip;
        let teeth = teeth_for(&system, bore, Digit::of(actuator.design.printer.line_width));
        let shift = f64::max(0.0, system.least_shift(teeth));
        let pair = Pair { system: &system, kind: MeshKind::External, teeth: [teeth, teeth] };
        let centre_distance = pair.centre_distance(2.0 * shift)?;
        // Tips keep the rack's clearance where shifts don't add up to the centre distance (ISO 21771, 4.4).
        let tip_alteration =
            (centre_distance - pair.reference_centre_distance()) / input.normal_module - 2.0 * shift;
        let gear = |left_hand| {
            Gear::new(
                &system,
                GearSpec {
                    kind: GearKind::External,
                    teeth,
                    shift,
                    tip_alteration: f64::min(0.0, tip_alteration),
                    thickness_allowance: 0.0,
                    left_hand,
                    working_pitch_diameter: centre_distance,
                    ring_fillet_radius: 0.0,
                },
            )
        };
        Some(GearPair { gear: gear(false), mate: gear(true), centre_distance, bore })
    }

    /// Play of the drawn pair along the transverse line of action when `growth` is taken off every flank: of both gears, twice each.
    pub fn play_along_line_of_action(growth: f64) -> f64 {
        4.0 * growth
    }

    /// The gear all mates run with: corrected as the profile stands. Its number is 0.
    pub fn base_piece(&self, actuator: &Actuator) -> Result<Piece, PartFault> {
        self.piece(actuator, self.gear, actuator.design.printer.tooth_growth, 0)
    }

    /// The mate that makes the pair one in which every flank is corrected by `growth`.
    pub fn mate_piece(&self, actuator: &Actuator, growth: f64, number: u32) -> Result<Piece, PartFault> {
        let present = actuator.design.printer.tooth_growth;
        self.piece(actuator, self.mate, 2.0 * growth - present, number)
    }

    fn piece(&self, actuator: &Actuator, gear: Gear, growth: f64, number: u32) -> Result<Piece, PartFault> {
        // Teeth as the parts have them: chamfers, foot and relief; plain ones, since half a herringbone tells as much.
        let mut actuator = actuator.clone();
        actuator.stage.tooth_form = match actuator.stage.tooth_form {
            ToothForm::Herringbone => ToothForm::Helical,
            other => other,
        };
        actuator.design.printer.tooth_growth = growth;
        // The pair begins on the bed.
        actuator.stations.planet_back = 0.0;
        let printer = &actuator.design.printer;
        let mut body = Body::new();
        // A tooth of one gear meets a space of the other on the line of centres whatever their turn: they are put together by hand.
        Teeth::new(&actuator, "teeth", gear, 0.0).make(&mut body, [0.0, FACE], [End::OnBed, End::Free])?;
        body.cut("bore", [0.0, FACE], Region::disc(Point::ORIGIN, self.bore / 2.0));
        foot_chamfer(&mut body, printer, Point::ORIGIN, self.bore, FOOT);
        let digit = Digit::of(printer.line_width);
        let middle = Point::new(self.bore / 2.0 + digit.stroke + digit.width / 2.0, 0.0);
        engrave(&mut body, printer, number, middle, FACE)?;
        Ok(Piece { name: format!("gear {number}"), marks: vec![number], stack: body.stack()? })
    }

    /// The plate with two press holes at the pair's centre distance.
    pub fn plate(&self, actuator: &Actuator) -> Result<Piece, PartFault> {
        let printer = &actuator.design.printer;
        let hole = actuator.planet.pin_diameter + printer.pin_press;
        let half = hole / 2.0 + PLATE_WALL;
        let (low, high) = (Point::new(-half, -half), Point::new(self.centre_distance + half, half));
        let mut body = Body::new();
        body.add("plate", [0.0, PLATE], Region::rectangle(low, high));
        for x in [0.0, self.centre_distance] {
            let centre = Point::new(x, 0.0);
            body.cut("pin", [0.0, PLATE], Region::disc(centre, hole / 2.0));
            foot_chamfer(&mut body, printer, centre, hole, FOOT);
        }
        Ok(Piece { name: "plate".into(), marks: Vec::new(), stack: body.stack()? })
    }
}

/// Teeth so many that the number fits between bore and roots.
fn teeth_for(system: &ToothSystem, bore: f64, digit: Digit) -> u32 {
    let across = bore / 2.0 + digit.stroke + digit.width;
    let corner = (across * across + 0.25 * digit.height * digit.height).sqrt();
    let root = corner + digit.stroke;
    let dedendum = system.rack.dedendum * system.normal_module;
    let teeth = (2.0 * (root + dedendum) / system.transverse_module).ceil();
    u32::max(LEAST_TEETH, teeth as u32) // some tens: a bore of a few modules
}
