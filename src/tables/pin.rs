//! Hardened dowel pins.

/// ISO 8734 lengths, from memory.
const LENGTHS: [f64; 20] = [
    6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 26.0, 28.0, 30.0, 32.0, 35.0, 40.0, 45.0, 50.0,
    60.0, 80.0,
];
/// ISO 8734 diameters from 2 to 12 mm, from memory.
const DIAMETERS: [f64; 8] = [2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0];

/// The shortest pin of a diameter that is at least this long. Planet pins of 7, 9 or 12 mm are ground rod cut to length
/// by the same list.
pub fn next_pin_length(diameter: f64, at_least: f64) -> Option<f64> {
    let sold = DIAMETERS.iter().any(|&one| (one - diameter).abs() < 1e-6) || (2.0..=12.0).contains(&diameter);
    // From memory: a pin is sold up to about fifteen times its diameter.
    LENGTHS.into_iter().find(|&length| sold && length >= at_least - 1e-3 && length <= 15.0 * diameter)
}
