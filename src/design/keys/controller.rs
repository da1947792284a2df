//! `[controller]`: board and drive.

use crate::design::key::Takes;
use crate::design::model::FieldWeakening;
use crate::design::section::{choice, section};
use crate::design::value::Choice;
use crate::quantity::Kind;

choice!(FieldWeakening { "off" => FieldWeakening::Off, "on" => FieldWeakening::On, });

section! {
    "Board and drive, with the encoder's sensor on the axis."
    pub struct ControllerKeys {
        name: String = Takes::Text, [default "controller" "Not named."], "arm drive 55", "As in the bill of materials.";
        bus_voltage: f64 = Takes::Quantity { kind: Kind::Voltage, least: 3.0, most: 400.0 },
            [default "24 V" "Six lithium cells, the usual supply of such joints (common practice, no source)."], "48 V", "Supply.";
        supply_resistance: f64 = Takes::Quantity { kind: Kind::Resistance, least: 0.0, most: 100.0 },
            [default "0 ohm" "Not known: no sag, so that speeds are an upper bound."], "0.05 ohm", "Source, wires and connectors together.";
        supply_current: f64 = Takes::Quantity { kind: Kind::Current, least: 0.1, most: 1000.0 },
            [optional "Not limited."], "20 A", "Most the supply gives.";
        field_weakening: FieldWeakening = Takes::Choice(<FieldWeakening as Choice>::WORDS),
            [default "off" "Few small drives have it, and it costs heat."], "off", "Whether the drive spends current to turn faster.";
        current_limit: f64 = Takes::Quantity { kind: Kind::Current, least: 0.1, most: 1000.0 },
            [optional "The motor's own."], "40 A", "Highest phase current, peak.";
        board: BoardKeys = Takes::Section(BoardKeys::SECTION), [default "{}" "A small board; see its keys."],
            "{ length = \"55 mm\", width = \"30 mm\" }", "The circuit board.";
        encoder: EncoderKeys = Takes::Section(EncoderKeys::SECTION), [default "{}" "See its keys."],
            "{ bits = 14, gap = \"1 mm\" }", "Sensor under the magnet.";
        loop_rate: f64 = Takes::Quantity { kind: Kind::Frequency, least: 10.0, most: 1e6 },
            [default "20 kHz" "Usual for field-oriented control (common practice, no source)."], "20 kHz", "Current loop.";
        position_rate: f64 = Takes::Quantity { kind: Kind::Frequency, least: 10.0, most: 1e6 },
            [optional "The virtual spring is reckoned in every turn of the current loop."], "8 kHz", "Loop that makes the virtual spring.";
        loop_delay: f64 = Takes::Quantity { kind: Kind::Time, least: 0.0, most: 0.1 },
            [optional "One period of the position loop: reckoned in one, applied in the next."], "125 us",
            "From reading the encoder to the torque being there.";
        velocity_filter: f64 = Takes::Quantity { kind: Kind::Frequency, least: 1.0, most: 1e5 },
            [default "200 Hz" "Smooths the steps of a magnetic sensor's speed (common practice, no source)."], "300 Hz",
            "Cut-off of the low-pass on the measured speed.";
        mass: f64 = Takes::Quantity { kind: Kind::Mass, least: 0.001, most: 2.0 },
            [default "20 g" "A board of the default size with its parts (common practice, no source)."], "30 g", "Mass of the board.";
        cost: f64 = Takes::Number { least: 0.0, most: 1e6 }, [optional "Not counted."], "60", "Price in your currency.";
    }
}

section! {
    "The circuit board, its middle on the axis."
    pub struct BoardKeys {
        length: f64 = Takes::length(10.0, 200.0), [default "34 mm" "A small single-motor board."], "55 mm", "Longer side.";
        width: f64 = Takes::length(10.0, 200.0), [default "26 mm" "A small single-motor board."], "30 mm", "Shorter side.";
        thickness: f64 = Takes::length(0.4, 4.0), [default "1.6 mm" "The usual laminate."], "1.6 mm", "Bare board.";
        height: f64 = Takes::length(0.0, 40.0), [default "5 mm" "Capacitors lying flat (common practice, no source)."], "8 mm",
            "Tallest part on the motor's side, away from the axis.";
        underside: f64 = Takes::length(0.5, 30.0), [default "3 mm" "Solder and small parts (common practice, no source)."], "3 mm",
            "Room for parts and solder on the floor's side.";
        holes: HolesKeys = Takes::Section(HolesKeys::SECTION), [default "{}" "See its keys."],
            "{ pattern = [\"49 mm\", \"24 mm\"], thread = \"M2.5\" }", "Mounting holes.";
    }
}

section! {
    "Four mounting holes."
    pub struct HolesKeys {
        pattern: [f64; 2] = Takes::Quantities { count: 2, kind: Kind::Length, least: 5.0, most: 195.0 },
            [default "[\"28 mm\", \"20 mm\"]" "Holes 3 mm from the edges of the default board."], "[\"49 mm\", \"24 mm\"]",
            "Centre to centre, along length and width.";
        thread: crate::tables::Thread = Takes::Thread, [default "M2.5" "Usual on boards of this size."], "M2.5", "Screw.";
    }
}

section! {
    "The position sensor."
    pub struct EncoderKeys {
        bits: u32 = Takes::Count { least: 6, most: 24 }, [default "14" "Usual for magnetic sensors (common practice, no source)."], "14",
            "Resolution.";
        sensor_height: f64 = Takes::length(0.1, 10.0), [default "1.2 mm" "A flat eight-lead package (common practice, no source)."], "1.2 mm",
            "Top of the sensor above the board.";
        gap: f64 = Takes::length(0.1, 10.0), [default "1 mm" "Middle of the usual 0.5 to 3 mm on the strong side."], "1 mm", "Sensor to magnet.";
        eccentricity: f64 = Takes::length(0.0, 3.0), [default "0.2 mm" "Board screwed down by its holes (common practice, no source)."], "0.1 mm",
            "Middle of the sensor to the motor's axis.";
    }
}
