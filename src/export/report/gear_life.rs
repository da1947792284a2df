//! `gears.at_work`, `gears.play`, `gears.stiffness`: loads, heat, strength, wear and feel of the stage.

use serde_json::{Value, json};

use super::round;
use crate::assessment::gear_ratings::printed_part;
use crate::assessment::stage_feel::Departures;
use crate::gears::{Member, MeshPlay};
use crate::product::Product;
use crate::ratings::plastic_gear::IDLER_SHARE;
use crate::ratings::plastic_gear::{Band, Cases, FROM_MEMORY, GearRating, NotApplicable, PlasticMesh};

fn band(band: Band) -> Value {
    json!({ "value": round(band.value), "low": round(band.low), "high": round(band.high) })
}

fn cases<T>(cases: Cases<T>, cell: impl Fn(T) -> Value) -> Value {
    json!({
        "continuous": cell(cases.continuous),
        "peak": cell(cases.peak),
        "impact": cell(cases.impact),
    })
}

/// The number, or why there is none.
fn or_why<T>(found: Result<T, NotApplicable>, cell: impl Fn(T) -> Value) -> Value {
    match found {
        Ok(value) => cell(value),
        Err(why) => json!({ "not_applicable": why.to_string() }),
    }
}

pub(super) fn at_work(made: &Product) -> Value {
    let (work, gears) = (&made.gears.work, &made.gears);
    let rating = |member, mate| gear(gears.rating(member, mate), work.ambient);
    let printed = |member| {
        printed_part(&made.actuator, member).map(|part| &made.actuator.design.settings(part).material.name)
    };
    json!({
        "stands_on": FROM_MEMORY,
        "torque_n_m": cases(work.torque, round),
        "continuous_is": work.continuous_is,
        "impact_is": match work.blow {
            Some(_) => "the output runs into a rigid stop at its top speed of work",
            None => "no blow could be reckoned: the peak stands for it",
        },
        "top_speed_rad_s": round(work.top_speed),
        "mean_speed_rad_s": round(work.mean_speed),
        "air_c": round(work.ambient),
        "swings_in_life": round(work.life_cycles),
        "idler_share_of_fatigue": round(IDLER_SHARE),
        "printed_of": {
            "sun": printed(Member::Sun),
            "planet": printed(Member::Planet),
            "ring": printed(Member::Ring),
        },
        "sun": rating(Member::Sun, Member::Planet),
        "planet_with_sun": rating(Member::Planet, Member::Sun),
        "planet_with_ring": rating(Member::Planet, Member::Ring),
        "ring": rating(Member::Ring, Member::Planet),
        "sun_mesh": mesh(&gears.sun_mesh),
        "ring_mesh": mesh(&gears.ring_mesh),
        "roots_at_peak": roots(made),
        "backlash_growth_per_100000_swings": or_why(gears.growth, |growth| json!({
            "sun_mesh_mm": band(growth.sun_mesh),
            "ring_mesh_mm": band(growth.ring_mesh),
            "output_deg": band(growth.output.scaled(180.0 / std::f64::consts::PI)),
        })),
    })
}

fn gear(rating: &GearRating, ambient: f64) -> Value {
    json!({
        "root_c": or_why(rating.rise, |rise| round(ambient + rise.root)),
        "flank_c": or_why(rating.rise, |rise| round(ambient + rise.flank)),
        "root_stress_mpa": or_why(rating.root_stress, |stress| cases(stress, round)),
        "root_strength_mpa": or_why(rating.root_strength, |strength| cases(strength, band)),
        "flank_strength_mpa": or_why(rating.flank_strength, |strength| cases(strength, band)),
        "wear_in_life_mm": or_why(rating.wear, band),
    })
}

fn mesh(mesh: &PlasticMesh) -> Value {
    json!({
        "loss_factor": or_why(mesh.loss_factor, round),
        "flank_pressure_mpa": or_why(mesh.flank_pressure, |pressure| cases(pressure, round)),
        "deformation_mm": or_why(mesh.deformation, |give| round(give.value)),
        "deformation_limit_mm": or_why(mesh.deformation, |give| round(give.limit)),
    })
}

/// Nominal root stresses of all gears, metal ones too: ISO 6336-3 with its factors, Lewis beside it.
fn roots(made: &Product) -> Value {
    let force = made.gears.forces.tangential;
    let roots = &made.gears.roots;
    let rows = [roots.sun, roots.planet_at_sun, roots.planet_at_ring, roots.ring].map(|root| {
        let factors = match root.factors {
            Err(why) => return json!({ "gear": root.member.to_string(), "not_applicable": why.to_string() }),
            Ok(factors) => factors,
        };
        json!({
            "gear": root.member.to_string(),
            "with": root.mate.to_string(),
            "form_factor": round(factors.form),
            "stress_correction": round(factors.stress_correction),
            "helix_factor": round(factors.helix),
            "stress_mpa": root.stress(force).map_or(Value::Null, round),
            "lewis_mpa": root.lewis_stress(force).map_or(Value::Null, round),
        })
    });
    json!(rows)
}

pub(super) fn play(made: &Product) -> Value {
    let Some(play) = &made.feel.play else { return Value::Null };
    let departures = Departures::default();
    let mesh = |play: &MeshPlay| {
        json!({
            "nominal_mm": round(play.nominal),
            "least_mm": round(play.least),
            "most_mm": round(play.most),
            "root_sum_square_mm": play.statistical.map(round),
            "largest_contributor": play.largest.name(),
            "its_spread_mm": round(play.largest_spread),
        })
    };
    json!({
        "sun_mesh": mesh(&play.sun_mesh),
        "ring_mesh": mesh(&play.ring_mesh),
        "output_deg": play.output.map(|angle| round(angle.to_degrees())),
        "backlash_that_never_binds_mm": play.backlash_wanted.map(round),
        "departures": {
            "are": "common practice, no source; registers, pin and insert fits as the design has them",
            "flank_mm": departures.fat.map(round),
            "print_scale": round(departures.print_scale),
            "thickness_mm": round(departures.thickness),
            "runout_mm": round(departures.runout),
            "pin_place_mm": round(departures.pin_place),
            "bearing_clearance_mm": round(departures.bearing_clearance),
            "gears_warmer_k": departures.gears_warmer.map(round),
            "housing_warmer_k": departures.housing_warmer.map(round),
        },
    })
}

pub(super) fn stiffness(made: &Product) -> Value {
    let Some(stiffness) = &made.feel.stiffness else { return Value::Null };
    let (weakest, share) = stiffness.weakest();
    let shares = stiffness.shares.iter().map(|share| {
        json!({
            "part": share.part.name(),
            "compliance_rad_per_n_m": share.compliance,
        })
    });
    json!({
        "output_n_m_per_rad": round(stiffness.output()),
        "band_n_m_per_rad": stiffness.band().map(round),
        "weakest": weakest.name(),
        "its_share": round(share),
        "shares": shares.collect::<Vec<_>>(),
        "covers": "sun held, output bearing, clamp ring and housing left out; ISO 6336-1 scaled to plastics (outside the \
            standard), hole beds estimated",
    })
}
