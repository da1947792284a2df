//! How finely bodies are drawn, and what was drawn before.

use super::Surface;
use crate::bought::Balls;
use crate::geometry::{ShapeError, Stack};

/// How far a triangle may lie from the true surface \[mm\]: under a tenth of a screen's point at arm's length.
pub const FINE: f64 = 0.04;

/// Surfaces of one fineness, by the shapes they are of.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// \[mm\]
    tolerance: f64,
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
        Drawn { tolerance, known: Vec::new() }
    }

    /// A body's surface, as drawn before if its shape is the same to the last bit.
    pub(super) fn surface(&self, stack: &Stack, balls: Option<Balls>) -> Result<Surface, ShapeError> {
        let same = |known: &&Known| known.balls == balls && known.stack == *stack;
        if let Some(known) = self.known.iter().find(same) {
            return Ok(known.surface.clone());
        }
        let mesh = stack.brep()?.mesh(self.tolerance)?;
        let mut surface = Surface::of(&mesh);
        if let Some(balls) = &balls {
            surface.add_balls(balls);
        }
        Ok(surface)
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
