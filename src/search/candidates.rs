//! Motor, gearset, bearing and materials together: what they share, and bounds on it.
//!
//! A *group* is a motor with a gearset and its planet bearings; its candidates differ in output bearing and materials. What
//! is known of a group, each bound flattering it:
//! - *back-drive*: exact, a matter of stage and motor alone.
//! - *diameter and height*: the layout's own chains, with the flattest output bearing on hand, the plate nested in the
//!   keeper and the thinnest service screws ([`layout::outline::least_envelope`]).
//! - *mass*: what is bought, with the lightest output bearing, and what of the prints no drawing undercuts.
//! - *output bearing*: rated with the load's overhang to the output face alone; the bearing lies behind it, so that its
//!   moment is never less. Only where the overhang isn't negative.
//! - *continuous torque*: see [`heat_bound`](super::heat_bound).

use rayon::prelude::*;

use crate::design::Design;
use crate::layout::outline::{self, LeastEnvelope};
use crate::layout::{Core, Fault};
use crate::parts::least_mass;
use crate::ratings::motor::Circuit;
use crate::ratings::output_bearing::{self, OutputBearing, OutputLoads};
use crate::ratings::planetary_efficiency::{Drag, StageEfficiency};

use super::bounds::Bounds;
use super::front::Objectives;
use super::gearsets::{Gearset, set_gearset};
use super::motors::MotorWindow;
use super::near_miss::{Miss, Misses, Stage};
use super::order;
use super::requirement::{OutputChoice, Space};
use super::text::Choices;

/// A candidate.
#[derive(Clone, Copy, Debug)]
pub struct Candidate {
    pub choices: Choices,
    /// Of its group, with its output bearing: no worse in anything.
    pub bound: Objectives,
}

/// A gearset with what its planets turn on.
pub struct Seated {
    pub gearset: Gearset,
    pub planet_bearing: Option<usize>,
    pub core: Core,
    /// Bore that the output bearing passes.
    pub free_bore: f64,
}

/// A motor on a seated gearset.
#[derive(Clone, Copy, Debug)]
pub struct Group {
    pub motor: usize,
    /// Place in the list of seated gearsets.
    pub seated: usize,
    pub ratio: f64,
    pub envelope: LeastEnvelope,
    /// No candidate of the group is better in anything.
    pub least: Objectives,
    /// Best first: the sum of the scaled objectives, by what is on hand alone, whichever bounds are used.
    pub order: f64,
}

/// Torque at the output that turns the unloaded motor, as in the report \[N m\]; none if the stage locks itself.
pub fn backdrive(stage: &crate::gears::Stage, design: &Design) -> Option<f64> {
    /// Of the peak torque, where no drag is given: the layout's guess.
    const DRAG: f64 = 0.01;
    let sun = Circuit::of(&design.motor, &design.controller).drag_torque
        + design.motor.cogging_torque.unwrap_or(0.0);
    let output = design.gearset.drag.unwrap_or(DRAG * design.requirement.peak_torque);
    Some(StageEfficiency::of(stage, design.gearset.friction).ok()?.backdrive_torque(Drag { sun, output }))
}

impl Space {
    /// The lightest of these output bearings \[kg\].
    pub fn lightest(&self, outputs: &[usize]) -> f64 {
        let masses = outputs.iter().filter_map(|output| self.outputs.get(*output)).map(OutputChoice::mass);
        masses.fold(f64::INFINITY, f64::min)
    }
}

impl Space {
    /// The flattest of these output bearings.
    fn flattest(&self, outputs: &[usize]) -> f64 {
        let stacks = outputs.iter().filter_map(|output| self.outputs.get(*output)).map(OutputChoice::stack);
        stacks.fold(f64::INFINITY, f64::min)
    }
}

impl OutputChoice {
    /// Height of one, or of a pair with its spacer.
    pub fn stack(&self) -> f64 {
        let count = f64::from(self.count);
        count * self.row.width + (count - 1.0) * self.spacing
    }

    /// \[kg\]
    pub fn mass(&self) -> f64 {
        f64::from(self.count) * self.row.mass
    }

    /// Rated as well as it can be anywhere; none where the overhang is negative, so that no place is the best.
    fn best_rating(&self, design: &Design) -> Option<OutputBearing> {
        let load = &design.load;
        if load.overhang < 0.0 {
            return None;
        }
        let by_lever = if load.arm > 0.0 { design.requirement.peak_torque / (load.arm * 1e-3) } else { 0.0 };
        let radial = load.weight + load.radial;
        let loads = OutputLoads {
            radial,
            peak_radial: f64::max(radial * load.shock, by_lever + load.radial),
            axial: load.axial,
            overhang: load.overhang,
            shock: load.shock,
            rate: load.rate,
            swing: load.oscillation.map(|half| 2.0 * half),
            reliability: design.limits.reliability,
            clearance: design.bearings.clearance,
        };
        Some(output_bearing::rate(&self.row, self.count, self.spacing, &loads))
    }
}

/// Output bearings that may carry the load, as places in their list; notes what the others lack.
pub fn holding(space: &Space, motor: usize, bounds: &Bounds, misses: &mut Misses) -> Vec<usize> {
    let Some(design) = space.bases.get(motor).and_then(|bases| bases.first()) else { return Vec::new() };
    let mut holding = Vec::new();
    for (output, choice) in space.outputs.iter().enumerate() {
        let rated = choice.best_rating(design).filter(|_| bounds.bearing);
        let limit = design.limits.output_static_safety;
        let mut holds = true;
        if let Some(rated) = &rated {
            if rated.static_safety < limit {
                let miss = Miss { stage: Stage::Bound, value: rated.static_safety, limit, unit: "" };
                misses.note("check output-static", miss);
                holds = false;
            }
            holds &= !misses.over(Stage::Bound, "check output-moment", rated.axial_share, Some(1.0), "");
        }
        if holds {
            holding.push(output);
        }
    }
    holding
}

/// All gearsets on all their planet bearings, as far as the layout takes them; notes why not.
pub fn seated(space: &Space, gearsets: &[Gearset], misses: &mut Misses) -> Vec<Seated> {
    let laid: Vec<Vec<Result<Seated, Vec<Fault>>>> =
        gearsets.par_iter().map(|gearset| seats(space, gearset)).collect();
    let mut seated = Vec::new();
    for one in laid.into_iter().flatten() {
        match one {
            Ok(one) => seated.push(one),
            Err(faults) => faults.iter().for_each(|fault| misses.refuse(fault.id, &fault.message)),
        }
    }
    seated
}

fn seats(space: &Space, gearset: &Gearset) -> Vec<Result<Seated, Vec<Fault>>> {
    let Some(base) = space.base(0, gearset.integers.gears, [0, 0]) else { return Vec::new() };
    let mut design = base.clone();
    set_gearset(&mut design, &gearset.integers, gearset.face);
    let free_bore = outline::free_bore(&design, &gearset.stage);
    let bearings: Vec<Option<usize>> = if space.planet_rows.is_empty() {
        vec![None]
    } else {
        (0..space.planet_rows.len()).map(Some).collect()
    };
    bearings
        .into_iter()
        .map(|planet_bearing| {
            design.bearings.planet = planet_bearing.and_then(|index| space.planet_rows.get(index)).cloned();
            let core = Core::of(&design, &gearset.stage)?;
            Ok(Seated { gearset: gearset.clone(), planet_bearing, core, free_bore })
        })
        .collect()
}

/// What of one motor bounds its groups.
pub struct MotorBounds {
    pub window: MotorWindow,
    /// Output bearings that may carry the load.
    pub holding: Vec<usize>,
    /// Least stack and mass of the output bearings that may carry the load.
    pub stack: f64,
    pub bearing_mass: f64,
    /// The same of all on hand, for the order.
    all_stack: f64,
    all_mass: f64,
}

impl MotorBounds {
    pub fn of(space: &Space, window: MotorWindow, holding: Vec<usize>) -> MotorBounds {
        let all: Vec<usize> = (0..space.outputs.len()).collect();
        MotorBounds {
            window,
            stack: space.flattest(&holding),
            bearing_mass: space.lightest(&holding),
            all_stack: space.flattest(&all),
            all_mass: space.lightest(&all),
            holding,
        }
    }
}

/// The groups of a motor that no bound excludes, in the order of the gearsets; and how many candidates they have.
pub fn groups(
    space: &Space,
    motor: usize,
    bounds: &Bounds,
    of_motor: &MotorBounds,
    seated: &[Seated],
) -> (Vec<Group>, Misses) {
    /// Gearsets looked at by one thread at a time.
    const CHUNK: usize = 256;
    if of_motor.holding.is_empty() {
        return (Vec::new(), Misses::default());
    }
    let chunks: Vec<(Vec<Group>, Misses)> = seated
        .par_chunks(CHUNK)
        .enumerate()
        .map(|(chunk, sets)| {
            let (mut found, mut misses) = (Vec::new(), Misses::default());
            let mut desk: Option<(usize, Design)> = None;
            for (index, one) in sets.iter().enumerate() {
                let gears = one.gearset.integers.gears;
                if bounds.motor && !of_motor.window.allows(one.gearset.integers.ratio()) {
                    continue;
                }
                if desk.as_ref().is_none_or(|(at, _)| *at != gears) {
                    desk = space.base(motor, gears, [0, 0]).map(|base| (gears, base.clone()));
                }
                let Some((_, design)) = &mut desk else { continue };
                let place = [motor, chunk * CHUNK + index];
                found.extend(group(space, place, design, bounds, of_motor, one, &mut misses));
            }
            (found, misses)
        })
        .collect();
    let mut misses = Misses::default();
    let mut all = Vec::new();
    for (found, own) in chunks {
        all.extend(found);
        misses.merge(&own);
    }
    (all, misses)
}

fn group(
    space: &Space,
    [motor, place]: [usize; 2],
    design: &mut Design,
    bounds: &Bounds,
    of_motor: &MotorBounds,
    seated: &Seated,
    misses: &mut Misses,
) -> Option<Group> {
    let gearset = &seated.gearset;
    let stage = &gearset.stage;
    set_gearset(design, &gearset.integers, gearset.face);
    let requirement = &design.requirement;
    let backdrive = backdrive(stage, design)?;
    if misses.over(Stage::Bound, "search.backdrive_torque_limit", backdrive, space.backdrive_limit, "N m") {
        return None;
    }
    let drive = match outline::sun_drive(design, stage, &seated.core) {
        Ok(drive) => drive,
        Err(faults) => {
            faults.iter().for_each(|fault| misses.refuse(fault.id, &fault.message));
            return None;
        }
    };
    let envelope = outline::least_envelope(design, stage, &seated.core, &drive)?;
    let printed = least_mass::of_gearset(design, stage, &seated.core);
    let bought = design.motor.mass + design.controller.mass + seated.core.bought_mass(stage);
    let least = Objectives {
        mass: bought + of_motor.bearing_mass + printed,
        diameter: envelope.diameter,
        height: envelope.height + of_motor.stack,
        // Set when it is known, which takes a layout.
        continuous: f64::INFINITY,
        backdrive,
        cost: least_cost(design),
    };
    if misses_limits(requirement, &least, Stage::Bound, bounds, misses) {
        return None;
    }
    let on_hand = Objectives {
        mass: bought + of_motor.all_mass + order::rims(design, stage, seated.core.seat()),
        height: envelope.height + of_motor.all_stack,
        continuous: of_motor.window.torque_by_ratio * stage.ratio,
        ..least
    };
    let order = on_hand.scaled().iter().sum();
    Some(Group { motor, seated: place, ratio: stage.ratio, envelope, least, order })
}

/// What has a price in every candidate; filament, the only other thing with a price, may cost nothing here.
pub fn least_cost(design: &Design) -> Option<f64> {
    let bought = [design.motor.cost, design.controller.cost];
    let has_price = !design.printer.filament_cost.is_empty() || bought.iter().any(Option::is_some);
    has_price.then(|| bought.iter().flatten().sum())
}

/// Whether a bound misses the requirement's limits; notes by how much.
pub fn misses_limits(
    requirement: &crate::design::Requirement,
    least: &Objectives,
    stage: Stage,
    bounds: &Bounds,
    misses: &mut Misses,
) -> bool {
    use super::bounds::ROUNDING;
    let less = 1.0 - ROUNDING;
    let grams = requirement.mass_limit.map(|mass| mass * 1e3);
    let wide = bounds.envelope
        && misses.over(
            stage,
            "requirement.outer_diameter_limit",
            least.diameter * less,
            requirement.outer_diameter_limit,
            "mm",
        );
    let high = bounds.envelope
        && misses.over(
            stage,
            "requirement.height_limit",
            least.height * less,
            requirement.height_limit,
            "mm",
        );
    // A bound at every stage: what it weighs isn't known until it is drawn.
    let heavy = bounds.mass
        && misses.over(Stage::Bound, "requirement.mass_limit", least.mass * 1e3 * less, grams, "g");
    let hot = bounds.heat
        && misses.under(
            stage,
            "requirement.continuous_torque",
            least.continuous * (1.0 + ROUNDING),
            requirement.continuous_torque,
            "N m",
        );
    wide || high || heavy || hot
}
