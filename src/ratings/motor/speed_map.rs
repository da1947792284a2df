//! Torque over speed at the output, and what limits it at each speed.
//!
//! `T_out = (T_rotor - T_drag) i eta` while turning; at rest the drag isn't taken off, since it holds as often as it
//! hinders, and friction at rest isn't known. Up to the corner speed the current limits, beyond it the voltage, or what
//! the supply gives. Range: as [`circuit`](super::circuit); efficiency constant over load and speed. The winding
//! temperature is the caller's: a hot one reaches less.

use super::circuit::{Circuit, LimitedBy, Supply};

/// What lies between rotor and output.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reduction {
    /// Rotor's turns over the output's.
    pub ratio: f64,
    /// Share of the torque that arrives, 0 to 1.
    pub efficiency: f64,
}

impl Reduction {
    /// Torque at the output \[N m\] from that at the rotor.
    pub fn output(&self, rotor_torque: f64) -> f64 {
        rotor_torque * self.ratio * self.efficiency
    }

    /// Torque at the rotor \[N m\] that gives one at the output.
    pub fn rotor(&self, output_torque: f64) -> f64 {
        output_torque / (self.ratio * self.efficiency)
    }
}

/// One point of the map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapPoint {
    /// Of the output \[rad/s\].
    pub speed: f64,
    /// Most torque at the output \[N m\].
    pub torque: f64,
    /// Peak phase current for it \[A\].
    pub current: f64,
    /// Drawn from the supply \[A\].
    pub supply_current: f64,
    pub limited_by: LimitedBy,
}

/// The map with its landmarks, speeds of the output \[rad/s\].
#[derive(Clone, Debug, PartialEq)]
pub struct SpeedMap {
    /// With drag, sag and reserve; none if the drag isn't overcome.
    pub no_load_speed: Option<f64>,
    /// By Kv alone: an upper bound.
    pub ideal_no_load_speed: f64,
    /// To which the full current is reached; none if not even at rest.
    pub corner_speed: Option<f64>,
    /// By resistance alone: an upper bound.
    pub ideal_corner_speed: Option<f64>,
    /// From rest to the no-load speed, evenly spaced.
    pub points: Vec<MapPoint>,
}

/// The map with `count` points, at a winding temperature \[degC\].
pub fn speed_map(
    circuit: &Circuit,
    supply: &Supply,
    reduction: &Reduction,
    temperature: f64,
    count: usize,
) -> SpeedMap {
    let at_output = |speed: f64| speed / reduction.ratio;
    let no_load = circuit.no_load_speed(supply, temperature);
    let last = count.saturating_sub(1).max(1) as f64;
    let points = no_load.map_or(Vec::new(), |top| {
        (0..count)
            .map(|index| {
                map_point(circuit, supply, reduction, temperature, at_output(top * index as f64 / last))
            })
            .collect()
    });
    SpeedMap {
        no_load_speed: no_load.map(at_output),
        ideal_no_load_speed: at_output(circuit.ideal_no_load_speed(supply)),
        corner_speed: circuit.highest_speed(supply, circuit.current_limit, temperature).map(at_output),
        ideal_corner_speed: circuit.ideal_corner_speed(supply, circuit.current_limit).map(at_output),
        points,
    }
}

/// The most torque at an output speed \[rad/s\].
pub fn map_point(
    circuit: &Circuit,
    supply: &Supply,
    reduction: &Reduction,
    temperature: f64,
    speed: f64,
) -> MapPoint {
    let at_rotor = speed * reduction.ratio;
    let (current, limited_by) = circuit.most_current(supply, at_rotor, temperature);
    let drag = if speed > 0.0 { circuit.drag_torque } else { 0.0 };
    let drawn = circuit.reach(supply, current, at_rotor, temperature);
    MapPoint {
        speed,
        torque: reduction.output((circuit.torque(current) - drag).max(0.0)),
        current,
        supply_current: drawn.map_or(0.0, |point| point.supply_current),
        limited_by,
    }
}
