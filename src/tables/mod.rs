//! Catalogue values with their sources.

/// A deep groove ball bearing as one maker lists it.
#[derive(Clone, Debug, PartialEq)]
pub struct Bearing {
    pub designation: String,
    pub maker: String,
    pub bore: f64,
    pub outer: f64,
    /// Width of the open bearing.
    pub width: f64,
    /// Width with shields, where it differs.
    pub width_shielded: f64,
    /// Basic dynamic radial rating C \[N\].
    pub dynamic_rating: f64,
    /// Basic static radial rating C0 \[N\].
    pub static_rating: f64,
    /// Factor f0 of ISO 76 / ISO 281 as printed.
    pub f0: f64,
    /// Fatigue load limit \[N\], where printed.
    pub fatigue_limit: Option<f64>,
    /// Inner-ring abutment, least.
    pub shoulder_inner_min: f64,
    /// Inner-ring abutment, most.
    pub shoulder_inner_max: f64,
    /// Outer-ring abutment bore, at most.
    pub shoulder_outer_max: f64,
    /// Shoulders estimated from the cross-section, not printed by a maker.
    pub shoulders_estimated: bool,
    /// \[kg\]
    pub mass: f64,
    pub mass_estimated: bool,
    /// Where the row was printed.
    pub source: String,
    /// Row from memory, not seen on a page.
    pub from_memory: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thread {
    M2,
    M2_5,
    M3,
    M4,
    M5,
    M6,
}

/// A print material.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    pub name: String,
    /// \[g/cm3\]
    pub density: f64,
    /// Tensile strength in the layer plane \[MPa\].
    pub strength_in_plane: f64,
    /// Tensile strength across layers \[MPa\].
    pub strength_across: f64,
    /// \[MPa\]
    pub modulus: f64,
    /// Long-term wall limit \[degC\].
    pub service_temperature: f64,
    pub source: String,
}
