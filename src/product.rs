//! Everything made of one design before it is judged: parts with their shapes, bill of materials, loads.

use std::sync::OnceLock;

use rayon::prelude::*;

use crate::assembly::Assembly;
use crate::assessment::axial::AxialChains;
use crate::assessment::bearing_ratings::BearingRatings;
use crate::assessment::control_inputs::control;
use crate::assessment::fastening::Fastening;
use crate::assessment::gear_ratings::GearRatings;
use crate::assessment::heat_inputs::{enclosed_inputs, heat_inputs};
use crate::assessment::joint_loads::peak_radial;
use crate::assessment::joints::JointRatings;
use crate::assessment::stage_feel::Feel;
use crate::assessment::structure::Structure;
use crate::assessment::wiring::Wiring;
use crate::bom::BillOfMaterials;
use crate::design::Design;
use crate::gears::Stage;
use crate::interference::{self, Body, Interference, Unmet};
use crate::layout::{Actuator, Enclosed, PlanetSeat};
use crate::parts::{self, MadePart, PartError};
use crate::ratings::heat::continuous::{Continuous, Holder, NothingHeld};
use crate::ratings::heat::transient::Unsolved;
use crate::ratings::heat::{self, Demand, Network};
use crate::ratings::motor::speed_map::Reduction;
use crate::ratings::motor::{Circuit, Supply};
use crate::ratings::output_bearing::{self, OutputBearing, OutputLoads};
use crate::ratings::planet_bearing;
use crate::ratings::spring;
use crate::ratings::spring::rating::NotRated;

/// What is made of one actuator.
#[derive(Clone, Debug)]
pub struct Product {
    /// Large, and handed on often.
    pub actuator: Box<Actuator>,
    pub parts: Vec<MadePart>,
    pub bom: BillOfMaterials,
    pub output_bearing: OutputBearing,
    /// Load on one planet bearing at peak \[N\]; none on a bush.
    pub planet_load: Option<f64>,
    /// Motor and heat; why not, if the temperatures can't be solved.
    pub heat: Result<heat::Rating, Unsolved>,
    /// Stiffness, play and inertia.
    pub feel: Feel,
    pub gears: GearRatings,
    /// The virtual spring; why not, if it can't be rated.
    pub control: Result<spring::Rating, NotRated>,
    /// Lives, friction and play of the bearings.
    pub bearings: BearingRatings,
    /// Bolted joints.
    pub joints: JointRatings,
    /// Planet pins and printed bodies under load.
    pub structure: Structure,
    /// Every body at its place and how all pairs of them lie; why not, if one can't be formed.
    pub fit: Result<Fit, Unmet>,
    /// Leads and the room they have; none if no lead of the table carries the current.
    pub wiring: Option<Wiring>,
    /// Screws, inserts and holes as the bodies have them.
    pub fastening: Result<Fastening, Unmet>,
    axial: OnceLock<AxialChains>,
}

/// All bodies where they stand, printed ones as drawn.
#[derive(Clone, Debug)]
pub struct Fit {
    pub bodies: Vec<Body>,
    pub interference: Interference,
    /// How they go together.
    pub assembly: Assembly,
}

impl Fit {
    /// # Errors
    /// Bodies or sections that can't be formed.
    pub fn of(actuator: &Actuator) -> Result<Fit, Unmet> {
        let bodies = interference::bodies(actuator)?;
        let (interference, assembly) =
            rayon::join(|| Interference::among(actuator, &bodies), || Assembly::of(actuator, &bodies));
        let (interference, assembly) = (interference?, assembly?);
        Ok(Fit { bodies, interference, assembly })
    }
}

impl Product {
    /// Shapes, triangles and masses of all parts, and what follows from them. Every part that fails is reported.
    pub fn of(actuator: Box<Actuator>) -> Result<Product, Vec<PartError>> {
        // Bodies at their places take longest; meanwhile everything that needs no more than masses.
        let (weighed, fit) = rayon::join(|| weighed(&actuator), || Fit::of(&actuator));
        let (parts, bom, rated) = weighed?;
        Ok(Product::together(actuator, parts, bom, rated, fit))
    }

    /// The same from parts that are drawn already.
    pub fn of_drawn(actuator: Box<Actuator>, parts: Vec<MadePart>) -> Product {
        let bom = BillOfMaterials::new(&actuator, &parts);
        let rate = || {
            let feel = Feel::of(&actuator, &parts);
            Rated::of(&actuator, heat(&actuator), feel, bom.total_mass())
        };
        let (rated, fit) = rayon::join(rate, || Fit::of(&actuator));
        Product::together(actuator, parts, bom, rated, fit)
    }

    /// All that is rated before a part is drawn, at a `mass` \[kg\] of the whole that it won't fall short of. What needs drawn
    /// bodies (fit, screws in their holes, inertia) is left out, and says so; the bill of materials is empty.
    pub fn undrawn(actuator: Box<Actuator>, heat: Result<heat::Rating, Unsolved>, mass: f64) -> Product {
        let bom = BillOfMaterials { items: Vec::new() };
        let rated = Rated::of(&actuator, heat, Feel::undrawn(&actuator), mass);
        Product::together(actuator, Vec::new(), bom, rated, Err(Unmet::NotDrawn))
    }

    fn together(
        actuator: Box<Actuator>,
        parts: Vec<MadePart>,
        bom: BillOfMaterials,
        rated: Rated,
        fit: Result<Fit, Unmet>,
    ) -> Product {
        let Rated {
            output_bearing,
            planet_load,
            heat,
            feel,
            gears,
            control,
            bearings,
            joints,
            structure,
            wiring,
        } = rated;
        let fastening = match &fit {
            Ok(fit) => Fastening::of(&actuator, &fit.bodies, &bom).map_err(Unmet::from),
            Err(error) => Err(error.clone()),
        };
        Product {
            actuator,
            parts,
            bom,
            output_bearing,
            planet_load,
            heat,
            feel,
            gears,
            joints,
            structure,
            control,
            bearings,
            wiring,
            fit,
            fastening,
            axial: OnceLock::new(),
        }
    }

    /// Tolerance chains along the axis; only drawn designs are asked for them.
    pub fn axial(&self) -> &AxialChains {
        self.axial.get_or_init(|| AxialChains::of(&self.actuator))
    }
}

/// Parts with their masses, and what follows from them without their places.
fn weighed(actuator: &Actuator) -> Result<(Vec<MadePart>, BillOfMaterials, Rated), Vec<PartError>> {
    let (heat, parts) = rayon::join(|| heat(actuator), || made_parts(actuator));
    let parts = parts?;
    let bom = BillOfMaterials::new(actuator, &parts);
    let rated = Rated::of(actuator, heat, Feel::of(actuator, &parts), bom.total_mass());
    Ok((parts, bom, rated))
}

/// All ratings that take loads and masses, and no drawn body.
struct Rated {
    output_bearing: OutputBearing,
    planet_load: Option<f64>,
    heat: Result<heat::Rating, Unsolved>,
    feel: Feel,
    gears: GearRatings,
    control: Result<spring::Rating, NotRated>,
    bearings: BearingRatings,
    joints: JointRatings,
    structure: Structure,
    wiring: Option<Wiring>,
}

impl Rated {
    /// `mass` of the whole actuator \[kg\].
    fn of(actuator: &Actuator, heat: Result<heat::Rating, Unsolved>, feel: Feel, mass: f64) -> Rated {
        let output_bearing = output_bearing(actuator);
        let planet_load = match actuator.planet.turns_on {
            PlanetSeat::Bearings { spread, .. } => {
                Some(planet_bearing::bearing_load(&actuator.stage, actuator.torques.sun, spread))
            }
            PlanetSeat::Bush(_) => None,
        };
        let warm = heat.as_ref().ok();
        let (control, (gears, bearings, joints, structure)) = rayon::join(
            || control(actuator, &feel),
            || {
                (
                    GearRatings::of(actuator, warm, &feel),
                    BearingRatings::of(actuator, &output_bearing, warm),
                    JointRatings::of(actuator, warm, mass),
                    Structure::of(actuator, warm, mass),
                )
            },
        );
        let wiring = Wiring::of(actuator, warm);
        Rated { output_bearing, planet_load, heat, feel, gears, control, bearings, joints, structure, wiring }
    }
}

/// Every part with its shape and mass.
///
/// # Errors
/// Every one that has none.
pub fn made_parts(actuator: &Actuator) -> Result<Vec<MadePart>, Vec<PartError>> {
    let made: Vec<Result<MadePart, PartError>> = parts::all(actuator)?
        .into_par_iter()
        .map(|part| {
            let name = part.name;
            MadePart::of(actuator, part).map_err(|source| PartError { part: name, source })
        })
        .collect();
    let (good, bad): (Vec<_>, Vec<_>) = made.into_iter().partition(Result::is_ok);
    if bad.is_empty() {
        Ok(good.into_iter().filter_map(Result::ok).collect())
    } else {
        Err(bad.into_iter().filter_map(Result::err).collect())
    }
}

/// Torque, speed and heat of the motor in this joint.
///
/// # Errors
/// Temperatures that can't be solved.
pub fn heat(actuator: &Actuator) -> Result<heat::Rating, Unsolved> {
    let (circuit, supply, reduction) = drive(&actuator.design, &actuator.stage);
    heat::Rating::of(heat_inputs(actuator), circuit, supply, reduction, &heat_demand(actuator))
}

/// What heat asks of an actuator, before anything is solved.
pub struct HeatCase {
    pub network: Network,
    pub circuit: Circuit,
    pub supply: Supply,
    pub reduction: Reduction,
}

impl HeatCase {
    /// Of an actuator whose output side needn't be laid out yet.
    pub fn of(enclosed: &Enclosed) -> HeatCase {
        let (circuit, supply, reduction) = drive(enclosed.design, enclosed.stage);
        HeatCase { network: Network::new(enclosed_inputs(enclosed)), circuit, supply, reduction }
    }

    pub fn holder(&self) -> Holder<'_> {
        Holder { circuit: &self.circuit, reduction: &self.reduction }
    }

    /// As [`heat`], as far as checks and other ratings ask, from what can be held at rest.
    ///
    /// # Errors
    /// As [`heat`].
    pub fn judged(
        self,
        held: Result<Continuous, NothingHeld>,
        actuator: &Actuator,
    ) -> Result<heat::Rating, Unsolved> {
        let HeatCase { network, circuit, supply, reduction } = self;
        heat::Rating::with_continuous(network, held, circuit, supply, reduction, &heat_demand(actuator))
    }
}

fn drive(design: &Design, stage: &Stage) -> (Circuit, Supply, Reduction) {
    (
        Circuit::of(&design.motor, &design.controller),
        Supply::of(&design.controller),
        Reduction { ratio: stage.ratio, efficiency: design.gearset.efficiency },
    )
}

fn heat_demand(actuator: &Actuator) -> Demand<'_> {
    let requirement = &actuator.design.requirement;
    Demand {
        peak_torque: requirement.peak_torque,
        peak_time: requirement.peak_time,
        continuous_torque: requirement.continuous_torque,
        duty: requirement.duty.as_deref(),
    }
}

/// Loads on the output bearing from the design's load, with the overhang taken to the bearing's (the pair's) middle.
fn output_bearing(actuator: &Actuator) -> OutputBearing {
    let (design, stations) = (&actuator.design, &actuator.stations);
    let middle = (stations.bearing_back + stations.bearing_front) / 2.0;
    let in_work = design.load.weight + design.load.radial;
    let loads = OutputLoads {
        radial: in_work,
        peak_radial: peak_radial(actuator),
        axial: design.load.axial,
        overhang: design.load.overhang + stations.output_face - middle,
        shock: design.load.shock,
        rate: design.load.rate,
        // The file gives the half to either side of the middle.
        swing: design.load.oscillation.map(|half| 2.0 * half),
        reliability: design.limits.reliability,
        clearance: design.bearings.clearance,
    };
    output_bearing::rate(
        &design.bearings.output,
        design.bearings.output_count,
        design.bearings.output_spacing,
        &loads,
    )
}
