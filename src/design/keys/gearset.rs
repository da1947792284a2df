//! `[gearset]`: the planetary stage.

use std::f64::consts::PI;

use crate::design::key::Takes;
use crate::design::model::{GearSource, Hand, Lubrication, RingKind, Shift, ShiftRule, Spacing, ToothForm};
use crate::design::section::{choice, section};
use crate::design::value::Choice;
use crate::quantity::Kind;

choice!(GearSource { "print" => GearSource::Print, "buy" => GearSource::Buy, });
choice!(RingKind { "cut" => RingKind::Cut, "insert" => RingKind::Insert, });
choice!(Lubrication { "dry" => Lubrication::Dry, "greased" => Lubrication::Greased, });
choice!(ToothForm {
    "helical" => ToothForm::Helical,
    "straight" => ToothForm::Straight,
    "herringbone" => ToothForm::Herringbone,
});
choice!(ShiftRule {
    "undercut-free" => ShiftRule::UndercutFree,
    "balanced-sliding" => ShiftRule::BalancedSliding,
});
choice!(Spacing { "equal" => Spacing::Equal, "nearest" => Spacing::Nearest, });
choice!(Hand { "right" => Hand::Right, "left" => Hand::Left, });

const DEGREE: f64 = PI / 180.0;
/// Beyond one module of shift no tooth of a planetary stage is left whole.
const SHIFT: Takes = Takes::NumberOrAuto { least: -1.0, most: 1.0 };

section! {
    "The planetary stage: sun driven by the rotor, ring fixed, carrier turning."
    pub struct GearsetKeys {
        sun_teeth: u32 = Takes::Count { least: 5, most: 400 }, [required], "12", "Teeth of the sun.";
        planet_teeth: u32 = Takes::Count { least: 5, most: 400 }, [required], "42", "Teeth of a planet.";
        ring_teeth: u32 = Takes::Count { least: 5, most: 400 }, [required], "96", "Teeth of the ring; sun + 2 planets, or close to it.";
        planets: u32 = Takes::Count { least: 1, most: 8 }, [required], "3", "How many planets.";
        normal_module: f64 = Takes::length(0.3, 5.0), [required], "0.8 mm", "Normal module; 0.8 and more prints.";
        pressure_angle: f64 = Takes::Quantity { kind: Kind::Angle, least: 10.0 * DEGREE, most: 35.0 * DEGREE },
            [default "20 deg" "ISO 53."], "20 deg", "Normal pressure angle.";
        teeth: ToothForm = Takes::Choice(<ToothForm as Choice>::WORDS),
            [default "helical" "Quiet; assembles by turning."], "helical",
            "How the teeth run: helical; straight (no thrust, louder); herringbone (no thrust, quiet, wants a split ring and a bought sun).";
        addendum: f64 = Takes::Number { least: 0.5, most: 1.5 }, [default "1" "ISO 53."], "1", "Addendum of the basic rack, in modules.";
        dedendum: f64 = Takes::Number { least: 0.6, most: 2.0 }, [default "1.25" "ISO 53, profile A."], "1.25", "Dedendum of the basic rack, in modules.";
        rack_fillet: f64 = Takes::Number { least: 0.05, most: 0.6 }, [default "0.38" "ISO 53, profile A."], "0.38", "Root fillet of the basic rack, in modules.";
        helix_angle: f64 = Takes::Quantity { kind: Kind::Angle, least: 0.0, most: 45.0 * DEGREE },
            [default "20 deg" "Quiet, and the axial couple stays small (common practice, no source)."], "20 deg", "Helix angle; 0 for spur teeth.";
        hand: Hand = Takes::Choice(<Hand as Choice>::WORDS),
            [optional "Left if the loaded direction is counter-clockwise, else right: so the sun's thrust pushes the rotor onto its stator."], "right",
            "Hand of the sun's teeth.";
        loaded_direction: Turning = Takes::Choice(<Turning as Choice>::WORDS), [optional "Both alike."], "both",
            "Output direction that works hardest, seen from the output.";
        face_width: f64 = Takes::length(2.0, 100.0), [required], "14 mm", "Width of the planets' teeth.";
        backlash: f64 = Takes::length(0.0, 2.0), [optional "0.12 mm + 0.02 x module (common practice, from memory)."], "0.14 mm",
            "Backlash of each mesh at the pitch circle.";
        sun_shift: Shift = SHIFT, [default "auto" "Chosen against undercut, and to suit the centre distance."], "auto", "Profile shift of the sun.";
        planet_shift: Shift = SHIFT, [default "auto" "Chosen with the sun's."], "auto", "Profile shift of the planets.";
        ring_shift: Shift = SHIFT, [default "auto" "Chosen with the sun's."], "auto", "Profile shift of the ring.";
        shift_rule: ShiftRule = Takes::Choice(<ShiftRule as Choice>::WORDS),
            [default "undercut-free" "The least shifts leave the tips broad."], "balanced-sliding",
            "How shifts of sun and planet that are left \"auto\" are chosen: just free of undercut, or so that both roots slide alike.";
        spacing: Spacing = Takes::Choice(<Spacing as Choice>::WORDS),
            [default "equal" "The forces of equally spaced planets balance."], "nearest",
            "Equally spaced planets, or at the nearest places where teeth that don't divide go in.";
        tip_relief: f64 = Takes::length(0.0, 0.3), [default "0 mm" "The nominal involute."], "0.03 mm",
            "Taken off the flanks of printed gears at their tips, so that bent teeth don't knock.";
        tip_relief_height: f64 = Takes::length(0.05, 5.0), [optional "0.4 x module."], "0.3 mm", "Where the tip relief begins, below the tip.";
        root_relief: f64 = Takes::length(0.0, 1.0), [default "0 mm" "The rack's own clearance."], "0.1 mm",
            "Further depth of the tooth spaces, for blobs and corners that print round.";
        face_chamfer: f64 = Takes::length(0.0, 0.5), [default "0.15 mm" "Tips of small teeth are 0.5 mm wide (common practice, no source)."], "0.15 mm",
            "Chamfer of printed teeth at both faces, by which they are thinned.";
        sun: SunKeys = Takes::Section(SunKeys::SECTION), [default "{}" "See its keys."], "{ made = \"buy\" }", "How the sun is made.";
        planet: PlanetKeys = Takes::Section(PlanetKeys::SECTION), [default "{}" "See its keys."], "{ made = \"print\" }", "How the planets are made.";
        ring: RingKeys = Takes::Section(RingKeys::SECTION), [default "{}" "See its keys."], "{ made = \"cut\" }", "How the ring is made.";
        lubrication: Lubrication = Takes::Choice(<Lubrication as Choice>::WORDS),
            [default "greased" "Greased once, when put together."], "greased", "What is between the teeth.";
        friction: f64 = Takes::Number { least: 0.0, most: 0.6 }, [default "0.2" "Printed and greased, 0.15 to 0.3 (from memory)."], "0.2",
            "Friction coefficient of the teeth.";
        drag: f64 = Takes::Quantity { kind: Kind::Torque, least: 0.0, most: 100.0 },
            [optional "1 % of the peak torque: a guess until it is measured (estimate, no source)."], "0.15 N m",
            "Torque that turns the output slowly with the motor taken off: bearings, grease, misfit.";
        efficiency: f64 = Takes::Number { least: 0.1, most: 1.0 },
            [default "0.85" "Measured printed stages reach 0.60 to 0.85 (arXiv 2510.07197 and others): the upper end, which loads the parts most."],
            "0.85", "Share of the torque that arrives at the output.";
    }
}

/// Output direction that is loaded most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turning {
    Both,
    Clockwise,
    CounterClockwise,
}

choice!(Turning {
    "both" => Turning::Both,
    "clockwise" => Turning::Clockwise,
    "counter-clockwise" => Turning::CounterClockwise,
});

section! {
    "How the sun is made." shorthand "made"
    pub struct SunKeys {
        made: GearSource = Takes::Choice(<GearSource as Choice>::WORDS),
            [default "buy" "A printed sun is the weakest gear; a bought one is a cut length of gear stock."], "buy", "Printed with the rotor adapter, or bought.";
        material: String = Takes::Text, [optional "Bought: steel. Printed: as in [parts]."], "steel", "What it is made of.";
    }
}

section! {
    "How the planets are made." shorthand "made"
    pub struct PlanetKeys {
        made: GearSource = Takes::Choice(<GearSource as Choice>::WORDS), [default "print" "Printed planets are cheap and quiet."], "print", "Printed or bought.";
        material: String = Takes::Text, [optional "Bought: steel. Printed: as in [parts]."], "PA12", "What they are made of.";
        bearing: String = Takes::Text, [optional "As in [bearings]."], "688", "Bearing at both ends of a planet; same as bearings.planet.";
        bush: BushKeys = Takes::Section(BushKeys::SECTION), [optional "Two ball bearings."], "{ bore = \"6 mm\", outer = \"8 mm\" }",
            "A plain bush as long as the planet, in place of the bearings.";
        pin: f64 = Takes::length(2.0, 20.0), [optional "The bearing's bore."], "8 mm", "Diameter of the planet pins.";
    }
}

section! {
    "A plain bush in each planet."
    pub struct BushKeys {
        bore: f64 = Takes::length(2.0, 20.0), [required], "6 mm", "Bore: the pin's diameter.";
        outer: f64 = Takes::length(3.0, 40.0), [required], "8 mm", "Outside.";
        pressure_limit: f64 = Takes::Quantity { kind: Kind::Stress, least: 0.1, most: 300.0 },
            [default "20 MPa" "Sintered bronze, oiled, turning slowly (from memory)."], "20 MPa", "Mean pressure it bears.";
        pv_limit: f64 = Takes::Number { least: 0.01, most: 50.0 },
            [default "1.8" "Sintered bronze, oiled (from memory)."], "1.8", "Pressure times sliding speed it bears, MPa m/s.";
    }
}

section! {
    "How the ring is made." shorthand "made"
    pub struct RingKeys {
        made: RingKind = Takes::Choice(<RingKind as Choice>::WORDS),
            [default "cut" "Smallest outside; an insert can be exchanged on the bench."], "cut", "Teeth in the housing, or a keyed insert.";
        material: String = Takes::Text, [optional "As in [parts]."], "PETG", "What it is printed of.";
    }
}
