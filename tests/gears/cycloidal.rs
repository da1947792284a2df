//! The cycloidal disc stage: one loop over `published/cycloidal.toml`, and the disc against every pin while it turns.

use crate::support::published::{cases, get, numbers};
use hubwright::ratings::cycloidal::Cycloidal;
use toml::Table;

fn disc(case: &Table) -> Cycloidal {
    let sizes = numbers(&case["sizes"]);
    let [output_pins, output_circle] = match case.get("output_pins") {
        Some(pins) => [numbers(pins)[0], numbers(pins)[1]],
        None => [6.0, 20.0],
    };
    Cycloidal {
        pin_circle: sizes[0],
        pin_radius: sizes[1],
        eccentricity: sizes[2],
        pins: sizes[3] as u32,
        output_pins: output_pins as u32,
        output_circle,
    }
}

fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} against {expected}");
}

#[test]
fn profiles() {
    for case in cases("cycloidal", "profile") {
        let disc = disc(&case);
        near(disc.shortening(), get(&case, "shortening"), 1e-12, "E N / R");
        // The values were found on a grid, to about five digits.
        near(
            disc.least_convex_radius().expect("convex somewhere"),
            get(&case, "least_convex_radius"),
            1e-4,
            "least radius",
        );
        for (degrees, key) in [(5.0_f64, "at_5_degrees"), (10.0, "at_10_degrees")] {
            let (found, printed) = (disc.profile(degrees.to_radians()), numbers(&case[key]));
            near(found[0], printed[0], 0.501e-5, key);
            near(found[1], printed[1], 0.501e-5, key);
        }
        let radii: Vec<f64> = (0..7200)
            .map(|step| disc.profile(f64::from(step) * std::f64::consts::TAU / 7200.0))
            .map(|[x, y]| x.hypot(y))
            .collect();
        let printed = numbers(&case["radii"]);
        near(radii.iter().copied().fold(0.0, f64::max), printed[0], 1e-4, "outside");
        near(radii.iter().copied().fold(f64::INFINITY, f64::min), printed[1], 1e-4, "root");
        near(disc.disc_outer_radius(), printed[0], 1e-12, "outside by formula");
    }
}

#[test]
fn the_disc_touches_every_pin_while_it_turns() {
    for case in cases("cycloidal", "profile") {
        let disc = disc(&case);
        let steps = 40_000;
        let points: Vec<[f64; 2]> = (0..steps)
            .map(|step| disc.profile(f64::from(step) * std::f64::consts::TAU / f64::from(steps)))
            .collect();
        for turn in [0.0_f64, 0.7, 2.1] {
            let back = -turn / f64::from(disc.lobes());
            let centre = [disc.eccentricity * turn.cos(), disc.eccentricity * turn.sin()];
            for pin in 0..disc.pins {
                let angle = std::f64::consts::TAU * f64::from(pin) / f64::from(disc.pins);
                let at = [disc.pin_circle * angle.cos(), disc.pin_circle * angle.sin()];
                let nearest = points
                    .iter()
                    .map(|[x, y]| {
                        let moved = [
                            x * back.cos() - y * back.sin() + centre[0],
                            x * back.sin() + y * back.cos() + centre[1],
                        ];
                        (moved[0] - at[0]).hypot(moved[1] - at[1])
                    })
                    .fold(f64::INFINITY, f64::min);
                near(nearest, disc.pin_radius, 1e-4, "disc to pin");
            }
        }
    }
}

#[test]
fn forces_and_losses() {
    for case in cases("cycloidal", "forces") {
        let disc = disc(&case);
        let moment = get(&case, "moment");
        let forces = disc.forces(moment, get(&case, "turn")).expect("in range");
        assert_eq!(f64::from(forces.loaded), get(&case, "loaded"));
        // Printed to five or six digits.
        let printed = |found: f64, key: &str| near(found, get(&case, key), 4e-5 * get(&case, key), key);
        printed(forces.largest_pin, "largest_pin");
        printed(forces.along.abs(), "along");
        printed(forces.across, "across");
        printed(forces.largest_output_pin, "largest_output_pin");
        printed(forces.output_pins, "output_pins_sum");
        printed(forces.eccentric_bearing, "eccentric_bearing");
        near(forces.across, moment / (disc.eccentricity * f64::from(disc.lobes())), 1e-6, "M / (E zc)");
        near(forces.largest_pin, get(&case, "short_pin"), 0.1 * get(&case, "short_pin"), "short form, pins");
        near(
            forces.largest_output_pin,
            get(&case, "short_output_pin"),
            0.1 * get(&case, "short_output_pin"),
            "short form, output",
        );
        if let Some(losses) = case.get("losses") {
            for (found, printed) in forces.losses.iter().zip(numbers(losses)) {
                near(*found, printed, 0.00501, "loss per friction");
            }
        }
    }
}

#[test]
fn out_of_range_is_no_number() {
    let good = Cycloidal {
        pin_circle: 40.0,
        pin_radius: 4.0,
        eccentricity: 1.5,
        pins: 20,
        output_pins: 8,
        output_circle: 25.0,
    };
    assert!(good.forces(1.0, 0.0).is_some());
    // E N / R of 1 and more has loops.
    assert_eq!(Cycloidal { eccentricity: 2.0, ..good }.forces(1.0, 0.0), None);
    assert_eq!(Cycloidal { pins: 2, ..good }.least_convex_radius(), None);
}
