//! The inputs a stage can be computed from at all.

use std::f64::consts::PI;

use super::assembly::{LEAST_PLANETS, MOST_PLANETS, is_assemblable, nearest_assemblable, other_planet_count};
use super::fault::{Member, StageFault};
use super::rack::Rack;
use super::stage::StageInput;
use crate::design::Shift;

// Beyond these counts nobody prints a planetary stage; they also keep a wrong file from asking for a billion teeth.
const LEAST_TEETH: u32 = 5;
const MOST_EXTERNAL_TEETH: u32 = 300;
const MOST_RING_TEETH: u32 = 600;

/// Least half land of the generating rack's tip in modules: the fillets of one tooth space stay two.
const LEAST_HALF_LAND: f64 = 0.01;

pub(super) fn assembly_fault(input: &StageInput) -> Option<StageFault> {
    let teeth = [input.sun_teeth, input.planet_teeth, input.ring_teeth];
    let counted = (LEAST_PLANETS..=MOST_PLANETS).contains(&input.planets);
    (counted && !is_assemblable(teeth, input.planets)).then(|| StageFault::NotAssemblable {
        teeth,
        planets: input.planets,
        nearest: nearest_assemblable(teeth, input.planets, LEAST_TEETH),
        other_planets: other_planet_count(teeth, input.planets),
    })
}

/// Numbers from which no geometry can be computed.
pub(super) fn input_faults(input: &StageInput) -> Vec<StageFault> {
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
    faults.extend(quantity_faults(input));
    faults.extend(rack_faults(&input.rack));
    faults
}

fn quantity_faults(input: &StageInput) -> Vec<StageFault> {
    // Backlash thins the teeth; beyond this they would be mostly air.
    let most_backlash = 0.3 * input.normal_module;
    let mut quantities = vec![
        ("normal module", "mm", input.normal_module, 0.1, 20.0),
        ("face width", "mm", input.face_width, 0.1, 500.0),
    ];
    if most_backlash.is_finite() && most_backlash > 0.0 {
        quantities.push(("backlash", "mm", input.backlash, 0.0, most_backlash));
    }
    for (name, shift) in [
        ("sun shift", input.sun_shift),
        ("planet shift", input.planet_shift),
        ("ring shift", input.ring_shift),
    ] {
        if let Shift::Fixed(value) = shift {
            quantities.push((name, "", value, -1.5, 1.5));
        }
    }
    let mut faults = out_of_range(&quantities);
    let most_helix = 45f64.to_radians();
    for (name, found, least, most) in [
        ("helix angle", input.helix_angle, -most_helix, most_helix),
        ("pressure angle", input.rack.pressure_angle, 14f64.to_radians(), 30f64.to_radians()),
    ] {
        if !(least..=most).contains(&found) {
            faults.push(StageFault::AngleOutOfRange { name, found, least, most });
        }
    }
    faults
}

fn rack_faults(rack: &Rack) -> Vec<StageFault> {
    let mut faults = out_of_range(&[
        ("rack addendum", "", rack.addendum, 0.5, 1.5),
        ("rack dedendum", "", rack.dedendum, rack.addendum + 0.05, 2.0),
        ("rack fillet", "", rack.fillet, 0.05, 0.6),
    ]);
    if !faults.is_empty() {
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

fn out_of_range(quantities: &[(&'static str, &'static str, f64, f64, f64)]) -> Vec<StageFault> {
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
