//! `section.svg`: the axial section of the whole actuator, dimensioned, with the item numbers of `bom.csv`.

use std::collections::BTreeMap;

use crate::assessment::fit_classes::FitClasses;
use crate::bom::BillOfMaterials;
use crate::bought::Bought;
use crate::geometry::{Point, ShapeError};
use crate::layout::Actuator;
use crate::parts::Part;

use super::DrawingError;
use super::balloon::{self, Balloon};
use super::bodies::{self, Half, Look, Shown};
use super::cut::{Band, Cut, Edge, Toothing};
use super::dimension::{self, Dimension, Side};
use super::hatch;
use super::sheet::{Anchor, Letters, Sheet, Title, breadth, frame, scale, size_text, title_corner};

/// Room for the view itself; the rest is for dimensions, balloons and the parts list.
const ROOM: Point = Point::new(222.0, 224.0);
/// Rows of dimensions above and below the view.
const ABOVE: f64 = 37.0;
const BELOW: f64 = 16.0;
/// Middle of the view on the sheet.
const AXIS_X: f64 = 189.0;
/// Balloons stand so far out from the view.
const BALLOONS: f64 = 15.0;
/// Thinner sections on paper are filled, not hatched \[mm\].
const THIN: f64 = 1.0;

/// From the model's half planes to the sheet.
#[derive(Clone, Copy, Debug)]
pub struct Projection {
    pub axis_x: f64,
    /// Of the model's z = 0.
    pub base_y: f64,
    pub scale: f64,
}

impl Projection {
    pub fn at(&self, half: Half, point: Point) -> Point {
        Point::new(self.axis_x + half.sign() * point.x * self.scale, self.base_y - point.y * self.scale)
    }

    pub fn y(&self, z: f64) -> f64 {
        self.base_y - z * self.scale
    }
}

/// The whole file.
///
/// # Errors
/// A body that can't be cut.
pub fn section_svg(
    actuator: &Actuator,
    bom: &BillOfMaterials,
    printed: &[Part],
    bought: &[Bought],
) -> Result<String, DrawingError> {
    let shown = bodies::shown(actuator, bom, printed, bought)
        .map_err(|source: ShapeError| DrawingError { name: "the assembly".to_owned(), source })?;
    let mut sheet = Sheet::default();
    let reach = |half: Half| {
        shown
            .iter()
            .flat_map(|body| &body.cuts)
            .filter(|(side, _)| *side == half)
            .flat_map(|(_, cut)| cut.pieces().flatten())
            .fold(0.0, |reach: f64, corner| reach.max(corner.x))
    };
    let height = actuator.stations.output_face;
    let radius = actuator.outer_diameter() / 2.0;
    let scale = scale(Point::new(2.0 * radius, height), ROOM);
    let [low, high] = frame();
    let spare = high.y - low.y - ABOVE - BELOW - height * scale;
    let base_y = high.y - BELOW - spare / 2.0;
    let projection = Projection { axis_x: AXIS_X, base_y, scale };

    sheet.canvas.open("id=\"section\"");
    bores(&mut sheet, &projection, &shown);
    draw_bodies(&mut sheet, &projection, &shown);
    centre_lines(&mut sheet, &projection, &shown, height);
    sheet.canvas.close();

    sheet.canvas.open("id=\"dimensions\"");
    let [left, right] =
        [Half::Left, Half::Right].map(|half| projection.at(half, Point::new(reach(half), 0.0)).x);
    dimension::draw(&mut sheet, Side::Above, projection.y(height), &above(actuator, &projection));
    dimension::draw(&mut sheet, Side::Below, projection.y(0.0), &below(actuator, &projection));
    let heights = heights(actuator, &projection);
    let column = left - BALLOONS - 1.0;
    dimension::draw(&mut sheet, Side::Left, column, &heights);
    sheet.canvas.close();

    sheet.canvas.open("id=\"balloons\"");
    let lines: Vec<f64> = heights.iter().flat_map(|one| one.ends).map(|end| end.y).collect();
    let (lefts, rights) = balloons(&shown, &projection);
    let middle = (projection.y(height) + projection.y(0.0)) / 2.0;
    let column = |count: usize| {
        let half = f64::max((projection.y(0.0) - projection.y(height)) / 2.0, 4.7 * count as f64);
        let top = (middle - half).min(high.y - 2.0 - 2.0 * half).max(low.y + 2.0);
        [top, top + 2.0 * half]
    };
    balloon::draw(&mut sheet, &lefts, left - BALLOONS + 4.0, column(lefts.len()), &lines);
    balloon::draw(&mut sheet, &rights, right + BALLOONS, column(rights.len()), &[]);
    sheet.canvas.close();

    parts_list(&mut sheet, bom);
    Ok(sheet.finish(&Title {
        name: "Axial section".to_owned(),
        of: actuator.design.name.clone(),
        material: "see parts list".to_owned(),
        scale,
        notes: vec![
            "Item numbers as in bom.csv".to_owned(),
            "Stepped section; turning parts".to_owned(),
            "turned into its plane".to_owned(),
        ],
    }))
}

/// Bodies over each other, each with its hatching and outline.
fn draw_bodies(sheet: &mut Sheet, projection: &Projection, shown: &[Shown]) {
    let hatched: Vec<usize> = (0..shown.len())
        .filter(|index| shown.get(*index).is_some_and(|body| body.look == Look::Hatched))
        .collect();
    let cuts: Vec<Vec<&Cut>> = hatched
        .iter()
        .filter_map(|index| shown.get(*index))
        .map(|body| body.cuts.iter().map(|(_, cut)| cut).collect())
        .collect();
    let styles = hatch::styles(&cuts);
    let style_of: std::collections::BTreeMap<usize, hatch::Style> = hatched.into_iter().zip(styles).collect();
    for (index, body) in shown.iter().enumerate() {
        for (half, cut) in &body.cuts {
            draw_cut(sheet, projection, *half, cut, body.look, style_of.get(&index).copied());
        }
        if let Some(teeth) = &body.toothing {
            for ((half, cut), (_, distance)) in body.cuts.iter().zip(&body.axes) {
                draw_teeth(sheet, projection, *half, cut, *distance, teeth);
            }
        }
        if let Some(balls) = &body.balls {
            for (half, distance) in &body.axes {
                for side in [-1.0, 1.0] {
                    let x = distance + side * balls.circle / 2.0;
                    if x > 0.0 {
                        let middle = projection.at(*half, Point::new(x, balls.z));
                        let radius = balls.diameter / 2.0 * projection.scale;
                        sheet.canvas.circle("ball", middle, radius);
                        centre_cross(sheet, middle, radius);
                    }
                }
            }
        }
        if let Some((diameter, length)) = body.screw {
            thread(sheet, projection, body, diameter, length);
        }
    }
}

/// Edges of bores that are seen behind the plane, where nothing lies on the axis before them.
fn bores(sheet: &mut Sheet, projection: &Projection, shown: &[Shown]) {
    let on_axis = |body: &&Shown| body.axes.iter().all(|(_, distance)| *distance == 0.0);
    let nearest = |half: Half, z: f64| -> f64 {
        let spans = |body: &Shown| -> Option<f64> {
            let cuts = body.cuts.iter().filter(|(side, _)| *side == half);
            cuts.filter_map(|(_, cut)| Some(cut.spans_at(z).first()?[0])).min_by(f64::total_cmp)
        };
        shown.iter().filter_map(spans).min_by(f64::total_cmp).unwrap_or(0.0)
    };
    let mut lines = Vec::new();
    for body in shown.iter().filter(on_axis) {
        let Some((_, cut)) = body.cuts.last() else { continue };
        for [from, to] in cut.outline() {
            let level = (from.y - to.y).abs() < 1e-6;
            let radius = from.x.min(to.x);
            let free = |half: Half| {
                [from.y - 1e-3, from.y + 1e-3].into_iter().any(|z| (nearest(half, z) - radius).abs() < 1e-3)
            };
            if level && radius > 0.0 && Half::BOTH.into_iter().all(free) {
                lines.push(Half::BOTH.map(|half| projection.at(half, Point::new(radius, from.y))));
            }
        }
    }
    sheet.canvas.strokes("narrow", &lines);
}

fn centre_cross(sheet: &mut Sheet, middle: Point, radius: f64) {
    let (across, up) = (Point::new(radius + 1.0, 0.0), Point::new(0.0, radius + 1.0));
    sheet.canvas.strokes("hatch", &[[middle - across, middle + across], [middle - up, middle + up]]);
}

/// One cut: white face, hatching or tint, outline.
pub(super) fn draw_cut(
    sheet: &mut Sheet,
    projection: &Projection,
    half: Half,
    cut: &Cut,
    look: Look,
    style: Option<hatch::Style>,
) {
    let faces: Vec<Vec<Point>> =
        cut.pieces().map(|corners| corners.map(|corner| projection.at(half, corner)).to_vec()).collect();
    sheet.canvas.areas(if look == Look::Unit { "tint" } else { "face" }, &faces);
    if let Some(style) = style {
        let (mut lines, mut filled) = (Vec::new(), Vec::new());
        for corners in &faces {
            let thin = thickness(cut, projection.scale) < THIN;
            if thin {
                filled.push(corners.clone());
            } else {
                lines.extend(hatch::lines(corners, style));
            }
        }
        sheet.canvas.strokes("hatch", &lines);
        sheet.canvas.areas("solid", &filled);
    }
    let outline: Vec<Edge> =
        cut.outline().into_iter().map(|edge| edge.map(|end| projection.at(half, end))).collect();
    sheet.canvas.strokes("medium", &outline);
}

/// Height of a whole cut on paper: washers and the like are thin all over.
fn thickness(cut: &Cut, scale: f64) -> f64 {
    let low = cut.bands.first().map_or(0.0, |band| band.z[0]);
    let high = cut.bands.last().map_or(0.0, |band| band.z[1]);
    (high - low) * scale
}

/// Teeth after ISO 2203: not cut; between root and tip they are seen whole, with the reference line.
pub(super) fn draw_teeth(
    sheet: &mut Sheet,
    projection: &Projection,
    half: Half,
    cut: &Cut,
    distance: f64,
    teeth: &Toothing,
) {
    for sign in [-1.0, 1.0] {
        let x = |diameter: f64| distance + sign * diameter / 2.0;
        let (root, tip, reference) =
            (x(teeth.root_diameter), x(teeth.tip_diameter), x(teeth.reference_diameter));
        // Where the cut reaches the root circle there are teeth.
        let at_root = |band: &&Band| band.bottom.iter().flatten().any(|end| (end - root).abs() < 1e-3);
        let low = cut.bands.iter().filter(at_root).map(|band| band.z[0]).min_by(f64::total_cmp);
        let high = cut.bands.iter().filter(at_root).map(|band| band.z[1]).max_by(f64::total_cmp);
        let (Some(low), Some(high)) = (low, high) else { continue };
        if root.min(tip) < 0.0 {
            continue;
        }
        let corner = |x: f64, z: f64| projection.at(half, Point::new(x, z));
        let outline = vec![corner(root, low), corner(tip, low), corner(tip, high), corner(root, high)];
        let next = outline.iter().cycle().skip(1);
        let edges: Vec<Edge> = outline.iter().zip(next).map(|(from, to)| [*from, *to]).collect();
        sheet.canvas.areas("face", &[outline]);
        sheet.canvas.strokes("medium", &edges);
        sheet.canvas.strokes("chain", &[[corner(reference, low - 1.0), corner(reference, high + 1.0)]]);
    }
}

/// Thread of a screw after ISO 6410-1: narrow lines at the core, 0.85 of the diameter apart, over the threaded length, for
/// which ISO 4762 has b = 2 d + 12.
fn thread(sheet: &mut Sheet, projection: &Projection, body: &Shown, diameter: f64, length: f64) {
    let threaded = f64::min(0.9 * length, 2.0 * diameter + 12.0);
    let core = 0.85 * diameter / 2.0;
    for ((half, distance), (_, cut)) in body.axes.iter().zip(&body.cuts) {
        // The tip is the end at which the shank is as wide as the thread.
        let width = |band: Option<&Band>| {
            band.and_then(|band| Some(band.bottom.last()?[1] - band.bottom.first()?[0])).unwrap_or(0.0)
        };
        let back_is_shank =
            (width(cut.bands.first()) - if *distance > 0.0 { diameter } else { diameter / 2.0 }).abs() < 0.01;
        let z =
            if back_is_shank { [body.z[0], body.z[0] + threaded] } else { [body.z[1] - threaded, body.z[1]] };
        for x in [distance - core, distance + core] {
            if x >= 0.0 {
                let line = z.map(|z| projection.at(*half, Point::new(x, z)));
                sheet.canvas.strokes("hatch", &[line]);
            }
        }
    }
}

/// The axis, and those of screws, pins and inserts.
fn centre_lines(sheet: &mut Sheet, projection: &Projection, shown: &[Shown], height: f64) {
    let axis = [projection.y(-2.5 / projection.scale), projection.y(height + 2.5 / projection.scale)];
    sheet.canvas.strokes("chain", &[axis.map(|y| Point::new(projection.axis_x, y))]);
    let mut lines: Vec<(Half, f64, [f64; 2])> = Vec::new();
    for body in shown.iter().filter(|body| body.look == Look::Whole) {
        for (half, distance) in body.axes.iter().filter(|(_, distance)| *distance > 0.0) {
            let z = [body.z[0] - 2.0 / projection.scale, body.z[1] + 2.0 / projection.scale];
            lines.push((*half, *distance, z));
        }
    }
    for (half, distance, z) in lines {
        let line = z.map(|z| projection.at(half, Point::new(distance, z)));
        sheet.canvas.strokes("chain", &[line]);
    }
}

/// The largest piece of an item in a half that nothing covers: its area and where it is on the sheet.
type Seen = Option<(f64, Point)>;

/// One balloon an item, each in a half where it is seen: the two columns of like length as far as that goes.
fn balloons(shown: &[Shown], projection: &Projection) -> (Vec<Balloon>, Vec<Balloon>) {
    let mut items: BTreeMap<usize, [Seen; 2]> = BTreeMap::new();
    for body in shown {
        let Some(item) = body.item else { continue };
        let seen = items.entry(item).or_default();
        for (half, cut) in &body.cuts {
            let [left, right] = seen;
            let best = if *half == Half::Left { left } else { right };
            for [a, b, c, d] in cut.pieces() {
                let middle = (a + b + c + d) * 0.25;
                let area = Loop4([a, b, c, d]).area();
                if best.is_none_or(|(most, _)| area > most) && !is_covered(shown, body, *half, middle) {
                    *best = Some((area, projection.at(*half, middle)));
                }
            }
        }
    }
    let balloon = |item: usize, (_, at): (f64, Point)| Balloon { item, at };
    let (mut lefts, mut rights, mut either) = (Vec::new(), Vec::new(), Vec::new());
    for (item, seen) in items {
        match seen {
            [Some(left), Some(right)] => either.push((item, left, right)),
            [Some(left), None] => lefts.push(balloon(item, left)),
            [None, Some(right)] => rights.push(balloon(item, right)),
            [None, None] => {}
        }
    }
    // Those that show best on the left against the right go first.
    either.sort_by(|a, b| (b.1.0 / b.2.0).total_cmp(&(a.1.0 / a.2.0)));
    let to_left = (lefts.len() + rights.len() + either.len()).div_ceil(2).saturating_sub(lefts.len());
    for (index, (item, left, right)) in either.into_iter().enumerate() {
        if index < to_left {
            lefts.push(balloon(item, left));
        } else {
            rights.push(balloon(item, right));
        }
    }
    (lefts, rights)
}

struct Loop4([Point; 4]);

impl Loop4 {
    fn area(&self) -> f64 {
        let [a, b, c, d] = self.0;
        ((c - a).cross(d - b)).abs() / 2.0
    }
}

/// Something painted later lies over the place.
fn is_covered(shown: &[Shown], body: &Shown, half: Half, at: Point) -> bool {
    shown
        .iter()
        .skip_while(|other| !std::ptr::eq(*other, body))
        .skip(1)
        .flat_map(|other| &other.cuts)
        .filter(|(side, _)| *side == half)
        .any(|(_, cut)| cut.spans_at(at.y).iter().any(|span| at.x > span[0] && at.x < span[1]))
}

/// A diameter about the axis, measured at a height.
fn diameter(projection: &Projection, value: f64, z: f64, words: &str) -> Dimension {
    let at = |half| projection.at(half, Point::new(value / 2.0, z));
    Dimension { ends: [at(Half::Left), at(Half::Right)], words: format!("\u{d8}{}{words}", size_text(value)) }
}

/// Diameters at the output.
fn above(actuator: &Actuator, projection: &Projection) -> Vec<Dimension> {
    let stations = &actuator.stations;
    let output = &actuator.joints.output;
    let bearing = &actuator.design.bearings.output;
    let fits = FitClasses::of(actuator);
    let face = stations.output_face;
    let bolts = format!(" ({} x {})", output.count, output.thread);
    let mut found = vec![
        diameter(projection, actuator.clamp_ring.bore, face, ""),
        diameter(projection, output.circle, face, &bolts),
        diameter(projection, actuator.clamp_ring.flange_diameter, face, ""),
        diameter(projection, bearing.bore, stations.hub_front, &format!(" {}", fits.hub)),
        diameter(projection, bearing.outer, stations.bearing_front, &format!(" {}", fits.housing)),
    ];
    found.sort_by(|a, b| (a.ends[1].x - a.ends[0].x).total_cmp(&(b.ends[1].x - b.ends[0].x)));
    found
}

/// Diameters at the mounting face.
fn below(actuator: &Actuator, projection: &Projection) -> Vec<Dimension> {
    let machine = &actuator.joints.machine;
    let bolts = format!(" ({} x {})", machine.count, machine.thread);
    vec![
        diameter(projection, machine.circle, 0.0, &bolts),
        diameter(projection, actuator.outer_diameter(), 0.0, " over all"),
    ]
}

/// Heights, in the left half.
fn heights(actuator: &Actuator, projection: &Projection) -> Vec<Dimension> {
    let (stations, sun) = (&actuator.stations, &actuator.base);
    let outer = sun.outer / 2.0;
    let at = |x: f64, z: f64| projection.at(Half::Left, Point::new(x, z));
    let between = |(x0, z0): (f64, f64), (x1, z1): (f64, f64), words: &str| Dimension {
        ends: [at(x0, z0), at(x1, z1)],
        words: format!("{}{words}", size_text(z1 - z0)),
    };
    let flange = actuator.clamp_ring.flange_diameter / 2.0;
    let sensor = 2.0;
    vec![
        between((outer, 0.0), (flange, stations.output_face), ""),
        between((outer, 0.0), (actuator.housing.rim_diameter / 2.0, stations.service), ""),
        between(
            (actuator.housing.rim_diameter / 2.0, stations.service),
            (actuator.housing.tube_diameter / 2.0, stations.lip_front),
            "",
        ),
        between((outer, 0.0), (actuator.mount.disc_diameter / 2.0, stations.mount_front), ""),
        between((sensor, stations.sensor_front), (actuator.cup.outer / 2.0, stations.magnet_back), " gap"),
        between(
            (actuator.housing.seat / 2.0, stations.bearing_back),
            (actuator.housing.seat / 2.0, stations.bearing_front),
            "",
        ),
    ]
}

/// Items with their names, down the right edge to the title block.
fn parts_list(sheet: &mut Sheet, bom: &BillOfMaterials) {
    const ROW: f64 = 4.6;
    const WIDTH: f64 = 78.0;
    let right = frame()[1].x;
    let left = right - WIDTH;
    let bottom = title_corner().y;
    let top = bottom - ROW * (bom.items.len() as f64 + 1.0);
    sheet.canvas.open("id=\"parts-list\"");
    sheet.canvas.rectangle("face", Point::new(left, top), Point::new(right, bottom));
    sheet.canvas.rectangle("medium", Point::new(left, top), Point::new(right, bottom));
    let mut lines: Vec<Edge> =
        [7.0, 14.0].map(|x| [Point::new(left + x, top), Point::new(left + x, bottom)]).to_vec();
    // As in drawing practice, the list grows upwards from the title block.
    let headings = ("Item".to_owned(), "Qty".to_owned(), "Name".to_owned());
    let rows = bom.items.iter().enumerate().map(|(index, item)| {
        let words = match item.kind {
            crate::bom::Kind::Bearing | crate::bom::Kind::Fastener => {
                format!("{}, {}", item.name, item.designation)
            }
            _ => item.name.clone(),
        };
        ((index + 1).to_string(), item.quantity.to_string(), words)
    });
    for (index, (item, quantity, words)) in std::iter::once(headings).chain(rows).enumerate() {
        let y = bottom - ROW * index as f64;
        lines.push([Point::new(left, y - ROW), Point::new(right, y - ROW)]);
        let base = y - 1.3;
        sheet.text(Point::new(left + 3.5, base), &item, Letters::Small, Anchor::Middle);
        sheet.text(Point::new(left + 10.5, base), &quantity, Letters::Small, Anchor::Middle);
        let words = shortened(&words, WIDTH - 16.0);
        sheet.text(Point::new(left + 15.0, base), &words, Letters::Small, Anchor::Start);
    }
    sheet.canvas.strokes("narrow", &lines);
    sheet.canvas.close();
}

/// Cut at a word so that it fits, with a sign that it was.
pub(super) fn shortened(words: &str, room: f64) -> String {
    if breadth(words, Letters::Small) <= room {
        return words.to_owned();
    }
    let mut kept = String::new();
    for letter in words.chars() {
        if breadth(&format!("{kept}{letter}\u{2026}"), Letters::Small) > room {
            break;
        }
        kept.push(letter);
    }
    format!("{}\u{2026}", kept.trim_end())
}
