//! Every check: value, limit, margin, and what is behind it on demand.

use maud::{Markup, html};

use super::text::words;
use crate::checks::{Checked, Outcome, Sense};
use crate::export::summary::significant;
use crate::pipeline::Made;

pub fn checking(made: &Made) -> Markup {
    html! {
        p { "The margin is what is left of the limit: 20 % means a fifth in hand, below 0 it fails. Open a check for its formula and source." }
        div.checks { @for checked in &made.checks { (row(checked)) } }
    }
}

fn row(checked: &Checked) -> Markup {
    let (check, outcome) = (checked.check, &checked.outcome);
    let verdict = outcome.verdict.as_str();
    html! {
        details.check id={ "check-" (check.id) } {
            summary {
                span.title { (check.title) }
                span.value { (compared(outcome, check.unit)) }
                span.margin { (margin(outcome)) }
                span class={ "verdict " (verdict.replace(' ', "-")) } { (verdict) }
            }
            @for said in [&outcome.remark, &outcome.remedy].map(ToString::to_string) {
                @if !said.is_empty() { p { (words(&said)) } }
            }
            dl {
                dt { "Name" } dd { code { (check.id) } }
                dt { "Formula" } dd { (check.formula) }
                @if !check.symbols.is_empty() {
                    dt { "Symbols" } dd { @for line in check.symbols.lines() { (line) br; } }
                }
                @for (name, text) in [("Load", check.load.words().as_str()), ("Source", check.clause), ("Range", check.range), ("Not covered", check.not_covered)] {
                    @if !text.is_empty() { dt { (name) } dd { (text) } }
                }
            }
        }
    }
}

fn compared(outcome: &Outcome, unit: &str) -> String {
    let Some(value) = outcome.value else { return String::new() };
    let limit = outcome.limit.map_or(String::new(), |limit| {
        let sense = match outcome.sense {
            Sense::AtLeast => "at least",
            Sense::AtMost => "at most",
        };
        format!(", {sense} {}", significant(limit))
    });
    format!("{}{limit} {unit}", significant(value)).trim_end().to_string()
}

/// Beyond tenfold the figure says nothing more.
fn margin(outcome: &Outcome) -> String {
    match outcome.margin() {
        None => String::new(),
        Some(margin) if margin > 10.0 => "over 1000 %".to_string(),
        Some(margin) => format!("{:.0} %", margin * 100.0),
    }
}
