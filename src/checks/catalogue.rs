//! The table of all checks. Order: what hangs on it, what drives it, what holds it together, what it costs.

use super::Check;
use super::clearance::clearances;
use super::outcome::Outcome;
use crate::design::{GearSource, PartName};
use crate::gears::Stage;
use crate::layout::{SunJoint, clamp_force};
use crate::parts::form;
use crate::product::Product;
use crate::ratings::planetary_efficiency::{NoEfficiency, StageEfficiency};
use crate::ratings::tooth_root::{ContactRatios, Edition, Method, NotApplicable, ToothRoot};
use crate::ratings::{insert_pull, motor, planet_bearing, tooth_root_estimate};

/// A stated estimate, no standard behind it.
const ESTIMATE: &str = "stated estimate, no standard";

/// Every check, in the order of report and summary.
pub static CHECKS: &[Check] = &[
    Check {
        id: "output-life",
        title: "Life of the output bearing",
        unit: "h",
        formula: "L10h = a1 (C / P)^3 10^6 / (60 n)",
        symbols: "C dynamic rating, N\nP equivalent load, N\nn turns a minute (oscillation: n phi / 180, phi from one end of the swing to the other, degrees)\na1 reliability factor",
        clause: "ISO 281:2007, 5.3, table 3 and table 12",
        range: "P up to C/2; f0 Fa/C0 up to 6.89; swings of 5 degrees and more. One bearing: moment as 4 M/dm added to the axial load.",
        not_covered: "lubricant and contamination (a_ISO), misalignment, shock in the dynamic load",
        parts: &[PartName::RingHousing, PartName::OutputCarrier],
        run: output_life,
    },
    Check {
        id: "output-static",
        title: "Static safety of the output bearing",
        unit: "",
        formula: "s0 = C0 / P0, P0 = max(Fr, 0.6 Fr + 0.5 Fa)",
        symbols: "C0 static rating, N\nFr, Fa radial and axial load at the worst: shock, or the peak torque on the lever, N",
        clause: "ISO 76:2006, 5.1",
        range: "single-row deep groove",
        not_covered: "denting by a printed seat that is out of round",
        parts: &[PartName::RingHousing, PartName::OutputCarrier],
        run: |made| {
            Outcome::at_least(
                made.output_bearing.static_safety,
                made.actuator.design.limits.output_static_safety,
            )
            .remedy("Take a larger bearing, a pair, or shorten the overhang.")
        },
    },
    Check {
        id: "output-moment",
        title: "Axial load and overturning on the output bearing",
        unit: "",
        formula: "Fa + 4 M / dm <= 0.25 C0 (light series) or 0.5 C0; pair: M from the reactions",
        symbols: "Fa axial load, N\nM overturning moment, N mm\ndm mean diameter, mm\nC0 static rating, N",
        clause: "SKF General Catalogue, pages 296-299 (axial limit); moment as a couple: KAYDON, page 94",
        range: "no maker gives a moment capacity for one deep groove bearing; this is the safe reading",
        not_covered: "tilt play and stiffness",
        parts: &[PartName::RingHousing, PartName::OutputCarrier],
        run: |made| {
            Outcome::at_most(made.output_bearing.axial_share, 1.0)
                .remark(format!("Moment {:.1} N m at the worst.", made.output_bearing.peak_moment))
                .remedy("Use a pair (count = 2), a larger bearing, or shorten the overhang.")
        },
    },
    Check {
        id: "planet-bearing",
        title: "Static safety of the planet bearings at peak",
        unit: "",
        formula: "s0 = C0 / hypot(Ft, Fa d / spread)",
        symbols: "Ft tangential force of one mesh, load sharing included, N\nFa = Ft tan(beta), N\nd planet reference diameter, mm\nspread between the two bearings' middles, mm",
        clause: "ISO 76:2006, 5.1; couple by statics",
        range: "two bearings at the planet's ends; load sharing 1.4 / 1.6 / 2.0 for 3 / 4 / 5 planets (from memory)",
        not_covered: "life of the planet bearings over a duty",
        parts: &[PartName::Planet],
        run: |made| {
            let actuator = &made.actuator;
            Outcome::at_least(
                actuator.planet.bearing.static_rating / made.planet_load,
                actuator.design.limits.planet_static_safety,
            )
            .remark(format!("{:.0} N on each.", made.planet_load))
            .remedy("Widen the face, lower the helix angle or the peak torque.")
        },
    },
    Check {
        id: "motor-torque",
        title: "Peak torque from the motor's current",
        unit: "N m",
        formula: "T = Kt I (1 - a) i eta",
        symbols: "Kt torque constant per peak phase ampere, N m/A\nI the lower current limit, A\na saturation\ni ratio\neta efficiency",
        clause: "constants: source-robotics.com; saturation and efficiency: stated estimates",
        range: "wye motor, sinusoidal drive; band 10 %",
        not_covered: "supply limit at speed, heat",
        parts: &[],
        run: |made| {
            let (design, stage) = (&made.actuator.design, &made.actuator.stage);
            let current = f64::min(design.motor.current_limit, design.controller.current_limit);
            let torque =
                motor::rotor_torque(&design.motor, current) * stage.ratio * design.gearset.efficiency;
            Outcome::at_least(torque * (1.0 + 1e-9), made.actuator.torques.output)
                .remedy("Raise the current limit, the ratio, or ask for less.")
        },
    },
    Check {
        id: "efficiency-assumed",
        title: "Efficiency the torque is reckoned with, against tooth friction alone",
        unit: "",
        formula: "eta <= (1 + eta0 k) / (1 + k), eta0 = (1 - mu HVs)(1 - mu HVr)",
        symbols: "mu friction coefficient\nHVs, HVr loss factors of the two meshes\nk ring teeth over sun teeth",
        clause: "mesh loss after Niemann and Ohlendorf; planetary by torque balance (from memory, recomputed)",
        range: "transverse contact ratio 1 and more; constant friction, equal sharing of the pairs in contact",
        not_covered: "drag of bearings, grease, seals and misfit: the assumed value must leave room for it",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: |made| {
            let gearset = &made.actuator.design.gearset;
            match StageEfficiency::of(&made.actuator.stage, gearset.friction) {
                Err(why @ NoEfficiency::SelfLocking) => Outcome::at_most(gearset.efficiency, 0.0)
                    .remark(format!("No torque arrives: {why}."))
                    .remedy("Grease the gears and lower gearset.friction, or take more and smaller teeth."),
                Err(why) => Outcome::not_applicable(format!("No efficiency: {why}.")),
                Ok(teeth) => Outcome::at_most(gearset.efficiency, teeth.forward)
                    .only_warns()
                    .remark(format!(
                        "Tooth friction alone: {:.3} forward, {:.3} back-driven.",
                        teeth.forward, teeth.back
                    ))
                    .remedy("Lower gearset.efficiency, or grease the gears and lower gearset.friction."),
            }
        },
    },
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
        id: "sun-joint",
        title: "Sun's joint to the rotor, times the peak torque",
        unit: "",
        formula: "socket: 0.5 z 1.2 mn L p r; one piece: tau pi (d^4 - b^4) / (16 d)",
        symbols: "z sun teeth\nL socket depth, mm\np = 40 MPa on printed teeth\ntau = 18 MPa across layers\nd, b root and bore, mm",
        clause: ESTIMATE,
        range: "allowables band 0.6 to 1.4 of the value",
        not_covered: "creep, heat, fatigue",
        parts: &[PartName::RotorAdapter],
        run: |made| {
            let actuator = &made.actuator;
            let kind = match actuator.sun.joint {
                SunJoint::Socket { depth } => format!("Toothed socket {depth:.1} deep"),
                SunJoint::OnePiece => "Printed with the adapter".to_string(),
            };
            Outcome::at_least(
                actuator.sun.capacity / actuator.torques.sun,
                actuator.design.limits.joint_factor,
            )
            .remark(format!("{kind}, carries {:.1} N m.", actuator.sun.capacity))
            .remedy("Use a bought sun, or lower the peak torque.")
        },
    },
    Check {
        id: "output-crown",
        title: "Crown into the output flange, times the peak torque",
        unit: "",
        formula: "T = n h w p r, and bending across layers at the teeth's feet; the lesser",
        symbols: "n teeth\nh depth along the radius, mm\nw height that bears, mm\np = 20 MPa\nr mean radius, mm",
        clause: ESTIMATE,
        range: "allowables band 0.6 to 1.4 of the value; all teeth carry",
        not_covered: "uneven teeth, the output bolts' own share",
        parts: &[PartName::OutputCarrier, PartName::OutputClampRing],
        run: |made| {
            let actuator = &made.actuator;
            let crown = &actuator.carrier.crown;
            Outcome::at_least(crown.capacity / actuator.torques.output, actuator.design.limits.joint_factor)
                .remark(format!("{} teeth carry {:.0} N m.", crown.count, crown.capacity))
                .remedy("Take a larger output bearing, fewer output bolts, or lower the peak torque.")
        },
    },
    Check {
        id: "ring-lobes",
        title: "Lobes of the ring insert, times the peak torque",
        unit: "",
        formula: "T = n F 3 p r",
        symbols: "n lobes\nF face width, mm\np = 20 MPa\nr distance of the lobes, mm",
        clause: ESTIMATE,
        range: "allowable band 0.6 to 1.4 of the value",
        not_covered: "play of the lobes in their pockets",
        parts: &[PartName::RingInsert, PartName::RingHousing],
        run: |made| match &made.actuator.ring_insert {
            Some(insert) => Outcome::at_least(
                insert.capacity / made.actuator.torques.ring,
                made.actuator.design.limits.joint_factor,
            )
            .remedy("Widen the face or lower the peak torque."),
            None => Outcome::not_applicable("The ring's teeth are cut in the housing."),
        },
    },
    Check {
        id: "service-joint",
        title: "Friction of the service joint, times the housing's torque",
        unit: "",
        formula: "n F mu r / T",
        symbols: "n screws\nF = 450 N clamp force per M3 insert (by stress area for others)\nmu = 0.2\nr circle radius, mm\nT reaction on the housing, N m",
        clause: ESTIMATE,
        range: "clamp force band 0.5 to 1.5 of the value",
        not_covered: "loss of clamp force by creep and heat",
        parts: &[PartName::VentedBase, PartName::RingHousing],
        run: |made| {
            let actuator = &made.actuator;
            let joint = &actuator.joints.service;
            let friction = f64::from(joint.count)
                * clamp_force(joint.thread)
                * crate::layout::FRICTION
                * joint.radius()
                * 1e-3;
            Outcome::at_least(friction / actuator.torques.ring, actuator.design.limits.service_factor)
                .remark(format!("{} {} hold {friction:.1} N m.", joint.count, joint.thread))
                .remedy("More screws or M4 under [fasteners.service].")
        },
    },
    Check {
        id: "keeper-pull",
        title: "Keeper inserts, times the pushing load",
        unit: "",
        formula: "n 0.2 sigma_t pi D L / F",
        symbols: "n screws\nsigma_t strength across layers, MPa\nD insert outside, L its length, mm\nF load that pushes the output in, with shock and moment, N",
        clause: "stated estimate, fitted to one test (Polymers 18(1) 112, 2025)",
        range: "band half to twice the value",
        not_covered: "installation quality, heat, creep",
        parts: &[PartName::RingHousing, PartName::BearingKeeper],
        run: keeper_pull,
    },
    Check {
        id: "running-clearance",
        title: "Least gap of turning against fixed bodies",
        unit: "mm",
        formula: "least radial gap where heights are shared; least axial gap where radii are",
        symbols: "",
        clause: "common practice, no source: 0.5 radial, 0.8 axial",
        range: "swept sections of all printed parts, motor, screws, board and pins; gears in mesh by their backlash",
        not_covered: "deflection, runout, heat",
        parts: &[],
        run: running_clearance,
    },
    Check {
        id: "print-form",
        title: "Largest unsupported reach, of what the printer may span",
        unit: "",
        formula: "reach / limit over all downward faces",
        symbols: "slope against the overhang limit, bridge against the longest bridge, ledge against one line width",
        clause: "common practice, no source: 45 degrees, 10 mm",
        range: "parts as they lie on the bed",
        not_covered: "sagging, cooling, stringing",
        parts: &[],
        run: print_form,
    },
    Check {
        id: "bed-fit",
        title: "Largest part against the bed",
        unit: "",
        formula: "size / bed, the worst of length, width, height",
        symbols: "",
        clause: "geometry",
        range: "each part alone, unturned",
        not_covered: "arrangement of several parts",
        parts: &[],
        run: |made| {
            let bed = made.actuator.design.printer.bed;
            let share = |part: &crate::product::MadePart| {
                (0..3).map(|axis| part.size[axis] / bed[axis]).fold(0.0, f64::max)
            };
            let worst = made.parts.iter().map(share).fold(0.0, f64::max);
            Outcome::at_most(worst, 1.0).remedy("A larger printer, or a smaller rotor.")
        },
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
    Check {
        id: "mass",
        title: "Mass against the limit",
        unit: "g",
        formula: "printed (walls, skins, infill) + bought",
        symbols: "",
        clause: "print mass by offset areas; bought masses from rows or volume",
        range: "band 10 %",
        not_covered: "wires, grease",
        parts: &[],
        run: |made| match made.actuator.design.requirement.mass_limit {
            Some(limit) => Outcome::at_most(made.bom.total_mass() * 1e3, limit * 1e3)
                .remedy("Less infill, fewer walls, a lighter motor."),
            None => Outcome::not_applicable("No limit is set."),
        },
    },
    Check {
        id: "outer-diameter",
        title: "Outside diameter against the limit",
        unit: "mm",
        formula: "largest ring of bosses",
        symbols: "",
        clause: "geometry",
        range: "",
        not_covered: "",
        parts: &[PartName::VentedBase],
        run: |made| match made.actuator.design.requirement.outer_diameter_limit {
            Some(limit) => {
                Outcome::at_most(made.actuator.outer_diameter(), limit).remedy("A smaller rotor or ring.")
            }
            None => Outcome::not_applicable("No limit is set."),
        },
    },
    Check {
        id: "height",
        title: "Height against the limit",
        unit: "mm",
        formula: "mounting face to output face",
        symbols: "",
        clause: "geometry",
        range: "",
        not_covered: "the link and its screws",
        parts: &[],
        run: |made| match made.actuator.design.requirement.height_limit {
            Some(limit) => Outcome::at_most(made.actuator.stations.output_face, limit)
                .remedy("A narrower face, one bearing, a flatter motor."),
            None => Outcome::not_applicable("No limit is set."),
        },
    },
];

fn output_life(made: &Product) -> Outcome {
    let wanted = made.actuator.design.requirement.life;
    match (made.output_bearing.life_hours, made.output_bearing.no_life) {
        (Some(hours), _) => Outcome::at_least(hours, wanted).remedy("Take a larger bearing or a pair."),
        (None, reason) => {
            Outcome::not_applicable(format!("No life: {}.", reason.unwrap_or("out of the standard's range")))
        }
    }
}

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

fn keeper_pull(made: &Product) -> Outcome {
    let actuator = &made.actuator;
    let joint = &actuator.joints.keeper;
    let crate::layout::Anchor::Insert(insert) = &joint.anchor else {
        return Outcome::not_applicable("The keeper has no inserts.");
    };
    let material = actuator.design.settings(PartName::RingHousing).material;
    let holds = f64::from(joint.count) * insert_pull::pull_out(insert, &material);
    // Pushing load, and for a single bearing the moment's couple, of which one side pushes.
    let load = &actuator.design.load;
    let couple = if actuator.design.bearings.output_count == 1 {
        4.0 * made.output_bearing.peak_moment * 1e3 / actuator.design.bearings.output.mean_diameter()
    } else {
        0.0
    };
    let push = f64::max(0.0, -load.axial) * load.shock + couple;
    if push <= 0.0 {
        return Outcome::not_applicable("Nothing pushes the output in.");
    }
    Outcome::at_least(holds / push, actuator.design.limits.keeper_factor)
        .remark(format!(
            "{} {} inserts hold {holds:.0} N (band {:.0} to {:.0}).",
            joint.count,
            joint.thread,
            holds / insert_pull::BAND,
            holds * insert_pull::BAND
        ))
        .remedy("Turn the joint so that the load pulls, or through-bolt the keeper.")
}

/// Worst of all gaps over what is wanted, as millimetres of the worst one.
fn running_clearance(made: &Product) -> Outcome {
    let printer = &made.actuator.design.printer;
    let parts: Vec<_> = made.parts.iter().map(|part| &part.part).collect();
    let found = match clearances(&made.actuator, &parts) {
        Ok(found) => found,
        Err(error) => return Outcome::not_applicable(format!("Sections could not be formed: {error}.")),
    };
    let mut worst: Option<(f64, f64, String)> = None;
    for clearance in &found {
        let gaps = [
            (clearance.radial, printer.running_radial, "radial"),
            (clearance.axial, printer.running_axial, "axial"),
        ];
        for (gap, wanted, way) in gaps {
            let Some(gap) = gap else { continue };
            if worst.as_ref().is_none_or(|(least, limit, _)| gap / wanted < least / limit) {
                let [a, b] = &clearance.bodies;
                worst = Some((gap, wanted, format!("{a} against {b}, {way}, at z = {:.1}.", clearance.z)));
            }
        }
    }
    match worst {
        // Rounding of the layout's own sums must not decide.
        Some((gap, wanted, place)) => Outcome::at_least((gap * 1e5).round() / 1e5, wanted)
            .remark(place)
            .remedy("Report this design: the layout should keep them apart."),
        None => Outcome::not_applicable("No bodies come within reach of each other."),
    }
}

fn print_form(made: &Product) -> Outcome {
    let mut worst = 0.0;
    let mut place = String::new();
    for part in &made.parts {
        match form::overhangs(&part.printed, &made.actuator.design.printer) {
            Ok(found) => {
                for overhang in found {
                    let share = overhang.reach / overhang.limit;
                    if share > worst {
                        worst = share;
                        place = format!(
                            "{}: {:?} at z = {:.1}, {:.2}.",
                            part.part.name.as_str(),
                            overhang.kind,
                            overhang.z,
                            overhang.reach
                        );
                    }
                }
            }
            Err(error) => return Outcome::not_applicable(format!("Sections could not be formed: {error}.")),
        }
    }
    // A thousandth for rounding: roofs and flares stand at exactly 45 degrees.
    Outcome::at_most(worst / 1.001, 1.0)
        .remark(place)
        .remedy("Print that part with supports, or tell us: the layout should avoid it.")
}
