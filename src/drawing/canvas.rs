//! SVG text in millimetres of the sheet: paths of real arcs, circles, lines, words.

use std::f64::consts::PI;
use std::fmt::Write;

use crate::geometry::{Curve, Loop, Point, Segment};

/// Line types after ISO 128-2 (thick outlines, thin everything else, chain lines for reference circles and axes), fills
/// and letters. Widths mm: 0.25 and 0.13 in the stage at 1:1, whose teeth are small, 0.35 and 0.18 in the details.
const STYLE: &str = "\
text{font-family:sans-serif;font-size:2.5px;fill:#000}
.halo{paint-order:stroke;stroke:#fff;stroke-width:.9px;stroke-linejoin:round}
.head{font-size:3.5px;font-weight:bold}.strong{font-weight:bold}
.mid{text-anchor:middle}.end{text-anchor:end}
.gear,.ring{fill:#e9eef2;stroke:#000;stroke-width:.25px;stroke-linejoin:round;fill-rule:evenodd}
.ring{fill:#f4f0e6}.hole{fill:#fff;stroke:#000;stroke-width:.25px}
.big .gear,.big .ring{stroke-width:.35px}
.thin,.chain,.double,.dashed{fill:none;stroke:#000;stroke-width:.13px}
.big .thin,.big .chain,.big .double,.big .dashed{stroke-width:.18px}
.chain{stroke-dasharray:6 .8 .6 .8}.double{stroke-dasharray:6 .8 .6 .8 .6 .8}.dashed{stroke-dasharray:2.2 .9}
.leader{fill:none;stroke:#555;stroke-width:.13px}
.outline{fill:none;stroke:#000;stroke-width:.35px}
.frame{fill:none;stroke:#000;stroke-width:.5px}
.window{fill:none;stroke:#000;stroke-width:.18px}
.action{fill:none;stroke:#b00020;stroke-width:.25px}.contact-path{fill:none;stroke:#b00020;stroke-width:.7px}
.point{fill:#fff;stroke:#b00020;stroke-width:.3px}.contact{fill:#b00020}
.arrow{fill:#000}
";

/// Where a drawing lies on the sheet: `origin` of the model at `place`, `scale` millimetres of paper a millimetre.
#[derive(Clone, Copy, Debug)]
pub struct View {
    pub origin: Point,
    pub place: Point,
    pub scale: f64,
}

impl View {
    /// The sheet's y runs down.
    pub fn to_sheet(self, point: Point) -> Point {
        let from_origin = (point - self.origin) * self.scale;
        Point::new(self.place.x + from_origin.x, self.place.y - from_origin.y)
    }
}

/// The SVG's body as it grows.
#[derive(Debug, Default)]
pub struct Canvas {
    body: String,
}

impl Canvas {
    /// The whole file for a sheet of this size.
    pub fn finish(self, width: f64, height: f64, title: &str) -> String {
        self.finish_styled(width, height, title, STYLE)
    }

    /// As [`finish`](Canvas::finish), with classes of the drawing's own.
    pub fn finish_styled(self, width: f64, height: f64, title: &str, style: &str) -> String {
        let (w, h) = (number(width), number(height));
        format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
             viewBox=\"0 0 {w} {h}\">\n<title>{}</title>\n<style>{style}</style>\n<rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>\n{}</svg>\n",
            escaped(title),
            self.body
        )
    }

    fn element(&mut self, text: std::fmt::Arguments) {
        // Writing to a String does not fail.
        let _ = writeln!(self.body, "{text}");
    }

    /// Opens a group; `attributes` as they stand in the tag.
    pub fn open(&mut self, attributes: &str) {
        self.element(format_args!("<g {attributes}>"));
    }

    pub fn close(&mut self) {
        self.element(format_args!("</g>"));
    }

    /// What is drawn in groups with `clip-path="url(#id)"` ends at this rectangle.
    pub fn clip(&mut self, id: &str, low: Point, high: Point) {
        self.element(format_args!("<clipPath id=\"{id}\">{}</clipPath>", rectangle("", low, high)));
    }

    pub fn rectangle(&mut self, class: &str, low: Point, high: Point) {
        self.element(format_args!("{}", rectangle(&format!("class=\"{class}\" "), low, high)));
    }

    /// Closed outlines as one path of lines and arcs; `id` names it in the file.
    pub fn outline(&mut self, class: &str, id: &str, view: View, loops: &[&Loop]) {
        let mut path = String::new();
        for outline in loops {
            append(&mut path, view, outline);
        }
        self.element(format_args!("<path class=\"{class}\" id=\"{id}\" d=\"{path}\"/>"));
    }

    pub fn circle(&mut self, class: &str, centre: Point, radius: f64) {
        self.element(format_args!(
            "<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            number(centre.x),
            number(centre.y),
            number(radius)
        ));
    }

    pub fn lines(&mut self, class: &str, points: &[Point]) {
        let points: Vec<String> = points.iter().map(|point| pair(*point)).collect();
        self.element(format_args!("<polyline class=\"{class}\" points=\"{}\"/>", points.join(" ")));
    }

    /// A slender filled arrowhead with its tip at `tip`, pointing along `direction`.
    pub fn arrow(&mut self, tip: Point, direction: Point) {
        const LENGTH: f64 = 2.5;
        const HALF_WIDTH: f64 = 0.4;
        let back = tip - direction.unit() * LENGTH;
        let side = direction.unit().left_normal() * HALF_WIDTH;
        let corners = [tip, back + side, back - side].map(pair);
        self.element(format_args!("<polygon class=\"arrow\" points=\"{}\"/>", corners.join(" ")));
    }

    /// Separate straight lines as one path.
    pub fn strokes(&mut self, class: &str, lines: &[[Point; 2]]) {
        let mut path = String::new();
        for [from, to] in lines {
            // Writing to a String does not fail.
            let _ = write!(path, "M{}L{}", pair(*from), pair(*to));
        }
        if !path.is_empty() {
            self.element(format_args!("<path class=\"{class}\" d=\"{path}\"/>"));
        }
    }

    /// Closed polygons as one path.
    pub fn areas(&mut self, class: &str, polygons: &[Vec<Point>]) {
        let mut path = String::new();
        for corners in polygons {
            for (index, corner) in corners.iter().enumerate() {
                let _ = write!(path, "{}{}", if index == 0 { 'M' } else { 'L' }, pair(*corner));
            }
            path.push('Z');
        }
        if !path.is_empty() {
            self.element(format_args!("<path class=\"{class}\" d=\"{path}\"/>"));
        }
    }

    /// Open lines and arcs as one path.
    pub fn segments(&mut self, class: &str, view: View, segments: &[Segment]) {
        let mut path = String::new();
        let mut end: Option<Point> = None;
        for segment in segments {
            if end.is_none_or(|end| end.distance(segment.from) > 1e-6) {
                let _ = write!(path, "M{}", pair(view.to_sheet(segment.from)));
            }
            draw_to(&mut path, view, segment);
            end = Some(segment.to);
        }
        if !path.is_empty() {
            self.element(format_args!("<path class=\"{class}\" d=\"{path}\"/>"));
        }
    }

    /// Reads from the right: turned a quarter to the left about `at`.
    pub fn text_upright(&mut self, class: &str, at: Point, words: &str) {
        let (x, y) = (number(at.x), number(at.y));
        self.element(format_args!(
            "<text class=\"{class}\" x=\"{x}\" y=\"{y}\" transform=\"rotate(-90 {x} {y})\">{}</text>",
            escaped(words)
        ));
    }

    pub fn text(&mut self, class: &str, at: Point, words: &str) {
        self.element(format_args!(
            "<text class=\"{class}\" x=\"{}\" y=\"{}\">{}</text>",
            number(at.x),
            number(at.y),
            escaped(words)
        ));
    }
}

fn rectangle(attributes: &str, low: Point, high: Point) -> String {
    let size = high - low;
    format!(
        "<rect {attributes}x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
        number(low.x),
        number(low.y),
        number(size.x),
        number(size.y)
    )
}

fn append(path: &mut String, view: View, outline: &Loop) {
    for (index, segment) in outline.0.iter().enumerate() {
        if index == 0 {
            let _ = write!(path, "M{}", pair(view.to_sheet(segment.from)));
        }
        draw_to(path, view, segment);
    }
    path.push('Z');
}

fn draw_to(path: &mut String, view: View, segment: &Segment) {
    let to = pair(view.to_sheet(segment.to));
    let _ = match segment.curve {
        Curve::Line => write!(path, "L{to}"),
        Curve::Arc { radius, ccw, .. } => {
            let radius = number(radius * view.scale);
            let large = u8::from(segment.sweep().abs() > PI);
            // The flag is 1 for arcs clockwise on paper.
            write!(path, "A{radius} {radius} 0 {large} {} {to}", u8::from(!ccw))
        }
    };
}

fn pair(point: Point) -> String {
    format!("{} {}", number(point.x), number(point.y))
}

/// Micrometres of paper.
pub fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text as XML takes it, without the control characters that XML has no way to write.
fn escaped(words: &str) -> String {
    let mut text = String::new();
    for letter in words.chars() {
        match letter {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            '\u{fffe}' | '\u{ffff}' => {}
            letter if letter.is_control() => text.push(' '),
            letter => text.push(letter),
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_words() {
        assert_eq!([1.0, -0.0001, 2.5, 0.1239].map(number), ["1", "0", "2.5", "0.124"]);
        assert_eq!(escaped("a<b & c\u{7}>"), "a&lt;b &amp; c &gt;");
    }
}
