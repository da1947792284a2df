//! What a design carries over from its old motor: values that were chosen or measured for it, and what to look at on the new one.

use crate::design::{Design, ForcedJoint, Joint, Loaded, keys};
use crate::diagnostic::{Code, Diagnostic};
use crate::layout::{Actuator, lay_out};
use crate::quantity::{Kind, format};

use super::inputs::InputRow;
use super::new_motor::NewDesign;
use super::sizes::screws;

/// Notes on the new design, at its lines; `rows` are the inputs of both.
pub fn carried(old: &Loaded, new: &Loaded, written: &NewDesign, rows: &[InputRow]) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    notes.extend(same_name(&old.design, &new.design));
    notes.extend(dropped(&written.dropped));
    notes.extend(no_longer_given(rows, &written.dropped));
    notes.extend(peak_follows(rows, [&old.design, &new.design]));
    notes.extend(drive_limit(new));
    notes.extend(forced_screws(&old.design, new));
    notes
}

fn note(message: String) -> Diagnostic {
    Diagnostic::note(Code::CarriedOver, message)
}

/// Two motors of one name can't be told apart in the bill of materials.
fn same_name(old: &Design, new: &Design) -> Option<Diagnostic> {
    (old.motor.name == new.motor.name).then(|| {
        Diagnostic::warning(
            Code::CarriedOver,
            format!(
                "Old and new motor are both called \"{}\": lists of parts can't tell them apart",
                old.motor.name
            ),
        )
        .key("motor.name")
        .hint("give each motor's file a name of its own")
    })
}

fn dropped(keys: &[String]) -> Option<Diagnostic> {
    (!keys.is_empty()).then(|| {
        note(format!("Went with the old motor, whose own values they were put over: {}", keys.join(", ")))
            .key("motor")
            .hint("what was measured has to be measured on the new motor (hubwright trial)")
    })
}

/// Keys of the motor that the old one gave and the new one leaves to estimates.
fn no_longer_given(rows: &[InputRow], dropped: &[String]) -> Option<Diagnostic> {
    let lost = rows.iter().filter(|row| row.key.starts_with("motor.") && row.given == [true, false]);
    // What stood in the design itself is told already.
    let keys: Vec<&str> =
        lost.map(|row| row.key.as_str()).filter(|key| !dropped.iter().any(|one| one == key)).collect();
    (!keys.is_empty()).then(|| {
        note(format!(
            "The old motor gave these, the new one doesn't, so that defaults or estimates stand in: {}",
            keys.join(", ")
        ))
        .key("motor")
        .hint("`hubwright start NAME` says what each default means")
    })
}

/// A peak torque that nobody asked for is what the motor gives.
fn peak_follows(rows: &[InputRow], designs: [&Design; 2]) -> Option<Diagnostic> {
    const PEAK: &str = "requirement.peak_torque";
    rows.iter().find(|row| row.key == PEAK && row.follows())?;
    let [old, new] = designs.map(|design| design.requirement.peak_torque);
    let message = format!(
        "The design asks for no peak torque: it follows from the motor, {old:.1} N m before, {new:.1} N m now"
    );
    Some(note(message).key(PEAK).hint("requirement.peak_torque keeps it"))
}

/// The current of drive and motor: the smaller one counts.
fn drive_limit(new: &Loaded) -> Option<Diagnostic> {
    const KEY: &str = "controller.current_limit";
    let place = new.places.get(KEY)?;
    let (drive, motor) = (new.design.controller.current_limit, new.design.motor.current_limit);
    let [drive_text, motor_text] = [drive, motor].map(|current| format(current, Kind::Current));
    let found = if drive > motor {
        note(format!("The drive's limit, {drive_text}, is over the motor's {motor_text}: torque is reckoned with {motor_text}"))
            .hint(format!("set the drive to {motor_text}, as drive.md says"))
    } else if drive < motor {
        note(format!("The drive's limit, {drive_text}, is under the motor's {motor_text}: the motor gives less than it could"))
            .hint("if the drive takes more, say so here")
    } else {
        return None;
    };
    Some(found.at(place.clone()).key(KEY))
}

/// Screws forced in the design whose joint would choose others on the new motor.
fn forced_screws(old: &Design, new: &Loaded) -> Vec<Diagnostic> {
    let forced = |(_, joint): &&(&str, Joint)| {
        new.design.fasteners.get(joint).is_some_and(|one| *one != ForcedJoint::default())
    };
    keys::JOINTS
        .iter()
        .filter(forced)
        .filter_map(|(name, joint)| forced_screw(old, new, name, *joint))
        .collect()
}

fn forced_screw(old: &Design, new: &Loaded, name: &str, joint: Joint) -> Option<Diagnostic> {
    let free = laid_out_free(&new.design, joint)?;
    let key = format!("fasteners.{name}");
    let below = format!("{key}.");
    let place = new.places.iter().find(|(path, _)| path.starts_with(&below)).map(|(_, place)| place.clone());
    let by_rule = free.joints.iter().find(|one| one.joint == joint).map(screws)?;
    let found = match lay_out(&new.design) {
        Err(_) => note(format!(
            "Without the forced screws of {key} the design can be laid out on this motor, with {by_rule}"
        ))
        .hint("take them out, or choose them for the new motor"),
        Ok(_) => {
            let before = laid_out_free(old, joint)
                .and_then(|free| free.joints.iter().find(|one| one.joint == joint).map(screws))?;
            if before == by_rule {
                return None;
            }
            note(format!(
                "{key} was forced where the old motor would take {before}; this one would take {by_rule}"
            ))
            .hint("still meant? without it the layout's rule chooses")
        }
    };
    Some(found.at_maybe(place).key(key))
}

/// The design with one joint left to the rules; none if it can't be laid out so either.
fn laid_out_free(design: &Design, joint: Joint) -> Option<Actuator> {
    let mut free = design.clone();
    free.fasteners.remove(&joint);
    lay_out(&free).ok()
}
