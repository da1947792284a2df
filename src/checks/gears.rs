//! The gears: geometry, strength, play.

use super::Check;
use super::outcome::Outcome;
use crate::design::GearSource;
use crate::design::PartName;
use crate::gears::Stage;
use crate::product::Product;
use crate::ratings::planet_bearing;
use crate::ratings::tooth_root::ContactRatios;
use crate::ratings::tooth_root::Edition;
use crate::ratings::tooth_root::Method;
use crate::ratings::tooth_root::NotApplicable;
use crate::ratings::tooth_root::ToothRoot;
use crate::ratings::tooth_root_estimate;

pub static CHECKS: &[Check] = &[
    Check {
        id: "contact-ratio",
        title: "Contact ratio, transverse plus overlap, of the poorer mesh",
        unit: "",
        formula: "eps = eps_alpha + eps_beta",
        symbols: "eps_alpha transverse contact ratio\neps_beta = b sin(beta) / (pi mn)",
        clause: "ISO 21771:2007, 5.4",
        range: "any involute pair",
        not_covered: "tip relief, deflection",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: |made| {
            let stage = &made.actuator.stage;
            let poorer = f64::min(stage.contact_ratio_sun, stage.contact_ratio_ring) + stage.overlap_ratio;
            Outcome::at_least(poorer, 1.2).remedy("Widen the face or raise the helix angle.")
        },
    },
    Check {
        id: "module",
        title: "Module against what prints",
        unit: "mm",
        formula: "mn >= 0.8",
        symbols: "mn normal module, mm",
        clause: "common practice, no source",
        range: "0.4 mm nozzle",
        not_covered: "resin and sintered prints",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: |made| {
            Outcome::at_least(made.actuator.design.gearset.normal_module, 0.8)
                .remedy("Buy the gears, or a module of 0.8 and more.")
        },
    },
    Check {
        id: "planet-root",
        title: "Bending at the printed planet's tooth root at peak",
        unit: "MPa",
        formula: "sigma_F0 = Ft / (b mn) YF YS Ybeta",
        symbols: "Ft tangential force with load sharing, N\nb face width, mm\nmn normal module, mm\nYF form factor, load at the outer point of single contact\nYS stress correction at the fillet\nYbeta helix factor",
        clause: "ISO 6336-3:2006, method B (formulas from memory), the worse of both meshes; Lewis beside it (Y from Shigley, table 14-2, from memory)",
        range: "helix to 30 degrees, virtual contact ratio 1 to 2.5, qs 1 to 8; KA KV KFbeta KFalpha YB taken as 1 beyond load sharing; band 0.7 to 1.4",
        not_covered: "dynamics, uneven load over the face, thin rims, layers, temperature, both-way bending of the idler",
        parts: &[PartName::Planet],
        run: planet_root,
    },
    Check {
        id: "output-backlash",
        title: "Backlash at the output",
        unit: "deg",
        formula: "phi = (js + jr) / (2 a), equal pitch radii",
        symbols: "js, jr play of the meshes at the pitch circle, mm\na centre distance, mm",
        clause: "geometry; nominal, before tolerances",
        range: "sun held",
        not_covered: "print bias, centre distance, heat, bearing play",
        parts: &[PartName::Planet],
        run: |made| match made.actuator.design.limits.output_backlash {
            Some(limit) => {
                Outcome::at_most(made.actuator.stage.output_backlash.to_degrees(), limit.to_degrees())
                    .remedy("Ask for less backlash per mesh, or a larger stage.")
            }
            None => Outcome::not_applicable("No limit is set."),
        },
    },
];

fn planet_root(made: &Product) -> Outcome {
    let (design, stage) = (&made.actuator.design, &made.actuator.stage);
    if design.gearset.planet_made == GearSource::Buy {
        return Outcome::not_applicable("Bought planets: the maker's rating decides.");
    }
    let force = planet_bearing::tangential_force(stage, made.actuator.torques.sun);
    let stress = match planet_root_stress(stage, force) {
        Ok(stress) => stress,
        Err(reason) => return Outcome::not_applicable(format!("No root stress: {reason}.")),
    };
    let gearset = &design.gearset;
    let lewis = tooth_root_estimate::root_stress(
        force,
        gearset.face_width,
        gearset.normal_module,
        stage.planet.teeth,
        gearset.helix_angle,
    );
    let lewis = lewis.map_or(String::new(), |lewis| format!(" By Lewis {lewis:.1} MPa."));
    Outcome::at_most(stress, design.limits.printed_root_stress)
        .remark(format!("{force:.0} N a mesh.{lewis}"))
        .remedy("Buy the planets, widen the face, or lower the peak torque.")
}

/// Nominal, of the mesh that stresses the planet more; the 2006 edition gives a helical gear the higher stress.
fn planet_root_stress(stage: &Stage, force: f64) -> Result<f64, NotApplicable> {
    let in_mesh = |transverse| {
        let contact = ContactRatios { transverse, overlap: stage.overlap_ratio };
        let root = ToothRoot::of(&stage.planet, contact, Method::B(Edition::Of2006))?;
        Ok(root.nominal_stress(force, stage.face_width, stage.planet.normal_module))
    };
    Ok(f64::max(in_mesh(stage.contact_ratio_sun)?, in_mesh(stage.contact_ratio_ring)?))
}
