//! Fatigue limits of moulded POM and PA66 gears by temperature T \[degC\] and load cycles N: fit formulas quoted in the
//! polymer gear literature after VDI 2736-2 (from memory, not seen): a plausibility band of 30 %, not an allowable.
//!
//! Range: 20 to 100 degC, 1e5 to 1e8 cycles. `sigma_FP = YSt sigma_Flim / SF` with YSt = 2. Whether the stress beside it is
//! formed with YSa is itself from memory (VDI 2545 without, VDI 2736 with).

use super::not_applicable::NotApplicable;

const TEMPERATURES: (f64, f64) = (20.0, 100.0);
const CYCLES: (f64, f64) = (1e5, 1e8);

/// YSt, from memory.
const TEST_GEAR_STRESS_CORRECTION: f64 = 2.0;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moulded {
    Pom,
    Pa66,
}

impl Moulded {
    /// sigma_FlimN \[MPa\].
    ///
    /// # Errors
    /// Outside the curve.
    pub fn root_limit(self, temperature: f64, cycles: f64) -> Result<f64, NotApplicable> {
        in_range(temperature, cycles)?;
        let t = temperature;
        Ok(match self {
            Moulded::Pom => 26.0 - 0.0025 * t * t + 400.0 * libm::pow(cycles, -0.2),
            Moulded::Pa66 => {
                30.0 - 0.22 * t + (4600.0 - 900.0 * libm::pow(t, 0.3)) * libm::pow(cycles, -1.0 / 3.0)
            }
        })
    }

    /// sigma_HlimN \[MPa\].
    ///
    /// # Errors
    /// Outside the curve; of POM none is known here.
    pub fn flank_limit(self, temperature: f64, cycles: f64) -> Result<f64, NotApplicable> {
        in_range(temperature, cycles)?;
        let square = temperature * temperature;
        match self {
            Moulded::Pom => Err(NotApplicable::NoCurve),
            Moulded::Pa66 => {
                Ok(36.0 - 0.0012 * square + (1000.0 - 0.025 * square) * libm::pow(cycles, -0.21))
            }
        }
    }
}

fn in_range(temperature: f64, cycles: f64) -> Result<(), NotApplicable> {
    let (from, to) = TEMPERATURES;
    if !(from..=to).contains(&temperature) {
        return Err(NotApplicable::Temperature { temperature, from, to });
    }
    let (from, to) = CYCLES;
    if !(from..=to).contains(&cycles) {
        return Err(NotApplicable::Cycles { cycles, from, to });
    }
    Ok(())
}

/// Sets SF.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Duty {
    Continuous,
    Intermittent,
}

/// sigma_FP \[MPa\].
pub fn permissible_stress(limit: f64, duty: Duty) -> f64 {
    let safety = match duty {
        Duty::Continuous => 2.0,
        Duty::Intermittent => 1.5,
    };
    TEST_GEAR_STRESS_CORRECTION * limit / safety
}
