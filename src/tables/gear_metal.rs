//! Metals of bought gears: what ISO 6336-5 allows at root and flank, material quality ML to MQ.
//!
//! All values from memory (ISO 6336-5:2003, figures 1 to 9, at the hardness stated), rounded down; a maker's own figures
//! go before them. Stresses MPa.

/// A metal and its endurance limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearMetal {
    pub name: &'static str,
    pub description: &'static str,
    /// \[g/cm3\]
    pub density: f64,
    /// Young's modulus.
    pub modulus: f64,
    pub poisson_ratio: f64,
    /// sigma_FE = 2 sigma_Flim: endurance limit of the unnotched root, 3e6 cycles, pulsating load.
    pub root_endurance: f64,
    /// Static limit of the same: YNT of few cycles times sigma_FE (2.5 for normalised and tempered, 1.6 for hardened steel).
    pub root_static: f64,
    /// sigma_Hlim.
    pub flank_endurance: f64,
    /// ZNT of few cycles times sigma_Hlim (1.6).
    pub flank_static: f64,
}

const METALS: [GearMetal; 4] = [
    GearMetal {
        name: "steel",
        description: "normalised medium carbon steel (C45, S45C), 190 HB: usual gear stock",
        density: 7.85,
        modulus: 206_000.0,
        poisson_ratio: 0.3,
        root_endurance: 310.0,
        root_static: 775.0,
        flank_endurance: 380.0,
        flank_static: 608.0,
    },
    GearMetal {
        name: "tempered steel",
        description: "quenched and tempered alloy steel (42CrMo4), 280 HB",
        density: 7.85,
        modulus: 206_000.0,
        poisson_ratio: 0.3,
        root_endurance: 560.0,
        root_static: 1400.0,
        flank_endurance: 720.0,
        flank_static: 1150.0,
    },
    GearMetal {
        name: "hardened steel",
        description: "case-hardened steel (16MnCr5), 58 HRC and more",
        density: 7.85,
        modulus: 206_000.0,
        poisson_ratio: 0.3,
        root_endurance: 850.0,
        root_static: 2120.0,
        flank_endurance: 1400.0,
        flank_static: 2240.0,
    },
    GearMetal {
        name: "brass",
        description: "free-cutting brass (CuZn39Pb3); no standard gives a limit: 0.4 of its tensile strength of 400 MPa",
        density: 8.5,
        modulus: 105_000.0,
        poisson_ratio: 0.35,
        root_endurance: 160.0,
        root_static: 320.0,
        flank_endurance: 250.0,
        flank_static: 400.0,
    },
];

/// All metals, the usual one first.
pub fn gear_metals() -> &'static [GearMetal] {
    &METALS
}

/// A metal by name, in either case.
pub fn gear_metal(name: &str) -> Option<&'static GearMetal> {
    METALS.iter().find(|metal| metal.name.eq_ignore_ascii_case(name.trim()))
}

pub fn gear_metal_names() -> Vec<&'static str> {
    METALS.iter().map(|metal| metal.name).collect()
}
