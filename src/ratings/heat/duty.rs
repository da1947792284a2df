//! A duty: torque and speed over time, from a text, and what it does to the joint.
//!
//! Comma-separated, first line the columns with their units: `time_s,torque_n_m,speed_rpm`, torque and speed at the output.
//! Each row holds until the next one's time; the last one only ends the cycle. The cycle repeats: it is started from
//! the temperatures that its mean heat keeps, so that the trace is that of a cycle in the middle of the day.
//! Rows closer together than a twentieth of the winding's own time constant are taken together by their mean heat.
//! RMS torque is `sqrt(sum T^2 dt / sum dt)`. Not covered: friction at rest, braking power, heat of the gears.

use thiserror::Error;

use super::continuous::Holder;
use super::network::{Heat, Network, Temperatures};
use super::steady::{self, NoSteadyState};
use super::transient::{Hottest, Stop, Unsolved, course, least_room};

/// The columns.
pub const COLUMNS: [&str; 3] = ["time_s", "torque_n_m", "speed_rpm"];
/// Faults beyond this many are only counted.
const MOST_FAULTS: usize = 20;
/// Of the winding's time constant: its temperature moves by less than 5 % of a step within it.
const BLOCK: f64 = 0.05;
const RPM: f64 = std::f64::consts::PI / 30.0;

/// One row: s, N m, rad/s at the output.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    pub line: usize,
    pub time: f64,
    pub torque: f64,
    pub speed: f64,
}

/// What is wrong with a line.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("line {line}: {message}")]
pub struct DutyFault {
    pub line: usize,
    pub message: String,
}

/// All that is wrong with a duty.
#[derive(Clone, Debug, PartialEq)]
pub struct DutyFaults {
    /// The first ones.
    pub faults: Vec<DutyFault>,
    pub more: usize,
}

impl DutyFaults {
    fn push(&mut self, line: usize, message: String) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(DutyFault { line, message });
        } else {
            self.more += 1;
        }
    }
}

impl std::fmt::Display for DutyFaults {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for fault in &self.faults {
            writeln!(f, "{fault}")?;
        }
        if self.more > 0 { writeln!(f, "and {} more", self.more) } else { Ok(()) }
    }
}

impl std::error::Error for DutyFaults {}

/// Reads a duty.
///
/// # Errors
/// All faults by line: columns, numbers that aren't, times that don't rise, fewer than two rows.
pub fn parse(text: &str) -> Result<Vec<Row>, DutyFaults> {
    let mut faults = DutyFaults { faults: Vec::new(), more: 0 };
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .flexible(true)
        .from_reader(text.as_bytes());
    match reader.headers() {
        Ok(found) if found.iter().map(|name| name.trim_start_matches('\u{feff}')).eq(COLUMNS) => {}
        Ok(found) => faults.push(
            1,
            format!(
                "the columns are \"{}\"; expected \"{}\": time in seconds, torque at the output in N m, speed of the \
                 output in turns a minute",
                found.iter().collect::<Vec<_>>().join(","),
                COLUMNS.join(",")
            ),
        ),
        Err(error) => faults.push(1, format!("not a line of columns: {error}")),
    }
    let mut rows: Vec<Row> = Vec::new();
    if faults.faults.is_empty() {
        for record in reader.records() {
            match record {
                Ok(record) => {
                    let line = record.position().map_or(0, |position| position.line() as usize);
                    rows.extend(row(&record, line, &mut faults));
                }
                Err(error) => {
                    let line = error.position().map_or(0, |position| position.line() as usize);
                    faults.push(line, format!("not readable: {error}"));
                }
            }
        }
        order(&rows, &mut faults);
        if rows.len() < 2 {
            faults.push(2, format!("{} sound rows; a duty has at least a beginning and an end", rows.len()));
        }
    }
    if faults.faults.is_empty() { Ok(rows) } else { Err(faults) }
}

fn row(record: &csv::StringRecord, line: usize, faults: &mut DutyFaults) -> Option<Row> {
    if record.len() != COLUMNS.len() {
        faults.push(
            line,
            format!("{} values; expected {}, as in \"12.5,3.2,40\"", record.len(), COLUMNS.len()),
        );
        return None;
    }
    let mut sound = true;
    let mut values = [0.0; 3];
    for ((value, text), column) in values.iter_mut().zip(record).zip(COLUMNS) {
        match text.parse::<f64>() {
            // Beyond a million nothing is meant: a wrong unit, or a slip.
            Ok(number) if number.is_finite() && number.abs() <= 1e9 => *value = number,
            _ => {
                sound = false;
                let hint = if text.is_empty() { "nothing".into() } else { format!("\"{text}\"") };
                faults.push(
                    line,
                    format!("{column} is {hint}; expected a number without a unit, such as 12.5"),
                );
            }
        }
    }
    let [time, torque, speed] = values;
    sound.then_some(Row { line, time, torque, speed: speed * RPM })
}

fn order(rows: &[Row], faults: &mut DutyFaults) {
    for pair in rows.windows(2) {
        let [before, after] = pair else { continue };
        if after.time <= before.time {
            faults.push(
                after.line,
                format!(
                    "time {} s does not follow {} s of line {}: times must rise",
                    after.time, before.time, before.line
                ),
            );
        }
    }
}

/// How the joint stands a duty.
#[derive(Clone, Debug, PartialEq)]
pub struct Duty {
    /// \[s\]
    pub length: f64,
    /// At the output \[N m\].
    pub rms_torque: f64,
    pub peak_torque: f64,
    /// Peak phase current, r.m.s. over the time \[A\].
    pub rms_current: f64,
    /// Hottest of each node \[degC\].
    pub hottest: Temperatures,
    /// Distance to the limits \[K\] and the part that is nearest; negative if it is over.
    pub least_room: f64,
    pub nearest: Hottest,
    /// Lines whose torque is over the current limit.
    pub beyond_current: Vec<usize>,
    /// Time in the cycle \[s\] and temperatures, a row a block.
    pub trace: Vec<(f64, Temperatures)>,
}

impl Duty {
    /// The joint does it for good.
    pub fn holds(&self) -> bool {
        self.least_room >= 0.0 && self.beyond_current.is_empty()
    }
}

/// Why a duty has no answer.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum NoDuty {
    #[error("fewer than two rows")]
    Empty,
    #[error("its mean heat: {0}")]
    NoSteadyState(#[from] NoSteadyState),
    #[error(transparent)]
    Unsolved(#[from] Unsolved),
}

/// Rows with their length \[s\] and current \[A\].
struct Step {
    length: f64,
    current: f64,
    speed: f64,
}

/// Runs a duty of rising times.
///
/// # Errors
/// If its mean heat has no steady state.
pub fn run(holder: &Holder, network: &Network, rows: &[Row]) -> Result<Duty, NoDuty> {
    let mut beyond_current = Vec::new();
    let mut steps = Vec::with_capacity(rows.len());
    let (mut length, mut torque_squared, mut peak_torque) = (0.0, 0.0, 0.0_f64);
    for pair in rows.windows(2) {
        let [row, next] = pair else { continue };
        let lasts = next.time - row.time;
        let current = holder.current(row.torque, row.speed).unwrap_or_else(|| {
            beyond_current.push(row.line);
            holder.circuit.current_limit
        });
        length += lasts;
        torque_squared += row.torque * row.torque * lasts;
        peak_torque = peak_torque.max(row.torque.abs());
        steps.push(Step { length: lasts, current, speed: row.speed });
    }
    if length <= 0.0 {
        return Err(NoDuty::Empty);
    }
    let all = Block::of(holder, &steps);
    let block = BLOCK * network.inputs.winding_to_mount * network.inputs.capacities.winding;
    let mut temperatures = steady::temperatures(network, &all.heat)?;
    let mut trace = vec![(0.0, temperatures)];
    let mut time = 0.0;
    for block in blocks(holder, &steps, block) {
        let course = course(network, temperatures, block.heat, block.length, Stop::Never)?;
        for (&within, &at) in course.times.iter().zip(&course.temperatures).skip(1) {
            trace.push((time + within, at));
            temperatures = at;
        }
        time += block.length;
    }
    let hottest: Temperatures = std::array::from_fn(|node| {
        trace.iter().map(|(_, temperatures)| temperatures[node]).fold(f64::NEG_INFINITY, f64::max)
    });
    let (room, nearest) = least_room(&hottest, &network.inputs.limits);
    Ok(Duty {
        length,
        rms_torque: (torque_squared / length).sqrt(),
        peak_torque,
        rms_current: (all.current_squared / length).sqrt(),
        hottest,
        least_room: room,
        nearest,
        beyond_current,
        trace,
    })
}

/// Time with one mean heat.
struct Block {
    length: f64,
    heat: Heat,
    /// \[A2 s\]
    current_squared: f64,
}

impl Block {
    fn of(holder: &Holder, steps: &[Step]) -> Block {
        let (mut length, mut copper, mut iron, mut current_squared) = (0.0, 0.0, 0.0, 0.0);
        for step in steps {
            let heat = holder.heat(step.current, step.speed);
            length += step.length;
            copper += heat.copper_at_20 * step.length;
            iron += heat.iron * step.length;
            current_squared += step.current * step.current * step.length;
        }
        Block { length, heat: Heat { copper_at_20: copper / length, iron: iron / length }, current_squared }
    }
}

/// Steps taken together until a block is `least` long \[s\]; a longer step is a block of its own.
fn blocks(holder: &Holder, steps: &[Step], least: f64) -> Vec<Block> {
    let mut blocks = Vec::new();
    let (mut first, mut length) = (0, 0.0);
    for (index, step) in steps.iter().enumerate() {
        length += step.length;
        if length >= least || index + 1 == steps.len() {
            blocks.push(Block::of(holder, &steps[first..=index]));
            (first, length) = (index + 1, 0.0);
        }
    }
    blocks
}
