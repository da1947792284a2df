//! Numbered entities as text (ISO 10303-21).

use std::collections::HashMap;
use std::fmt::{self, Display, Formatter, Write};

use crate::geometry::Vertex;

/// A reference to an entity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Id(usize);

impl Display for Id {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "#{}", self.0)
    }
}

/// A list in parentheses.
pub(super) struct List<'a, T>(pub &'a [T]);

impl<T: Display> Display for List<'_, T> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str("(")?;
        for (index, item) in self.0.iter().enumerate() {
            let comma = if index == 0 { "" } else { "," };
            write!(f, "{comma}{item}")?;
        }
        f.write_str(")")
    }
}

/// A length, rounded to a millionth of a micrometre: a thousandth of the accuracy that a file states.
#[derive(Clone, Copy)]
pub(super) struct Length(pub f64);

/// Any other number: the rounding of a direction or a weight moves nothing within a metre by as much as that of lengths.
#[derive(Clone, Copy)]
pub(super) struct Number(pub f64);

impl Length {
    // + 0.0 turns -0.0 into 0.0.
    fn rounded(self) -> f64 {
        (self.0 * 1e9).round() / 1e9 + 0.0
    }
}

impl Number {
    fn rounded(self) -> f64 {
        (self.0 * 1e13).round() / 1e13 + 0.0
    }
}

impl Display for Length {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write_real(self.rounded(), f)
    }
}

impl Display for Number {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write_real(self.rounded(), f)
    }
}

/// The shortest text that reads as this value; a real always has a point (ISO 10303-21, 6.4.2, from memory).
fn write_real(value: f64, f: &mut Formatter<'_>) -> fmt::Result {
    let plain = value == 0.0 || (1e-4..1e15).contains(&value.abs());
    if plain { write!(f, "{value:?}") } else { write!(f, "{value:.12E}") }
}

/// A truth value.
pub(super) fn boolean(value: bool) -> &'static str {
    if value { ".T." } else { ".F." }
}

/// A string: quotes and backslashes doubled, what isn't plain ASCII by its code (ISO 10303-21, 6.4.3, from memory).
pub(super) struct Text<'a>(pub &'a str);

impl Display for Text<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str("'")?;
        for character in self.0.chars() {
            match character {
                '\'' => f.write_str("''")?,
                '\\' => f.write_str("\\\\")?,
                ' '..='~' => f.write_char(character)?,
                other => write!(f, "\\X4\\{:08X}\\X0\\", u32::from(other))?,
            }
        }
        f.write_str("'")
    }
}

/// Origin, z direction and x direction of a local coordinate system; both of unit length and square to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    pub origin: Vertex,
    pub z: Vertex,
    pub x: Vertex,
}

/// Entities in the order they were added, numbered through from 1.
#[derive(Debug, Default)]
pub(super) struct Entities {
    text: String,
    count: usize,
    /// Points and directions by their components: neighbours share most of theirs.
    points: HashMap<[u64; 3], Id>,
    directions: HashMap<[u64; 3], Id>,
}

impl Entities {
    /// Adds one, given as `NAME(arguments)`.
    pub(super) fn add(&mut self, entity: fmt::Arguments<'_>) -> Id {
        self.count += 1;
        let id = Id(self.count);
        // Writing to a string can't fail.
        let _ = writeln!(self.text, "{id} = {entity};");
        id
    }

    pub(super) fn point(&mut self, point: Vertex) -> Id {
        let rounded = point.map(|value| Length(value).rounded());
        let key = rounded.map(f64::to_bits);
        if let Some(id) = self.points.get(&key) {
            return *id;
        }
        let id = self.add(format_args!("CARTESIAN_POINT('',{})", List(&rounded.map(Length))));
        self.points.insert(key, id);
        id
    }

    /// Of unit length.
    pub(super) fn direction(&mut self, direction: Vertex) -> Id {
        let rounded = direction.map(|value| Number(value).rounded());
        let key = rounded.map(f64::to_bits);
        if let Some(id) = self.directions.get(&key) {
            return *id;
        }
        let id = self.add(format_args!("DIRECTION('',{})", List(&rounded.map(Number))));
        self.directions.insert(key, id);
        id
    }

    pub(super) fn frame(&mut self, frame: &Frame) -> Id {
        let (origin, z, x) = (self.point(frame.origin), self.direction(frame.z), self.direction(frame.x));
        self.add(format_args!("AXIS2_PLACEMENT_3D('',{origin},{z},{x})"))
    }

    pub(super) fn into_text(self) -> String {
        self.text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strings_are_escaped() {
        assert_eq!(Text("ring-housing").to_string(), "'ring-housing'");
        assert_eq!(Text("Jo's \\ arm").to_string(), "'Jo''s \\\\ arm'");
        assert_eq!(Text("Rübe").to_string(), "'R\\X4\\000000FC\\X0\\be'");
    }

    #[test]
    fn reals_have_a_point() {
        assert_eq!(Length(3.0).to_string(), "3.0");
        assert_eq!(Length(-0.0).to_string(), "0.0");
        assert_eq!(Length(1.0 / 3.0).to_string(), "0.333333333");
        assert_eq!(Length(-2e-8).to_string(), "-2.000000000000E-8");
        assert_eq!(Length(-2e-10).to_string(), "0.0");
        assert_eq!(Number(1e-13).to_string(), "1.000000000000E-13");
        assert_eq!(Length(1e16).to_string(), "1.000000000000E16");
    }

    #[test]
    fn entities_are_numbered_through_and_points_and_directions_shared() {
        let mut entities = Entities::default();
        let up = entities.direction([0.0, 0.0, 1.0]);
        let point = entities.point([1.0, 2.0, 0.5]);
        assert_eq!(entities.direction([0.0, 0.0, 1.0]), up);
        assert_eq!(entities.point([1.0 + 1e-12, 2.0, 0.5]), point, "the same to the last digit written");
        entities.add(format_args!("B({})", List(&[up, point])));
        let expected =
            "#1 = DIRECTION('',(0.0,0.0,1.0));\n#2 = CARTESIAN_POINT('',(1.0,2.0,0.5));\n#3 = B((#1,#2));\n";
        assert_eq!(entities.into_text(), expected);
    }
}
