//! Bars of holes in steps: pins, screws, inserts. A thin strip along the holes carries their numbers.

use crate::design::Printer;
use crate::geometry::{Body, Point, Region, ShapeError};

use super::coupon::Piece;
use super::marks::Digit;
use super::ring_ladder::{engrave, flag_thickness, foot_chamfer};

/// Lead-in of pockets that take an insert, as in the parts.
const LEAD_IN: f64 = 0.4;
/// Most that a hole is widened at the bed, on the radius.
const FOOT: f64 = 0.4;

/// A bar of holes.
pub struct HolePlate<'a> {
    pub printer: &'a Printer,
    /// Diameters as printed, step 1 first; nine at most.
    pub diameters: &'a [f64],
    /// Material around a hole.
    pub wall: f64,
    pub thickness: f64,
    /// Pockets with a floor of this thickness; through holes without.
    pub floor: Option<f64>,
}

impl HolePlate<'_> {
    /// Distance from hole to hole.
    fn pitch(&self) -> f64 {
        let digit = Digit::of(self.printer.line_width);
        f64::max(self.largest() + self.wall, digit.width + 2.0 * digit.stroke)
    }

    fn largest(&self) -> f64 {
        self.diameters.iter().copied().fold(0.0, f64::max)
    }

    pub fn piece(&self) -> Result<Piece, ShapeError> {
        let (printer, pitch) = (self.printer, self.pitch());
        let digit = Digit::of(printer.line_width);
        let strip = flag_thickness(printer).min(self.thickness);
        let half = self.largest() / 2.0 + self.wall;
        let left = -f64::max(half, pitch / 2.0);
        let right = pitch * self.diameters.len().saturating_sub(1) as f64 - left;
        let below = -half - digit.height - 1.5 * digit.stroke;
        let mut body = Body::new();
        body.add("strip", [0.0, strip], Region::rectangle(Point::new(left, below), Point::new(right, half)));
        body.add(
            "bar",
            [0.0, self.thickness],
            Region::rectangle(Point::new(left, -half), Point::new(right, half)),
        );
        let mut marks = Vec::new();
        for (number, (index, diameter)) in (1..).zip(self.diameters.iter().enumerate()) {
            let x = pitch * index as f64;
            self.hole(&mut body, Point::new(x, 0.0), *diameter);
            let middle = Point::new(x, below + digit.stroke + digit.height / 2.0);
            engrave(&mut body, printer, number, middle, strip)?;
            marks.push(number);
        }
        Ok(Piece { name: "bar".into(), marks, stack: body.stack()? })
    }

    fn hole(&self, body: &mut Body, centre: Point, diameter: f64) {
        let narrow = Region::disc(centre, diameter / 2.0);
        match self.floor {
            None => {
                body.cut("hole", [0.0, self.thickness], narrow);
                foot_chamfer(body, self.printer, centre, diameter, FOOT);
            }
            Some(floor) => {
                let top = self.thickness;
                body.cut("pocket", [floor, top], narrow.clone());
                let wide = Region::disc(centre, diameter / 2.0 + LEAD_IN);
                body.cut_taper("lead-in", [top - LEAD_IN, top], narrow, wide);
            }
        }
    }
}
