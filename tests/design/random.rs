//! Nothing a file can hold makes the reader panic, and what it refuses it explains.

use std::fs;
use std::path::Path;

use hubwright::design;
use hubwright::diagnostic::{Severity, render, to_json};
use hubwright::quantity::{self, KINDS};
use proptest::prelude::*;

const DEMOS: [&str; 3] = [
    include_str!("../../designs/weeder-shoulder.toml"),
    include_str!("../../designs/weeder-wrist.toml"),
    include_str!("../../designs/mast-pan.toml"),
];

/// Values that have broken readers before.
const ODD: [&str; 18] = [
    "0",
    "-1",
    "nan",
    "inf",
    "1e400",
    "99999999999999999999999",
    "\"\"",
    "\"-0 mm\"",
    "\"1e308 m\"",
    "\"∞ mm\"",
    "\"\\u0000\"",
    "[]",
    "[[]]",
    "{}",
    "true",
    "1979-05-27T07:32:00Z",
    "\"\"\"\n\n\"\"\"",
    "{ a.b.c = 1 }",
];

/// Reads a text and says all there is to say about it.
fn read(text: &str) {
    let problems = match design::load_text(Path::new("designs/random.toml"), text) {
        Ok(loaded) => loaded.problems,
        Err(problems) => {
            assert!(problems.has_errors(), "refused without a reason");
            problems
        }
    };
    let said = render(&problems, false);
    for problem in problems.iter().filter(|problem| problem.severity == Severity::Error) {
        assert!(said.contains(problem.code.name()));
    }
    let _ = to_json(&problems).to_string();
}

/// A demo with the value of one line replaced.
fn with_value(demo: &str, line: usize, value: &str) -> String {
    let assignments: Vec<usize> =
        demo.lines().enumerate().filter(|(_, line)| line.contains('=')).map(|(number, _)| number).collect();
    let changed = assignments[line % assignments.len()];
    let lines: Vec<String> = demo
        .lines()
        .enumerate()
        .map(|(number, line)| match line.split_once('=') {
            Some((key, _)) if number == changed => format!("{key}= {value}"),
            _ => line.to_string(),
        })
        .collect();
    lines.join("\n")
}

#[test]
fn every_value_of_the_demos_replaced_by_odd_ones() {
    for demo in DEMOS {
        for line in 0..demo.lines().filter(|line| line.contains('=')).count() {
            for value in ODD {
                read(&with_value(demo, line, value));
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let folder = tempfile::tempdir().expect("folder");
        let path = folder.path().join("random.toml");
        fs::write(&path, &bytes).expect("write");
        let problems = design::load(&path).expect_err("no design is random");
        prop_assert!(!render(&problems, true).is_empty());
    }

    #[test]
    fn any_text(text in "\\PC{0,300}") {
        read(&text);
    }

    #[test]
    fn demos_with_stretches_cut_out_doubled_or_replaced(
        demo in 0usize..3,
        from in any::<prop::sample::Index>(),
        length in 0usize..60,
        other in "[\\x00-\\x7fäΩµ]{0,12}",
        double in any::<bool>(),
    ) {
        let characters: Vec<char> = DEMOS[demo].chars().collect();
        let start = from.index(characters.len());
        let end = (start + length).min(characters.len());
        let mut text: String = characters[..start].iter().collect();
        text.push_str(&other);
        if double {
            text.extend(&characters[start..end]);
            text.extend(&characters[start..end]);
        }
        text.extend(&characters[end..]);
        read(&text);
    }

    #[test]
    fn any_quantity(kind in 0..KINDS.len(), number in any::<f64>(), unit in "[ a-zA-Z0-9/°µΩ²]{0,8}") {
        let kind = KINDS[kind].kind;
        if let Ok(value) = quantity::parse(&format!("{number}{unit}"), kind) {
            prop_assert!(value.is_finite());
        }
        if number.is_finite() {
            // What is written can be read, and says the same.
            let written = quantity::format(number, kind);
            if let Ok(value) = quantity::parse(&written, kind) {
                prop_assert!((value - number).abs() <= 1e-10 * number.abs().max(300.0), "{number} as {written}");
            } else {
                prop_assert!(number.abs() > 1e290, "{written}");
            }
        }
    }
}
