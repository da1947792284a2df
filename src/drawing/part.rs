//! `drawings/<part>.svg`: section, plan under it (first angle), and the sizes to be inspected.

use crate::geometry::{Point, ShapeError, Stack};
use crate::layout::Actuator;
use crate::parts::{Part, Place};

use super::DrawingError;
use super::assembly::{Projection, draw_cut, draw_teeth, shortened};
use super::bodies::{Half, Look, part_toothing};
use super::canvas::View;
use super::cut::{Cut, HalfPlane};
use super::dimension::{self, Dimension, Side};
use super::features::{self, Feature, Shown};
use super::hatch::Style;
use super::plan;
use super::sheet::{Anchor, Letters, Sheet, Title, frame, scale, size_text, title_corner};

/// Section and plan together, dimensions apart.
const ROOM: Point = Point::new(200.0, 180.0);
const AXIS_X: f64 = 165.0;
/// Rows of dimensions over and under the section, room about the plan.
const ABOVE: f64 = 34.0;
const BETWEEN: f64 = 30.0;
const HATCHING: Style = Style { rising: true, spacing: 2.4, offset: 0.0 };

/// Cuts of a part in its two half planes, left and right, as drawn.
///
/// # Errors
/// A wall without a shape between two heights.
pub fn cuts(actuator: &Actuator, part: &Part) -> Result<[(Half, Cut); 2], ShapeError> {
    let [left, right] = features::planes(actuator, part.name);
    let teeth = part_toothing(actuator, part.name);
    let axis = Place { distance: 0.0, angle: 0.0, turn: 0.0 };
    let cut = |angle: f64| Cut::of(&part.stack, axis, &HalfPlane::flat(angle), teeth.as_ref());
    Ok([(Half::Left, cut(left)?), (Half::Right, cut(right)?)])
}

/// The whole file of one part; `part` as drawn.
///
/// # Errors
/// A part that can't be cut.
pub fn part_svg(actuator: &Actuator, part: &Part) -> Result<String, DrawingError> {
    let named = |source: ShapeError| DrawingError { name: part.name.as_str().to_owned(), source };
    let cuts = cuts(actuator, part).map_err(named)?;
    let [back, front] = part.stack.z_range();
    let bounds = part.stack.bounds();
    let radius = [bounds.low.x.abs(), bounds.high.x, bounds.low.y.abs(), bounds.high.y]
        .into_iter()
        .fold(0.0, f64::max);
    let height = front - back;
    let scale = scale(Point::new(2.0 * radius, height + 2.0 * radius), ROOM);
    let [low, high] = frame();
    let spare = f64::max(0.0, high.y - low.y - ABOVE - BETWEEN - 10.0 - (height + 2.0 * radius) * scale);
    let top = low.y + ABOVE + spare / 3.0;
    let projection = Projection { axis_x: AXIS_X, base_y: top + height * scale + back * scale, scale };
    let middle = Point::new(AXIS_X, top + height * scale + BETWEEN + spare / 3.0 + radius * scale);

    let mut sheet = Sheet::default();
    sheet.canvas.open("id=\"section\"");
    for (half, cut) in &cuts {
        draw_cut(&mut sheet, &projection, *half, cut, Look::Hatched, Some(HATCHING));
        if let Some(teeth) = part_toothing(actuator, part.name) {
            draw_teeth(&mut sheet, &projection, *half, cut, 0.0, &teeth);
        }
    }
    edges_behind(&mut sheet, &projection, &cuts);
    sheet.canvas.strokes(
        "chain",
        &[[Point::new(AXIS_X, projection.y(front) - 2.5), Point::new(AXIS_X, projection.y(back) + 2.5)]],
    );
    sheet.canvas.close();

    let sizes = features::of(actuator, part.name);
    sheet.canvas.open("id=\"dimensions\"");
    let (over, under): (Vec<_>, Vec<_>) =
        sizes.iter().filter_map(|size| diameter(size, &projection)).partition(|(over, _)| *over);
    let only = |list: Vec<(bool, Dimension)>| list.into_iter().map(|one| one.1).collect::<Vec<_>>();
    dimension::draw(&mut sheet, Side::Above, projection.y(front), &only(over));
    dimension::draw(&mut sheet, Side::Below, projection.y(back), &only(under));
    let heights: Vec<Dimension> = sizes.iter().filter_map(|size| height_of(size, &projection)).collect();
    dimension::draw(&mut sheet, Side::Left, AXIS_X - radius * scale, &heights);
    sheet.canvas.close();

    let view = View { origin: Point::ORIGIN, place: middle, scale };
    sheet.canvas.open("id=\"plan\"");
    let seen = plan::visible(&part.stack).map_err(named)?;
    sheet.canvas.segments("medium", view, &seen);
    cross(&mut sheet, middle, radius * scale + 4.0);
    trace(&mut sheet, middle, radius * scale, features::planes(actuator, part.name));
    let title = Point::new(AXIS_X - radius * scale - 3.0, low.y + 8.0);
    sheet.text(title, "A-A", Letters::Normal, Anchor::End);
    hole_notes(&mut sheet, view, radius, &sizes, &part.stack);
    sheet.canvas.close();

    table(&mut sheet, &sizes);
    let settings = actuator.design.settings(part.name);
    let bed = if part.flipped { "Prints with the output side down" } else { "Prints with the back down" };
    Ok(sheet.finish(&Title {
        name: part.name.as_str().to_owned(),
        of: actuator.design.name.clone(),
        material: format!("{}, {} off", settings.material.name, part.count),
        scale,
        notes: vec![bed.to_owned(), "Others: ISO 2768-m".to_owned(), "Plan from the output side".to_owned()],
    }))
}

/// Edges of bores and steps behind the plane: at each height where both halves have the same innermost edge.
fn edges_behind(sheet: &mut Sheet, projection: &Projection, cuts: &[(Half, Cut); 2]) {
    let [(_, left), (_, right)] = cuts;
    let levels = |z: f64| [z - 1e-4, z + 1e-4];
    let innermost = |cut: &Cut, z: f64| cut.spans_at(z).first().map(|span| span[0]);
    let ends = [right.bands.first().map(|band| band.z[0]), right.bands.last().map(|band| band.z[1])];
    let mut lines = Vec::new();
    for [from, to] in right.outline() {
        let (z, radius) = (from.y, from.x.min(to.x));
        let at_end = ends.iter().flatten().any(|end| (end - z).abs() < 1e-6);
        // Nothing stands before it, and it is there: slots and windows of one half only end at other heights.
        let bounds = |cut: &Cut| {
            let edges = || levels(z).into_iter().filter_map(|z| innermost(cut, z));
            edges().all(|edge| edge > radius - 1e-3)
                && (at_end || edges().any(|edge| (edge - radius).abs() < 1e-3))
        };
        if (from.y - to.y).abs() < 1e-6 && radius > 0.0 && bounds(left) && bounds(right) {
            lines.push(Half::BOTH.map(|half| projection.at(half, Point::new(radius, z))));
        }
    }
    sheet.canvas.strokes("narrow", &lines);
}

fn diameter(size: &Feature, projection: &Projection) -> Option<(bool, Dimension)> {
    let Shown::Diameter { z, over } = size.shown else { return None };
    let at = |half| projection.at(half, Point::new(size.size / 2.0, z));
    Some((over, Dimension { ends: [at(Half::Left), at(Half::Right)], words: words(size, "\u{d8}") }))
}

fn height_of(size: &Feature, projection: &Projection) -> Option<Dimension> {
    let Shown::Height { z, radius } = size.shown else { return None };
    let ends = z.map(|z| projection.at(Half::Left, Point::new(radius, z)));
    Some(Dimension { ends, words: words(size, "") })
}

fn words(size: &Feature, sign: &str) -> String {
    let class = size.class.map_or(String::new(), |class| format!(" {class}"));
    format!("{sign}{}{class}", size_text(size.size))
}

fn cross(sheet: &mut Sheet, middle: Point, reach: f64) {
    let (across, up) = (Point::new(reach, 0.0), Point::new(0.0, reach));
    sheet.canvas.strokes("chain", &[[middle - across, middle + across], [middle - up, middle + up]]);
}

/// Where the section's two half planes stand in the plan: wide at the ends, with arrows along the sight (ISO 128-3, from memory).
fn trace(sheet: &mut Sheet, middle: Point, reach: f64, planes: [f64; 2]) {
    const BEYOND: f64 = 6.0;
    const WIDE: f64 = 4.0;
    const ARROW: f64 = 6.0;
    for (half, angle) in Half::BOTH.into_iter().zip(planes) {
        // The sheet's y runs down.
        let outwards = Point::new(libm::cos(angle), -libm::sin(angle));
        let sight = Point::new(outwards.y, -outwards.x) * half.sign();
        let end = middle + outwards * (reach + BEYOND);
        let near = middle + outwards * (reach + BEYOND - WIDE);
        sheet.canvas.strokes("chain", &[[middle, near]]);
        sheet.canvas.strokes("wide", &[[near, end]]);
        sheet.canvas.strokes("narrow", &[[end - sight * ARROW, end]]);
        sheet.canvas.arrow(end, sight);
        sheet.text(end - sight * (ARROW + 2.5) + Point::new(0.0, 1.2), "A", Letters::Normal, Anchor::Middle);
    }
}

/// Bolt circles, and a note on each pattern of holes at the right of the plan with a leader to one of them.
fn hole_notes(sheet: &mut Sheet, view: View, radius: f64, sizes: &[Feature], stack: &Stack) {
    const PITCH: f64 = 9.0;
    let mut notes: Vec<(Point, String)> = Vec::new();
    let mut circles: Vec<f64> = Vec::new();
    for size in sizes {
        let Shown::Holes { count, circle, angle } = size.shown else { continue };
        if circle > 0.0 && circles.iter().all(|known| (known - circle).abs() > 1e-6) {
            circles.push(circle);
            sheet.canvas.circle("chain", view.place, circle / 2.0 * view.scale);
        }
        // The hole that lies furthest to the right.
        let step = std::f64::consts::TAU / f64::from(count.max(1));
        let best = (0..count)
            .map(|k| Point::polar(circle / 2.0, angle + step * f64::from(k)))
            .max_by(|a, b| a.x.total_cmp(&b.x));
        let Some(centre) = best else { continue };
        let behind = opens_behind(stack, centre, size.size / 2.0);
        if behind {
            for k in 0..count {
                let middle = Point::polar(circle / 2.0, angle + step * f64::from(k));
                sheet.canvas.circle("dashed", view.to_sheet(middle), size.size / 2.0 * view.scale);
            }
        }
        let edge = centre + Point::polar(size.size / 2.0, 0.6 * centre.angle());
        let class = size.class.map_or(String::new(), |class| format!(" {class}"));
        let note = format!("{count} x \u{d8}{}{class} on \u{d8}{}", size_text(size.size), size_text(circle));
        notes.push((
            view.to_sheet(edge),
            format!("{note}, {}{}", size.name, if behind { ", from the back" } else { "" }),
        ));
    }
    notes.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
    let x = view.place.x + radius * view.scale + 9.0;
    let first = view.place.y - PITCH * (notes.len() as f64 - 1.0) / 2.0;
    for (index, (at, words)) in notes.into_iter().enumerate() {
        let y = first + PITCH * index as f64 - 1.5;
        let start = Point::new(x, y);
        sheet.canvas.strokes("narrow", &[[start, at], [start, start + Point::new(3.0, 0.0)]]);
        sheet.canvas.arrow(at, at - start);
        sheet.text(start + Point::new(4.0, 1.2), &words, Letters::Small, Anchor::Start);
    }
}

/// A hole that can't be seen from the output: over its middle the part is as high as beside it.
fn opens_behind(stack: &Stack, centre: Point, radius: f64) -> bool {
    let top = |point: Point| {
        let covers = |slab: &&crate::geometry::Slab| slab.bottom().contains(point);
        stack.slabs.iter().rev().find(covers).map(|slab| slab.z[1])
    };
    // Towards the axis, past a lead-in.
    let beside = centre - centre.unit() * (radius + 0.6);
    matches!((top(centre), top(beside)), (Some(over), Some(next)) if over >= next - 1e-6)
}

/// Sizes to be inspected, down the right edge to the title block.
fn table(sheet: &mut Sheet, sizes: &[Feature]) {
    const ROW: f64 = 5.4;
    const WIDTH: f64 = 78.0;
    let right = frame()[1].x;
    let left = right - WIDTH;
    let bottom = title_corner().y;
    let top = bottom - ROW * (sizes.len() as f64 + 1.0);
    sheet.canvas.open("id=\"inspection\"");
    sheet.canvas.rectangle("face", Point::new(left, top), Point::new(right, bottom));
    sheet.canvas.rectangle("medium", Point::new(left, top), Point::new(right, bottom));
    let columns = [0.0, 33.0, 48.0, 65.0];
    let mut lines: Vec<[Point; 2]> = Vec::new();
    for x in columns.into_iter().skip(1) {
        lines.push([Point::new(left + x, top), Point::new(left + x, bottom)]);
    }
    let heading = ["Inspect", "Size", "Deviation", "In file"].map(str::to_owned);
    let rows = sizes.iter().map(|size| {
        let [least, most] = size.deviations();
        let deviation = if least == -most {
            format!("\u{b1}{}", signed(most))
        } else {
            format!("{} {}", plus(most), plus(least))
        };
        [size.name.to_owned(), words(size, ""), deviation, size.file.map_or("-".to_owned(), size_text)]
    });
    for (index, row) in std::iter::once(heading).chain(rows).enumerate() {
        let y = top + ROW * index as f64;
        lines.push([Point::new(left, y + ROW), Point::new(right, y + ROW)]);
        for (x, words) in columns.into_iter().zip(&row) {
            let words = shortened(words, 31.0);
            sheet.text(Point::new(left + x + 1.5, y + ROW - 1.7), &words, Letters::Small, Anchor::Start);
        }
    }
    sheet.canvas.strokes("narrow", &lines);
    sheet.canvas.close();
}

fn signed(value: f64) -> String {
    super::canvas::number(value)
}

/// With its sign.
fn plus(value: f64) -> String {
    if value > 0.0 { format!("+{}", signed(value)) } else { signed(value) }
}
