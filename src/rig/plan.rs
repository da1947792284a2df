//! What to measure on the rig, in order: how, with which supply, what to expect, what to beware of, and how to note it for `trial`.
//!
//! Limits are the predictions of the design with the bands of a trial: the same numbers as in the report.

use std::f64::consts::PI;

use super::sizes::Sizes;
use crate::assessment::back_drive::back_drive;
use crate::product::Product;
use crate::ratings::heat::network::Node;
use crate::ratings::motor::constants::kv_line_peak;
use crate::ratings::motor::scale::GRAVITY;
use crate::trial::columns::TestKind;
use crate::trial::{BANDS, Bench};

const RPM: f64 = 30.0 / PI;
/// Share of the current limit for first tries, and of the last reading on the lever (common practice, no source).
const FIRST: f64 = 0.1;
const CURRENTS: [f64; 4] = [0.1, 0.25, 0.5, 0.75];

/// What a reading must lie in, internal units of the unit named.
#[derive(Clone, Debug, PartialEq)]
pub struct Expected {
    pub what: String,
    pub unit: &'static str,
    pub value: f64,
    pub low: f64,
    pub high: f64,
}

/// One test.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// As noted in the log; none for what a trial doesn't take.
    pub test: TestKind,
    pub title: &'static str,
    pub how: String,
    pub parts: Vec<&'static str>,
    pub supply: String,
    pub expected: Vec<Expected>,
    /// Why nothing is expected, where nothing is.
    pub unknown: String,
    pub cautions: Vec<&'static str>,
}

/// Words of warning, each once; the same as in the drive sheet and the readme.
pub mod cautions {
    pub const CLAMP: &str = "Clamp it; stand out of the lever's plane; eye protection.";
    pub const PINCH: &str = "Pinch points and a spinning rotor: fingers and sleeves away.";
    pub const FIRST: &str = "Current-limited supply first, output free; the battery only after.";
    pub const HOT: &str = "Windings and mount stay hot, and plastic softens without looking it.";
    pub const BRAKING: &str = "A braking motor returns energy to the supply: watch its voltage.";
    pub const FALLS: &str =
        "Unpowered it back-drives and the load falls: not a brake, not for lifting people.";
    pub const ESTIMATE: &str = "Estimates, not a certificate: local codes and licensed practice decide.";
    pub const ALL: [&str; 7] = [FIRST, CLAMP, PINCH, HOT, BRAKING, FALLS, ESTIMATE];
}

fn share(what: impl Into<String>, unit: &'static str, value: f64, band: f64) -> Expected {
    Expected { what: what.into(), unit, value, low: value * (1.0 - band), high: value * (1.0 + band) }
}

/// The plan.
pub fn plan(product: &Product, sizes: &Sizes) -> Vec<Step> {
    let frame = Frame { product, sizes, bench: Bench::of(product) };
    vec![
        frame.resistance(),
        frame.spin(),
        frame.cogging(),
        frame.no_load(),
        frame.break_away(),
        frame.back_driving(),
        frame.backlash(),
        frame.stiffness(),
        frame.torque(),
        frame.free_run(),
        frame.heat(),
        frame.top_speed(),
    ]
}

struct Frame<'a> {
    product: &'a Product,
    sizes: &'a Sizes,
    bench: Bench<'a>,
}

impl Frame<'_> {
    fn step(&self, test: TestKind, title: &'static str, how: String) -> Step {
        Step {
            test,
            title,
            how,
            parts: Vec::new(),
            supply: "None: power off.".into(),
            expected: Vec::new(),
            unknown: String::new(),
            cautions: vec![],
        }
    }

    fn limited(&self, current: f64) -> String {
        format!(
            "Bench supply at {:.0} V, its own limit at {:.1} A.",
            self.product.actuator.design.controller.bus_voltage,
            current.max(1.0)
        )
    }

    fn last_mark(&self) -> f64 {
        self.sizes.lever.marks.last().copied().unwrap_or(self.sizes.lever.length)
    }

    fn resistance(&self) -> Step {
        let value = self.bench.circuit.resistance;
        let first = FIRST * self.bench.circuit.current_limit;
        Step {
            supply: format!("Bench supply as a current source: {:.1}, {:.1} and {first:.1} A, a few seconds each.", first / 3.0, first / 1.5),
            expected: vec![share("voltage over current, half of it", "ohm", value, BANDS.sheet)],
            cautions: vec![cautions::FIRST, cautions::HOT],
            ..self.step(
                TestKind::Resistance,
                "Phase resistance",
                "Motor at room temperature, leads off the drive. A direct current through two leads; note current, voltage at the leads, ambient. All three pairs.".into(),
            )
        }
    }

    fn spin(&self) -> Step {
        let motor = &self.product.actuator.design.motor;
        let kv = kv_line_peak(motor.kv, motor.kv_is);
        Step {
            expected: vec![share("rotor speed over peak voltage between leads", "rpm/V", kv, BANDS.sheet)],
            cautions: vec![cautions::CLAMP, cautions::PINCH],
            ..self.step(
                TestKind::Spin,
                "Kv",
                "Leads open. Turn the bare motor by a drill at three speeds; note rotor speed and the peak voltage between two leads (a meter on AC shows it over the square root of two).".into(),
            )
        }
    }

    fn cogging(&self) -> Step {
        let mut step = self.step(
            TestKind::Cogging,
            "Cogging",
            "Leads open, the bare rotor held by a thread on its rim and a hanging scale. Note the torque at which it snaps over, at ten places.".into(),
        );
        match self.product.actuator.design.motor.cogging_torque {
            Some(value) => step.expected.push(share("torque at the rotor", "N m", value, BANDS.friction)),
            None => {
                step.unknown = "Not predicted: motor.cogging_torque isn't given; this measures it.".into()
            }
        }
        step.cautions = vec![cautions::PINCH];
        step
    }

    fn no_load(&self) -> Step {
        let circuit = &self.bench.circuit;
        // Line-to-line convention: a direct current's constant is 2 / sqrt 3 of the peak phase's.
        let direct = circuit.torque_constant * 2.0 / libm::sqrt(3.0);
        let value = circuit.drag_torque / direct;
        let known = self.product.actuator.design.motor.no_load_current.is_some();
        let expected = if known {
            share("supply current", "A", value, 2.0 * BANDS.sheet)
        } else {
            Expected {
                what: "supply current (drag is a guess, by a factor of two)".into(),
                unit: "A",
                value,
                low: value / 2.0,
                high: 2.0 * value,
            }
        };
        Step {
            supply: self.limited(FIRST * circuit.current_limit),
            expected: vec![expected],
            cautions: vec![cautions::CLAMP, cautions::FIRST, cautions::PINCH],
            ..self.step(
                TestKind::NoLoad,
                "No-load current",
                "The motor alone on its drive, turning freely at four speeds. Note rotor speed and the supply's current, less what the drive draws at rest.".into(),
            )
        }
    }

    fn break_away(&self) -> Step {
        Step {
            parts: vec!["stand", "lever", "scale-foot"],
            unknown: "No rating predicts friction at rest; more than twice the back-drive torque means a rub.".into(),
            cautions: vec![cautions::CLAMP, cautions::FALLS],
            ..self.step(
                TestKind::BreakAway,
                "Static friction",
                "Leads open. Pull the lever at a mark by a hanging scale, slowly, until it begins to move: force and lever, at eight places, both ways.".into(),
            )
        }
    }

    fn back_driving(&self) -> Step {
        let mut step = self.step(
            TestKind::BackDrive,
            "Back-drive",
            "Leads open. Pull the lever evenly through a quarter turn by a hanging scale at a mark: note force and lever while it moves, ten times, both ways.".into(),
        );
        match back_drive(&self.product.actuator) {
            Some(found) => step.expected.push(Expected {
                what: "torque at the output".into(),
                unit: "N m",
                value: found.expected,
                low: found.band[0],
                high: found.band[1],
            }),
            None => step.unknown = "The stage is predicted to lock itself: it must not move.".into(),
        }
        step.parts = vec!["stand", "lever"];
        step.cautions = vec![cautions::CLAMP, cautions::PINCH, cautions::FALLS];
        step
    }

    fn backlash(&self) -> Step {
        let reach = self.last_mark();
        let mut step = self.step(
            TestKind::Backlash,
            "Backlash at four places",
            format!(
                "Rotor held. Dial against the pointer's end, {reach:.0} mm from the axis; rock it lightly between the stops. Angle is the dial's travel over {reach:.0} mm. \
                 Again after each quarter turn of the output."
            ),
        );
        match &self.product.feel.play {
            Some(play) => {
                let [least, most] = play.output;
                let expected = |what: String, unit, factor: f64| Expected {
                    what,
                    unit,
                    value: 0.5 * (least + most) * factor,
                    low: least / BANDS.play * factor,
                    high: most * BANDS.play * factor,
                };
                step.expected.push(expected("angle of the output".into(), "deg", 180.0 / PI));
                step.expected.push(expected(format!("on the dial, at {reach:.0} mm"), "mm", reach));
            }
            None => step.unknown = "The predicted departures leave no mesh: no limit.".into(),
        }
        step.parts = vec!["stand", "pointer", "dial-holder", "input-lock"];
        step.cautions = vec![cautions::CLAMP];
        step
    }

    fn stiffness(&self) -> Step {
        let reach = self.last_mark();
        let mut step = self.step(
            TestKind::Stiffness,
            "Stiffness",
            format!(
                "Rotor held by the input lock. Load the lever at a mark up and down in six steps to half the peak, {:.1} N m, each way; dial at the hub's rim or at \
                 {reach:.0} mm on the pointer beside it, not on the lever, which gives by itself.",
                0.5 * self.product.actuator.torques.output
            ),
        );
        match &self.product.feel.stiffness {
            Some(rated) => {
                let [low, high] = rated.band();
                step.expected.push(Expected {
                    what: "torque over angle".into(),
                    unit: "N m/rad",
                    value: rated.output(),
                    low,
                    high,
                });
            }
            None => step.unknown = "The stage is out of the stiffness rating's range.".into(),
        }
        step.parts = vec!["stand", "lever", "pointer", "dial-holder", "input-lock"];
        step.cautions = vec![cautions::CLAMP];
        step
    }

    fn torque(&self) -> Step {
        let circuit = &self.bench.circuit;
        let reach = self.last_mark();
        let expected = CURRENTS.map(|part| {
            let current = part * circuit.current_limit;
            let torque = self.bench.reduction.output(circuit.torque(current));
            let grams = torque / (reach * 1e-3) / GRAVITY * 1e3;
            share(
                format!("{current:.1} A, the scale at {reach:.0} mm ({grams:.0} g)"),
                "N m",
                torque,
                BANDS.torque,
            )
        });
        Step {
            parts: vec!["stand", "lever", "scale-foot"],
            supply: self.limited(CURRENTS[0] * circuit.current_limit)
                + " Raise its limit as the steps need; the drive's current limit in steps with them.",
            expected: expected.to_vec(),
            cautions: vec![cautions::CLAMP, cautions::FIRST, cautions::HOT, cautions::BRAKING],
            ..self.step(
                TestKind::Torque,
                "Torque against current",
                "Foot at a mark on a tared scale, the lever level. Raise the current in steps, then lower it in the same steps; two seconds each, half a minute between. Note current, force, lever.".into(),
            )
        }
    }

    fn free_run(&self) -> Step {
        let mut step = self.step(
            TestKind::FreeRun,
            "Running friction",
            "Output free, no lever. Five speeds up to the highest; note output speed and phase current once it is steady.".into(),
        );
        step.unknown = "Within half of the motor's and the stage's drag, as far as they are given; a trial parts Coulomb from viscous.".into();
        step.supply = self.limited(FIRST * self.bench.circuit.current_limit);
        step.cautions = vec![cautions::FIRST, cautions::PINCH, cautions::BRAKING];
        step
    }

    fn heat(&self) -> Step {
        let mut step = self.step(
            TestKind::Heat,
            "Temperature against time",
            "The lever against a stop, the current that can be held, an hour; then off for half an hour. Every 20 s: time, current, winding (or its resistance), mount, ambient.".into(),
        );
        let held = self
            .product
            .heat
            .as_ref()
            .ok()
            .and_then(|rating| Some((rating, rating.continuous.as_ref().ok()?)));
        match held {
            Some((_, held)) => {
                let row = |what: &str, node: Node| Expected {
                    what: format!(
                        "{what} in the end, at {:.1} A and {:.0} degC around",
                        held.current, self.product.actuator.design.ambient.temperature
                    ),
                    unit: "degC",
                    value: held.temperatures[node as usize],
                    low: held.temperatures[node as usize] - BANDS.temperature,
                    high: held.temperatures[node as usize] + BANDS.temperature,
                };
                step.expected =
                    vec![row("winding", Node::Winding), row("plastic under the motor", Node::Mount)];
                step.supply = format!("{} Stop at the first limit.", self.limited(held.current));
            }
            None => {
                step.unknown = "No current can be held, as predicted: cool the surroundings first.".into()
            }
        }
        step.parts = vec!["stand", "lever"];
        step.cautions = vec![cautions::CLAMP, cautions::HOT];
        step
    }

    fn top_speed(&self) -> Step {
        let mut step = self.step(
            TestKind::TopSpeed,
            "Speed",
            "Output free, no lever. The highest speed that the drive reaches; note output speed and the supply's voltage.".into(),
        );
        let speed = self.product.heat.as_ref().ok().and_then(|rating| {
            let at_rotor = self.bench.circuit.no_load_speed(&rating.supply, rating.network.ambient())?;
            Some(at_rotor / self.bench.reduction.ratio)
        });
        match speed {
            Some(speed) => step.expected.push(share("output speed", "rpm", speed * RPM, BANDS.speed)),
            None => step.unknown = "The drag isn't overcome, as predicted.".into(),
        }
        step.supply = self.limited(FIRST * self.bench.circuit.current_limit);
        step.cautions = vec![cautions::CLAMP, cautions::FIRST, cautions::PINCH, cautions::BRAKING];
        step
    }
}
