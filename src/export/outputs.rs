//! All files of one `make`, into a folder.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;

use maud::Markup;
use rayon::prelude::*;
use serde_json::Value;

use super::{
    assembly_sheet, drive_sheet, gear_sheets, glb, mesh_svg, plates_svg, print_sheet, report, step_files,
    stl, threemf,
};
use crate::book::{self, Drawing};
use crate::drawing::{assembly, part};
use crate::drive_sheet::DriveSheet;
use crate::gear_sheet::GearSheet;
use crate::layout::Actuator;
use crate::parts::Part;
use crate::pipeline::{Made, Solids};
use crate::plates::{arrange, prints};

/// Writes parts and plates to print, parts and assembly for CAD, bill of materials, gear sheets, drive sheet, drawings, build
/// book and report. `input` is the resolved design, for the report; `changed` the book's chapter on an earlier design, if there is one.
pub fn write(
    folder: &Path,
    made: &Made,
    solids: &Solids,
    input: Value,
    changed: Option<Markup>,
) -> io::Result<()> {
    let actuator = &made.product.actuator;
    fs::create_dir(folder.join("parts"))?;
    let ((pages, drawings), (meshes, steps)) = rayon::join(
        || {
            rayon::join(
                || write_pages(folder, made, solids, input, changed),
                || write_part_drawings(folder, actuator, &solids.nominal),
            )
        },
        || {
            rayon::join(
                || write_meshes(folder, made, solids),
                || step_files::write(folder, actuator, &solids.nominal, &solids.bought),
            )
        },
    );
    pages.and(drawings).and(meshes).and(steps)
}

/// Everything to read.
fn write_pages(
    folder: &Path,
    made: &Made,
    solids: &Solids,
    input: Value,
    changed: Option<Markup>,
) -> io::Result<()> {
    let product = &made.product;
    let actuator = &product.actuator;
    fs::write(folder.join("printing.md"), print_sheet::markdown(product))?;
    fs::write(folder.join("assembly.md"), assembly_sheet::markdown(product))?;
    fs::write(folder.join("bom.csv"), product.bom.csv().map_err(io::Error::other)?)?;
    let gears = gear_sheets::markdown(&actuator.design.name, &GearSheet::all(actuator));
    fs::write(folder.join("gears.md"), gears)?;
    fs::write(folder.join("drive.md"), drive_sheet::markdown(&DriveSheet::of(product)))?;
    let mesh_drawing = mesh_svg::mesh_svg(actuator).map_err(io::Error::other)?;
    let section = assembly::section_svg(actuator, &product.bom, &solids.nominal, &solids.bought)
        .map_err(io::Error::other)?;
    let drawings = [Drawing::section(&section), Drawing::mesh(&mesh_drawing)];
    fs::write(folder.join("book.html"), book::book(made, solids, &drawings, changed))?;
    fs::write(folder.join("section.svg"), section)?;
    fs::write(folder.join("mesh.svg"), mesh_drawing)?;
    let report = report::report(made, solids, input);
    let mut text = serde_json::to_string_pretty(&report).map_err(io::Error::other)?;
    text.push('\n');
    fs::write(folder.join("report.json"), text)
}

/// A sheet a printed part.
fn write_part_drawings(folder: &Path, actuator: &Actuator, parts: &[Part]) -> io::Result<()> {
    let drawings = folder.join("drawings");
    fs::create_dir(&drawings)?;
    parts.par_iter().try_for_each(|one| {
        let sheet = part::part_svg(actuator, one).map_err(io::Error::other)?;
        fs::write(drawings.join(format!("{}.svg", one.name.as_str())), sheet)
    })
}

/// Everything made of triangles: STL of every part, 3MF of every plate and their plan, the assembly to look at.
fn write_meshes(folder: &Path, made: &Made, solids: &Solids) -> io::Result<()> {
    let product = &made.product;
    let design = &product.actuator.design;
    product.parts.par_iter().zip(&solids.meshes).try_for_each(|(part, mesh)| {
        let path = folder.join("parts").join(format!("{}.stl", part.part.name.as_str()));
        let mut out = BufWriter::new(File::create(path)?);
        stl::write(mesh, &mut out)?;
        out.flush()
    })?;
    fs::write(folder.join("assembly.glb"), glb::glb(&product.actuator, &solids.scene))?;
    let prints = prints(product);
    let (plates, _) = arrange(&prints, design.printer.bed);
    plates.par_iter().enumerate().try_for_each(|(index, plate)| {
        let title = format!("{}, plate {}", design.name, index + 1);
        let bytes = threemf::plate(&title, plate, &prints, &solids.meshes).map_err(io::Error::other)?;
        fs::write(folder.join(format!("plate-{}.3mf", index + 1)), bytes)
    })?;
    let plan = plates_svg::plates_svg(&design.name, 1, &plates, &prints, design.printer.bed);
    fs::write(folder.join("plates.svg"), plan)
}
