//! Print materials.

use std::sync::LazyLock;

/// A print material.
#[derive(Clone, Debug, Default, PartialEq)]
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
    /// Solid \[W/(m K)\].
    pub conductivity: f64,
    /// \[J/(kg K)\]
    pub specific_heat: f64,
    pub source: String,
    /// At least one value was not seen on a page; `source` says which.
    pub from_memory: bool,
}

/// A row as tabulated.
///
/// A published range becomes its lower end for strength, modulus and temperature (the safe side of a check) and its
/// middle for density (mass has no safe side). Strength across layers without a published value is a share of the
/// in-plane one: 0.6 for unfilled plastics, 0.4 for carbon-filled nylons, from the ratios that could be read (PLA
/// 0.53-0.7, PETG 0.63, PC 0.65, PA612-CF 0.41).
///
/// Conductivity of the solid: ABS 0.17, PA12 0.19, PA6 0.24, PC 0.19 (data sheets, the lower where they differ), ASA as SAN;
/// PLA and PETG from memory; carbon-filled ones as unfilled, since fibres lie along the layers and the heat crosses them.
/// Specific heat: Crawford, Plastics Engineering, table 1.8 (ABS, PC; SAN for ASA, PA66 for the nylons); PLA and PETG
/// from memory.
struct Row {
    name: &'static str,
    density: f64,
    strength_in_plane: f64,
    strength_across: f64,
    modulus: f64,
    service_temperature: f64,
    conductivity: f64,
    specific_heat: f64,
    source: &'static str,
    from_memory: bool,
}

const ROWS: [Row; 8] = [
    Row {
        name: "PLA",
        density: 1.24,
        strength_in_plane: 48.0,
        strength_across: 26.0,
        modulus: 3000.0,
        service_temperature: 45.0,
        conductivity: 0.13,
        specific_heat: 1800.0,
        source: "density and modulus: additive.tools range 1.22-1.26, 3-4 GPa; strengths: Stratasys PLA sheet, the lower of \
                 that and the range; wall limit from memory (read elsewhere: 50)",
        from_memory: true,
    },
    Row {
        name: "PETG",
        density: 1.27,
        strength_in_plane: 44.0,
        strength_across: 25.0,
        modulus: 2000.0,
        service_temperature: 60.0,
        conductivity: 0.20,
        specific_heat: 1200.0,
        source: "additive.tools ranges 1.25-1.29, 44-56, 25-38 MPa, 2-3 GPa; continuous service of a filament wiki",
        from_memory: false,
    },
    Row {
        name: "ABS",
        density: 1.04,
        strength_in_plane: 33.0,
        strength_across: 19.8,
        modulus: 2000.0,
        service_temperature: 80.0,
        conductivity: 0.17,
        specific_heat: 1300.0,
        source: "density: Crawford, Plastics Engineering, table 1.8; strength and modulus from memory (33-40 MPa, 2 GPa; \
                 stock sheet 37.9); across by 0.6; continuous service of a filament wiki",
        from_memory: true,
    },
    Row {
        name: "ASA",
        density: 1.07,
        strength_in_plane: 35.0,
        strength_across: 21.0,
        modulus: 2000.0,
        service_temperature: 80.0,
        conductivity: 0.17,
        specific_heat: 1300.0,
        source: "renato.design materials page: 1.07, 35-50 MPa, 2.0-2.5 GPa; across by 0.6; wall limit from memory (read \
                 elsewhere: 85)",
        from_memory: true,
    },
    Row {
        name: "PA12",
        density: 1.01,
        strength_in_plane: 48.0,
        strength_across: 28.8,
        modulus: 1400.0,
        service_temperature: 90.0,
        conductivity: 0.19,
        specific_heat: 1700.0,
        source: "density and modulus: CR-3D PA12 sheet (stock, not prints); strength: Polymers 18(1) 112, 2025, sintered; \
                 across by 0.6; continuous service of a filament wiki",
        from_memory: false,
    },
    Row {
        name: "PA12-CF",
        density: 1.06,
        strength_in_plane: 60.0,
        strength_across: 24.0,
        modulus: 3500.0,
        service_temperature: 90.0,
        conductivity: 0.19,
        specific_heat: 1700.0,
        source: "density: Polymaker PA12-CF10 in SpoolmanDB; strength and modulus from memory; across by 0.4; continuous \
                 service as unfilled PA12",
        from_memory: true,
    },
    Row {
        name: "PA6-CF",
        density: 1.17,
        strength_in_plane: 45.0,
        strength_across: 18.0,
        modulus: 3500.0,
        service_temperature: 80.0,
        conductivity: 0.24,
        specific_heat: 1700.0,
        source: "density: Polymaker PA6-CF20 in SpoolmanDB; strength and modulus from memory, conditioned: half of dry \
                 (90 MPa, 7 GPa); across by 0.4; continuous service as unfilled PA6",
        from_memory: true,
    },
    Row {
        name: "PC",
        density: 1.20,
        strength_in_plane: 58.0,
        strength_across: 35.0,
        modulus: 2000.0,
        service_temperature: 100.0,
        conductivity: 0.19,
        specific_heat: 1200.0,
        source: "additive.tools printed PC: 1.18-1.22, 58-75, 35-52 MPa, 2-3 GPa; wall limit from memory (a handbook's \
                 service limit: 125)",
        from_memory: true,
    },
];

static MATERIALS: LazyLock<Vec<Material>> = LazyLock::new(|| {
    let material = |row: &Row| Material {
        name: row.name.to_string(),
        density: row.density,
        strength_in_plane: row.strength_in_plane,
        strength_across: row.strength_across,
        modulus: row.modulus,
        service_temperature: row.service_temperature,
        conductivity: row.conductivity,
        specific_heat: row.specific_heat,
        source: row.source.to_string(),
        from_memory: row.from_memory,
    };
    ROWS.iter().map(material).collect()
});

/// All print materials.
pub fn materials() -> &'static [Material] {
    &MATERIALS
}

/// A print material by name, in either case.
pub fn material(name: &str) -> Option<&'static Material> {
    materials().iter().find(|material| material.name.eq_ignore_ascii_case(name.trim()))
}

/// The names, in table order.
pub fn material_names() -> Vec<&'static str> {
    ROWS.iter().map(|row| row.name).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_is_found_in_either_case() {
        for name in material_names() {
            assert_eq!(material(&name.to_lowercase()).map(|found| found.name.as_str()), Some(name));
        }
        assert_eq!(material("wood"), None);
    }

    #[test]
    fn layers_are_the_weak_direction_everywhere() {
        for row in materials() {
            let ratio = row.strength_across / row.strength_in_plane;
            // Printed parts: 0.4 to 0.7 of the in-plane strength (common practice, and the ratios that could be read).
            assert!((0.39..=0.71).contains(&ratio), "{}: {ratio}", row.name);
        }
    }
}
