//! A cycloidal disc stage: fixed ring of pins, disc on an eccentric, output pins. For comparison with a planetary stage.
//!
//! Profile: disc of `N - 1` lobes rolling in `N` pins, shortened epitrochoid (formulas from memory; proved by the distance
//! of the disc to every pin while it turns). Forces: no friction, equal contact stiffness; all contact normals pass through
//! the pitch point at `E N` from the middle, on the line of the eccentricity; `F_i = M l_i / sum l^2` with the levers about
//! the disc's centre `l_i = E zc sin psi_i` over the pins that can push (after Kudrijavcev and Malhotra; from memory, the
//! statics derived). Output pins: `Q_j = M y_j / sum y^2`. Losses (derived): sliding on ring pins that don't turn, and in
//! the output holes.
//!
//! Range: one disc, `E N / R` under 1, pins under the least convex radius. Not covered: clearances (fewer pins then
//! carry), wear, churning, bearing losses.
//!
//! Lengths mm, forces N, moments N mm, angles rad.

use std::f64::consts::{PI, TAU};

/// Sizes of a stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cycloidal {
    /// Radius of the circle of ring pins.
    pub pin_circle: f64,
    pub pin_radius: f64,
    pub eccentricity: f64,
    /// Ring pins `N`; the disc has one lobe less.
    pub pins: u32,
    pub output_pins: u32,
    /// Radius of the circle of output pins.
    pub output_circle: f64,
}

/// Forces under a moment on the disc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forces {
    /// Ring pins that push.
    pub loaded: u32,
    pub largest_pin: f64,
    /// Along the line of eccentricity, all ring pins.
    pub along: f64,
    /// Across it: `M / (E zc)` whatever the sharing.
    pub across: f64,
    pub largest_output_pin: f64,
    pub output_pins: f64,
    pub eccentric_bearing: f64,
    /// Loss over output power per unit of friction: at ring pins that don't turn, and at output pins.
    pub losses: [f64; 2],
}

impl Cycloidal {
    pub fn lobes(&self) -> u32 {
        self.pins.saturating_sub(1)
    }

    /// Input over output speed, ring fixed; the output turns the other way.
    pub fn ratio(&self) -> f64 {
        f64::from(self.lobes())
    }

    /// `E N / R`: how much the epitrochoid is shortened; under 1.
    pub fn shortening(&self) -> f64 {
        self.eccentricity * f64::from(self.pins) / self.pin_circle
    }

    pub fn disc_outer_radius(&self) -> f64 {
        self.pin_circle - self.pin_radius + self.eccentricity
    }

    /// A point of the disc's profile at the parameter \[rad\], in the disc's own frame.
    pub fn profile(&self, parameter: f64) -> [f64; 2] {
        let pins = f64::from(self.pins);
        let (circle, radius, eccentricity) = (self.pin_circle, self.pin_radius, self.eccentricity);
        let turned = (1.0 - pins) * parameter;
        let psi = libm::atan2(libm::sin(turned), circle / (eccentricity * pins) - libm::cos(turned));
        [
            circle * libm::cos(parameter)
                - radius * libm::cos(parameter + psi)
                - eccentricity * libm::cos(pins * parameter),
            -circle * libm::sin(parameter)
                + radius * libm::sin(parameter + psi)
                + eccentricity * libm::sin(pins * parameter),
        ]
    }

    /// Least radius of the pin centres' path where it is convex; the pins must be thinner. None if it nowhere is, or out
    /// of range.
    pub fn least_convex_radius(&self) -> Option<f64> {
        const STEPS: u32 = 20_000;
        let (pins, shortening) = (f64::from(self.pins), self.shortening());
        if self.pins < 3 || !(shortening > 0.0 && shortening < 1.0) {
            return None;
        }
        // rho = R (1 + K^2 - 2 K cos)^(3/2) / (1 + K^2 N - K (1 + N) cos) over one lobe.
        (0..=STEPS)
            .filter_map(|step| {
                let cosine = libm::cos(PI * f64::from(step) / f64::from(STEPS));
                let bend = 1.0 + shortening * shortening * pins - shortening * (1.0 + pins) * cosine;
                let length = 1.0 + shortening * shortening - 2.0 * shortening * cosine;
                (bend > 0.0).then(|| self.pin_circle * length * length.sqrt() / bend)
            })
            .reduce(f64::min)
    }

    /// Forces under a moment \[N mm\]; `turn` is the angle of the first ring pin from the line of eccentricity, the output
    /// pins stand at half a pitch from it. None out of range.
    pub fn forces(&self, moment: f64, turn: f64) -> Option<Forces> {
        let shortening = self.shortening();
        if self.pins < 3
            || self.output_pins < 2
            || !(shortening > 0.0 && shortening < 1.0)
            || self.output_circle <= 0.0
        {
            return None;
        }
        let (pins, lobes) = (f64::from(self.pins), f64::from(self.lobes()));
        let pitch_point = self.eccentricity * pins;
        // Unit normals from the pins to the pitch point, and levers about the disc's centre.
        let contacts: Vec<(f64, [f64; 2], f64)> = (0..self.pins)
            .map(|index| {
                let angle = turn + TAU * f64::from(index) / pins;
                let [x, y] =
                    [pitch_point - self.pin_circle * libm::cos(angle), -self.pin_circle * libm::sin(angle)];
                let distance = libm::hypot(x, y);
                let normal = [x / distance, y / distance];
                // The pitch point lies E zc beyond the disc's centre.
                (self.eccentricity * lobes * normal[1], normal, distance)
            })
            // Rounding at the line of eccentricity itself is no lever.
            .filter(|(lever, ..)| *lever > 1e-9 * self.eccentricity)
            .collect();
        let squares: f64 = contacts.iter().map(|(lever, ..)| lever * lever).sum();
        let force = |lever: f64| moment * lever / squares;
        let largest_pin = contacts.iter().map(|(lever, ..)| force(*lever)).fold(0.0, f64::max);
        let along: f64 = contacts.iter().map(|(lever, normal, _)| force(*lever) * normal[0]).sum();
        let across: f64 = contacts.iter().map(|(lever, normal, _)| force(*lever) * normal[1]).sum();
        let sliding: f64 =
            contacts.iter().map(|(lever, _, distance)| force(*lever) * (distance - self.pin_radius)).sum();
        let count = f64::from(self.output_pins);
        let levers: Vec<f64> = (0..self.output_pins)
            .map(|index| self.output_circle * libm::sin(TAU * (f64::from(index) + 0.5) / count))
            .filter(|lever| *lever > 1e-9 * self.output_circle)
            .collect();
        let output_squares: f64 = levers.iter().map(|lever| lever * lever).sum();
        let output_force = |lever: f64| moment * lever / output_squares;
        let output_pins: f64 = levers.iter().map(|lever| output_force(*lever)).sum();
        Some(Forces {
            loaded: contacts.len() as u32,
            largest_pin,
            along,
            across,
            largest_output_pin: levers.iter().map(|lever| output_force(*lever)).fold(0.0, f64::max),
            output_pins,
            eccentric_bearing: libm::hypot(along.abs() + output_pins, across),
            losses: [sliding / moment, pitch_point * output_pins / moment],
        })
    }
}

impl Forces {
    /// Efficiency with plain pins of this friction coefficient.
    pub fn efficiency(&self, friction: f64) -> f64 {
        1.0 / (1.0 + friction * (self.losses[0] + self.losses[1]))
    }

    /// Backwards: the same losses out of the power that comes in at the output; none if they take all of it.
    pub fn efficiency_back(&self, friction: f64) -> Option<f64> {
        let back = 1.0 - friction * (self.losses[0] + self.losses[1]);
        (back > 0.0).then_some(back)
    }
}
