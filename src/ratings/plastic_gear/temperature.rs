//! Tooth temperature, root and flank, by the form of VDI 2736-2 (from memory, not seen on a page):
//! `theta = theta0 + P mu HV (k_theta / (b z (v mn)^0.75) + R_lG / A_G) ED^0.64`.
//!
//! P power through the mesh \[W\], mu friction coefficient, HV the mesh's loss factor, b and mn in mm, v m/s, A_G the
//! housing's surface \[m2\], ED the share of the time under load. k_theta differs by the mate and between root and flank:
//! a Hachmann and Strickle model (that structure was read in a trade article). The remembered predecessor, VDI 2545,
//! gives temperatures within 6 %; one measured thermal limit of acetal gears agrees (Mao, Hooke, Walton 2006).
//!
//! Range: running gears; the constants stem from moulded PA and POM, dry or greased. A gear with several meshes at a time
//! is heated by the sum of them: an assumption. Not covered: heat from the motor (put it into the ambient), flash
//! temperature, a short burst before the steady state.

use super::Band;
use super::not_applicable::NotApplicable;

/// What a plastic gear runs against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mate {
    Metal,
    Plastic,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lubrication {
    Dry,
    /// Once, at assembly.
    Greased,
    /// Carries all heat off: both heat coefficients 0.
    OilBath,
}

impl Lubrication {
    /// Usual friction coefficients of the flanks, all from memory: the lists of VDI 2545 (PA and POM on steel 0.20 dry, PA
    /// on PA 0.40, POM on POM 0.28, greased 0.09, oil 0.04) and common practice with prints (dry 0.3-0.5, greased
    /// 0.15-0.3). A printing paper measured 0.6-0.8 of dry PLA (msp-2025-0039, read).
    pub fn usual_friction(self, mate: Mate) -> Band {
        let (value, low, high) = match (self, mate) {
            (Lubrication::Dry, Mate::Metal) => (0.3, 0.20, 0.5),
            (Lubrication::Dry, Mate::Plastic) => (0.4, 0.28, 0.8),
            (Lubrication::Greased, _) => (0.2, 0.09, 0.3),
            (Lubrication::OilBath, _) => (0.04, 0.04, 0.07),
        };
        Band { value, low, high }
    }
}

/// k_theta, in the guideline's own mixed units: K for power in W, width and module in mm, speed in m/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatCoefficients {
    pub root: f64,
    pub flank: f64,
}

impl HeatCoefficients {
    /// From memory.
    pub fn of(mate: Mate, lubrication: Lubrication) -> HeatCoefficients {
        match (lubrication, mate) {
            (Lubrication::OilBath, _) => HeatCoefficients { root: 0.0, flank: 0.0 },
            (_, Mate::Metal) => HeatCoefficients { root: 895.0, flank: 6300.0 },
            (_, Mate::Plastic) => HeatCoefficients { root: 2100.0, flank: 9000.0 },
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Housing {
    Open,
    PartlyOpen,
    Closed,
}

impl Housing {
    /// R_lG \[K m2/W\], from memory; of the partly open one's 0.015 to 0.045 the middle.
    pub fn heat_resistance(self) -> f64 {
        match self {
            Housing::Open => 0.0,
            Housing::PartlyOpen => 0.03,
            Housing::Closed => 0.06,
        }
    }
}

/// How a mesh runs; speeds and power relative to the carrier in a planetary stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Running {
    /// Through this mesh \[W\].
    pub power: f64,
    /// At the reference circle \[m/s\].
    pub velocity: f64,
    pub friction: f64,
    /// HV
    pub loss_factor: f64,
    /// ED: share of the time under load, over 0 up to 1.
    pub duty: f64,
    pub housing: Housing,
    /// A_G: outer surface of the housing \[m2\]; of no account if open.
    pub housing_area: f64,
}

/// Over the ambient \[K\].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TemperatureRise {
    pub root: f64,
    pub flank: f64,
}

impl TemperatureRise {
    pub const NONE: TemperatureRise = TemperatureRise { root: 0.0, flank: 0.0 };

    /// Of a gear in several meshes.
    pub fn plus(self, other: TemperatureRise) -> TemperatureRise {
        TemperatureRise { root: self.root + other.root, flank: self.flank + other.flank }
    }

    /// Temperatures \[degC\] as (root, flank).
    pub fn over(self, ambient: f64) -> (f64, f64) {
        (ambient + self.root, ambient + self.flank)
    }
}

/// Rise of one gear's teeth by one mesh; lengths in mm.
///
/// # Errors
/// At standstill and for a duty that isn't one.
pub fn temperature_rise(
    running: &Running,
    coefficients: HeatCoefficients,
    face_width: f64,
    teeth: u32,
    normal_module: f64,
) -> Result<TemperatureRise, NotApplicable> {
    if running.velocity == 0.0 {
        return Err(NotApplicable::Standstill);
    }
    if !(running.duty > 0.0 && running.duty <= 1.0) {
        return Err(NotApplicable::Duty(running.duty));
    }
    let tooth = face_width * f64::from(teeth) * libm::pow(running.velocity.abs() * normal_module, 0.75);
    let through_housing = match running.housing {
        Housing::Open => 0.0,
        closed => closed.heat_resistance() / running.housing_area,
    };
    let loss = running.power.abs() * running.friction * running.loss_factor;
    let heat = loss * libm::pow(running.duty, 0.64);
    let rise = |coefficient: f64| heat * (coefficient / tooth + through_housing);
    let found = TemperatureRise { root: rise(coefficients.root), flank: rise(coefficients.flank) };
    // A width or area of 0, a negative friction, or no number at all.
    let sound = |rise: f64| rise.is_finite() && rise >= 0.0;
    if sound(found.root) && sound(found.flank) { Ok(found) } else { Err(NotApplicable::Input) }
}
