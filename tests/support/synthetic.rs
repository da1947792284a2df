//! Readings of a bench, made up: noise that is the same everywhere, and a long log.

use hubwright::product::Product;
use hubwright::ratings::heat::Network;
use hubwright::ratings::heat::network::{Heat, Node, Temperatures};
use hubwright::ratings::heat::transient::{Stop, course};
use hubwright::ratings::motor::losses::copper_loss;

/// Splitmix64 (S. Vigna, public domain), normal numbers by Box and Muller: the same readings everywhere.
pub struct Noise(pub u64);

impl Noise {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn normal(&mut self, deviation: f64) -> f64 {
        let radius = (-2.0 * libm::log(1.0 - self.uniform())).sqrt();
        deviation * radius * libm::cos(2.0 * std::f64::consts::PI * self.uniform())
    }
}

/// Temperatures every `step` \[s\] from cold: under a current for `held` steps, then without, `steps` in all.
pub fn temperatures(
    network: &Network,
    resistance: f64,
    current: f64,
    [held, steps]: [usize; 2],
    step: f64,
) -> Vec<Temperatures> {
    let mut at = network.cold();
    let mut all = vec![at];
    for index in 1..steps {
        let current = if index <= held { current } else { 0.0 };
        let heat = Heat { copper_at_20: copper_loss(current, resistance), iron: 0.0, rotor_speed: 0.0 };
        at = *course(network, at, heat, step, Stop::Never).expect("solved").end().expect("end").1;
        all.push(at);
    }
    all
}

/// A log of `rows` readings: half heat at ten a second, half torque, up and down in steps of an ampere. The joint differs from the prediction:
/// a quarter more heat capacity of the winding, a tenth less torque.
pub fn long_log(product: &Product, rows: usize) -> String {
    const STEP: f64 = 10.0;
    const READINGS_A_STEP: usize = 100;
    let rating = product.heat.as_ref().expect("heat");
    let network = rating.network.changed(|inputs| inputs.capacities.winding *= 1.25);
    let motor = &product.actuator.design.motor;
    let steps = rows / 2 / READINGS_A_STEP + 2;
    let course = temperatures(&network, motor.phase_resistance, 9.0, [steps, steps], STEP);
    let per_ampere = 0.9 * rating.reduction.output(rating.circuit.torque_constant);
    let top = motor.current_limit.floor() as usize;
    let mut noise = Noise(1);
    let mut text = String::from(
        "test, time [s], current [A], winding [degC], mount [degC], ambient [degC], torque [N m]\n",
    );
    for index in 0..rows / 2 {
        let (knot, part) =
            (index / READINGS_A_STEP, (index % READINGS_A_STEP) as f64 / READINGS_A_STEP as f64);
        let [winding, mount] = [Node::Winding, Node::Mount].map(|node| {
            let [from, to] = [course[knot], course[knot + 1]].map(|at| at[node as usize]);
            from + part * (to - from) + noise.normal(0.3)
        });
        let time = index as f64 * STEP / READINGS_A_STEP as f64;
        text.push_str(&format!("heat,{time},9,{winding:.2},{mount:.2},{},\n", network.ambient()));
        let place = index % (2 * top);
        let current = if place <= top { place } else { 2 * top - place } as f64;
        let lost = motor.saturation * (current / motor.current_limit).powi(2);
        let torque = per_ampere * current * (1.0 - lost) + noise.normal(0.05);
        text.push_str(&format!("torque,,{current},,,,{torque:.3}\n"));
    }
    text
}
