//! The figures that are compared: what the joint gives, bears, weighs and costs.

use std::f64::consts::PI;

use crate::assessment::back_drive::back_drive;
use crate::checks::Load;
use crate::checks::ranking::{Place, Ranking};
use crate::export::print_sheet::prints;
use crate::pipeline::Made;
use crate::ratings::heat::continuous::Continuous;
use crate::ratings::heat::{Node, Rating};
use crate::ratings::motor::torque_constants;

use super::figures::{Better, FigureRow, Reading};

/// Radians a second to revolutions a minute.
const RPM: f64 = 30.0 / PI;

/// A figure that every design has.
struct Figure {
    group: &'static str,
    id: &'static str,
    label: &'static str,
    unit: &'static str,
    digits: usize,
    better: Better,
    of: fn(&Made) -> Reading,
}

const fn figure(
    group: &'static str,
    [id, label, unit]: [&'static str; 3],
    digits: usize,
    better: Better,
    of: fn(&Made) -> Reading,
) -> Figure {
    Figure { group, id, label, unit, digits, better, of }
}

const MASS: &str = "Mass and cost";
const DRIVE: &str = "Torque and speed";
const HEAT: &str = "Heat";
const FEEL: &str = "Feel";
const LIFE: &str = "Life";

use Better::{Less, More, Open};

/// In the order of reading.
const FIGURES: &[Figure] = &[
    figure(MASS, ["mass_total_g", "Mass", "g"], 0, Less, |made| (made.product.bom.total_mass() * 1e3).into()),
    figure(MASS, ["mass_printed_g", "of it printed", "g"], 0, Less, |made| {
        (made.product.bom.printed_mass() * 1e3).into()
    }),
    figure(MASS, ["mass_bought_g", "of it bought", "g"], 0, Less, |made| {
        (made.product.bom.bought_mass() * 1e3).into()
    }),
    figure(MASS, ["print_time_h", "Print time of all parts (0.7 to 1.5 times)", "h"], 1, Less, print_time),
    figure(MASS, ["cost_total", "Cost of what has a price", ""], 2, Less, |made| {
        made.product.bom.total_cost().into()
    }),
    figure(DRIVE, ["peak_torque_n_m", "Peak torque asked", "N m"], 2, Open, |made| {
        made.product.actuator.torques.output.into()
    }),
    figure(DRIVE, ["current_peak_a", "Phase current for it", "A"], 1, Less, |made| {
        of_heat(made, |heat| heat.peak.map(|peak| peak.current))
    }),
    figure(
        DRIVE,
        ["torque_at_limit_n_m", "Most torque at rest, by current and supply", "N m"],
        2,
        More,
        |made| of_heat(made, |heat| heat.map().points.first().map(|point| point.torque)),
    ),
    figure(DRIVE, ["ratio", "Ratio", ""], 3, Open, |made| made.product.actuator.stage.ratio.into()),
    figure(
        DRIVE,
        ["torque_constant_n_m_per_a", "Torque constant (peak phase current)", "N m/A"],
        4,
        Open,
        |made| {
            let motor = &made.product.actuator.design.motor;
            torque_constants(motor.kv, motor.kv_is).peak_phase.into()
        },
    ),
    figure(DRIVE, ["corner_speed_rpm", "Speed to which the full torque reaches", "rpm"], 0, More, |made| {
        of_heat(made, |heat| heat.map().corner_speed.map(|speed| speed * RPM))
    }),
    figure(DRIVE, ["no_load_speed_rpm", "Speed without load", "rpm"], 0, More, |made| {
        of_heat(made, |heat| heat.map().no_load_speed.map(|speed| speed * RPM))
    }),
    figure(
        HEAT,
        ["continuous_torque_n_m", "Torque held for good, at rest (estimate)", "N m"],
        2,
        More,
        |made| held(made, |held| held.torque),
    ),
    figure(HEAT, ["current_continuous_a", "Phase current for that", "A"], 1, Open, |made| {
        held(made, |held| held.current)
    }),
    figure(HEAT, ["time_at_peak_s", "Time at the peak torque, begun warm", "s"], 1, More, |made| {
        of_heat(made, |heat| heat.peak.and_then(|peak| peak.warm).map(|(time, _)| time))
    }),
    figure(
        HEAT,
        ["winding_at_demand_c", "Winding at the continuous torque asked", "degC"],
        0,
        Less,
        |made| at_demand(made, Node::Winding),
    ),
    figure(HEAT, ["mount_at_demand_c", "Mount at the continuous torque asked", "degC"], 0, Less, |made| {
        at_demand(made, Node::Mount)
    }),
    figure(HEAT, ["wall_at_demand_c", "Wall at the continuous torque asked", "degC"], 0, Less, |made| {
        at_demand(made, Node::Wall)
    }),
    figure(FEEL, ["backdrive_torque_n_m", "Torque that back-drives it", "N m"], 2, Open, |made| {
        back_drive(&made.product.actuator).map(|torque| torque.expected).into()
    }),
    figure(FEEL, ["reflected_inertia_kg_m2", "Inertia felt at the output", "kg m2"], 4, Less, |made| {
        made.product.feel.inertia.map(|inertia| inertia.reflected.output()).into()
    }),
    figure(FEEL, ["stiffness_n_m_per_rad", "Stiffness of the stage", "N m/rad"], 0, More, |made| {
        made.product.feel.stiffness.as_ref().map(|stiffness| stiffness.output()).into()
    }),
    figure(FEEL, ["backlash_deg", "Backlash at the output", "deg"], 2, Less, |made| {
        made.product.actuator.stage.output_backlash.to_degrees().into()
    }),
    figure(LIFE, ["life_output_h", "Life of the output bearing", "h"], 0, More, |made| {
        made.product.bearings.output.as_ref().map(|life| life.judged()).into()
    }),
    figure(LIFE, ["static_safety_output", "Static safety of the output bearing", ""], 2, More, |made| {
        made.product.output_bearing.static_safety.into()
    }),
    figure(LIFE, ["life_planet_h", "Life of a planet bearing", "h"], 0, More, |made| {
        made.product.bearings.planet.as_ref().map(|life| life.judged()).into()
    }),
    figure(LIFE, ["least_margin", "Least margin under load", "%"], 0, More, least_margin),
    figure(LIFE, ["first_peak", "First to give way as the peak grows", ""], 0, Open, |made| {
        first(&Ranking::of(&made.product, &made.checks).peak)
    }),
    figure(LIFE, ["first_hours", "First to give way over hours", ""], 0, Open, |made| {
        first(&Ranking::of(&made.product, &made.checks).continuous)
    }),
];

/// All figures of both.
pub fn rows(sides: [&Made; 2]) -> Vec<FigureRow> {
    let row = |figure: &Figure| FigureRow {
        group: figure.group,
        id: figure.id.to_string(),
        label: figure.label.to_string(),
        unit: figure.unit,
        digits: figure.digits,
        better: figure.better,
        values: sides.map(figure.of),
    };
    FIGURES.iter().map(row).collect()
}

/// A number of one design by its name here: label, unit, value; none for a name that isn't.
pub fn number(id: &str, made: &Made) -> Option<(&'static str, &'static str, Option<f64>)> {
    let figure = FIGURES.iter().find(|figure| figure.id == id)?;
    Some((figure.label, figure.unit, (figure.of)(made).number()))
}

fn of_heat(made: &Made, of: impl Fn(&Rating) -> Option<f64>) -> Reading {
    made.product.heat.as_ref().ok().and_then(of).into()
}

fn held(made: &Made, of: impl Fn(&Continuous) -> f64) -> Reading {
    of_heat(made, |heat| heat.continuous.as_ref().ok().map(&of))
}

fn at_demand(made: &Made, node: Node) -> Reading {
    of_heat(made, |heat| heat.at_demand.and_then(|found| found.get(node as usize).copied()))
}

fn print_time(made: &Made) -> Reading {
    let seconds: f64 =
        prints(&made.product).iter().map(|(part, _, time)| f64::from(part.part.count) * time.time).sum();
    (seconds / 3600.0).into()
}

/// In per cent, of the checks that are made under a load.
fn least_margin(made: &Made) -> Reading {
    let loaded = made.checks.iter().filter(|checked| checked.check.load != Load::None);
    let margins = loaded.filter_map(|checked| checked.outcome.margin());
    margins.map(|margin| margin * 100.0).min_by(f64::total_cmp).into()
}

fn first(places: &[Place]) -> Reading {
    places.first().map_or(Reading::None, |place| {
        let at = place.torque.map_or(String::new(), |torque| format!(" at {torque:.1} N m"));
        Reading::Text(format!("{}{at}", place.checked.check.id))
    })
}
