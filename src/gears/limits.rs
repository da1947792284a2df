//! The inputs a stage can be computed from at all.

use std::f64::consts::PI;

use super::assembly::{LEAST_PLANETS, MOST_PLANETS, is_assemblable, nearest_assemblable, other_planet_count};
use super::fault::{Member, StageFault};
use super::rack::Rack;
use super::stage::StageInput;
use crate::design::{Shift, Spacing};

// Outside these counts nobody prints a planetary stage; they also keep a wrong file from asking for a billion teeth.
const LEAST_TEETH: u32 = 5;
const MOST_EXTERNAL_TEETH: u32 = 300;
const MOST_RING_TEETH: u32 = 600;

/// \[mm\]
const MODULES: [f64; 2] = [0.1, 20.0];

/// Normal pressure angles of common racks lie well inside \[rad\].
const PRESSURE_ANGLES: [f64; 2] = [14.0_f64.to_radians(), 30.0_f64.to_radians()];

/// Beyond this helix angle \[rad\] the axial force outgrows the circumferential one.
const MOST_HELIX_ANGLE: f64 = 45.0_f64.to_radians();

/// Practical shifts lie within -0.6 and 1.
pub(super) const SHIFTS: [f64; 2] = [-1.5, 1.5];

/// Of a tip to the mating root, in modules.
const LEAST_CLEARANCE: f64 = 0.05;

/// Least half land of the generating rack's tip in modules: the fillets of one tooth space stay two.
const LEAST_HALF_LAND: f64 = 0.01;

pub(super) fn assembly_fault(input: &StageInput) -> Option<StageFault> {
    let teeth = [input.sun_teeth, input.planet_teeth, input.ring_teeth];
    let equal = input.spacing == Spacing::Equal;
    (equal && count_faults(input).is_empty() && !is_assemblable(teeth, input.planets)).then(|| {
        StageFault::NotAssemblable {
            teeth,
            planets: input.planets,
            nearest: nearest_assemblable(teeth, input.planets, LEAST_TEETH),
            other_planets: other_planet_count(teeth, input.planets),
        }
    })
}

/// Numbers from which no geometry can be computed.
pub(super) fn input_faults(input: &StageInput) -> Vec<StageFault> {
    let mut faults = count_faults(input);
    faults.extend(quantity_faults(input));
    faults.extend(rack_faults(&input.rack));
    faults
}

fn count_faults(input: &StageInput) -> Vec<StageFault> {
    let mut faults = Vec::new();
    // A ring must be wider than the planet and the sun inside it.
    let least_ring = input.planet_teeth.saturating_add(LEAST_TEETH).min(MOST_RING_TEETH);
    for (member, teeth, least, most) in [
        (Member::Sun, input.sun_teeth, LEAST_TEETH, MOST_EXTERNAL_TEETH),
        (Member::Planet, input.planet_teeth, LEAST_TEETH, MOST_EXTERNAL_TEETH),
        (Member::Ring, input.ring_teeth, least_ring, MOST_RING_TEETH),
    ] {
        if !(least..=most).contains(&teeth) {
            faults.push(StageFault::TeethOutOfRange { member, teeth, least, most });
        }
    }
    if !(LEAST_PLANETS..=MOST_PLANETS).contains(&input.planets) {
        faults.push(StageFault::PlanetsOutOfRange {
            planets: input.planets,
            least: LEAST_PLANETS,
            most: MOST_PLANETS,
        });
    }
    faults
}

fn quantity_faults(input: &StageInput) -> Vec<StageFault> {
    let [least_module, most_module] = MODULES;
    // Backlash thins the teeth; beyond 0.3 modules little is left at the tips. A wrong module says nothing about it.
    let sound_module = (least_module..=most_module).contains(&input.normal_module);
    let most_backlash = 0.3 * if sound_module { input.normal_module } else { most_module };
    let mut quantities = vec![
        ("normal module", "mm", input.normal_module, least_module, most_module),
        ("face width", "mm", input.face_width, 0.1, 500.0),
        ("backlash", "mm", input.backlash, 0.0, most_backlash),
    ];
    for (name, shift) in [
        ("sun shift", input.sun_shift),
        ("planet shift", input.planet_shift),
        ("ring shift", input.ring_shift),
    ] {
        if let Shift::Fixed(value) = shift {
            let [least, most] = SHIFTS;
            quantities.push((name, "", value, least, most));
        }
    }
    let mut faults = out_of_range(&quantities);
    let [least_pressure_angle, most_pressure_angle] = PRESSURE_ANGLES;
    for (name, found, least, most) in [
        ("helix angle", input.helix_angle, -MOST_HELIX_ANGLE, MOST_HELIX_ANGLE),
        ("pressure angle", input.rack.pressure_angle, least_pressure_angle, most_pressure_angle),
    ] {
        if !(least..=most).contains(&found) {
            faults.push(StageFault::AngleOutOfRange { name, found, least, most });
        }
    }
    faults
}

fn rack_faults(rack: &Rack) -> Vec<StageFault> {
    let [least_addendum, most_addendum] = [0.5, 1.5];
    // `max` and `min` pass over NaN, which the addendum's own range reports.
    let least_dedendum = rack.addendum.max(least_addendum).min(most_addendum) + LEAST_CLEARANCE;
    let mut faults = out_of_range(&[
        ("rack addendum", "", rack.addendum, least_addendum, most_addendum),
        ("rack dedendum", "", rack.dedendum, least_dedendum, 2.0),
        ("rack fillet", "", rack.fillet, 0.05, 0.6),
    ]);
    let [least_pressure_angle, most_pressure_angle] = PRESSURE_ANGLES;
    if !faults.is_empty() || !(least_pressure_angle..=most_pressure_angle).contains(&rack.pressure_angle) {
        return faults;
    }
    if rack.half_land() < LEAST_HALF_LAND {
        let sine = libm::sin(rack.pressure_angle);
        let cosine = libm::cos(rack.pressure_angle);
        let most = ((PI / 4.0 - LEAST_HALF_LAND) * cosine - rack.dedendum * sine) / (1.0 - sine);
        faults.push(StageFault::FilletTooLarge { fillet: rack.fillet, most: most.max(0.0) });
    }
    // ISO 53 A itself is short of its addendum by 3e-5.
    const SHORT_FLANK: f64 = 1e-3;
    if rack.form_dedendum() < rack.addendum - SHORT_FLANK {
        faults
            .push(StageFault::FilletInFlank { form_dedendum: rack.form_dedendum(), addendum: rack.addendum });
    }
    faults
}

pub(super) fn out_of_range(quantities: &[(&'static str, &'static str, f64, f64, f64)]) -> Vec<StageFault> {
    quantities
        .iter()
        .filter(|(_, _, found, least, most)| !(*least..=*most).contains(found))
        .map(|&(name, unit, found, least, most)| StageFault::QuantityOutOfRange {
            name,
            unit,
            found,
            least,
            most,
        })
        .collect()
}
