//! B-spline curves and surfaces, rational where weights are given.

use super::entities::{Entities, Id, List, Number};
use crate::geometry::Vertex;

/// Knots with their multiplicities.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Knots {
    pub degree: usize,
    pub values: Vec<f64>,
    pub multiplicities: Vec<usize>,
}

/// Control points, and their weights if it is rational.
pub(super) struct SplineCurve {
    pub knots: Knots,
    pub points: Vec<Vertex>,
    pub weights: Option<Vec<f64>>,
}

/// Rows of control points: `across` from one row to the next, `along` within a row.
pub(super) struct SplineSurface {
    pub across: Knots,
    pub along: Knots,
    pub rows: Vec<Vec<Vertex>>,
    /// One a row, if it is rational.
    pub weights: Option<Vec<f64>>,
}

impl Knots {
    /// The first and the last knot full, those between with the multiplicity `inner`.
    pub(super) fn clamped(degree: usize, values: Vec<f64>, inner: usize) -> Knots {
        let mut multiplicities = vec![inner; values.len()];
        for end in [0, values.len().saturating_sub(1)] {
            if let Some(multiplicity) = multiplicities.get_mut(end) {
                *multiplicity = degree + 1;
            }
        }
        Knots { degree, values, multiplicities }
    }

    fn numbers(&self) -> Vec<Number> {
        self.values.iter().map(|value| Number(*value)).collect()
    }
}

impl SplineCurve {
    pub(super) fn add_to(&self, entities: &mut Entities) -> Id {
        let points: Vec<Id> = self.points.iter().map(|point| entities.point(*point)).collect();
        let (degree, points) = (self.knots.degree, List(&points));
        let (multiplicities, knots) = (List(&self.knots.multiplicities), self.knots.numbers());
        let knots = List(&knots);
        let Some(weights) = &self.weights else {
            return entities.add(format_args!(
                "B_SPLINE_CURVE_WITH_KNOTS('',{degree},{points},.UNSPECIFIED.,.F.,.F.,{multiplicities},\
                 {knots},.UNSPECIFIED.)"
            ));
        };
        let weights: Vec<Number> = weights.iter().map(|weight| Number(*weight)).collect();
        let weights = List(&weights);
        entities.add(format_args!(
            "(BOUNDED_CURVE() B_SPLINE_CURVE({degree},{points},.UNSPECIFIED.,.F.,.F.) \
             B_SPLINE_CURVE_WITH_KNOTS({multiplicities},{knots},.UNSPECIFIED.) CURVE() \
             GEOMETRIC_REPRESENTATION_ITEM() RATIONAL_B_SPLINE_CURVE({weights}) REPRESENTATION_ITEM(''))"
        ))
    }
}

impl SplineSurface {
    pub(super) fn add_to(&self, entities: &mut Entities) -> Id {
        let rows: Vec<Vec<Id>> =
            self.rows.iter().map(|row| row.iter().map(|point| entities.point(*point)).collect()).collect();
        let rows: Vec<List<Id>> = rows.iter().map(|row| List(row)).collect();
        let (u_degree, v_degree, points) = (self.across.degree, self.along.degree, List(&rows));
        let multiplicities = [&self.across, &self.along].map(|knots| List(&knots.multiplicities));
        let knots = [&self.across, &self.along].map(Knots::numbers);
        let [u_knots, v_knots] = knots.each_ref().map(|knots| List(knots));
        let [u_multiplicities, v_multiplicities] = multiplicities;
        let Some(weights) = &self.weights else {
            return entities.add(format_args!(
                "B_SPLINE_SURFACE_WITH_KNOTS('',{u_degree},{v_degree},{points},.UNSPECIFIED.,.F.,.F.,.F.,\
                 {u_multiplicities},{v_multiplicities},{u_knots},{v_knots},.UNSPECIFIED.)"
            ));
        };
        let weights: Vec<Vec<Number>> =
            self.rows.iter().zip(weights).map(|(row, weight)| vec![Number(*weight); row.len()]).collect();
        let weights: Vec<List<Number>> = weights.iter().map(|row| List(row)).collect();
        let weights = List(&weights);
        entities.add(format_args!(
            "(BOUNDED_SURFACE() B_SPLINE_SURFACE({u_degree},{v_degree},{points},.UNSPECIFIED.,.F.,.F.,.F.) \
             B_SPLINE_SURFACE_WITH_KNOTS({u_multiplicities},{v_multiplicities},{u_knots},{v_knots},\
             .UNSPECIFIED.) GEOMETRIC_REPRESENTATION_ITEM() RATIONAL_B_SPLINE_SURFACE({weights}) \
             REPRESENTATION_ITEM('') SURFACE())"
        ))
    }
}
