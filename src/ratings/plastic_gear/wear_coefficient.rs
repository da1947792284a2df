//! Wear coefficients kw of gear plastics, dry \[mm3/(N m)\]: volume lost per normal force and sliding distance.
//!
//! One row was computed from published measurements; the others are estimates or stand from memory, each says so. Sliding
//! tests of a flat specimen, not of gears. Where the mate isn't named the row serves for plastic and metal alike.

use super::{Band, Lubrication};

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WearCoefficient {
    pub material: &'static str,
    pub dry: Band,
    pub source: &'static str,
}

/// Of the dry coefficient. No source for the middle and the low end; grease lengthened the life of steel and PEEK gears by
/// 1.23 only (Zorko et al. 2019, abstract read), hence the high end. An oil bath is taken at the low end.
pub const GREASED_SHARE: Band = Band { value: 0.1, low: 0.02, high: 0.8 };

impl WearCoefficient {
    pub fn with(&self, lubrication: Lubrication) -> Band {
        match lubrication {
            Lubrication::Dry => self.dry,
            Lubrication::Greased => self.dry.times(GREASED_SHARE),
            Lubrication::OilBath => self.dry.scaled(GREASED_SHARE.low),
        }
    }
}

const ESTIMATE: &str = "estimate, no source";

const ROWS: [WearCoefficient; 9] = [
    WearCoefficient {
        material: "PLA",
        dry: Band { value: 2.4e-4, low: 1.0e-4, high: 4.4e-4 },
        source: "computed from wear in micrometres per km at nine pressures, doi 10.2478/msp-2025-0039 (read; dry, mate not \
                 visible): mean, least and most",
    },
    WearCoefficient {
        material: "PETG",
        dry: Band { value: 1.0e-4, low: 3.0e-5, high: 3.0e-4 },
        source: "estimate: under PLA's on itself (abstract of a Korean reciprocating test of prints, read)",
    },
    WearCoefficient {
        material: "ABS",
        dry: Band { value: 1.0e-4, low: 3.0e-5, high: 5.0e-4 },
        source: ESTIMATE,
    },
    WearCoefficient {
        material: "ASA",
        dry: Band { value: 1.0e-4, low: 3.0e-5, high: 5.0e-4 },
        source: ESTIMATE,
    },
    WearCoefficient {
        material: "PA12",
        dry: Band { value: 1.0e-5, low: 2.0e-6, high: 3.0e-5 },
        source: "estimate: printed PA6 lost at most 1 micrometre per km at 0.05 to 0.1 MPa, at most 2e-5, doi \
                 10.2478/msp-2025-0039 (read)",
    },
    WearCoefficient {
        material: "PA12-CF",
        dry: Band { value: 2.0e-5, low: 2.0e-6, high: 1.0e-4 },
        source: "estimate: as PA12, worse at the high end as fibres abrade a plastic mate",
    },
    WearCoefficient {
        material: "PA6-CF",
        dry: Band { value: 2.0e-5, low: 2.0e-6, high: 1.0e-4 },
        source: "estimate: as PA6, worse at the high end as fibres abrade a plastic mate",
    },
    WearCoefficient {
        material: "PC",
        dry: Band { value: 2.0e-4, low: 5.0e-5, high: 1.0e-3 },
        source: ESTIMATE,
    },
    WearCoefficient {
        material: "POM",
        dry: Band { value: 3.4e-6, low: 1.0e-6, high: 2.0e-5 },
        source: "VDI 2736-2 (from memory): moulded, on steel 1.0e-6, on itself 3.4e-6",
    },
];

/// All rows.
pub fn wear_coefficients() -> &'static [WearCoefficient] {
    &ROWS
}

/// By material name, in either case.
pub fn wear_coefficient(material: &str) -> Option<&'static WearCoefficient> {
    ROWS.iter().find(|row| row.material.eq_ignore_ascii_case(material.trim()))
}
