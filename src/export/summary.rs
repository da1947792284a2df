//! The terminal summary: one screen with what was made and what to do about each check that doesn't hold.

use std::fmt::Write;

use crate::checks::{Checked, Ranking, Verdict};
use crate::pipeline::Made;
use crate::product::Product;

/// Text for the terminal; `colour` marks verdicts.
pub fn summary(made: &Made, folder: Option<&str>, colour: bool) -> String {
    let mut text = String::new();
    // Writing to a String can't fail.
    let _ = write_summary(&mut text, made, folder, colour);
    text
}

fn write_summary(out: &mut String, made: &Made, folder: Option<&str>, colour: bool) -> std::fmt::Result {
    let actuator = &made.product.actuator;
    let (design, stage) = (&actuator.design, &actuator.stage);
    writeln!(out, "{}  {}", design.name, design.about)?;
    writeln!(out)?;
    let pieces: u32 = made.product.parts.iter().map(|part| part.part.count).sum();
    if let Some(folder) = folder {
        writeln!(out, "  made      {} parts ({pieces} pieces) into {folder}", made.product.parts.len())?;
    }
    writeln!(
        out,
        "  size      {:.1} mm outside, {:.1} mm high; opens at {:.1} mm",
        actuator.outer_diameter(),
        actuator.stations.output_face,
        actuator.stations.service
    )?;
    writeln!(
        out,
        "  gears     {}/{}/{} teeth, {} planets, ratio {:.2}, centre distance {:.2} mm",
        stage.sun.teeth,
        stage.planet.teeth,
        stage.ring.teeth,
        stage.planets,
        stage.ratio,
        stage.centre_distance
    )?;
    writeln!(
        out,
        "  torque    {:.1} N m at the output, {:.2} at the sun, {:.1} on the housing",
        actuator.torques.output, actuator.torques.sun, actuator.torques.ring
    )?;
    write_drive(out, &made.product)?;
    let bearing = &made.product.output_bearing;
    let life = match made.product.bearings.output.map(|life| life.judged()) {
        None => "no life (not applicable)".to_string(),
        // A hundred years: beyond, the number says nothing but "not the bearing".
        Some(hours) if hours > 1e6 => "over 1 000 000 h".to_string(),
        Some(hours) => format!("{} h", thousands(hours)),
    };
    writeln!(
        out,
        "  bearing   {} {}: life {life}, static safety {:.1}{}",
        design.bearings.output_count,
        design.bearings.output.designation,
        bearing.static_safety,
        if design.bearings.output.from_memory { "; its row stands from memory" } else { "" }
    )?;
    let limit =
        design.requirement.mass_limit.map_or(String::new(), |limit| format!(" (limit {:.0} g)", limit * 1e3));
    writeln!(
        out,
        "  mass      {:.0} g{limit}: printed {:.0} g, bought {:.0} g",
        made.product.bom.total_mass() * 1e3,
        made.product.bom.printed_mass() * 1e3,
        made.product.bom.bought_mass() * 1e3
    )?;
    write_first(out, made)?;
    for note in &actuator.notes {
        writeln!(out, "  note      {}", note.message)?;
    }
    writeln!(out)?;
    write_checks(out, &made.checks, colour)
}

/// What the motor holds, and how the stage feels.
fn write_drive(out: &mut String, product: &Product) -> std::fmt::Result {
    if let Ok(heat) = &product.heat
        && let Ok(held) = &heat.continuous
    {
        let peak = heat.peak.as_ref().and_then(|peak| peak.warm);
        let time = peak.map_or(String::new(), |(time, _)| format!("; peak for {time:.0} s when warm"));
        writeln!(out, "  heat      {:.1} N m held for good, at rest (estimate){time}", held.torque)?;
    }
    let backlash = product.actuator.stage.output_backlash.to_degrees();
    let most = product
        .feel
        .play
        .map_or(String::new(), |play| format!(" (at most {:.2})", play.output[1].to_degrees()));
    let stiffness = product.feel.stiffness.as_ref().map_or(String::new(), |stiffness| {
        let [low, high] = stiffness.band();
        format!("; stage {:.0} N m/rad (band {low:.0} to {high:.0})", stiffness.output())
    });
    writeln!(out, "  feel      backlash {backlash:.2} deg{most} at the output{stiffness}")
}

/// What gives way first as the torque grows.
fn write_first(out: &mut String, made: &Made) -> std::fmt::Result {
    let ranking = Ranking::of(&made.product, &made.checks);
    for (load, places) in [("peak", &ranking.peak), ("hours", &ranking.continuous)] {
        let Some(first) = places.first() else { continue };
        let at = match first.torque {
            Some(torque) => format!(" at {torque:.1} N m"),
            None => String::new(),
        };
        writeln!(out, "  first     {load}: {}{at}", first.checked.check.id)?;
    }
    Ok(())
}

/// The weakest of each list with what to change, for `check`.
pub fn weakest(made: &Made, count: usize) -> String {
    let ranking = Ranking::of(&made.product, &made.checks);
    let mut text = String::new();
    for (load, places) in [("the peak torque", &ranking.peak), ("the continuous torque", &ranking.continuous)]
    {
        if places.is_empty() {
            continue;
        }
        // Writing to a String can't fail.
        let _ = writeln!(text, "First to give way as {load} grows:");
        for (index, place) in places.iter().take(count).enumerate() {
            let at = place.torque.map_or("no law".to_string(), |torque| format!("{torque:.1} N m"));
            let (check, remedy) = (place.checked.check, &place.checked.outcome.remedy);
            let _ = writeln!(text, "  {}. {at:>9}  {} ({}). {remedy}", index + 1, check.title, check.id);
        }
    }
    text
}

fn write_checks(out: &mut String, checks: &[Checked], colour: bool) -> std::fmt::Result {
    let count = |verdict: Verdict| checks.iter().filter(|checked| checked.outcome.verdict == verdict).count();
    writeln!(
        out,
        "  checks    {} hold, {} warn, {} fail, {} not applicable",
        count(Verdict::Holds),
        count(Verdict::Warns),
        count(Verdict::Fails),
        count(Verdict::NotApplicable)
    )?;
    let open =
        checks.iter().filter(|checked| matches!(checked.outcome.verdict, Verdict::Warns | Verdict::Fails));
    for checked in open {
        let (check, outcome) = (checked.check, &checked.outcome);
        let value = outcome.value.map_or("-".to_string(), significant);
        let limit = outcome.limit.map_or("-".to_string(), significant);
        let word = paint(outcome.verdict, colour);
        let unit = if check.unit.is_empty() { String::new() } else { format!(" {}", check.unit) };
        writeln!(out, "  {word}  {}: {value}{unit}, wanted {limit}{unit}. {}", check.title, outcome.remark)?;
        let remedy = outcome.remedy.to_string();
        if !remedy.is_empty() {
            writeln!(out, "         {remedy} (hubwright explain {})", check.id)?;
        }
    }
    Ok(())
}

/// Three to four digits, as one reads a gauge.
pub fn significant(value: f64) -> String {
    match value.abs() {
        size if size >= 1e5 => thousands(value),
        size if size >= 100.0 => format!("{value:.0}"),
        size if size >= 10.0 => format!("{value:.1}"),
        size if size >= 0.1 || size == 0.0 => format!("{value:.2}"),
        _ => format!("{value:.2e}"),
    }
}

/// Digits in groups of three.
fn thousands(value: f64) -> String {
    let digits = format!("{:.0}", value.abs());
    let mut grouped = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index) % 3 == 0 {
            grouped.push(' ');
        }
        grouped.push(digit);
    }
    if value < 0.0 { format!("-{grouped}") } else { grouped }
}

fn paint(verdict: Verdict, colour: bool) -> String {
    let word = verdict.as_str();
    match (colour, verdict) {
        (true, Verdict::Fails) => format!("\x1b[31m{word}\x1b[0m"),
        (true, Verdict::Warns) => format!("\x1b[33m{word}\x1b[0m"),
        (true, Verdict::Holds) => format!("\x1b[32m{word}\x1b[0m"),
        _ => word.to_string(),
    }
}
