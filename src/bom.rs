//! The bill of materials: every printed part, bearing, screw, insert, pin and bought unit, with masses and costs.

use serde::Serialize;

use crate::assessment::tightening::{class, tightening};
use crate::design::{Design, GearSource, Joint, Magnet, ToothForm};
use crate::gears::Stage;
use crate::layout::{Actuator, Anchor, Bolting, Planet, PlanetSeat, Sun};
use crate::parts::MadePart;
use crate::tables;

/// Kinds of the bill of materials, as its `kind` column writes them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    Printed,
    Bearing,
    Fastener,
    Insert,
    Pin,
    Motor,
    Controller,
    Magnet,
    Gear,
    Consumable,
}

impl Kind {
    pub fn as_str(self) -> &'static str {
        match self {
            Kind::Printed => "printed",
            Kind::Bearing => "bearing",
            Kind::Fastener => "fastener",
            Kind::Insert => "insert",
            Kind::Pin => "pin",
            Kind::Motor => "motor",
            Kind::Controller => "controller",
            Kind::Magnet => "magnet",
            Kind::Gear => "gear",
            Kind::Consumable => "consumable",
        }
    }
}

/// One line.
#[derive(Clone, Debug)]
pub struct Item {
    pub kind: Kind,
    pub name: String,
    pub designation: String,
    pub quantity: u32,
    pub material: String,
    /// Of one \[kg\]; none where nobody can know.
    pub unit_mass: Option<f64>,
    pub unit_cost: Option<f64>,
    pub note: String,
}

impl Item {
    pub fn total_mass(&self) -> f64 {
        self.unit_mass.unwrap_or(0.0) * f64::from(self.quantity)
    }

    pub fn total_cost(&self) -> Option<f64> {
        self.unit_cost.map(|cost| cost * f64::from(self.quantity))
    }
}

/// All lines in the order printed parts, bought units, bearings, pins, screws, inserts.
#[derive(Clone, Debug)]
pub struct BillOfMaterials {
    pub items: Vec<Item>,
}

impl BillOfMaterials {
    /// Lines of an actuator; `parts` with their print masses.
    pub fn new(actuator: &Actuator, parts: &[MadePart]) -> BillOfMaterials {
        let mut items = printed(actuator, parts);
        items.extend(units(actuator));
        items.extend(bearings(actuator));
        items.push(pins(actuator));
        for joint in actuator.joints.iter() {
            items.extend(screws(actuator, joint));
        }
        items.extend(inserts(actuator));
        BillOfMaterials { items }
    }

    /// Mass of the printed lines \[kg\].
    pub fn printed_mass(&self) -> f64 {
        self.items.iter().filter(|item| item.kind == Kind::Printed).map(Item::total_mass).sum()
    }

    /// Mass of everything bought \[kg\], without the link's bolts and the machine's screws.
    pub fn bought_mass(&self) -> f64 {
        self.items.iter().filter(|item| item.kind != Kind::Printed).map(Item::total_mass).sum()
    }

    pub fn total_mass(&self) -> f64 {
        self.printed_mass() + self.bought_mass()
    }

    /// Sum of the costs that are given; none if none is.
    pub fn total_cost(&self) -> Option<f64> {
        let costs: Vec<f64> = self.items.iter().filter_map(Item::total_cost).collect();
        (!costs.is_empty()).then(|| costs.iter().sum())
    }

    /// The table as CSV bytes.
    pub fn csv(&self) -> Result<Vec<u8>, csv::Error> {
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record([
            "item",
            "kind",
            "name",
            "designation",
            "quantity",
            "material",
            "unit_mass_g",
            "total_mass_g",
            "unit_cost",
            "total_cost",
            "note",
        ])?;
        let grams = |mass: f64| format!("{:.2}", mass * 1e3);
        let money = |cost: Option<f64>| cost.map_or(String::new(), |cost| format!("{cost:.2}"));
        for (index, item) in self.items.iter().enumerate() {
            writer.write_record([
                (index + 1).to_string(),
                item.kind.as_str().to_string(),
                item.name.clone(),
                item.designation.clone(),
                item.quantity.to_string(),
                item.material.clone(),
                item.unit_mass.map_or(String::new(), grams),
                item.unit_mass.map_or(String::new(), |_| grams(item.total_mass())),
                money(item.unit_cost),
                money(item.total_cost()),
                item.note.clone(),
            ])?;
        }
        writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))
    }
}

fn printed(actuator: &Actuator, parts: &[MadePart]) -> Vec<Item> {
    parts
        .iter()
        .map(|made| {
            let part = &made.part;
            let settings = actuator.design.parts.get(&part.name);
            let prices = &actuator.design.printer.filament_cost;
            let per_kg = settings.and_then(|settings| {
                prices.iter().find(|(name, _)| *name == settings.material.name).map(|(_, price)| price)
            });
            Item {
                kind: Kind::Printed,
                name: part.name.as_str().to_string(),
                designation: format!("{}.stl", part.name.as_str()),
                quantity: part.count,
                material: settings.map_or(String::new(), |settings| settings.material.name.clone()),
                unit_mass: Some(made.mass.mass),
                unit_cost: per_kg.map(|price| price * made.mass.mass),
                note: settings.map_or(String::new(), |settings| {
                    format!(
                        "{} walls, {:.0} % infill, {} layers",
                        settings.walls,
                        settings.infill * 100.0,
                        settings.layer_height
                    )
                }),
            }
        })
        .collect()
}

/// Motor, controller, magnet, bought gears.
fn units(actuator: &Actuator) -> Vec<Item> {
    let design = &actuator.design;
    let item = |kind, name: &str, designation: String, unit_mass, unit_cost, note: &str| Item {
        kind,
        name: name.to_string(),
        designation,
        quantity: 1,
        material: String::new(),
        unit_mass,
        unit_cost,
        note: note.to_string(),
    };
    let magnet = &design.motor.magnet;
    let mut items = vec![
        item(Kind::Motor, "motor", design.motor.name.clone(), Some(design.motor.mass), design.motor.cost, ""),
        item(
            Kind::Controller,
            "controller",
            design.controller.name.clone(),
            Some(design.controller.mass),
            design.controller.cost,
            "",
        ),
        item(
            Kind::Magnet,
            "encoder magnet",
            format!("{} x {} mm, magnetised across", magnet.diameter, magnet.thickness),
            Some(magnet_mass(magnet)),
            None,
            "mass from volume at 7.5 g/cm3",
        ),
    ];
    if design.gearset.sun_made == GearSource::Buy {
        items.push(bought_gear(
            actuator,
            Bought {
                name: "sun",
                gear: &actuator.stage.sun,
                material: &design.gearset.sun_bought_of,
                quantity: 1,
                length: actuator.sun.length,
                bore: actuator.sun.bore,
            },
        ));
    }
    if design.gearset.planet_made == GearSource::Buy {
        let (planet, face) = (&actuator.planet, design.gearset.face_width);
        items.push(bought_gear(
            actuator,
            Bought {
                name: "planet",
                gear: &actuator.stage.planet,
                material: &design.gearset.planet_bought_of,
                quantity: actuator.stage.planets,
                length: face,
                bore: planet.turns_on.outer(),
            },
        ));
    }
    items
}

fn one_hand(gear: &crate::gears::Gear) -> &'static str {
    if gear.helix_angle > 0.0 { "right" } else { "left" }
}

/// A gear that is bought.
struct Bought<'a> {
    name: &'static str,
    gear: &'a crate::gears::Gear,
    material: &'a str,
    quantity: u32,
    length: f64,
    bore: f64,
}

/// Of a bought gear \[kg\], a disc between root and tip; none where nobody knows what the material weighs.
fn gear_mass(gear: &crate::gears::Gear, material: &str, [length, bore]: [f64; 2]) -> Option<f64> {
    let middle = gear.root_diameter / 2.0 + gear.tip_diameter / 2.0;
    let volume = std::f64::consts::PI / 4.0 * (middle * middle - bore * bore) * length;
    // g/cm3 to kg/mm3.
    tables::gear_metal(material).map(|metal| volume * metal.density * 1e-6)
}

/// Of all that is bought but fasteners \[kg\], as the lines add up.
pub fn units_mass(design: &Design, stage: &Stage, sun: &Sun, planet: &Planet) -> f64 {
    let gearset = &design.gearset;
    let planets = f64::from(stage.planets);
    let bought_sun = match gearset.sun_made {
        GearSource::Buy => gear_mass(&stage.sun, &gearset.sun_bought_of, [sun.length, sun.bore]),
        GearSource::Print => None,
    };
    let bought_planet = match gearset.planet_made {
        GearSource::Buy => {
            let sizes = [gearset.face_width, planet.turns_on.outer()];
            gear_mass(&stage.planet, &gearset.planet_bought_of, sizes)
        }
        GearSource::Print => None,
    };
    let on_pin = match &planet.turns_on {
        PlanetSeat::Bearings { bearing, .. } => 2.0 * bearing.mass,
        PlanetSeat::Bush(_) => 0.0,
    };
    design.motor.mass
        + design.controller.mass
        + magnet_mass(&design.motor.magnet)
        + bought_sun.unwrap_or(0.0)
        + f64::from(design.bearings.output_count) * design.bearings.output.mass
        + planets * (bought_planet.unwrap_or(0.0) + on_pin + planet.pin_mass())
}

/// NdFeB 7.5 g/cm3 (common practice, no source) \[kg\].
fn magnet_mass(magnet: &Magnet) -> f64 {
    std::f64::consts::PI / 4.0 * magnet.diameter * magnet.diameter * magnet.thickness * 7.5e-6
}

/// What a gear maker asks for, in one line.
fn bought_gear(actuator: &Actuator, bought: Bought) -> Item {
    let gearset = &actuator.design.gearset;
    let Bought { name, gear, material, quantity, length, bore } = bought;
    let hand = match gear.helix_angle {
        _ if gearset.tooth_form == ToothForm::Herringbone => {
            let apex = 0.5 * gearset.face_width;
            format!("herringbone ({}-hand at the back), apex {apex:.1} from the front end", one_hand(gear))
        }
        0.0 => "none".to_string(),
        _ => one_hand(gear).to_string(),
    };
    let mass = gear_mass(gear, material, [length, bore]);
    Item {
        kind: Kind::Gear,
        name: name.to_string(),
        designation: format!(
            "normal module {}, {} teeth, pressure angle {:.1} deg, helix {:.1} deg {hand}, shift {:+.3}, length {length:.1}, bore {bore:.1}",
            gearset.normal_module,
            gear.teeth,
            gearset.pressure_angle.to_degrees(),
            gear.helix_angle.abs().to_degrees(),
            gear.shift
        ),
        quantity,
        material: material.to_string(),
        unit_mass: mass,
        unit_cost: None,
        note: format!("span over {} teeth {:.3} mm; mass from volume", gear.span_teeth, gear.span),
    }
}

fn bearings(actuator: &Actuator) -> Vec<Item> {
    let design = &actuator.design;
    let line = |place: &str, bearing: &tables::Bearing, quantity: u32, note: String| Item {
        kind: Kind::Bearing,
        name: format!("{place} bearing"),
        designation: bearing.designation.clone(),
        quantity,
        material: "steel".to_string(),
        unit_mass: Some(bearing.mass),
        unit_cost: None,
        note,
    };
    let size =
        |bearing: &tables::Bearing, width: f64| format!("{} x {} x {width} mm", bearing.bore, bearing.outer);
    let planet = &actuator.planet;
    let form = if design.bearings.planet_shielded { "shielded" } else { "open" };
    let output = &design.bearings.output;
    vec![
        line("output", output, design.bearings.output_count, size(output, output.width)),
        match &planet.turns_on {
            PlanetSeat::Bearings { bearing, width, .. } => line(
                "planet",
                bearing,
                2 * actuator.stage.planets,
                format!("{}, {form}", size(bearing, *width)),
            ),
            PlanetSeat::Bush(bush) => Item {
                kind: Kind::Bearing,
                name: "planet bush".to_string(),
                designation: format!("{} x {} x {}", bush.bore, bush.outer, actuator.stage.face_width),
                quantity: actuator.stage.planets,
                material: "as chosen".to_string(),
                unit_mass: None,
                unit_cost: None,
                note: "pressed into the planet, flush; runs on the pin".to_string(),
            },
        },
    ]
}

fn pins(actuator: &Actuator) -> Item {
    let planet = &actuator.planet;
    Item {
        kind: Kind::Pin,
        name: "planet pin".to_string(),
        designation: format!("ISO 8734 {} x {}", planet.pin_diameter, planet.pin_length),
        quantity: actuator.stage.planets,
        material: "hardened steel".to_string(),
        unit_mass: Some(planet.pin_mass()),
        unit_cost: None,
        note: "pressed into the carrier, slips into the back plate".to_string(),
    }
}

/// The screws of one joint; none for a joint whose screws belong to the machine.
fn screws(actuator: &Actuator, joint: &Bolting) -> Option<Item> {
    if joint.joint == Joint::Machine {
        return None;
    }
    let note = match joint.joint {
        Joint::Output => format!("{}; length for a 6 mm link, choose to suit yours", joint.head.head_name()),
        _ => joint.head.head_name().to_string(),
    };
    let tighten = tightening(actuator, joint)
        .map_or(String::new(), |found| format!("; tighten to {:.2} N m", found.torque * 1e-3));
    Some(Item {
        kind: Kind::Fastener,
        name: format!("{} screw", place(joint.joint)),
        designation: format!("{} {} x {}", joint.head.number(), joint.thread, joint.length),
        quantity: joint.count,
        material: format!("steel {}", class(&actuator.design, joint.joint).as_str()),
        unit_mass: tables::screw_mass(joint.head, joint.thread, joint.length),
        unit_cost: None,
        note: note + &tighten,
    })
}

/// Of the screws and inserts of some joints \[kg\], as the lines add up.
pub fn fasteners_mass<'a>(joints: impl Iterator<Item = &'a Bolting>) -> f64 {
    let each = |joint: &Bolting| {
        let screw = match joint.joint {
            Joint::Machine => 0.0,
            _ => tables::screw_mass(joint.head, joint.thread, joint.length).unwrap_or(0.0),
        };
        let insert = match &joint.anchor {
            Anchor::Insert(insert) | Anchor::Outside(insert) => insert.mass(),
            Anchor::Thread => 0.0,
        };
        f64::from(joint.count) * (screw + insert)
    };
    joints.map(each).sum()
}

/// Inserts, alike ones together.
fn inserts(actuator: &Actuator) -> Vec<Item> {
    let mut lines: Vec<Item> = Vec::new();
    for joint in actuator.joints.iter() {
        let (Anchor::Insert(insert) | Anchor::Outside(insert)) = &joint.anchor else { continue };
        let designation = insert_designation(insert);
        match lines.iter_mut().find(|line| line.designation == designation) {
            Some(line) => {
                line.quantity += joint.count;
                line.note = format!("{}, {} {}", line.note, joint.count, place(joint.joint));
            }
            None => lines.push(Item {
                kind: Kind::Insert,
                name: "heat-set insert".to_string(),
                designation,
                quantity: joint.count,
                material: "brass".to_string(),
                unit_mass: Some(insert.mass()),
                unit_cost: None,
                note: format!("{} {}", joint.count, place(joint.joint)),
            }),
        }
    }
    lines
}

fn insert_designation(insert: &tables::Insert) -> String {
    format!("heat-set {} x {}, outside {}", insert.thread, insert.length, insert.outside)
}

impl BillOfMaterials {
    /// Item number of a bought body, as the table counts; none for what isn't on the list.
    pub fn number_of(&self, actuator: &Actuator, body: &crate::bought::Bought) -> Option<usize> {
        let joint = body.joint.and_then(|name| actuator.joints.iter().find(|joint| joint.joint == name));
        let is_it = |item: &Item| match (body.kind, joint) {
            (Kind::Fastener, Some(joint)) => item.name == format!("{} screw", place(joint.joint)),
            (
                Kind::Insert,
                Some(Bolting { anchor: Anchor::Insert(insert) | Anchor::Outside(insert), .. }),
            ) => item.designation == insert_designation(insert),
            (Kind::Bearing, _) => body.name.starts_with(&item.name),
            (Kind::Gear, _) => item.name == body.name,
            (Kind::Fastener | Kind::Insert, _) => false,
            _ => true,
        };
        self.items.iter().position(|item| item.kind == body.kind && is_it(item)).map(|index| index + 1)
    }

    /// Item number of a printed part.
    pub fn number_of_part(&self, name: crate::design::PartName) -> Option<usize> {
        self.items
            .iter()
            .position(|item| item.kind == Kind::Printed && item.name == name.as_str())
            .map(|index| index + 1)
    }
}

/// Where a joint is, in words.
pub fn place(joint: Joint) -> &'static str {
    match joint {
        Joint::Machine => "machine",
        Joint::StatorMount => "stator mount",
        Joint::Service => "service joint",
        Joint::MotorToMount => "motor to mount",
        Joint::AdapterToRotor => "adapter to rotor",
        Joint::Sun => "sun",
        Joint::Keeper => "keeper",
        Joint::Pillars => "pillar",
        Joint::ClampRing => "clamp ring",
        Joint::Output => "output",
        Joint::RingInsert => "ring insert",
        Joint::Board => "board",
    }
}
