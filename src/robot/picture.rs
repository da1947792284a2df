//! The robot from the side, in the posture that its loads are reckoned for.

use maud::{Markup, html};

use super::joint::Robot;
use crate::demand::Axis;
use crate::demand::chain::posture;

/// Of the drawing; the page scales it.
const WIDTH: f64 = 720.0;
/// Around the robot: names stand there.
const EDGE: f64 = 70.0;
/// Of a joint.
const RADIUS: f64 = 7.0;

/// Links as lines, joints as circles with name and mass \[kg\].
pub fn picture(robot: &Robot, masses: &[f64]) -> Markup {
    let spots = posture(&robot.members);
    let ends = |axis: usize| {
        let values = || spots.iter().flatten().map(move |spot| spot[axis]);
        (values().fold(0.0, f64::min), values().fold(0.0, f64::max))
    };
    let ((left, right), (low, high)) = (ends(0), ends(1));
    let scale = (WIDTH - 2.0 * EDGE) / (right - left).max(high - low).max(1.0);
    let height = (high - low) * scale + 2.0 * EDGE;
    let at = |value: f64| format!("{value:.1}");
    let x = |spot: [f64; 2]| EDGE + (spot[0] - left) * scale;
    let y = |spot: [f64; 2]| height - EDGE - (spot[1] - low) * scale;
    html! {
        figure.posture {
            svg viewBox={ "0 0 " (WIDTH) " " (at(height)) } role="img" aria-label="The robot from the side, joints with their names" {
                @for [near, far] in &spots {
                    line.link x1=(at(x(*near))) y1=(at(y(*near))) x2=(at(x(*far))) y2=(at(y(*far))) {}
                }
                @for (index, ([near, _], joint)) in spots.iter().zip(&robot.joints).enumerate() {
                    @let upright = robot.members.get(index).is_some_and(|member| member.axis == Axis::Upright);
                    // Neighbours' names stand on either side.
                    @let side = if index % 2 == 0 { 1.0 } else { -1.0 };
                    @if upright {
                        rect.joint x=(at(x(*near) - RADIUS)) y=(at(y(*near) - 1.5 * RADIUS)) width=(2.0 * RADIUS) height=(3.0 * RADIUS) {}
                    } @else {
                        circle.joint cx=(at(x(*near))) cy=(at(y(*near))) r=(RADIUS) {}
                    }
                    text x=(at(x(*near))) y=(at(y(*near) + side * 30.0 + 4.0)) text-anchor="middle" {
                        (joint.name) " " (format!("{:.0} g", masses.get(index).copied().unwrap_or(0.0) * 1e3))
                    }
                }
            }
            figcaption { "From the side, as its loads are reckoned; squares are upright axes. " (format!("{:.0} mm", right - left)) " from end to end." }
        }
    }
}
