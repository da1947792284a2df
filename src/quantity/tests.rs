//! Conversions against defined values; spellings; faults.

use super::*;

/// Value in the internal unit, and where the expectation comes from.
const CONVERSIONS: &[(&str, Kind, f64, &str)] = &[
    ("14.5 in", Kind::Length, 368.3, "1 in = 25.4 mm exactly (international yard and pound, 1959)"),
    ("1 ft", Kind::Length, 304.8, "the same"),
    ("15 deg", Kind::Angle, std::f64::consts::PI / 12.0, "pi/12"),
    ("1 turn", Kind::Angle, std::f64::consts::TAU, "2 pi"),
    (
        "10 lbf",
        Kind::Force,
        44.482_216_152_605,
        "1 lbf = 4.4482216152605 N exactly (NIST SP 811, B.8; from memory)",
    ),
    ("2 kg", Kind::Weight, 19.6133, "standard gravity 9.80665 m/s2"),
    ("200 mN m", Kind::Torque, 0.2, "SI prefixes"),
    ("1 lbf ft", Kind::Torque, 1.355_817_948_331_400_4, "NIST SP 811, B.8: 1.355 818 (from memory)"),
    ("1 ozf in", Kind::Torque, 1.355_817_948_331_400_4 / 192.0, "16 ounces a pound, 12 inches a foot"),
    ("1 lb", Kind::Mass, 0.453_592_37, "defined, 1959"),
    ("5000 h", Kind::Time, 1.8e7, "3600 s an hour"),
    ("60 rpm", Kind::RotationalSpeed, std::f64::consts::TAU, "one turn a second"),
    ("20 kHz", Kind::Frequency, 20_000.0, "SI prefixes"),
    ("104 degF", Kind::Temperature, 40.0, "(104 - 32) 5/9"),
    ("313.15 K", Kind::Temperature, 40.0, "0 degC = 273.15 K"),
    ("0.13 ohm", Kind::Resistance, 0.13, "SI"),
    ("60 uH", Kind::Inductance, 60e-6, "SI prefixes"),
    ("90 rpm/V", Kind::SpeedConstant, 90.0, "internal unit"),
    ("1900 g cm2", Kind::Inertia, 1.9e-4, "SI prefixes"),
    ("1270 kg/m3", Kind::Density, 1.27, "SI prefixes"),
    ("1 psi", Kind::Stress, 6.894_757_293_168e-3, "NIST SP 811, B.8: 6.894 757 E+03 Pa (from memory)"),
];

#[test]
fn conversions_agree_with_defined_values() {
    for (text, kind, expected, source) in CONVERSIONS {
        let value = parse(text, *kind).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        assert!(
            (value - expected).abs() <= 1e-12 * expected.abs(),
            "{text} gave {value}, not {expected} ({source})"
        );
    }
}

#[test]
fn kinds_are_in_order_and_their_examples_and_display_units_exist() {
    for (index, table) in KINDS.iter().enumerate() {
        assert_eq!(table.kind as usize, index);
        parse(table.example, table.kind).unwrap_or_else(|fault| panic!("{}: {fault:?}", table.example));
        assert!(!table.display.is_empty());
        for (symbol, _) in table.display {
            assert!(table.kind.unit(symbol).is_some(), "{symbol} is no unit of {}", table.name);
        }
        assert_eq!(
            table.display.last().map(|(_, from)| *from),
            Some(0.0),
            "{}: small values need a unit",
            table.name
        );
    }
}

#[test]
fn writing_and_reading_back_gives_the_same_value() {
    for table in KINDS {
        for value in [0.0, 1e-6, 0.02, 0.5, 1.0, 3.7, 45.0, 1234.5, 1e5] {
            let written = format(value, table.kind);
            let back = parse(&written, table.kind).unwrap_or_else(|fault| panic!("{written}: {fault:?}"));
            assert!((back - value).abs() <= 1e-11 * value.abs().max(0.3), "{value} -> {written} -> {back}");
        }
    }
}

#[test]
fn spellings_people_use_are_understood() {
    for (text, kind, expected) in [
        ("86mm", Kind::Length, 86.0),
        ("  86   mm ", Kind::Length, 86.0),
        ("20 µm", Kind::Length, 0.02),
        ("2\"", Kind::Length, 50.8),
        ("16 Nm", Kind::Torque, 16.0),
        ("16 N·m", Kind::Torque, 16.0),
        ("0.13 Ω", Kind::Resistance, 0.13),
        ("40 °C", Kind::Temperature, 40.0),
        ("1.9e-4 kg m^2", Kind::Inertia, 1.9e-4),
        ("1.27 g/cm³", Kind::Density, 1.27),
        ("+.5 mm", Kind::Length, 0.5),
        ("-0.05 mm", Kind::Length, -0.05),
        ("5. mm", Kind::Length, 5.0),
    ] {
        assert_eq!(parse(text, kind), Ok(expected), "{text}");
    }
}

#[test]
fn faults_say_what_the_text_is() {
    use QuantityFault::*;
    let unknown = |unit: &str, near| UnknownUnit { unit: unit.into(), near };
    for (text, kind, expected) in [
        ("", Kind::Length, NotANumber),
        ("mm", Kind::Length, NotANumber),
        ("- mm", Kind::Length, NotANumber),
        ("nan mm", Kind::Length, NotFinite),
        ("-inf mm", Kind::Length, NotFinite),
        ("1e999 mm", Kind::Length, NotFinite),
        ("1e308 m", Kind::Length, NotFinite),
        ("86", Kind::Length, NoUnit),
        ("1,5 mm", Kind::Length, DecimalComma),
        ("86 MM", Kind::Length, unknown("MM", Some("mm"))),
        ("3 inches", Kind::Length, unknown("inches", Some("in"))),
        ("86 furlong", Kind::Length, unknown("furlong", None)),
        ("86 N m", Kind::Length, WrongKind { unit: "N m".into(), is: Kind::Torque }),
        ("20 degC", Kind::Angle, WrongKind { unit: "degC".into(), is: Kind::Temperature }),
    ] {
        assert_eq!(parse(text, kind), Err(expected), "{text}");
    }
}
