//! One candidate, from its places in the lists to a verdict, by the same calls as `make`; the dear ones last.
//!
//! ```text
//! outline (width, height) --> shell (most of the mass; heat) --> layout --> checks that need no drawn part
//!     --> drawn: mass --> made: all checks
//! ```

use std::sync::Arc;

use crate::bom::{BillOfMaterials, fasteners_mass, units_mass};
use crate::checks::{self, Checked, Load, Verdict};
use crate::design::{self, Design, PartName};
use crate::gears;
use crate::layout::{Actuator, Begun, Enclosed, Fault, Outline, Shell, SunDrive, outline};
use crate::parts::{self, MadePart, least_mass};
use crate::pipeline;
use crate::product::{HeatCase, Product};

use super::bounds::{Bounds, ROUNDING, Shadow};
use super::candidates::{Candidate, Group, MotorBounds, Seated, misses_limits};
use super::front::Objectives;
use super::gearsets::set_gearset;
use super::known_heat::KnownHeat;
use super::known_hubs::KnownHubs;
use super::near_miss::{Miss, Misses, Stage};
use super::requirement::Space;
use super::text::{self, Choices};

/// What a search has in hand while it looks at groups.
#[derive(Clone, Copy)]
pub struct Desk<'a> {
    pub space: &'a Space,
    pub seated: &'a [Seated],
    pub bounds: &'a Bounds,
    pub motors: &'a [MotorBounds],
    pub shadow: &'a Shadow,
    pub heat: &'a KnownHeat,
    pub hubs: &'a KnownHubs,
    /// Where near misses aren't told, crowns are judged before heat is solved.
    pub tells_misses: bool,
}

impl Desk<'_> {
    fn lightest(&self, group: &Group) -> f64 {
        self.motors.get(group.motor).map_or(0.0, |motor| motor.bearing_mass)
    }
}

/// How many candidates ended where.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// By a bound on what the requirement asks.
    pub bounded: usize,
    /// Nothing in them could be new on the front.
    pub covered: usize,
    /// The layout refuses them.
    pub refused: usize,
    /// Laid out and rated.
    pub rated: usize,
    /// Of these, short of the requirement or with a check that fails.
    pub failing: usize,
    pub drawn: usize,
    pub made: usize,
}

impl Tally {
    pub fn add(&mut self, other: &Tally) {
        self.bounded += other.bounded;
        self.covered += other.covered;
        self.refused += other.refused;
        self.rated += other.rated;
        self.failing += other.failing;
        self.drawn += other.drawn;
        self.made += other.made;
    }
}

/// A candidate that holds all that can be judged before it is drawn.
pub struct Rated {
    pub candidate: Candidate,
    /// As it will be, but for mass and cost, which are no more than they will be.
    pub least: Objectives,
    pub actuator: Box<Actuator>,
}

/// What came of a group.
#[derive(Default)]
pub struct Visit {
    pub rated: Vec<Rated>,
    pub tally: Tally,
    pub misses: Misses,
}

/// Looks at all candidates of a group.
pub fn visit(desk: &Desk, group: &Group) -> Visit {
    let mut visit = Visit::default();
    let (Some(seated), Some(motor)) = (desk.seated.get(group.seated), desk.motors.get(group.motor)) else {
        return visit;
    };
    let holding = &motor.holding;
    let all = holding.len() * desk.space.materials().count();
    if desk.bounds.front && desk.shadow.covers(&group.least) {
        visit.tally.covered = all;
        return visit;
    }
    let Some(mut design) = set_up(desk.space, group.motor, seated, [0, 0]) else { return visit };
    let stage = &seated.gearset.stage;
    let Ok(drive) = outline::sun_drive(&design, stage, &seated.core) else { return visit };
    for &output in holding {
        with_output(desk, group, seated, (&mut design, &drive, output), &mut visit);
    }
    visit
}

/// The design of a motor on a seated gearset; its output bearing is still a stand-in.
fn set_up(space: &Space, motor: usize, seated: &Seated, materials: [usize; 2]) -> Option<Design> {
    let integers = &seated.gearset.integers;
    let mut design = space.base(motor, integers.gears, materials)?.clone();
    set_gearset(&mut design, integers, seated.gearset.face);
    set_planet_bearing(space, seated.planet_bearing, &mut design);
    Some(design)
}

fn set_planet_bearing(space: &Space, planet_bearing: Option<usize>, design: &mut Design) {
    if let Some(row) = planet_bearing.and_then(|index| space.planet_rows.get(index)) {
        design.bearings.planet = Some(row.clone());
    }
}

fn set_output(space: &Space, output: usize, design: &mut Design) -> Option<()> {
    let choice = space.outputs.get(output)?;
    design.bearings.output = choice.row.clone();
    design.bearings.output_count = choice.count;
    design.bearings.output_spacing = choice.spacing;
    Some(())
}

/// The design of these choices: that of their text, without reading it.
pub fn design(space: &Space, choices: &Choices) -> Option<Design> {
    let materials = [choices.planet_material, choices.ring_material];
    let mut design = space.base(choices.motor, choices.gears, materials)?.clone();
    let integers =
        super::gearsets::Integers { gears: choices.gears, teeth: choices.teeth, planets: choices.planets };
    set_gearset(&mut design, &integers, choices.face);
    set_planet_bearing(space, choices.planet_bearing, &mut design);
    set_output(space, choices.output, &mut design)?;
    Some(design)
}

/// What became of a group with an output bearing, as far as its shell.
enum Beginning {
    /// With all that is known of it, no worse than it will be in anything.
    Begun(Box<Begun>, Objectives),
    Bounded,
    Covered,
    Refused,
    Failing,
}

/// Lays a group with an output bearing out as far as its shell, as long as nothing speaks against it.
fn begin(
    desk: &Desk,
    (seated, drive): (&Seated, &SunDrive),
    design: &Design,
    bound: &Objectives,
    misses: &mut Misses,
) -> Beginning {
    let covered = |least: &Objectives| desk.bounds.front && desk.shadow.covers(least);
    if misses_limits(&design.requirement, bound, Stage::Bound, desk.bounds, misses) {
        return Beginning::Bounded;
    }
    if covered(bound) {
        return Beginning::Covered;
    }
    let stage = &seated.gearset.stage;
    let outline = match Outline::of(design, stage, &seated.core, drive) {
        Ok(outline) => outline,
        Err(faults) => return refused(&faults, misses),
    };
    let least = Objectives { diameter: outline.diameter(), height: outline.height(), ..*bound };
    // Of the layout itself: no bound any more.
    if misses_limits(&design.requirement, &least, Stage::Rated, &Bounds::ALL, misses) {
        return Beginning::Failing;
    }
    if covered(&least) {
        return Beginning::Covered;
    }
    match Shell::of(design, stage, &outline) {
        Ok(shell) => {
            let begun = Begun { core: seated.core.clone(), drive: drive.clone(), outline, shell };
            Beginning::Begun(Box::new(begun), least)
        }
        Err(faults) => refused(&faults, misses),
    }
}

fn refused(faults: &[Fault], misses: &mut Misses) -> Beginning {
    refuse(faults, misses);
    Beginning::Refused
}

/// The least that a group weighs with its motor's only output bearing, by its shell \[kg\]; none if it can't be.
pub fn least_mass(desk: &Desk, group: &Group) -> Option<f64> {
    let misses = &mut Misses::default();
    let (seated, motor) = (desk.seated.get(group.seated)?, desk.motors.get(group.motor)?);
    let output = *motor.holding.first()?;
    if desk.space.outputs.get(output)?.row.outer > seated.free_bore + ROUNDING {
        return None;
    }
    let mut design = set_up(desk.space, group.motor, seated, [0, 0])?;
    set_output(desk.space, output, &mut design)?;
    let drive = outline::sun_drive(&design, &seated.gearset.stage, &seated.core).ok()?;
    let Beginning::Begun(begun, _) = begin(desk, (seated, &drive), &design, &group.least, misses) else {
        return None;
    };
    let mass = |materials: [usize; 2]| {
        let mut design = set_up(desk.space, group.motor, seated, materials)?;
        set_output(desk.space, output, &mut design)?;
        let enclosed = begun.shell.enclosed(&design, &seated.gearset.stage, &begun.outline);
        let fixed = least_mass::of_enclosed(&enclosed, &begun.core);
        Some((1.0 - ROUNDING) * (begun_bought(&enclosed, &begun) + fixed))
    };
    desk.space.materials().filter_map(mass).reduce(f64::min)
}

fn with_output(
    desk: &Desk,
    group: &Group,
    seated: &Seated,
    (design, drive, output): (&mut Design, &SunDrive, usize),
    visit: &mut Visit,
) {
    let space = desk.space;
    let materials = space.materials().count();
    let Some(choice) = space.outputs.get(output) else { return };
    if choice.row.outer > seated.free_bore + ROUNDING {
        visit.tally.refused += materials;
        let why = || format!("{} doesn't pass inside the ring's teeth.", choice.designation);
        visit.misses.refuse_many("bearing-passes", materials as u64, why);
        return;
    }
    let bound = Objectives {
        height: group.envelope.height + choice.stack(),
        mass: group.least.mass - desk.lightest(group) + choice.mass(),
        ..group.least
    };
    if set_output(space, output, design).is_none() {
        return;
    }
    let tally = &mut visit.tally;
    let (begun, least) = match begin(desk, (seated, drive), design, &bound, &mut visit.misses) {
        Beginning::Begun(begun, least) => (begun, least),
        Beginning::Bounded => return tally.bounded += materials,
        Beginning::Covered => return tally.covered += materials,
        Beginning::Refused => return tally.refused += materials,
        Beginning::Failing => return tally.failing += materials,
    };
    let stage = &seated.gearset.stage;
    // The layout doesn't ask for materials: it is the same for all of them.
    let integers = &seated.gearset.integers;
    for [planet_material, ring_material] in space.materials() {
        let choices = Choices {
            motor: group.motor,
            gears: integers.gears,
            teeth: integers.teeth,
            planets: integers.planets,
            face: seated.gearset.face,
            output,
            planet_bearing: seated.planet_bearing,
            planet_material,
            ring_material,
        };
        let candidate = Candidate { choices, bound };
        // The group's own materials are the first.
        let own = ([planet_material, ring_material] != [0, 0]).then(|| self::design(space, &choices));
        let design = match &own {
            None => &*design,
            Some(Some(own)) => own,
            Some(None) => continue,
        };
        rate(desk, &candidate, (design, stage, &begun, least), visit);
    }
}

fn refuse(faults: &[Fault], misses: &mut Misses) {
    faults.iter().for_each(|fault| misses.refuse(fault.id, &fault.message));
}

/// Goes on with a candidate whose outline and shell are known: its heat, the rest of its layout, the checks that need no drawn
/// part. `least` is no worse than it in anything.
fn rate(
    desk: &Desk,
    candidate: &Candidate,
    (design, stage, begun, mut least): (&Design, &gears::Stage, &Begun, Objectives),
    visit: &mut Visit,
) {
    let covered = |least: &Objectives| desk.bounds.front && desk.shadow.covers(least);
    let enclosed = begun.shell.enclosed(design, stage, &begun.outline);
    let fixed = least_mass::of_enclosed(&enclosed, &begun.core);
    least.mass = (begun_bought(&enclosed, begun) + fixed) * (1.0 - ROUNDING);
    if covered(&least) {
        visit.tally.covered += 1;
        return;
    }
    let hub = || desk.hubs.crowned_hub(candidate, design, stage, &begun.outline);
    let wanted = design.limits.joint_factor * design.requirement.peak_torque;
    if !desk.tells_misses && hub().is_ok_and(|hub| hub.capacity() < wanted) {
        visit.tally.failing += 1;
        return;
    }
    let case = HeatCase::of(&enclosed);
    // Where the front has as much of everything else, it is enough to know that the torque isn't more.
    let enough = desk.bounds.front.then(|| desk.shadow.covers_up_to(&least)).flatten();
    let solved = desk.heat.beyond(candidate.choices.motor, (&case.network, &case.holder()), enough);
    let Some(held) = solved else {
        visit.tally.covered += 1;
        return;
    };
    least.continuous = held.map_or(0.0, |held| held.torque);
    if misses_limits(&design.requirement, &least, Stage::Rated, &Bounds::ALL, &mut visit.misses) {
        visit.tally.failing += 1;
        return;
    }
    if covered(&least) {
        visit.tally.covered += 1;
        return;
    }
    let actuator = match hub().and_then(|hub| begun.clone().complete(design, stage, hub)) {
        Ok(actuator) => actuator,
        Err(faults) => {
            visit.tally.refused += 1;
            refuse(&faults, &mut visit.misses);
            return;
        }
    };
    let mass = bought_mass(&actuator) + fixed + least_mass::of_turning(&actuator);
    least.mass = mass * (1.0 - ROUNDING);
    if covered(&least) {
        visit.tally.covered += 1;
        return;
    }
    visit.tally.rated += 1;
    let heat = desk.heat.judged(candidate.choices.motor, (case, held), &actuator);
    let product = Product::undrawn(actuator, heat, mass);
    let failing: Vec<(String, Miss)> = checks::undrawn()
        .map(|check| Checked { check, outcome: (check.run)(&product) })
        .filter(|checked| checked.outcome.verdict == Verdict::Fails)
        .map(|checked| missed(&checked))
        .collect();
    if !failing.is_empty() {
        visit.tally.failing += 1;
        note_failing(failing, Stage::Rated, &mut visit.misses);
        return;
    }
    visit.rated.push(Rated { candidate: *candidate, least, actuator: product.actuator });
}

/// What is bought of what is begun \[kg\], as far as it is known.
fn begun_bought(enclosed: &Enclosed, begun: &Begun) -> f64 {
    let Begun { core, drive, .. } = begun;
    units_mass(enclosed.design, enclosed.stage, &drive.sun, core.planet())
        + fasteners_mass(enclosed.joints().chain(drive.screws()))
}

/// Everything that is bought \[kg\].
fn bought_mass(actuator: &Actuator) -> f64 {
    units_mass(&actuator.design, &actuator.stage, &actuator.sun, &actuator.planet)
        + fasteners_mass(actuator.joints.iter())
}

/// Several checks at once say nothing about one of them.
pub fn note_failing(failing: Vec<(String, Miss)>, alone: Stage, misses: &mut Misses) {
    let stage = if failing.len() == 1 { alone } else { Stage::Bound };
    for (key, miss) in failing {
        misses.note(&format!("check {key}"), Miss { stage, ..miss });
    }
}

/// What came of a candidate that was drawn.
pub enum Fate {
    /// Over the mass asked for.
    Heavy(Miss),
    Covered,
    /// Checks that fail; none if it can't be made at all.
    Failing(Vec<(String, Miss)>),
    Chosen(Box<Choice>),
}

/// Draws a candidate for its mass, and makes it if the front has nothing as good. It is drawn part by part, each mass in the
/// place of its bound, as long as that is light enough to be worth more.
pub fn draw(space: &Space, rated: &Rated, bounds: &Bounds, shadow: &Shadow) -> Fate {
    let actuator: &Actuator = &rated.actuator;
    let mut least = rated.least;
    let mut drawn: Vec<MadePart> = Vec::new();
    let mut bounded: Vec<(PartName, f64)> = least_mass::by_part(actuator).to_vec();
    let others = parts::list(actuator).into_iter().map(|(name, _)| (name, 0.0));
    bounded.extend(others.filter(|(name, _)| !least_mass::NAMES.contains(name)).collect::<Vec<_>>());
    for (name, bound) in bounded {
        let part = match parts::one(actuator, name) {
            Ok(Some(part)) => part,
            Ok(None) => continue,
            Err(_) => return Fate::Failing(Vec::new()),
        };
        let count = f64::from(part.count);
        let Ok(made) = MadePart::of(actuator, part) else { return Fate::Failing(Vec::new()) };
        least.mass += count * made.mass.mass - bound;
        drawn.push(made);
        if bounds.front && shadow.covers(&less_rounding(&least)) {
            return Fate::Covered;
        }
    }
    // The bill's order, which is that of the sums elsewhere.
    drawn.sort_by_key(|made| made.part.name);
    let bom = BillOfMaterials::new(actuator, &drawn);
    let objectives = Objectives { mass: bom.total_mass(), cost: bom.total_cost(), ..rated.least };
    let limit = actuator.design.requirement.mass_limit.map(|limit| limit * 1e3);
    let grams = objectives.mass * 1e3;
    if let Some(limit) = limit.filter(|limit| grams > *limit) {
        return Fate::Heavy(Miss { stage: Stage::Rated, value: grams, limit, unit: "g" });
    }
    if bounds.front && shadow.covers(&objectives) {
        return Fate::Covered;
    }
    match make(space, &rated.candidate, objectives, (actuator, drawn)) {
        Ok(choice) => Fate::Chosen(Box::new(choice)),
        Err(failing) => Fate::Failing(failing),
    }
}

/// Masses are summed in another order here than in the bill of materials.
fn less_rounding(objectives: &Objectives) -> Objectives {
    Objectives { mass: objectives.mass * (1.0 - ROUNDING), ..*objectives }
}

/// A candidate that was made, and all of whose checks hold or warn.
#[derive(Clone, Debug)]
pub struct Choice {
    pub candidate: Candidate,
    pub objectives: Objectives,
    pub ratio: f64,
    /// Of the checks under load, the one with the least in hand.
    pub limited_by: Option<(String, f64)>,
    pub warnings: usize,
    pub text: Arc<str>,
    /// What other reducers are compared with.
    pub design: Arc<Design>,
    /// At the output \[kg m2\].
    pub reflected_inertia: Option<f64>,
    pub efficiency: f64,
}

/// Makes and judges a candidate that was laid out and drawn.
///
/// # Errors
/// The checks that fail, as near misses; none if it can't be made at all.
pub fn make(
    space: &Space,
    candidate: &Candidate,
    objectives: Objectives,
    (actuator, drawn): (&Actuator, Vec<MadePart>),
) -> Result<Choice, Vec<(String, Miss)>> {
    let text = text::design(space, &candidate.choices);
    let Ok(loaded) = design::load_text(&space.path, &text) else { return Err(Vec::new()) };
    // What was drawn is what the text says: a test holds every candidate's design to that.
    debug_assert!(loaded.design == actuator.design, "{text}");
    let made = pipeline::judge(Box::new(actuator.clone()), drawn);
    let failing: Vec<(String, Miss)> =
        made.checks.iter().filter(|checked| checked.outcome.verdict == Verdict::Fails).map(missed).collect();
    if !failing.is_empty() {
        return Err(failing);
    }
    let limited_by = made
        .checks
        .iter()
        .filter(|checked| {
            checked.outcome.verdict == Verdict::Holds && !matches!(checked.check.load, Load::None)
        })
        .filter_map(|checked| Some((checked.check.id.to_string(), checked.outcome.margin()?)))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let warnings = made.checks.iter().filter(|checked| checked.outcome.verdict == Verdict::Warns).count();
    let actuator = &made.product.actuator;
    Ok(Choice {
        candidate: *candidate,
        objectives,
        ratio: actuator.stage.ratio,
        limited_by,
        warnings,
        text: text.into(),
        reflected_inertia: made.product.feel.inertia.as_ref().map(|inertia| inertia.reflected.output()),
        efficiency: loaded.design.gearset.efficiency,
        design: Arc::new(loaded.design),
    })
}

fn missed(checked: &Checked) -> (String, Miss) {
    let outcome = &checked.outcome;
    let (value, limit) = (outcome.value.unwrap_or(f64::NAN), outcome.limit.unwrap_or(f64::NAN));
    (checked.check.id.to_string(), Miss { stage: Stage::OnlyCheck, value, limit, unit: checked.check.unit })
}
