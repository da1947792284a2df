//! Legend and title block along the lower edge.

use super::layout::{Layout, scale_text};
use super::{Drawn, number_text};
use crate::design::ToothForm;
use crate::drawing::canvas::Canvas;
use crate::geometry::Point;

pub fn draw(canvas: &mut Canvas, drawn: &Drawn, layout: &Layout) {
    canvas.rectangle("frame", layout.frame.low, layout.frame.high);
    legend(canvas, layout);
    block(canvas, drawn, layout);
}

/// Line types and points in two columns, left of the title block.
fn legend(canvas: &mut Canvas, layout: &Layout) {
    const LINE: f64 = 4.2;
    const LINES: usize = 6;
    const SAMPLE: f64 = 10.0;
    const COLUMN: f64 = 40.0;
    let corner = Point::new(layout.frame.low.x + 3.0, layout.title.low.y + 5.5);
    canvas.text("head", corner, "Lines and points");
    let place = |index: usize| {
        let (column, line) = (index / LINES, index % LINES);
        corner + Point::new(COLUMN * column as f64, 5.0 + LINE * line as f64)
    };
    let beside = Point::new(SAMPLE + 1.5, 0.0);
    let lines = [
        ("outline", "outline"),
        ("thin", "tip and root circle"),
        ("chain", "reference circle, axes"),
        ("double", "working pitch circle"),
        ("dashed", "base circle"),
        ("action", "line of action"),
        ("contact-path", "path of contact"),
    ];
    canvas.open("class=\"big\"");
    for (index, (class, name)) in lines.into_iter().enumerate() {
        let start = place(index);
        let up = Point::new(0.0, 0.8);
        canvas.lines(class, &[start - up, start - up + Point::new(SAMPLE, 0.0)]);
        canvas.text("", start + beside, name);
    }
    let contact = place(lines.len());
    canvas.circle("contact", contact + Point::new(0.5 * SAMPLE, -0.8), 1.1);
    canvas.text("", contact + beside, "contact now");
    let letters = [("C", "pitch point"), ("A, E", "ends of the path"), ("T1, T2", "base tangent points")];
    for (index, (letter, name)) in letters.into_iter().enumerate() {
        let start = place(lines.len() + 1 + index);
        canvas.text("mid", start + Point::new(0.5 * SAMPLE, 0.0), letter);
        canvas.text("", start + beside, name);
    }
    canvas.close();
}

fn block(canvas: &mut Canvas, drawn: &Drawn, layout: &Layout) {
    const RIGHT_CELLS: f64 = 38.0;
    let (low, high) = (layout.title.low, layout.title.high);
    canvas.rectangle("frame", low, high);
    let divider = high.x - RIGHT_CELLS;
    canvas.lines("window", &[Point::new(divider, low.y), Point::new(divider, high.y)]);
    canvas.text("head", low + Point::new(3.0, 5.5), "Gear mesh of the planetary stage");
    for (index, line) in words(drawn).iter().enumerate() {
        canvas.text("", low + Point::new(3.0, 10.5 + 4.1 * index as f64), line);
    }
    let [a, b] = &layout.windows;
    let cells = [
        format!("Scale {}", scale_text(layout.stage_scale)),
        format!("Details {}, {}", scale_text(a.scale), scale_text(b.scale)),
        format!("Sheet {}, landscape", layout.sheet),
        "Lengths in mm".to_owned(),
        "Nominal, no tip relief".to_owned(),
    ];
    for (index, cell) in cells.iter().enumerate() {
        let class = if index == 0 { "head" } else { "" };
        canvas.text(class, Point::new(divider + 3.0, low.y + 5.5 + 5.4 * index as f64), cell);
    }
}

fn words(drawn: &Drawn) -> [String; 6] {
    let stage = drawn.stage;
    let sun = &stage.sun;
    let teeth = match sun.helix_angle {
        angle if stage.tooth_form == ToothForm::Herringbone => {
            format!("herringbone, helix angle {} deg", degrees(angle.abs()))
        }
        angle if angle > 0.0 => format!("helix angle {} deg, sun right hand", degrees(angle)),
        angle if angle < 0.0 => format!("helix angle {} deg, sun left hand", degrees(-angle)),
        _ => "straight teeth".to_owned(),
    };
    [
        short(drawn.name, 84),
        format!(
            "Teeth: sun {}, planet {}, ring {}; {} planets, ratio {:.3} with the ring held",
            sun.teeth, stage.planet.teeth, stage.ring.teeth, stage.planets, stage.ratio
        ),
        format!(
            "Normal module {} mm, normal pressure angle {} deg, {teeth}",
            sun.normal_module,
            degrees(sun.rack.pressure_angle)
        ),
        format!(
            "Profile shifts: sun {:+.3}, planet {:+.3}, ring {:+.3} (outwards positive)",
            sun.shift, stage.planet.shift, stage.ring.shift
        ),
        format!(
            "Centre distance {} mm, planet gap {} mm, backlash {} mm in each mesh",
            number_text(stage.centre_distance),
            number_text(stage.planet_gap),
            number_text(stage.backlash)
        ),
        "Transverse section. Sun driving counter-clockwise, ring held: the driving flanks touch.".to_owned(),
    ]
}

fn degrees(angle: f64) -> String {
    crate::drawing::canvas::number(angle.to_degrees())
}

/// At most so many letters.
fn short(words: &str, most: usize) -> String {
    if words.chars().count() <= most {
        return words.to_owned();
    }
    words.chars().take(most.saturating_sub(1)).chain(['\u{2026}']).collect()
}
