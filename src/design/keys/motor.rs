//! `[motor]`: a pancake outrunner.

use crate::design::key::Takes;
use crate::design::model::KvConvention;
use crate::design::records::VoltageReading;
use crate::design::section::{choice, section};
use crate::design::value::Choice;
use crate::quantity::Kind;

choice!(VoltageReading { "peak" => VoltageReading::Peak, "rms" => VoltageReading::Rms, });
choice!(KvConvention {
    "line-peak" => KvConvention::LinePeak,
    "line-rms" => KvConvention::LineRms,
    "dc" => KvConvention::Dc,
});

section! {
    "The motor: a pancake outrunner, stator at the back, bell turning."
    pub struct MotorKeys {
        name: String = Takes::Text, [default "motor" "Not named."], "disc 86", "As in the bill of materials.";
        kv: f64 = Takes::Quantity { kind: Kind::SpeedConstant, least: 1.0, most: 20_000.0 },
            [optional "From spin, if there is one."], "90 rpm/V", "Speed constant: no-load speed per volt; or give spin.";
        spin: SpinKeys = Takes::Section(SpinKeys::SECTION), [optional "As kv says."],
            "{ speed = \"1000 rpm\", voltage = \"11.1 V\", reading = \"peak\" }", "In place of kv: the motor turned by a drill, leads open.";
        kv_is: KvConvention = Takes::Choice(<KvConvention as Choice>::WORDS),
            [default "line-peak" "The reading that promises the least torque."], "line-peak",
            "Which voltage the maker's Kv means: torque differs by 15 %.";
        phase_resistance: f64 = Takes::Quantity { kind: Kind::Resistance, least: 1e-4, most: 100.0 },
            [optional "Half the line resistance."], "0.13 ohm", "Resistance of one phase, star, at 20 degC; or give line_resistance.";
        line_resistance: f64 = Takes::Quantity { kind: Kind::Resistance, least: 1e-4, most: 200.0 },
            [optional "Twice the phase resistance."], "0.26 ohm", "Resistance between two leads; or give phase_resistance.";
        resistance_drop: DropKeys = Takes::Section(DropKeys::SECTION), [optional "As the resistance says."],
            "{ voltage = \"1.3 V\", current = \"5 A\" }", "In place of a resistance: a direct current through two leads.";
        phase_inductance: f64 = Takes::Quantity { kind: Kind::Inductance, least: 1e-7, most: 0.1 },
            [optional "Not known."], "60 uH", "Inductance of one phase.";
        pole_pairs: u32 = Takes::Count { least: 1, most: 60 }, [required], "14", "Magnets divided by two.";
        rotor_inertia: f64 = Takes::Quantity { kind: Kind::Inertia, least: 1e-9, most: 0.1 },
            [optional "Not known."], "1900 g cm2", "Moment of inertia of the bell.";
        mass: f64 = Takes::Quantity { kind: Kind::Mass, least: 0.005, most: 10.0 }, [required], "360 g", "Mass with its leads.";
        outer_diameter: f64 = Takes::length(15.0, 300.0), [required], "86 mm", "Outside of the bell.";
        height: f64 = Takes::length(5.0, 150.0), [required], "27 mm", "Mounting face to rotor face.";
        shaft_diameter: f64 = Takes::length(1.0, 50.0), [required], "8 mm", "Shaft at the encoder end.";
        shaft_extension: f64 = Takes::length(0.0, 60.0), [required], "6 mm", "How far the shaft stands out of the mounting face.";
        magnet: MagnetKeys = Takes::Section(MagnetKeys::SECTION), [default "{}" "A common size; see its keys."],
            "{ diameter = \"6 mm\", thickness = \"2.5 mm\" }", "Encoder magnet on the shaft end, magnetized across.";
        stator_bolts: StatorBoltsKeys = Takes::Section(StatorBoltsKeys::SECTION), [required],
            "{ count = 4, thread = \"M3\", circle = \"37 mm\" }", "Threads in the mounting face.";
        rotor_bolts: RotorBoltsKeys = Takes::Section(RotorBoltsKeys::SECTION), [required],
            "{ count = 4, thread = \"M3\", circle = \"30 mm\" }", "Threads in the rotor face.";
        current_limit: f64 = Takes::Quantity { kind: Kind::Current, least: 0.1, most: 1000.0 },
            [required], "36 A", "Highest phase current, peak.";
        no_load_current: f64 = Takes::Quantity { kind: Kind::Current, least: 0.001, most: 100.0 },
            [optional "Drag is 3 % of the torque at the current limit, by a factor of two either way (common practice, no source)."],
            "0.9 A", "Current of the supply while the motor turns freely.";
        saturation: f64 = Takes::Number { least: 0.0, most: 0.5 },
            [default "0.15" "Measured motors lose 12 to 19 % (P. Wasilewski, 2021)."], "0.15",
            "Share of torque lost to saturation at the current limit.";
        winding_limit: f64 = Takes::Quantity { kind: Kind::Temperature, least: 40.0, most: 250.0 },
            [default "100 degC" "Magnets and glue of hobby motors; maker's figure if there is one (common practice, no source)."],
            "100 degC", "Hottest the winding may get.";
        thermal: ThermalKeys = Takes::Section(ThermalKeys::SECTION), [optional "Estimated from mass and size, by a factor of 1.5 either way."], "",
            "Heat, as measured: winding, mount.";
        thrust_limit: f64 = Takes::Quantity { kind: Kind::Force, least: 0.1, most: 20_000.0 },
            [optional "Not known: the sun's thrust is told, not judged."], "150 N", "Axial force its bearings bear, either way.";
        lead_diameter: f64 = Takes::length(0.5, 10.0), [optional "That of the thinnest lead that carries the current."], "2.3 mm", "Outside of one phase lead.";
        cogging_torque: f64 = Takes::Quantity { kind: Kind::Torque, least: 0.0, most: 10.0 },
            [optional "Not known."], "20 mN m", "Cogging torque, peak.";
        cost: f64 = Takes::Number { least: 0.0, most: 1e6 }, [optional "Not counted."], "85", "Price in your currency.";
    }
}

section! {
    "Kv by spinning: the voltage between two open leads at a known speed."
    pub struct SpinKeys {
        speed: f64 = Takes::Quantity { kind: Kind::RotationalSpeed, least: 1.0, most: 10_000.0 }, [required], "1000 rpm", "Speed of the rotor.";
        voltage: f64 = Takes::Quantity { kind: Kind::Voltage, least: 0.01, most: 1000.0 }, [required], "11.1 V", "Between two leads.";
        reading: VoltageReading = Takes::Choice(<VoltageReading as Choice>::WORDS), [required], "peak",
            "Peak by an oscilloscope, or r.m.s. by a meter.";
    }
}

section! {
    "Resistance by drop: a direct current through two leads, at room temperature."
    pub struct DropKeys {
        voltage: f64 = Takes::Quantity { kind: Kind::Voltage, least: 1e-4, most: 100.0 }, [required], "1.3 V", "Between the two leads.";
        current: f64 = Takes::Quantity { kind: Kind::Current, least: 0.001, most: 1000.0 }, [required], "5 A", "Through them.";
    }
}

section! {
    "The encoder's magnet."
    pub struct MagnetKeys {
        diameter: f64 = Takes::length(2.0, 30.0), [default "6 mm" "Usual for on-axis encoders (common practice, no source)."], "6 mm", "Diameter.";
        thickness: f64 = Takes::length(0.5, 20.0), [default "2.5 mm" "Usual for on-axis encoders (common practice, no source)."], "2.5 mm", "Thickness.";
    }
}

section! {
    "Threads in the stator."
    pub struct StatorBoltsKeys {
        count: u32 = Takes::Count { least: 2, most: 24 }, [required], "4", "How many.";
        thread: crate::tables::Thread = Takes::Thread, [required], "M3", "Their thread.";
        circle: f64 = Takes::length(5.0, 280.0), [required], "37 mm", "Diameter of the circle they stand on.";
        depth: f64 = Takes::length(1.0, 40.0), [default "4 mm" "Hobby motors seldom offer more (common practice, no source)."], "4 mm",
            "Deepest a screw may reach in.";
    }
}

section! {
    "Threads in the rotor."
    pub struct RotorBoltsKeys {
        count: u32 = Takes::Count { least: 2, most: 24 }, [required], "4", "How many.";
        thread: crate::tables::Thread = Takes::Thread, [required], "M3", "Their thread.";
        circle: f64 = Takes::length(5.0, 280.0), [required], "30 mm", "Diameter of the circle they stand on.";
        depth: f64 = Takes::length(1.0, 40.0), [default "4 mm" "Beyond it a screw meets the winding (common practice, no source)."], "4 mm",
            "Deepest a screw may reach in.";
        pilot: PilotKeys = Takes::Section(PilotKeys::SECTION), [optional "The rotor face is flat."],
            "{ diameter = \"12 mm\", height = \"1 mm\" }", "Raised disc in the middle of the rotor face.";
    }
}

section! {
    "A raised disc on the rotor face."
    pub struct PilotKeys {
        diameter: f64 = Takes::length(1.0, 100.0), [required], "12 mm", "Diameter.";
        height: f64 = Takes::length(0.1, 10.0), [required], "1 mm", "Height.";
    }
}

section! {
    "Heat as measured, each value in place of its estimate."
    pub struct ThermalKeys {
        winding_to_mount: f64 = Takes::Quantity { kind: Kind::ThermalResistance, least: 0.01, most: 100.0 },
            [optional "Estimated from the stator's size."], "0.9 K/W", "Resistance winding to mount.";
        mount_to_air: f64 = Takes::Quantity { kind: Kind::ThermalResistance, least: 0.01, most: 100.0 },
            [optional "Worked out from the joint's areas and walls."], "3 K/W",
            "Resistance mount to air of the whole joint, the mount 40 K over the air.";
        winding_capacity: f64 = Takes::Quantity { kind: Kind::HeatCapacity, least: 0.1, most: 1e5 },
            [optional "Estimated from the motor's mass."], "40 J/K", "Heat the winding stores.";
        mount_capacity: f64 = Takes::Quantity { kind: Kind::HeatCapacity, least: 0.1, most: 1e5 },
            [optional "Estimated from the motor's mass."], "250 J/K", "Heat stator and mount store.";
    }
}
