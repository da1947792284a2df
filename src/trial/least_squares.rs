//! Least squares with confidence: Levenberg-Marquardt, covariance from the Jacobian, outliers by a robust rule.
//!
//! - Fit: least `sum r^2`, by the Levenberg-Marquardt method (More, 1978, as in MINPACK).
//! - Covariance: `s^2 (J'J)^-1` at the solution, `s^2 = sum r^2 / (n - p)`; intervals `value +- t(0.975, n - p) sqrt(C_ii)`
//!   (N. Draper, H. Smith, Applied Regression Analysis, from memory). Assumes readings that scatter independently and evenly
//!   about the model; a wrong scale or lever is in none of it.
//! - Outliers: residuals of a fit with Huber's weights (k = 1.345; P. Huber, Robust Statistics, 1981, from memory) whose modified
//!   z-score `0.6745 |r - median| / MAD` is over 3.5 (B. Iglewicz, D. Hoaglin, 1993, quoted by the NIST/SEMATECH e-Handbook 1.3.5.17, from
//!   memory), and over what chance alone gives in one log of twenty: the quantile of t for 0.05 / n (Bonferroni), with 0.37 n degrees of
//!   freedom, since the median deviation is 37 % as efficient as the standard one (Huber, from memory). With 3.5 alone a fifth of
//!   all logs of fifteen sound readings would lose one, and their intervals come out too narrow. Below ten readings the median
//!   deviation says too little: none is called an outlier.
//! - Order of the residuals: runs test (NIST/SEMATECH e-Handbook 1.3.5.13, from memory).

use std::cell::RefCell;

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};
use rayon::prelude::*;

use super::student;

/// Huber's bend, in standard deviations: 95 % efficient on normal scatter.
const HUBER: f64 = 1.345;
/// Median absolute deviation of a normal distribution, in standard deviations.
const MAD: f64 = 0.6745;
/// Modified z-score of an outlier.
pub const OUTLIER: f64 = 3.5;
/// In how many sound logs one reading may be called an outlier.
const FALSE_ALARMS: f64 = 0.05;
/// Of the median deviation, on normal scatter.
const EFFICIENCY: f64 = 0.37;
/// Fewest readings among which one may be an outlier.
const FEWEST_FOR_OUTLIERS: usize = 10;
/// Readings the weights are found on; of more, evenly picked ones say the same.
const MOST_FOR_WEIGHTS: usize = 2000;
const REWEIGHTINGS: usize = 8;
/// A change of all unknowns, in scales, that moves no reading over the rule.
const SETTLED: f64 = 1e-4;
/// Below this share of the largest, an eigenvalue of the scaled normal matrix says that two unknowns can't be told apart.
const SINGULAR: f64 = 1e-10;
/// Relative change of the sum of squares, and of the unknowns in their scales, at which the search ends: far below any standard error,
/// above the rounding of a model that is itself solved by steps.
const FLAT: f64 = 1e-13;
const STILL: f64 = 1e-10;
/// As above, for solutions that only begin a search or weigh readings.
const NEARLY_FLAT: f64 = 1e-7;
const NEARLY_STILL: f64 = 1e-5;
/// Of two unknowns: beyond it their intervals are hardly two.
pub const ENTANGLED: f64 = 0.98;
/// Of the normal distribution, both tails 5 %.
const NORMAL_95: f64 = 1.96;

/// Model values for unknowns at picked readings; none where the model has none.
pub type Model<'a> = dyn Fn(&[f64], &[usize]) -> Option<Vec<f64>> + Sync + 'a;

/// What is fitted.
pub struct Problem<'a> {
    pub measured: &'a [f64],
    pub start: Vec<f64>,
    /// Size of a change of each unknown that matters.
    pub scale: Vec<f64>,
    /// Step of the numeric derivatives, in scales.
    pub step: f64,
    pub model: &'a Model<'a>,
}

/// A solution. `residuals` and `used` are as long as the readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    pub values: Vec<f64>,
    pub covariance: Vec<Vec<f64>>,
    pub freedom: f64,
    /// Standard deviation of the readings about the model.
    pub scatter: f64,
    /// Measured less model.
    pub residuals: Vec<f64>,
    pub used: Vec<bool>,
    /// The solution with all outliers in it.
    pub with_outliers: Vec<f64>,
    /// Of the runs test; far from zero: the model doesn't follow the readings. None where there are too few.
    pub runs: Option<f64>,
}

/// Why there is none.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoFit {
    #[error("{given} usable readings for {unknowns} unknowns; at least {} are needed", unknowns + 1)]
    TooFew { given: usize, unknowns: usize },
    #[error("these readings can't tell the unknowns apart: vary them more")]
    NotSeparable,
    #[error("no solution was found: {0}")]
    NotSolved(String),
}

impl Fit {
    pub fn error(&self, index: usize) -> f64 {
        self.covariance.get(index).and_then(|row| row.get(index)).map_or(f64::NAN, |value| value.sqrt())
    }

    /// Correlation of two unknowns, -1 to 1.
    pub fn correlation(&self, one: usize, other: usize) -> f64 {
        let shared = self.covariance.get(one).and_then(|row| row.get(other)).copied().unwrap_or(f64::NAN);
        shared / (self.error(one) * self.error(other))
    }

    /// Whether the residuals change sign as seldom or as often as chance hardly does.
    pub fn out_of_order(&self) -> bool {
        self.runs.is_some_and(|z| z.abs() > NORMAL_95)
    }
}

/// Readings that count, and how much.
#[derive(Clone)]
struct Picks {
    at: Vec<usize>,
    weights: Vec<f64>,
}

impl Picks {
    fn of(at: Vec<usize>) -> Picks {
        Picks { weights: vec![1.0; at.len()], at }
    }
}

/// Fits, finds outliers, fits without them.
///
/// # Errors
/// Too few readings, unknowns that can't be told apart, no solution.
pub fn fit(problem: &Problem) -> Result<Fit, NoFit> {
    let count = problem.measured.len();
    enough(count, problem.start.len())?;
    let all = Picks::of((0..count).collect());
    let stride = count.div_ceil(MOST_FOR_WEIGHTS).max(1);
    let some = Picks::of((0..count).step_by(stride).collect());
    let begun = nearly(problem, &some, &problem.start)?;
    let with_outliers = minimum(problem, &all, &begun)?;
    let used = if count < FEWEST_FOR_OUTLIERS {
        vec![true; count]
    } else {
        not_outlying(&residuals(problem, &all, &robust(problem, some, begun)?)?)
    };
    let kept = Picks::of(all.at.iter().zip(&used).filter(|(_, used)| **used).map(|(at, _)| *at).collect());
    enough(kept.at.len(), problem.start.len())?;
    let is_clean = kept.at.len() == count;
    let values = if is_clean { with_outliers.clone() } else { minimum(problem, &kept, &with_outliers)? };
    let residuals = residuals(problem, &all, &values)?;
    let freedom = (kept.at.len() - values.len()) as f64; // enough() has seen to it
    let of_kept: Vec<f64> =
        residuals.iter().zip(&used).filter(|(_, used)| **used).map(|(residual, _)| *residual).collect();
    let variance = of_kept.iter().map(|residual| residual * residual).sum::<f64>() / freedom;
    let covariance = covariance(problem, &kept, &values, variance)?;
    let runs = runs(&of_kept.iter().map(|residual| *residual > 0.0).collect::<Vec<bool>>());
    Ok(Fit { values, covariance, freedom, scatter: variance.sqrt(), residuals, used, with_outliers, runs })
}

fn enough(given: usize, unknowns: usize) -> Result<(), NoFit> {
    if given > unknowns { Ok(()) } else { Err(NoFit::TooFew { given, unknowns }) }
}

/// Measured less model, unweighted.
fn residuals(problem: &Problem, picks: &Picks, values: &[f64]) -> Result<Vec<f64>, NoFit> {
    let model = (problem.model)(values, &picks.at)
        .ok_or_else(|| NoFit::NotSolved("the model has no value".into()))?;
    Ok(measured(problem, picks).zip(model).map(|(measured, model)| measured - model).collect())
}

fn measured<'a>(problem: &'a Problem, picks: &'a Picks) -> impl Iterator<Item = f64> + 'a {
    picks.at.iter().filter_map(|at| problem.measured.get(*at).copied())
}

/// The solution with Huber's weights.
fn robust(problem: &Problem, mut picks: Picks, mut values: Vec<f64>) -> Result<Vec<f64>, NoFit> {
    for _ in 0..REWEIGHTINGS {
        let residuals = residuals(problem, &picks, &values)?;
        let scale = deviation(&residuals) / MAD;
        if scale.is_nan() || scale <= 0.0 {
            break; // more than half of them lie on the model
        }
        let weight = |residual: &f64| (HUBER * scale / residual.abs().max(1e-300)).min(1.0).sqrt();
        picks.weights = residuals.iter().map(weight).collect();
        let next = nearly(problem, &picks, &values)?;
        let moved =
            next.iter().zip(&values).zip(&problem.scale).map(|((a, b), scale)| ((a - b) / scale).abs());
        let has_settled = moved.fold(0.0, f64::max) < SETTLED;
        values = next;
        if has_settled {
            break;
        }
    }
    Ok(values)
}

fn not_outlying(residuals: &[f64]) -> Vec<bool> {
    let middle = median(residuals.to_vec());
    let deviation = deviation(residuals);
    // Where more than half lie on the model to the last digits, rounding is no outlier.
    let least = 1e-9 * residuals.iter().fold(0.0, |most: f64, r| most.max(r.abs()));
    let count = residuals.len() as f64;
    let chance = student::beyond(FALSE_ALARMS / count, EFFICIENCY * count);
    let most = OUTLIER.max(chance) * deviation.max(least);
    residuals.iter().map(|r| MAD * (r - middle).abs() <= most).collect()
}

/// Median absolute deviation from the median.
fn deviation(values: &[f64]) -> f64 {
    let middle = median(values.to_vec());
    median(values.iter().map(|value| (value - middle).abs()).collect())
}

fn median(mut values: Vec<f64>) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let half = values.len() / 2; // inside the list
    let is_odd = values.len() % 2 == 1;
    let (below, middle, _) = values.select_nth_unstable_by(half, f64::total_cmp);
    let highest_below = below.iter().copied().max_by(f64::total_cmp);
    match highest_below {
        Some(highest) if !is_odd => 0.5 * (highest + *middle),
        _ => *middle,
    }
}

/// Wald and Wolfowitz: how far the number of runs is from what chance gives, in standard deviations.
fn runs(signs: &[bool]) -> Option<f64> {
    /// From here on the number of runs is about normal.
    const FEWEST: f64 = 10.0;
    let above = signs.iter().filter(|sign| **sign).count() as f64;
    let below = signs.len() as f64 - above;
    if above < FEWEST || below < FEWEST {
        return None;
    }
    let found = 1.0 + signs.windows(2).filter(|pair| pair.first() != pair.last()).count() as f64;
    let product = 2.0 * above * below;
    let total = above + below;
    let expected = product / total + 1.0;
    let variance = product * (product - total) / (total * total * (total - 1.0));
    Some((found - expected) / variance.sqrt())
}

/// Unknowns in their own units.
fn real(problem: &Problem, scaled: &DVector<f64>) -> Vec<f64> {
    scaled.iter().zip(&problem.scale).map(|(value, scale)| value * scale).collect()
}

/// Model less measured, by the weights of the picks.
fn weighted(problem: &Problem, picks: &Picks, scaled: &DVector<f64>) -> Option<DVector<f64>> {
    let model = (problem.model)(&real(problem, scaled), &picks.at)?;
    let rows = measured(problem, picks).zip(&model).zip(&picks.weights);
    let weighted = rows.map(|((measured, model), weight)| weight * (model - measured));
    Some(DVector::from_vec(weighted.collect()))
}

/// Unknowns in units of their scales, for the library.
struct Scaled<'a, 'b> {
    problem: &'a Problem<'b>,
    picks: &'a Picks,
    unknowns: DVector<f64>,
    /// Residuals at the unknowns; asked for twice.
    known: RefCell<Option<DVector<f64>>>,
}

impl Scaled<'_, '_> {
    fn derivatives(&self) -> Option<DMatrix<f64>> {
        let (problem, picks, unknowns) = (self.problem, self.picks, &self.unknowns);
        let step = problem.step;
        // Each column by itself: the same numbers on any count of threads.
        let columns: Option<Vec<DVector<f64>>> = (0..unknowns.len())
            .into_par_iter()
            .map(|index| {
                let [mut up, mut down] = [unknowns.clone(), unknowns.clone()];
                *up.get_mut(index)? += step;
                *down.get_mut(index)? -= step;
                Some((weighted(problem, picks, &up)? - weighted(problem, picks, &down)?) / (2.0 * step))
            })
            .collect();
        Some(DMatrix::from_columns(&columns?))
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Scaled<'_, '_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, unknowns: &DVector<f64>) {
        self.unknowns.copy_from(unknowns);
        self.known.replace(None);
    }

    fn params(&self) -> DVector<f64> {
        self.unknowns.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        if self.known.borrow().is_none() {
            let fresh = weighted(self.problem, self.picks, &self.unknowns)?;
            self.known.replace(Some(fresh));
        }
        self.known.borrow().clone()
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        self.derivatives()
    }
}

fn scaled<'a, 'b>(problem: &'a Problem<'b>, picks: &'a Picks, values: &[f64]) -> Scaled<'a, 'b> {
    let unknowns = values.iter().zip(&problem.scale).map(|(value, scale)| value / scale);
    Scaled {
        problem,
        picks,
        unknowns: DVector::from_iterator(values.len(), unknowns),
        known: RefCell::new(None),
    }
}

fn minimum(problem: &Problem, picks: &Picks, start: &[f64]) -> Result<Vec<f64>, NoFit> {
    searched(problem, picks, start, [FLAT, STILL])
}

/// Good enough to begin from.
fn nearly(problem: &Problem, picks: &Picks, start: &[f64]) -> Result<Vec<f64>, NoFit> {
    searched(problem, picks, start, [NEARLY_FLAT, NEARLY_STILL])
}

fn searched(
    problem: &Problem,
    picks: &Picks,
    start: &[f64],
    [flat, still]: [f64; 2],
) -> Result<Vec<f64>, NoFit> {
    let search = LevenbergMarquardt::new().with_patience(30).with_ftol(flat).with_xtol(still);
    let (solved, report) = search.minimize(scaled(problem, picks, start));
    // Lost precision is not lost: readings without scatter end there.
    let good = report.termination.was_successful()
        || matches!(report.termination, levenberg_marquardt::TerminationReason::NoImprovementPossible(_));
    if good && report.objective_function.is_finite() {
        Ok(real(problem, &solved.unknowns))
    } else {
        Err(NoFit::NotSolved(format!("{:?}", report.termination)))
    }
}

fn covariance(
    problem: &Problem,
    picks: &Picks,
    values: &[f64],
    variance: f64,
) -> Result<Vec<Vec<f64>>, NoFit> {
    let jacobian = scaled(problem, picks, values)
        .derivatives()
        .ok_or_else(|| NoFit::NotSolved("the model has no derivative".into()))?;
    let normal = jacobian.transpose() * &jacobian;
    // To a unit diagonal, so that the condition says how far the unknowns are alike and not how large.
    let lengths: Vec<f64> = normal.diagonal().iter().map(|value| value.sqrt()).collect();
    if lengths.iter().any(|length| !(*length > 0.0 && length.is_finite())) {
        return Err(NoFit::NotSeparable);
    }
    let alike =
        DMatrix::from_fn(values.len(), values.len(), |i, j| normal[(i, j)] / (lengths[i] * lengths[j]));
    let eigenvalues = alike.clone().symmetric_eigenvalues();
    let (least, greatest) = (eigenvalues.min(), eigenvalues.max());
    if least.is_nan() || least <= SINGULAR * greatest {
        return Err(NoFit::NotSeparable);
    }
    let inverse = alike.try_inverse().ok_or(NoFit::NotSeparable)?;
    let entry = |i: usize, j: usize| {
        variance * inverse[(i, j)] / (lengths[i] * lengths[j]) * problem.scale[i] * problem.scale[j]
    };
    // As many lengths and scales as unknowns.
    Ok((0..values.len()).map(|i| (0..values.len()).map(|j| entry(i, j)).collect()).collect())
}

/// The interval of a value with its standard error.
pub fn interval(value: f64, error: f64, freedom: f64) -> [f64; 2] {
    let reach = student::reach(freedom) * error;
    [value - reach, value + reach]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST Statistical Reference Datasets, Norris (linear, lower level of difficulty), certified values (from memory).
    #[test]
    fn norris() {
        let data = [
            [0.2, 0.1],
            [337.4, 338.8],
            [118.2, 118.1],
            [884.6, 888.0],
            [10.1, 9.2],
            [226.5, 228.1],
            [666.3, 668.5],
            [996.3, 998.5],
            [448.6, 449.1],
            [777.0, 778.9],
            [558.2, 559.2],
            [0.4, 0.3],
            [0.6, 0.1],
            [775.5, 778.1],
            [666.9, 668.8],
            [338.0, 339.3],
            [447.5, 448.9],
            [11.6, 10.8],
            [556.0, 557.7],
            [228.1, 228.3],
            [995.8, 998.0],
            [887.6, 888.8],
            [120.2, 119.6],
            [0.3, 0.3],
            [0.3, 0.6],
            [556.8, 557.6],
            [339.1, 339.3],
            [887.2, 888.0],
            [999.0, 998.5],
            [779.0, 778.9],
            [11.1, 10.2],
            [118.3, 117.6],
            [229.2, 228.9],
            [669.1, 668.4],
            [448.9, 449.2],
            [0.5, 0.2],
        ];
        let x: Vec<f64> = data.iter().map(|[x, _]| *x).collect();
        let y: Vec<f64> = data.iter().map(|[_, y]| *y).collect();
        let model = |p: &[f64], at: &[usize]| Some(at.iter().map(|i| p[0] + p[1] * x[*i]).collect());
        let problem =
            Problem { measured: &y, start: vec![0.0, 1.0], scale: vec![1.0, 1.0], step: 1e-4, model: &model };
        let all = Picks::of((0..y.len()).collect());
        let values = minimum(&problem, &all, &problem.start).expect("solved");
        assert!((values[0] + 0.262_323_073_774_029).abs() < 1e-9, "{values:?}");
        assert!((values[1] - 1.002_116_818_020_45).abs() < 1e-11, "{values:?}");
        let sum: f64 = residuals(&problem, &all, &values).expect("model").iter().map(|r| r * r).sum();
        let covariance = covariance(&problem, &all, &values, sum / 34.0).expect("two unknowns");
        assert!((covariance[0][0].sqrt() - 0.232_818_234_301_152).abs() < 1e-9);
        assert!((covariance[1][1].sqrt() - 0.429_796_848_199_937e-3).abs() < 1e-11);
    }

    #[test]
    fn unknowns_that_cannot_be_told_apart_are_said() {
        let y = [1.0, 2.0, 3.1, 4.0, 5.0];
        let model = |p: &[f64], at: &[usize]| Some(at.iter().map(|i| (p[0] + p[1]) * y[*i]).collect());
        let problem =
            Problem { measured: &y, start: vec![0.4, 0.5], scale: vec![1.0, 1.0], step: 1e-4, model: &model };
        assert_eq!(fit(&problem), Err(NoFit::NotSeparable));
    }

    #[test]
    fn one_wild_reading_among_twelve_is_found() {
        let y: Vec<f64> = (0..12).map(|i| if i == 7 { 9.0 } else { 1.0 + 0.01 * f64::from(i % 3) }).collect();
        let model = |p: &[f64], at: &[usize]| Some(vec![p[0]; at.len()]);
        let problem = Problem { measured: &y, start: vec![0.0], scale: vec![1.0], step: 1e-4, model: &model };
        let fit = fit(&problem).expect("fits");
        assert_eq!(fit.used.iter().filter(|used| !**used).count(), 1);
        assert!(!fit.used[7] && fit.values[0] < 1.02 && fit.with_outliers[0] > 1.5);
    }
}
