//! The keys of a robot file that a requirement file doesn't have.

use crate::demand::Axis;
use crate::design::key::Takes;
use crate::design::keys::LinkKeys;
use crate::design::section::{choice, section};
use crate::design::value::Choice;
use crate::quantity::Kind;

choice!(Axis { "level" => Axis::Level, "upright" => Axis::Upright, });

section! {
    "A robot: what all its joints share, and the joints."
    pub struct RobotKeys {
        name: String = Takes::Name, [default "robot" "Names the designs."], "weeder-arm", "Name of the robot.";
        about: String = Takes::Text, [optional "Empty."], "Tool arm of a weeding rover", "One line for the page.";
        lean: f64 = Takes::Quantity { kind: Kind::Angle, least: 0.0, most: std::f64::consts::FRAC_PI_4 },
            [default "0 deg" "Level ground."], "10 deg", "How far the ground leans: upright axes then lift what is on them.";
        sharing: SharingKeys = Takes::Section(SharingKeys::SECTION), [default "{}" "See its keys."], "", "What fewer kinds of parts are worth.";
    }
}

section! {
    "What fewer kinds of parts are worth, as mass of the whole robot: ranks the table and leaves nothing out."
    pub struct SharingKeys {
        motor_worth: f64 = Takes::Quantity { kind: Kind::Mass, least: 0.0, most: 100.0 },
            [default "100 g" "A matter of taste: one spare motor, one drive set-up the less."], "100 g", "One kind of motor fewer.";
        bearing_worth: f64 = Takes::Quantity { kind: Kind::Mass, least: 0.0, most: 100.0 },
            [default "20 g" "A matter of taste."], "20 g", "One kind of output bearing fewer.";
        kilogram_price: f64 = Takes::Number { least: 0.01, most: 1e6 },
            [optional "Prices don't rank."], "80", "What a kilogram less may cost, in the currency of the prices.";
        mass_step: f64 = Takes::Quantity { kind: Kind::Mass, least: 0.001, most: 1.0 },
            [default "25 g" "Finer than print masses are known."], "25 g", "An actuator hangs on the next joint with its mass rounded up to this.";
    }
}

section! {
    "A joint of the robot, besides what a requirement file says of it."
    pub struct JointKeys {
        name: String = Takes::Name, [required], "elbow", "Names its design.";
        count: u32 = Takes::Count { least: 1, most: 64 }, [default "1" "One."], "4", "How many the robot has, all alike.";
        on: String = Takes::Name, [optional "The body carries it."], "shoulder", "The joint that carries it, one nearer the body.";
        at: f64 = Takes::length(0.0, 5000.0), [optional "At the far end of that joint's link."], "280 mm", "Distance from that joint's axis, along its link.";
        axis: Axis = Takes::Choice(<Axis as Choice>::WORDS), [default "level" "Works against the weight."], "upright", "Which way its axis stands.";
        link: LinkKeys = Takes::Section(LinkKeys::SECTION), [optional "It moves only what it carries."],
            "{ mass = \"400 g\", length = \"300 mm\" }", "The link that it moves; its payload is what isn't a joint.";
        force: f64 = Takes::Quantity { kind: Kind::Force, least: 0.0, most: 20_000.0 }, [default "0 N" "None."], "30 N",
            "Pulls at the link's far end, whichever way loads most.";
    }
}
