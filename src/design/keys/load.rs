//! `[load]`: what hangs on the output.

use std::f64::consts::PI;

use crate::design::key::Takes;
use crate::design::section::section;
use crate::quantity::Kind;

/// Two tonnes: no printed joint carries it.
const LARGEST_FORCE: f64 = 20_000.0;

section! {
    "What hangs on the output."
    pub struct LoadKeys {
        arm: f64 = Takes::length(0.0, 5000.0), [default "300 mm" "Reach of a small arm (common practice, no source)."], "350 mm",
            "Lever from the axis to the hanging weight, at right angles to the axis.";
        weight: f64 = Takes::Quantity { kind: Kind::Weight, least: 0.0, most: LARGEST_FORCE },
            [optional "What the peak torque just holds at the arm."], "2 kg", "Hanging weight, as a force or a mass.";
        inertia: f64 = Takes::Quantity { kind: Kind::Inertia, least: 0.0, most: 1000.0 },
            [optional "The weight as a point at the arm."], "0.2 kg m2", "Inertia of all that hangs on the output, about its axis.";
        drop: f64 = Takes::length(0.1, 2000.0),
            [optional "Nothing falls."], "50 mm", "Height that the weight at the arm falls, or lands from, before the joint takes it.";
        radial: f64 = Takes::Quantity { kind: Kind::Force, least: 0.0, most: LARGEST_FORCE }, [default "0 N" "None."], "20 N",
            "Further radial load.";
        axial: f64 = Takes::Quantity { kind: Kind::Force, least: -LARGEST_FORCE, most: LARGEST_FORCE }, [default "0 N" "None."], "10 N",
            "Axial load; positive pulls the output away from the housing.";
        overhang: f64 = Takes::length(-500.0, 1000.0), [default "15 mm" "Middle of a bolted-on link (common practice, no source)."], "20 mm",
            "Output face to the plane of weight and radial load.";
        shock: f64 = Takes::Number { least: 1.0, most: 5.0 }, [default "1.3" "Light shocks of a working arm (common practice, no source)."], "1.3",
            "Factor on the loads for shock.";
        oscillation: f64 = Takes::Quantity { kind: Kind::Angle, least: 0.5 * PI / 180.0, most: 2.0 * PI },
            [optional "It turns through."], "45 deg", "Half of the swing, when the joint swings to and fro.";
        rate: f64 = Takes::Quantity { kind: Kind::Frequency, least: 0.001, most: 100.0 },
            [default "0.5 Hz" "A swing in two seconds (common practice, no source)."], "0.5 Hz", "Swings or turns per time while working.";
    }
}
