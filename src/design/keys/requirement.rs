//! `[requirement]`: what the joint must do.

use crate::design::key::Takes;
use crate::design::section::section;
use crate::quantity::Kind;

/// Two lives of the fastest joints: beyond it somebody typed the wrong unit.
const LONGEST_LIFE: f64 = 200_000.0 * 3600.0;

section! {
    "What the joint must do."
    pub struct RequirementKeys {
        peak_torque: f64 = Takes::Quantity { kind: Kind::Torque, least: 0.01, most: 1000.0 },
            [optional "Lower current limit of motor and controller x torque constant x (1 - saturation) x ratio x efficiency."],
            "10 N m", "Highest torque at the output.";
        peak_time: f64 = Takes::Quantity { kind: Kind::Time, least: 0.01, most: 3600.0 },
            [default "3 s" "One hard move (common practice, no source)."], "3 s", "How long the peak lasts.";
        continuous_torque: f64 = Takes::Quantity { kind: Kind::Torque, least: 0.0, most: 1000.0 },
            [optional "Nothing is asked."], "4 N m", "Torque to be held for hours.";
        speed: f64 = Takes::Quantity { kind: Kind::RotationalSpeed, least: 0.0, most: 1000.0 },
            [optional "Nothing is asked."], "60 rpm", "Output speed wanted.";
        mass_limit: f64 = Takes::Quantity { kind: Kind::Mass, least: 0.01, most: 100.0 },
            [optional "Not limited."], "1000 g", "Most the whole actuator may weigh.";
        outer_diameter_limit: f64 = Takes::length(10.0, 500.0),
            [optional "Not limited."], "120 mm", "Largest outside of the housing.";
        height_limit: f64 = Takes::length(10.0, 500.0),
            [optional "Not limited."], "110 mm", "Greatest height, floor to output face.";
        life: f64 = Takes::Quantity { kind: Kind::Time, least: 3600.0, most: LONGEST_LIFE },
            [default "2000 h" "A year of 250 working days of 8 hours."], "2000 h", "Working hours asked of the bearings.";
        duty: String = Takes::Text, [optional "The peak alone."], "duty/weeding.csv", "Torque and speed over time, a CSV file.";
    }
}
