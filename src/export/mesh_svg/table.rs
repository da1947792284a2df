//! The figures of the gear sheets that one measures or compares, beside each other.

use super::layout::Area;
use crate::drawing::canvas::Canvas;
use crate::gear_sheet::{GearSheet, Row};
use crate::geometry::Point;

/// Rows of a sheet, by name, and what the drawing calls them.
const ROWS: [(&str, &str); 6] = [
    ("hand", "Hand"),
    ("normal_tooth_thickness", "Normal tooth thickness"),
    ("span_teeth", "Span over (ring: spaces)"),
    ("span", "Span"),
    ("pin_diameter", "Ball or pin"),
    ("over_pins", "Over (ring: between) two"),
];
const LINE: f64 = 3.7;
/// From the right edge of one column to that of the next.
const COLUMN: f64 = 15.5;

/// Fills the place from its top, if it fits.
pub fn draw(canvas: &mut Canvas, sheets: &[GearSheet], place: Area) {
    const LABELS: f64 = 34.0;
    let size = place.high - place.low;
    let height = LINE * (ROWS.len() + 1) as f64;
    if size.y < height || size.x < LABELS + COLUMN * sheets.len() as f64 {
        return;
    }
    let right = |index: usize| place.low.x + LABELS + COLUMN * (index + 1) as f64;
    let top = place.low.y + 2.5;
    for (index, sheet) in sheets.iter().enumerate() {
        canvas.text("end strong", Point::new(right(index), top), &sheet.member.to_string());
    }
    let rule = Point::new(0.0, 1.3);
    for (line, (key, label)) in ROWS.into_iter().enumerate() {
        let y = top + LINE * (line + 1) as f64;
        canvas.text("", Point::new(place.low.x, y), label);
        for (index, sheet) in sheets.iter().enumerate() {
            canvas.text("end", Point::new(right(index), y), &text(sheet, key));
        }
        let above = Point::new(place.low.x, y - LINE);
        let end = Point::new(right(sheets.len().saturating_sub(1)), y - LINE);
        canvas.lines("leader", &[above + rule, end + rule]);
    }
}

fn text(sheet: &GearSheet, key: &str) -> String {
    let mut rows = sheet.sections.iter().flat_map(|section| &section.rows);
    rows.find(|row| row.key == key).map(Row::text).unwrap_or_default()
}
