//! The part a gear is: made or bought, material, width, bore; and what the numbers do not say.

use super::row::{Row, Section, Value};
use crate::design::{GearSource, PartName, RingKind, ToothForm};
use crate::gears::{Gear, Member};
use crate::layout::{Actuator, PlanetSeat};

/// The part that carries a gear's teeth.
struct Carrier {
    part: PartName,
    source: GearSource,
    count: u32,
    /// Length of the teeth along the axis.
    toothed_length: f64,
}

fn carrier(actuator: &Actuator, member: Member) -> Carrier {
    let gearset = &actuator.design.gearset;
    let stations = &actuator.stations;
    match member {
        Member::Sun => Carrier {
            part: match gearset.sun_made {
                GearSource::Buy => PartName::Sun,
                GearSource::Print => PartName::RotorAdapter,
            },
            source: gearset.sun_made,
            count: 1,
            toothed_length: actuator.sun.length,
        },
        Member::Planet => Carrier {
            part: PartName::Planet,
            source: gearset.planet_made,
            count: actuator.stage.planets,
            toothed_length: stations.planet_front - stations.planet_back,
        },
        Member::Ring => Carrier {
            part: match gearset.ring_made {
                RingKind::Cut => PartName::RingHousing,
                RingKind::Insert => PartName::RingInsert,
            },
            source: GearSource::Print,
            count: 1,
            toothed_length: stations.ring_front - stations.service,
        },
    }
}

pub fn section(actuator: &Actuator, member: Member) -> Section {
    let carrier = carrier(actuator, member);
    let made = match carrier.source {
        GearSource::Buy => "bought",
        GearSource::Print => "printed",
    };
    let text = |key, label, value: String| Row::new(key, label, "", Value::Text(value));
    let mut rows = vec![
        text("part", "Part", carrier.part.as_str().to_owned()),
        text("made", "Made or bought", made.to_owned()),
        text("material", "Material", material(actuator, &carrier)),
        Row::new("quantity", "Quantity", "", Value::Count(carrier.count)),
        Row::new("face_width", "Face width in mesh", "b", Value::Length(actuator.stage.face_width)),
        Row::new("toothed_length", "Length of the teeth", "", Value::Length(carrier.toothed_length)),
    ];
    let gearset = &actuator.design.gearset;
    let form = match gearset.tooth_form {
        ToothForm::Helical => "helical",
        ToothForm::Straight => "straight",
        ToothForm::Herringbone => "herringbone: the hand is the back half's, the front half has the other",
    };
    rows.push(text("tooth_form", "Form of the teeth", form.to_owned()));
    if carrier.source == GearSource::Print {
        let growth = actuator.design.printer.tooth_growth;
        rows.extend([
            Row::new("tip_relief", "Tip relief, along the normal", "Ca", Value::Length(gearset.tip_relief)),
            Row::new(
                "tip_relief_height",
                "It begins so far below the tip",
                "",
                Value::Length(gearset.tip_relief_height),
            ),
            Row::new("face_chamfer", "Chamfer at both faces", "", Value::Length(gearset.face_chamfer)),
            Row::new("tooth_growth", "Taken off each flank for the printer", "", Value::Length(growth)),
        ]);
    }
    rows.extend(seat(actuator, member));
    Section { title: "Part", key: None, rows }
}

fn material(actuator: &Actuator, carrier: &Carrier) -> String {
    match carrier.source {
        GearSource::Buy if carrier.part == PartName::Planet => {
            actuator.design.gearset.planet_bought_of.clone()
        }
        GearSource::Buy => actuator.design.gearset.sun_bought_of.clone(),
        GearSource::Print => actuator.design.settings(carrier.part).material.name.clone(),
    }
}

/// What the gear sits on, or sits in.
fn seat(actuator: &Actuator, member: Member) -> Vec<Row> {
    let planet = &actuator.planet;
    // A print's fit is the printer's; a maker is told the bearing's size.
    let planet_bore = match actuator.design.gearset.planet_made {
        GearSource::Print => planet.seat,
        GearSource::Buy => planet.turns_on.outer(),
    };
    match member {
        Member::Sun => {
            vec![Row::new("bore", "Bore, clears the sun's screw", "", Value::Length(actuator.sun.bore))]
        }
        Member::Planet => vec![
            Row::new("bore", "Seat of what it turns on", "", Value::Length(planet_bore)),
            Row::new(
                "bearing",
                "In the seat",
                "",
                Value::Text(match &planet.turns_on {
                    PlanetSeat::Bearings { bearing, .. } => {
                        format!("2 x {}, {} mm outside", bearing.designation, bearing.outer)
                    }
                    PlanetSeat::Bush(bush) => {
                        format!("bush {} x {}, as long as the planet", bush.bore, bush.outer)
                    }
                }),
            ),
        ],
        Member::Ring => {
            let outer = match &actuator.ring_insert {
                Some(insert) => Value::Length(insert.outer),
                None => Value::Absent("the teeth are in the housing itself".to_owned()),
            };
            vec![Row::new("outer_diameter", "Outside diameter of the ring, without its lobes", "", outer)]
        }
    }
}

/// What a maker or a measurer must know beside the numbers.
pub fn notes(actuator: &Actuator, member: Member, gear: &Gear) -> Vec<String> {
    let carrier = carrier(actuator, member);
    let helical = gear.helix_angle != 0.0;
    // Anvils lie on one helix: a herringbone has half the width for them.
    let one_helix = match actuator.stage.tooth_form {
        ToothForm::Herringbone => 0.5 * actuator.stage.face_width,
        ToothForm::Helical | ToothForm::Straight => carrier.toothed_length,
    };
    let mut notes = vec![match carrier.source {
        GearSource::Buy => "Accuracy: agree a grade of ISO 1328-1 and a tooth thickness tolerance with the maker; thickness, \
             measures and backlash here are nominal."
            .to_owned(),
        GearSource::Print => "Accuracy: no grade of ISO 1328-1 describes a printed gear (published filament prints deviate 0.067 mm in \
             profile on average, Engineering Proceedings 113, 38). Measure the print against the nominal values here."
            .to_owned(),
    }];
    match member {
        Member::Ring => {
            notes.push(format!(
                "ISO 21771 counts a ring's teeth and shift with the other sign: z = -{}, x = {:.4}.",
                gear.teeth,
                // No minus sign before a zero.
                0.0 - gear.shift
            ));
            notes.push(
                "Root: a printed arc, not a cutter's trochoid; smaller than the rack's corner where the planet's tip passes."
                    .to_owned(),
            );
            if helical {
                notes.push("Flat anvils do not reach the span of helical spaces inside a ring: measure between balls.".to_owned());
            }
        }
        Member::Sun | Member::Planet if gear.span_face_width > one_helix => notes.push(format!(
            "The span wants {:.2} mm of tooth length and there are {one_helix:.2}: measure over balls.",
            gear.span_face_width
        )),
        Member::Sun | Member::Planet => {}
    }
    if gear.is_undercut() {
        notes.push("Undercut: the involute begins at the form diameter.".to_owned());
    }
    notes
}
