//! `plates.svg`: a plan of every plate, parts as they lie, true to scale at 1:2.

use crate::drawing::canvas::{Canvas, View};
use crate::geometry::{Loop, Point, Slab};
use crate::plates::{Plate, Print};

/// A bed of 220 mm then fits a sheet's width.
const SCALE: f64 = 0.5;
/// Around and between the plates, on the sheet \[mm\].
const MARGIN: f64 = 8.0;
/// Half the width of a part's name on the sheet \[mm\].
const NAME: f64 = 9.0;
/// For the words over a plate.
const HEAD: f64 = 9.0;

/// The sheet; its plates are counted from `first`.
pub fn plates_svg(name: &str, first: usize, plates: &[Plate], prints: &[Print], bed: [f64; 3]) -> String {
    let (width, height) = (bed[0] * SCALE, bed[1] * SCALE);
    let columns = if plates.len() > 1 { 2 } else { 1 };
    let rows = plates.len().div_ceil(columns);
    let mut canvas = Canvas::default();
    for (number, plate) in plates.iter().enumerate() {
        let (column, row) = (number % columns, number / columns);
        let corner = Point::new(
            MARGIN + column as f64 * (width + MARGIN),
            MARGIN + row as f64 * (height + HEAD + MARGIN),
        );
        let counted = first + number;
        let title = format!("Plate {counted}: {}, layers {} mm", plate.material, plate.layer_height);
        canvas.text("head", corner + Point::new(0.0, 4.0), &title);
        let low = corner + Point::new(0.0, HEAD);
        canvas.rectangle("outline", low, low + Point::new(width, height));
        let near = low + Point::new(0.0, height);
        draw(&mut canvas, counted, plate, prints, near, width);
    }
    let sheet_width = MARGIN + columns as f64 * (width + MARGIN);
    let sheet_height = MARGIN + rows as f64 * (height + HEAD + MARGIN);
    canvas.finish(sheet_width, sheet_height, &format!("{name}: plates, 1:2"))
}

/// The parts of one plate; `origin` is the bed's near left corner on the sheet, `width` its width there.
fn draw(canvas: &mut Canvas, number: usize, plate: &Plate, prints: &[Print], origin: Point, width: f64) {
    let view = View { origin: Point::ORIGIN, place: origin, scale: SCALE };
    for piece in &plate.pieces {
        let Some(print) = prints.get(piece.index) else { continue };
        let made = print.made;
        let shift = Point::new(piece.shift[0], piece.shift[1]);
        let turn = if piece.turned { std::f64::consts::FRAC_PI_2 } else { 0.0 };
        let placed = |outline: &Loop| outline.rotated(turn).translated(shift);
        // The widest section says where the part is, the one on the bed what touches it.
        let slabs = &made.printed.slabs;
        let reach = |slab: &Slab| {
            slab.loops.iter().map(|one| one.bottom.max_radius(Point::ORIGIN)).fold(0.0, f64::max)
        };
        let widest = slabs.iter().max_by(|a, b| reach(a).total_cmp(&reach(b)));
        let id = |what: &str| format!("plate-{number}-{}-{}-{what}", print.name, piece.copy + 1);
        for (class, what, slab) in [("gear", "outside", widest), ("thin", "bed", slabs.first())] {
            let loops: Vec<Loop> =
                slab.into_iter().flat_map(|slab| &slab.loops).map(|one| placed(&one.bottom)).collect();
            canvas.outline(class, &id(what), view, &loops.iter().collect::<Vec<_>>());
        }
        let bounds = made.printed.bounds();
        let middle = (bounds.low + bounds.high) * 0.5;
        let at = view.to_sheet(Point::new(
            if piece.turned { -middle.y } else { middle.x } + shift.x,
            if piece.turned { middle.x } else { middle.y } + shift.y,
        ));
        // Names of small parts stand beside them, on the side where the bed goes on.
        let half = SCALE * (bounds.high.x - bounds.low.x) / 2.0 + 1.0;
        let (class, aside) = if half > NAME {
            ("mid halo", 0.0)
        } else if at.x + half + 2.0 * NAME < origin.x + width {
            ("halo", half)
        } else {
            ("end halo", -half)
        };
        canvas.text(class, at + Point::new(aside, 1.0), &print.name);
    }
}
