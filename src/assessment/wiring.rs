//! The leads of this actuator, and the openings they go through.

use crate::layout::Actuator;
use crate::ratings::heat;
use crate::ratings::wiring::{LeadLoad, opening};

/// Leads and room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wiring {
    pub load: LeadLoad,
    /// American wire gauge; none if the design gives the lead's outside.
    pub gauge: Option<u32>,
    /// Over a lead's insulation \[mm\].
    pub outside: f64,
    /// Areas \[mm2\].
    pub slot: f64,
    pub slot_wanted: f64,
    /// None without a window.
    pub window: Option<f64>,
    pub window_wanted: f64,
    /// From the board to the mount's back \[mm\].
    pub height: f64,
}

/// Phases.
const PHASES: u32 = 3;
/// Two for the supply, two for the bus.
const SUPPLY: u32 = 4;

impl Wiring {
    /// None if no lead carries the current.
    pub fn of(actuator: &Actuator, heat: Option<&heat::Rating>) -> Option<Wiring> {
        let design = &actuator.design;
        let limit = f64::min(design.motor.current_limit, design.controller.current_limit);
        let continuous = heat.and_then(|heat| heat.continuous.as_ref().ok()).map(|held| held.current);
        let peak = heat.and_then(|heat| heat.peak.as_ref()).map(|peak| peak.current);
        let load = LeadLoad {
            // Without an answer the limit itself, the most there can be.
            continuous: continuous.unwrap_or(limit),
            peak: peak.unwrap_or(limit),
            peak_time: design.requirement.peak_time,
        };
        let (gauge, outside) = match design.motor.lead_diameter {
            Some(outside) => (None, outside),
            None => load.lead().map(|wire| (Some(wire.gauge), wire.outside))?,
        };
        let slot = &actuator.mount.wire_slot;
        let window = actuator.base.cable_window.as_ref().map(|window| {
            let roof = (window.width - window.ridge) / 2.0;
            window.width * (window.z[1] - window.z[0]) - roof * roof
        });
        let stations = &actuator.stations;
        Some(Wiring {
            load,
            gauge,
            outside,
            slot: slot.half_angle
                * (slot.outer_radius * slot.outer_radius - slot.inner_radius * slot.inner_radius),
            slot_wanted: opening(PHASES, outside),
            window,
            window_wanted: opening(SUPPLY, outside),
            height: stations.mount_back - stations.board_front,
        })
    }

    /// What runs through.
    pub fn words(&self) -> String {
        let lead = match self.gauge {
            Some(gauge) => format!("AWG {gauge}, {:.1} mm outside", self.outside),
            None => format!("{:.1} mm outside, as given", self.outside),
        };
        format!("Leads {lead}: {:.1} A for hours, {:.1} A at peak", self.load.continuous, self.load.peak)
    }
}
