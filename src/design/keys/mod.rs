//! The keys of the design file, a file a section. What is declared here is all there is.

mod bearings;
mod controller;
mod fasteners;
mod gearset;
mod limits;
mod load;
mod motor;
mod parts;
mod printer;
mod requirement;

pub use bearings::*;
pub use controller::*;
pub use fasteners::*;
pub use gearset::*;
pub use limits::*;
pub use load::*;
pub use motor::*;
pub use parts::*;
pub use printer::*;
pub use requirement::*;

use super::key::Takes;
use super::reader::Named;
use super::section::section;

section! {
    "One robot joint. Lengths, forces and all other quantities are texts with their unit, counts and ratios bare numbers."
    pub struct DesignKeys {
        name: String = Takes::Name, [optional "The file's own name, without its ending."], "weeder-shoulder",
            "Names the output folder.";
        about: String = Takes::Text, [optional "Empty."], "Shoulder joint of a weeding rover's tool arm", "One line for the report.";
        requirement: RequirementKeys = Takes::Section(RequirementKeys::SECTION), [default "{}" "See its keys."], "", "What the joint must do.";
        motor: MotorKeys = Takes::Section(MotorKeys::SECTION), [required], "", "The motor: a pancake outrunner, bell turning.";
        controller: ControllerKeys = Takes::Section(ControllerKeys::SECTION), [default "{}" "A small board; see its keys."], "", "Board and drive.";
        gearset: GearsetKeys = Takes::Section(GearsetKeys::SECTION), [required], "", "The planetary stage.";
        bearings: BearingsKeys = Takes::Section(BearingsKeys::SECTION), [required], "", "Output and planet bearings.";
        load: LoadKeys = Takes::Section(LoadKeys::SECTION), [default "{}" "See its keys."], "", "What hangs on the output.";
        fasteners: Named<FastenerKeys> = Takes::Named { names: JOINT_NAMES, section: FastenerKeys::SECTION },
            [default "{}" "Every joint follows the layout's rules."], "", "Screws forced on a joint; the rest follows the rules.";
        parts: Named<PartKeys> = Takes::Named { names: PART_NAMES, section: PartKeys::SECTION },
            [default "{}" "Every part has the defaults."], "", "How parts are printed: all of them, and single ones.";
        printer: PrinterKeys = Takes::Section(PrinterKeys::SECTION), [default "{}" "A 0.4 mm nozzle; see its keys."], "", "Printer, fits and limits of form.";
        limits: LimitsKeys = Takes::Section(LimitsKeys::SECTION), [default "{}" "See its keys."], "", "Safety factors and margins wanted.";
        ambient: AmbientKeys = Takes::Section(AmbientKeys::SECTION), [default "{}" "See its keys."], "", "Where it works.";
    }
}

section! {
    "Where it works."
    pub struct AmbientKeys {
        temperature: f64 = Takes::Quantity { kind: crate::quantity::Kind::Temperature, least: -40.0, most: 80.0 },
            [default "25 degC" "A room."], "40 degC", "Air around the joint.";
        airflow: f64 = Takes::Quantity { kind: crate::quantity::Kind::AirSpeed, least: 0.0, most: 50.0 },
            [optional "Still air."], "0.5 m/s", "Air past the housing.";
    }
}
