//! One plate plan for the whole robot: all printed parts of all joints on as few plates as the packing finds.
//!
//! Parts lie together that print on the same printer in the same material with the same layers.

use super::made::MadeJoint;
use crate::design::Printer;
use crate::geometry::Mesh;
use crate::plates::{Plate, Print, TooLarge, arrange};
use crate::printing::print_time::{PrintTime, print_time};

/// What one printer prints.
pub struct Shop<'a> {
    pub printer: &'a Printer,
    /// Named by joint and part.
    pub prints: Vec<Print<'a>>,
    /// By print.
    pub meshes: Vec<&'a Mesh>,
    /// Of one piece, by print.
    pub times: Vec<PrintTime>,
    pub plates: Vec<Plate>,
    pub too_large: Vec<TooLarge>,
}

/// Filament and time of a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Totals {
    /// \[kg\]
    pub mass: f64,
    /// \[s\]
    pub time: f64,
}

impl Shop<'_> {
    pub fn totals(&self, plate: &Plate) -> Totals {
        let mut totals = Totals { mass: 0.0, time: 0.0 };
        for piece in &plate.pieces {
            // Pieces are of these prints.
            if let (Some(print), Some(time)) = (self.prints.get(piece.index), self.times.get(piece.index)) {
                totals.mass += print.made.mass.mass;
                totals.time += time.time;
            }
        }
        totals
    }

    /// "2 x elbow planet, yaw sun", in the order of the joints.
    pub fn words(&self, plate: &Plate) -> String {
        let counted = self.prints.iter().enumerate().filter_map(|(index, print)| {
            match plate.pieces.iter().filter(|piece| piece.index == index).count() {
                0 => None,
                1 => Some(print.name.clone()),
                count => Some(format!("{count} x {}", print.name)),
            }
        });
        counted.collect::<Vec<_>>().join(", ")
    }
}

/// The plates of all joints, printer by printer.
pub fn shops(joints: &[MadeJoint]) -> Vec<Shop<'_>> {
    let mut shops: Vec<Shop> = Vec::new();
    for joint in joints {
        let design = &joint.made.product.actuator.design;
        let place = shops.iter().position(|shop| *shop.printer == design.printer).unwrap_or_else(|| {
            shops.push(Shop {
                printer: &design.printer,
                prints: Vec::new(),
                meshes: Vec::new(),
                times: Vec::new(),
                plates: Vec::new(),
                too_large: Vec::new(),
            });
            shops.len() - 1
        });
        let shop = &mut shops[place];
        let prints = crate::plates::prints(&joint.made.product);
        shop.times.extend(prints.iter().map(|print| {
            let settings = design.settings(print.made.part.name);
            print_time(&print.made.mass, settings, &design.printer)
        }));
        shop.prints.extend(prints.into_iter().map(|print| Print {
            name: format!("{} {}", joint.name, print.name),
            count: print.count * joint.count,
            ..print
        }));
        shop.meshes.extend(&joint.meshes);
    }
    for shop in &mut shops {
        (shop.plates, shop.too_large) = arrange(&shop.prints, shop.printer.bed);
    }
    shops
}

/// The listing: a line a print on a plate.
///
/// # Errors
/// None that a buffer in memory can have; the writer's own are passed on.
pub fn csv(shops: &[Shop]) -> Result<Vec<u8>, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record([
        "plate",
        "printer",
        "material",
        "layer_height_mm",
        "print",
        "pieces",
        "unit_mass_g",
        "unit_time_s",
    ])?;
    for (number, (shop, plate)) in numbered(shops) {
        for (index, print) in shop.prints.iter().enumerate() {
            let pieces = plate.pieces.iter().filter(|piece| piece.index == index).count();
            let time = shop.times.get(index).map_or(0.0, |time| time.time);
            if pieces > 0 {
                writer.write_record([
                    number.to_string(),
                    shop.printer.name.clone(),
                    plate.material.clone(),
                    plate.layer_height.to_string(),
                    print.name.clone(),
                    pieces.to_string(),
                    format!("{:.2}", print.made.mass.mass * 1e3),
                    format!("{time:.0}"),
                ])?;
            }
        }
    }
    writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))
}

/// All plates, counted through from 1.
pub fn numbered<'a, 'b>(shops: &'b [Shop<'a>]) -> impl Iterator<Item = (usize, (&'b Shop<'a>, &'b Plate))> {
    let plates = shops.iter().flat_map(|shop| shop.plates.iter().map(move |plate| (shop, plate)));
    plates.enumerate().map(|(index, plate)| (index + 1, plate))
}
