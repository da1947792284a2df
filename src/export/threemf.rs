//! 3MF of one plate, by the core specification 1.3 of the 3MF Consortium: parts as objects with name and material, a build
//! item for each copy, where it lies on the bed. Vertices are those of the STL files.

use std::borrow::Borrow;
use std::fmt::Write as _;
use std::io::{Cursor, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use crate::geometry::Mesh;
use crate::plates::{Piece, Plate, Print};

const CONTENT_TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
"#;
const RELATIONSHIPS: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
"#;
/// The one table of materials.
const MATERIALS: u32 = 1;
/// Objects are numbered from here.
const FIRST_OBJECT: usize = 2;
/// Shown by viewers; a plate has one material, so that one colour says all there is \[sRGB\].
const COLOUR: &str = "#5B8A72FF";

/// The file's bytes. `meshes` are those of the prints, in their order.
///
/// # Errors
/// None that a buffer in memory can have; the archive's own are passed on.
pub fn plate<M: Borrow<Mesh>>(
    title: &str,
    plate: &Plate,
    prints: &[Print],
    meshes: &[M],
) -> zip::result::ZipResult<Vec<u8>> {
    // No clock: the archive's earliest date.
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default());
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in [
        ("[Content_Types].xml", CONTENT_TYPES),
        ("_rels/.rels", RELATIONSHIPS),
        ("3D/3dmodel.model", &model(title, plate, prints, meshes)),
    ] {
        archive.start_file(name, options)?;
        archive.write_all(text.as_bytes())?;
    }
    Ok(archive.finish()?.into_inner())
}

fn model<M: Borrow<Mesh>>(title: &str, plate: &Plate, prints: &[Print], meshes: &[M]) -> String {
    let mut text = String::new();
    // Writing to a String can't fail.
    let _ = write_model(&mut text, title, plate, prints, meshes);
    text
}

fn write_model<M: Borrow<Mesh>>(
    out: &mut String,
    title: &str,
    plate: &Plate,
    prints: &[Print],
    meshes: &[M],
) -> std::fmt::Result {
    let mut indices: Vec<usize> = plate.pieces.iter().map(|piece| piece.index).collect();
    indices.sort_unstable();
    indices.dedup();
    writeln!(out, r#"<?xml version="1.0" encoding="UTF-8"?>"#)?;
    writeln!(
        out,
        r#"<model unit="millimeter" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">"#
    )?;
    writeln!(out, r#"<metadata name="Title">{}</metadata>"#, escaped(title))?;
    writeln!(
        out,
        r#"<metadata name="Description">Prints in {}, layers {} mm.</metadata>"#,
        escaped(&plate.material),
        plate.layer_height
    )?;
    writeln!(out, r#"<metadata name="Application">hubwright {}</metadata>"#, env!("CARGO_PKG_VERSION"))?;
    writeln!(
        out,
        r#"<resources><basematerials id="{MATERIALS}"><base name="{}" displaycolor="{COLOUR}"/></basematerials>"#,
        escaped(&plate.material)
    )?;
    for (number, &index) in indices.iter().enumerate() {
        // The plate was made of these prints, and each has its mesh.
        if let (Some(print), Some(mesh)) = (prints.get(index), meshes.get(index)) {
            object(out, FIRST_OBJECT + number, &print.name, mesh.borrow())?;
        }
    }
    writeln!(out, "</resources>")?;
    writeln!(out, "<build>")?;
    for piece in &plate.pieces {
        let number = indices.iter().position(|&index| index == piece.index).unwrap_or(0);
        let name = prints.get(piece.index).map_or("", |print| print.name.as_str());
        item(out, FIRST_OBJECT + number, name, piece)?;
    }
    writeln!(out, "</build>")?;
    writeln!(out, "</model>")
}

fn object(out: &mut String, id: usize, name: &str, mesh: &Mesh) -> std::fmt::Result {
    writeln!(
        out,
        r#"<object id="{id}" type="model" name="{name}" partnumber="{name}" pid="{MATERIALS}" pindex="0"><mesh><vertices>"#
    )?;
    for [x, y, z] in &mesh.vertices {
        // Snapped to 32 bits: their shortest digits say them exactly.
        writeln!(out, r#"<vertex x="{}" y="{}" z="{}"/>"#, *x as f32, *y as f32, *z as f32)?;
    }
    writeln!(out, "</vertices><triangles>")?;
    for [a, b, c] in &mesh.triangles {
        writeln!(out, r#"<triangle v1="{a}" v2="{b}" v3="{c}"/>"#)?;
    }
    writeln!(out, "</triangles></mesh></object>")
}

fn item(out: &mut String, object: usize, name: &str, piece: &Piece) -> std::fmt::Result {
    let turn = if piece.turned { "0 1 0 -1 0 0 0 0 1" } else { "1 0 0 0 1 0 0 0 1" };
    // A micrometre is finer than any printer's step.
    let [x, y] = piece.shift.map(|shift| (shift * 1e3).round() / 1e3);
    writeln!(
        out,
        r#"<item objectid="{object}" partnumber="{name}-{}" transform="{turn} {x} {y} 0"/>"#,
        piece.copy + 1
    )
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
