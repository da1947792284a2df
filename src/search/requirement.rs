//! The requirement file: what the joint must do, and what is on hand to make it from.
//!
//! The sections that a design file has too (requirement, controller, load, ...) are read by the same declarations and go
//! into the chosen design as they stand. Of `motors`, `gears` and bearings the file lists what is on hand.
//! `[[joint]]` is kept free for robots of several joints.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::design::bearings::custom_row;
use crate::design::document::{Table, Value};
use crate::design::key::Takes;
use crate::design::keys::*;
use crate::design::reader::{Entry, Named, Reader};
use crate::design::section::section;
use crate::design::value::Choice;
use crate::design::{self, Design, GearSource, Lubrication, RingKind, file};
use crate::diagnostic::{Code, Diagnostic, Place, Problems, Severity, SourceFile};
use crate::quantity::Kind;
use crate::tables::{Bearing, Cleanliness, ClearanceGroup, Material};

use super::at_home::at_home;
use super::on_hand;
use super::text::{self, Choices};

const DEGREE: f64 = std::f64::consts::PI / 180.0;

section! {
    "What a joint must do and what is on hand for it."
    pub struct SizeKeys {
        name: String = Takes::Name, [default "sized" "Names the design that is written."], "weeder-elbow", "Name of the design.";
        about: String = Takes::Text, [optional "Empty."], "Elbow of a weeding rover's tool arm", "One line for the report.";
        requirement: RequirementKeys = Takes::Section(RequirementKeys::SECTION), [required], "", "What the joint must do.";
        motors: Vec<MotorKeys> = Takes::Sections(MotorKeys::SECTION), [default "[]" "None: the search needs one."],
            "[{ from = \"../motors/disc-86.toml\" }]", "Motors on hand, each from its file; or names of files and of folders, whose files are taken by name.";
        gears: Vec<GearsOnHandKeys> = Takes::Sections(GearsOnHandKeys::SECTION), [default "[{ normal_module = \"0.8 mm\" }]" "The smallest module that prints."],
            "[{ normal_module = \"0.8 mm\", helix_angle = \"20 deg\" }]", "Modules on hand with their helix angles.";
        gearset: GearsetOnHandKeys = Takes::Section(GearsetOnHandKeys::SECTION), [default "{}" "See its keys."], "", "What all gearsets share.";
        output_bearings: Vec<OutputBearingKeys> = Takes::Sections(OutputBearingKeys::SECTION),
            [default "[]" "All deep groove bearings of the table with a bore of 15 mm to 100 mm."], "[\"6808\", \"6810\"]", "Output bearings on hand.";
        bearings: BearingsOnHandKeys = Takes::Section(BearingsOnHandKeys::SECTION), [default "{}" "See its keys."], "", "What all bearings share, and rows of your own.";
        planet_bearings: Vec<BearingOnHandKeys> = Takes::Sections(BearingOnHandKeys::SECTION),
            [default "[]" "The largest of the table that fits each planet."], "[\"686\", \"688\"]", "Planet bearings on hand.";
        planet_materials: Vec<MaterialOnHandKeys> = Takes::Sections(MaterialOnHandKeys::SECTION),
            [default "[\"PA12\"]" "Tough, and wears little (common practice, no source)."], "[\"PA12\"]", "Materials for printed planets.";
        ring_materials: Vec<MaterialOnHandKeys> = Takes::Sections(MaterialOnHandKeys::SECTION),
            [default "[\"PC\"]" "Stands a warm motor."], "[\"PC\"]", "Materials for the ring.";
        search: SearchKeys = Takes::Section(SearchKeys::SECTION), [default "{}" "See its keys."], "", "How far the search goes.";
        controller: ControllerKeys = Takes::Section(ControllerKeys::SECTION), [default "{}" "As in a design file."], "", "Board and drive.";
        load: LoadKeys = Takes::Section(LoadKeys::SECTION), [default "{}" "As in a design file."], "", "What hangs on the output.";
        fasteners: Named<FastenerKeys> = Takes::Named { names: JOINT_NAMES, section: FastenerKeys::SECTION },
            [default "{}" "As in a design file."], "", "Screws forced on a joint.";
        parts: Named<PartKeys> = Takes::Named { names: PART_NAMES, section: PartKeys::SECTION },
            [default "{}" "As in a design file."], "", "How parts are printed.";
        printer: PrinterKeys = Takes::Section(PrinterKeys::SECTION), [default "{}" "As in a design file."], "", "Printer and fits.";
        limits: LimitsKeys = Takes::Section(LimitsKeys::SECTION), [default "{}" "As in a design file."], "", "Safety factors.";
        ambient: AmbientKeys = Takes::Section(AmbientKeys::SECTION), [default "{}" "As in a design file."], "", "Where it works.";
    }
}

section! {
    "A module on hand." shorthand "normal_module"
    pub struct GearsOnHandKeys {
        normal_module: f64 = Takes::length(0.3, 5.0), [required], "0.8 mm", "Normal module.";
        helix_angle: f64 = Takes::Quantity { kind: Kind::Angle, least: 0.0, most: 45.0 * DEGREE }, [default "20 deg" "As in a design file."], "20 deg", "Helix angle.";
    }
}

section! {
    "What all gearsets share; as in a design file."
    pub struct GearsetOnHandKeys {
        backlash: f64 = Takes::length(0.0, 2.0), [optional "By the module."], "0.18 mm", "Backlash of each mesh at the pitch circle.";
        lubrication: Lubrication = Takes::Choice(<Lubrication as Choice>::WORDS), [optional "Greased."], "greased", "What is between the teeth.";
        friction: f64 = Takes::Number { least: 0.0, most: 0.6 }, [optional "0.2."], "0.2", "Friction coefficient of the teeth.";
        drag: f64 = Takes::Quantity { kind: Kind::Torque, least: 0.0, most: 100.0 }, [optional "1 % of the peak torque."], "0.15 N m", "Drag at the output.";
        efficiency: f64 = Takes::Number { least: 0.1, most: 1.0 }, [optional "0.85."], "0.85", "Share of the torque that arrives.";
        sun: GearSource = Takes::Choice(<GearSource as Choice>::WORDS), [default "buy" "A printed sun is the weakest gear."], "buy", "Sun printed or bought.";
        planet: GearSource = Takes::Choice(<GearSource as Choice>::WORDS), [default "print" "Cheap and quiet."], "print", "Planets printed or bought.";
        ring: RingKind = Takes::Choice(<RingKind as Choice>::WORDS), [default "cut" "Smallest outside."], "cut", "Ring in the housing, or an insert.";
    }
}

section! {
    "What all bearings share, and rows of your own; as in a design file."
    pub struct BearingsOnHandKeys {
        planet_enclosure: Shields = Takes::Choice(<Shields as Choice>::WORDS), [optional "Shielded."], "shielded", "Shields of the planet bearings.";
        clearance: ClearanceGroup = Takes::Choice(<ClearanceGroup as Choice>::WORDS), [optional "Normal."], "C3", "Internal clearance of the output bearing.";
        cleanliness: Cleanliness = Takes::Choice(<Cleanliness as Choice>::WORDS), [optional "Typical."], "normal", "How clean the bearings run.";
        grease_viscosity: f64 = Takes::Quantity { kind: Kind::Viscosity, least: 2.0, most: 2000.0 }, [optional "100 mm2/s."], "100 mm2/s", "Of the grease's base oil at 40 degC.";
        custom: Vec<CustomBearingKeys> = Takes::Sections(CustomBearingKeys::SECTION), [default "[]" "Only the table's rows."],
            "[{ designation = \"my-50x65\", bore = \"50 mm\", outer = \"65 mm\", width = \"7 mm\", dynamic_rating = \"6.6 kN\", static_rating = \"6.1 kN\" }]",
            "Rows of your own: name them in output_bearings or planet_bearings.";
    }
}

section! {
    "A bearing on hand." shorthand "designation"
    pub struct BearingOnHandKeys {
        designation: String = Takes::Text, [required], "688", "As in `hubwright tables bearings`.";
    }
}

section! {
    "A material on hand." shorthand "material"
    pub struct MaterialOnHandKeys {
        material: Material = Takes::Material, [required], "PA12", "As in `hubwright tables materials`.";
    }
}

section! {
    "How far the search goes."
    pub struct SearchKeys {
        backdrive_torque_limit: f64 = Takes::Quantity { kind: Kind::Torque, least: 0.001, most: 1000.0 },
            [optional "Not limited."], "0.5 N m", "Most torque that may be needed to turn the output by hand, power off.";
        ratio_least: f64 = Takes::Number { least: 2.5, most: 20.0 }, [default "3" "Below it the planets outgrow nothing but the torque."], "3", "Lowest ratio.";
        ratio_most: f64 = Takes::Number { least: 2.5, most: 20.0 }, [default "10" "Above it three planets touch."], "10", "Highest ratio.";
        sun_teeth_least: u32 = Takes::Count { least: 5, most: 200 }, [default "9" "Fewer are undercut."], "9", "Fewest teeth of the sun.";
        sun_teeth_most: u32 = Takes::Count { least: 5, most: 200 }, [default "40" "More make the ring large."], "40", "Most teeth of the sun.";
        planets_least: u32 = Takes::Count { least: 2, most: 8 }, [default "3" "Two leave the sun unsteady."], "3", "Fewest planets.";
        planets_most: u32 = Takes::Count { least: 2, most: 8 }, [default "5" "More share the load no better."], "5", "Most planets.";
        face_least: f64 = Takes::length(2.0, 100.0), [default "8 mm" "Narrower planets hold no two bearings."], "8 mm", "Narrowest face.";
        face_most: f64 = Takes::length(2.0, 100.0), [default "20 mm" "Wider bends unevenly (common practice, no source)."], "20 mm", "Widest face.";
        face_step: f64 = Takes::length(0.5, 50.0), [default "2 mm" "Finer than the ratings are."], "2 mm", "Step of the face width.";
        made: u32 = Takes::Count { least: 1, most: 1_000_000_000 }, [optional "The search goes to its end."], "40", "Ends the search after as many designs made and judged in full.";
        laid_out: u32 = Takes::Count { least: 1, most: 1_000_000_000 }, [optional "The search goes to its end."], "2000", "Ends the search after as many candidates laid out.";
    }
}

/// An output bearing on hand.
#[derive(Clone, Debug)]
pub struct OutputChoice {
    pub designation: String,
    pub count: u32,
    pub spacing: f64,
    pub row: Bearing,
}

/// A module on hand.
#[derive(Clone, Copy, Debug)]
pub struct GearRow {
    pub module: f64,
    /// \[rad\]
    pub helix: f64,
}

/// Everything that is searched.
#[derive(Clone, Debug)]
pub struct Space {
    pub name: String,
    /// Where the requirement file lies: names in the designs start from there.
    pub path: PathBuf,
    /// Sections that go into every design as they stand.
    pub shared: String,
    /// Shared lines of `[gearset]`.
    pub gear_lines: String,
    /// Shared lines of `[bearings]`.
    pub bearing_lines: String,
    /// Lines of `[motor]`, in the file's order.
    pub motors: Vec<String>,
    pub gears: Vec<GearRow>,
    pub outputs: Vec<OutputChoice>,
    /// Empty: the layout chooses.
    pub planet_bearings: Vec<String>,
    pub planet_materials: Vec<String>,
    pub ring_materials: Vec<String>,
    pub planet_made: GearSource,
    pub ring_made: RingKind,
    pub sun_made: GearSource,
    pub ratio: [f64; 2],
    pub sun_teeth: [u32; 2],
    pub planets: [u32; 2],
    /// Narrowest first.
    pub faces: Vec<f64>,
    pub backdrive_limit: Option<f64>,
    /// Most designs made; `usize::MAX` for no end.
    pub made: usize,
    /// Most candidates laid out; `usize::MAX` for no end.
    pub laid_out: usize,
    /// Rows of the planet bearings, in their order.
    pub planet_rows: Vec<Bearing>,
    /// Of each motor a design for each gear row, planet material and ring material, the last quickest: its gearset and
    /// bearings are stand-ins.
    pub bases: Vec<Vec<Design>>,
    /// Whether a duty's file is named, which starts from the requirement's folder.
    pub has_duty: bool,
}

/// Loads a requirement file; "-" is standard input.
///
/// # Errors
/// Everything that is wrong with it.
pub fn load(argument: &Path) -> Result<Space, Problems> {
    let mut problems = Problems::default();
    match file::read(argument, &mut problems) {
        Some(source) => space(&source, argument, problems),
        None => Err(problems),
    }
}

/// Loads a requirement from a text; `path` is where it lies, or would.
///
/// # Errors
/// Everything that is wrong with it.
pub fn load_text(path: &Path, text: &str) -> Result<Space, Problems> {
    let source = SourceFile { name: path.to_string_lossy().into_owned(), text: text.to_string() };
    space(&Arc::new(source), path, Problems::default())
}

fn space(source: &Arc<SourceFile>, path: &Path, mut problems: Problems) -> Result<Space, Problems> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let Some(table) = file::tree_after(source, folder, &mut problems, on_hand::spread_folders) else {
        problems.sort();
        return Err(problems);
    };
    from_table(&table, source, path, problems)
}

/// What a tree of keys asks; `source` is the file it stands in and `path` where that lies.
///
/// # Errors
/// Everything that is wrong with it, and what was wrong before.
pub(crate) fn from_table(
    table: &Table,
    source: &Arc<SourceFile>,
    path: &Path,
    problems: Problems,
) -> Result<Space, Problems> {
    let mut reader = Reader::new(SizeKeys::SECTION, problems);
    let keys = SizeKeys::from_table(table, &mut reader);
    let mut problems = reader.problems;
    contradictions(&keys, source, table, &mut problems);
    let custom: Vec<Bearing> =
        keys.bearings.value.custom.value.iter().map(|row| custom_row(row, &mut problems)).collect();
    let outputs = on_hand::outputs(&keys, &custom, &mut problems);
    let planet_rows = on_hand::planet_bearings(&keys, &custom, &mut problems);
    if problems.has_errors() {
        problems.sort();
        return Err(problems);
    }
    let search = &keys.search.value;
    let gearset = &keys.gearset.value;
    let mut space = Space {
        name: keys.name.value.clone(),
        path: path.to_path_buf(),
        shared: text::shared(table),
        gear_lines: text::gear_lines(table),
        bearing_lines: text::bearing_lines(table),
        motors: text::motors(table),
        gears: keys
            .gears
            .value
            .iter()
            .map(|row| GearRow { module: row.normal_module.value, helix: row.helix_angle.value })
            .collect(),
        outputs,
        planet_bearings: keys.planet_bearings.value.iter().map(|row| row.designation.value.clone()).collect(),
        planet_materials: names(&keys.planet_materials.value),
        ring_materials: names(&keys.ring_materials.value),
        planet_made: gearset.planet.value,
        ring_made: gearset.ring.value,
        sun_made: gearset.sun.value,
        ratio: [search.ratio_least.value, search.ratio_most.value],
        sun_teeth: [search.sun_teeth_least.value, search.sun_teeth_most.value],
        planets: [search.planets_least.value, search.planets_most.value],
        faces: faces(search),
        backdrive_limit: search.backdrive_torque_limit.as_ref().map(|entry| entry.value),
        made: search.made.as_ref().map_or(usize::MAX, |entry| entry.value as usize),
        laid_out: search.laid_out.as_ref().map_or(usize::MAX, |entry| entry.value as usize),
        planet_rows,
        bases: Vec::new(),
        has_duty: keys.requirement.value.duty.is_some(),
    };
    space.bases = bases(&space, table)?;
    Ok(space)
}

fn names(rows: &[MaterialOnHandKeys]) -> Vec<String> {
    rows.iter().map(|row| row.material.value.name.clone()).collect()
}

fn faces(search: &SearchKeys) -> Vec<f64> {
    let (least, most, step) = (search.face_least.value, search.face_most.value, search.face_step.value);
    (0..).map(|index| least + step * f64::from(index)).take_while(|face| *face <= most + 1e-9).collect()
}

/// A stand-in gearset on each motor, gear row and material: shows what is wrong with motor, load or printer before anything
/// is searched, and holds the values that follow from them.
fn bases(space: &Space, table: &Table) -> Result<Vec<Vec<Design>>, Problems> {
    let mut wrong = Problems::default();
    let mut bases = Vec::new();
    for motor in 0..space.motors.len() {
        let mut row = Vec::new();
        for [gears, planet_material, ring_material] in space.kinds() {
            let stand_in =
                Choices { motor, gears, planet_material, ring_material, ..Choices::stand_in(space) };
            match design::load_text(&space.path, &text::design(space, &stand_in)) {
                Ok(loaded) => row.push(loaded.design),
                Err(problems) => {
                    for problem in problems.iter().filter(|problem| problem.severity == Severity::Error) {
                        wrong.push_once(at_home(problem.clone(), table, motor));
                    }
                }
            }
        }
        bases.push(row);
    }
    if wrong.has_errors() {
        wrong.sort();
        return Err(wrong);
    }
    Ok(bases)
}

impl Space {
    /// Gear rows with materials of planets and ring, in the order of the bases.
    fn kinds(&self) -> Vec<[usize; 3]> {
        let (planets, rings) = (self.planet_materials.len(), self.ring_materials.len());
        let materials = move |gears| {
            (0..planets).flat_map(move |planet| (0..rings).map(move |ring| [gears, planet, ring]))
        };
        (0..self.gears.len()).flat_map(materials).collect()
    }

    /// Planet and ring materials, as places in their lists.
    pub fn materials(&self) -> impl Iterator<Item = [usize; 2]> + '_ {
        let rings = self.ring_materials.len();
        (0..self.planet_materials.len()).flat_map(move |planet| (0..rings).map(move |ring| [planet, ring]))
    }

    /// The design on which candidates with this motor, gear row and these materials are built.
    pub fn base(&self, motor: usize, gears: usize, [planet, ring]: [usize; 2]) -> Option<&Design> {
        let (planets, rings) = (self.planet_materials.len(), self.ring_materials.len());
        self.bases.get(motor)?.get((gears * planets + planet) * rings + ring)
    }
}

fn at_key(table: &Table, source: &Arc<SourceFile>, name: &str) -> Place {
    table.get(name).map_or_else(|| Place::start_of(source), |entry| entry.name_place.clone())
}

fn contradictions(keys: &SizeKeys, source: &Arc<SourceFile>, table: &Table, problems: &mut Problems) {
    let requirement = &keys.requirement.value;
    let no_motor = match table.get("motors").map(|entry| &entry.node.value) {
        None => true,
        Some(Value::List(list)) => list.is_empty(),
        // Of another type: that is said already.
        Some(_) => false,
    };
    if no_motor {
        problems.push(
            Diagnostic::error(Code::MissingKey, "No motor is on hand")
                .at(at_key(table, source, "motors"))
                .key("motors")
                .expected("a list of motors, each from its file")
                .example("motors = [{ from = \"../motors/disc-86.toml\" }]"),
        );
    }
    for (name, is_empty) in [
        ("gears", keys.gears.is_sound() && keys.gears.value.is_empty()),
        ("planet_materials", keys.planet_materials.is_sound() && keys.planet_materials.value.is_empty()),
        ("ring_materials", keys.ring_materials.is_sound() && keys.ring_materials.value.is_empty()),
    ] {
        if is_empty {
            problems.push(
                Diagnostic::error(Code::MissingKey, format!("`{name}` is an empty list"))
                    .at(at_key(table, source, name))
                    .key(name)
                    .expected("one entry or more, or leave the key out"),
            );
        }
    }
    let asks = requirement.peak_torque.is_some()
        || requirement.lever.is_some()
        || requirement.link.is_some()
        || requirement.leg.is_some();
    if keys.requirement.is_sound() && !asks {
        problems.push(
            Diagnostic::error(
                Code::MissingKey,
                "`requirement.peak_torque` is missing: nothing says how strong the joint must be",
            )
            .at(at_key(table, source, "requirement"))
            .key("requirement.peak_torque")
            .expected("a torque, or [requirement.lever], [requirement.link] or [requirement.leg]")
            .example("peak_torque = \"10 N m\""),
        );
    }
    if let (Some(peak), Some(continuous)) = (&requirement.peak_torque, &requirement.continuous_torque)
        && peak.is_sound()
        && continuous.is_sound()
        && continuous.value > peak.value
    {
        problems.push(
            Diagnostic::error(Code::Conflict, "More torque is asked for hours than at peak")
                .at_maybe(continuous.place().cloned())
                .key("requirement.continuous_torque")
                .found(format!("{} N m for hours, {} N m at peak", continuous.value, peak.value))
                .expected("at most the peak torque"),
        );
    }
    let search = &keys.search.value;
    ordered(&search.ratio_least, &search.ratio_most, "search.ratio_least", problems);
    ordered(&search.sun_teeth_least, &search.sun_teeth_most, "search.sun_teeth_least", problems);
    ordered(&search.planets_least, &search.planets_most, "search.planets_least", problems);
    ordered(&search.face_least, &search.face_most, "search.face_least", problems);
}

fn ordered<T: PartialOrd + std::fmt::Display>(
    least: &Entry<T>,
    most: &Entry<T>,
    key: &str,
    problems: &mut Problems,
) {
    if least.is_sound() && most.is_sound() && least.value > most.value {
        problems.push(
            Diagnostic::error(Code::Conflict, "The least is more than the most")
                .at_maybe(least.place().or(most.place()).cloned())
                .key(key)
                .found(format!("{} and {}", least.value, most.value)),
        );
    }
}

/// The schema of the requirement file as text, as it is committed.
pub fn schema() -> String {
    design::schema_of("hubwright requirement file", SizeKeys::SECTION)
}
