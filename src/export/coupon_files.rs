//! All files of one `coupons`, into a folder: test prints, the sheet, the file to note findings in.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;

use serde_json::{Value, json};

use super::stl;
use crate::coupons::{self, Coupon, CouponError, CouponFault, Place, sheet, template};
use crate::design::Design;
use crate::geometry::{Mesh, ShapeError};
use crate::layout::Actuator;
use crate::parts::PartFault;

/// The file by which a folder of coupons is known.
pub const MARK: &str = "coupons.json";
/// The file that findings are noted in.
pub const FOUND: &str = "found.toml";

/// One plate of a coupon.
struct Plate {
    file: String,
    mesh: Mesh,
    /// Exact \[mm3\].
    volume: f64,
}

/// Coupons with their triangles: a file a plate.
pub struct CouponFiles {
    coupons: Vec<Coupon>,
    files: Vec<Vec<Plate>>,
    /// Each coupon's mass \[g\] and rough time \[min\].
    weights: Vec<[f64; 2]>,
}

impl CouponFiles {
    /// The coupons of an actuator with their triangles.
    ///
    /// # Errors
    /// Every coupon that has no shape, or no place on the bed.
    pub fn of(actuator: &Actuator) -> Result<CouponFiles, Vec<CouponError>> {
        let coupons = coupons::all(actuator)?;
        let mut made = CouponFiles { coupons: Vec::new(), files: Vec::new(), weights: Vec::new() };
        let mut errors = Vec::new();
        for coupon in coupons {
            match files_of(&coupon, &actuator.design) {
                Ok((plates, weight)) => {
                    made.files.push(plates);
                    made.weights.push(weight);
                    made.coupons.push(coupon);
                }
                Err(source) => errors.push(CouponError { coupon: coupon.name, source }),
            }
        }
        if errors.is_empty() { Ok(made) } else { Err(errors) }
    }

    /// Writes them into an empty folder.
    ///
    /// # Errors
    /// What the system says.
    pub fn write(&self, folder: &Path, actuator: &Actuator) -> io::Result<()> {
        let parts = folder.join("parts");
        fs::create_dir(&parts)?;
        for plate in self.files.iter().flatten() {
            let mut out = BufWriter::new(File::create(parts.join(&plate.file))?);
            stl::write(&plate.mesh, &mut out)?;
            out.flush()?;
        }
        let names: Vec<Vec<String>> = self
            .files
            .iter()
            .map(|plates| plates.iter().map(|plate| format!("parts/{}", plate.file)).collect())
            .collect();
        let sheet = sheet::markdown(actuator, &self.coupons, &names).map_err(io::Error::other)?;
        fs::write(folder.join("coupons.md"), sheet)?;
        let design = &actuator.design;
        fs::write(folder.join(FOUND), template::found_file(&design.name, &self.coupons))?;
        let tree = json!({ "design": design.name, "coupons": self.tree(design) });
        let text = serde_json::to_string_pretty(&tree).map_err(io::Error::other)?;
        fs::write(folder.join(MARK), text + "\n")
    }

    /// As in `coupons.json`.
    pub fn tree(&self, design: &Design) -> Vec<Value> {
        let rows = self.coupons.iter().zip(&self.files).zip(&self.weights);
        rows.map(|((coupon, files), [mass, minutes])| {
            let steps: Vec<String> =
                coupon.steps.iter().map(|step| coupons::values::step(coupon.kind, *step)).collect();
            let files: Vec<Value> = files
                .iter()
                .map(|plate| {
                    json!({
                        "file": format!("parts/{}", plate.file),
                        "volume_mm3": plate.volume,
                        "size_mm": plate.mesh.size(),
                        "triangles": plate.mesh.triangles.len(),
                    })
                })
                .collect();
            json!({
                "name": coupon.name,
                "title": coupon.title,
                "print_as": coupon.part.as_str(),
                "material": design.settings(coupon.part).material.name,
                "steps": steps,
                "bodies": coupon.pieces.len(),
                "mass_g": mass,
                "print_time_min": minutes,
                "files": files,
            })
        })
        .collect()
    }

    /// A line a coupon, and what to do next.
    pub fn summary(&self, design: &Design, folder: &str) -> String {
        let mut text = format!("Coupons of {} in {folder}\n\n", design.name);
        for (coupon, [mass, minutes]) in self.coupons.iter().zip(&self.weights) {
            text.push_str(&format!(
                "  {:<16} {:>5.1} g {minutes:>4.0} min  {}\n",
                coupon.name, mass, coupon.title
            ));
        }
        let total = |index: usize| self.weights.iter().map(|weight| weight[index]).sum::<f64>();
        text.push_str(&format!(
            "  {:<16} {:>5.1} g {:>4.0} min  (times are rough)\n\nWhat to try and note: {folder}/coupons.md. Then fill in \
             {folder}/{FOUND} and run hubwright coupons DESIGN --found {folder}/{FOUND}\n",
            "all",
            total(0),
            total(1)
        ));
        text
    }
}

/// A coupon's plates, its mass \[g\] and rough time \[min\].
fn files_of(coupon: &Coupon, design: &Design) -> Result<(Vec<Plate>, [f64; 2]), CouponFault> {
    let plates = coupon.plates(design.printer.bed).ok_or(CouponFault::LargerThanBed)?;
    let weight = [
        coupon.mass(design).map_err(PartFault::from)? * 1e3,
        coupon.minutes(design).map_err(PartFault::from)?,
    ];
    Ok((meshed(coupon, &plates).map_err(PartFault::from)?, weight))
}

/// A file a plate, numbered where there are several.
fn meshed(coupon: &Coupon, plates: &[Vec<Place>]) -> Result<Vec<Plate>, ShapeError> {
    let file = |number: usize| match plates.len() {
        1 => format!("{}.stl", coupon.name),
        _ => format!("{}-{number}.stl", coupon.name),
    };
    (1..)
        .zip(plates)
        .map(|(number, plate)| {
            let pieces = plate.iter().filter_map(|place| coupon.pieces.get(place.piece));
            let volume = pieces.map(|piece| piece.stack.volume()).sum::<Result<f64, _>>()?;
            Ok(Plate { file: file(number), mesh: coupon.mesh(plate)?, volume })
        })
        .collect()
}
