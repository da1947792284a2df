//! What encloses motor and gears: base, stator mount, ring housing. The second part of the way, which says how the motor is
//! cooled and most of what is printed.

use crate::design::Design;
use crate::gears::Stage;

use super::actuator::{Actuator, Keeper, RingHousing, RingInsert, Stations, StatorMount, VentedBase};
use super::base;
use super::fault::{Fault, Faults};
use super::hardware::Bolting;
use super::housing;
use super::outline::{Outline, whole};

/// Base, mount and housing with the joints that no other part has.
#[derive(Clone)]
pub struct Shell {
    pub(super) base: VentedBase,
    pub(super) board_screws: Bolting,
    pub(super) mount: StatorMount,
    pub(super) motor_to_mount: Bolting,
    pub(super) housing: RingHousing,
    pub(super) ring_insert: Option<RingInsert>,
    pub(super) lobe_screws: Option<Bolting>,
}

impl Shell {
    pub(super) fn lay(
        design: &Design,
        stage: &Stage,
        outline: &Outline,
        faults: &mut Faults,
    ) -> Option<Shell> {
        let stations = &outline.stations;
        let ring_height = stations.ring_front - stations.service;
        let (ring_insert, lobe_screws) =
            housing::ring_insert(design, stage, ring_height, outline.side_count, outline.side_angle, faults)
                .unzip();
        let seat_back = stations.bearing_back + housing::seat_shy(design);
        housing::floors(stations, seat_back, &outline.keeper_screws, lobe_screws.as_ref(), faults);
        let motor_to_mount = base::motor_screws(design, outline.cup.outer, faults)?;
        let enclosure = base::Enclosure {
            bay: &outline.bay,
            service: &outline.service,
            mouth_bore: outline.mouth_bore,
            service_plane: stations.service,
            mount_front: stations.mount_front,
            girth: &outline.girth,
        };
        let (base, board_screws) = base::vented_base(design, &enclosure, faults);
        let mount =
            base::stator_mount(design, &base, &outline.cup, &motor_to_mount, &outline.bay.stator_mount);
        let inputs = housing::HousingInputs {
            bores: &outline.bores,
            lip_bore: outline.lip_bore,
            mouth_bore: outline.mouth_bore,
            bearing_back: stations.bearing_back,
            keeper: &outline.keeper_screws,
            base: &base,
            insert: ring_insert.as_ref(),
        };
        let housing = housing::ring_housing(design, &inputs);
        Some(Shell { base, board_screws, mount, motor_to_mount, housing, ring_insert, lobe_screws })
    }

    /// # Errors
    /// The conditions that don't hold as far as here.
    pub fn of(design: &Design, stage: &Stage, outline: &Outline) -> Result<Shell, Vec<Fault>> {
        whole(|faults| Shell::lay(design, stage, outline, faults))
    }

    /// With all it stands on.
    pub fn enclosed<'a>(
        &'a self,
        design: &'a Design,
        stage: &'a Stage,
        outline: &'a Outline,
    ) -> Enclosed<'a> {
        Enclosed {
            design,
            stage,
            stations: &outline.stations,
            base: &self.base,
            mount: &self.mount,
            housing: &self.housing,
            keeper: &outline.keeper,
            ring_insert: self.ring_insert.as_ref(),
            machine: &outline.bay.machine,
            stator_mount: &outline.bay.stator_mount,
            service: &outline.service,
            motor_to_mount: &self.motor_to_mount,
            keeper_screws: &outline.keeper_screws,
            lobe_screws: self.lobe_screws.as_ref(),
            board_screws: &self.board_screws,
        }
    }
}

/// The fixed parts of an actuator that is laid out, or begun.
#[derive(Clone, Copy)]
pub struct Enclosed<'a> {
    pub design: &'a Design,
    pub stage: &'a Stage,
    pub stations: &'a Stations,
    pub base: &'a VentedBase,
    pub mount: &'a StatorMount,
    pub housing: &'a RingHousing,
    pub keeper: &'a Keeper,
    pub ring_insert: Option<&'a RingInsert>,
    pub machine: &'a Bolting,
    pub stator_mount: &'a Bolting,
    pub service: &'a Bolting,
    pub motor_to_mount: &'a Bolting,
    pub keeper_screws: &'a Bolting,
    pub lobe_screws: Option<&'a Bolting>,
    pub board_screws: &'a Bolting,
}

impl<'a> Enclosed<'a> {
    pub fn of(actuator: &'a Actuator) -> Enclosed<'a> {
        let joints = &actuator.joints;
        Enclosed {
            design: &actuator.design,
            stage: &actuator.stage,
            stations: &actuator.stations,
            base: &actuator.base,
            mount: &actuator.mount,
            housing: &actuator.housing,
            keeper: &actuator.keeper,
            ring_insert: actuator.ring_insert.as_ref(),
            machine: &joints.machine,
            stator_mount: &joints.stator_mount,
            service: &joints.service,
            motor_to_mount: &joints.motor_to_mount,
            keeper_screws: &joints.keeper,
            lobe_screws: joints.ring_insert.as_ref(),
            board_screws: &joints.board,
        }
    }

    /// The joints that hold these parts.
    pub fn joints(&self) -> impl Iterator<Item = &'a Bolting> {
        [
            self.machine,
            self.stator_mount,
            self.service,
            self.motor_to_mount,
            self.keeper_screws,
            self.board_screws,
        ]
        .into_iter()
        .chain(self.lobe_screws)
    }
}
