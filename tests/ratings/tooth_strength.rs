//! Tooth root and flank stress against tables and worked examples: one loop, values and sources in `published/`.

use std::collections::BTreeMap;

use hubwright::gears::{
    Gear, GearKind, GearSpec, Mesh, MeshKind, Pair, Rack, ToothSystem, Trochoid, contact_ratio_of_tips,
};
use hubwright::ratings::ring_root::RingRoot;
use hubwright::ratings::tooth_flank::{self, Elasticity, ToothFlank};
use hubwright::ratings::tooth_root::{
    self, ContactRatios, Edition, Method, NotApplicable, RootSection, ToothRoot,
};
use toml::{Table, Value};

type Values = BTreeMap<String, f64>;

const EDITION_2006: Method = Method::B(Edition::Of2006);
const EDITION_2019: Method = Method::B(Edition::Of2019);
const SPUR: ContactRatios = ContactRatios { transverse: 1.6, overlap: 0.0 };

fn number(value: &Value) -> f64 {
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64)).expect("a number")
}

fn get(given: &Table, key: &str) -> f64 {
    number(given.get(key).unwrap_or_else(|| panic!("no {key}")))
}

fn is_ring(given: &Table) -> bool {
    given.get("kind").and_then(Value::as_str) == Some("internal")
}

fn gear(system: &ToothSystem, kind: GearKind, teeth: u32, shift: f64, tip_alteration: f64) -> Gear {
    let spec = GearSpec {
        kind,
        teeth,
        shift,
        tip_alteration,
        thickness_allowance: 0.0,
        left_hand: false,
        working_pitch_diameter: system.reference_diameter(teeth),
        ring_fillet_radius: 0.0,
    };
    Gear::new(system, spec)
}

/// A straight gear of module 1 with full tips.
fn spur(given: &Table) -> Gear {
    let system = ToothSystem::new(Rack::ISO_53_A, 1.0, 0.0);
    let kind = if is_ring(given) { GearKind::Internal } else { GearKind::External };
    gear(&system, kind, get(given, "teeth") as u32, get(given, "shift"), 0.0)
}

fn tip(given: &Table) -> Values {
    let root = ToothRoot::of(&spur(given), SPUR, Method::C).expect("in range");
    values(&[("form", root.form), ("stress_correction", root.stress_correction)])
}

fn section(given: &Table) -> Values {
    let section = RootSection::of(&spur(given)).expect("a section");
    values(&[("chord", section.chord), ("fillet_radius", section.fillet_radius)])
}

/// Two gears with the rack's tip clearance at their play-free centre distance.
struct Gears {
    gears: [Gear; 2],
    mesh: Mesh,
    contact: ContactRatios,
    centre_distance: f64,
    tangential: f64,
}

impl Gears {
    fn of(given: &Table) -> Gears {
        let module = get(given, "module");
        let system = ToothSystem::new(Rack::ISO_53_A, module, get(given, "helix_angle_deg").to_radians());
        let (kind, second_kind, sign) = match is_ring(given) {
            true => (MeshKind::Internal, GearKind::Internal, -1.0),
            false => (MeshKind::External, GearKind::External, 1.0),
        };
        let teeth = [get(given, "first_teeth") as u32, get(given, "second_teeth") as u32];
        let shifts = [get(given, "first_shift"), get(given, "second_shift")];
        let pair = Pair { system: &system, kind, teeth };
        let shift = shifts[1] + sign * shifts[0];
        let centre_distance = pair.centre_distance(shift).expect("a mesh");
        let angle = pair.working_pressure_angle(centre_distance).expect("a mesh");
        let alteration = (centre_distance - pair.reference_centre_distance()) / module - shift;
        let gears = [
            gear(&system, GearKind::External, teeth[0], shifts[0], alteration),
            gear(&system, second_kind, teeth[1], shifts[1], alteration),
        ];
        let both = [&gears[0], &gears[1]];
        let mesh = Mesh::of(kind, both, centre_distance, angle, pair.pitch_diameters(centre_distance));
        let overlap = get(given, "width") * system.helix_angle.sin() / (std::f64::consts::PI * module);
        let contact =
            ContactRatios { transverse: contact_ratio_of_tips(kind, both, centre_distance, angle), overlap };
        let tangential = 2e3 * get(given, "torque") / gears[0].reference_diameter;
        Gears { gears, mesh, contact, centre_distance, tangential }
    }

    fn flank(&self, edition: Edition) -> ToothFlank {
        let [first, second] = &self.gears;
        ToothFlank::of(&self.mesh, [first, second], [Elasticity::STEEL; 2], self.contact, edition)
            .expect("in range")
    }
}

fn pair(given: &Table) -> Values {
    let pair = Gears::of(given);
    let load = pair.tangential * get(given, "load_factor");
    let (width, module) = (get(given, "width"), get(given, "module"));
    let flank = pair.flank(Edition::Of2006);
    let mut found = values(&[
        ("working_pressure_angle", pair.mesh.working_pressure_angle.to_degrees()),
        ("base_helix_angle", pair.gears[0].base_helix_angle.to_degrees()),
        ("centre_distance", pair.centre_distance),
        ("tangential", pair.tangential),
        ("contact_ratio_transverse", pair.contact.transverse),
        ("overlap", pair.contact.overlap),
        ("zone", flank.zone),
        ("flank_contact_ratio", flank.contact_ratio),
        ("flank_2006", flank.nominal_stress(load, width)),
        ("flank_2019", pair.flank(Edition::Of2019).nominal_stress(load, width)),
    ]);
    for (name, gear) in ["first", "second"].into_iter().zip(&pair.gears) {
        if gear.kind == GearKind::Internal {
            continue;
        }
        let root = |method| ToothRoot::of(gear, pair.contact, method).expect("in range");
        for (key, value) in intermediates(&root(EDITION_2006), gear) {
            found.insert(format!("{name}_{key}"), value);
        }
        for (key, method) in [("b_2006", EDITION_2006), ("b_2019", EDITION_2019), ("c", Method::C)] {
            found.insert(format!("{name}_{key}"), root(method).nominal_stress(load, width, module));
        }
        found.insert("tip_contact_ratio_factor".to_string(), root(Method::C).contact_ratio);
    }
    found
}

fn intermediates(root: &ToothRoot, gear: &Gear) -> Values {
    let section = &root.section;
    values(&[
        ("tip_diameter", gear.tip_diameter),
        ("virtual_teeth", section.virtual_teeth),
        ("half_land", section.half_land),
        ("depth", section.depth),
        ("angle_constant", section.angle_constant),
        ("angle", section.angle.to_degrees()),
        ("chord", section.chord),
        ("fillet_radius", section.fillet_radius),
        ("load_diameter", root.load_diameter),
        ("load_pressure_angle", root.load_pressure_angle.to_degrees()),
        ("half_thickness_angle", root.half_thickness_angle.to_degrees()),
        ("load_direction", root.load_direction.to_degrees()),
        ("lever_arm", root.lever_arm),
        ("form", root.form),
        ("slenderness", root.slenderness),
        ("notch", root.notch),
        ("stress_correction", root.stress_correction),
    ])
}

/// Stresses from factors that a page gives, and those factors that follow from its contact ratios.
fn factors(given: &Table) -> Values {
    let pair = Gears::of(given);
    let load = pair.tangential * get(given, "load_factor");
    let (width, module) = (get(given, "width"), get(given, "module"));
    let contact = ContactRatios { transverse: get(given, "contact_ratio"), overlap: get(given, "overlap") };
    let helix_angle = get(given, "helix_angle_deg").to_radians();
    let base_cosine = get(given, "base_helix_angle_deg").to_radians().cos();
    let virtual_contact_ratio = contact.transverse / (base_cosine * base_cosine);

    let mut flank = pair.flank(Edition::Of2006);
    flank.zone = get(given, "zone");
    flank.elasticity = get(given, "elasticity");
    flank.contact_ratio = get(given, "flank_contact_ratio");
    flank.helix = get(given, "flank_helix");
    let mut found = values(&[
        ("computed_tip_contact_ratio_factor", tooth_root::contact_ratio_factor(virtual_contact_ratio)),
        ("computed_helix", tooth_root::helix_factor(helix_angle, contact.overlap, Method::C)),
        ("computed_flank_contact_ratio", tooth_flank::contact_ratio_factor(contact)),
        ("computed_flank_helix", tooth_flank::helix_factor(helix_angle, Edition::Of2006)),
        ("flank", flank.nominal_stress(load, width)),
    ]);
    for (name, gear) in ["first", "second"].into_iter().zip(&pair.gears) {
        let root = ToothRoot {
            form: get(given, &format!("{name}_form")),
            stress_correction: get(given, &format!("{name}_stress_correction")),
            helix: get(given, "helix"),
            contact_ratio: get(given, "tip_contact_ratio_factor"),
            ..ToothRoot::of(gear, pair.contact, Method::C).expect("in range")
        };
        found.insert(name.to_string(), root.nominal_stress(load, width, module));
    }
    found
}

fn elasticity(given: &Table) -> Values {
    let material = |which: &str| Elasticity {
        modulus: get(given, &format!("{which}_modulus")),
        poisson_ratio: get(given, &format!("{which}_poisson")),
    };
    values(&[("elasticity", tooth_flank::elasticity_factor([material("first"), material("second")]))])
}

fn values(pairs: &[(&str, f64)]) -> Values {
    pairs.iter().map(|(key, value)| (key.to_string(), *value)).collect()
}

#[test]
fn published_values() {
    let path = format!("{}/tests/published/tooth-strength.toml", env!("CARGO_MANIFEST_DIR"));
    let table: Table = std::fs::read_to_string(&path).expect("the values").parse().expect("a table of cases");
    let mut wrong = Vec::new();
    let mut compared = 0;
    for case in table["case"].as_array().expect("cases") {
        let given = case["given"].as_table().expect("a table");
        let found = match case["compute"].as_str().expect("a name") {
            "tip" => tip(given),
            "section" => section(given),
            "pair" => pair(given),
            "factors" => factors(given),
            "elasticity" => elasticity(given),
            other => panic!("no computation {other}"),
        };
        for (key, expected) in case["expected"].as_table().expect("a table") {
            let (value, tolerance) = (number(&expected[0]), number(&expected[1]));
            let found = *found.get(key).unwrap_or_else(|| panic!("{key} is not computed"));
            compared += 1;
            let error = (found - value).abs();
            if error.is_nan() || error > tolerance {
                wrong.push(format!("{}: {key} {found}, expected {value} +- {tolerance}", case["id"]));
            }
        }
    }
    assert!(compared > 0);
    assert!(wrong.is_empty(), "{} of {compared}:\n{}", wrong.len(), wrong.join("\n"));
}

/// A tooth made thinner for backlash: the formulas against the fillet that the widened rack generates.
#[test]
fn thin_tooth_has_the_generated_section() {
    for (teeth, shift, allowance) in [(20, 0.0, 0.1), (17, 0.3, 0.08), (40, -0.2, 0.15)] {
        let system = ToothSystem::new(Rack::ISO_53_A, 1.0, 0.0);
        let spec = GearSpec {
            kind: GearKind::External,
            teeth,
            shift,
            tip_alteration: 0.0,
            thickness_allowance: allowance,
            left_hand: false,
            working_pitch_diameter: f64::from(teeth),
            ring_fillet_radius: 0.0,
        };
        let gear = Gear::new(&system, spec);
        let section = RootSection::of(&gear).expect("a section");
        let generated =
            Trochoid::of(&gear).critical_section(f64::from(teeth), 30f64.to_radians()).expect("a tangent");
        assert!((section.chord - generated.chord).abs() < 1e-9, "{teeth}: {section:?} {generated:?}");
        assert!((section.fillet_radius - generated.fillet_radius).abs() < 1e-6, "{teeth}");
    }
}

/// Outside its range a rating gives the reason and no number.
#[test]
fn ratings_end_at_their_range() {
    let gear_of = |kind, teeth, shift, helix: f64, fillet| {
        let rack = Rack { fillet, ..Rack::ISO_53_A };
        gear(&ToothSystem::new(rack, 1.0, helix.to_radians()), kind, teeth, shift, 0.0)
    };
    let root = |gear: &Gear, transverse, overlap, method| {
        ToothRoot::of(gear, ContactRatios { transverse, overlap }, method).map(|root| root.form)
    };
    let plain = gear_of(GearKind::External, 20, 0.0, 0.0, 0.38);
    let steep = gear_of(GearKind::External, 20, 0.0, 31.0, 0.38);
    let ring = gear_of(GearKind::Internal, 100, 0.0, 0.0, 0.38);
    let shifted_ring = gear_of(GearKind::Internal, 100, 0.3, 0.0, 0.38);
    assert!(root(&gear_of(GearKind::External, 20, 0.0, 30.0, 0.38), 1.5, 0.5, EDITION_2006).is_ok());
    assert_eq!(root(&steep, 1.5, 0.5, EDITION_2006), Err(NotApplicable::Helix));
    assert_eq!(root(&plain, 0.9, 0.0, EDITION_2006), Err(NotApplicable::ContactRatio(0.9)));
    assert_eq!(root(&plain, 2.6, 0.0, EDITION_2006), Err(NotApplicable::ContactRatio(2.6)));
    assert!(matches!(root(&plain, f64::NAN, 0.0, EDITION_2006), Err(NotApplicable::ContactRatio(_))));
    assert_eq!(root(&plain, 2.1, 0.0, EDITION_2019), Err(NotApplicable::DeepTooth(2.1)));
    assert!(root(&plain, 2.1, 0.0, EDITION_2006).is_ok());
    assert!(root(&ring, 1.9, 0.0, EDITION_2006).is_ok());
    assert_eq!(root(&ring, 1.9, 0.0, Method::C), Err(NotApplicable::Ring));
    assert_eq!(root(&shifted_ring, 1.9, 0.0, EDITION_2006), Err(NotApplicable::Ring));
    // Textbooks print 2.053 / 2.65 for the rack with this fillet, as a stand-in for rings: qs is 8.10 there.
    let rack_like = gear_of(GearKind::External, 1_000_000, 0.0, 0.0, 0.15);
    assert!(matches!(root(&rack_like, 1.6, 0.0, Method::C), Err(NotApplicable::Notch(notch)) if notch > 8.1));
}

/// Plastics are outside ISO 6336-2 whatever Hertz says.
#[test]
fn flank_is_for_metals() {
    let plain = gear(&ToothSystem::new(Rack::ISO_53_A, 1.0, 0.0), GearKind::External, 20, 0.0, 0.0);
    let system = ToothSystem::new(Rack::ISO_53_A, 1.0, 0.0);
    let pair = Pair { system: &system, kind: MeshKind::External, teeth: [20, 20] };
    let angle = pair.working_pressure_angle(20.0).expect("a mesh");
    let mesh = Mesh::of(MeshKind::External, [&plain, &plain], 20.0, angle, pair.pitch_diameters(20.0));
    let flank =
        |materials, contact| ToothFlank::of(&mesh, [&plain, &plain], materials, contact, Edition::Of2019);
    let plastic = Elasticity { modulus: 3000.0, poisson_ratio: 0.36 };
    assert!(flank([Elasticity::STEEL; 2], SPUR).is_some());
    assert!(flank([Elasticity::STEEL, plastic], SPUR).is_none());
    assert!(flank([Elasticity::STEEL; 2], ContactRatios { transverse: 2.6, overlap: 0.0 }).is_none());
}

/// A ring with an arc of the rack fillet's own radius at the section: chord, lever arm and form factor come out as by the
/// standard's formula for the generated fillet (rings of `published/tooth-strength.toml`), as far as an arc can stand for
/// a trochoid.
#[test]
fn a_ring_with_an_arc_is_near_the_generated_one() {
    let system = ToothSystem::new(Rack::ISO_53_A, 1.0, 0.0);
    for (teeth, fillet) in [(100, 0.35426), (72, 0.34269), (48, 0.31922)] {
        let generated = gear(&system, GearKind::Internal, teeth, 0.0, 0.0);
        let contact = ContactRatios { transverse: 1.8, overlap: 0.0 };
        let standard = ToothRoot::of(&generated, contact, EDITION_2006).expect("in range");
        let spec = GearSpec {
            kind: GearKind::Internal,
            teeth,
            shift: 0.0,
            tip_alteration: 0.0,
            thickness_allowance: 0.0,
            left_hand: false,
            working_pitch_diameter: system.reference_diameter(teeth),
            ring_fillet_radius: fillet,
        };
        let arc = RingRoot::of(&Gear::new(&system, spec), contact).expect("in range");
        let near = |found: f64, expected: f64, share: f64, what: &str| {
            assert!((found / expected - 1.0).abs() < share, "{teeth} {what}: {found} against {expected}");
        };
        near(arc.chord, standard.section.chord, 0.02, "chord");
        near(arc.lever_arm, standard.lever_arm, 0.03, "lever arm");
        near(arc.load_direction, standard.load_direction, 1e-9, "load direction");
        near(arc.factors.form, standard.form, 0.05, "form");
        near(arc.factors.stress_correction, standard.stress_correction, 0.02, "stress correction");
    }
}
