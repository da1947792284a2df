//! One mesh enlarged: circles, line of action, path of contact, points.

use super::labels::{self, Label};
use super::layout::{Window, scale_text};
use super::number_text;
use super::position::MeshPosition;
use crate::drawing::canvas::{Canvas, View};
use crate::gears::{Gear, Mesh};
use crate::geometry::{Bounds, Loop, Point};

/// A gear in its place.
pub struct Placed<'a> {
    pub name: &'static str,
    pub gear: &'a Gear,
    pub centre: Point,
    pub outline: &'a Loop,
    /// In this mesh.
    pub pitch_diameter: f64,
    /// Of a ring: its outside. The outline is then the hole.
    pub outside: Option<&'a Loop>,
}

impl Placed<'_> {
    /// Line class, name and diameter, of each circle; the working pitch circle only where it is one of its own.
    fn circles(&self) -> Vec<(&'static str, &'static str, f64)> {
        let (gear, working) = (self.gear, self.pitch_diameter);
        // Half a micrometre: what the printed digits tell apart.
        let alike = (working - gear.reference_diameter).abs() < 5e-4;
        let mut circles = vec![
            ("thin", "tip", gear.tip_diameter),
            ("thin", "root", gear.root_diameter),
            ("dashed", "base", gear.base_diameter),
            ("chain", if alike { "ref., pitch" } else { "reference" }, gear.reference_diameter),
        ];
        if !alike {
            circles.push(("double", "pitch", working));
        }
        circles
    }
}

/// What one detail shows.
pub struct Detail<'a> {
    pub letter: &'static str,
    pub gears: [Placed<'a>; 2],
    pub mesh: &'a Mesh,
    pub position: &'a MeshPosition,
}

/// Everything the window of a mesh must hold: the line of action from base circle to base circle, the path of contact,
/// and a tooth around it.
pub fn shown(position: &MeshPosition, transverse_module: f64) -> Bounds {
    const AROUND_PATH: [f64; 2] = [3.0, 1.5]; // modules
    const AROUND_POINTS: f64 = 1.0; // modules
    let around = |bounds: Bounds, point: Point, by: Point| bounds.with(point - by).with(point + by);
    let [x, y] = AROUND_PATH.map(|modules| modules * transverse_module);
    let bounds = position.path.iter().fold(Bounds::EMPTY, |all, point| around(all, *point, Point::new(x, y)));
    let edge = Point::new(1.0, 1.0) * (AROUND_POINTS * transverse_module);
    position.tangent_points.iter().fold(bounds, |all, point| around(all, *point, edge))
}

impl Detail<'_> {
    pub fn draw(&self, canvas: &mut Canvas, window: &Window) {
        let view = View { origin: window.centre, place: window.paper.middle(), scale: window.scale };
        let (low, high) = (window.paper.low, window.paper.high);
        let [first, second] = &self.gears;
        let heading = format!(
            "Detail {}, {}: {} and {}",
            self.letter,
            scale_text(window.scale),
            first.name,
            second.name
        );
        canvas.text("head", Point::new(low.x, low.y - 14.0), &heading);
        let clip = format!("window-{}", self.letter);
        canvas.clip(&clip, low, high);
        canvas.open(&format!("class=\"big\" id=\"detail-{}\" clip-path=\"url(#{clip})\"", self.letter));
        for placed in &self.gears {
            self.body(canvas, placed, view);
        }
        for placed in &self.gears {
            self.circles(canvas, placed, view);
        }
        self.axes(canvas, window, view);
        self.action(canvas, view);
        canvas.close();
        canvas.rectangle("window", low, high);
        self.circle_labels(canvas, window, view);
        self.names(canvas, window, view);
        self.point_labels(canvas, view);
        self.figures(canvas, window);
    }

    fn body(&self, canvas: &mut Canvas, placed: &Placed, view: View) {
        let id = format!("detail-{}-{}", self.letter, placed.name);
        match placed.outside {
            Some(outside) => canvas.outline("ring", &id, view, &[outside, placed.outline]),
            None => canvas.outline("gear", &id, view, &[placed.outline]),
        }
    }

    fn circles(&self, canvas: &mut Canvas, placed: &Placed, view: View) {
        for (class, _, diameter) in placed.circles() {
            canvas.circle(class, view.to_sheet(placed.centre), 0.5 * diameter * view.scale);
        }
    }

    /// The line of centres, and the common tangent at the pitch point with the pressure angle.
    fn axes(&self, canvas: &mut Canvas, window: &Window, view: View) {
        let half = window.half_size();
        let pitch_point = self.position.pitch_point;
        let across = Point::new(half.x, 0.0);
        let level = Point::new(window.centre.x, pitch_point.y);
        canvas.lines("chain", &[view.to_sheet(level - across), view.to_sheet(level + across)]);
        let up = Point::new(0.0, half.y);
        let upright = Point::new(pitch_point.x, window.centre.y);
        canvas.lines("thin", &[view.to_sheet(upright - up), view.to_sheet(upright + up)]);
    }

    fn action(&self, canvas: &mut Canvas, view: View) {
        const BEYOND: f64 = 3.0; // of paper
        const POINT: f64 = 0.7;
        const CONTACT: f64 = 1.1;
        let at = |point: Point| view.to_sheet(point);
        let position = self.position;
        let ends = self.line_ends();
        let along = (at(ends[1]) - at(ends[0])).unit() * BEYOND;
        canvas.lines("action", &[at(ends[0]) - along, at(ends[1]) + along]);
        canvas.lines("contact-path", &position.path.map(at));
        for point in position.tangent_points.iter().chain(&position.path).chain([&position.pitch_point]) {
            canvas.circle("point", at(*point), POINT);
        }
        for point in &position.contacts {
            canvas.circle("contact", at(*point), CONTACT);
        }
    }

    /// The two outermost of the named points on the line of action.
    fn line_ends(&self) -> [Point; 2] {
        let [start, end] = self.position.path;
        let along = (end - start).unit();
        let reach = |point: &&Point| (**point - start).dot(along);
        let points = || self.position.path.iter().chain(&self.position.tangent_points);
        let first = points().min_by(|a, b| reach(a).total_cmp(&reach(b)));
        let last = points().max_by(|a, b| reach(a).total_cmp(&reach(b)));
        [*first.unwrap_or(&start), *last.unwrap_or(&end)]
    }

    /// The first gear's below the window, the second's above.
    fn circle_labels(&self, canvas: &mut Canvas, window: &Window, view: View) {
        for (placed, top) in self.gears.iter().zip([false, true]) {
            let radii: Vec<f64> = placed.circles().iter().map(|(_, _, diameter)| 0.5 * diameter).collect();
            // A ring lies on the same side of its teeth as its planet does.
            let towards = if placed.centre.x < window.centre.x { 1.0 } else { -1.0 };
            let anchors = labels::anchors(placed.centre, &radii, window, towards, top);
            let labels: Vec<Label> = placed
                .circles()
                .into_iter()
                .zip(anchors)
                .map(|((_, name, diameter), anchor)| Label {
                    anchor: view.to_sheet(anchor),
                    lines: [name.to_owned(), format!("\u{d8}{}", number_text(diameter))],
                })
                .collect();
            labels::row(canvas, labels, window.paper, top);
        }
    }

    /// In the bodies, over the line of centres.
    fn names(&self, canvas: &mut Canvas, window: &Window, view: View) {
        const INSIDE: f64 = 2.0; // of paper
        let level = view.to_sheet(self.position.pitch_point).y - INSIDE;
        let [first, second] = &self.gears;
        canvas.text("head halo", Point::new(window.paper.low.x + INSIDE, level), first.name);
        let root = Point::new(0.5 * second.gear.root_diameter, self.position.pitch_point.y);
        let (class, x) = match second.outside {
            Some(_) => ("head halo", view.to_sheet(root).x + INSIDE),
            None => ("head halo end", window.paper.high.x - INSIDE),
        };
        canvas.text(class, Point::new(x, level), second.name);
    }

    fn point_labels(&self, canvas: &mut Canvas, view: View) {
        let position = self.position;
        let [start, end] = position.path.map(|point| view.to_sheet(point));
        let along = (end - start).unit();
        // To the right on paper, square to the line.
        let across = if along.left_normal().x > 0.0 { along.left_normal() } else { -along.left_normal() };
        let beside = |point: Point, side: f64| view.to_sheet(point) + across * side + Point::new(0.0, 0.9);
        let [t1, t2] = position.tangent_points;
        canvas.text("halo", beside(position.pitch_point, 2.0), "C");
        canvas.text("halo end", beside(position.path[0], -2.0), "A");
        canvas.text("halo end", beside(position.path[1], -2.0), "E");
        canvas.text("halo", beside(t1, 2.0), "T1");
        canvas.text("halo", beside(t2, 2.0), "T2");
    }

    fn figures(&self, canvas: &mut Canvas, window: &Window) {
        let mesh = self.mesh;
        let count = self.position.contacts.len();
        let lines = [
            format!("Working transverse pressure angle {:.3} deg", mesh.working_pressure_angle.to_degrees()),
            format!(
                "Path of contact A to E {} mm, contact ratio {:.3}",
                number_text(mesh.path_end - mesh.path_start),
                mesh.contact_ratio
            ),
            format!("{count} {} in this position", if count == 1 { "contact" } else { "contacts" }),
        ];
        for (index, line) in lines.iter().enumerate() {
            let at = Point::new(window.paper.low.x, window.paper.high.y + 15.0 + 3.8 * index as f64);
            canvas.text("", at, line);
        }
    }
}
