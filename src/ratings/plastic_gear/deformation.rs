//! Elastic give of a loaded plastic tooth's tip, VDI 2736-2 (from memory):
//! `lambda = 7.5 Ft / (b cos beta) (1 / E1 + 1 / E2)`, at most `0.07 mn`.
//!
//! Past the limit the next tooth enters early and its tip digs in. Moduli at the tooth's temperature. A published abstract
//! (Polymers 2023, 15, 3809) warns of this check's own limits: temperature matters far more than speed.

/// Of the guideline, from memory.
const LARGEST_IN_MODULES: f64 = 0.07;

/// \[mm\]
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deformation {
    pub value: f64,
    pub limit: f64,
}

impl Deformation {
    pub fn of(
        tangential: f64,
        face_width: f64,
        helix_angle: f64,
        moduli: [f64; 2],
        normal_module: f64,
    ) -> Self {
        let value = tip_deformation(tangential, face_width, helix_angle, moduli);
        Deformation { value, limit: LARGEST_IN_MODULES * normal_module }
    }
}

/// lambda \[mm\]; force N, moduli MPa.
pub fn tip_deformation(tangential: f64, face_width: f64, helix_angle: f64, [first, second]: [f64; 2]) -> f64 {
    7.5 * tangential / (face_width * libm::cos(helix_angle)) * (1.0 / first + 1.0 / second)
}
