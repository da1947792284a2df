//! `hubwright explain CHECK`: formula, symbols, source, range, and what a check doesn't cover.

use crate::checks::{self, Check, find};

/// The text for one check; for an unknown name the nearest ones.
pub fn explain(id: &str) -> Result<String, String> {
    find(id).map(text).ok_or_else(|| unknown(id))
}

/// The same as a JSON tree.
pub fn explain_json(id: &str) -> Result<serde_json::Value, String> {
    let check = find(id).ok_or_else(|| unknown(id))?;
    Ok(serde_json::json!({
        "id": check.id,
        "title": check.title,
        "unit": check.unit,
        "formula": check.formula,
        "symbols": check.symbols.lines().collect::<Vec<_>>(),
        "load": check.load.words(),
        "clause": check.clause,
        "range": check.range,
        "not_covered": check.not_covered,
    }))
}

fn text(check: &Check) -> String {
    let mut lines = vec![
        format!("{}  ({})", check.title, check.id),
        String::new(),
        format!("  formula      {}", check.formula),
    ];
    for (index, symbol) in check.symbols.lines().enumerate() {
        lines.push(format!("  {}{symbol}", if index == 0 { "symbols      " } else { "             " }));
    }
    for (name, value) in [
        ("load", check.load.words().as_str()),
        ("source", check.clause),
        ("range", check.range),
        ("not covered", check.not_covered),
    ] {
        if !value.is_empty() {
            lines.push(format!("  {name:<13}{value}"));
        }
    }
    lines.push(String::new());
    lines.join("\n")
}

fn unknown(id: &str) -> String {
    let mut names: Vec<&str> = checks::all().map(|check| check.id).collect();
    names.sort_by(|a, b| strsim::jaro_winkler(b, id).total_cmp(&strsim::jaro_winkler(a, id)));
    let nearest = names.first().copied().unwrap_or_default();
    let all: Vec<&str> = checks::all().map(|check| check.id).collect();
    format!("There is no check \"{id}\". Did you mean \"{nearest}\"? All: {}.", all.join(", "))
}
