//! What has to be bought on both sides: alike things together, wherever they sit.

use crate::bom::{Item, Kind};
use crate::design::Motor;
use crate::product::Product;

/// A thing that is bought, and how many each design takes.
#[derive(Clone, Debug, PartialEq)]
pub struct BillRow {
    pub kind: Kind,
    pub designation: String,
    pub material: String,
    /// What it is there for, on each side.
    pub uses: [Vec<String>; 2],
    pub quantity: [u32; 2],
    /// Of one \[kg\].
    pub unit_mass: Option<f64>,
    pub unit_cost: Option<f64>,
}

impl BillRow {
    pub fn differs(&self) -> bool {
        self.quantity[0] != self.quantity[1]
    }

    /// To buy for the second beyond what the first has.
    pub fn more(&self) -> u32 {
        self.quantity[1].saturating_sub(self.quantity[0])
    }

    /// Left over from the first.
    pub fn over(&self) -> u32 {
        self.quantity[0].saturating_sub(self.quantity[1])
    }
}

/// Rows in the order of the first bill, then what the second alone has.
pub fn rows(sides: [&Product; 2]) -> Vec<BillRow> {
    let mut rows: Vec<BillRow> = Vec::new();
    for (side, product) in sides.into_iter().enumerate() {
        for item in product.bom.items.iter().filter(|item| item.kind != Kind::Printed) {
            let alike = |row: &&mut BillRow| {
                (row.quantity[1 - side] == 0 || is_same_thing(sides, item.kind))
                    && row.kind == item.kind
                    && row.designation == item.designation
                    && row.material == item.material
            };
            match rows.iter_mut().find(alike) {
                Some(row) => row.add(side, item),
                None => {
                    let mut row = BillRow {
                        kind: item.kind,
                        designation: item.designation.clone(),
                        material: item.material.clone(),
                        uses: [Vec::new(), Vec::new()],
                        quantity: [0, 0],
                        unit_mass: item.unit_mass,
                        unit_cost: item.unit_cost,
                    };
                    row.add(side, item);
                    rows.push(row);
                }
            }
        }
    }
    rows
}

/// Whether things of one designation may count as one. A motor's or a board's name is free text, often none: their bodies must agree
/// too. Electrical data needn't: they may have been measured.
fn is_same_thing(sides: [&Product; 2], kind: Kind) -> bool {
    let [first, second] = sides.map(|side| &side.actuator.design);
    let body = |motor: &Motor| {
        let sizes =
            [motor.outer_diameter, motor.height, motor.shaft_diameter, motor.shaft_extension, motor.mass];
        (sizes, motor.pole_pairs, motor.stator_bolts.clone(), motor.rotor_bolts.clone())
    };
    match kind {
        Kind::Motor => body(&first.motor) == body(&second.motor),
        Kind::Controller => first.controller.board == second.controller.board,
        _ => true,
    }
}

impl BillRow {
    fn add(&mut self, side: usize, item: &Item) {
        if let (Some(quantity), Some(uses)) = (self.quantity.get_mut(side), self.uses.get_mut(side)) {
            *quantity += item.quantity;
            uses.push(item.name.clone());
        }
    }
}
