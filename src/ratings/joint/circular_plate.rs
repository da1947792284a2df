//! Bending of a solid round plate (Timoshenko, Theory of Plates and Shells; from memory).
//!
//! `D = E t^3 / (12 (1 - nu^2))`. Load in the middle: clamped `w = P a^2 / (16 pi D)`, free edge times `(3 + nu)/(1 + nu)`; over
//! the whole plate: `q a^4 / (64 D)`, times `(5 + nu)/(1 + nu)`. Thin plates (t under a fifth of the radius), small deflection,
//! no holes.

use std::f64::consts::PI;

/// How its rim is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rim {
    Clamped,
    Free,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CircularPlate {
    /// To the rim that is held.
    pub radius: f64,
    pub thickness: f64,
    pub modulus: f64,
    pub poisson: f64,
    pub rim: Rim,
}

impl CircularPlate {
    /// D \[N mm\].
    pub fn stiffness(&self) -> f64 {
        self.modulus * self.thickness.powi(3) / (12.0 * (1.0 - self.poisson * self.poisson))
    }

    /// Middle's deflection under a load in the middle.
    pub fn central_deflection(&self, load: f64) -> f64 {
        let clamped = load * self.radius * self.radius / (16.0 * PI * self.stiffness());
        clamped * self.softer(3.0)
    }

    /// Under a pressure over the whole plate \[MPa\].
    pub fn uniform_deflection(&self, pressure: f64) -> f64 {
        pressure * self.radius.powi(4) / (64.0 * self.stiffness()) * self.softer(5.0)
    }

    fn softer(&self, number: f64) -> f64 {
        match self.rim {
            Rim::Clamped => 1.0,
            Rim::Free => (number + self.poisson) / (1.0 + self.poisson),
        }
    }

    /// Middle's deflection of a clamped plate under a load along a circle of radius `over`:
    /// `P / (8 pi D) ((a^2 - c^2) / 2 - c^2 ln(a/c))`. None if it isn't clamped, or the circle isn't inside.
    pub fn clamped_deflection(&self, load: f64, over: f64) -> Option<f64> {
        if !self.carries_on(over) {
            return None;
        }
        let (rim, circle) = (self.radius * self.radius, over * over);
        let shape = (rim - circle) / 2.0 - circle * libm::log(self.radius / over);
        Some(load / (8.0 * PI * self.stiffness()) * shape)
    }

    fn carries_on(&self, circle: f64) -> bool {
        self.rim == Rim::Clamped && circle > 0.0 && circle <= self.radius
    }

    /// Greatest bending stress of a clamped plate under a load spread over the disc of radius `over` in the middle: of rim
    /// `P / (4 pi) (1 - c^2 / (2 a^2))` and middle `(1 + nu) P / (4 pi) (ln(a/c) + c^2 / (4 a^2))`, `6 M / t^2`. None if it isn't
    /// clamped, or the circle isn't inside.
    pub fn clamped_stress(&self, load: f64, over: f64) -> Option<f64> {
        if !self.carries_on(over) {
            return None;
        }
        let share = over / self.radius;
        let at_rim = 1.0 - 0.5 * share * share;
        let in_middle = (1.0 + self.poisson) * (-libm::log(share) + 0.25 * share * share);
        let moment = load.abs() / (4.0 * PI) * f64::max(at_rim, in_middle);
        Some(6.0 * moment / (self.thickness * self.thickness))
    }
}
