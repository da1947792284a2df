//! Which groups are looked at first: the promising ones, by what is on hand alone, whichever bounds are used. Bounds that come
//! nearer then change what a search takes, not what it finds.

use std::f64::consts::PI;

use crate::design::{Design, GearSource, PartName, RingKind};
use crate::gears::Stage;

/// Of a ring around the teeth that every design has \[mm\].
const SHELL: f64 = 1.4;
/// Taken off each radius for chords, and off each edge \[mm\].
const SLACK: f64 = 0.03;
const CHAMFER: f64 = 0.6;

/// What planets and ring weigh by their rims \[kg\]; about, which is enough for an order.
pub fn rims(design: &Design, stage: &Stage, seat: f64) -> f64 {
    let root = stage.ring.root_diameter;
    let shell = match design.gearset.ring_made {
        RingKind::Cut => rim(design, PartName::RingHousing, [root, root + 2.0 * SHELL], 0.0),
        RingKind::Insert => 0.0,
    };
    let planets = match design.gearset.planet_made {
        GearSource::Print => rim(design, PartName::Planet, [seat, stage.planet.root_diameter], CHAMFER),
        GearSource::Buy => 0.0,
    };
    f64::from(stage.planets) * planets + shell
}

/// A ring as long as the teeth: perimeters inside, the rest at the infill's share.
fn rim(design: &Design, part: PartName, [inner, outer]: [f64; 2], chamfer: f64) -> f64 {
    let Some(settings) = design.parts.get(&part).or_else(|| design.parts.get(&PartName::RingHousing)) else {
        return 0.0;
    };
    let (inner, outer) = (inner + 2.0 * SLACK, outer - 2.0 * SLACK);
    let area = |inner: f64, outer: f64| PI / 4.0 * (outer * outer - inner * inner).max(0.0);
    let inset = f64::from(settings.walls) * design.printer.line_width;
    let core = area(inner - 4.0 * SLACK + 2.0 * inset, outer);
    let section = area(inner, outer) - (1.0 - settings.infill.min(1.0)) * core.min(area(inner, outer));
    let edges = PI * (inner + outer) * chamfer * chamfer / 2.0;
    let scale = design.printer.scale(&settings.material.name).min(1.0);
    let plastic = (section * design.gearset.face_width - edges).max(0.0);
    plastic * scale.powi(3) * settings.material.density * 1e-6
}
