//! The gears: geometry, strength, play.

use super::Check;
use super::outcome::Outcome;
use crate::design::{GearSource, PartName, ToothForm};
use crate::gears::Margin;
use crate::product::Product;
use crate::ratings::gear_forces::GearForces;
use crate::ratings::gear_strength::{self, Root, StageRoots};
use crate::tables::{gear_metal, gear_metal_names};

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
        id: "ring-interference",
        title: "Planet in the ring: involute and trochoid interference, the nearer",
        unit: "",
        formula: "involute: z1/z2 >= 1 - tan aa2 / tan aw; trochoid: th1 z1/z2 + inv aw - inv aa2 >= th2",
        symbols: "z1, z2 teeth of planet and ring\naa2 pressure angle at the ring's tip\naw working pressure angle\nth1, th2 angles to where the tip circles cross, rad",
        clause: "SDP/SI, Elements of Metric Gear Technology, T-44 to T-46, equations 5-3 to 5-10",
        range: "tips outside the base circles",
        not_covered: "trimming is only reported: the planets go in along the axis",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: ring_interference,
    },
    Check {
        id: "tooth-tips",
        title: "Thinnest printed tooth tip",
        unit: "mm",
        formula: "san >= line width",
        symbols: "san tooth thickness at the tip circle, normal section, after the backlash, mm",
        clause: "common practice, no source: one line must fit",
        range: "filament prints",
        not_covered: "how tips print at the seam",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: |made| {
            let (design, stage) = (&made.actuator.design, &made.actuator.stage);
            let mut printed = vec![("ring", stage.ring.tip_thickness)];
            if design.gearset.planet_made == GearSource::Print {
                printed.push(("planet", stage.planet.tip_thickness));
            }
            if design.gearset.sun_made == GearSource::Print {
                printed.push(("sun", stage.sun.tip_thickness));
            }
            let thinnest = printed.into_iter().min_by(|a, b| a.1.total_cmp(&b.1));
            let Some((name, thickness)) = thinnest else {
                return Outcome::not_applicable("Nothing is printed.");
            };
            let wanted = design.printer.line_width;
            // Of one shape, thicknesses go with the module.
            let module = design.gearset.normal_module * wanted / thickness;
            Outcome::at_least(thickness, wanted)
                .only_warns()
                .remark(format!("The {name}'s."))
                .remedy(format!("A module of {module:.2} mm, less shift, less backlash, or a finer nozzle."))
        },
    },
    Check {
        id: "overlap",
        title: "Overlap of helical teeth",
        unit: "",
        formula: "eps_beta = b sin(beta) / (pi mn)",
        symbols: "b face width (of one half of a herringbone), mm\nbeta helix angle\nmn normal module, mm",
        clause: "ISO 21771:2007, 5.4.4; 1 and more for quiet running: common practice, no source",
        range: "helical teeth",
        not_covered: "crowning, misalignment",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: |made| {
            let stage = &made.actuator.stage;
            if stage.tooth_form == ToothForm::Straight || stage.sun.helix_angle == 0.0 {
                return Outcome::not_applicable("The teeth are straight.");
            }
            let width = stage.face_width / stage.overlap_ratio;
            Outcome::at_least(stage.overlap_ratio, 1.0)
                .only_warns()
                .remedy(format!("A face width of {width:.1} mm, or more helix."))
        },
    },
    Check {
        id: "sun-root",
        title: "Bending at the bought sun's tooth root at peak",
        unit: "MPa",
        formula: "sigma_F0 = Ft / (b mn) YF YS Ybeta <= sigma_FE,static / SF",
        symbols: "as for planet-root\nsigma_FE,static of the metal, few cycles, MPa\nSF = limits.metal_safety",
        clause: "ISO 6336-3:2006, method B (formulas from memory); limits ISO 6336-5 (from memory)",
        range: "metals of `tables gear-metals`; as for planet-root",
        not_covered: "YRrelT, YdeltarelT, YX taken as 1; keyways and the screw's bore",
        parts: &[],
        run: sun_root,
    },
    Check {
        id: "metal-flank",
        title: "Flank pressure of sun and planet, both bought, at peak",
        unit: "MPa",
        formula: "sigma_H0 = ZH ZE Zeps Zbeta sqrt(Ft / (d1 b) (u + 1) / u) <= sigma_Hlim,static / SF",
        symbols: "Ft tangential force with load sharing, N\nd1 reference diameter of the sun, mm\nu planet teeth over sun teeth\nSF = limits.metal_safety",
        clause: "ISO 6336-2, Zbeta by the 2019 edition (formulas from memory); limits ISO 6336-5 (from memory)",
        range: "metal pairs; helix to 30 degrees, transverse contact ratio 1 to 2.5",
        not_covered: "pitting over life, lubricant, roughness",
        parts: &[],
        run: metal_flank,
    },
    Check {
        id: "ring-root",
        title: "Bending at the printed ring's tooth root at peak",
        unit: "MPa",
        formula: "sigma_F0 = Ft / (b mn) YF YS Ybeta",
        symbols: "as for planet-root; section where the printed fillet's tangent makes 60 degrees with the tooth's middle line",
        clause: "ISO 6336-3:2006, method B on the printed arc (formulas from memory)",
        range: "helix to 30 degrees, virtual contact ratio 1 to 2.5, qs 1 to 8; thick rim; band 0.7 to 1.4",
        not_covered: "as for planet-root; a ring bends one way only",
        parts: &[PartName::RingHousing, PartName::RingInsert],
        run: ring_root,
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
        formula: "phi = (js rp2 + jr rp1) / (a (rp1 + rp2)), most of both meshes",
        symbols: "js, jr most play of the meshes at the pitch circle, mm\nrp1, rp2 pitch radii of the planet in them, a centre distance, mm",
        clause: "geometry; departures as for least-play: common practice, no source",
        range: "sun held",
        not_covered: "wear (see tooth-wear), give of the output bearing",
        parts: &[PartName::Planet],
        run: |made| match made.actuator.design.limits.output_backlash {
            Some(limit) => {
                let nominal = made.actuator.stage.output_backlash;
                let most = made.feel.play.map_or(nominal, |play| play.output[1]);
                Outcome::at_most(most.to_degrees(), limit.to_degrees())
                    .remark(format!("Nominal {:.3} deg.", nominal.to_degrees()))
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
    let roots = StageRoots::of(stage);
    let root = match roots.planet() {
        Ok(root) => root,
        Err(reason) => return Outcome::not_applicable(format!("No root stress: {reason}.")),
    };
    let force = GearForces::of(stage, made.actuator.torques.sun).tangential;
    printed_root(&root, force, design.limits.printed_root_stress)
        .remedy("Buy the planets, widen the face, or lower the peak torque.")
}

fn ring_root(made: &Product) -> Outcome {
    let (design, stage) = (&made.actuator.design, &made.actuator.stage);
    let force = GearForces::of(stage, made.actuator.torques.sun).tangential;
    printed_root(&StageRoots::of(stage).ring, force, design.limits.printed_root_stress)
        .remedy("Widen the face, a ring of a stronger plastic, or lower the peak torque.")
}

fn printed_root(root: &Root, force: f64, limit: f64) -> Outcome {
    let stress = match root.stress(force) {
        Ok(stress) => stress,
        Err(reason) => return Outcome::not_applicable(format!("No root stress: {reason}.")),
    };
    let lewis = root.lewis_stress(force).map_or(String::new(), |lewis| format!(" By Lewis {lewis:.1} MPa."));
    Outcome::at_most(stress, limit).remark(format!("{force:.0} N a mesh, with the {}.{lewis}", root.mate))
}

fn sun_root(made: &Product) -> Outcome {
    let (design, stage) = (&made.actuator.design, &made.actuator.stage);
    if design.gearset.sun_made == GearSource::Print {
        return Outcome::not_applicable("The sun is printed: see sun-joint and planet-root.");
    }
    let name = &design.gearset.sun_bought_of;
    let Some(metal) = gear_metal(name) else {
        return Outcome::not_applicable(unknown_metal(name));
    };
    let force = GearForces::of(stage, made.actuator.torques.sun).tangential;
    match StageRoots::of(stage).sun.stress(force) {
        Err(reason) => Outcome::not_applicable(format!("No root stress: {reason}.")),
        Ok(stress) => Outcome::at_most(stress, metal.root_static / design.limits.metal_safety)
            .remark(format!("{}; endurance limit {:.0} MPa.", metal.description, metal.root_endurance))
            .remedy("A stronger steel, a wider face, or a lower peak torque."),
    }
}

fn metal_flank(made: &Product) -> Outcome {
    let (gearset, stage) = (&made.actuator.design.gearset, &made.actuator.stage);
    if gearset.sun_made == GearSource::Print || gearset.planet_made == GearSource::Print {
        return Outcome::not_applicable("Not a pair of metals: see the plastic flank.");
    }
    let metals = [&gearset.sun_bought_of, &gearset.planet_bought_of].map(|name| (gear_metal(name), name));
    let [(Some(sun), _), (Some(planet), _)] = metals else {
        let unknown = metals.iter().find(|(metal, _)| metal.is_none()).map_or("", |(_, name)| name);
        return Outcome::not_applicable(unknown_metal(unknown));
    };
    let force = GearForces::of(stage, made.actuator.torques.sun).tangential;
    let weaker = f64::min(sun.flank_static, planet.flank_static);
    match gear_strength::metal_flank(stage, [sun, planet], force) {
        None => Outcome::not_applicable("Outside the range of ISO 6336-2."),
        Some(pressure) => Outcome::at_most(pressure, weaker / made.actuator.design.limits.metal_safety)
            .remedy("Hardened gears, a wider face, or a lower peak torque."),
    }
}

fn unknown_metal(name: &str) -> String {
    format!("No limits of \"{name}\" are known; known are: {}.", gear_metal_names().join(", "))
}

/// The condition with the least in hand, as a part of its limit.
fn ring_interference(made: &Product) -> Outcome {
    let found = &made.actuator.stage.interferences;
    let relative = |margin: &Margin| margin.in_hand() / margin.least.abs().max(f64::MIN_POSITIVE);
    let (name, worse) = if relative(&found.involute) < relative(&found.trochoid) {
        ("Involute", found.involute)
    } else {
        ("Trochoid", found.trochoid)
    };
    let radially = if found.trimming.holds() { "also" } else { "not" };
    Outcome::at_least(worse.value, worse.least)
        .remark(format!(
            "{name} interference is the nearer: {:.4} in hand. A planet goes {radially} in along the radius ({:+.4}).",
            worse.in_hand(),
            found.trimming.in_hand()
        ))
        .remedy("More teeth on the ring than on the planet, a larger pressure angle, or a shorter addendum.")
}
