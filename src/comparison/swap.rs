//! A joint on another motor: what of the old one serves on, what has to be printed and bought, what moves and how its figures change.

use maud::{Markup, html};
use serde_json::{Value, json};

use crate::checks::Verdict;
use crate::diagnostic::{Diagnostic, Problems, to_json};
use crate::export::print_sheet::{hours, prints};
use crate::pipeline::Made;

use super::bill::BillRow;
use super::blocks::{self, Block, Telling};
use super::checks::Change;
use super::new_motor::NewDesign;
use super::parts::PartRow;
use super::{Comparison, Side, page, text, tree};
use crate::geometry::ShapeError;

/// Old and new design with what lies between them.
pub struct Swap<'a> {
    old: Side<'a>,
    new: Side<'a>,
    written: &'a NewDesign,
    /// What the design carries over from its old motor.
    notes: &'a [Diagnostic],
    comparison: Comparison,
}

impl<'a> Swap<'a> {
    /// # Errors
    /// A printed shape without a section.
    pub fn of(
        [old, new]: [Side<'a>; 2],
        written: &'a NewDesign,
        notes: &'a [Diagnostic],
    ) -> Result<Swap<'a>, ShapeError> {
        Ok(Swap { old, new, written, notes, comparison: Comparison::of(old, new)? })
    }

    pub fn comparison(&self) -> &Comparison {
        &self.comparison
    }

    /// Names of the motors; "before" and "after" where both have one.
    fn heads(&self) -> [&str; 2] {
        match [self.old, self.new].map(|side| side.loaded.design.motor.name.as_str()) {
            [old, new] if old == new => ["before", "after"],
            names => names,
        }
    }

    /// What differs, what one does about it first.
    fn blocks(&self) -> Vec<Block> {
        let (telling, all) = (Telling { heads: self.heads(), all: false }, &self.comparison);
        let mut checks = blocks::checks(&all.checks, telling);
        checks.lead.extend(self.remedies());
        vec![
            blocks::parts(&all.parts, telling),
            blocks::bill(&all.bill, telling),
            blocks::figures("What moves", "sizes", &all.sizes, telling),
            blocks::figures("Figures", "figures", &all.figures, telling),
            checks,
            blocks::inputs(&all.inputs, telling),
        ]
    }

    /// What to do about each check with a worse verdict.
    fn remedies(&self) -> Vec<String> {
        let worse = self.comparison.checks.iter().filter(|row| row.change() == Change::Worse);
        worse
            .map(|row| {
                let outcome = &row.outcomes[1];
                let said = [&outcome.remark, &outcome.remedy].map(ToString::to_string);
                let said: Vec<String> = said.into_iter().filter(|text| !text.is_empty()).collect();
                format!(
                    "{} (`{}`) {}. {}",
                    row.check.title,
                    row.check.id,
                    outcome.verdict.as_str(),
                    said.join(" ")
                )
            })
            .collect()
    }

    /// For the terminal; `folder` is where the product lies.
    pub fn text(&self, folder: &str) -> String {
        let mut told = format!("{}\n\n", self.title());
        told.push_str(&format!("  made      {} parts into {folder}\n", self.new.made.product.parts.len()));
        for ([name, _], words) in self.answers() {
            told.push_str(&format!("  {name:<9} {words}\n"));
        }
        told.push('\n');
        let blocks: Vec<String> = self.blocks().iter().map(text::block).collect();
        told + &blocks.join("\n")
    }

    fn title(&self) -> String {
        let names = &self.comparison.names;
        match [self.old, self.new].map(|side| side.loaded.design.motor.name.as_str()) {
            [old, new] if old == new => format!("{} is {} on another motor called {new}", names[1], names[0]),
            [old, new] => format!("{} is {} on {new} instead of {old}", names[1], names[0]),
        }
    }

    /// The questions one has, answered in a line each: in a word for the terminal, and in words.
    fn answers(&self) -> Vec<([&'static str; 2], String)> {
        let parts = &self.comparison.parts;
        let kept: Vec<&str> = parts.iter().filter(|row| row.is_same()).map(|row| row.name.as_str()).collect();
        let kept = if kept.is_empty() { "no printed part".to_string() } else { kept.join(", ") };
        vec![
            (["keep", "Prints that serve on"], kept),
            (["print", "To print"], to_print(parts, self.new.made)),
            (["buy", "To buy"], to_buy(&self.comparison.bill)),
            (["checks", "Checks"], verdicts(self.new.made)),
        ]
    }

    /// For machines.
    pub fn tree(&self, folder: &str) -> Value {
        let parts = |wanted: fn(&PartRow) -> bool| -> Vec<&str> {
            self.comparison.parts.iter().filter(|row| wanted(row)).map(|row| row.name.as_str()).collect()
        };
        let motor = |side: Side| side.loaded.design.motor.name.clone();
        json!({
            "design": self.written.name,
            "from": self.comparison.names[0],
            "motors": [motor(self.old), motor(self.new)],
            "folder": folder,
            "keep": parts(PartRow::is_same),
            "print": parts(|row| row.to_print() > 0),
            "dropped": self.written.dropped,
            "motor_is_copied": self.written.is_copied,
            "carried_over": to_json(&notes(self.notes)),
            "comparison": tree::tree(&self.comparison),
        })
    }

    /// The chapter of the build book.
    pub fn chapter(&self) -> Markup {
        html! {
            p { (self.title()) "." }
            dl.figures { @for ([_, name], words) in self.answers() { div { dt { (name) } dd { (words) } } } }
            @if !self.notes.is_empty() {
                h3 { "To look at" }
                ul { @for note in self.notes { li { (note.message) @if !note.hint.is_empty() { ": " (note.hint) } } } }
            }
            @for block in &self.blocks() { h3 { (block.title) } (page::block(block)) }
        }
    }
}

fn notes(notes: &[Diagnostic]) -> Problems {
    let mut problems = Problems::default();
    problems.extend(notes.iter().cloned());
    problems
}

/// Names, pieces, grams and hours of what is printed again.
fn to_print(parts: &[PartRow], made: &Made) -> String {
    let wanted: Vec<&PartRow> = parts.iter().filter(|row| row.to_print() > 0).collect();
    if wanted.is_empty() {
        return "nothing".to_string();
    }
    let names: Vec<String> = wanted
        .iter()
        .map(|row| match row.to_print() {
            1 => row.name.as_str().to_string(),
            count => format!("{} x {count}", row.name.as_str()),
        })
        .collect();
    let each = |of: &dyn Fn(&PartRow) -> Option<f64>| -> f64 {
        wanted.iter().filter_map(|row| Some(f64::from(row.to_print()) * of(row)?)).sum()
    };
    let mass = each(&|row| row.mass[1]);
    let prints = prints(&made.product);
    let time = each(&|row| {
        prints.iter().find(|(part, _, _)| part.part.name == row.name).map(|(_, _, time)| time.time)
    });
    format!("{} ({:.0} g, {})", names.join(", "), mass * 1e3, hours(time))
}

fn to_buy(bill: &[BillRow]) -> String {
    let wanted: Vec<String> = bill
        .iter()
        .filter(|row| row.more() > 0)
        .map(|row| format!("{} x {}", row.more(), row.designation))
        .collect();
    if wanted.is_empty() { "nothing".to_string() } else { wanted.join("; ") }
}

fn verdicts(made: &Made) -> String {
    let count = |verdict| made.checks.iter().filter(|checked| checked.outcome.verdict == verdict).count();
    let failing: Vec<&str> = made
        .checks
        .iter()
        .filter(|checked| checked.outcome.verdict == Verdict::Fails)
        .map(|checked| checked.check.id)
        .collect();
    let names = if failing.is_empty() { String::new() } else { format!(" ({})", failing.join(", ")) };
    format!(
        "{} hold, {} warn, {} fail{names}, {} not applicable",
        count(Verdict::Holds),
        count(Verdict::Warns),
        count(Verdict::Fails),
        count(Verdict::NotApplicable)
    )
}
