//! The gears' outlines turned in mesh: gaps, overlaps and transmission error of the very shapes that are printed.
//!
//! The carrier stands still. The driver is turned through two tooth pitches; the driven gear first stands in the middle
//! of its play, then is turned onto either flank of the driver.

use hubwright::gears::{Gear, Mesh, Stage};
use hubwright::geometry::{Loop, Point};
use rayon::prelude::*;

use crate::contact::{Placed, Push, first_contact, least_gap};
use crate::stages::{demos, has_play, random_stages};

/// Half a micrometre an arc, as the parts are made; so two outlines together may be a micrometre out.
const TOLERANCE: f64 = 5e-4;

/// Of the gaps from the design backlash: the two outlines' tolerances.
const GAP: f64 = 2.0 * TOLERANCE;

/// Of the driven gear along the line of action, from the issue.
const TRANSMISSION_ERROR: f64 = 2e-3;

const STEPS_A_PITCH: u32 = 96;
const PITCHES: u32 = 2;

struct Outlines {
    sun: Loop,
    planet: Loop,
    ring: Loop,
}

impl Outlines {
    fn of(stage: &Stage) -> Outlines {
        let outline = |gear: &Gear| gear.profile(TOLERANCE).expect("an outline");
        Outlines { sun: outline(&stage.sun), planet: outline(&stage.planet), ring: outline(&stage.ring) }
    }
}

/// Two gears in mesh at one position of the driver.
struct Meshing<'a> {
    mesh: &'a Mesh,
    driver: Placed<'a>,
    driven: Placed<'a>,
}

/// The worst of what was found over a number of positions \[mm\].
#[derive(Clone, Copy, Debug)]
struct Worst {
    /// Of the gap on either flank in the middle of the play, from what half the backlash comes to.
    narrow: f64,
    wide: f64,
    /// Of the play from flank to flank, at the working pitch circle.
    play: f64,
    transmission_error: f64,
}

impl Worst {
    const NONE: Worst = Worst { narrow: 0.0, wide: 0.0, play: 0.0, transmission_error: 0.0 };

    fn or(self, other: Worst) -> Worst {
        Worst {
            narrow: self.narrow.max(other.narrow),
            wide: self.wide.max(other.wide),
            play: self.play.max(other.play),
            transmission_error: self.transmission_error.max(other.transmission_error),
        }
    }
}

/// Sun and planet, then planet and ring, with the sun turned by `pitches`.
fn meshings<'a>(stage: &'a Stage, outlines: &'a Outlines, index: u32, pitches: f64) -> [Meshing<'a>; 2] {
    let phase = stage.planet_phase(index);
    let sun = Placed {
        gear: &stage.sun,
        outline: &outlines.sun,
        axis: Point::ORIGIN,
        turn: pitches * stage.sun.pitch_angle(),
    };
    let planet = Placed {
        gear: &stage.planet,
        outline: &outlines.planet,
        axis: Point::polar(stage.centre_distance, phase.position),
        turn: phase.turn - pitches * stage.planet.pitch_angle(),
    };
    let ring = Placed {
        gear: &stage.ring,
        outline: &outlines.ring,
        axis: Point::ORIGIN,
        turn: stage.ring_turn() - pitches * stage.ring.pitch_angle(),
    };
    [
        Meshing { mesh: &stage.sun_mesh, driver: sun, driven: planet },
        Meshing { mesh: &stage.ring_mesh, driver: planet, driven: ring },
    ]
}

impl Meshing<'_> {
    /// The section's flanks are always in contact: a helical gear may do without, one section handing over to the next.
    fn is_continuous(&self) -> bool {
        self.mesh.contact_ratio >= 1.0
    }

    fn check(&self, stage: &Stage) -> Worst {
        let half = 0.5 * stage.backlash * self.mesh.working_pressure_angle.cos();
        let gap = least_gap(&self.driver, &self.driven);
        assert!(gap > 0.0, "overlap: {stage:?}");
        if !self.is_continuous() {
            return Worst { narrow: half - gap, ..Worst::NONE };
        }
        let pitch_radius = 0.5 * self.mesh.pitch_diameters[1];
        let half_play = 0.5 * stage.backlash / pitch_radius;
        // A twentieth of a pitch beyond the flank: any error worth the name is within.
        let window = half_play + 0.05 * self.driven.gear.pitch_angle();
        let on_flank = |push: Push| {
            first_contact(&self.driver, &self.driven, push, window)
                .unwrap_or_else(|| panic!("no contact: {stage:?}"))
        };
        let (behind, ahead) = (on_flank(Push::CounterClockwise), on_flank(Push::Clockwise));
        let base_radius = 0.5 * self.driven.gear.base_diameter;
        let errors =
            [behind - self.driven.turn + half_play, ahead - self.driven.turn - half_play].map(f64::abs);
        Worst {
            narrow: half - gap,
            wide: gap - half,
            play: ((ahead - behind) * pitch_radius - stage.backlash).abs(),
            transmission_error: errors[0].max(errors[1]) * base_radius,
        }
    }
}

/// All planets; the first in fine steps, the others are the same gears in another phase.
fn check_stage(stage: &Stage) -> [Worst; 2] {
    let outlines = Outlines::of(stage);
    let mut worst = [Worst::NONE; 2];
    for index in 0..stage.planets {
        let steps = if index == 0 { STEPS_A_PITCH * PITCHES } else { 3 };
        for step in 0..steps {
            let pitches = f64::from(PITCHES * step) / f64::from(steps);
            let found = meshings(stage, &outlines, index, pitches).map(|meshing| meshing.check(stage));
            worst = [worst[0].or(found[0]), worst[1].or(found[1])];
        }
    }
    for Worst { narrow, wide, play, transmission_error } in worst {
        assert!(narrow < GAP && wide < GAP && play < 2.0 * GAP, "{worst:?} {stage:?}");
        assert!(transmission_error < TRANSMISSION_ERROR, "{worst:?} {stage:?}");
    }
    worst
}

fn print(name: &str, worst: [Worst; 2]) {
    for (mesh, found) in ["sun and planet", "planet and ring"].into_iter().zip(worst) {
        let Worst { narrow, wide, play, transmission_error } = found;
        let [narrow, wide, play, error] = [narrow, wide, play, transmission_error].map(|value| 1e3 * value);
        println!(
            "{name:16} {mesh:16} gap -{narrow:.3} +{wide:.3}, play {play:.3}, transmission error {error:.3} um"
        );
    }
}

#[test]
fn demos_mesh() {
    for (name, stage) in demos() {
        print(name, check_stage(&stage));
    }
}

#[test]
fn random_stages_mesh() {
    const STAGES: usize = 100;
    let stages = random_stages(STAGES, has_play);
    let worst =
        stages.par_iter().map(check_stage).reduce(|| [Worst::NONE; 2], |a, b| [a[0].or(b[0]), a[1].or(b[1])]);
    print("random stages", worst);
    let broken = |ratio: fn(&Stage) -> f64| stages.iter().filter(|stage| ratio(stage) < 1.0).count();
    let [sun, ring] = [broken(|stage| stage.contact_ratio_sun), broken(|stage| stage.contact_ratio_ring)];
    println!("contact of the section interrupted: {sun} with the sun, {ring} with the ring, of {STAGES}");
    // Else the figures above would stand for few.
    assert!(sun + ring < STAGES / 5);
}

/// The measures measure: gears brought nearer, or fatter, by a known amount lose the gap it stands for, and overlap in
/// the end.
#[test]
fn wrong_gears_are_found() {
    for (_, stage) in demos() {
        let outlines = Outlines::of(&stage);
        let [Meshing { driver, driven, .. }, _] = meshings(&stage, &outlines, 0, 0.3);
        let nearer =
            |by: f64| least_gap(&driver, &Placed { axis: driven.axis - Point::new(by, 0.0), ..driven });
        let lost = nearer(0.0) - nearer(0.02);
        let expected = 0.02 * stage.working_pressure_angle_sun.sin();
        assert!((lost - expected).abs() < GAP, "{lost} {expected}");
        assert_eq!(nearer(0.5 * stage.transverse_module), 0.0);

        let by = 0.02;
        let fat = stage.planet.profile_grown(by, TOLERANCE).expect("an outline");
        let fat = Placed { outline: &fat, ..driven };
        let lost = nearer(0.0) - least_gap(&driver, &fat);
        assert!((lost - by).abs() < GAP, "{lost}");
        let on_flank = |gear: &Placed| first_contact(&driver, gear, Push::Clockwise, 0.1).expect("contact");
        let moved = (on_flank(&driven) - on_flank(&fat)) * 0.5 * stage.planet.base_diameter;
        assert!((moved - by).abs() < GAP, "{moved}");

        // A tooth where a space should be.
        let turn = driven.turn + 0.5 * stage.planet.pitch_angle();
        assert_eq!(least_gap(&driver, &Placed { turn, ..driven }), 0.0);
    }
}
