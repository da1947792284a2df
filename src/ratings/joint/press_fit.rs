//! Cylindrical press fit, thick-walled (Lamé).
//!
//! `p = delta / (d [((D^2 + d^2)/(D^2 - d^2) + nu_o) / E_o + ((d^2 + d_i^2)/(d^2 - d_i^2) - nu_i) / E_i])`; hoop stress at the hub's
//! bore `p (D^2 + d^2)/(D^2 - d^2)`. Elastic, long, smooth, both round. Not covered: creep (a print loses most of it), layers.

use std::f64::consts::PI;

/// One body of a fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// MPa
    pub modulus: f64,
    pub poisson: f64,
}

/// A shaft in a hub; diameters. `interference` is diametral.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressFit {
    pub hub_outer: f64,
    pub diameter: f64,
    /// Bore of the shaft, 0 if solid.
    pub shaft_bore: f64,
    pub interference: f64,
    pub hub: Body,
    pub shaft: Body,
}

impl PressFit {
    /// MPa; none if the diameters don't lie one in the other.
    pub fn pressure(&self) -> Option<f64> {
        let (outer, fit, bore) = (self.hub_outer, self.diameter, self.shaft_bore);
        if !(outer > fit && fit > bore && bore >= 0.0) {
            return None;
        }
        let hub = (hoop_factor(outer, fit) + self.hub.poisson) / self.hub.modulus;
        let shaft = (hoop_factor(fit, bore) - self.shaft.poisson) / self.shaft.modulus;
        Some(self.interference / (fit * (hub + shaft)))
    }

    /// Tension at the hub's bore.
    pub fn hoop_stress(&self) -> Option<f64> {
        Some(self.pressure()? * hoop_factor(self.hub_outer, self.diameter))
    }

    /// Equivalent stress there, of hoop and radial stress (von Mises).
    pub fn equivalent_stress(&self) -> Option<f64> {
        let (hoop, radial) = (self.hoop_stress()?, -self.pressure()?);
        Some((hoop * hoop - hoop * radial + radial * radial).sqrt())
    }

    /// By which the shaft's outside closes, diametral.
    pub fn shaft_closes(&self) -> Option<f64> {
        let strain = self.pressure()? * (hoop_factor(self.diameter, self.shaft_bore) - self.shaft.poisson);
        Some(strain / self.shaft.modulus * self.diameter)
    }

    /// Torque \[N mm\] that friction holds over a length.
    pub fn torque(&self, friction: f64, length: f64) -> Option<f64> {
        Some(friction * self.pressure()? * PI * self.diameter * self.diameter * length / 2.0)
    }
}

fn hoop_factor(outer: f64, inner: f64) -> f64 {
    (outer * outer + inner * inner) / (outer * outer - inner * inner)
}
