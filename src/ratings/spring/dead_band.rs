//! What a dead band leaves of a stiffness: describing function of a spring with play (textbook, from memory).
//!
//! For a swing of amplitude A about the middle of a play 2 h, as a share of the full stiffness:
//! `N(A) = 1 - (2 / pi) (asin(h / A) + (h / A) sqrt(1 - (h / A)^2))`, 0 inside the play. Range: sinusoidal swings without load;
//! a load that keeps the teeth on one flank takes the play away. Not covered: bounce at the flanks.

use std::f64::consts::PI;

/// N(A) of the whole `play` (2 h) and an amplitude of the same unit.
pub fn share(play: f64, amplitude: f64) -> f64 {
    let half = play / 2.0;
    if amplitude <= half {
        return 0.0;
    }
    let inside = half / amplitude;
    1.0 - 2.0 / PI * (libm::asin(inside) + inside * (1.0 - inside * inside).sqrt())
}

/// Amplitude at which a share of the stiffness is felt; none for shares outside 0 to 1 (exclusive).
pub fn amplitude_for(play: f64, wanted: f64) -> Option<f64> {
    if !(wanted > 0.0 && wanted < 1.0 && play >= 0.0) {
        return None;
    }
    // The share rises with the amplitude; 2 (2 h / pi A) = 1 - N is its far end.
    let [mut low, mut high] = [play / 2.0, play / 2.0 + 2.0 * play / (PI * (1.0 - wanted))];
    // As fine as a double: 60 halvings.
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if share(play, middle) < wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some((low + high) / 2.0)
}
