//! Screws that form their thread in plastic: hole, boss and depth by plastic (Penn Engineering, PF screws for plastics, read
//! at pencomsf.com). For moulded plastic; in prints the layers split sooner, which is why the tool's joints use inserts.

/// What a plastic wants, in screw diameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FormingRule {
    pub plastic: &'static str,
    pub hole: f64,
    /// Outside of the boss.
    pub boss: f64,
    pub engagement: f64,
}

/// A screw of the series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FormingScrew {
    pub name: &'static str,
    pub diameter: f64,
    pub core: f64,
}

/// Boss for one screw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FormingBoss {
    pub hole: f64,
    /// Above the hole's size, at most (celofasteners.com).
    pub hole_tolerance: f64,
    pub outside: f64,
    pub depth: f64,
}

const fn rule(plastic: &'static str, [hole, boss, engagement]: [f64; 3]) -> FormingRule {
    FormingRule { plastic, hole, boss, engagement }
}

const RULES: [FormingRule; 8] = [
    rule("ABS", [0.80, 2.00, 2.00]),
    rule("PC-ABS", [0.80, 2.00, 2.00]),
    rule("ASA", [0.78, 2.00, 2.00]),
    rule("PA6", [0.75, 1.85, 1.70]),
    rule("PA6-GF30", [0.80, 2.00, 1.90]),
    rule("PA66", [0.75, 1.85, 1.70]),
    rule("PA66-GF30", [0.82, 2.00, 1.80]),
    rule("PBT", [0.75, 1.85, 1.70]),
];

const SCREWS: [FormingScrew; 7] = [
    FormingScrew { name: "K22", diameter: 2.2, core: 1.25 },
    FormingScrew { name: "K25", diameter: 2.5, core: 1.40 },
    FormingScrew { name: "K30", diameter: 3.0, core: 1.66 },
    FormingScrew { name: "K35", diameter: 3.5, core: 1.91 },
    FormingScrew { name: "K40", diameter: 4.0, core: 2.17 },
    FormingScrew { name: "K50", diameter: 5.0, core: 2.68 },
    FormingScrew { name: "K60", diameter: 6.0, core: 3.19 },
];

/// All rules, by plastic.
pub fn forming_rules() -> &'static [FormingRule] {
    &RULES
}

/// The series, thinnest first.
pub fn forming_screws() -> &'static [FormingScrew] {
    &SCREWS
}

impl FormingRule {
    /// Boss for a screw of this diameter.
    pub fn boss_of(&self, diameter: f64) -> FormingBoss {
        FormingBoss {
            hole: self.hole * diameter,
            hole_tolerance: match diameter {
                thin if thin <= 3.0 => 0.08,
                middle if middle <= 4.5 => 0.10,
                _ => 0.12,
            },
            outside: self.boss * diameter,
            depth: self.engagement * diameter,
        }
    }
}
