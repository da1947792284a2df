//! The figures one asks first.

use maud::{Markup, html};

use super::text::words;
use crate::checks::{Ranking, Verdict};
use crate::export::print_sheet::{hours, prints};
use crate::export::summary::significant;
use crate::pipeline::Made;

pub fn glance(made: &Made) -> Markup {
    html! {
        dl.figures {
            @for (name, value) in figures(made) { div { dt { (name) } dd { (value) } } }
        }
        p { (verdicts(made)) }
        @if !made.product.actuator.notes.is_empty() {
            ul { @for note in &made.product.actuator.notes { li { (words(&note.message)) } } }
        }
    }
}

fn figures(made: &Made) -> Vec<(&'static str, String)> {
    let product = &made.product;
    let (actuator, stage) = (&product.actuator, &product.actuator.stage);
    let mut rows = vec![
        (
            "Size",
            format!(
                "{:.1} mm across, {:.1} mm high",
                actuator.outer_diameter(),
                actuator.stations.output_face
            ),
        ),
        (
            "Mass",
            format!(
                "{:.0} g, of it printed {:.0} g",
                product.bom.total_mass() * 1e3,
                product.bom.printed_mass() * 1e3
            ),
        ),
        (
            "Ratio",
            format!(
                "{:.3}: sun {}, planets {} x {}, ring {}",
                stage.ratio, stage.sun.teeth, stage.planets, stage.planet.teeth, stage.ring.teeth
            ),
        ),
        ("Peak torque", format!("{:.1} N m at the output", actuator.torques.output)),
    ];
    if let Ok(rating) = &product.heat {
        if let Ok(held) = &rating.continuous {
            rows.push(("Held for good, at rest", format!("{:.1} N m (estimate)", held.torque)));
        }
        if let Some(speed) = rating.map().no_load_speed {
            rows.push((
                "Speed without load",
                format!("{:.0} rev/min at the output", speed * 30.0 / std::f64::consts::PI),
            ));
        }
    }
    let backlash = stage.output_backlash.to_degrees();
    let most = product
        .feel
        .play
        .map_or(String::new(), |play| format!(", at most {:.2}", play.output[1].to_degrees()));
    rows.push(("Backlash at the output", format!("{backlash:.2} deg{most}")));
    if let Some(stiffness) = &product.feel.stiffness {
        let [low, high] = stiffness.band();
        rows.push((
            "Stiffness of the stage",
            format!("{:.0} N m/rad, band {low:.0} to {high:.0}", stiffness.output()),
        ));
    }
    let pieces: u32 = product.parts.iter().map(|part| part.part.count).sum();
    let time: f64 =
        prints(product).iter().map(|(part, _, time)| f64::from(part.part.count) * time.time).sum();
    rows.push(("Prints", format!("{} parts, {pieces} pieces, {}", product.parts.len(), hours(time))));
    if let Some(cost) = product.bom.total_cost() {
        rows.push(("Cost of what has a price", format!("{cost:.2}")));
    }
    let ranking = Ranking::of(product, &made.checks);
    for (name, places) in
        [("First to give way, peak", &ranking.peak), ("First to give way, hours", &ranking.continuous)]
    {
        let Some(first) = places.first() else { continue };
        let at = first.torque.map_or(String::new(), |torque| format!(" at {} N m", significant(torque)));
        rows.push((name, format!("{}{at}", first.checked.check.title)));
    }
    rows
}

fn verdicts(made: &Made) -> String {
    let count =
        |verdict: Verdict| made.checks.iter().filter(|checked| checked.outcome.verdict == verdict).count();
    format!(
        "Of {} checks {} hold, {} warn, {} fail; {} do not apply.",
        made.checks.len(),
        count(Verdict::Holds),
        count(Verdict::Warns),
        count(Verdict::Fails),
        count(Verdict::NotApplicable)
    )
}
