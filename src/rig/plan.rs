//! What to measure on the rig, in order: how, with which supply, what to expect, what to beware of, and how to note it for `trial`.
//!
//! Limits are the predictions of the design with the bands of a trial: the same numbers as in the report.

use crate::cautions;
use std::f64::consts::PI;

use super::sizes::Sizes;
use crate::assessment::back_drive::back_drive;
use crate::product::Product;
use crate::ratings::heat::network::{Heat, Node};
use crate::ratings::heat::transient::{Hottest, time_to_limit};
use crate::ratings::motor::constants::kv_line_peak;
use crate::ratings::motor::losses::{copper_loss, resistance_ratio};
use crate::ratings::motor::scale::GRAVITY;
use crate::trial::columns::TestKind;
use crate::trial::{BANDS, Bench};

const RPM: f64 = 30.0 / PI;
/// Share of the current limit for first tries (common practice, no source).
const FIRST: f64 = 0.1;
/// Shares of the current that makes the peak torque: the rig is rated for that.
const CURRENTS: [f64; 5] = [0.1, 0.25, 0.5, 0.75, 1.0];
/// Over the current that a test is predicted to draw, and the least that keeps a drive awake \[A\] (common practice, no source).
const IN_HAND: f64 = 1.5;
const LEAST_LIMIT: f64 = 0.5;
/// From which heights of voltage a touch is dangerous: 60 V direct (IEC 61140, from memory).
const TOUCH: f64 = 60.0;
/// Longest time looked ahead for a limit \[s\].
const LONGEST: f64 = 600.0;

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

/// Highest torque of the stiffness test \[N m\].
pub fn twist(product: &Product, sizes: &Sizes) -> f64 {
    Frame { product, sizes, bench: Bench::of(product) }.twist()
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

    /// A supply for a power \[W\] that the test is predicted to take, its limit over that by half.
    fn limited(&self, power: f64) -> String {
        let voltage = self.product.actuator.design.controller.bus_voltage;
        let current = f64::max(IN_HAND * power / voltage, LEAST_LIMIT);
        format!(
            "Bench supply at {voltage:.0} V, its own limit at {current:.1} A ({power:.1} W are predicted, and what the drive draws at rest)."
        )
    }

    /// Heat of the windings at rest \[W\], as warm as they may be.
    fn stalled(&self, current: f64) -> f64 {
        let warm = resistance_ratio(self.product.actuator.design.motor.winding_limit);
        copper_loss(current, self.bench.circuit.resistance) * warm
    }

    /// Power \[W\] to turn the joint freely, at a share of its highest speed; that of the motor alone without a stage.
    fn turning(&self) -> f64 {
        let speed = self.top_speed_at_rotor().unwrap_or(0.0);
        self.bench.friction() * speed
    }

    /// \[rad/s\]
    fn top_speed_at_rotor(&self) -> Option<f64> {
        let rating = self.product.heat.as_ref().ok()?;
        self.bench.circuit.no_load_speed(&rating.supply, rating.network.ambient())
    }

    fn last_mark(&self) -> f64 {
        self.sizes.lever.marks.last().copied().unwrap_or(self.sizes.lever.length)
    }

    /// How lever, stand and scale stand together, for all tests that push.
    fn on_the_scale(&self) -> String {
        let (stand, foot) = (&self.sizes.stand, &self.sizes.foot);
        format!(
            "The stand on the bench's edge, the actuator over its top; foot at a mark, packed up until the lever is level (its underside is {:.0} mm over the bench).",
            stand.axis_height - foot.diameter / 2.0
        )
    }

    fn resistance(&self) -> Step {
        let value = self.bench.circuit.resistance;
        let first = FIRST * self.bench.circuit.current_limit;
        Step {
            supply: format!("Bench supply as a current source: {:.1}, {:.1} and {first:.1} A, a few seconds each.", first / 3.0, first / 1.5),
            expected: vec![share("voltage over current, half of it", "ohm", value, BANDS.sheet)],
            cautions: vec![cautions::FIRST, cautions::PINCH, cautions::HOT],
            ..self.step(
                TestKind::Resistance,
                "Phase resistance",
                "Motor at room temperature, leads off the drive; the rotor turns a little as the current comes on. A direct current through two leads; note current, \
                 ambient, and the voltage by wires of its own at the motor's leads, not at the supply's terminals. All three pairs."
                    .into(),
            )
        }
    }

    fn spin(&self) -> Step {
        let motor = &self.product.actuator.design.motor;
        let kv = kv_line_peak(motor.kv, motor.kv_is);
        let fastest = kv * f64::min(self.product.actuator.design.controller.bus_voltage, TOUCH);
        Step {
            expected: vec![share("rotor speed over peak voltage between leads", "rpm/V", kv, BANDS.sheet)],
            cautions: vec![cautions::CLAMP, cautions::PINCH],
            ..self.step(
                TestKind::Spin,
                "Kv",
                format!(
                    "Motor alone, leads open and apart. Turn its rotor at three speeds, by a drill with a rubber wheel against the bell, not over {:.0} rpm: there the leads have {:.0} V. \
                     Note rotor speed (by the frequency: 60 f over pole pairs, {:.0} here) and the peak voltage between two leads (a meter on AC shows it over the square root of two).",
                    hundreds(fastest),
                    hundreds(fastest) / kv,
                    motor.pole_pairs
                ),
            )
        }
    }

    fn cogging(&self) -> Step {
        let mut step = self.step(
            TestKind::Cogging,
            "Cogging",
            format!(
                "Motor alone, leads open. A thread round the bell, pulled by a hanging scale at a right angle; note the force at which the rotor snaps over, and as lever the \
                 bell's radius ({:.1} mm by the file), at ten places.",
                self.product.actuator.design.motor.outer_diameter / 2.0
            ),
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
            supply: self.limited(value * self.product.actuator.design.controller.bus_voltage),
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
            parts: vec!["stand", "lever"],
            unknown: "No rating predicts friction at rest; more than twice the back-drive torque means a rub.".into(),
            cautions: vec![cautions::CLAMP, cautions::FALLS],
            ..self.step(
                TestKind::BreakAway,
                "Static friction",
                "Leads open. Pull the lever at a mark by a hanging scale, at a right angle and slowly, until it begins to move: force and lever, at eight places, up and down by \
                 turns, so that the lever's own weight drops out of the mean."
                    .into(),
            )
        }
    }

    fn back_driving(&self) -> Step {
        let mut step = self.step(
            TestKind::BackDrive,
            "Back-drive",
            "Leads open. Pull the lever evenly through a quarter turn by a hanging scale at a mark, the pull at a right angle: note force and lever while it moves, ten times, up \
             and down by turns."
                .into(),
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

    /// How the rotor is held, for what needs it.
    fn rotor_held(&self) -> &'static str {
        if self.sizes.lock.is_some() {
            "Power off. Open the service joint, unscrew the adapter from the rotor, and put the input lock in the place of base and motor: stand, lock, adapter, housing, each by its own screws."
        } else {
            "The drive holds the rotor at its place, at a tenth of the current limit."
        }
    }

    fn backlash(&self) -> Step {
        let reach = self.sizes.lever.tail;
        let mut step = self.step(
            TestKind::Backlash,
            "Backlash at four places",
            format!(
                "{} Pointer upright on the output, the dial's plunger level against its mark, {reach:.0} mm from the axis; rock it lightly between the stops. Angle is the dial's \
                 travel over {reach:.0} mm (in rad). Again after each quarter turn of the output: take the pointer's screws out and turn the output under it. No play at all is a bind: feel for it \
                 over a whole turn.",
                self.rotor_held()
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
        step.cautions = vec![cautions::CLAMP, cautions::PINCH];
        self.without_lock(step)
    }

    /// Where the rotor is held by the drive, the lock is no part and the supply is on.
    fn without_lock(&self, mut step: Step) -> Step {
        if self.sizes.lock.is_none() {
            step.parts.retain(|part| *part != "input-lock");
            step.supply = self.limited(self.stalled(FIRST * self.bench.circuit.current_limit));
            step.cautions.push(cautions::FIRST);
        }
        step
    }

    /// Highest torque of the stiffness test \[N m\]: half the peak, and under what would let the lever settle in its holes.
    fn twist(&self) -> f64 {
        let joint = &self.product.actuator.joints.output;
        let half = 0.5 * self.product.actuator.torques.output;
        let held = self.product.joints.find(joint.joint).and_then(|rating| rating.friction(joint));
        held.map_or(half, |held| half.min(held / self.product.actuator.design.limits.service_factor))
    }

    fn stiffness(&self) -> Step {
        let (reach, twist) = (self.sizes.lever.tail, self.twist());
        let mark = self.last_mark();
        let mut step = self.step(
            TestKind::Stiffness,
            "Stiffness",
            format!(
                "{} Lever level, its tail upright, the dial's plunger level against the tail's mark, {reach:.0} mm from the axis: the tail shows the output's turn, the lever itself \
                 bends. Pull by a hanging scale at {mark:.0} mm, up and down, in six steps to {twist:.2} N m ({:.0} g): more would let the lever settle in its holes. Angle is the \
                 dial's travel over {reach:.0} mm (in rad).",
                self.rotor_held(),
                grams(twist, mark)
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
                step.expected.push(Expected {
                    what: format!("on the dial at {twist:.2} N m, half the backlash to take off"),
                    unit: "mm",
                    value: reach * twist / rated.output(),
                    low: reach * twist / high,
                    high: reach * twist / low,
                });
            }
            None => step.unknown = "The stage is out of the stiffness rating's range.".into(),
        }
        step.parts = vec!["stand", "lever", "dial-holder", "input-lock"];
        step.cautions = vec![cautions::CLAMP];
        self.without_lock(step)
    }

    /// Current \[A\] that makes the peak torque, or all there is.
    fn peak_current(&self) -> f64 {
        let circuit = &self.bench.circuit;
        let wanted = self.bench.reduction.rotor(self.product.actuator.torques.output);
        circuit.current(wanted).map_or(circuit.current_limit, |current| current.min(circuit.current_limit))
    }

    /// How long a current may flow from cold, in words; nothing where it can be held.
    fn limit_in_time(&self, current: f64) -> Option<String> {
        let rating = self.product.heat.as_ref().ok()?;
        let copper_at_20 = copper_loss(current, self.bench.circuit.resistance);
        let heat = Heat { copper_at_20, ..Heat::NONE };
        let network = &rating.network;
        let (time, hottest) = time_to_limit(network, network.cold(), heat, LONGEST).ok().flatten()?;
        let what = match hottest {
            Hottest::Winding => "winding",
            Hottest::Plate => "plastic under the motor",
            Hottest::Wall => "plastic around the motor",
        };
        Some(format!(
            "from cold the {what} is at its limit after {time:.0} s at {current:.1} A, as predicted"
        ))
    }

    fn torque(&self) -> Step {
        let circuit = &self.bench.circuit;
        let (reach, peak) = (self.last_mark(), self.peak_current());
        let expected = CURRENTS.map(|part| {
            let current = part * peak;
            let torque = self.bench.reduction.output(circuit.torque(current));
            let what = format!("{current:.1} A, the scale at {reach:.0} mm ({:.0} g)", grams(torque, reach));
            share(what, "N m", torque, BANDS.torque)
        });
        let limits = self.limit_in_time(peak).map_or(String::new(), |words| format!(" Take care: {words}."));
        Step {
            parts: vec!["stand", "lever", "scale-foot"],
            supply: format!(
                "First as for a tenth: {} Then as for all of it: {}",
                self.limited(self.stalled(CURRENTS[0] * peak)),
                self.limited(self.stalled(peak))
            ),
            expected: expected.to_vec(),
            cautions: vec![cautions::CLAMP, cautions::FIRST, cautions::HOT, cautions::BRAKING],
            ..self.step(
                TestKind::Torque,
                "Torque against current",
                format!(
                    "{} Scale tared with the foot on it. Torque control; raise the current in steps, then lower it in the same steps, not over {peak:.1} A, which makes the peak torque that the \
                     rig is rated for; two seconds each, half a minute between. Note current, force, lever.{limits}",
                    self.on_the_scale()
                ),
            )
        }
    }

    fn free_run(&self) -> Step {
        let mut step = self.step(
            TestKind::FreeRun,
            "Running friction",
            "Output free, no lever. Five speeds up to the highest; note output speed and phase current once it is steady.".into(),
        );
        match self.bench.circuit.current(self.bench.friction()) {
            Some(current) => step.expected.push(share(
                "phase current while the drag is as given or guessed",
                "A",
                current,
                BANDS.friction,
            )),
            None => step.unknown = "The drag isn't overcome, as predicted.".into(),
        }
        step.supply = self.limited(self.turning());
        step.cautions = vec![cautions::CLAMP, cautions::FIRST, cautions::PINCH, cautions::BRAKING];
        step
    }

    fn heat(&self) -> Step {
        let mut step = self.step(
            TestKind::Heat,
            "Temperature against time",
            "The lever against a block in place of the scale, in torque control the current that can be held, for an hour; then off for half an hour. From cold, every 20 s: time, current, winding \
             (or its resistance), mount, ambient."
                .into(),
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
                let design = &self.product.actuator.design;
                step.supply = self.limited(self.stalled(held.current));
                step.how.push_str(&format!(
                    " Stop when the winding is at {:.0} degC or the mount, and so the plastic on it, at {:.0} degC.",
                    design.motor.winding_limit, self.plastic_limit()
                ));
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
        let speed = self.top_speed_at_rotor().map(|at_rotor| at_rotor / self.bench.reduction.ratio);
        match speed {
            Some(speed) => step.expected.push(share("output speed", "rpm", speed * RPM, BANDS.speed)),
            None => step.unknown = "The drag isn't overcome, as predicted.".into(),
        }
        step.supply = self.limited(self.turning());
        step.cautions = vec![cautions::CLAMP, cautions::FIRST, cautions::PINCH, cautions::BRAKING];
        step
    }

    /// Of what prints under the motor \[degC\].
    fn plastic_limit(&self) -> f64 {
        self.product.heat.as_ref().map_or(f64::NAN, |rating| rating.network.inputs.limits.plate)
    }
}

/// What a scale shows \[g\] of a torque \[N m\] at a lever \[mm\].
pub fn grams(torque: f64, lever: f64) -> f64 {
    torque / (lever * 1e-3) / GRAVITY * 1e3
}

fn hundreds(value: f64) -> f64 {
    (value / 100.0).floor().max(1.0) * 100.0
}
