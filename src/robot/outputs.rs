//! The robot's folder: a design file a joint, shopping list, plates, page, and everything as JSON.

use std::fs;
use std::io;
use std::path::Path;

use rayon::prelude::*;
use serde_json::{Value, json};

use super::joint::Robot;
use super::made::MadeJoint;
use super::page::{Sheet, page};
use super::plates::{csv, numbered, shops};
use super::shopping::shopping;
use super::size::Sized;
use crate::export::{plates_svg, threemf};

/// The file by which the folder is known.
pub const MARK: &str = "robot.json";

/// Writes all of it.
///
/// # Errors
/// What the system says.
pub fn write(
    folder: &Path,
    robot: &Robot,
    sized: &Sized,
    joints: &[MadeJoint],
    mut tree: Value,
) -> io::Result<()> {
    fs::create_dir(folder.join("joints"))?;
    for joint in joints {
        fs::write(folder.join("joints").join(format!("{}.toml", joint.design)), &joint.text)?;
    }
    let list = shopping(joints);
    fs::write(folder.join("shopping.csv"), list.csv().map_err(io::Error::other)?)?;
    let shops = shops(joints);
    fs::write(folder.join("plates.csv"), csv(&shops).map_err(io::Error::other)?)?;
    let mut plans = Vec::new();
    let mut first = 1;
    for (index, shop) in shops.iter().enumerate() {
        let plan = plates_svg::plates_svg(&robot.name, first, &shop.plates, &shop.prints, shop.printer.bed);
        // One printer as a rule.
        let name = if index == 0 { "plates.svg".to_string() } else { format!("plates-{}.svg", index + 1) };
        fs::write(folder.join(name), &plan)?;
        plans.push(plan);
        first += shop.plates.len();
    }
    let plates: Vec<_> = numbered(&shops).collect();
    plates.par_iter().try_for_each(|(number, (shop, plate))| {
        let title = format!("{}, plate {number}", robot.name);
        let bytes = threemf::plate(&title, plate, &shop.prints, &shop.meshes).map_err(io::Error::other)?;
        fs::write(folder.join(format!("plate-{number}.3mf")), bytes)
    })?;
    let sheet = Sheet { robot, sized, joints, list: &list, shops: &shops, plans: &plans };
    fs::write(folder.join("robot.html"), page(&sheet))?;
    if let Value::Object(map) = &mut tree {
        let rows = plates.iter().map(|(number, (shop, plate))| {
            let totals = shop.totals(plate);
            json!({ "plate": number, "file": format!("plate-{number}.3mf"), "printer": shop.printer.name, "material": plate.material,
                    "layer_height_mm": plate.layer_height, "pieces": plate.pieces.len(), "mass_g": totals.mass * 1e3, "print_time_s": totals.time })
        });
        map.insert("plates".into(), rows.collect());
    }
    let mut text = serde_json::to_string_pretty(&tree).map_err(io::Error::other)?;
    text.push('\n');
    fs::write(folder.join(MARK), text)
}
