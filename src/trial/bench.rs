//! The joint as predicted, and the shape that the results of all tests share.

use super::columns::{Column, TestKind};
use super::impossible;
use super::least_squares::{self, ENTANGLED, Fit, Model, Problem, interval};
use super::log::Row;
use super::uncertain::Uncertain;
use crate::assessment::back_drive;
use crate::product::Product;
use crate::quantity::{self, Kind};
use crate::ratings::motor::Circuit;
use crate::ratings::motor::speed_map::Reduction;

/// How a value is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    Of(Kind),
    /// With a unit that no key of the design file has; empty for a plain number.
    Unit(&'static str),
}

impl Measure {
    /// With four significant digits.
    pub fn text(self, value: f64) -> String {
        let rounded = |value: f64| format!("{value:.3e}").parse().unwrap_or(value);
        match self {
            // Rounded in the unit it is written in.
            Measure::Of(kind) => {
                let text = quantity::format(value, kind);
                match text.split_once(' ').map(|(number, unit)| (number.parse::<f64>(), unit)) {
                    Some((Ok(number), unit)) => {
                        format!("{} {unit}", quantity::format_number(rounded(number)))
                    }
                    _ => text,
                }
            }
            Measure::Unit(unit) => {
                format!("{} {unit}", quantity::format_number(rounded(value))).trim_end().to_string()
            }
        }
    }
}

/// What is laid along a side of a plot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    pub name: &'static str,
    /// Unit shown, and what a value in it is in internal units.
    pub unit: &'static str,
    pub factor: f64,
}

/// One reading beside its prediction, internal units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    pub line: usize,
    pub x: f64,
    pub measured: f64,
    /// With its band.
    pub predicted: Option<[f64; 3]>,
    pub fitted: Option<f64>,
    /// Not an outlier.
    pub used: bool,
    /// Readings of one colour.
    pub series: usize,
}

/// A quantity that the readings tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Identified {
    pub name: &'static str,
    pub measure: Measure,
    pub value: f64,
    /// Standard error.
    pub error: f64,
    /// Degrees of freedom behind it.
    pub freedom: f64,
    /// Of 95 % confidence.
    pub interval: [f64; 2],
    pub predicted: Option<f64>,
    /// With the outliers in the fit, where there are any.
    pub with_outliers: Option<f64>,
    /// Key of the design file with the text to write.
    pub key: Option<(&'static str, String)>,
}

impl Identified {
    /// An unknown of a fit.
    pub fn of(
        fit: &Fit,
        index: usize,
        name: &'static str,
        measure: Measure,
        predicted: Option<f64>,
    ) -> Identified {
        let value = fit.values.get(index).copied().unwrap_or(f64::NAN);
        let outliers = fit.used.iter().any(|used| !used);
        let with = fit.with_outliers.get(index).copied().filter(|_| outliers);
        Identified {
            with_outliers: with,
            ..Identified::derived(name, measure, value, fit.error(index), fit.freedom, predicted)
        }
    }

    /// From other values, by their errors.
    pub fn derived(
        name: &'static str,
        measure: Measure,
        value: f64,
        error: f64,
        freedom: f64,
        predicted: Option<f64>,
    ) -> Identified {
        let interval = interval(value, error, freedom);
        Identified {
            name,
            measure,
            value,
            error,
            freedom,
            interval,
            predicted,
            with_outliers: None,
            key: None,
        }
    }

    /// To be written under a key of the design file.
    #[must_use]
    pub fn written(mut self, key: &'static str, text: String) -> Identified {
        self.key = Some((key, text));
        self
    }
}

/// How the remark begins on a test without a fit.
pub const NOTHING: &str = "Nothing is identified";

/// A reading that physics rules out.
#[derive(Clone, Debug, PartialEq)]
pub struct Impossible {
    pub line: usize,
    pub why: String,
}

/// All that one kind of test gave.
#[derive(Clone, Debug, PartialEq)]
pub struct TestResult {
    pub kind: TestKind,
    pub x: Axis,
    pub y: Axis,
    /// Names of the series.
    pub series: Vec<&'static str>,
    pub points: Vec<Point>,
    pub identified: Vec<Identified>,
    pub impossible: Vec<Impossible>,
    /// Standard deviation about the fit, in the unit of y.
    pub scatter: Option<f64>,
    /// What to know about it.
    pub remarks: Vec<String>,
}

impl TestResult {
    pub fn new(kind: TestKind, x: Axis, y: Axis) -> TestResult {
        TestResult {
            kind,
            x,
            y,
            series: vec![""],
            points: Vec::new(),
            identified: Vec::new(),
            impossible: Vec::new(),
            scatter: None,
            remarks: Vec::new(),
        }
    }

    /// Readings left out of the fit by the robust rule.
    pub fn outliers(&self) -> impl Iterator<Item = &Point> {
        self.points.iter().filter(|point| !point.used)
    }

    /// How many readings lie in the band of the prediction, of how many with one.
    pub fn within(&self) -> [usize; 2] {
        let judged = self.points.iter().filter_map(|point| Some((point.measured, point.predicted?)));
        judged.fold([0, 0], |[inside, all], (measured, [_, low, high])| {
            [inside + usize::from(measured >= low && measured <= high), all + 1]
        })
    }

    /// Fits a model of all points and notes what it gave; none, with a remark, where there is no fit.
    pub fn fit(
        &mut self,
        start: Vec<f64>,
        scale: Vec<f64>,
        step: f64,
        names: &[&str],
        model: &Model,
    ) -> Option<Fit> {
        let measured: Vec<f64> = self.points.iter().map(|point| point.measured).collect();
        let fit = match least_squares::fit(&Problem { measured: &measured, start, scale, step, model }) {
            Ok(fit) => fit,
            Err(why) => {
                self.remarks.push(format!("{NOTHING}: {why}."));
                return None;
            }
        };
        for ((point, residual), used) in self.points.iter_mut().zip(&fit.residuals).zip(&fit.used) {
            point.fitted = Some(point.measured - residual);
            point.used = *used;
        }
        self.scatter = Some(fit.scatter);
        if fit.out_of_order() {
            self.remarks.push(format!(
                "The readings swing about the fit in an order that chance hardly makes (runs test, z = {:.1}): the model leaves \
                 something out, and the intervals are too narrow.",
                fit.runs.unwrap_or(0.0)
            ));
        }
        for (one, name) in names.iter().enumerate() {
            for (other, other_name) in names.iter().enumerate().skip(one + 1) {
                let alike = fit.correlation(one, other);
                if alike.abs() > ENTANGLED {
                    self.remarks.push(format!(
                        "{name} and {other_name} are hardly told apart (correlation {alike:.3}): trust their joint effect, not each."
                    ));
                }
            }
        }
        Some(fit)
    }
}

/// The joint as predicted, with what earlier tests measured.
pub struct Bench<'a> {
    pub product: &'a Product,
    /// As predicted.
    pub circuit: Circuit,
    pub reduction: Reduction,
    /// Torque constant as measured.
    pub torque_constant: Option<Uncertain>,
    /// Drag of the motor as measured, at the rotor \[N m\].
    pub motor_drag: Option<Uncertain>,
    /// Phase resistance at 20 degC, as measured.
    pub resistance: Option<f64>,
}

impl<'a> Bench<'a> {
    pub fn of(product: &'a Product) -> Bench<'a> {
        let design = &product.actuator.design;
        Bench {
            product,
            circuit: Circuit::of(&design.motor, &design.controller),
            reduction: Reduction {
                ratio: product.actuator.stage.ratio,
                efficiency: design.gearset.efficiency,
            },
            torque_constant: None,
            motor_drag: None,
            resistance: None,
        }
    }

    /// The circuit with what was measured so far.
    pub fn measured_circuit(&self) -> Circuit {
        Circuit {
            torque_constant: self
                .torque_constant
                .map_or(self.circuit.torque_constant, |measured| measured.value),
            resistance: self.resistance.unwrap_or(self.circuit.resistance),
            ..self.circuit
        }
    }

    /// One, with the relative error of the torque constant where that was measured.
    pub fn relative_constant(&self) -> Uncertain {
        self.torque_constant.map_or(Uncertain::known(1.0), |measured| measured.scaled(1.0 / measured.value))
    }

    /// Drag at the rotor of the joint turning freely, as predicted \[N m\]: the motor's own and the stage's.
    pub fn friction(&self) -> f64 {
        let actuator = &self.product.actuator;
        let stage = back_drive::efficiency(actuator)
            .map_or(0.0, |efficiency| actuator.torques.drag / (self.reduction.ratio * efficiency.forward));
        self.circuit.drag_torque + stage
    }

    /// Sound rows, and a result that holds the rest.
    pub fn sorted(&self, rows: Vec<Row>, mut result: TestResult) -> (Vec<Row>, TestResult) {
        let mut sound = Vec::with_capacity(rows.len());
        for row in rows {
            match impossible::why(self, &row) {
                Some(why) => result.impossible.push(Impossible { line: row.line, why }),
                None => sound.push(row),
            }
        }
        (sound, result)
    }
}

/// A share of the value to either side.
pub fn share(value: f64, band: f64) -> [f64; 3] {
    let reach = value.abs() * band;
    [value, value - reach, value + reach]
}

/// One point of a test with a single series.
pub fn point(row: &Row, x: f64, measured: f64, predicted: Option<[f64; 3]>) -> Point {
    Point { line: row.line, x, measured, predicted, fitted: None, used: true, series: 0 }
}

/// A column that its test needs: the log is refused without it.
pub fn needed(row: &Row, column: Column) -> f64 {
    row.get(column).unwrap_or(f64::NAN)
}

/// As above.
pub fn torque(row: &Row) -> f64 {
    row.torque().unwrap_or(f64::NAN)
}

/// Values of the picked readings; the fit picks none beyond their number.
pub fn picked<'a>(values: &'a [f64], picks: &'a [usize]) -> impl Iterator<Item = f64> + 'a {
    picks.iter().filter_map(|pick| values.get(*pick).copied())
}
