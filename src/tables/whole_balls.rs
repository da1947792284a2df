//! Ratings of a deep groove bearing from its balls (ISO 281, ISO 76), and the balls back from the ratings.
//!
//! Contact angle 0, one row. The two tables are from memory; they reproduce printed rows with a whole number of stock
//! balls, which is their proof (a test runs it over every row).

/// fc of ISO 281:2007, table 2 (single row deep groove), against Dw cos(alpha) / Dpw. From memory, proved by inversion.
const FC: [(f64, f64); 25] = [
    (0.01, 29.1),
    (0.02, 35.8),
    (0.03, 40.3),
    (0.04, 43.8),
    (0.05, 46.7),
    (0.06, 49.1),
    (0.07, 51.1),
    (0.08, 52.8),
    (0.09, 54.3),
    (0.10, 55.5),
    (0.12, 57.5),
    (0.14, 58.8),
    (0.16, 59.6),
    (0.18, 59.9),
    (0.20, 59.9),
    (0.22, 59.6),
    (0.24, 59.0),
    (0.26, 58.2),
    (0.28, 57.1),
    (0.30, 56.0),
    (0.32, 54.6),
    (0.34, 53.2),
    (0.36, 51.7),
    (0.38, 50.0),
    (0.40, 48.4),
];

/// f0 of ISO 76:2006, table 1 (radial ball), against the same ratio in steps of 0.01 from 0. From memory, proved by
/// inversion.
const F0: [f64; 41] = [
    14.7, 14.9, 15.1, 15.3, 15.5, 15.7, 15.9, 16.1, 16.3, 16.5, 16.4, 16.1, 15.9, 15.6, 15.4, 15.2, 14.9,
    14.7, 14.4, 14.2, 14.0, 13.7, 13.5, 13.2, 13.0, 12.8, 12.5, 12.3, 12.1, 11.8, 11.6, 11.4, 11.2, 10.9,
    10.7, 10.5, 10.3, 10.0, 9.8, 9.6, 9.4,
];

/// Factor bm of ISO 281:2007 for deep groove bearings of contemporary steel.
const BM: f64 = 1.3;

/// Ball diameters sold from stock: inch sizes by 1/64 and 1/32, and metric. Common practice, no source.
const STOCK_BALLS: [f64; 57] = [
    0.8, 1.0, 1.191, 1.2, 1.5, 1.588, 2.0, 2.381, 2.5, 2.778, 3.0, 3.175, 3.5, 3.572, 3.969, 4.0, 4.366, 4.5,
    4.762, 5.0, 5.159, 5.5, 5.556, 5.953, 6.0, 6.35, 6.5, 6.747, 7.0, 7.144, 7.5, 7.938, 8.0, 8.334, 8.5,
    8.731, 9.0, 9.128, 9.525, 10.0, 10.319, 11.0, 11.112, 11.509, 11.906, 12.0, 12.303, 12.7, 13.494, 14.0,
    14.288, 15.0, 15.081, 15.875, 16.669, 17.462, 19.05,
];

/// Ball diameter against half the difference of the bearing's diameters: thinner leaves the grooves unused, thicker
/// leaves no ring. Bounds of the search, no source.
const SECTION_SHARE: (f64, f64) = (0.35, 0.72);

/// Most of the circle \[deg\] that the balls may take so that the last still goes in between the displaced rings; about
/// 195 in practice. From memory; bound of the search.
const FILLING_ANGLE: f64 = 200.0;

/// Step of the search over the pitch circle, as a share of the mean diameter, and the steps to each side: the printed
/// rows sit within 2.5 % of the mean diameter.
const PITCH_STEP: f64 = 0.005;
const PITCH_STEPS: i32 = 5;

/// The balls of a bearing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BallSet {
    /// Z
    pub count: u32,
    /// Dw
    pub ball: f64,
    /// Dpw
    pub pitch_circle: f64,
}

/// How far a ball set's ratings are from the printed ones, as shares (0.01 is 1 %).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FitError {
    pub dynamic: f64,
    pub static_: f64,
    /// 0 where no f0 is printed.
    pub f0: f64,
}

impl FitError {
    /// The worst of the three, f0 at half its weight: it is printed to three digits and read off a coarse table.
    pub fn worst(&self) -> f64 {
        self.dynamic.abs().max(self.static_.abs()).max(self.f0.abs() / 2.0)
    }
}

/// Basic dynamic radial rating \[N\]: C = bm fc Z^(2/3) Dw^1.8 (ISO 281:2007, 5.1, Dw up to 25.4 mm, contact angle 0).
///
/// None where Dw / Dpw leaves the table (0.01 to 0.40) or the ball is larger than 25.4 mm.
pub fn dynamic_rating(balls: &BallSet) -> Option<f64> {
    if !(balls.ball > 0.0 && balls.ball <= 25.4) {
        return None;
    }
    let fc = factor_fc(balls.ball / balls.pitch_circle)?;
    let count = f64::from(balls.count);
    Some(BM * fc * libm::pow(count, 2.0 / 3.0) * libm::pow(balls.ball, 1.8))
}

/// Basic static radial rating \[N\]: C0 = f0 Z Dw^2 (ISO 76:2006, contact angle 0).
///
/// None where Dw / Dpw leaves the table (0 to 0.40).
pub fn static_rating(balls: &BallSet) -> Option<f64> {
    let f0 = factor_f0(balls.ball / balls.pitch_circle)?;
    Some(f0 * f64::from(balls.count) * balls.ball * balls.ball)
}

impl BallSet {
    /// f0 of ISO 76 for this geometry.
    pub fn f0(&self) -> Option<f64> {
        factor_f0(self.ball / self.pitch_circle)
    }
}

/// The whole number of stock balls whose ISO ratings come nearest to the printed ones.
///
/// # Arguments
/// Bore and outer diameter \[mm\], C and C0 \[N\], f0 where printed.
///
/// # Returns
/// The best set and its errors; none if no set fits the section at all. Whether the errors are small enough is for the
/// caller to judge.
pub fn find_ball_set(
    bore: f64,
    outer: f64,
    dynamic: f64,
    static_: f64,
    printed_f0: Option<f64>,
) -> Option<(BallSet, FitError)> {
    let section = (outer - bore) / 2.0;
    let mean = (outer + bore) / 2.0;
    let mut best: Option<(BallSet, FitError)> = None;
    for ball in STOCK_BALLS {
        let share = ball / section;
        if !(share >= SECTION_SHARE.0 && share <= SECTION_SHARE.1) {
            continue;
        }
        for step in -PITCH_STEPS..=PITCH_STEPS {
            let pitch_circle = mean * (1.0 + PITCH_STEP * f64::from(step));
            for count in 5..=most_balls(ball, pitch_circle) {
                let set = BallSet { count, ball, pitch_circle };
                let least = best.as_ref().map_or(f64::INFINITY, |(_, least)| least.worst());
                let Some(error) = fit_error(&set, dynamic, static_, printed_f0, least) else { continue };
                if error.worst() < least {
                    best = Some((set, error));
                }
            }
        }
    }
    best
}

/// Most balls that the filling angle allows on a pitch circle.
fn most_balls(ball: f64, pitch_circle: f64) -> u32 {
    let ratio = ball / pitch_circle;
    if !(ratio > 0.0 && ratio < 1.0) {
        return 0;
    }
    let per_ball = 2.0 * libm::asin(ratio).to_degrees();
    let count = FILLING_ANGLE / per_ball + 1.0;
    // Bounded by the thinnest section searched: ratio 0.01 gives 175.
    count.min(200.0) as u32
}

/// How far the set is off; none where that is at least `least`, or far too much.
fn fit_error(
    set: &BallSet,
    dynamic: f64,
    static_: f64,
    printed_f0: Option<f64>,
    least: f64,
) -> Option<FitError> {
    // The static rating needs no power: it rules out most sets before the dynamic one is worked out.
    let static_error = static_rating(set)? / static_ - 1.0;
    if static_error.abs() > 0.5 || static_error.abs() >= least {
        return None;
    }
    Some(FitError {
        dynamic: dynamic_rating(set)? / dynamic - 1.0,
        static_: static_error,
        f0: printed_f0.map_or(Some(0.0), |f0| set.f0().map(|own| own / f0 - 1.0))?,
    })
}

fn factor_fc(ratio: f64) -> Option<f64> {
    FC.windows(2).find_map(|pair| match pair {
        [(x0, y0), (x1, y1)] if ratio >= *x0 && ratio <= *x1 => {
            Some(y0 + (y1 - y0) * (ratio - x0) / (x1 - x0))
        }
        _ => None,
    })
}

fn factor_f0(ratio: f64) -> Option<f64> {
    if !(0.0..=0.40).contains(&ratio) {
        return None;
    }
    let position = ratio * 100.0;
    let below = (position.floor() as usize).min(F0.len() - 2);
    let (low, high) = (F0.get(below)?, F0.get(below + 1)?);
    Some(low + (high - low) * (position - below as f64))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outside_the_tables_there_is_no_rating() {
        let thick = BallSet { count: 5, ball: 10.0, pitch_circle: 20.0 };
        assert_eq!(dynamic_rating(&thick), None);
        assert_eq!(static_rating(&thick), None);
        let huge = BallSet { count: 9, ball: 30.0, pitch_circle: 200.0 };
        assert_eq!(dynamic_rating(&huge), None);
        assert_eq!(find_ball_set(f64::NAN, 10.0, 100.0, 100.0, None), None);
        assert_eq!(find_ball_set(10.0, 5.0, 100.0, 100.0, None), None);
    }
}
