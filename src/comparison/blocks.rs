//! A comparison as titled tables, for terminal and page alike: what differs; what is alike counted, or listed when asked.

use super::Comparison;
use super::bill::BillRow;
use super::checks::{Change, CheckRow};
use super::figures::{FAR, FigureRow, Reading};
use super::inputs::InputRow;
use super::parts::{PartRow, State};
use super::sameness::TOLERANCE;
use crate::bom::Kind;
use crate::checks::Outcome;
use crate::export::summary::significant;

/// A titled table.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    pub title: &'static str,
    /// Sentences before the table.
    pub lead: Vec<String>,
    pub head: Vec<String>,
    pub rows: Vec<Row>,
}

/// A line of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Row {
    /// What the lines below belong to.
    Group(String),
    Cells(Vec<String>),
}

/// How a comparison is told.
#[derive(Clone, Copy, Debug)]
pub struct Telling<'a> {
    /// What the two are called above their columns.
    pub heads: [&'a str; 2],
    /// What is alike too.
    pub all: bool,
}

impl Telling<'_> {
    fn head(&self, first: &str, last: &[&str]) -> Vec<String> {
        [first].iter().chain(&self.heads).chain(last).map(|name| (*name).to_string()).collect()
    }

    /// Those that differ first, then the rest if asked for.
    fn shown<'r, R>(&self, rows: &'r [R], differs: impl Fn(&R) -> bool) -> Vec<&'r R> {
        let (different, alike): (Vec<&R>, Vec<&R>) = rows.iter().partition(|row| differs(row));
        if self.all { different.into_iter().chain(alike).collect() } else { different }
    }
}

/// "3 of 12 differ."
fn counted<R>(what: &str, rows: &[R], differs: impl Fn(&R) -> bool) -> String {
    match rows.iter().filter(|row| differs(row)).count() {
        0 => format!("All {} {what} are alike.", rows.len()),
        1 => format!("1 of {} {what} differs.", rows.len()),
        count => format!("{count} of {} {what} differ.", rows.len()),
    }
}

/// Everything, in the order of asking why: what was put in, what comes out, what is made and bought, what holds.
pub fn blocks(comparison: &Comparison, telling: Telling) -> Vec<Block> {
    vec![
        inputs(&comparison.inputs, telling),
        figures("Figures", "figures", &comparison.figures, telling),
        checks(&comparison.checks, telling),
        figures("Sizes", "sizes", &comparison.sizes, telling),
        parts(&comparison.parts, telling),
        bill(&comparison.bill, telling),
    ]
}

/// Keys of the design file.
pub fn inputs(rows: &[InputRow], telling: Telling) -> Block {
    let mut lead = vec![counted("keys", rows, InputRow::differs)];
    if rows.iter().any(InputRow::follows) {
        lead.push("`follows`: neither file gives it, it follows from other keys.".to_string());
    }
    if rows.iter().any(|row| row.differs() && one_sided(row)) {
        lead.push("A value in brackets is a default.".to_string());
    }
    let shown = folded(telling.shown(rows, InputRow::differs));
    Block {
        title: "Inputs",
        lead,
        head: telling.head("key", &["note"]),
        rows: shown.iter().map(|row| Row::Cells(input_cells(row))).collect(),
    }
}

/// A print setting that several parts share stands in one line, as one writes it under `[parts.all]`.
fn folded(rows: Vec<&InputRow>) -> Vec<InputRow> {
    let mut kept: Vec<(InputRow, Vec<&str>)> = Vec::new();
    for row in rows {
        let part = row.key.strip_prefix("parts.").and_then(|rest| rest.split_once('.'));
        let Some((part, setting)) = part else {
            kept.push((row.clone(), Vec::new()));
            continue;
        };
        let key = format!("parts.*.{setting}");
        let alike = |one: &&mut (InputRow, Vec<&str>)| {
            one.0.key == key && one.0.values == row.values && one.0.given == row.given
        };
        match kept.iter_mut().find(alike) {
            Some((_, parts)) => parts.push(part),
            None => kept.push((InputRow { key, ..row.clone() }, vec![part])),
        }
    }
    let named = |(row, parts): (InputRow, Vec<&str>)| match parts.as_slice() {
        [] => row,
        [one] => InputRow { key: row.key.replace('*', one), ..row },
        more => InputRow { key: format!("{} ({} parts)", row.key, more.len()), ..row },
    };
    kept.into_iter().map(named).collect()
}

fn one_sided(row: &InputRow) -> bool {
    row.given[0] != row.given[1]
}

fn input_cells(row: &InputRow) -> Vec<String> {
    let value = |side: usize| {
        let value = row.values.get(side).cloned().flatten().unwrap_or_else(|| "-".to_string());
        let is_default = one_sided(row) && row.given.get(side) == Some(&false) && value != "-";
        if is_default { format!("({value})") } else { value }
    };
    let note = if row.follows() { "follows" } else { "" };
    vec![row.key.clone(), value(0), value(1), note.to_string()]
}

/// Figures or sizes, under their groups.
pub fn figures(title: &'static str, what: &str, rows: &[FigureRow], telling: Telling) -> Block {
    let mut lines = Vec::new();
    let mut group = "";
    let shown: Vec<&FigureRow> = rows.iter().filter(|row| telling.all || row.differs()).collect();
    for row in shown {
        if row.group != group {
            group = row.group;
            lines.push(Row::Group(group.to_string()));
        }
        lines.push(Row::Cells(figure_cells(row)));
    }
    let lead = vec![counted(what, rows, FigureRow::differs)];
    Block { title, lead, head: telling.head("of what", &["change", "judgement"]), rows: lines }
}

fn figure_cells(row: &FigureRow) -> Vec<String> {
    let [left, right] = &row.values;
    let word = match row.second_is_better() {
        Some(true) => "better",
        Some(false) => "worse",
        None => "",
    };
    let label = if row.unit.is_empty() { row.label.clone() } else { format!("{}, {}", row.label, row.unit) };
    vec![label, reading(left, row.digits), reading(right, row.digits), change(row), word.to_string()]
}

fn reading(reading: &Reading, digits: usize) -> String {
    match reading {
        Reading::Number(value) => number(*value, digits),
        Reading::Text(text) => text.clone(),
        Reading::None => "-".to_string(),
    }
}

/// With its digits, large ones as one reads them.
fn number(value: f64, digits: usize) -> String {
    match value.abs() {
        size if size >= FAR => "over 1 000 000".to_string(),
        size if size >= 1e5 => significant(value),
        _ => format!("{value:.digits$}"),
    }
}

/// "+1.20 (+8 %)".
fn change(row: &FigureRow) -> String {
    let Some(change) = row.change().filter(|_| row.differs()) else { return String::new() };
    let sign = if change < 0.0 { "-" } else { "+" };
    let by = format!("{sign}{}", number(change.abs(), row.digits));
    match row.values.first() {
        _ if row.values.iter().any(|one| matches!(one, Reading::Number(value) if *value >= FAR)) => {
            String::new()
        }
        // A share of a size or a temperature says nothing.
        Some(Reading::Number(from)) if *from > 0.0 && !["mm", "degC", "%"].contains(&row.unit) => {
            let share = 100.0 * change / from;
            if share > 1000.0 { by } else { format!("{by} ({share:+.0} %)") }
        }
        _ => by,
    }
}

/// Checks, those with another verdict first.
pub fn checks(rows: &[CheckRow], telling: Telling) -> Block {
    let count = |wanted: Change| rows.iter().filter(|row| row.change() == wanted).count();
    let mut lead = vec![counted("checks", rows, CheckRow::differs)];
    lead.push("Limits stand in brackets.".to_string());
    for (change, words) in [(Change::Worse, "worse"), (Change::Better, "better")] {
        match count(change) {
            0 => {}
            1 => lead.push(format!("1 has a {words} verdict.")),
            count => lead.push(format!("{count} have a {words} verdict.")),
        }
    }
    let mut lines = Vec::new();
    let mut last = None;
    for row in telling.shown(rows, CheckRow::differs) {
        if last != Some(row.change()) {
            last = Some(row.change());
            lines.push(Row::Group(group_of(row.change()).to_string()));
        }
        lines.push(Row::Cells(check_cells(row)));
    }
    let head = telling.head("check", &["in hand", "verdict"]);
    Block { title: "Checks", lead, head, rows: lines }
}

fn group_of(change: Change) -> &'static str {
    match change {
        Change::Worse => "Another verdict, worse",
        Change::Better => "Another verdict, better",
        Change::Applies => "Applies to one of them",
        Change::Figures => "The same verdict, another value",
        Change::None => "Alike",
    }
}

fn check_cells(row: &CheckRow) -> Vec<String> {
    let [left, right] = &row.outcomes;
    let both = |a: String, b: String| if a == b { a } else { format!("{a} -> {b}") };
    let unit = row.check.unit;
    let title =
        if unit.is_empty() { row.check.title.to_string() } else { format!("{}, {unit}", row.check.title) };
    let [a, b] = row.margins().map(percent);
    vec![
        title,
        value_and_limit(left),
        value_and_limit(right),
        both(a, b),
        both(left.verdict.as_str().to_string(), right.verdict.as_str().to_string()),
    ]
}

fn value_and_limit(outcome: &Outcome) -> String {
    match (outcome.value, outcome.limit) {
        (Some(value), Some(limit)) => format!("{} ({})", significant(value), significant(limit)),
        (Some(value), None) => significant(value),
        _ => "-".to_string(),
    }
}

/// Beyond tenfold the figure says nothing more.
fn percent(margin: Option<f64>) -> String {
    match margin {
        None => "-".to_string(),
        Some(margin) if margin > 10.0 => "> 1000 %".to_string(),
        Some(margin) => format!("{:.0} %", margin * 100.0),
    }
}

/// Printed parts: those to print, then those that serve on.
pub fn parts(rows: &[PartRow], telling: Telling) -> Block {
    let kept: Vec<&str> = rows.iter().filter(|row| row.is_same()).map(|row| row.name.as_str()).collect();
    let mut lead = vec![counted("printed parts", rows, PartRow::differs)];
    if !kept.is_empty() {
        lead.push(format!("The same print, every surface within {TOLERANCE} mm: {}.", kept.join(", ")));
    }
    let shown = telling.shown(rows, PartRow::differs);
    Block {
        title: "Printed parts",
        lead,
        head: ["part", "print", "what is different"]
            .iter()
            .chain(&telling.heads)
            .map(|name| (*name).to_string())
            .collect(),
        rows: shown.iter().map(|row| Row::Cells(part_cells(row))).collect(),
    }
}

fn part_cells(row: &PartRow) -> Vec<String> {
    let size = |side: usize| match row.size.get(side).copied().flatten() {
        Some([x, y, z]) => format!("{x:.1} x {y:.1} x {z:.1} mm"),
        None => "-".to_string(),
    };
    let print = match row.to_print() {
        0 => "-".to_string(),
        count => count.to_string(),
    };
    vec![row.name.as_str().to_string(), print, what_differs(row), size(0), size(1)]
}

/// Why a print doesn't serve on.
pub fn what_differs(row: &PartRow) -> String {
    let mut told: Vec<String> = match &row.state {
        State::Same { .. } => Vec::new(),
        State::Changed { shape, settings } => {
            let shape = shape.map(|[from, to]| format!("shape, {from:.1} to {to:.1} mm over the bed"));
            let settings =
                settings.iter().map(|one| format!("{} {} -> {}", one.name, one.values[0], one.values[1]));
            shape.into_iter().chain(settings).collect()
        }
        State::OnlyFirst => vec!["not in the second".to_string()],
        State::OnlySecond => vec!["not in the first".to_string()],
    };
    let [first, second] = row.count;
    if first != second && first > 0 && second > 0 {
        told.push(format!("{first} -> {second} pieces"));
    }
    told.join("; ")
}

/// Bought parts.
pub fn bill(rows: &[BillRow], telling: Telling) -> Block {
    let shown = telling.shown(rows, BillRow::differs);
    Block {
        title: "Bought parts",
        lead: vec![counted("bought things", rows, BillRow::differs)],
        head: telling.head("what for, and what", &["difference"]),
        rows: shown.iter().map(|row| Row::Cells(bill_cells(row))).collect(),
    }
}

fn bill_cells(row: &BillRow) -> Vec<String> {
    let difference = match (row.more(), row.over()) {
        (0, 0) => String::new(),
        (0, over) => format!("{over} left over"),
        (more, _) => format!("{more} to buy"),
    };
    let uses = if row.quantity[1] > 0 { &row.uses[1] } else { &row.uses[0] };
    let material = if row.material.is_empty() { String::new() } else { format!(", {}", row.material) };
    // An insert's name says what it is, not what for.
    let uses = if row.kind == Kind::Insert { String::new() } else { format!("{}: ", uses.join(", ")) };
    vec![
        format!("{uses}{}{material}", row.designation),
        row.quantity[0].to_string(),
        row.quantity[1].to_string(),
        difference,
    ]
}
