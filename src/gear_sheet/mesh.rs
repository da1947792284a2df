//! What a gear does with its mate.

use super::row::{Row, Section, Value};
use crate::gears::{Gear, Member, Mesh, MeshKind, Stage, circumferential_play};

/// One of the stage's two meshes: its gears (first the inner), and the mesh.
struct Side<'a> {
    gears: [&'a Gear; 2],
    mesh: &'a Mesh,
    /// Which of the two gears the sheet is for.
    own: usize,
}

/// The meshes `member` has, each a section.
pub fn sections(stage: &Stage, member: Member) -> Vec<Section> {
    let sun_mesh = |own| Side { gears: [&stage.sun, &stage.planet], mesh: &stage.sun_mesh, own };
    let ring_mesh = |own| Side { gears: [&stage.planet, &stage.ring], mesh: &stage.ring_mesh, own };
    match member {
        Member::Sun => vec![section("Mesh with the planet", "mesh_with_planet", stage, &sun_mesh(0))],
        Member::Planet => vec![
            section("Mesh with the sun", "mesh_with_sun", stage, &sun_mesh(1)),
            section("Mesh with the ring", "mesh_with_ring", stage, &ring_mesh(0)),
        ],
        Member::Ring => vec![section("Mesh with the planet", "mesh_with_planet", stage, &ring_mesh(1))],
    }
}

fn section(title: &'static str, key: &'static str, stage: &Stage, side: &Side) -> Section {
    let mesh = side.mesh;
    let [first, second] = side.gears;
    let (pitch_diameter, mate) =
        if side.own == 0 { (mesh.pitch_diameters[0], second) } else { (mesh.pitch_diameters[1], first) };
    let play = circumferential_play(side.gears, mesh.pitch_diameters);
    let normal_play = play * libm::cos(mesh.working_pressure_angle) * libm::cos(first.base_helix_angle);
    let number = |key, label, symbol, value| Row::new(key, label, symbol, Value::Number(value));
    let length = |key, label, symbol, value| Row::new(key, label, symbol, Value::Length(value));
    let rows = vec![
        Row::new("mate_teeth", "Teeth of the mate", "", Value::Count(mate.teeth)),
        length("centre_distance", "Centre distance", "a", stage.centre_distance),
        Row::new(
            "working_pressure_angle",
            "Working transverse pressure angle",
            "alpha_wt",
            Value::Angle(mesh.working_pressure_angle),
        ),
        length("working_pitch_diameter", "Working pitch diameter", "dw", pitch_diameter),
        length(
            "active_root_diameter",
            "Deepest contact on the flank, nominal",
            "dNf",
            active_root_diameter(stage.centre_distance, side),
        ),
        number("transverse_contact_ratio", "Transverse contact ratio", "eps_alpha", mesh.contact_ratio),
        number("overlap_ratio", "Overlap ratio", "eps_beta", stage.overlap_ratio),
        number(
            "total_contact_ratio",
            "Total contact ratio",
            "eps_gamma",
            mesh.contact_ratio + stage.overlap_ratio,
        ),
        number(
            "specific_sliding",
            "Largest specific sliding on this flank",
            "zeta",
            mesh.specific_sliding[side.own],
        ),
        length("backlash", "Backlash, circumferential at the working pitch circle, nominal", "jwt", play),
        length("normal_backlash", "Backlash, normal, nominal", "jbn", normal_play),
    ];
    Section { title, key: Some(key), rows }
}

/// Contact runs from `path_start` to `path_end` along the line of action, counted from the first gear's tangent point.
fn active_root_diameter(centre_distance: f64, side: &Side) -> f64 {
    let mesh = side.mesh;
    let [first, second] = side.gears;
    let line = centre_distance * libm::sin(mesh.working_pressure_angle);
    2.0 * match (side.own, mesh.kind) {
        (0, _) => first.radius_at(mesh.path_start),
        (_, MeshKind::External) => second.radius_at(line - mesh.path_end),
        (_, MeshKind::Internal) => second.radius_at(line + mesh.path_end),
    }
}
