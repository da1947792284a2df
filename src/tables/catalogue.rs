//! The built-in tables as text, for printing.

use super::*;

/// A table as it is printed.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// What one types to see it.
    pub name: &'static str,
    pub title: &'static str,
    /// Headings, with units.
    pub columns: Vec<&'static str>,
    pub rows: Vec<Vec<String>>,
    /// What holds for every row: where the values come from, how ranges and estimates were made.
    pub notes: &'static str,
}

/// Mark of a value that the source does not print.
const ESTIMATED: &str = "~";

/// Every built-in table, in the order it is listed.
pub fn catalogue() -> Vec<Table> {
    vec![
        bearing_table(),
        crossed_roller_table(),
        thread_table(),
        screw_table(),
        length_table(),
        washer_table(),
        nut_table(),
        insert_table(),
        forming_table(),
        pin_table(),
        material_table(),
        gear_metal_table(),
    ]
}

fn bearing_table() -> Table {
    let row = |bearing: &Bearing| {
        let marked =
            |text: String, is_estimate: bool| if is_estimate { format!("{ESTIMATED}{text}") } else { text };
        let is_default =
            super::bearing(&bearing.designation).is_some_and(|default| std::ptr::eq(default, bearing));
        vec![
            bearing.designation.clone(),
            bearing.maker.clone(),
            yes_or_blank(is_default),
            number(bearing.bore),
            number(bearing.outer),
            number(bearing.width),
            number(bearing.width_shielded),
            number(bearing.dynamic_rating),
            number(bearing.static_rating),
            bearing.f0.map(|f0| marked(number(f0), bearing.f0_computed)).unwrap_or_default(),
            bearing.fatigue_limit.map(number).unwrap_or_default(),
            marked(number(bearing.shoulder_inner_min), bearing.shoulders_estimated),
            marked(number(bearing.shoulder_inner_max), bearing.shoulders_estimated),
            marked(number(bearing.shoulder_outer_max), bearing.shoulders_estimated),
            marked(format!("{:.2}", bearing.mass * 1000.0), bearing.mass_estimated),
            bearing.source.clone(),
        ]
    };
    Table {
        name: "bearings",
        title: "Deep groove ball bearings",
        columns: vec![
            "designation",
            "maker",
            "default",
            "bore mm",
            "outer mm",
            "width mm",
            "width shielded mm",
            "C N",
            "C0 N",
            "f0",
            "Cu N",
            "shaft shoulder least mm",
            "shaft shoulder most mm",
            "housing shoulder most mm",
            "mass g",
            "source",
        ],
        rows: bearings().iter().map(row).collect(),
        notes: "Where makers differ, the row with the lowest C (then C0) is the default; another is named as 6810@NSK. ~ marks \
                what the maker does not print: f0 of the whole balls that reproduce C and C0, shoulders d + 0.25 (D - d) and \
                D - 0.22 (D - d), mass 0.68 of the full ring.",
    }
}

fn thread_table() -> Table {
    let row = |thread: Thread| {
        vec![
            thread.to_string(),
            number(thread.pitch()),
            format!("{:.2}", thread.stress_area()),
            number(thread.clearance_hole(HoleSeries::Fine)),
            number(thread.clearance_hole(HoleSeries::Medium)),
            number(thread.clearance_hole(HoleSeries::Coarse)),
            format!("{:.0}", thread.proof_load(PropertyClass::C8_8)),
            format!("{:.0}", thread.proof_load(PropertyClass::C10_9)),
            format!("{:.0}", thread.proof_load(PropertyClass::C12_9)),
        ]
    };
    Table {
        name: "threads",
        title: "Metric coarse threads",
        columns: vec![
            "thread",
            "pitch mm",
            "stress area mm2",
            "hole fine mm",
            "hole medium mm",
            "hole coarse mm",
            "proof load 8.8 N",
            "proof load 10.9 N",
            "proof load 12.9 N",
        ],
        rows: Thread::ALL.into_iter().map(row).collect(),
        notes: "Holes: ISO 273. Stress area pi/4 (d - 0.9382 P)^2 and proof stress 580, 830, 970 MPa: ISO 898-1.",
    }
}

fn screw_table() -> Table {
    let row = |head: &ScrewHead| {
        vec![
            head.standard.number().to_string(),
            head.thread.to_string(),
            number(head.diameter),
            number(head.diameter_most),
            number(head.height),
            number(head.hex),
            number(head.socket_depth),
            yes_or_blank(head.from_memory),
            head.source.to_string(),
        ]
    };
    Table {
        name: "screws",
        title: "Hexagon socket screws: heads",
        columns: vec![
            "standard",
            "thread",
            "head mm",
            "largest head mm",
            "height mm",
            "key mm",
            "socket depth mm",
            "from memory",
            "source",
        ],
        rows: screw_heads().iter().map(row).collect(),
        notes: "Pockets clear the largest head: a knurled cap, the sharp edge of a countersunk head.",
    }
}

fn length_table() -> Table {
    let mut rows = Vec::new();
    for standard in ScrewStandard::ALL {
        for thread in Thread::ALL {
            let lengths: Vec<String> = screw_lengths(standard, thread).map(number).collect();
            if !lengths.is_empty() {
                rows.push(vec![standard.number().to_string(), thread.to_string(), lengths.join(" ")]);
            }
        }
    }
    Table {
        name: "lengths",
        title: "Hexagon socket screws: lengths one can buy",
        columns: vec!["standard", "thread", "lengths mm"],
        rows,
        notes: "From memory, common practice. M3 caps to 50; what must be longer takes M4.",
    }
}

fn washer_table() -> Table {
    let row = |washer: &Washer| {
        vec![
            washer.thread.to_string(),
            number(washer.bore),
            number(washer.outer),
            number(washer.thickness),
            yes_or_blank(washer.from_memory),
            washer.source.to_string(),
        ]
    };
    Table {
        name: "washers",
        title: "Plain washers",
        columns: vec!["thread", "bore mm", "outer mm", "thickness mm", "from memory", "source"],
        rows: washers().iter().map(row).collect(),
        notes: "ISO 7089, normal series.",
    }
}

fn insert_table() -> Table {
    let row = |insert: &Insert| {
        let form = match insert.form {
            InsertForm::Standard => "standard",
            InsertForm::Short => "short",
        };
        vec![
            insert.thread.to_string(),
            form.to_string(),
            yes_or_blank(insert.rule == HoleRule::Recommended),
            number(insert.hole),
            number(insert.outside),
            number(insert.length),
            yes_or_blank(insert.from_memory),
            insert.source.to_string(),
        ]
    };
    Table {
        name: "inserts",
        title: "Heat-set inserts",
        columns: vec![
            "thread",
            "form",
            "default",
            "hole mm",
            "outside mm",
            "length mm",
            "from memory",
            "source",
        ],
        rows: inserts().iter().map(row).collect(),
        notes: "Published rules for the hole contradict each other; all are listed, the recommended hole is the default and a \
                printed coupon decides.",
    }
}

fn crossed_roller_table() -> Table {
    let row = |bearing: &Bearing| {
        let pitch_circle = match bearing.kind {
            BearingKind::CrossedRoller { pitch_circle } => number(pitch_circle),
            BearingKind::DeepGroove => String::new(),
        };
        vec![
            bearing.designation.clone(),
            bearing.maker.clone(),
            number(bearing.bore),
            number(bearing.outer),
            number(bearing.width),
            pitch_circle,
            number(bearing.dynamic_rating),
            number(bearing.static_rating),
            number(bearing.shoulder_inner_min),
            number(bearing.shoulder_outer_max),
            number(bearing.mass * 1e3),
            bearing.source.clone(),
        ]
    };
    Table {
        name: "crossed-rollers",
        title: "Crossed roller bearings, for the output",
        columns: vec![
            "designation",
            "maker",
            "bore mm",
            "outer mm",
            "width mm",
            "pitch circle mm",
            "C N",
            "C0 N",
            "shaft shoulder mm",
            "housing shoulder mm",
            "mass g",
            "source",
        ],
        rows: crossed_rollers().iter().map(row).collect(),
        notes: "One carries radial and axial load and moment; in a printed seat half of C0 is allowed.",
    }
}

fn nut_table() -> Table {
    let row = |nut: &Nut| {
        vec![
            nut.standard.number().to_string(),
            nut.thread.to_string(),
            number(nut.across_flats),
            number(nut.height),
            nut.across_corners.map(number).unwrap_or_default(),
            number(trap_height(nut.thread)),
            nut.source.to_string(),
        ]
    };
    Table {
        name: "nuts",
        title: "Nuts",
        columns: vec![
            "standard",
            "thread",
            "across flats mm",
            "height mm",
            "across corners mm",
            "hexagon trap at least mm",
            "source",
        ],
        rows: nuts().iter().map(row).collect(),
        notes: "Hexagon nuts M5 and M6 differ between the standards: a trap is as high as the taller.",
    }
}

/// Bosses of the whole series, plastic by plastic.
fn forming_table() -> Table {
    let row = |rule: &FormingRule, screw: &FormingScrew| {
        let boss = rule.boss_of(screw.diameter);
        let two = |value: f64| format!("{value:.2}");
        vec![
            rule.plastic.to_string(),
            screw.name.to_string(),
            number(screw.diameter),
            number(screw.core),
            two(boss.hole),
            format!("+{:.2}", boss.hole_tolerance),
            two(boss.outside),
            two(boss.depth),
        ]
    };
    let rows =
        forming_rules().iter().flat_map(|rule| forming_screws().iter().map(move |screw| row(rule, screw)));
    Table {
        name: "forming-screws",
        title: "Screws that form their thread in plastic",
        columns: vec![
            "plastic",
            "screw",
            "diameter mm",
            "core mm",
            "hole mm",
            "hole tolerance mm",
            "boss mm",
            "thread depth mm",
        ],
        rows: rows.collect(),
        notes: "Penn Engineering, PF screws for plastics, read at pencomsf.com; hole tolerance read at celofasteners.com. For moulded \
                plastic; PETG, PLA and PC aren't printed there: take the ABS row (a choice, no source).",
    }
}

fn pin_table() -> Table {
    let row = |pin: &Pin| {
        let lengths: Vec<String> = pin.standard_lengths().map(number).collect();
        vec![
            number(pin.diameter),
            format!("+{:.0}", pin.over_nominal.0 * 1000.0),
            format!("+{:.0}", pin.over_nominal.1 * 1000.0),
            lengths.join(" "),
            pin.double_shear.map(number).unwrap_or_default(),
            yes_or_blank(pin.from_memory),
            pin.source.to_string(),
        ]
    };
    Table {
        name: "pins",
        title: "Hardened dowel pins",
        columns: vec![
            "diameter mm",
            "least um",
            "most um",
            "lengths mm",
            "double shear N",
            "partly from memory",
            "source",
        ],
        rows: pins().iter().map(row).collect(),
        notes: "ISO 8734, tolerance m6.",
    }
}

fn gear_metal_table() -> Table {
    let row = |metal: &GearMetal| {
        let numbers = [
            metal.modulus,
            metal.poisson_ratio,
            metal.root_endurance,
            metal.root_static,
            metal.flank_endurance,
            metal.flank_static,
        ];
        let mut row = vec![metal.name.to_string()];
        row.extend(numbers.map(number));
        row.push(metal.description.to_string());
        row
    };
    Table {
        name: "gear-metals",
        title: "Metals of bought gears",
        columns: vec![
            "name",
            "modulus MPa",
            "Poisson's ratio",
            "root endurance MPa",
            "root static MPa",
            "flank endurance MPa",
            "flank static MPa",
            "what it is",
        ],
        rows: gear_metals().iter().map(row).collect(),
        notes: "From memory, ISO 6336-5:2003, quality ML to MQ, rounded down: sigma_FE and sigma_Hlim; static values for few \
                cycles. A maker's own figures go before them.",
    }
}

fn material_table() -> Table {
    let row = |material: &Material| {
        vec![
            material.name.clone(),
            number(material.density),
            number(material.strength_in_plane),
            number(material.strength_across),
            number(material.modulus),
            number(material.service_temperature),
            number(material.conductivity),
            number(material.specific_heat),
            yes_or_blank(material.from_memory),
            material.source.clone(),
        ]
    };
    Table {
        name: "materials",
        title: "Print materials",
        columns: vec![
            "material",
            "density g/cm3",
            "strength in plane MPa",
            "strength across layers MPa",
            "modulus MPa",
            "long-term wall limit degC",
            "conductivity W/(m K)",
            "specific heat J/(kg K)",
            "partly from memory",
            "source",
        ],
        rows: materials().iter().map(row).collect(),
        notes: "A range becomes its lower end for strength, modulus and temperature, its middle for density. Across layers without \
                a published value: 0.6 of in-plane, 0.4 for carbon-filled nylon.",
    }
}

fn number(value: f64) -> String {
    value.to_string()
}

fn yes_or_blank(is_true: bool) -> String {
    if is_true { "yes".to_string() } else { String::new() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_fills_every_column() {
        let tables = catalogue();
        for table in &tables {
            assert!(!table.rows.is_empty(), "{}", table.name);
            for row in &table.rows {
                assert_eq!(row.len(), table.columns.len(), "{}: {row:?}", table.name);
            }
        }
    }

    #[test]
    fn one_maker_is_the_default_for_each_bearing() {
        let table = bearing_table();
        let mut names: Vec<&str> = table.rows.iter().map(|row| row[0].as_str()).collect();
        names.sort_unstable();
        names.dedup();
        let defaults = table.rows.iter().filter(|row| row[2] == "yes").count();
        assert_eq!(defaults, names.len());
    }
}
