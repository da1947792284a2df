//! One candidate, from its text to a verdict, by the same calls as `make`; the dear ones last.

use std::sync::Arc;

use crate::bom::BillOfMaterials;
use crate::checks::{Checked, Load, Verdict};
use crate::design::{self, Design};
use crate::layout::{self, Actuator};
use crate::pipeline;
use crate::product::{heat, made_parts};

use super::candidates::Candidate;
use super::front::Objectives;
use super::near_miss::{Miss, Stage};
use super::requirement::Space;
use super::text;

/// What came of a candidate.
#[derive(Clone, Debug)]
pub enum Fate {
    /// The file itself is refused: only a rule between keys can do that here.
    Refused(String),
    /// The layout refuses it.
    NoLayout(Vec<layout::Fault>),
    /// Over a limit of the requirement, or too hot.
    Short(&'static str, Miss),
    /// Laid out and weighed; not yet made.
    Weighed(Objectives),
}

/// Layout, heat and mass of a candidate, judged in this order.
pub fn weigh(space: &Space, candidate: &Candidate) -> Fate {
    let text = text::design(space, &candidate.choices);
    let design = match design::load_text(&space.path, &text) {
        Ok(loaded) => loaded.design,
        Err(problems) => {
            return Fate::Refused(problems.iter().next().map_or(String::new(), |one| one.message.clone()));
        }
    };
    let actuator = match layout::lay_out(&design) {
        Ok(actuator) => actuator,
        Err(faults) => return Fate::NoLayout(faults),
    };
    let requirement = &design.requirement;
    let over = |key, value: f64, limit: Option<f64>, unit| {
        let limit = limit.filter(|limit| value > *limit)?;
        Some(Fate::Short(key, Miss { stage: Stage::Rated, value, limit, unit }))
    };
    let (diameter, height) = (actuator.outer_diameter(), actuator.stations.output_face);
    let envelope = over("requirement.outer_diameter_limit", diameter, requirement.outer_diameter_limit, "mm")
        .or_else(|| over("requirement.height_limit", height, requirement.height_limit, "mm"));
    if let Some(fate) = envelope {
        return fate;
    }
    let continuous = match held(&actuator, &design) {
        Ok(continuous) => continuous,
        Err(fate) => return *fate,
    };
    let Some((mass, cost)) = mass_and_cost(&actuator) else {
        return Fate::Refused("a part has no valid shape".to_string());
    };
    if let Some(fate) =
        over("requirement.mass_limit", mass * 1e3, requirement.mass_limit.map(|kg| kg * 1e3), "g")
    {
        return fate;
    }
    Fate::Weighed(Objectives { mass, diameter, height, continuous, backdrive: candidate.backdrive, cost })
}

/// Torque held for hours \[N m\], or what of the heat misses.
fn held(actuator: &Actuator, design: &Design) -> Result<f64, Box<Fate>> {
    let requirement = &design.requirement;
    let rating = heat(actuator).map_err(|why| Box::new(Fate::Refused(why.to_string())))?;
    let continuous = rating.continuous.as_ref().map_or(0.0, |held| held.torque);
    let under = |key, value: f64, limit: f64, unit| {
        let short = value < limit;
        short.then(|| Box::new(Fate::Short(key, Miss { stage: Stage::Rated, value, limit, unit })))
    };
    let wanted = requirement.continuous_torque.unwrap_or(0.0);
    if let Some(fate) = under("requirement.continuous_torque", continuous, wanted, "N m") {
        return Err(fate);
    }
    // No limit within the longest time looked at: long enough.
    if let Some((time, _)) = rating.peak.and_then(|peak| peak.warm)
        && let Some(fate) = under("requirement.peak_time", time, requirement.peak_time, "s")
    {
        return Err(fate);
    }
    Ok(continuous)
}

/// \[kg\], and what is known of the cost; none if a part has no valid shape.
fn mass_and_cost(actuator: &Actuator) -> Option<(f64, Option<f64>)> {
    let bom = BillOfMaterials::new(actuator, &made_parts(actuator).ok()?);
    Some((bom.total_mass(), bom.total_cost()))
}

/// A candidate that was made, and all of whose checks hold or warn.
#[derive(Clone, Debug)]
pub struct Choice {
    pub candidate: Candidate,
    pub objectives: Objectives,
    pub ratio: f64,
    /// Of the checks under load, the one with the least in hand.
    pub limited_by: Option<(String, f64)>,
    pub warnings: usize,
    pub text: Arc<str>,
    /// What other reducers are compared with.
    pub design: Arc<Design>,
    /// At the output \[kg m2\].
    pub reflected_inertia: Option<f64>,
    pub efficiency: f64,
}

/// Makes and judges a candidate that was weighed.
///
/// # Errors
/// The checks that fail, as near misses; none if it can't be made at all.
pub fn make(
    space: &Space,
    candidate: &Candidate,
    objectives: Objectives,
) -> Result<Choice, Vec<(String, Miss)>> {
    let text = text::design(space, &candidate.choices);
    let Ok(loaded) = design::load_text(&space.path, &text) else { return Err(Vec::new()) };
    let Ok(made) = pipeline::make(&loaded.design) else { return Err(Vec::new()) };
    let failing: Vec<(String, Miss)> =
        made.checks.iter().filter(|checked| checked.outcome.verdict == Verdict::Fails).map(missed).collect();
    if !failing.is_empty() {
        return Err(failing);
    }
    let limited_by = made
        .checks
        .iter()
        .filter(|checked| {
            checked.outcome.verdict == Verdict::Holds && !matches!(checked.check.load, Load::None)
        })
        .filter_map(|checked| Some((checked.check.id.to_string(), checked.outcome.margin()?)))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let warnings = made.checks.iter().filter(|checked| checked.outcome.verdict == Verdict::Warns).count();
    let actuator = &made.product.actuator;
    Ok(Choice {
        candidate: *candidate,
        objectives,
        ratio: actuator.stage.ratio,
        limited_by,
        warnings,
        text: text.into(),
        reflected_inertia: made.product.feel.inertia.as_ref().map(|inertia| inertia.reflected.output()),
        efficiency: loaded.design.gearset.efficiency,
        design: Arc::new(loaded.design),
    })
}

fn missed(checked: &Checked) -> (String, Miss) {
    let outcome = &checked.outcome;
    let (value, limit) = (outcome.value.unwrap_or(f64::NAN), outcome.limit.unwrap_or(f64::NAN));
    (checked.check.id.to_string(), Miss { stage: Stage::OnlyCheck, value, limit, unit: checked.check.unit })
}
