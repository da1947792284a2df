//! Published values as data: files of `tests/published`, their cases and numbers.

use toml::{Table, Value};

/// The file of published values by this name.
pub fn values(file: &str) -> Table {
    let path = format!("{}/tests/published/{file}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    text.parse().unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Its cases of a kind: one at least.
pub fn cases(file: &str, kind: &str) -> Vec<Table> {
    let table = values(file);
    let cases = table[kind].as_array().expect("a list of cases");
    assert!(!cases.is_empty());
    cases.iter().map(|case| case.as_table().expect("a case").clone()).collect()
}

pub fn number(value: &Value) -> f64 {
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64)).expect("a number")
}

pub fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().expect("an array").iter().map(number).collect()
}

pub fn get(case: &Table, key: &str) -> f64 {
    number(&case[key])
}

/// Equal to the digits printed: half a unit of the last of `digits` significant ones.
pub fn same(found: f64, printed: f64, digits: i32, what: &str) {
    let unit = 10f64.powi(printed.abs().log10().floor() as i32 + 1 - digits);
    assert!((found - printed).abs() <= 0.5001 * unit, "{what}: {found} against {printed}");
}
