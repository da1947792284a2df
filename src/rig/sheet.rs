//! The rig as text for people and as a tree for machines.

use serde_json::{Value, json};

use super::parts::RigPart;
use super::plan::{Expected, Step, grams, twist};
use super::rating::RigCheck;
use super::sizes::{DIAL_STEM, FOOT_THREAD, Sizes};
use crate::cautions;
use crate::checks::Verdict;
use crate::design::PartName;
use crate::export::markdown::table;
use crate::product::Product;
use crate::quantity::format_number;

/// Everything of a rig.
pub struct Rig<'a> {
    pub product: &'a Product,
    pub sizes: &'a Sizes,
    pub parts: &'a [RigPart],
    pub checks: &'a [RigCheck],
    pub steps: &'a [Step],
}

/// To four digits.
pub fn number(value: f64) -> String {
    let rounded: f64 = format!("{value:.3e}").parse().unwrap_or(value);
    format_number(rounded)
}

fn limits(expected: &Expected) -> String {
    format!(
        "{}: {} {} ({} to {})",
        expected.what,
        number(expected.value),
        expected.unit,
        number(expected.low),
        number(expected.high)
    )
}

fn strings(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_string()).collect()
}

impl Rig<'_> {
    fn name(&self) -> &str {
        &self.product.actuator.design.name
    }

    fn last_mark(&self) -> f64 {
        self.sizes.lever.marks.last().copied().unwrap_or(self.sizes.lever.length)
    }

    fn checks_table(&self) -> String {
        let rows: Vec<Vec<String>> = self
            .checks
            .iter()
            .map(|check| {
                let outcome = &check.outcome;
                vec![
                    check.id.to_string(),
                    outcome.verdict.as_str().to_string(),
                    outcome.value.map_or("-".into(), number),
                    outcome.limit.map_or("-".into(), number),
                    outcome.remark.to_string(),
                ]
            })
            .collect();
        table(&strings(&["check", "verdict", "value", "limit", "remark"]), &rows, 2)
    }

    /// Bought things, one a line.
    fn shopping(&self) -> Vec<String> {
        let (joints, lever) = (&self.product.actuator.joints, &self.sizes.lever);
        let (output, machine) = (&joints.output, &joints.machine);
        let mut lines = vec![
            format!(
                "{} cap screws {} x {} for lever or pointer",
                output.count,
                output.thread,
                number(lever.screw_length)
            ),
            format!(
                "{} cap screws {} x {} for the stand",
                machine.count,
                machine.thread,
                number(self.sizes.stand.screw_length)
            ),
            format!(
                "1 screw {FOOT_THREAD} with nut and two washers for the foot; {} wood screws of 5 mm for the stand",
                self.sizes.stand.bench_holes.len()
            ),
            format!(
                "a dial indicator with a stem of {} mm, a cable tie that closes the holder's slit",
                number(DIAL_STEM)
            ),
            format!(
                "a scale with a tare for at least {} kg, not higher than {:.0} mm; a hanging scale for at least {} kg; thermocouples for winding and mount",
                number(1.2e-3 * grams(self.product.actuator.torques.output, self.last_mark())),
                self.sizes.stand.axis_height - self.sizes.foot.diameter / 2.0,
                number(1.2e-3 * grams(twist(self.product, self.sizes), self.last_mark()))
            ),
        ];
        if let Some(lock) = &self.sizes.lock {
            let (adapter, service) = (&joints.adapter_to_rotor, &joints.service);
            lines.push(format!(
                "for the input lock, which takes the actuator's own screws: {} inserts {} of {} mm for its floor, {} inserts {} for its rim, {} inserts {} for its back",
                adapter.count,
                adapter.thread,
                number(lock.adapter_insert.length),
                service.count,
                service.thread,
                machine.count,
                machine.thread
            ));
        }
        lines
    }

    /// For the terminal.
    pub fn text(&self, folder: Option<&str>) -> String {
        let mut text = format!("Bench rig of {}\n\n", self.name());
        if let Some(folder) = folder {
            text = format!("Bench rig of {} in {folder}\n\n", self.name());
        }
        for part in self.parts {
            text.push_str(&format!("  {:<13} {}\n", part.name, part.about));
        }
        text.push('\n');
        text.push_str(&self.checks_table());
        for check in self.checks {
            let remedy = check.outcome.remedy.to_string();
            if matches!(check.outcome.verdict, Verdict::Fails | Verdict::Warns) && !remedy.is_empty() {
                text.push_str(&format!("  {}: {remedy}\n", check.id));
            }
        }
        text.push_str(&format!("\n{}\n{}\n", cautions::CLAMP, cautions::ESTIMATE));
        text
    }

    /// The page.
    pub fn markdown(&self) -> String {
        let design = &self.product.actuator.design;
        let settings = design.settings(PartName::VentedBase);
        let mut text = format!("# Test plan of {}\n\n", self.name());
        for caution in cautions::BENCH {
            text.push_str(&format!("- {caution}\n"));
        }
        text.push_str("\n## Rig\n\n");
        let rows: Vec<Vec<String>> = self
            .parts
            .iter()
            .map(|part| vec![format!("`{}.stl`", part.name), part.about.to_string()])
            .collect();
        text.push_str(&table(&strings(&["part", "what it does"]), &rows, 2));
        text.push_str(&format!(
            "\nPrint them solid in {}, as they lie, without supports; `plate-1.3mf` and on have them arranged (`plates.svg`).\n\nTo buy:\n\n",
            settings.material.name
        ));
        for line in self.shopping() {
            text.push_str(&format!("- {line}\n"));
        }
        text.push_str(&format!(
            "\n## What the rig bears, at the peak torque of {} N m\n\n",
            number(self.product.actuator.torques.output)
        ));
        text.push_str(&self.checks_table());
        text.push_str("\n## Tests\n\nNote each reading in a CSV file (`hubwright trial --columns` says how); `hubwright trial DESIGN LOG` then tells what the joint really is.\n");
        for (step, number) in self.steps.iter().zip(1..) {
            text.push_str(&format!(
                "\n### {number}. {} (`{}`)\n\n{}\n\n",
                step.title,
                step.test.word(),
                step.how
            ));
            if !step.parts.is_empty() {
                text.push_str(&format!("- Parts: {}\n", step.parts.join(", ")));
            }
            text.push_str(&format!("- Supply: {}\n", step.supply));
            for expected in &step.expected {
                text.push_str(&format!("- Accept: {}\n", limits(expected)));
            }
            if !step.unknown.is_empty() {
                text.push_str(&format!("- {}\n", step.unknown));
            }
            for caution in &step.cautions {
                text.push_str(&format!("- Caution: {caution}\n"));
            }
        }
        text
    }

    /// For machines.
    pub fn tree(&self) -> Value {
        let checks: Vec<Value> = self
            .checks
            .iter()
            .map(|check| {
                json!({
                    "id": check.id,
                    "title": check.title,
                    "verdict": check.outcome.verdict.as_str(),
                    "value": check.outcome.value,
                    "limit": check.outcome.limit,
                    "margin": check.outcome.margin(),
                    "remark": check.outcome.remark,
                    "remedy": check.outcome.remedy,
                    "formula": check.formula,
                    "clause": check.clause,
                    "not_covered": check.not_covered,
                })
            })
            .collect();
        let parts: Vec<Value> = self
            .parts
            .iter()
            .map(|part| json!({ "name": part.name, "count": part.made.part.count, "about": part.about, "file": format!("parts/{}.stl", part.name), "size_mm": part.made.size, "volume_mm3": part.made.volume, "mass_kg": part.made.mass.mass }))
            .collect();
        let steps: Vec<Value> = self
            .steps
            .iter()
            .map(|step| {
                let expected: Vec<Value> = step
                    .expected
                    .iter()
                    .map(|one| json!({ "what": one.what, "unit": one.unit, "value": one.value, "low": one.low, "high": one.high }))
                    .collect();
                json!({
                    "test": step.test.word(),
                    "title": step.title,
                    "how": step.how,
                    "parts": step.parts,
                    "supply": step.supply,
                    "expected": expected,
                    "unknown": step.unknown,
                    "cautions": step.cautions,
                })
            })
            .collect();
        json!({
            "design": self.name(),
            "marks_mm": self.sizes.lever.marks,
            "parts": parts,
            "to_buy": self.shopping(),
            "checks": checks,
            "plan": steps,
        })
    }
}
