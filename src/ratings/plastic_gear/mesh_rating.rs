//! Every figure of one mesh with a plastic gear in it, from plain inputs; without allocation, for use inside a search.
//!
//! Temperatures come from the continuous load; peak and impact strike the teeth when they are that warm. A planet's teeth
//! are heated by its other mesh as well: [`PlasticMesh::rise_of`] gives each mesh's part, which the other takes as
//! `rise_elsewhere`.

use super::Band;
use super::deformation::Deformation;
use super::flank_pressure::{PLASTIC_POISSON_RATIO, flank_pressure};
use super::not_applicable::NotApplicable;
use super::printed::{LayerDirection, LoadCase, Printed, temperature_share};
use super::temperature::{
    HeatCoefficients, Housing, Lubrication, Mate, Running, TemperatureRise, temperature_rise,
};
use super::wear::{active_flanks, wear_depth};
use super::wear_coefficient::wear_coefficient;
use crate::gears::{Gear, Mesh};
use crate::ratings::mesh_loss::mesh_loss_factor;
use crate::ratings::tooth_flank::Elasticity;
use crate::ratings::tooth_root::{ContactRatios, RootFactors};
use crate::tables::Material;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GearMaterial<'a> {
    Metal(Elasticity),
    Printed { material: &'a Material, solid_root: bool },
}

/// One of a thing for each load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cases<T> {
    pub continuous: T,
    pub peak: T,
    pub impact: T,
}

impl<T> Cases<T> {
    pub fn map<U>(self, apply: impl Fn(T) -> U) -> Cases<U> {
        Cases { continuous: apply(self.continuous), peak: apply(self.peak), impact: apply(self.impact) }
    }
}

/// One gear of the mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshSide<'a> {
    pub gear: &'a Gear,
    pub material: GearMaterial<'a>,
    /// Bends both ways: a planet.
    pub idler: bool,
    /// Equal meshes it has at a time: as many as planets for sun and ring, 1 for a planet.
    pub meshes: u32,
    /// By other meshes than these: a planet's other one. Where that has no number, neither has the whole.
    pub rise_elsewhere: Result<TemperatureRise, NotApplicable>,
    /// Load cycles of one tooth in the life: its passes through any of `meshes`.
    pub cycles: f64,
}

/// A mesh and how it runs; pinion (planet), then wheel (ring).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshCase<'a> {
    pub mesh: &'a Mesh,
    pub sides: [MeshSide<'a>; 2],
    pub contact: ContactRatios,
    pub face_width: f64,
    /// Of this mesh, at the reference circle \[N\]; load sharing included.
    pub tangential: Cases<f64>,
    /// At the reference circle, against the carrier \[m/s\].
    pub velocity: f64,
    pub friction: f64,
    pub lubrication: Lubrication,
    /// ED, over 0 up to 1.
    pub duty: f64,
    /// Of the air in the housing \[degC\].
    pub ambient: f64,
    pub housing: Housing,
    /// \[m2\]
    pub housing_area: f64,
}

impl MeshCase<'_> {
    fn is_all_metal(&self) -> bool {
        self.sides.iter().all(|side| matches!(side.material, GearMaterial::Metal(_)))
    }
}

/// One gear; [`NotApplicable::Metal`] throughout for one of metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearRating {
    /// All meshes together, over the ambient.
    pub rise: Result<TemperatureRise, NotApplicable>,
    /// Nominal, local (with YS) \[MPa\]; ISO 6336-3 method B, edition 2006, on the real fillet.
    pub root_stress: Result<Cases<f64>, NotApplicable>,
    /// At the root's temperature \[MPa\].
    pub root_strength: Result<Cases<Band>, NotApplicable>,
    /// At the flank's temperature \[MPa\].
    pub flank_strength: Result<Cases<Band>, NotApplicable>,
    /// Off each flank in the life, by this mesh under its continuous load \[mm\].
    pub wear: Result<Band, NotApplicable>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlasticMesh {
    /// HV
    pub loss_factor: Result<f64, NotApplicable>,
    /// Nominal \[MPa\].
    pub flank_pressure: Result<Cases<f64>, NotApplicable>,
    /// Under the peak load, warm.
    pub deformation: Result<Deformation, NotApplicable>,
    pub gears: [GearRating; 2],
}

impl PlasticMesh {
    pub fn of(case: &MeshCase) -> PlasticMesh {
        let [first, second] = case.sides;
        let loss_factor = mesh_loss_factor(case.mesh, [first.gear, second.gear]).ok_or(NotApplicable::Mesh);
        let flanks = active_flanks(case.mesh, [first.gear, second.gear]);
        let gears = [
            GearRating::of(case, first, mate(second), flanks[0], loss_factor),
            GearRating::of(case, second, mate(first), flanks[1], loss_factor),
        ];
        PlasticMesh {
            loss_factor,
            flank_pressure: pressures(case),
            deformation: moduli(case, gears).map(|moduli| {
                let gear = first.gear;
                let force = case.tangential.peak;
                Deformation::of(force, case.face_width, gear.helix_angle, moduli, gear.normal_module)
            }),
            gears,
        }
    }

    /// Rise of one side's teeth by this mesh alone, `rise_elsewhere` left out.
    ///
    /// # Errors
    /// As [`temperature_rise`]; for a metal gear.
    pub fn rise_of(case: &MeshCase, side: usize) -> Result<TemperatureRise, NotApplicable> {
        let [first, second] = case.sides;
        let loss_factor =
            mesh_loss_factor(case.mesh, [first.gear, second.gear]).ok_or(NotApplicable::Mesh)?;
        match side {
            0 => own_rise(case, first, mate(second), loss_factor),
            1 => own_rise(case, second, mate(first), loss_factor),
            _ => Err(NotApplicable::Input),
        }
    }
}

impl GearRating {
    fn of(
        case: &MeshCase,
        side: MeshSide,
        mate: Mate,
        flank: f64,
        loss_factor: Result<f64, NotApplicable>,
    ) -> GearRating {
        let GearMaterial::Printed { material, solid_root } = side.material else {
            return GearRating {
                rise: Err(NotApplicable::Metal),
                root_stress: Err(NotApplicable::Metal),
                root_strength: Err(NotApplicable::Metal),
                flank_strength: Err(NotApplicable::Metal),
                wear: Err(NotApplicable::Metal),
            };
        };
        let rise = loss_factor
            .and_then(|factor| own_rise(case, side, mate, factor))
            .and_then(|own| Ok(own.plus(side.rise_elsewhere?)));
        let printed = Printed { material, solid_root, idler: side.idler };
        let cycles = side.cycles;
        GearRating {
            rise,
            root_stress: root_stresses(case, side.gear),
            root_strength: rise.and_then(|rise| {
                let temperature = case.ambient + rise.root;
                in_each_case(cycles, |load| printed.strength(LayerDirection::InLayers, temperature, load))
            }),
            flank_strength: rise.and_then(|rise| {
                let temperature = case.ambient + rise.flank;
                in_each_case(cycles, |load| printed.flank_strength(temperature, load))
            }),
            wear: loss_factor.and_then(|factor| wear(case, side, material, flank, factor)),
        }
    }
}

fn mate(other: MeshSide) -> Mate {
    match other.material {
        GearMaterial::Metal(_) => Mate::Metal,
        GearMaterial::Printed { .. } => Mate::Plastic,
    }
}

fn own_rise(
    case: &MeshCase,
    side: MeshSide,
    mate: Mate,
    loss_factor: f64,
) -> Result<TemperatureRise, NotApplicable> {
    if matches!(side.material, GearMaterial::Metal(_)) {
        return Err(NotApplicable::Metal);
    }
    let running = Running {
        power: case.tangential.continuous * case.velocity * f64::from(side.meshes),
        velocity: case.velocity,
        friction: case.friction,
        loss_factor,
        duty: case.duty,
        housing: case.housing,
        housing_area: case.housing_area,
    };
    let coefficients = HeatCoefficients::of(mate, case.lubrication);
    temperature_rise(&running, coefficients, case.face_width, side.gear.teeth, side.gear.normal_module)
}

fn wear(
    case: &MeshCase,
    side: MeshSide,
    material: &Material,
    flank: f64,
    loss_factor: f64,
) -> Result<Band, NotApplicable> {
    let row = wear_coefficient(&material.name).ok_or(NotApplicable::NoWearCoefficient)?;
    let torque = case.tangential.continuous.abs() * 0.5e-3 * side.gear.reference_diameter;
    let unit = wear_depth(torque, side.cycles, loss_factor, 1.0, case.face_width, side.gear.teeth, flank);
    // A width or flank of 0, or no number at all.
    if unit.is_finite() && unit >= 0.0 {
        Ok(row.with(case.lubrication).scaled(unit))
    } else {
        Err(NotApplicable::Input)
    }
}

fn root_stresses(case: &MeshCase, gear: &Gear) -> Result<Cases<f64>, NotApplicable> {
    let factors = RootFactors::of(gear, case.contact).map_err(NotApplicable::Root)?;
    Ok(case.tangential.map(|force| factors.nominal_stress(force, case.face_width, gear.normal_module)))
}

fn in_each_case(
    cycles: f64,
    strength: impl Fn(LoadCase) -> Result<Band, NotApplicable>,
) -> Result<Cases<Band>, NotApplicable> {
    Ok(Cases {
        continuous: strength(LoadCase::Continuous { cycles })?,
        peak: strength(LoadCase::Peak)?,
        impact: strength(LoadCase::Impact)?,
    })
}

/// Pressure goes with the root of the load; cold and stiff, where it is highest.
fn pressures(case: &MeshCase) -> Result<Cases<f64>, NotApplicable> {
    let [first, second] = case.sides;
    if case.is_all_metal() {
        return Err(NotApplicable::Metal);
    }
    let elasticities = [first, second].map(|side| match side.material {
        GearMaterial::Metal(elasticity) => elasticity,
        GearMaterial::Printed { material, .. } => {
            Elasticity { modulus: material.modulus, poisson_ratio: PLASTIC_POISSON_RATIO }
        }
    });
    let of_one_newton = flank_pressure(
        case.mesh,
        [first.gear, second.gear],
        elasticities,
        case.contact,
        1.0,
        case.face_width,
    )?;
    Ok(case.tangential.map(|force| of_one_newton * force.abs().sqrt()))
}

/// At the teeth's temperatures; of a share's band the value.
fn moduli(case: &MeshCase, gears: [GearRating; 2]) -> Result<[f64; 2], NotApplicable> {
    if case.is_all_metal() {
        return Err(NotApplicable::Metal);
    }
    let [first, second] = case.sides;
    let modulus = |side: MeshSide, rating: GearRating| match side.material {
        GearMaterial::Metal(elasticity) => Ok(elasticity.modulus),
        GearMaterial::Printed { material, .. } => {
            let share = temperature_share(material, case.ambient + rating.rise?.root)?;
            Ok(material.modulus * share.value)
        }
    };
    Ok([modulus(first, gears[0])?, modulus(second, gears[1])?])
}
