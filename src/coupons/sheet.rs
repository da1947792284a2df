//! `coupons.md`: what to print, what to try, what to note.

use std::fmt::Write;

use super::{Coupon, GearPair, Kind, template, values};
use crate::design::Design;
use crate::geometry::ShapeError;
use crate::layout::Actuator;

/// The sheet; `files` are each coupon's files.
///
/// # Errors
/// A shape without a volume.
pub fn markdown(
    actuator: &Actuator,
    coupons: &[Coupon],
    files: &[Vec<String>],
) -> Result<String, ShapeError> {
    let design = &actuator.design;
    let mut text = format!("# Coupons of {}\n\n{}\n", design.name, INTRODUCTION.trim());
    text.push_str(&overview(design, coupons, files)?);
    text.push_str(CAUTIONS);
    for (coupon, files) in coupons.iter().zip(files) {
        text.push_str(&section(actuator, coupon, files));
    }
    Ok(text)
}

const INTRODUCTION: &str = "
Small prints that tell what your printer does, so that the parts fit the first time. Print those you want to know about,
each in the material and with the settings of the part it stands for, solid, lying as it does in its file, without supports;
no slicer compensation for holes, posts or the elephant foot, or the same as for the parts. Let them cool on the bed.

Every step carries its number; **1 is the tightest**. Note what you find here and in `found.toml` beside this sheet, then run
`hubwright coupons DESIGN --found found.toml`: it changes the printer profile and says which parts to print again.
";

const CAUTIONS: &str = "
Cautions: an insert's hot tool burns long after it looks cold, and softened plastic sticks to skin: hold the bar in a vice, not
in a hand. Press pins and bearings straight, with a vice or a press and not a hammer; keep fingers from between; hardened pins
splinter: wear eye protection. Turn gears by hand only.
";

fn overview(design: &Design, coupons: &[Coupon], files: &[Vec<String>]) -> Result<String, ShapeError> {
    let mut text = String::from(
        "\n| coupon | files | print as | mass, about | time, roughly |\n| --- | --- | --- | --- | --- |\n",
    );
    let (mut mass, mut minutes) = (0.0, 0.0);
    for (coupon, files) in coupons.iter().zip(files) {
        let (one_mass, one_time) = (coupon.mass(design)? * 1e3, coupon.minutes(design)?);
        mass += one_mass;
        minutes += one_time;
        // Writing to a String cannot fail.
        let _ = writeln!(
            text,
            "| {} | {} | {} | {one_mass:.1} g | {one_time:.0} min |",
            coupon.name,
            files.iter().map(|file| format!("`{file}`")).collect::<Vec<_>>().join(", "),
            print_as(design, coupon),
        );
    }
    let _ = writeln!(text, "| all | | | {mass:.0} g | {minutes:.0} min |");
    Ok(text)
}

fn print_as(design: &Design, coupon: &Coupon) -> String {
    let settings = design.settings(coupon.part);
    let layer = values::millimetres(settings.layer_height);
    format!("{}: {}, {layer} layers", coupon.part.as_str(), settings.material.name)
}

fn section(actuator: &Actuator, coupon: &Coupon, files: &[String]) -> String {
    let mut text = format!("\n## {}\n\n{} ({}).\n\n", coupon.name, coupon.title, files.join(", "));
    text.push_str(&instruction(actuator, coupon));
    text.push('\n');
    let columns = columns(coupon.kind);
    if columns.is_empty() {
        return text;
    }
    let rule = "| --- ".repeat(columns.len() + 2);
    // Writing to a String cannot fail.
    let _ = write!(text, "\n| number | {} | what it does |\n{rule}|\n", columns.join(" | "));
    for (number, step) in (1..).zip(&coupon.steps) {
        let mut cells = vec![values::step(coupon.kind, *step)];
        match coupon.kind {
            _ if columns.len() < 2 => {}
            Kind::GearPair => cells.push(values::millimetres(GearPair::play_along_line_of_action(*step))),
            _ => cells.push(values::millimetres(coupon.size + step)),
        }
        let _ = writeln!(text, "| {number} | {} | |", cells.join(" | "));
    }
    if let Some(table) = template::table_name(coupon.kind) {
        let _ = writeln!(text, "\nNoted under `[[{table}]]` in `found.toml`.");
    }
    text
}

/// Headings of the columns of values; none for a coupon without steps.
fn columns(kind: Kind) -> &'static [&'static str] {
    match kind {
        Kind::RingInsertGauge | Kind::Gauge => &[],
        Kind::GearPair => &["flank growth taken off", "play as drawn, along the line of action"],
        Kind::Bridge => &["span"],
        Kind::Overhang => &["lean from the vertical"],
        Kind::SunSocket => &["allowance on the diameter"],
        Kind::Insert | Kind::Pilot => &["growth added", "diameter as printed"],
        _ => &["allowance", "diameter as printed"],
    }
}

fn instruction(actuator: &Actuator, coupon: &Coupon) -> String {
    let size = values::millimetres(coupon.size);
    match coupon.kind {
        Kind::Seat => format!(
            "Push a bearing of {size} outside into each ring from the top, beginning with the loosest. Wanted: the tightest ring that \
             it goes into by hand, firmly. A thin ring gives a little more than the part around it: between two, take the looser."
        ),
        Kind::Post => format!(
            "Push a bearing of {size} bore onto each post as far as the flag, beginning with the loosest. Wanted: the tightest post \
             that it goes onto by hand and off again without tools."
        ),
        Kind::Pin => format!(
            "Try pins of {size} from the loosest hole down. Sliding: one goes through by its weight or a light push, and doesn't rock. \
             Pressed: a vice pushes it in, and no pull by hand brings it out. A burr on the pin's end spoils the trial: bevel first."
        ),
        Kind::Clearance => "Drop the screw through from the loosest hole down. Wanted: the tightest hole that it falls through \
                            without being turned."
            .into(),
        Kind::Insert => format!(
            "Set one insert in each pocket with the tool at the temperature you use for the parts, flush, and let it cool. Wanted: \
             straight, flush, no bulge of plastic over the thread, and it holds a screw pulled hard. Without spare inserts: \
             measure pocket 1 with the shank of a drill or a caliper; it should come out at {size}."
        ),
        Kind::Pilot => format!(
            "Drive a thread-forming screw into each hole to the bottom and back, three times, by hand, beginning with the widest. Wanted: \
             the tightest hole (drawn {size} and up) whose boss neither splits nor bulges; a hole that strips is too wide. The actuator's own joints \
             use inserts: keep this for covers and brackets of yours."
        ),
        Kind::RingInsert => "Push the ring of `ring-gauge` into each of these from the top. Wanted: the tightest that it goes into \
                             by hand. Lobes and teeth of the real insert take the same allowance."
            .into(),
        Kind::RingInsertGauge => "Without a number; printed in the ring insert's material. For the rings of `ring-bore`.".into(),
        Kind::SunSocket => "Slide the bought sun into each socket along its helix. Wanted: the tightest that it slides into with \
                            light force, by hand, from the top down to the last layers."
            .into(),
        Kind::GearPair => gear_pair_instruction(actuator),
        Kind::Bridge => "Look from below: wanted is the longest span without a hanging line. The coupon goes as far as the \
                         profile's limit."
            .into(),
        Kind::Overhang => "Look at the undersides: wanted is the steepest lean that is clean, no curl, no dropped line. The coupon \
                           goes as far as the profile's limit."
            .into(),
        Kind::Gauge => format!(
            "Drawn {size} across, nothing but the material's shrinkage allowed for. Measure across with a caliper some millimetres up (mean of two directions, off \
             the seam), and again at the very bottom, where the first layers bulge. Noted under `[[gauge]]` in `found.toml`."
        ),
    }
}

fn gear_pair_instruction(actuator: &Actuator) -> String {
    let pin = values::millimetres(actuator.planet.pin_diameter);
    let pair = GearPair::of(actuator);
    let drawn = pair.map_or_else(String::new, |pair| {
        format!(" {} teeth each, {} apart.", pair.gear.teeth, values::millimetres(pair.centre_distance))
    });
    format!(
        "Press two pins of {pin} into the plate, straight; put gear 0 on one and a mate on the other, chamfered faces alike, and turn \
         it once round by hand, beginning with the loosest mate.{drawn} As drawn the pair has no backlash but what its step takes \
         off every flank. Wanted: the tightest mate that runs freely all the way round; its step is what your flanks grow. It \
         includes what runs out and what the pins leave: the real play is rather larger than the report will say. Free pins in \
         the gears' bores open the pair by a few hundredths; if the gears rock on their pins, do the pin coupon first."
    )
}
