//! The kinds of quantity a design file may hold, and the units each accepts.

use std::f64::consts::PI;

/// What a number measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Length,
    Angle,
    Force,
    /// A hanging load: a force, or a mass that hangs at standard gravity.
    Weight,
    Torque,
    Mass,
    Time,
    RotationalSpeed,
    Frequency,
    Temperature,
    Current,
    Voltage,
    Resistance,
    Inductance,
    SpeedConstant,
    Inertia,
    Density,
    Stress,
    Stiffness,
    Power,
    ThermalResistance,
    HeatCapacity,
    AirSpeed,
    /// Of a print head \[mm/s\].
    HeadSpeed,
    /// Of molten plastic \[mm3/s\].
    VolumeFlow,
    /// Kinematic \[mm2/s\].
    Viscosity,
}

/// One unit: how it is written, and `internal = number * factor + offset`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    pub symbol: &'static str,
    pub factor: f64,
    pub offset: f64,
}

/// One kind: its name, its units (the first is the one to recommend), and how values are written back.
#[derive(Debug)]
pub struct KindTable {
    pub kind: Kind,
    /// With its article, as it stands in a sentence.
    pub name: &'static str,
    pub units: &'static [Unit],
    /// Units for writing, each from this size on (in the internal unit); the last one takes the rest.
    pub display: &'static [(&'static str, f64)],
    pub example: &'static str,
}

/// Standard gravity \[m/s2\] (3rd CGPM, 1901): a defined value.
const GRAVITY: f64 = 9.80665;
/// Pound \[kg\] and inch \[m\]: the international yard and pound agreement of 1959, defined values.
const POUND: f64 = 0.453_592_37;
const INCH: f64 = 0.0254;
const POUND_FORCE: f64 = POUND * GRAVITY;
const TURN: f64 = 2.0 * PI;

const fn unit(symbol: &'static str, factor: f64) -> Unit {
    Unit { symbol, factor, offset: 0.0 }
}

/// Every kind, in the order of [`Kind`].
pub static KINDS: &[KindTable] = &[
    KindTable {
        kind: Kind::Length,
        name: "a length",
        units: &[
            unit("mm", 1.0),
            unit("cm", 10.0),
            unit("m", 1000.0),
            unit("um", 1e-3),
            unit("in", 1000.0 * INCH),
            unit("ft", 12_000.0 * INCH),
        ],
        display: &[("mm", 0.0)],
        example: "86 mm",
    },
    KindTable {
        kind: Kind::Angle,
        name: "an angle",
        units: &[
            unit("deg", PI / 180.0),
            unit("rad", 1.0),
            unit("mrad", 1e-3),
            unit("arcmin", PI / 10_800.0),
            unit("turn", TURN),
        ],
        display: &[("deg", 0.0)],
        example: "15 deg",
    },
    KindTable {
        kind: Kind::Force,
        name: "a force",
        units: &[
            unit("N", 1.0),
            unit("kN", 1000.0),
            unit("mN", 1e-3),
            unit("lbf", POUND_FORCE),
            unit("ozf", POUND_FORCE / 16.0),
            unit("kgf", GRAVITY),
        ],
        display: &[("N", 0.0)],
        example: "45 N",
    },
    KindTable {
        kind: Kind::Weight,
        name: "a weight",
        units: &[
            unit("N", 1.0),
            unit("kN", 1000.0),
            unit("lbf", POUND_FORCE),
            unit("kgf", GRAVITY),
            unit("kg", GRAVITY),
            unit("g", 1e-3 * GRAVITY),
            unit("lb", POUND_FORCE),
            unit("oz", POUND_FORCE / 16.0),
        ],
        display: &[("N", 0.0)],
        example: "2 kg",
    },
    KindTable {
        kind: Kind::Torque,
        name: "a torque",
        units: &[
            unit("N m", 1.0),
            unit("mN m", 1e-3),
            unit("kN m", 1000.0),
            unit("N cm", 1e-2),
            unit("N mm", 1e-3),
            unit("kgf cm", GRAVITY * 1e-2),
            unit("lbf ft", POUND_FORCE * 12.0 * INCH),
            unit("lbf in", POUND_FORCE * INCH),
            unit("ozf in", POUND_FORCE / 16.0 * INCH),
        ],
        display: &[("N m", 1.0), ("mN m", 0.0)],
        example: "16 N m",
    },
    KindTable {
        kind: Kind::Mass,
        name: "a mass",
        units: &[
            unit("kg", 1.0),
            unit("g", 1e-3),
            unit("mg", 1e-6),
            unit("lb", POUND),
            unit("oz", POUND / 16.0),
        ],
        display: &[("kg", 1.0), ("g", 0.0)],
        example: "360 g",
    },
    KindTable {
        kind: Kind::Time,
        name: "a time",
        units: &[
            unit("s", 1.0),
            unit("ms", 1e-3),
            unit("us", 1e-6),
            unit("min", 60.0),
            unit("h", 3600.0),
            unit("d", 86_400.0),
        ],
        display: &[("h", 36_000.0), ("s", 1.0), ("ms", 0.0)],
        example: "10 s",
    },
    KindTable {
        kind: Kind::RotationalSpeed,
        name: "a rotational speed",
        units: &[
            unit("rpm", TURN / 60.0),
            unit("rad/s", 1.0),
            unit("deg/s", PI / 180.0),
            unit("rev/s", TURN),
        ],
        display: &[("rpm", 0.0)],
        example: "60 rpm",
    },
    KindTable {
        kind: Kind::Frequency,
        name: "a frequency",
        units: &[unit("Hz", 1.0), unit("kHz", 1000.0), unit("1/s", 1.0), unit("1/min", 1.0 / 60.0)],
        display: &[("kHz", 1000.0), ("Hz", 0.0)],
        example: "20 kHz",
    },
    KindTable {
        kind: Kind::Temperature,
        name: "a temperature",
        units: &[
            unit("degC", 1.0),
            Unit { symbol: "K", factor: 1.0, offset: -273.15 },
            Unit { symbol: "degF", factor: 5.0 / 9.0, offset: -160.0 / 9.0 },
        ],
        display: &[("degC", 0.0)],
        example: "40 degC",
    },
    KindTable {
        kind: Kind::Current,
        name: "a current",
        units: &[unit("A", 1.0), unit("mA", 1e-3)],
        display: &[("A", 0.0)],
        example: "36 A",
    },
    KindTable {
        kind: Kind::Voltage,
        name: "a voltage",
        units: &[unit("V", 1.0), unit("mV", 1e-3), unit("kV", 1000.0)],
        display: &[("V", 0.0)],
        example: "48 V",
    },
    KindTable {
        kind: Kind::Resistance,
        name: "a resistance",
        units: &[unit("ohm", 1.0), unit("mohm", 1e-3), unit("kohm", 1000.0)],
        display: &[("ohm", 0.0)],
        example: "0.13 ohm",
    },
    KindTable {
        kind: Kind::Inductance,
        name: "an inductance",
        units: &[unit("H", 1.0), unit("mH", 1e-3), unit("uH", 1e-6)],
        display: &[("mH", 1e-3), ("uH", 0.0)],
        example: "60 uH",
    },
    KindTable {
        kind: Kind::SpeedConstant,
        name: "a speed constant",
        units: &[unit("rpm/V", 1.0), unit("rad/s/V", 60.0 / TURN)],
        display: &[("rpm/V", 0.0)],
        example: "90 rpm/V",
    },
    KindTable {
        kind: Kind::Inertia,
        name: "a moment of inertia",
        units: &[
            unit("kg m2", 1.0),
            unit("kg cm2", 1e-4),
            unit("kg mm2", 1e-6),
            unit("g cm2", 1e-7),
            unit("g mm2", 1e-9),
        ],
        display: &[("kg m2", 0.1), ("kg cm2", 1e-3), ("g cm2", 0.0)],
        example: "1900 g cm2",
    },
    KindTable {
        kind: Kind::Density,
        name: "a density",
        units: &[unit("g/cm3", 1.0), unit("kg/m3", 1e-3)],
        display: &[("g/cm3", 0.0)],
        example: "1.27 g/cm3",
    },
    KindTable {
        kind: Kind::Stress,
        name: "a stress",
        units: &[
            unit("MPa", 1.0),
            unit("N/mm2", 1.0),
            unit("kPa", 1e-3),
            unit("GPa", 1000.0),
            unit("bar", 0.1),
            unit("psi", POUND_FORCE / (INCH * INCH) * 1e-6),
        ],
        display: &[("MPa", 0.0)],
        example: "30 MPa",
    },
    KindTable {
        kind: Kind::Stiffness,
        name: "a torsional stiffness",
        units: &[unit("N m/rad", 1.0), unit("N m/deg", 180.0 / PI)],
        display: &[("N m/rad", 0.0)],
        example: "250 N m/rad",
    },
    KindTable {
        kind: Kind::Power,
        name: "a power",
        units: &[unit("W", 1.0), unit("mW", 1e-3), unit("kW", 1000.0)],
        display: &[("W", 0.0)],
        example: "120 W",
    },
    KindTable {
        kind: Kind::ThermalResistance,
        name: "a thermal resistance",
        units: &[unit("K/W", 1.0), unit("degC/W", 1.0)],
        display: &[("K/W", 0.0)],
        example: "1.8 K/W",
    },
    KindTable {
        kind: Kind::HeatCapacity,
        name: "a heat capacity",
        units: &[unit("J/K", 1.0), unit("kJ/K", 1000.0), unit("J/degC", 1.0)],
        display: &[("J/K", 0.0)],
        example: "65 J/K",
    },
    KindTable {
        kind: Kind::AirSpeed,
        name: "an air speed",
        units: &[unit("m/s", 1.0), unit("km/h", 1.0 / 3.6), unit("ft/min", 12.0 * INCH / 60.0)],
        display: &[("m/s", 0.0)],
        example: "0.5 m/s",
    },
    KindTable {
        kind: Kind::HeadSpeed,
        name: "a print speed",
        units: &[unit("mm/s", 1.0), unit("m/s", 1000.0), unit("mm/min", 1.0 / 60.0)],
        display: &[("mm/s", 0.0)],
        example: "80 mm/s",
    },
    KindTable {
        kind: Kind::VolumeFlow,
        name: "a flow of plastic",
        units: &[unit("mm3/s", 1.0), unit("cm3/h", 1000.0 / 3600.0)],
        display: &[("mm3/s", 0.0)],
        example: "12 mm3/s",
    },
    KindTable {
        kind: Kind::Viscosity,
        name: "a kinematic viscosity",
        units: &[unit("mm2/s", 1.0), unit("cSt", 1.0)],
        display: &[("mm2/s", 0.0)],
        example: "100 mm2/s",
    },
];
