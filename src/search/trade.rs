//! What a choice of the front gives against its nearest neighbour, and for what.

use super::front::Objectives;

/// Gains and prices told of one choice: more is a list, not a reason.
const MOST: usize = 2;

/// An objective in figures: how a gain and a price of so much are said.
struct Figure {
    value: fn(&Objectives) -> f64,
    digits: usize,
    gain: &'static str,
    price: &'static str,
}

/// In the order of [`Objectives::scaled`].
const FIGURES: [Figure; 6] = [
    Figure { value: |one| one.mass * 1e3, digits: 0, gain: "g lighter", price: "g more" },
    Figure { value: |one| one.diameter, digits: 1, gain: "mm narrower", price: "mm more diameter" },
    Figure { value: |one| one.height, digits: 1, gain: "mm lower", price: "mm more height" },
    Figure {
        value: |one| one.continuous,
        digits: 2,
        gain: "N m more for hours",
        price: "N m less for hours",
    },
    Figure {
        value: |one| one.backdrive,
        digits: 2,
        gain: "N m easier to turn back",
        price: "N m harder to turn back",
    },
    Figure { value: |one| one.cost.unwrap_or(0.0), digits: 2, gain: "cheaper", price: "dearer" },
];

/// Which other choice is the most alike, what this one gives against it, and for what; none where it is alone, or where
/// nothing is given or nothing paid in the figures shown.
pub fn against_neighbour(front: &[Objectives], place: usize) -> Option<String> {
    let own = front.get(place)?;
    let alike = |other: &Objectives| -> f64 {
        own.scaled().iter().zip(other.scaled()).map(|(own, other)| (own - other).abs()).sum()
    };
    let others = front.iter().enumerate().filter(|(other, _)| *other != place);
    let told = others.filter_map(|(other, one)| Some((alike(one), told(own, one, other + 1)?)));
    told.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, told)| told)
}

fn told(own: &Objectives, other: &Objectives, number: usize) -> Option<String> {
    let better: [f64; 6] = {
        let (own, other) = (own.scaled(), other.scaled());
        std::array::from_fn(|index| other[index] - own[index])
    };
    let gains = said(own, other, &better, |figure| figure.gain);
    let prices = said(own, other, &better.map(|step| -step), |figure| figure.price);
    (!gains.is_empty() && !prices.is_empty())
        .then(|| format!("{} than no. {number} for {}", gains.join(" and "), prices.join(" and ")))
}

/// The largest differences to one side, in figures: those beyond the front's resolution, or the largest alone.
fn said(
    own: &Objectives,
    other: &Objectives,
    steps: &[f64; 6],
    words: impl Fn(&Figure) -> &'static str,
) -> Vec<String> {
    let mut sides: Vec<(f64, &Figure)> =
        steps.iter().copied().zip(&FIGURES).filter(|(step, _)| *step > 0.0).collect();
    sides.sort_by(|a, b| b.0.total_cmp(&a.0));
    let many = sides.iter().filter(|(step, _)| *step > 1.0).count().clamp(1, MOST);
    let figures = sides.into_iter().take(many).map(|(_, figure)| {
        let by = format!("{:.*}", figure.digits, ((figure.value)(own) - (figure.value)(other)).abs());
        // What rounds to nothing is nothing to tell.
        let shows = by.chars().any(|digit| ('1'..='9').contains(&digit));
        shows.then(|| format!("{by} {}", words(figure)))
    });
    figures.flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one(mass: f64, diameter: f64, continuous: f64) -> Objectives {
        Objectives { mass, diameter, height: 80.0, continuous, backdrive: 0.3, cost: None }
    }

    #[test]
    fn the_nearest_neighbour_is_named_with_gain_and_price() {
        let front = [one(0.900, 100.0, 2.0), one(0.800, 110.0, 2.0), one(0.600, 110.0, 1.0)];
        // 0.8 to 0.9 kg is 4 steps of 3 %, 110 to 100 mm 3.2; 0.8 to 0.6 kg alone is 9.7.
        let told = |place| against_neighbour(&front, place).expect("has neighbours");
        assert_eq!(told(0), "10.0 mm narrower than no. 2 for 100 g more");
        assert_eq!(told(1), "100 g lighter than no. 1 for 10.0 mm more diameter");
        assert_eq!(told(2), "200 g lighter than no. 2 for 1.00 N m less for hours");
    }

    #[test]
    fn small_differences_are_left_out_beside_large_ones() {
        // 1 % of mass is within the resolution: not told beside 20 % of torque; told where it is all there is.
        let front = [one(0.900, 100.0, 2.0), one(0.891, 112.0, 2.4)];
        let told = against_neighbour(&front, 1);
        assert_eq!(told.as_deref(), Some("0.40 N m more for hours than no. 1 for 12.0 mm more diameter"));
        let front = [one(0.900, 100.0, 2.0), one(0.891, 112.0, 2.0)];
        let told = against_neighbour(&front, 1);
        assert_eq!(told.as_deref(), Some("9 g lighter than no. 1 for 12.0 mm more diameter"));
    }

    #[test]
    fn alone_there_is_nothing_to_compare() {
        assert_eq!(against_neighbour(&[one(0.9, 100.0, 2.0)], 0), None);
    }
}
