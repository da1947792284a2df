//! Worked examples and tables from outside, as data: every `tests/published/gears-*.toml`, one loop.

use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::fs;
use std::path::Path;

use hubwright::design::Shift;
use hubwright::gears::{
    Gear, GearKind, GearSpec, InternalInterferences, MeshKind, Pair, Rack, Span, Stage, StageInput,
    ToothSystem, Trochoid, chord, circumferential_play, contact_ratio_of_tips, involute, over_pins,
};
use serde::Deserialize;

use crate::stages::{input, solved};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    case: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    id: String,
    source: String,
    seen: String,
    compute: String,
    given: Given,
    /// Value and tolerance.
    expected: BTreeMap<String, (f64, f64)>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Given {
    kind: Option<String>,
    system: Option<String>,
    module: Option<f64>,
    pressure_angle_deg: Option<f64>,
    transverse_pressure_angle_deg: Option<f64>,
    helix_angle_deg: Option<f64>,
    angle_deg: Option<f64>,
    teeth: Option<Teeth>,
    planets: Option<u32>,
    shift: Option<f64>,
    shifts: Option<[f64; 2]>,
    tip_heights: Option<[f64; 2]>,
    pinion_addendum: Option<f64>,
    centre_distance: Option<f64>,
    face_width: Option<f64>,
    backlash: Option<f64>,
    thinning: Option<f64>,
    over: Option<u32>,
    pin: Option<f64>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Teeth {
    One(u32),
    Several(Vec<u32>),
}

type Values = BTreeMap<String, f64>;

impl Given {
    fn teeth(&self) -> Vec<u32> {
        match self.teeth.as_ref().expect("teeth") {
            Teeth::One(teeth) => vec![*teeth],
            Teeth::Several(teeth) => teeth.clone(),
        }
    }

    fn pair_teeth(&self) -> [u32; 2] {
        self.teeth().try_into().expect("two tooth counts")
    }

    fn mesh_kind(&self) -> MeshKind {
        match self.kind.as_deref() {
            Some("external") => MeshKind::External,
            Some("internal") => MeshKind::Internal,
            other => panic!("kind {other:?}"),
        }
    }

    /// Factor from coefficients of the given system to those of the normal module.
    fn to_normal(&self) -> f64 {
        match self.system.as_deref() {
            Some("transverse") => 1.0 / self.helix_angle_deg.expect("helix").to_radians().cos(),
            None => 1.0,
            other => panic!("system {other:?}"),
        }
    }

    fn tooth_system(&self) -> ToothSystem {
        let helix = self.helix_angle_deg.unwrap_or(0.0).to_radians();
        let pressure = self.pressure_angle_deg.expect("pressure angle").to_radians();
        let to_normal = self.to_normal();
        let rack = Rack {
            pressure_angle: (pressure.tan() / to_normal).atan(),
            addendum: to_normal,
            dedendum: 1.25 * to_normal,
            ..Rack::ISO_53_A
        };
        ToothSystem::new(rack, self.module.unwrap_or(1.0) / to_normal, helix)
    }
}

fn gear(system: &ToothSystem, kind: GearKind, teeth: u32, shift: f64, tip_alteration: f64) -> Gear {
    Gear::new(
        system,
        GearSpec {
            kind,
            teeth,
            shift,
            tip_alteration,
            thickness_allowance: 0.0,
            left_hand: false,
            working_pitch_diameter: system.reference_diameter(teeth),
            ring_fillet_radius: 0.1 * system.normal_module,
        },
    )
}

fn second_kind(kind: MeshKind) -> GearKind {
    match kind {
        MeshKind::External => GearKind::External,
        MeshKind::Internal => GearKind::Internal,
    }
}

fn values(pairs: &[(&str, f64)]) -> Values {
    pairs.iter().map(|(name, value)| ((*name).to_string(), *value)).collect()
}

fn compute(name: &str, given: &Given) -> Values {
    match name {
        "pair" => pair(given),
        "involute" => values(&[("involute", involute(given.angle_deg.expect("angle").to_radians()))]),
        "shifts-for-centre-distance" => shifts_for_centre_distance(given),
        "undercut" => undercut(given),
        "smallest-ring-free-of-trimming" => smallest_ring(given),
        "least-difference-free-of-trochoid" => least_difference(given),
        "least-planet-free-of-involute" => least_planet(given),
        "chord" => chordal(given),
        "span" => span(given),
        "pins" => pins(given),
        "planetary" => planetary(given),
        "play" => play(given),
        "fillet" => fillet(given, false),
        "ring-fillet" => fillet(given, true),
        other => panic!("no computation called {other}"),
    }
}

fn pair(given: &Given) -> Values {
    let system = given.tooth_system();
    let to_normal = given.to_normal();
    let kind = given.mesh_kind();
    let shifts = given.shifts.expect("shifts").map(|shift| shift * to_normal);
    let pair = Pair { system: &system, kind, teeth: given.pair_teeth() };
    // Tips keep the clearance by k of an external pair (ISO 21771); an internal pair has room enough.
    let (shift, pull_back) = match kind {
        MeshKind::External => (shifts[0] + shifts[1], true),
        MeshKind::Internal => (shifts[1] - shifts[0], false),
    };
    let a = pair.centre_distance(shift).expect("a mesh");
    let module = system.normal_module;
    let modification = (a - pair.reference_centre_distance()) / module;
    let k = if pull_back { modification - shift } else { 0.0 };
    let angle = pair.working_pressure_angle(a).expect("a mesh");
    let mut gears = [
        gear(&system, GearKind::External, pair.teeth[0], shifts[0], k),
        gear(&system, second_kind(kind), pair.teeth[1], shifts[1], k),
    ];
    if let Some(heights) = given.tip_heights {
        gears[0].tip_diameter = gears[0].reference_diameter + 2.0 * heights[0];
        gears[1].tip_diameter = gears[1].reference_diameter - 2.0 * heights[1];
    }
    let pitch = pair.pitch_diameters(a);
    let ratio = contact_ratio_of_tips(kind, [&gears[0], &gears[1]], a, angle);
    let width = given.face_width.unwrap_or(0.0);
    let mut found = values(&[
        ("working_involute", involute(angle)),
        ("working_pressure_angle_deg", angle.to_degrees()),
        ("base_helix_angle_deg", system.base_helix_angle.to_degrees()),
        ("centre_modification", modification / to_normal),
        ("centre_distance", a),
        ("contact_ratio", ratio),
        ("path", ratio * gears[0].base_pitch()),
        ("overlap_ratio", width * system.helix_angle.sin() / (PI * module)),
    ]);
    for (index, gear) in gears.iter().enumerate() {
        for (name, value) in [
            ("reference_diameter", gear.reference_diameter),
            ("base_diameter", gear.base_diameter),
            ("pitch_diameter", pitch[index]),
            ("tip_height", 0.5 * (gear.tip_diameter - gear.reference_diameter).abs()),
            ("tip_diameter", gear.tip_diameter),
            ("root_diameter", gear.root_diameter),
        ] {
            found.insert(format!("{name}_{}", index + 1), value);
        }
    }
    if kind == MeshKind::Internal {
        let margins = interferences(&gears, a, angle).expect("tips outside the base circles");
        for (name, margin) in
            [("involute", margins.involute), ("trochoid", margins.trochoid), ("trimming", margins.trimming)]
        {
            found.insert(format!("{name}_value"), margin.value);
            found.insert(format!("{name}_least"), margin.least);
        }
    }
    found
}

fn interferences(gears: &[Gear; 2], a: f64, angle: f64) -> Option<InternalInterferences> {
    InternalInterferences::of(
        [gears[0].teeth, gears[1].teeth],
        [0.5 * gears[0].tip_diameter, 0.5 * gears[1].tip_diameter],
        [0.5 * gears[0].base_diameter, 0.5 * gears[1].base_diameter],
        a,
        angle,
    )
}

/// A pinion of the given addendum and a ring of addendum 1, both unshifted.
fn standard_interferences(given: &Given, teeth: [u32; 2]) -> Option<InternalInterferences> {
    let system = given.tooth_system();
    let pair = Pair { system: &system, kind: MeshKind::Internal, teeth };
    let longer = given.pinion_addendum.unwrap_or(1.0) - 1.0;
    let gears = [
        gear(&system, GearKind::External, teeth[0], 0.0, longer),
        gear(&system, GearKind::Internal, teeth[1], 0.0, 0.0),
    ];
    interferences(&gears, pair.reference_centre_distance(), system.transverse_pressure_angle)
}

fn smallest_ring(given: &Given) -> Values {
    (15..=100u32)
        .filter_map(|pinion| {
            let free = |ring: &u32| {
                standard_interferences(given, [pinion, *ring]).is_some_and(|margins| margins.trimming.holds())
            };
            (pinion + 4..pinion + 40).find(free).map(|ring| (pinion.to_string(), f64::from(ring)))
        })
        .collect()
}

fn least_difference(given: &Given) -> Values {
    [30u32, 40, 50]
        .into_iter()
        .filter_map(|pinion| {
            let free = |more: &u32| {
                standard_interferences(given, [pinion, pinion + more])
                    .is_some_and(|margins| margins.trochoid.holds())
            };
            (5..20).find(free).map(|more| (pinion.to_string(), f64::from(more)))
        })
        .collect()
}

fn least_planet(given: &Given) -> Values {
    [34u32, 36, 40, 48, 50, 60, 72, 80, 100]
        .into_iter()
        .filter_map(|ring| {
            let free = |planet: &u32| {
                standard_interferences(given, [*planet, ring]).is_some_and(|margins| margins.involute.holds())
            };
            (8..ring - 2).find(free).map(|planet| (ring.to_string(), f64::from(planet)))
        })
        .collect()
}

fn shifts_for_centre_distance(given: &Given) -> Values {
    let transverse = given.transverse_pressure_angle_deg.expect("angle").to_radians();
    let normal = given.pressure_angle_deg.expect("angle").to_radians();
    let helix = (normal.tan() / transverse.tan()).acos();
    let system = ToothSystem::new(Rack::ISO_53_A, given.module.expect("module"), helix);
    let pair = Pair { system: &system, kind: MeshKind::External, teeth: given.pair_teeth() };
    let a = given.centre_distance.expect("centre distance");
    let angle = pair.working_pressure_angle(a).expect("a mesh");
    values(&[
        ("reference_centre_distance", pair.reference_centre_distance()),
        ("working_pressure_angle_deg", angle.to_degrees()),
        ("transverse_involute", involute(system.transverse_pressure_angle)),
        ("working_involute", involute(angle)),
        ("shift_sum", pair.shift_for(a).expect("a mesh")),
    ])
}

fn undercut(given: &Given) -> Values {
    let mut system = given.tooth_system();
    // A straight flank of exactly one module, as the handbooks assume.
    system.rack.fillet = (system.rack.dedendum - 1.0) / (1.0 - system.rack.pressure_angle.sin());
    let [at_12, at_10] = [12, 10].map(|teeth| system.least_shift(teeth));
    // The limit is linear in the teeth: where it reaches zero.
    let least_teeth = 12.0 + 2.0 * at_12 / (at_10 - at_12);
    values(&[("least_shift_12", at_12), ("least_shift_10", at_10), ("least_teeth", least_teeth)])
}

fn one_gear(given: &Given) -> Gear {
    let kind =
        if given.kind.as_deref() == Some("internal") { GearKind::Internal } else { GearKind::External };
    let shift = given.shift.unwrap_or(0.0) * given.to_normal();
    gear(&given.tooth_system(), kind, given.teeth()[0], shift, 0.0)
}

fn chordal(given: &Given) -> Values {
    let gear = one_gear(given);
    let chord = chord(&gear);
    let helix = gear.helix_angle.cos();
    values(&[
        ("thickness", gear.transverse_tooth_thickness * helix),
        ("virtual_teeth", f64::from(gear.teeth) / helix.powi(3)),
        ("half_angle_deg", chord.half_angle.to_degrees()),
        ("chord", chord.thickness),
        ("chord_height", chord.height),
    ])
}

fn span(given: &Given) -> Values {
    let gear = one_gear(given);
    let over = given.over.unwrap_or(gear.span_teeth);
    values(&[
        ("span_teeth", f64::from(gear.span_teeth)),
        ("span", gear.span),
        ("span_over", Span::over(&gear, over).length),
    ])
}

fn pins(given: &Given) -> Values {
    let measure = over_pins(&one_gear(given), given.pin.expect("pin")).expect("the pins touch");
    values(&[("measure", measure)])
}

fn planetary(given: &Given) -> Values {
    let teeth: [u32; 3] = given.teeth().try_into().expect("three tooth counts");
    let stage_input = StageInput {
        normal_module: given.module.expect("module"),
        helix_angle: 0.0,
        backlash: given.backlash.unwrap_or(0.0),
        // The handbook's sets are unshifted.
        sun_shift: Shift::Fixed(0.0),
        planet_shift: Shift::Fixed(0.0),
        ..input(teeth, given.planets.expect("planets"))
    };
    let stage = solved(&stage_input);
    let mut found = values(&[
        ("ratio", stage.ratio),
        ("carrier_for_sun", stage.carrier_speed(1.0, 0.0)),
        ("carrier_for_ring", stage.carrier_speed(0.0, 1.0)),
        ("carrier_for_sun_and_ring_half_back", stage.carrier_speed(1.0, -0.5)),
        ("ring_for_sun_carrier_held", -stage.carrier_speed(1.0, 0.0) / stage.carrier_speed(0.0, 1.0)),
        ("planet_gap", stage.planet_gap),
        ("output_backlash_deg", stage.output_backlash.to_degrees()),
    ]);
    for planets in 2..=6 {
        let fault = Stage::solve(&StageInput { planets, ..stage_input });
        let assembles = !matches!(fault, Err(faults) if faults.iter().any(|fault| {
            matches!(fault, hubwright::gears::StageFault::NotAssemblable { .. })
        }));
        found.insert(format!("assembles_{planets}"), f64::from(u8::from(assembles)));
    }
    found
}

fn play(given: &Given) -> Values {
    let system = given.tooth_system();
    let pair = Pair { system: &system, kind: MeshKind::External, teeth: given.pair_teeth() };
    let a = given.centre_distance.expect("centre distance");
    let angle = pair.working_pressure_angle(a).expect("a mesh");
    let thin = |teeth: u32, allowance: f64| {
        Gear::new(
            &system,
            GearSpec {
                kind: GearKind::External,
                teeth,
                shift: 0.0,
                tip_alteration: 0.0,
                thickness_allowance: allowance,
                left_hand: false,
                working_pitch_diameter: system.reference_diameter(teeth),
                ring_fillet_radius: 0.0,
            },
        )
    };
    // The whole thinning on one gear or shared is the same play.
    let gears = [thin(pair.teeth[0], given.thinning.unwrap_or(0.0)), thin(pair.teeth[1], 0.0)];
    let play = circumferential_play([&gears[0], &gears[1]], pair.pitch_diameters(a));
    values(&[
        ("working_pressure_angle_deg", angle.to_degrees()),
        ("play", play),
        ("normal_play", play * angle.cos()),
    ])
}

fn fillet(given: &Given, ring: bool) -> Values {
    let mut trochoid = Trochoid::of(&one_gear(given));
    let teeth = f64::from(given.teeth()[0]);
    let mut tangent = PI / 6.0;
    if ring {
        // The same rack rolling inside the circle.
        trochoid.reference_radius = -trochoid.reference_radius;
        tangent = PI / 3.0;
    }
    let section = trochoid.critical_section(teeth, tangent).expect("a tangent");
    values(&[("root_chord", section.chord), ("fillet_radius", section.fillet_radius)])
}

#[test]
fn published_values() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published");
    let mut paths: Vec<_> = fs::read_dir(folder)
        .expect("tests/published")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.file_name().is_some_and(|name| name.to_string_lossy().starts_with("gears-")))
        .collect();
    paths.sort();
    let mut compared = 0;
    let mut wrong = Vec::new();
    for path in paths {
        let text = fs::read_to_string(&path).expect("readable");
        let file: File = toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        for case in file.case {
            assert!(
                ["read", "read in a companion", "from memory, recomputed", "derived"]
                    .contains(&case.seen.as_str()),
                "{}: seen {}",
                case.id,
                case.seen
            );
            assert!(!case.source.is_empty() && !case.expected.is_empty(), "{}", case.id);
            let found = compute(&case.compute, &case.given);
            for (name, (value, tolerance)) in &case.expected {
                let got = found.get(name).unwrap_or_else(|| panic!("{}: {name} is not computed", case.id));
                compared += 1;
                // Half a unit of the last digit, and the rounding of that half itself. A NaN is within nothing.
                let within = (got - value).abs() <= tolerance + 1e-12;
                if !within {
                    wrong.push(format!("{}: {name} is {got}, expected {value} +- {tolerance}", case.id));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    println!("{compared} values compared");
}
