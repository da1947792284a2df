//! Why a rating gives no number.

use thiserror::Error;

use crate::ratings::tooth_root;

#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NotApplicable {
    #[error("a metal gear is not rated as a plastic one")]
    Metal,
    #[error("the gears stand still: the tooth temperature is that of the housing")]
    Standstill,
    #[error("the temperature of {temperature:.0} degC lies over the material's limit of {limit:.0} degC")]
    TooHot { temperature: f64, limit: f64 },
    #[error("the fatigue curve covers {from:.0} to {to:.0} degC, not {temperature:.0}")]
    Temperature { temperature: f64, from: f64, to: f64 },
    #[error("{cycles:e} load cycles lie outside the curve's {from:e} to {to:e}")]
    Cycles { cycles: f64, from: f64, to: f64 },
    #[error("the duty is a share over 0 and up to 1, not {0}")]
    Duty(f64),
    #[error("no flank fatigue curve of this material is known here")]
    NoCurve,
    #[error("no wear coefficient of this material is known here")]
    NoWearCoefficient,
    #[error("a mesh's transverse contact ratio is under 1 or over 2.5, or its helix over 30 degrees")]
    Mesh,
    #[error("an input is not a number of its range")]
    Input,
    #[error("tooth root: {0}")]
    Root(tooth_root::NotApplicable),
}
