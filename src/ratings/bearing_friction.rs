//! Friction torque of a rolling bearing, the simple estimate `M = 0.5 mu P d` (SKF General Catalogue, page 88, read).
//!
//! mu 0.0015 for deep groove ball bearings, unsealed; for crossed roller bearings `mu P0 Dpw / 2` with about 0.010 (IKO, page J12,
//! read). Range: loads about 0.1 C, good lubrication, middle speeds. Slow bearings in stiff grease turn heavier (the maker's longer
//! model says so). Not covered: seals, fresh grease.

/// Of deep groove ball bearings.
pub const DEEP_GROOVE: f64 = 0.0015;

/// \[N m\] from the equivalent load \[N\] and the bore \[mm\].
pub fn friction_torque(coefficient: f64, load: f64, bore: f64) -> f64 {
    0.5 * coefficient * load.abs() * bore * 1e-3
}

/// Geometry constants of the longer model by series: R1 \[1e-7\], S1 \[1e-3\], S2.
type Constants = [f64; 3];

/// SKF General Catalogue, pages 90-101 (read): deep groove ball bearings by the digit of their diameter series.
fn constants(series: char) -> Option<Constants> {
    Some(match series {
        '7' | '8' => [4.7, 6.50, 0.78],
        '9' => [4.3, 4.75, 3.6],
        '0' | '1' => [4.1, 3.73, 14.6],
        '2' => [3.9, 3.23, 36.5],
        '3' => [3.7, 2.84, 92.8],
        _ => return None,
    })
}
/// R2 of all series.
const R2: f64 = 1.7;
/// Sliding friction in a full film of mineral oil.
const SLIDING: f64 = 0.05;

/// Loads of the longer model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrictionCase {
    /// Digit of the diameter series.
    pub series: char,
    /// \[mm\]
    pub mean_diameter: f64,
    /// \[N\]
    pub static_rating: f64,
    pub radial: f64,
    pub axial: f64,
    /// \[1/min\]
    pub speed: f64,
    /// Of the oil at the bearing's temperature \[mm2/s\].
    pub viscosity: f64,
}

/// Rolling and sliding torque \[N m\] of a deep groove ball bearing by the maker's longer model, without its factors for inlet heating
/// and starvation (both under 1), seals and drag: `Mrr = Grr (nu n)^0.6`, `Msl = mu Gsl`. In slow, stiffly greased bearings the rolling
/// part outweighs the simple estimate. None for a series without constants.
pub fn rolling_and_sliding(case: &FrictionCase) -> Option<[f64; 2]> {
    let [r1, s1, s2] = constants(case.series)?;
    let (radial, axial, dm) = (case.radial.abs(), case.axial.abs(), case.mean_diameter);
    let (rolling, sliding) = if axial == 0.0 {
        let rolling = r1 * 1e-7 * libm::pow(dm, 1.96) * libm::pow(radial, 0.54);
        (rolling, s1 * 1e-3 * libm::pow(dm, -0.26) * libm::pow(radial, 5.0 / 3.0))
    } else {
        // Contact angle under the axial load.
        let angle = (24.6 * libm::pow(axial / case.static_rating, 0.24)).to_radians();
        let sine = libm::sin(angle);
        let rolling = r1 * 1e-7 * libm::pow(dm, 1.96) * libm::pow(radial + R2 / sine * axial, 0.54);
        let forces = libm::pow(radial, 5.0) + s2 * libm::pow(dm, 1.5) / sine * libm::pow(axial, 4.0);
        (rolling, s1 * 1e-3 * libm::pow(dm, -0.145) * libm::cbrt(forces))
    };
    Some([rolling * libm::pow(case.viscosity * case.speed, 0.6) * 1e-3, SLIDING * sliding * 1e-3])
}
