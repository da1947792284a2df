//! How finely bodies are drawn, and what was drawn before.

use super::Surface;
use super::coarse::with_coarse_teeth;
use crate::bought::Balls;
use crate::geometry::{Mesh, ShapeError, Stack};

/// How far a triangle may lie from the true surface \[mm\]: under a tenth of a screen's point at arm's length.
pub const FINE: f64 = 0.04;
/// The same while values change, and of a tooth's chords \[mm\]: a few screen points.
const COARSE: (f64, f64) = (0.5, 0.06);

/// Surfaces of one fineness, by the shapes they are of.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// \[mm\]
    tolerance: f64,
    /// How far chords of teeth may lie off \[mm\]; none follows them as they are.
    teeth: Option<f64>,
    known: Vec<Known>,
}

#[derive(Clone, Debug)]
struct Known {
    stack: Stack,
    balls: Option<Balls>,
    surface: Surface,
}

impl Drawn {
    /// Nothing yet; triangles will lie this near the true surface \[mm\].
    pub fn within(tolerance: f64) -> Drawn {
        Drawn { tolerance, teeth: None, known: Vec::new() }
    }

    /// Nothing yet; as quickly as still shows the shape.
    pub fn coarsely() -> Drawn {
        let (tolerance, teeth) = COARSE;
        Drawn { tolerance, teeth: Some(teeth), known: Vec::new() }
    }

    /// A body's surface, as drawn before if its shape is the same to the last bit.
    pub(super) fn surface(&self, stack: &Stack, balls: Option<Balls>) -> Result<Surface, ShapeError> {
        let same = |known: &&Known| known.balls == balls && known.stack == *stack;
        if let Some(known) = self.known.iter().find(same) {
            return Ok(known.surface.clone());
        }
        let mesh = self.mesh(stack)?;
        let mut surface = Surface::of(&mesh);
        if let Some(balls) = &balls {
            surface.add_balls(balls);
        }
        Ok(surface)
    }

    fn mesh(&self, stack: &Stack) -> Result<Mesh, ShapeError> {
        let coarse = self.teeth.map(|tolerance| with_coarse_teeth(stack, tolerance));
        // Where chords of one outline run into another, the body is drawn as it is.
        let mesh = coarse.and_then(|coarse| coarse.brep().ok()?.mesh(self.tolerance).ok());
        mesh.map_or_else(|| stack.brep()?.mesh(self.tolerance), Ok)
    }

    /// Forgets the rest.
    pub(super) fn keep<'a>(
        &mut self,
        bodies: impl Iterator<Item = ((&'a Stack, Option<Balls>), &'a Surface)>,
    ) {
        self.known = bodies
            .map(|((stack, balls), surface)| Known { stack: stack.clone(), balls, surface: surface.clone() })
            .collect();
    }
}
