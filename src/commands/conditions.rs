//! Which keys of the design file a condition of the layout turns on, so that its message can show a line.

/// Condition, and keys in the order in which one would look at them; the first one that a file gives is shown.
const KEYS: &[(&str, &[&str])] = &[
    ("gearset", &["gearset.planets", "gearset.ring_teeth"]),
    ("planet-gap", &["gearset.planets", "gearset.planet_teeth"]),
    ("pillar-room", &["fasteners.pillars.thread", "gearset.planets"]),
    ("planet-rim", PLANET_BEARING),
    ("planet-washer", PLANET_BEARING),
    ("planet-sleeve", &["gearset.face_width"]),
    ("planet-pin", &["gearset.planet.pin", "bearings.planet", "gearset.planet.bearing"]),
    ("sun-boss", &["gearset.planet.pin", "bearings.planet", "gearset.planet.bearing", "gearset.sun_teeth"]),
    ("sun-printed", &["gearset.sun.made", "gearset.sun_teeth"]),
    ("sun-screw", &["fasteners.sun.length", "gearset.face_width"]),
    ("rotor-screws", &["motor.rotor_bolts.circle", "motor.rotor_bolts"]),
    ("rotor-screw-length", &["motor.rotor_bolts.depth", "motor.rotor_bolts"]),
    ("stator-screws", &["motor.stator_bolts.circle", "motor.stator_bolts"]),
    ("stator-screw-length", &["motor.stator_bolts.depth", "motor.stator_bolts"]),
    ("mount-screws", &["fasteners.stator-mount.length", "fasteners.stator-mount.thread"]),
    ("shaft-extension", &["motor.shaft_extension"]),
    ("encoder-gap", &["controller.encoder.gap", "motor.shaft_extension"]),
    ("board-passes", &["controller.board.length", "controller.board"]),
    ("plate-in-ring", &["gearset.ring_teeth"]),
    ("plate-in-base", &["motor.outer_diameter", OUTPUT, "bearings.output", "gearset.ring_teeth"]),
    ("bearing-passes", OUTPUT_BEARING),
    ("keeper-screws", &["fasteners.keeper.thread", "fasteners.keeper.length", OUTPUT, "bearings.output"]),
    ("output-bolts", &["fasteners.output.count", "fasteners.output.thread", OUTPUT, "bearings.output"]),
    ("carrier-holes", &["fasteners.output.count", "gearset.planets"]),
    ("clamp-screws", &["fasteners.clamp-ring.length"]),
    ("service-screws", &["fasteners.service.length", "fasteners.service.thread", "gearset.face_width"]),
    ("service-columns", &["fasteners.service.count"]),
    ("lobe-screws", &["fasteners.ring-insert.length", "gearset.ring.made"]),
];

const OUTPUT: &str = "bearings.output.designation";
const OUTPUT_BEARING: &[&str] = &[OUTPUT, "bearings.output"];
const PLANET_BEARING: &[&str] = &["bearings.planet", "gearset.planet.bearing", "gearset.planet_teeth"];

/// The keys a condition turns on; none for one that turns on the design as a whole.
pub fn keys(condition: &str) -> &'static [&'static str] {
    KEYS.iter().find(|(id, _)| *id == condition).map_or(&[], |(_, keys)| keys)
}
