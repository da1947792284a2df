//! Calibration in order, each step with its caution.

use crate::cautions;
use crate::product::Product;

/// Shares of the current limit for the first tries (common practice, no source).
const FIRST_CURRENT: f64 = 0.1;

pub(super) fn steps(made: &Product) -> Vec<[String; 2]> {
    let actuator = &made.actuator;
    let design = &actuator.design;
    let (motor, controller) = (&design.motor, &design.controller);
    let limit = f64::min(motor.current_limit, controller.current_limit);
    let first = FIRST_CURRENT * limit;
    let pole_pairs = motor.pole_pairs;
    let counts = 1_u64 << controller.encoder.bits.min(63);
    let step = |title: &str, text: String| [title.to_string(), text];
    let mut steps = vec![
        step("Clamp it", format!("Output free, no lever on. {} {}", cautions::CLAMP, cautions::PINCH)),
        step("Measure", format!("Power off: {:.3} ohm between any two leads, none to the housing.", 2.0 * motor.phase_resistance)),
        step("Supply", format!("A bench supply with its current limit at {:.0} A or less, {:.0} V; not the battery yet.", first.ceil(), controller.bus_voltage)),
        step("Limits first", format!("Type in current limit {first:.1} A for now, supply trips, overspeed, watchdog. Pull the command cable: torque must go away.")),
        step("Encoder", format!("Turn the rotor by hand: {counts} counts a turn, no jumps. Positive is the way that the output shall call positive: rotor and output turn the same way.")),
        step("Current loop", "Gains as in the table; a step of current in one phase must settle without ringing.".into()),
        step("Electrical zero", format!("Hold {first:.1} A along the field: the rotor snaps by up to {:.1} deg. Go once round both ways and take the mean. {pole_pairs} electrical turns make one of the rotor; if not, the pole pairs are wrong.", 180.0 / f64::from(pole_pairs))),
        step("Sign", format!("A torque of {:.2} A, positive: the rotor must turn the positive way, gently. If it locks, hums or runs away, swap two leads or the encoder's sign, and begin again at the encoder.", first / 2.0)),
        step("Table of corrections", "If the drive has one: turn slowly both ways and store the encoder's error; expect two waves a turn.".into()),
        step("Springs", "Soft first, the output still free. Push it by hand and let go. Then medium, then stiff; buzzing means back to the last good one.".into()),
        step("Limits for work", format!("Current limit {limit:.1} A, heat model on, continuous limit as in the table. {}", cautions::HOT)),
    ];
    if let Some(text) = lever(made, limit) {
        steps.push(step("Torque", text));
    }
    steps.push(step("Battery", format!("{} {}", cautions::LITHIUM, cautions::BRAKING)));
    steps.push(step("Load", "The real arm last, low above a soft stop, with the soft spring.".into()));
    steps
}

/// What a scale under the lever must show.
fn lever(made: &Product, limit: f64) -> Option<String> {
    /// Of the current limit.
    const SHARE: f64 = 0.25;
    let arm = made.actuator.design.load.arm;
    let rating = made.heat.as_ref().ok()?;
    let current = SHARE * limit;
    let torque = rating.holder().torque(current, 0.0);
    (arm > 0.0 && torque > 0.0).then(|| {
        format!(
            "Lever of {arm:.0} mm on a scale, pushing down, nobody in its plane: {current:.1} A must read about {:.0} g ({torque:.2} N m), within 10 %.",
            torque / (arm * 1e-3) / crate::ratings::spring::impact::GRAVITY * 1e3
        )
    })
}

pub(super) fn notes(made: &Product) -> Vec<String> {
    let mut notes = vec![
        cautions::FALLS.to_string(),
        format!("{} Measure, then type in what was measured.", cautions::ESTIMATE),
    ];
    if made.actuator.design.motor.phase_inductance.is_none() {
        notes.push(
            "Without motor.phase_inductance there is no proportional gain: let the drive measure it."
                .to_string(),
        );
    }
    if made.actuator.design.motor.cogging_torque.is_none() {
        notes.push("Cogging isn't in the errors: motor.cogging_torque isn't given.".to_string());
    }
    notes
}
