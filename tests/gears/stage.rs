//! The numbers of a stage, and inputs that are refused.

use hubwright::design::{Shift, ShiftRule, Spacing, ToothForm};
use hubwright::gears::{Rack, Stage, StageFault, StageInput, circumferential_play};
use proptest::prelude::*;

use crate::stages::{any_stage, input, reference_inputs, solved};

fn faults(input: &StageInput) -> Vec<StageFault> {
    Stage::solve(input).expect_err("refused")
}

fn text(input: &StageInput) -> Vec<String> {
    faults(input).iter().map(ToString::to_string).collect()
}

fn near(found: f64, expected: f64, tolerance: f64) -> bool {
    (found - expected).abs() <= tolerance
}

/// Ratio, centre distance, planet gap, sun shift and ring root worked out by hand for the first layout of the three
/// joints (module 0.8, helix and pressure angle 20 degrees), to the digits given there. The ring's tip is not compared:
/// here it keeps clear of the planets' fillets.
#[test]
fn reference_joints() {
    let expected =
        [(9.0, 22.99, 2.78, 0.2, 83.4), (5.2, 16.60, 6.72, 0.0, 55.6), (5.5, 18.73, 1.05, 0.0, 63.3)];
    for (input, (ratio, centre_distance, gap, sun_shift, ring_root)) in
        reference_inputs().iter().zip(expected)
    {
        let stage = solved(input);
        assert!(near(stage.ratio, ratio, 1e-12), "{}", stage.ratio);
        assert!(near(stage.centre_distance, centre_distance, 5e-3), "{}", stage.centre_distance);
        assert!(near(stage.planet_gap, gap, 5e-3), "{}", stage.planet_gap);
        assert!(near(stage.sun.shift, sun_shift, 1e-12), "{}", stage.sun.shift);
        assert!(near(stage.planet.shift, -sun_shift, 1e-9), "{}", stage.planet.shift);
        assert!(near(stage.ring.shift, -sun_shift, 1e-9), "{}", stage.ring.shift);
        assert!(near(stage.ring.root_diameter, ring_root, 0.05), "{}", stage.ring.root_diameter);
        assert!(stage.interferences.involute.holds() && stage.interferences.trochoid.holds());
        assert!(near(stage.output_backlash, input.backlash / stage.centre_distance, 1e-15));
    }
}

#[test]
fn hands_alternate_and_twists_agree() {
    let stage = solved(&input([12, 42, 96], 3));
    assert!(stage.sun.twist_per_mm() > 0.0);
    // Gears that roll on each other turn in inverse proportion to their teeth, and so do their sections along z.
    assert!(near(stage.planet.twist_per_mm() * 42.0, -stage.sun.twist_per_mm() * 12.0, 1e-12));
    assert!(near(stage.ring.twist_per_mm() * 96.0, stage.planet.twist_per_mm() * 42.0, 1e-12));
    // tan 20 deg over the reference radius 12 * 0.8 / cos 20 deg / 2.
    assert!(near(stage.sun.twist_per_mm(), 0.363_970_2 / 5.108_053_3, 1e-7));
    let left = solved(&StageInput { helix_angle: -(20f64.to_radians()), ..input([12, 42, 96], 3) });
    assert!(near(left.sun.twist_per_mm(), -stage.sun.twist_per_mm(), 1e-15));
}

/// Whatever two shifts are given, the third comes out so that all three together are accepted.
#[test]
fn each_shift_is_found_from_the_others() {
    for teeth in [[15, 24, 63], [15, 24, 64], [15, 24, 62], [16, 28, 74]] {
        let with = |sun: Shift, planet: Shift, ring: Shift| StageInput {
            planets: if (teeth[0] + teeth[2]) % 3 == 0 { 3 } else { 2 },
            sun_shift: sun,
            planet_shift: planet,
            ring_shift: ring,
            ..input(teeth, 3)
        };
        let Ok(free) = Stage::solve(&with(Shift::Auto, Shift::Auto, Shift::Auto)) else { continue };
        let fixed = [free.sun.shift, free.planet.shift, free.ring.shift].map(Shift::Fixed);
        let [sun, planet, ring] = fixed;
        for trial in [
            with(Shift::Auto, planet, ring),
            with(sun, Shift::Auto, ring),
            with(sun, planet, Shift::Auto),
            with(sun, planet, ring),
        ] {
            let stage = solved(&trial);
            assert!(near(stage.centre_distance, free.centre_distance, 1e-6), "{trial:?}");
            assert!(near(stage.sun.shift, free.sun.shift, 1e-6));
            assert!(near(stage.planet.shift, free.planet.shift, 1e-6));
            assert!(near(stage.ring.shift, free.ring.shift, 1e-6));
        }
    }
}

/// A ring shift given to four digits costs centre distance within the agreement, but no backlash.
#[test]
fn rounded_shifts_keep_the_backlash() {
    let free = solved(&StageInput { planets: 2, ..input([15, 24, 63], 3) });
    let rounded = solved(&StageInput {
        sun_shift: Shift::Fixed(free.sun.shift),
        planet_shift: Shift::Fixed(free.planet.shift),
        ring_shift: Shift::Fixed(free.ring.shift + 4e-4),
        ..input([15, 24, 63], 3)
    });
    let play = circumferential_play([&rounded.planet, &rounded.ring], rounded.ring_mesh.pitch_diameters);
    assert!(near(play, 0.136, 1e-9), "{play}");
}

proptest! {
    #[test]
    fn both_meshes_have_the_asked_play((input, stage) in any_stage()) {
        let sun = circumferential_play([&stage.sun, &stage.planet], stage.sun_mesh.pitch_diameters);
        let ring = circumferential_play([&stage.planet, &stage.ring], stage.ring_mesh.pitch_diameters);
        prop_assert!(near(sun, input.backlash, 1e-9), "{}", sun);
        prop_assert!(near(ring, input.backlash, 1e-9), "{}", ring);
    }

    #[test]
    fn tips_keep_thickness_and_clearance((input, stage) in any_stage()) {
        let least = input.rack.clearance() * input.normal_module - 1e-9;
        let a = stage.centre_distance;
        let radius = |diameter: f64| 0.5 * diameter;
        prop_assert!(a - radius(stage.sun.tip_diameter) - radius(stage.planet.root_diameter) >= least);
        prop_assert!(a - radius(stage.planet.tip_diameter) - radius(stage.sun.root_diameter) >= least);
        prop_assert!(radius(stage.ring.root_diameter) - a - radius(stage.planet.tip_diameter) >= least);
        prop_assert!(radius(stage.ring.tip_diameter) - a - radius(stage.planet.root_diameter) >= least);
        for gear in [stage.sun, stage.planet, stage.ring] {
            prop_assert!(gear.tip_thickness >= 0.2 * input.normal_module - 1e-9);
            prop_assert!(gear.tip_alteration <= 0.0);
        }
        prop_assert!(stage.ring_mesh.root_margins.iter().all(|margin| *margin > 0.0));
    }

    /// Any numbers at all: an answer or faults, never a panic, and every fault can be read.
    #[test]
    fn wild_inputs_never_panic(
        teeth in prop::array::uniform3(prop_oneof![0u32..120, any::<u32>()]),
        planets in prop_oneof![0u32..8, any::<u32>()],
        sizes in prop::array::uniform4(prop_oneof![0f64..3.0, any::<f64>()]),
        rack in prop::array::uniform4(prop_oneof![0f64..1.5, any::<f64>()]),
        shifts in prop::array::uniform3(prop::option::of(prop_oneof![-2f64..2.0, any::<f64>()])),
    ) {
        let [sun_shift, planet_shift, ring_shift] = shifts.map(|shift| shift.map_or(Shift::Auto, Shift::Fixed));
        let wild = StageInput {
            sun_teeth: teeth[0],
            planet_teeth: teeth[1],
            ring_teeth: teeth[2],
            planets,
            rack: Rack { pressure_angle: rack[0], addendum: rack[1], dedendum: rack[2], fillet: rack[3] },
            normal_module: sizes[0],
            helix_angle: sizes[1],
            face_width: sizes[2],
            backlash: sizes[3],
            sun_shift,
            planet_shift,
            ring_shift,
            shift_rule: ShiftRule::BalancedSliding,
            spacing: Spacing::Nearest,
            tooth_form: ToothForm::Herringbone,
        };
        check_wild(&wild);
    }

    /// Plausible counts with shifts anywhere in their range: nearer to the geometry's own limits.
    #[test]
    fn stretched_inputs_never_panic(
        (sun, planet, excess) in (5u32..60, 5u32..80, -4i32..=4),
        planets in 2u32..=6,
        shifts in prop::array::uniform3(prop::option::of(-1.5f64..=1.5)),
        (module, helix, backlash) in (0.1f64..5.0, -45f64..45.0, 0.0f64..0.3),
        (pressure_angle, fillet) in (14f64..30.0, 0.05f64..0.5),
    ) {
        let [sun_shift, planet_shift, ring_shift] = shifts.map(|shift| shift.map_or(Shift::Auto, Shift::Fixed));
        let Some(ring) = (sun + 2 * planet).checked_add_signed(excess) else { return Ok(()) };
        check_wild(&StageInput {
            rack: Rack { pressure_angle: pressure_angle.to_radians(), fillet, ..Rack::ISO_53_A },
            normal_module: module,
            helix_angle: helix.to_radians(),
            backlash: backlash * module,
            sun_shift,
            planet_shift,
            ring_shift,
            ..input([sun, planet, ring], planets)
        });
    }
}

fn check_wild(input: &StageInput) {
    match Stage::solve(input) {
        Ok(stage) => {
            for gear in [stage.sun, stage.planet, stage.ring] {
                let outline = gear.profile(1e-3);
                assert!(outline.is_ok(), "{outline:?} {gear:?} {input:?}");
            }
        }
        Err(faults) => {
            assert!(!faults.is_empty());
            for fault in faults {
                assert!(!fault.to_string().is_empty());
            }
        }
    }
}

#[test]
fn counts_that_do_not_assemble_name_their_neighbours() {
    assert_eq!(
        text(&input([16, 24, 64], 3)),
        [
            "16/24/64 cannot take 3 equally spaced planets (80/3 is not whole). Nearest: 15/24/63, 18/24/66, or 4 \
             planets. Or spacing = \"nearest\": planets at 0.00, 121.50, 238.50 deg."
        ]
    );
}

#[test]
fn all_faults_of_the_numbers_are_told_at_once() {
    let wrong = StageInput {
        sun_teeth: 0,
        normal_module: -1.0,
        helix_angle: 1.0,
        face_width: f64::NAN,
        rack: Rack { pressure_angle: 0.1, ..Rack::ISO_53_A },
        ..input([16, 24, 64], 3)
    };
    let found = text(&wrong);
    assert_eq!(
        found,
        [
            "The sun cannot have 0 teeth: 5 to 300 are possible.",
            "normal module is -1 mm: 0.1 to 20 mm is possible.",
            "face width is NaN mm: 0.1 to 500 mm is possible.",
            "helix angle is 57.30 deg: -45.0 to 45.0 deg is possible.",
            "pressure angle is 5.73 deg: 14.0 to 30.0 deg is possible.",
        ]
    );
}

#[test]
fn assembly_and_geometry_are_told_together() {
    let found = faults(&StageInput { sun_shift: Shift::Fixed(-0.5), ..input([16, 24, 64], 3) });
    assert!(matches!(found[0], StageFault::NotAssemblable { .. }), "{found:?}");
    assert!(found.iter().any(|fault| matches!(fault, StageFault::Undercut { .. })), "{found:?}");
}

#[test]
fn planets_that_touch() {
    let found = text(&input([12, 42, 96], 4));
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].starts_with("Planets would touch: gap -4.5"), "{found:?}");
    assert!(found[0].contains("3 planets fit; or a lower ratio (4 planets: about 5."), "{found:?}");
}

#[test]
fn undercut_beyond_the_practical_limit() {
    let found = text(&StageInput { sun_shift: Shift::Fixed(-0.05), ..input([12, 42, 96], 3) });
    assert_eq!(found, ["The sun's teeth are undercut with shift -0.050: 0.167 is the limit, 0.20 would do."]);
    // Within the practical limit it is built, and said.
    let stage = solved(&StageInput { sun_shift: Shift::Fixed(0.0), ..input([12, 42, 96], 3) });
    assert!(stage.sun.is_undercut() && near(stage.sun.undercut_depth, 0.167 * 0.8, 1e-3));
}

#[test]
fn pointed_teeth() {
    let found = faults(&StageInput { sun_shift: Shift::Fixed(1.4), ..input([12, 42, 96], 3) });
    let pointed = found.iter().find_map(|fault| match fault {
        StageFault::PointedTooth { most_shift, .. } => *most_shift,
        _ => None,
    });
    let most = pointed.expect("a pointed tooth, and a shift that would do");
    // The shift named does, with the planet free to follow.
    let mended =
        Stage::solve(&StageInput { sun_shift: Shift::Fixed(most - 0.005), ..input([12, 42, 96], 3) });
    let still_pointed = matches!(&mended, Err(faults) if faults.iter().any(|fault| {
        matches!(fault, StageFault::PointedTooth { .. })
    }));
    assert!(!still_pointed, "{most} {mended:?}");
}

#[test]
fn rings_that_do_not_fit_the_others() {
    let found = text(&input([12, 42, 114], 3));
    assert_eq!(
        found,
        [
            "12/42/114: sun and planet want a centre distance of 22.986 mm, planet and ring 30.648; profile shift cannot \
             bridge that. Ring of 96 (sun + 2 x planet), or one tooth off."
        ]
    );
    let disagreeing = text(&StageInput {
        sun_shift: Shift::Fixed(0.2),
        planet_shift: Shift::Fixed(-0.2),
        ring_shift: Shift::Fixed(0.3),
        ..input([12, 42, 96], 3)
    });
    assert_eq!(disagreeing.len(), 1);
    assert!(disagreeing[0].contains("ring shift -0.2000 agrees"), "{disagreeing:?}");
}

#[test]
fn a_fillet_that_does_not_fit_the_rack() {
    let found = text(&StageInput { rack: Rack { fillet: 0.55, ..Rack::ISO_53_A }, ..input([12, 42, 96], 3) });
    assert!(found[0].starts_with("Rack fillet 0.55 does not fit"), "{found:?}");
    let found = text(&StageInput {
        rack: Rack { dedendum: 1.1, fillet: 0.3, ..Rack::ISO_53_A },
        ..input([12, 42, 96], 3)
    });
    assert!(found[0].contains("straight flank only 0.903 deep"), "{found:?}");
}

/// Places at multiples of 2 pi / (zs + zr), SDP/SI eq. 13-7: 80 of them, 26.67 apart for three planets.
#[test]
fn nearest_unequal_places() {
    let stage = solved(&StageInput { spacing: Spacing::Nearest, ..input([16, 24, 64], 3) });
    let places: Vec<f64> = (0..3).map(|index| stage.spacing.position(index).to_degrees() / 4.5).collect();
    assert!(!stage.spacing.is_equal());
    for (found, expected) in places.iter().zip([0.0, 27.0, 53.0]) {
        assert!((found - expected).abs() < 1e-12, "{found} {expected}");
    }
    // Two planets 26 places apart are the nearest neighbours.
    let gap = 2.0 * stage.centre_distance * (26.0 * 2.25f64).to_radians().sin() - stage.planet.tip_diameter;
    assert!((stage.planet_gap - gap).abs() < 1e-9, "{} {gap}", stage.planet_gap);
    assert!(stage.spacing.imbalance() > 0.0 && stage.spacing.imbalance() < 0.02);
    // A set that divides is spaced equally all the same.
    let equal = solved(&StageInput { spacing: Spacing::Nearest, ..input([15, 24, 63], 3) });
    assert!(equal.spacing.is_equal());
}

/// Balanced shifts slide alike at both roots, to what a hundredth of shift leaves; the rule's own tip clearance holds.
#[test]
fn balanced_sliding_balances() {
    for teeth in [[16, 24, 64], [15, 24, 63], [20, 20, 60]] {
        let rule = |shift_rule| StageInput { shift_rule, helix_angle: 0.0, ..input(teeth, 4) };
        let nearest = |input: StageInput| solved(&StageInput { spacing: Spacing::Nearest, ..input });
        let balanced = nearest(rule(ShiftRule::BalancedSliding));
        let least = nearest(rule(ShiftRule::UndercutFree));
        let worst = |stage: &Stage| stage.sun_mesh.specific_sliding.into_iter().fold(0.0, f64::max);
        let [sun, planet] = balanced.sun_mesh.specific_sliding;
        assert!((sun / planet - 1.0).abs() < 0.12, "{teeth:?}: {sun} {planet}");
        assert!(
            worst(&balanced) <= worst(&least) + 1e-9,
            "{teeth:?}: {} {}",
            worst(&balanced),
            worst(&least)
        );
        assert!((balanced.centre_distance - least.centre_distance).abs() < 1e-9);
    }
}

/// Each half of a herringbone has half the overlap; the rest of the mesh is the helical one's.
#[test]
fn herringbone_halves_the_overlap() {
    let helical = solved(&input([15, 24, 63], 3));
    let herringbone = solved(&StageInput { tooth_form: ToothForm::Herringbone, ..input([15, 24, 63], 3) });
    assert!((herringbone.overlap_ratio - 0.5 * helical.overlap_ratio).abs() < 1e-12);
    assert_eq!(herringbone.sun, helical.sun);
}
