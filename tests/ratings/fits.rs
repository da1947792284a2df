//! ISO 286: every row read, and pairs of classes.

use crate::support::published::{cases, get, number, numbers};
use hubwright::tables::fit::{Class, Letter, clearance, limits, standard_tolerance};

fn class(name: &str) -> Class {
    let (letter, grade) = name.split_at(1);
    let grade = grade.parse().expect("a grade");
    match letter {
        "H" => Class::Hole(grade),
        "N" => Class::HoleN(grade),
        "g" => Class::Shaft(Letter::G, grade),
        "h" => Class::Shaft(Letter::H, grade),
        "k" => Class::Shaft(Letter::K, grade),
        "m" => Class::Shaft(Letter::M, grade),
        "p" => Class::Shaft(Letter::P, grade),
        other => panic!("{other}"),
    }
}

fn words(value: &toml::Value) -> Vec<String> {
    value.as_array().expect("a list").iter().map(|word| word.as_str().expect("a word").to_string()).collect()
}

/// In whole micrometres, as printed.
fn microns(value: f64) -> f64 {
    (value * 1e3).round()
}

#[test]
fn limits_of_size() {
    for case in cases("fits", "limits") {
        let classes = words(&case["classes"]);
        for row in case["rows"].as_array().expect("rows") {
            let row = numbers(row);
            for (name, printed) in classes.iter().zip(row[1..].chunks(2)) {
                let found = limits(row[0], class(name)).expect("in the table");
                assert_eq!(found.map(microns), printed, "{name} of {}", row[0]);
                assert_eq!(class(name).to_string(), *name);
            }
        }
    }
}

#[test]
fn grades() {
    for case in cases("fits", "grade") {
        let grades = numbers(&case["grades"]);
        for row in case["rows"].as_array().expect("rows") {
            let row = numbers(row);
            for (&grade, &printed) in grades.iter().zip(&row[1..]) {
                assert_eq!(microns(standard_tolerance(row[0], grade as u32).expect("in the table")), printed);
            }
        }
    }
}

#[test]
fn pairs() {
    for case in cases("fits", "pair") {
        let names = words(&case["fit"]);
        let found = clearance(get(&case, "size"), class(&names[0]), class(&names[1])).expect("in the table");
        let printed: Vec<f64> = case["clearance"].as_array().expect("two").iter().map(number).collect();
        assert_eq!(found.map(microns).to_vec(), printed, "{names:?}");
    }
}

#[test]
fn out_of_the_tables() {
    assert_eq!(limits(121.0, Class::Hole(7)), None);
    assert_eq!(limits(0.8, Class::Hole(7)), None);
    assert_eq!(limits(f64::NAN, Class::Hole(7)), None);
    assert_eq!(standard_tolerance(20.0, 4), None);
    assert_eq!(standard_tolerance(20.0, 14), None);
    assert_eq!(limits(40.0, Class::Shaft(Letter::M, 6)), None);
}
