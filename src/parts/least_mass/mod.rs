//! Print mass that no drawing undercuts, from the layout's sizes alone: what a search needs before it draws a part.
//!
//! Each part is taken as slabs of zones whose rays run inside it ([`section`]), less the whole of every hole. Of flares, of
//! the sides of columns and of the perimeters around holes as much is counted as is sure; the rest only adds. How near this
//! comes is a test's (`tests/least_mass.rs`), which draws designs by lot.

mod base; // and the stator mount in it
mod housing; // and the keeper in it
mod section; // plastic of a section known along its rays
mod teeth; // area of teeth
mod turning; // carrier, clamp ring, back plate, adapter, planets

use crate::design::{Design, PartName, RingKind};
use crate::gears::Stage;
use crate::layout::{Actuator, Core, Enclosed};

use section::{Print, Slab, Zone};

/// Plastic between ring root and service holes, less some rounding: the layout keeps 1.6.
const RING_SHELL: f64 = 1.5;

/// Planets, and what of the ring lies within its service screws: whatever the motor and the output bearing.
pub fn of_gearset(design: &Design, stage: &Stage, core: &Core) -> f64 {
    turning::planets(design, stage, core.seat()) + shell(design, stage)
}

fn shell(design: &Design, stage: &Stage) -> f64 {
    if design.gearset.ring_made != RingKind::Cut {
        return 0.0;
    }
    let Some(print) = Print::of(design, PartName::RingHousing) else { return 0.0 };
    let face = design.gearset.face_width;
    let root = stage.ring.root_diameter + 2.0 * design.printer.tooth_growth.max(0.0);
    // Beyond it the part goes on: no perimeters there.
    let outside = 2.0 * (RING_SHELL + print.inset);
    let slab = Slab { height: face, zones: &[Zone::ring(root, root + outside)], ..Slab::default() };
    let beyond = section::disc(root + outside) - section::disc(root + 2.0 * RING_SHELL);
    print.mass(slab.plastic(&print) - beyond * face + teeth::plastic(design, &stage.ring, face))
}

/// Of the fixed parts, and of the planets, before the output side is laid out: all of [`by_part`] but [`of_turning`].
pub fn of_enclosed(enclosed: &Enclosed, core: &Core) -> f64 {
    let parts = [base::base, base::mount, housing::housing, housing::keeper];
    parts.iter().map(|part| part(enclosed)).sum::<f64>()
        + turning::planets(enclosed.design, enclosed.stage, core.seat())
}

/// Of what turns, without the planets.
pub fn of_turning(actuator: &Actuator) -> f64 {
    let parts = [
        turning::carrier,
        turning::clamp_ring,
        turning::back_plate,
        turning::adapter,
        turning::cup,
        turning::washers,
        turning::sleeves,
    ];
    let spacers: f64 = turning::spacers(actuator).iter().sum();
    parts.iter().map(|part| part(actuator)).sum::<f64>() + spacers
}

/// What is bounded; those first whose drawing says most for its time.
pub const NAMES: [PartName; 14] = [
    PartName::OutputCarrier,
    PartName::OutputClampRing,
    PartName::CarrierBackPlate,
    PartName::VentedBase,
    PartName::RingHousing,
    PartName::StatorMount,
    PartName::Planet,
    PartName::RotorAdapter,
    PartName::BearingKeeper,
    PartName::MagnetCup,
    PartName::PlanetWasher,
    PartName::PlanetSleeve,
    PartName::InnerSpacer,
    PartName::OuterSpacer,
];

/// Of the printed parts in [`NAMES`] \[kg\], all of a kind together; of others nothing is known.
pub fn by_part(actuator: &Actuator) -> [(PartName, f64); 14] {
    let enclosed = Enclosed::of(actuator);
    let [inner_spacer, outer_spacer] = turning::spacers(actuator);
    NAMES.map(|name| {
        let mass = match name {
            PartName::OutputCarrier => turning::carrier(actuator),
            PartName::OutputClampRing => turning::clamp_ring(actuator),
            PartName::CarrierBackPlate => turning::back_plate(actuator),
            PartName::VentedBase => base::base(&enclosed),
            PartName::RingHousing => housing::housing(&enclosed),
            PartName::StatorMount => base::mount(&enclosed),
            PartName::Planet => turning::planets(&actuator.design, &actuator.stage, actuator.planet.seat),
            PartName::RotorAdapter => turning::adapter(actuator),
            PartName::BearingKeeper => housing::keeper(&enclosed),
            PartName::MagnetCup => turning::cup(actuator),
            PartName::PlanetWasher => turning::washers(actuator),
            PartName::PlanetSleeve => turning::sleeves(actuator),
            PartName::InnerSpacer => inner_spacer,
            PartName::OuterSpacer => outer_spacer,
            _ => 0.0,
        };
        (name, mass)
    })
}
