//! Equivalent dynamic load of a single-row deep groove ball bearing.
//!
//! ISO 281:2007, table 3, normal clearance: `P = Fr` while `Fa / Fr <= e`, else `P = 0.56 Fr + Y Fa`; e and Y from
//! `f0 Fa / C0`, interpolated linearly. Values as printed by LYC Bearing, "Equivalent dynamic load - Deep Groove Ball
//! Bearings" (read). C3 and C4, X 0.46 and 0.44: SKF General Catalogue, page 299, table 5 (read); only where the clearance stays so
//! large in work, which a printed seat leaves it. Range: `f0 Fa / C0` up to 6.89; below 0.172 the first column holds.
//! Not covered: misalignment.

use crate::tables::ClearanceGroup;

/// (f0 Fa / C0, e, Y) of the normal group.
const FACTORS: [(f64, f64, f64); 9] = [
    (0.172, 0.19, 2.30),
    (0.345, 0.22, 1.99),
    (0.689, 0.26, 1.71),
    (1.03, 0.28, 1.55),
    (1.38, 0.30, 1.45),
    (2.07, 0.34, 1.31),
    (3.45, 0.38, 1.15),
    (5.17, 0.42, 1.04),
    (6.89, 0.44, 1.00),
];
/// The same rows of f0 Fa / C0: (e, Y) of C3 and of C4.
const FACTORS_C3: [(f64, f64); 9] = [
    (0.29, 1.88),
    (0.32, 1.71),
    (0.36, 1.52),
    (0.38, 1.41),
    (0.40, 1.34),
    (0.44, 1.23),
    (0.49, 1.10),
    (0.54, 1.01),
    (0.54, 1.00),
];
const FACTORS_C4: [(f64, f64); 9] = [
    (0.38, 1.47),
    (0.40, 1.40),
    (0.43, 1.30),
    (0.46, 1.23),
    (0.47, 1.19),
    (0.50, 1.12),
    (0.55, 1.02),
    (0.56, 1.00),
    (0.56, 1.00),
];

/// Radial factor of single-row bearings.
fn radial_factor(group: ClearanceGroup) -> f64 {
    match group {
        ClearanceGroup::Normal => 0.56,
        ClearanceGroup::C3 => 0.46,
        ClearanceGroup::C4 => 0.44,
    }
}

/// Load and the factors it was formed with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EquivalentLoad {
    /// \[N\]
    pub load: f64,
    pub e: f64,
    pub y: f64,
}

/// Equivalent dynamic load from radial and axial load \[N\]; none beyond the table, where the bearing is overloaded
/// axially and the standard gives no factor.
pub fn equivalent_load(
    radial: f64,
    axial: f64,
    f0: f64,
    static_rating: f64,
    group: ClearanceGroup,
) -> Option<EquivalentLoad> {
    let (radial, axial) = (radial.abs(), axial.abs());
    let argument = f0 * axial / static_rating;
    let (e, y) = factors(argument, group)?;
    let combined = radial_factor(group) * radial + y * axial;
    let load = if axial <= e * radial { radial } else { f64::max(radial, combined) };
    Some(EquivalentLoad { load, e, y })
}

/// e and Y at `f0 Fa / C0`.
pub fn factors(argument: f64, group: ClearanceGroup) -> Option<(f64, f64)> {
    let row = |index: usize| {
        let (at, e, y) = FACTORS[index];
        match group {
            ClearanceGroup::Normal => (at, e, y),
            ClearanceGroup::C3 => (at, FACTORS_C3[index].0, FACTORS_C3[index].1),
            ClearanceGroup::C4 => (at, FACTORS_C4[index].0, FACTORS_C4[index].1),
        }
    };
    let (first, last) = (row(0), row(FACTORS.len() - 1));
    if argument <= first.0 {
        return Some((first.1, first.2));
    }
    if argument > last.0 || argument.is_nan() {
        return None;
    }
    (1..FACTORS.len()).map(|index| (row(index - 1), row(index))).find(|(_, high)| argument <= high.0).map(
        |(low, high)| {
            let t = (argument - low.0) / (high.0 - low.0);
            (low.1 + t * (high.1 - low.1), low.2 + t * (high.2 - low.2))
        },
    )
}
