//! Stiffness, play and inertia of the stage: one loop over `published/stiffness-and-play.toml`, closed forms, and balances.

use std::f64::consts::{PI, TAU};

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::assessment::stage_feel::{self, Departures};
use hubwright::design::{Shift, ShiftRule, Spacing, ToothForm};
use hubwright::gears::{
    Cause, Gear, GearKind, GearSpec, Growth, MeshKind, Pair, PlayInput, Rack, RadialShift, ShiftCause, Stage,
    StageInput, StagePlay, ToothSystem, carrier_play, contact_ratio_of_tips, growth_change, linear_change,
    normal_play, play_at,
};
use hubwright::layout::lay_out;
use hubwright::pipeline::make;
use hubwright::ratings::mesh_stiffness::{MeshStiffness, PLASTIC_BAND, STEEL_MODULUS, StiffnessInput};
use hubwright::ratings::reflected_inertia::{
    MovingBodies, ReflectedInertia, Speeds, collision_torque, cylinder,
};
use hubwright::ratings::stage_stiffness::{Bodies, Moduli, Part, StageStiffness};
use toml::{Table, Value};

fn values() -> Table {
    let path = format!("{}/tests/published/stiffness-and-play.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    text.parse().unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn number(value: &Value) -> f64 {
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64)).expect("a number")
}

fn rows(case: &Table) -> Vec<Vec<f64>> {
    let row = |row: &Value| row.as_array().expect("a row").iter().map(number).collect();
    case["rows"].as_array().expect("rows").iter().map(row).collect()
}

/// To half a unit of the last printed decimal, and the last bit.
fn printed(found: f64, expected: f64, decimals: i32, what: &str) {
    let tolerance = 0.500_1 * 10f64.powi(-decimals);
    assert!((found - expected).abs() <= tolerance, "{what}: {found} against {expected}");
}

fn near(found: f64, expected: f64, relative: f64, what: &str) {
    assert!((found / expected - 1.0).abs() <= relative, "{what}: {found} against {expected}");
}

/// Two gears of a module, shifted and thinned, at the centre distance without play when nothing is thinned.
fn pair(
    teeth: [u32; 2],
    kind: MeshKind,
    helix_deg: f64,
    shifts: [f64; 2],
    thinning: f64,
) -> ([Gear; 2], f64) {
    let system = ToothSystem::new(Rack::ISO_53_A, 1.0, helix_deg.to_radians());
    let pair = Pair { system: &system, kind, teeth };
    let (second, shift) = match kind {
        MeshKind::External => (GearKind::External, shifts[0] + shifts[1]),
        MeshKind::Internal => (GearKind::Internal, shifts[1] - shifts[0]),
    };
    let centre_distance = pair.centre_distance(shift).expect("a mesh");
    let angle = pair.working_pressure_angle_for_shift(shift).expect("a mesh");
    let diameters = pair.pitch_diameters(centre_distance);
    let tip_alteration = match kind {
        MeshKind::External => centre_distance - pair.reference_centre_distance() - shift,
        MeshKind::Internal => 0.0,
    };
    let gear = |index: usize, kind| {
        let spec = GearSpec {
            kind,
            teeth: teeth[index],
            shift: shifts[index],
            tip_alteration,
            thickness_allowance: 0.5 * thinning,
            left_hand: index == 1,
            working_pitch_diameter: diameters[index],
            ring_fillet_radius: 0.0,
        };
        Gear::new(&system, spec)
    };
    let gears = [gear(0, GearKind::External), gear(1, second)];
    let contact_ratio = contact_ratio_of_tips(kind, [&gears[0], &gears[1]], centre_distance, angle);
    (gears, contact_ratio)
}

fn stage(teeth: [u32; 3], planets: u32, module: f64, helix_deg: f64, backlash: f64) -> Stage {
    let input = StageInput {
        sun_teeth: teeth[0],
        planet_teeth: teeth[1],
        ring_teeth: teeth[2],
        planets,
        rack: Rack::ISO_53_A,
        normal_module: module,
        helix_angle: helix_deg.to_radians(),
        face_width: 14.0,
        backlash,
        sun_shift: Shift::Auto,
        planet_shift: Shift::Auto,
        ring_shift: Shift::Auto,
        shift_rule: ShiftRule::UndercutFree,
        spacing: Spacing::Equal,
        tooth_form: if helix_deg == 0.0 { ToothForm::Straight } else { ToothForm::Helical },
    };
    Stage::solve(&input).expect("a stage")
}

#[test]
fn published_stiffness_and_play() {
    let mut seen = 0;
    for (kind, cases) in &values() {
        for case in cases.as_array().expect("a list of cases") {
            let case = case.as_table().expect("a case");
            assert!(case.contains_key("source") && case.contains_key("mark"), "{case:?}");
            match kind.as_str() {
                "mesh_stiffness" => mesh_stiffness(case),
                "plastic_pair" => plastic_pair(case),
                "centre_distance" => centre_distance(case),
                "thinned" => thinned(case),
                "lost_motion" => lost_motion(case),
                "thickness_series" => thickness_series(case),
                "measured" => measured(case),
                other => panic!("no such kind: {other}"),
            }
            seen += 1;
        }
    }
    assert_eq!(seen, 7);
}

fn mesh_stiffness(case: &Table) {
    for row in rows(case) {
        let [z1, z2, helix, x1, x2, flexibility, inverse, single, mesh] = row[..] else { panic!("{row:?}") };
        let (kind, z2) = if z2 == 0.0 { (MeshKind::Internal, 100.0) } else { (MeshKind::External, z2) };
        let ([first, second], contact_ratio) = pair([z1 as u32, z2 as u32], kind, helix, [x1, x2], 0.0);
        let input = StiffnessInput::of([&first, &second], contact_ratio, [STEEL_MODULUS; 2]);
        let found = MeshStiffness::of(&input).expect("in range");
        printed(input.flexibility(), flexibility, 7, "q'");
        printed(1.0 / input.flexibility(), inverse, 4, "1/q'");
        printed(found.single, single, 4, "c'");
        // The list does not say its contact ratios; the gears' own are as close as this (tips shortened or not).
        near(found.mesh, mesh, 2e-3, "c_gamma");
        assert_eq!(found.band, [1.0; 2]);
        // Either order of an external pair.
        if kind == MeshKind::External {
            let turned = StiffnessInput::of([&second, &first], contact_ratio, [STEEL_MODULUS; 2]);
            assert_eq!(MeshStiffness::of(&turned), Some(found));
        }
    }
}

fn plastic_pair(case: &Table) {
    let ([first, second], contact_ratio) = pair([20, 40], MeshKind::External, 0.0, [0.0; 2], 0.0);
    let modulus = number(&case["modulus"]);
    let input = StiffnessInput::of([&first, &second], contact_ratio, [modulus; 2]);
    let found = MeshStiffness::of(&input).expect("in range");
    printed(found.mesh, number(&case["mesh"]), 4, "c_gamma");
    let radius = second.base_diameter / 2.0;
    printed(found.along_action(10.0) * radius * radius * 1e-3, number(&case["at_wheel"]), 1, "at the wheel");
    assert_eq!(found.band, PLASTIC_BAND);
}

fn centre_distance(case: &Table) {
    let ([first, second], _) = pair([20, 40], MeshKind::External, 0.0, [0.0; 2], 0.0);
    for row in rows(case) {
        let [da, angle, play, short, normal, wheel, pinion] = row[..] else { panic!("{row:?}") };
        let distance = 30.0 + da;
        let found = play_at([&first, &second], distance).expect("a mesh");
        let working = libm::acos(30.0 * libm::cos(20f64.to_radians()) / distance);
        printed(working.to_degrees(), angle, 5, "working angle");
        printed(found, play, 6, "jt");
        let reference = 20f64.to_radians();
        printed(linear_change([reference; 2], 0.0, da), short, 6, "2 da tan a");
        printed(normal_play(found, working, 0.0), normal, 6, "jn");
        let minutes = |radius: f64| (found / radius).to_degrees() * 60.0;
        printed(minutes(distance * 2.0 / 3.0), wheel, 3, "wheel");
        printed(minutes(distance / 3.0), pinion, 3, "pinion");
    }
}

fn thinned(case: &Table) {
    let ([first, second], _) = pair([20, 40], MeshKind::External, 0.0, [0.0; 2], number(&case["thinning"]));
    let found = play_at([&first, &second], 30.0 + number(&case["da"])).expect("a mesh");
    printed(found, number(&case["jt"]), 6, "jt");
}

fn lost_motion(case: &Table) {
    for row in rows(case) {
        let [sun, planet, _, module, at_sun, at_ring, degrees] = row[..] else { panic!("{row:?}") };
        let (radius, distance) = (planet * module / 2.0, (sun + planet) * module / 2.0);
        let turn = carrier_play([at_sun, at_ring], [radius; 2], distance);
        printed(turn.to_degrees(), degrees, 4, "carrier");
    }
    // The stage itself, nothing departing from the drawing.
    let drawn = stage([20, 40, 100], 3, 0.5, 0.0, 0.05);
    let play = StagePlay::of(&drawn, &PlayInput::default()).expect("a mesh");
    for found in [play.sun_mesh, play.ring_mesh] {
        near(found.least, 0.05, 1e-9, "least");
        near(found.most, 0.05, 1e-9, "most");
        assert_eq!(found.largest, Cause::None);
    }
    near(play.output[0], drawn.output_backlash, 1e-9, "output");
    assert_eq!(play.backlash_wanted, None);
}

fn thickness_series(case: &Table) {
    let thickness: Vec<f64> = case["thickness"].as_array().expect("two ends").iter().map(number).collect();
    let distance = number(&case["centre_distance"]);
    let angles = [20f64.to_radians(); 2];
    printed(linear_change(angles, 2.0 * thickness[1], -distance), number(&case["least"]), 4, "least");
    printed(linear_change(angles, 2.0 * thickness[0], distance), number(&case["most"]), 4, "most");
}

/// Order of magnitude only: nothing but "printed, single-stage planetary" is known here, so our three joints stand in, at
/// their own sizes, teeth and plastics (assumed).
fn measured(case: &Table) {
    let stiffness = number(&case["stiffness"]);
    for name in [SHOULDER, WRIST, MAST] {
        let actuator = lay_out(&demo(name)).expect("a layout");
        let found = stage_feel::stiffness(&actuator).expect("in range");
        let ratio = found.output() / stiffness;
        println!("{name}: {:.0} {:?} {:?}", found.output(), found.band(), found.weakest());
        for share in &found.shares {
            println!("  {}: {:.1} %", share.part.name(), share.compliance * found.output() * 100.0);
        }
        assert!((0.1..=10.0).contains(&ratio), "{name}: {} against {stiffness}", found.output());
        let play = stage_feel::play(&actuator, &Departures::default()).expect("a mesh");
        println!("  play {play:?}");
        let degrees = play.output.map(f64::to_degrees);
        let expected = number(&case["backlash_deg"]);
        assert!(degrees[0] < 10.0 * expected && degrees[1] > expected / 10.0, "{name}: {degrees:?}");
    }
}

/// A shape strains alike under equal load over modulus: steel at 50 N/mm loses 0.5^0.25.
#[test]
fn small_loads_lower_the_stiffness() {
    let ([first, second], contact_ratio) = pair([20, 40], MeshKind::External, 0.0, [0.0; 2], 0.0);
    let of = |modulus| {
        MeshStiffness::of(&StiffnessInput::of([&first, &second], contact_ratio, [modulus; 2]))
            .expect("in range")
    };
    let (steel, plastic) = (of(STEEL_MODULUS), of(STEEL_MODULUS / 100.0));
    near(steel.under(50.0).mesh / steel.mesh, 0.5f64.powf(0.25), 1e-12, "steel");
    near(plastic.under(0.5).single / plastic.single, 0.5f64.powf(0.25), 1e-12, "plastic");
    assert_eq!(steel.under(100.0), steel);
    assert_eq!(steel.under(1e6), steel);
}

#[test]
fn mesh_stiffness_ends_at_its_range() {
    let ([first, second], contact_ratio) = pair([20, 40], MeshKind::External, 0.0, [0.0; 2], 0.0);
    let good = StiffnessInput::of([&first, &second], contact_ratio, [STEEL_MODULUS; 2]);
    for bad in [
        StiffnessInput { shifts: [1.5, 1.0], ..good },
        StiffnessInput { shifts: [-0.4, -0.4], ..good },
        StiffnessInput { contact_ratio: 0.99, ..good },
        StiffnessInput { moduli: [0.0, 1.0], ..good },
        StiffnessInput { moduli: [f64::NAN, 1.0], ..good },
        StiffnessInput { virtual_teeth: [0.0, 40.0], ..good },
    ] {
        assert_eq!(MeshStiffness::of(&bad), None, "{bad:?}");
    }
}

/// Bodies stiff enough to leave one part alone.
fn rigid() -> Bodies {
    const STIFF: f64 = 1e15;
    Bodies {
        moduli: Moduli { sun: STIFF, planet: STIFF, ring: STIFF, carrier: STIFF, back_plate: STIFF },
        pin_diameter: 5.0,
        pin_span: 16.0,
        pin_depths: [6.0, 5.0],
        bearing_spread: 16.0,
        bearing: None,
        seat_width: 10.0,
        pillar_radius: 4.0,
        pillar_bore: 3.4,
        pillar_distance: 20.0,
        pillar_length: 16.0,
        plate_thickness: 8.0,
        back_plate_thickness: 5.0,
        shoulder_diameter: 40.0,
        hub_diameter: 40.0,
        hub_bore: 10.0,
        hub_length: 8.0,
        sun_bore: 3.4,
        sun_shaft: 10.0,
    }
}

/// Each part alone against its textbook form.
#[test]
fn parts_alone_follow_their_closed_forms() {
    let stage = stage([12, 42, 96], 3, 0.8, 20.0, 0.136);
    let arm = stage.centre_distance;
    let of = |bodies: &Bodies| StageStiffness::of(&stage, bodies, 16.0).expect("in range");
    let alone = |bodies: &Bodies, part: Part, expected: f64| {
        let found = of(bodies);
        assert_eq!(found.weakest().0, part);
        near(found.weakest().1, 1.0, 1e-6, "its share");
        near(found.output(), expected, 1e-6, part.name());
    };
    // Three-point bending with the bearings side by side: l^3 / (48 E I), and F l / (4 k G A) of shear.
    let second_moment = PI / 64.0 * 5f64.powi(4);
    let shear = 16.0 / 4.0 * 2.66 / (0.886 * 206_000.0 * PI / 4.0 * 25.0);
    let pin = 16f64.powi(3) / (48.0 * 206_000.0 * second_moment) + shear;
    alone(&Bodies { bearing_spread: 0.0, ..rigid() }, Part::Pins, 3.0 * arm * arm / pin * 1e-3);
    // A planet of plastic in rigid bodies has soft teeth too, so the carrier's hub alone: T l / (G J).
    let mut soft = rigid();
    soft.moduli.carrier = 2000.0;
    soft.plate_thickness = 1e12;
    soft.pin_depths[0] = 1e12;
    let hub = 2000.0 / 2.66 * PI / 32.0 * (40f64.powi(4) - 10f64.powi(4)) / 8.0;
    alone(&soft, Part::Hub, hub * 1e-3);
    // Half the torque turns the back plate, and the pins' middles by half of that.
    let mut soft = rigid();
    soft.moduli.back_plate = 2000.0;
    soft.back_plate_thickness = 1e12;
    soft.pin_depths[1] = 1e12;
    let (outer, inner) = (16.0, 1.7f64 * 1.7);
    let area = PI * (outer - inner);
    let moment = PI / 4.0 * (outer * outer - inner * inner);
    let pillar = 16f64.powi(3) / (12.0 * 2000.0 * moment) + 16.0 * 2.66 / (0.886 * 2000.0 * area);
    alone(&soft, Part::Pillars, 4.0 * 3.0 * 400.0 / pillar * 1e-3);
}

/// Both meshes of steel gears alone: sun held, `n c_gamma b (rbs + rbr)^2` each, in a row; the energy of the planets' springs
/// under a walked turn of the carrier is the same.
#[test]
fn teeth_alone_store_the_work_of_the_output() {
    let stage = stage([12, 42, 96], 3, 0.8, 20.0, 0.136);
    let mut bodies = rigid();
    (bodies.moduli.sun, bodies.moduli.planet, bodies.moduli.ring) = (2e5, 2e5, 2e5);
    (bodies.seat_width, bodies.sun_shaft) = (1e12, 0.0);
    let torque = 1000.0;
    let found = StageStiffness::of(&stage, &bodies, torque).expect("in range");
    let mesh = |gears, contact_ratio| {
        MeshStiffness::of(&StiffnessInput::of(gears, contact_ratio, [2e5; 2]))
            .expect("in range")
            .along_action(14.0)
    };
    let springs = [
        mesh([&stage.sun, &stage.planet], stage.contact_ratio_sun),
        mesh([&stage.planet, &stage.ring], stage.contact_ratio_ring),
    ];
    // Turn the carrier by 1: sun and ring go back under the planet by rbs and rbr along their lines of action. The planet
    // turns until both springs pull alike, so they share the sum as springs in a row.
    let slack = 0.5 * (stage.sun.base_diameter + stage.ring.base_diameter);
    let in_row = 1.0 / (1.0 / springs[0] + 1.0 / springs[1]);
    near(found.output(), 3.0 * in_row * slack * slack * 1e-3, 1e-6, "teeth");
    near(found.motor(), found.output() / 81.0, 1e-12, "at the motor");
    // Less load, less stiffness; none at all still has a number.
    let idle = StageStiffness::of(&stage, &bodies, 0.0).expect("in range");
    assert!(idle.output() < found.output() && idle.output() > 0.0);
    let [low, high] = found.band();
    assert!(low <= found.output() && found.output() <= high);
}

/// Play of two printed gears by the two printer errors.
#[test]
fn fat_squeezes_both_meshes_and_growth_the_sun_s() {
    let stage = stage([12, 42, 96], 3, 0.8, 20.0, 0.136);
    let fat = PlayInput { fat: [[0.0, 0.03]; 3], ..PlayInput::default() };
    let play = StagePlay::of(&stage, &fat).expect("a mesh");
    // Along the normal each of four flanks takes 0.03: jn falls by 0.06 a gear.
    for (mesh, angle) in [
        (play.sun_mesh, stage.working_pressure_angle_sun),
        (play.ring_mesh, stage.working_pressure_angle_ring),
    ] {
        let lost = normal_play(mesh.nominal - mesh.least, angle, stage.base_helix_angle);
        near(lost, 0.12, 1e-9, "normal play lost");
        near(mesh.most, mesh.nominal, 1e-12, "most");
        assert_eq!(mesh.largest, Cause::FatFlanks);
    }
    // Gears grow, the centre distance doesn't.
    let [at_sun, at_ring] = growth_change(&stage, [0.002, 0.002, 0.002, 0.0]);
    assert!(at_sun < -0.02, "{at_sun}");
    assert!(at_ring > 0.0, "{at_ring}");
    // The planet alone takes from both.
    let [at_sun, at_ring] = growth_change(&stage, [0.0, 0.002, 0.0, 0.0]);
    assert!(at_sun < 0.0 && at_ring < 0.0);
    // All alike scale the play.
    for (change, mesh) in growth_change(&stage, [0.01; 4]).into_iter().zip([play.sun_mesh, play.ring_mesh]) {
        near(change, 0.01 * mesh.nominal, 1e-9, "scaled");
    }
}

/// Warm and warmer: the play at assembly counts too.
#[test]
fn heat_leaves_the_play_at_assembly_in_its_range() {
    let stage = stage([12, 42, 96], 3, 0.8, 20.0, 0.136);
    let heat = Growth::of_heat([68e-6; 4], [[20.0, 40.0], [20.0, 40.0], [0.0, 0.0], [0.0, 0.0]]);
    let play = StagePlay::of(&stage, &PlayInput { heat, ..PlayInput::default() }).expect("a mesh");
    let hot = growth_change(&stage, [68e-6 * 40.0, 68e-6 * 40.0, 0.0, 0.0]);
    for (mesh, change) in [(play.sun_mesh, hot[0]), (play.ring_mesh, hot[1])] {
        near(mesh.most, mesh.nominal, 1e-12, "most");
        near(mesh.largest_spread, -change, 1e-9, "spread");
        assert_eq!(mesh.largest, Cause::Heat);
    }
}

/// A stage that binds says so and what would do; with that backlash it no longer binds.
#[test]
fn binding_is_named_with_the_backlash_that_would_do() {
    let shifts = [
        RadialShift { cause: ShiftCause::MountRegister, amount: 0.03 },
        RadialShift { cause: ShiftCause::HousingRegister, amount: 0.03 },
        RadialShift { cause: ShiftCause::PinHoles, amount: 0.02 },
    ];
    let input = PlayInput {
        fat: [[-0.01, 0.02]; 3],
        thickness: [[-0.01, 0.01]; 3],
        heat: Growth::of_heat([11.5e-6, 68e-6, 68e-6, 68e-6], [[-30.0, 40.0]; 4]),
        shifts: &shifts,
        ..PlayInput::default()
    };
    let tight = stage([12, 42, 96], 3, 0.8, 20.0, 0.1);
    let play = StagePlay::of(&tight, &input).expect("a mesh");
    assert!(play.sun_mesh.binds(), "{play:?}");
    let wanted = play.backlash_wanted.expect("binds");
    let free = stage([12, 42, 96], 3, 0.8, 20.0, wanted);
    let play = StagePlay::of(&free, &input).expect("a mesh");
    // The change of play is linear in the thinning to a per cent of it.
    assert!(play.sun_mesh.least.abs() < 0.01 * wanted && play.ring_mesh.least > -0.01 * wanted, "{play:?}");
    for mesh in [play.sun_mesh, play.ring_mesh] {
        assert!(mesh.least < mesh.statistical[0] && mesh.statistical[1] < mesh.most, "{mesh:?}");
    }
    // One shift by itself is exact: the play at the other centre distance.
    let one = [RadialShift { cause: ShiftCause::PinHoles, amount: 0.05 }];
    let play = StagePlay::of(&free, &PlayInput { shifts: &one, ..PlayInput::default() }).expect("a mesh");
    for (mesh, gears) in
        [(play.sun_mesh, [&free.sun, &free.planet]), (play.ring_mesh, [&free.planet, &free.ring])]
    {
        let ends = [-0.05, 0.05].map(|by| play_at(gears, free.centre_distance + by).expect("a mesh"));
        near(mesh.least, ends[0].min(ends[1]), 1e-12, "least");
        near(mesh.most, ends[0].max(ends[1]), 1e-12, "most");
        assert_eq!(mesh.largest, Cause::Shift(ShiftCause::PinHoles));
    }
}

/// Solid cylinders: m r^2 / 2, and the moving bodies' kinetic energy summed over small masses with their own speeds.
#[test]
fn inertia_balances_the_kinetic_energy() {
    let [mass, inertia] = cylinder(20.0, 0.0, 10.0, 7.85e-6);
    near(mass, PI * 1e-4 * 0.01 * 7850.0, 1e-12, "mass");
    near(inertia, 0.5 * mass * 1e-4, 1e-12, "m r^2 / 2");

    let stage = stage([12, 42, 96], 3, 0.8, 20.0, 0.136);
    let [sun_mass, sun] = cylinder(10.0, 0.0, 20.0, 7.85e-6);
    let [planet_mass, planet] = cylinder(34.0, 0.0, 14.0, 1.24e-6);
    let [_, carrier] = cylinder(50.0, 0.0, 10.0, 1.24e-6);
    let rotor = 6e-5;
    let bodies = MovingBodies { rotor, sun, planet, planet_mass, carrier };
    let found = ReflectedInertia::of(&bodies, &Speeds::of(&stage));
    let speed = 3.0;
    // Rolling without slip: on the sun's and the ring's pitch circle the planet has their speed.
    let sun_speed = speed * stage.ratio;
    let arm = stage.centre_distance * 1e-3;
    let [sun_pitch, ring_planet_pitch] =
        [stage.sun_mesh.pitch_diameters[0], stage.ring_mesh.pitch_diameters[0]]
            .map(|diameter| diameter * 0.5e-3);
    let planet_speed = -speed * arm / ring_planet_pitch;
    let sun_planet_pitch = stage.sun_mesh.pitch_diameters[1] * 0.5e-3;
    near(speed * arm - planet_speed * sun_planet_pitch, sun_speed * sun_pitch, 1e-9, "no slip at the sun");
    let mut planet_energy = 0.0;
    let (rings, sectors) = (200, 64);
    for ring in 0..rings {
        let radius = 0.017 * (f64::from(ring) + 0.5) / f64::from(rings);
        let piece =
            planet_mass * 2.0 * (f64::from(ring) + 0.5) / f64::from(rings * rings) / f64::from(sectors);
        for sector in 0..sectors {
            let angle = TAU * f64::from(sector) / f64::from(sectors);
            let (x, y) = (radius * angle.cos(), radius * angle.sin());
            let (vx, vy) = (-planet_speed * y, speed * arm + planet_speed * x);
            planet_energy += 0.5 * piece * (vx * vx + vy * vy);
        }
    }
    let energy = 0.5 * (rotor + 0.5 * sun_mass * 0.005f64.powi(2)) * sun_speed * sun_speed
        + 3.0 * planet_energy
        + 0.5 * carrier * speed * speed;
    // Midpoint rings err by 1 / (4 n^2) of r^2.
    near(0.5 * found.output() * speed * speed, energy, 1e-5, "kinetic energy");
    near(found.motor() * stage.ratio * stage.ratio, found.output(), 1e-12, "at the motor");
}

/// All the kinetic energy goes into the spring: J ws^2 / 2 = T^2 / (2 K) at the sun.
#[test]
fn a_collision_winds_the_stage_up() {
    let (speed, ratio, inertia, stiffness) = (10.0, 9.0, 6e-5, 400.0);
    let torque = collision_torque(speed, ratio, inertia, stiffness).expect("a torque");
    let at_sun = stiffness / (ratio * ratio);
    near(torque * torque / (2.0 * at_sun), 0.5 * inertia * (ratio * speed).powi(2), 1e-12, "energy");
    assert_eq!(collision_torque(speed, ratio, 0.0, stiffness), None);
    assert_eq!(collision_torque(speed, ratio, inertia, f64::NAN), None);
}

/// Of the demo joints: the rotor weighs most by far, nothing is negative, the carrier weighs less than a solid drum of it.
#[test]
fn demo_joints_have_inertia() {
    for name in [SHOULDER, WRIST, MAST] {
        let product = make(&demo(name)).unwrap_or_else(|error| panic!("{name}: {error:?}")).product;
        let found = stage_feel::inertia(&product.actuator, &product.parts).expect("shapes");
        println!("{name}: {found:?}");
        let bodies = found.bodies;
        let plate = product.actuator.carrier.plate_diameter;
        let height = product.actuator.stations.output_face - product.actuator.stations.back_plate_back;
        // Plastic and a share of steel inside: 2.5 g/cm3 is more than any of them.
        let drum = cylinder(plate.max(product.actuator.clamp_ring.flange_diameter), 0.0, height, 2.5e-6)[1];
        assert!(bodies.carrier > 0.0 && bodies.carrier < drum, "{name}");
        let (da, width) = (product.actuator.stage.planet.tip_diameter, product.actuator.stage.face_width);
        let solid = cylinder(da, 0.0, width, 7.85e-6)[1];
        assert!(bodies.planet > 0.0 && bodies.planet < solid, "{name}");
        assert!(found.reflected.rotor > 0.5 * found.reflected.output(), "{name}");
        assert_eq!(found.rotor_estimated, product.actuator.design.motor.rotor_inertia.is_none());
    }
}
