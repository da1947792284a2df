//! `[limits]`: safety factors and margins wanted.

use crate::design::key::Takes;
use crate::design::section::section;
use crate::quantity::Kind;

section! {
    "Safety factors and margins wanted."
    pub struct LimitsKeys {
        output_static_safety: f64 = Takes::Number { least: 0.1, most: 20.0 },
            [default "1.5" "Pronounced shock, normal running (SKF Rolling Bearings catalogue)."], "1.5", "Static safety of the output bearing.";
        planet_static_safety: f64 = Takes::Number { least: 0.1, most: 20.0 },
            [default "1.5" "Pronounced shock, normal running (SKF Rolling Bearings catalogue)."], "1.5", "Static safety of the planet bearings.";
        joint_factor: f64 = Takes::Number { least: 1.0, most: 20.0 },
            [default "3" "Impact, and plastic whose strength is a guess (common practice, no source)."], "3", "Sun joint, output crown and ring lobes over peak torque.";
        keeper_factor: f64 = Takes::Number { least: 1.0, most: 20.0 },
            [default "2" "Pull-out of inserts is only an estimate (common practice, no source)."], "2", "Keeper inserts over the push load.";
        service_factor: f64 = Takes::Number { least: 1.0, most: 20.0 },
            [default "1.5" "Friction of plastic varies (common practice, no source)."], "1.5", "Friction of the service joint over the housing's torque.";
        reliability: f64 = Takes::Number { least: 0.9, most: 0.9995 }, [default "0.9" "What a basic rating life means (ISO 281)."], "0.95", "Share of bearings that reach the life.";
        output_tilt: f64 = Takes::Quantity { kind: Kind::Angle, least: 0.0, most: 0.2 }, [optional "Reported, not limited."], "5 mrad", "Most tipping of the output in its bearing's clearance.";
        output_backlash: f64 = Takes::Quantity { kind: Kind::Angle, least: 0.0, most: 0.2 }, [optional "Reported, not limited."], "1 deg", "Most backlash at the output.";
        metal_safety: f64 = Takes::Number { least: 1.0, most: 10.0 },
            [default "1.4" "Usual for a tooth root in handbooks (from memory)."], "1.4", "Safety of metal gears at root and flank.";
        printed_root_stress: f64 = Takes::Quantity { kind: Kind::Stress, least: 1.0, most: 200.0 },
            [default "30 MPa" "PETG breaks from 44 MPa in the layer plane; two thirds of it (estimate)."], "30 MPa", "Most at the tooth root of printed planets.";
    }
}
