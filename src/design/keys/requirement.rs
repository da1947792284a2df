//! `[requirement]`: what the joint must do.

use std::f64::consts::PI;

use crate::demand::{Lasting, LegJoint};
use crate::design::key::Takes;
use crate::design::section::{choice, section};
use crate::design::value::Choice;
use crate::quantity::Kind;

/// A knee that folds fully or is straight carries no torque one could divide by.
const KNEE: Takes = Takes::Quantity { kind: Kind::Angle, least: 20.0 * PI / 180.0, most: 175.0 * PI / 180.0 };
const ELEVATION: Takes = Takes::Quantity { kind: Kind::Angle, least: -0.5 * PI, most: 0.5 * PI };
const LINK_MASS: Takes = Takes::Quantity { kind: Kind::Mass, least: 0.0, most: 500.0 };
/// Two lives of the fastest joints: beyond it somebody typed the wrong unit.
const LONGEST_LIFE: f64 = 200_000.0 * 3600.0;

choice!(Lasting { "moment" => Lasting::Moment, "hours" => Lasting::Hours, });
choice!(LegJoint { "knee" => LegJoint::Knee, "hip" => LegJoint::Hip, });

section! {
    "What the joint must do."
    pub struct RequirementKeys {
        peak_torque: f64 = Takes::Quantity { kind: Kind::Torque, least: 0.01, most: 1000.0 },
            [optional "What lever, link or leg ask, the most; without them the lower current limit of motor and controller x torque constant x (1 - saturation) x ratio x efficiency."],
            "10 N m", "Highest torque at the output.";
        peak_time: f64 = Takes::Quantity { kind: Kind::Time, least: 0.01, most: 3600.0 },
            [default "3 s" "One hard move (common practice, no source)."], "3 s", "How long the peak lasts.";
        continuous_torque: f64 = Takes::Quantity { kind: Kind::Torque, least: 0.0, most: 1000.0 },
            [optional "What lever, link or leg ask for hours; else nothing."], "4 N m", "Torque to be held for hours.";
        speed: f64 = Takes::Quantity { kind: Kind::RotationalSpeed, least: 0.0, most: 1000.0 },
            [optional "What link or leg ask; else nothing."], "60 rpm", "Output speed wanted.";
        lever: LeverKeys = Takes::Section(LeverKeys::SECTION), [optional "No weight on a lever."],
            "{ weight = \"10 lbf\", length = \"14.5 in\" }", "A weight on a lever, to be lifted.";
        link: LinkKeys = Takes::Section(LinkKeys::SECTION), [optional "No link."],
            "{ mass = \"1.2 kg\", length = \"400 mm\", payload = \"500 g\" }", "A link with its payload, to be held and swung.";
        leg: LegKeys = Takes::Section(LegKeys::SECTION), [optional "No leg."],
            "{ mass = \"12 kg\", thigh = \"200 mm\", shank = \"200 mm\" }", "A leg that carries a robot.";
        stiffness: f64 = Takes::Quantity { kind: Kind::Stiffness, least: 1e-3, most: 1e6 },
            [optional "Nothing is asked."], "60 N m/rad", "How stiff the output must feel, virtual spring and gears together.";
        damping_ratio: f64 = Takes::Number { least: 0.05, most: 2.0 },
            [default "0.7" "Settles fastest with 5 % of overshoot (textbook second-order system)."], "0.7", "Damping of the virtual spring with the load on.";
        hold_accuracy: f64 = Takes::Quantity { kind: Kind::Angle, least: 1e-5, most: PI },
            [optional "Nothing is asked."], "1 deg", "How far the output may stay from where the spring ought to hold it.";
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

section! {
    "A weight on a lever."
    pub struct LeverKeys {
        weight: f64 = Takes::Quantity { kind: Kind::Weight, least: 0.0, most: 20_000.0 }, [required], "10 lbf", "At its end, as a force or a mass.";
        length: f64 = Takes::length(1.0, 5000.0), [required], "14.5 in", "Axis to weight.";
        elevation: f64 = ELEVATION, [default "0 deg" "Level: the heaviest."], "30 deg", "Of the lever over or under the horizontal.";
        held: Lasting = Takes::Choice(<Lasting as Choice>::WORDS), [default "moment" "Lifted now and then."], "hours",
            "For a moment, or for hours: then the motor must stay cool.";
    }
}

section! {
    "A link with a payload at its end."
    pub struct LinkKeys {
        mass: f64 = LINK_MASS, [required], "1.2 kg", "Of the link alone.";
        length: f64 = Takes::length(1.0, 5000.0), [required], "400 mm", "Axis to far end.";
        centre: f64 = Takes::length(0.0, 5000.0), [optional "Half its length."], "180 mm", "Axis to the link's centre of mass.";
        payload: f64 = LINK_MASS, [default "0 g" "None."], "500 g", "At the far end.";
        elevation: f64 = ELEVATION, [default "0 deg" "Level: the heaviest."], "30 deg",
            "Posture of the heaviest hold, over or under the horizontal.";
        swing: f64 = Takes::Quantity { kind: Kind::Angle, least: 0.01, most: 4.0 * PI }, [optional "It isn't swung."], "90 deg",
            "Angle from rest to rest; with swing_time.";
        swing_time: f64 = Takes::Quantity { kind: Kind::Time, least: 0.01, most: 100.0 }, [optional "It isn't swung."], "0.6 s",
            "Time for the swing.";
        held: Lasting = Takes::Choice(<Lasting as Choice>::WORDS), [default "moment" "Moved now and then."], "hours",
            "For a moment, or for hours: then the motor must stay cool.";
    }
}

section! {
    "A leg of two links, the foot on the ground below the hip."
    pub struct LegKeys {
        joint: LegJoint = Takes::Choice(<LegJoint as Choice>::WORDS), [default "knee" "It works hardest."], "knee", "Which joint of the leg this is.";
        mass: f64 = Takes::Quantity { kind: Kind::Mass, least: 0.1, most: 500.0 }, [required], "12 kg", "Moving mass of the robot.";
        legs: u32 = Takes::Count { least: 1, most: 8 }, [default "2" "A trot: two of four, or both of two."], "2", "How many stand at once.";
        thigh: f64 = Takes::length(10.0, 2000.0), [required], "200 mm", "Hip to knee.";
        shank: f64 = Takes::length(10.0, 2000.0), [required], "200 mm", "Knee to foot.";
        knee_angle: f64 = KNEE, [default "90 deg" "A deep crouch (common practice, no source)."], "90 deg",
            "Between thigh and shank in the deepest crouch; 180 deg is straight.";
        stretched: f64 = KNEE, [default "160 deg" "Short of straight, where a knee has no lift (common practice, no source)."], "160 deg",
            "The same where a push ends.";
        foot_offset: f64 = Takes::length(-2000.0, 2000.0), [default "0 mm" "Below the hip."], "60 mm", "The foot ahead of the hip or behind it: loads the hip.";
        jump: f64 = Takes::length(1.0, 2000.0), [optional "It only stands."], "100 mm", "How high it jumps.";
        held: Lasting = Takes::Choice(<Lasting as Choice>::WORDS), [default "moment" "It crouches now and then."], "hours",
            "For a moment, or for hours: then the motor must stay cool.";
    }
}
