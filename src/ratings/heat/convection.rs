//! Heat from a surface to the air it touches: published correlations for the Nusselt number `Nu = h L / k`.
//!
//! - vertical plate, all Ra: Churchill and Chu, Nu = (0.825 + 0.387 Ra^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27))^2
//! - the same, laminar (Ra < 1e9): Nu = 0.68 + 0.67 Ra^(1/4) / (1 + (0.492/Pr)^(9/16))^(4/9)
//! - horizontal cylinder: Nu = (0.6 + 0.387 (Ra / (1 + (0.559/Pr)^(9/16))^(16/9))^(1/6))^2, Ra up to 1e12
//! - forced, across a cylinder: Churchill and Bernstein (from memory), Re Pr > 0.2
//! - forced, along a flat plate, laminar: Nu = 0.664 Re^(1/2) Pr^(1/3) (from memory), Re < 5e5
//! - a turning disc's face, laminar: h = 0.36 k sqrt(w / nu) (from memory)
//! - both at once: Nu^3 = Nu_forced^3 + Nu_natural^3 (from memory)
//!
//! Properties at the film temperature, the mean of surface and air. Not covered: narrow gaps (they conduct), corners,
//! neighbouring bodies, pumping.

use std::sync::LazyLock;

use super::air::Air;
use super::smooth::Smooth;

/// \[m/s2\]
pub const GRAVITY: f64 = 9.806_65;

/// Vertical plate by its height, any Rayleigh number.
pub fn vertical_plate(rayleigh: f64, prandtl: f64) -> f64 {
    let by_prandtl = OF_PLATE.at(prandtl).unwrap_or_else(|| by_prandtl(PLATE, prandtl));
    let root = 0.825 + 0.387 * sixth_root(rayleigh) / by_prandtl;
    root * root
}

/// Vertical plate by its height, laminar: Rayleigh number under 1e9.
pub fn vertical_plate_laminar(rayleigh: f64, prandtl: f64) -> f64 {
    let by_prandtl = libm::pow(1.0 + libm::pow(PLATE / prandtl, 9.0 / 16.0), 4.0 / 9.0);
    0.68 + 0.67 * rayleigh.sqrt().sqrt() / by_prandtl
}

/// Horizontal cylinder by its diameter.
pub fn horizontal_cylinder(rayleigh: f64, prandtl: f64) -> f64 {
    // The sixth root of the power 16/9 is the power 8/27.
    let by_prandtl = OF_CYLINDER.at(prandtl).unwrap_or_else(|| by_prandtl(CYLINDER, prandtl));
    let root = 0.6 + 0.387 * sixth_root(rayleigh) / by_prandtl;
    root * root
}

/// Air blown across a cylinder, by its diameter.
pub fn cylinder_across(reynolds: f64, prandtl: f64) -> f64 {
    let laminar = 0.62 * reynolds.sqrt() * libm::cbrt(prandtl)
        / libm::pow(1.0 + libm::pow(0.4 / prandtl, 2.0 / 3.0), 0.25);
    0.3 + laminar * libm::pow(1.0 + libm::pow(reynolds / 282_000.0, 0.625), 0.8)
}

/// Air blown along a flat plate, by its length, laminar.
pub fn plate_along(reynolds: f64, prandtl: f64) -> f64 {
    0.664 * reynolds.sqrt() * libm::cbrt(prandtl)
}

/// `(1 + (constant / Pr)^(9/16))^(8/27)`.
fn by_prandtl(constant: f64, prandtl: f64) -> f64 {
    libm::pow(1.0 + libm::pow(constant / prandtl, 9.0 / 16.0), 8.0 / 27.0)
}

/// That of plate and cylinder for air.
static OF_PLATE: LazyLock<Smooth> =
    LazyLock::new(|| Smooth::of(OF_AIR, |prandtl| by_prandtl(PLATE, prandtl)));
static OF_CYLINDER: LazyLock<Smooth> =
    LazyLock::new(|| Smooth::of(OF_AIR, |prandtl| by_prandtl(CYLINDER, prandtl)));

const PLATE: f64 = 0.492;
const CYLINDER: f64 = 0.559;
/// Prandtl numbers of air from 200 to 500 K.
const OF_AIR: [f64; 2] = [0.66, 0.75];

fn sixth_root(value: f64) -> f64 {
    libm::cbrt(value.max(0.0).sqrt())
}

/// Film coefficient \[W/(m2 K)\] of the face of a disc that turns with `speed` \[rad/s\] in still air, laminar; the same at every
/// radius. `temperature` \[degC\] is the film's.
pub fn turning_disc(speed: f64, temperature: f64) -> f64 {
    let air = Air::at(temperature);
    0.36 * air.conductivity * (speed.abs() / air.viscosity).sqrt()
}

/// What a surface looks like to the air.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// Upright, or standing anyhow inside: by its height; blown along.
    Plate,
    /// The joint's outside, its axis level: by its diameter; blown across.
    Cylinder,
}

/// Film coefficient \[W/(m2 K)\] of a surface of `length` \[mm\] between its temperature and the air's \[degC\], with air passing at
/// `speed` \[m/s\].
pub fn film(surface: Surface, length: f64, temperature: f64, air_temperature: f64, speed: f64) -> f64 {
    let metres = length * 1e-3;
    let air = Air::at((temperature + air_temperature) / 2.0);
    let prandtl = air.prandtl();
    let rayleigh = air.rayleigh(temperature - air_temperature, metres, GRAVITY);
    let natural = match surface {
        Surface::Plate => vertical_plate(rayleigh, prandtl),
        Surface::Cylinder => horizontal_cylinder(rayleigh, prandtl),
    };
    let nusselt = if speed > 0.0 {
        let reynolds = speed * metres / air.viscosity;
        let forced = match surface {
            Surface::Plate => plate_along(reynolds, prandtl),
            Surface::Cylinder => cylinder_across(reynolds, prandtl),
        };
        libm::cbrt(natural * natural * natural + forced * forced * forced)
    } else {
        natural
    };
    nusselt * air.conductivity / metres
}
