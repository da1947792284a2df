//! How clean a bearing runs: contamination factor eC of ISO 281:2007 for mean diameters up to 100 mm.
//!
//! 0.8, 0.5 and 0.2: SKF General Catalogue, pages 78-81, worked examples (read); 0.3 from memory.

/// Cleanliness, by how it is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cleanliness {
    /// Sealed, assembled clean.
    High,
    /// Shielded.
    Normal,
    Slight,
    /// Open beside gears that wear.
    Typical,
}

impl Cleanliness {
    /// eC.
    pub fn factor(self) -> f64 {
        match self {
            Cleanliness::High => 0.8,
            Cleanliness::Normal => 0.5,
            Cleanliness::Slight => 0.3,
            Cleanliness::Typical => 0.2,
        }
    }
}
