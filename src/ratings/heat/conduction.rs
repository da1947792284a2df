//! Heat through solids and narrow air gaps, steady (Fourier).
//!
//! Lengths mm, areas mm2, conductivities W/(m K); answers in W/K.

/// Conductance of a slab or of a gap that is too narrow for convection.
pub fn slab(conductivity: f64, area: f64, thickness: f64) -> f64 {
    conductivity * area / thickness * 1e-3
}

/// Conductance of a disc of `thickness` from an inner to an outer radius: `2 pi k t / ln(r2 / r1)`.
pub fn disc(conductivity: f64, thickness: f64, inner: f64, outer: f64) -> f64 {
    2.0 * std::f64::consts::PI * conductivity * thickness * 1e-3 / libm::log(outer / inner)
}

/// Conductance of two in a row.
pub fn in_series(one: f64, two: f64) -> f64 {
    if one > 0.0 && two > 0.0 { one * two / (one + two) } else { 0.0 }
}

/// Share of a thin fin's area that counts: `tanh(m l) / (m l)`, `m = sqrt(h / (k t))` for a fin that loses heat on one side
/// with the film coefficient `film` \[W/(m2 K)\]; straight, tip insulated (textbook).
pub fn fin_efficiency(film: f64, conductivity: f64, thickness: f64, length: f64) -> f64 {
    let slope = (film / (conductivity * thickness * 1e-3)).sqrt() * length * 1e-3;
    if slope < 1e-6 { 1.0 } else { libm::tanh(slope) / slope }
}
