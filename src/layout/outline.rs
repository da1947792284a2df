//! How wide and how high: the first part of the way, which a search goes for every candidate.
//!
//! ```text
//! Core (gears, printer, planet bearing) --> SunDrive (and motor) --> Outline (and output bearing) --> everything else
//! ```

use crate::design::{Design, Joint};
use crate::gears::Stage;
use crate::tables::{ScrewStandard, Thread};

use super::actuator::{Keeper, MagnetCup, Planet, Stations, Torques};
use super::base::{self, Bay, Girth};
use super::carrier::{self, CrownedHub, Plate};
use super::fault::{Fault, Faults};
use super::hardware::{self, Bolting};
use super::housing::{self, RingBores};
use super::planet::{self, Pillars};
use super::stack;
use super::sun::{self, SunDrive};

/// Planets with their pins and the pillars between them: whatever the motor and the output bearing.
#[derive(Clone)]
pub struct Core {
    pub(super) pillars: Pillars,
    pub(super) planet: Planet,
}

impl Core {
    pub(super) fn lay(design: &Design, stage: &Stage, faults: &mut Faults) -> Option<Core> {
        let pillars = planet::pillars(design, stage, faults)?;
        let planet = planet::planet(design, stage, pillars.plate_thickness, faults)?;
        Some(Core { pillars, planet })
    }

    /// # Errors
    /// All conditions that don't hold.
    pub fn of(design: &Design, stage: &Stage) -> Result<Core, Vec<Fault>> {
        whole(|faults| Core::lay(design, stage, faults))
    }

    pub fn planet(&self) -> &Planet {
        &self.planet
    }

    /// Bore of the planets.
    pub fn seat(&self) -> f64 {
        self.planet.seat
    }

    /// Mass of what turns on the pins, which is bought, and of the pins \[kg\].
    pub fn bought_mass(&self, stage: &Stage) -> f64 {
        let planets = f64::from(stage.planets);
        let bearings = match &self.planet.turns_on {
            super::PlanetSeat::Bearings { bearing, .. } => 2.0 * bearing.mass,
            super::PlanetSeat::Bush(_) => 0.0,
        };
        planets * (bearings + self.planet.pin_mass())
    }
}

/// Sun and rotor adapter on this motor.
///
/// # Errors
/// All conditions that don't hold.
pub fn sun_drive(design: &Design, stage: &Stage, core: &Core) -> Result<SunDrive, Vec<Fault>> {
    let torques = super::torques(design, stage);
    whole(|faults| sun::sun_drive(design, stage, &torques, core.pillars.plate_thickness, faults))
}

pub(super) fn whole<T>(lay: impl FnOnce(&mut Faults) -> Option<T>) -> Result<T, Vec<Fault>> {
    let mut faults = Faults::default();
    match lay(&mut faults) {
        Some(laid) if faults.0.is_empty() => Ok(laid),
        _ => Err(faults.0),
    }
}

/// All that sets width and height.
#[derive(Clone)]
pub struct Outline {
    pub(super) bores: RingBores,
    pub(super) plate: Plate,
    pub(super) step_diameter: f64,
    pub(super) lip_bore: f64,
    pub(super) mouth_bore: f64,
    pub(super) keeper: Keeper,
    pub(super) keeper_screws: Bolting,
    pub(super) service: Bolting,
    pub(super) side_count: u32,
    pub(super) side_angle: f64,
    pub(super) bay: Bay,
    pub(super) cup: MagnetCup,
    pub(super) stations: Stations,
    pub(super) girth: Girth,
}

impl Outline {
    pub(super) fn lay(
        design: &Design,
        stage: &Stage,
        core: &Core,
        drive: Option<&SunDrive>,
        torques: &Torques,
        faults: &mut Faults,
    ) -> Option<Outline> {
        let Core { pillars, planet } = core;
        let bearing = &design.bearings.output;
        let bores = housing::ring_bores(design, stage);
        let (lip_bore, step_diameter) = (super::outer_abutment(bearing), super::inner_abutment(bearing));
        let plate = carrier::plate(design, stage, pillars, planet, [step_diameter, lip_bore], faults);

        // Housing: the keeper's screw count follows the service joint's, which follows the keeper's thickness alone.
        let mouth_bore = mouth_bore(design, &bores);
        let usual_keeper = housing::keeper(design, &bores, lip_bore, 6, faults);
        let (drive, (usual_keeper, _)) = (drive?, usual_keeper?);
        let rise = stack::Rise::of(design, plate.thickness, plate.nests, &usual_keeper);
        let service_inputs = housing::ServiceInputs { mouth_bore, inner: bores.inner, grip: rise.lip_front };
        let service = housing::service_joint(design, &service_inputs, torques, faults)?;
        let (keeper, keeper_screws) = housing::keeper(design, &bores, lip_bore, service.count, faults)?;
        let side_count = if service.count == 4 { 4 } else { service.count / 2 };
        let side_angle = housing::midway(&service);

        // Heights.
        let bay = base::bay(design, side_count, side_angle, faults)?;
        let cup = base::magnet_cup(design, bay.magnet_back, stack::shaft_end(design, &bay), faults);
        let column = stack::Column {
            bay: &bay,
            drive,
            back_plate_thickness: pillars.plate_thickness,
            rise: &rise,
            keeper: &keeper,
            cup: &cup,
            service_head: service.head_height,
        };
        let stations = stack::stations(design, &column);
        let girth = base::girth(&bay, &service, mouth_bore);
        require_room_in_base(design, &plate, &stations, faults);
        Some(Outline {
            bores,
            plate,
            step_diameter,
            lip_bore,
            mouth_bore,
            keeper,
            keeper_screws,
            service,
            side_count,
            side_angle,
            bay,
            cup,
            stations,
            girth,
        })
    }

    /// # Errors
    /// The conditions that don't hold as far as here.
    pub fn of(design: &Design, stage: &Stage, core: &Core, drive: &SunDrive) -> Result<Outline, Vec<Fault>> {
        let torques = super::torques(design, stage);
        whole(|faults| Outline::lay(design, stage, core, Some(drive), &torques, faults))
    }

    /// As [`Actuator::outer_diameter`](super::Actuator::outer_diameter).
    pub fn diameter(&self) -> f64 {
        let tube = housing::tube_diameter(&self.bores, &self.keeper_screws);
        let rim = f64::max(self.girth.mouth_outer, tube);
        2.0 * f64::max(self.girth.column_outer_radius, self.girth.boss_outer_radius).max(rim / 2.0)
    }

    /// Bearing face to output face.
    pub fn clamp_thickness(&self) -> f64 {
        self.stations.output_face - self.stations.bearing_front
    }

    /// What will be on the hub.
    ///
    /// # Errors
    /// All conditions that don't hold: where bolts and clamp screws find no room.
    pub fn crowned_hub(&self, design: &Design, stage: &Stage) -> Result<CrownedHub, Vec<Fault>> {
        let torques = super::torques(design, stage);
        whole(|faults| CrownedHub::of(design, stage, self.clamp_thickness(), &torques, faults))
    }

    /// Mounting face to output face.
    pub fn height(&self) -> f64 {
        self.stations.output_face
    }
}

/// The carrier's back plate turns behind the service plane, where the base is as narrow as its motor lets it be.
fn require_room_in_base(design: &Design, plate: &Plate, stations: &Stations, faults: &mut Faults) {
    /// Rounding must not decide.
    const ROUNDING: f64 = 1e-5;
    let (bore, running) = (base::bore(design), design.printer.running_radial);
    let widest = bore - 2.0 * running;
    // Its chamfer alone may reach below the mouth.
    let reaches_in =
        stations.back_plate_back + design.printer.bed_chamfer < stations.service - base::MOUTH_DEPTH;
    faults.require(!reaches_in || plate.diameter <= widest + ROUNDING, "plate-in-base", || {
        format!(
            "The carrier's back plate touches the base: plate {:.1}, base bore {bore:.1} leaves {widest:.1}. A larger motor, \
             a smaller output bearing, or fewer ring teeth.",
            plate.diameter
        )
    });
}

fn mouth_bore(design: &Design, bores: &RingBores) -> f64 {
    f64::max(base::bore(design), bores.behind + 2.0 * housing::SPIGOT_WALL + design.printer.register)
}

/// Bore that output bearing and keeper pass.
pub fn free_bore(design: &Design, stage: &Stage) -> f64 {
    housing::ring_bores(design, stage).free - housing::PASS
}

/// What no output bearing undercuts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeastEnvelope {
    pub diameter: f64,
    /// Without the bearings.
    pub height: f64,
    /// Where the housing opens; exact.
    pub service: f64,
}

/// The layout's chains with the least keeper, the nested plate and the thinnest service screws. None where the bay can't be
/// laid out.
pub fn least_envelope(
    design: &Design,
    stage: &Stage,
    core: &Core,
    drive: &SunDrive,
) -> Option<LeastEnvelope> {
    let bores = housing::ring_bores(design, stage);
    let mouth_bore = mouth_bore(design, &bores);
    // Count and angle only place the screws.
    let bay = base::bay(design, 3, 0.0, &mut Faults::default())?;
    let thread = hardware::forced(design, Joint::Service).thread.unwrap_or(Thread::M3);
    let (_, head_height) = hardware::head(ScrewStandard::Cap, thread);
    let service_circle = housing::service_circle(design, mouth_bore, bores.inner, thread);
    let girth = base::least_girth(&bay, mouth_bore, service_circle, thread);
    let column = stack::LeastColumn {
        mount_back: bay.mount_back,
        disc_thickness: drive.adapter.disc_thickness,
        back_plate_thickness: core.pillars.plate_thickness,
        plate_thickness: planet::plate_thickness(design, &core.pillars, &core.planet),
        service_head: head_height,
    };
    let (service, height) = stack::least_height(design, &column);
    Some(LeastEnvelope { diameter: f64::max(girth, bores.tube), height, service })
}
