//! One part of a demo design to an STL file: `one-part NAME OUT.stl [SLABS.json]`. The slabs, for other kernels to build
//! the same shape from.

#[path = "../support/mod.rs"]
mod support;

use std::io::BufWriter;

use hubwright::design::PartName;
use hubwright::geometry::{Curve, Loop, Stack, Wall};
use hubwright::{export, layout, parts};
use serde_json::{Value, json};

fn outline(one: &Loop) -> Value {
    let segments = one.0.iter().map(|segment| {
        let ends = json!({ "from": [segment.from.x, segment.from.y], "to": [segment.to.x, segment.to.y] });
        match segment.curve {
            Curve::Line => ends,
            Curve::Arc { centre, ccw, .. } => {
                let mut arc = ends;
                arc["centre"] = json!([centre.x, centre.y]);
                arc["ccw"] = json!(ccw);
                arc
            }
        }
    });
    Value::Array(segments.collect())
}

fn slabs(stack: &Stack) -> Value {
    let slabs = stack.slabs.iter().map(|slab| {
        let loops = slab.loops.iter().map(|one| {
            let (wall, per_mm) = match one.wall {
                Wall::Straight => ("straight", 0.0),
                Wall::Tapered => ("tapered", 0.0),
                Wall::Twisted { per_mm } => ("twisted", per_mm),
            };
            let area = one.bottom.signed_area();
            json!({ "wall": wall, "per_mm": per_mm, "area": area, "bottom": outline(&one.bottom), "top": outline(&one.top) })
        });
        json!({ "z": slab.z, "loops": loops.collect::<Vec<_>>() })
    });
    json!({ "slabs": slabs.collect::<Vec<_>>() })
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [name, out, rest @ ..] = arguments.as_slice() else {
        return Err("usage: one-part NAME OUT.stl [SLABS.json]".into());
    };
    let name = PartName::ALL.into_iter().find(|part| part.as_str() == name).ok_or("no such part")?;
    let actuator =
        layout::lay_out(&support::demo(support::SHOULDER)).map_err(|faults| format!("{faults:?}"))?;
    let part = parts::one(&actuator, name)?.ok_or("this actuator has no such part")?;
    let printed = part.printed();
    let mesh = printed.brep()?.mesh(0.01)?.snapped()?;
    let mut file = BufWriter::new(std::fs::File::create(out)?);
    export::stl::write(&mesh, &mut file)?;
    println!("volume {:.1}", mesh.volume());
    if let Some(path) = rest.first() {
        std::fs::write(path, slabs(&printed).to_string())?;
    }
    Ok(())
}
