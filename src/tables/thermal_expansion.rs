//! Linear thermal expansion of print materials and steel. All from memory, in the layer plane; data sheets scatter by a
//! fifth, fibre-filled prints by a half.

/// \[1/K\]
pub const STEEL_EXPANSION: f64 = 11.5e-6;

const ROWS: [(&str, f64); 8] = [
    ("PLA", 68e-6),
    ("PETG", 65e-6),
    ("ABS", 90e-6),
    ("ASA", 95e-6),
    ("PA12", 110e-6),
    ("PA12-CF", 50e-6),
    ("PA6-CF", 40e-6),
    ("PC", 68e-6),
];

/// Of a print material by its name \[1/K\]; none for a material the table doesn't know.
pub fn thermal_expansion(name: &str) -> Option<f64> {
    ROWS.iter().find(|(row, _)| row.eq_ignore_ascii_case(name.trim())).map(|&(_, expansion)| expansion)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::material_names;

    #[test]
    fn every_material_has_one_and_grows_more_than_steel() {
        for name in material_names() {
            assert!(thermal_expansion(name).is_some_and(|found| found > STEEL_EXPANSION), "{name}");
        }
        assert_eq!(thermal_expansion("wood"), None);
    }
}
