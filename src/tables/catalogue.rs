//! The built-in tables as rows of text, each with its source: what `hubwright tables` prints.

use super::{
    Head, HoleSeries, InsertLength, Thread, bearings, head_dimensions, heat_set_insert, lengths, materials,
};

/// A table ready to print.
#[derive(Clone, Debug)]
pub struct NamedTable {
    pub name: &'static str,
    pub about: &'static str,
    pub columns: Vec<&'static str>,
    pub rows: Vec<Vec<String>>,
}

/// All tables, in a fixed order.
pub fn catalogue() -> Vec<NamedTable> {
    vec![bearing_table(), screw_table(), hole_table(), insert_table(), material_table()]
}

/// "from memory" where a value was not seen on a page.
fn mark(source: &str, from_memory: bool) -> String {
    if from_memory { format!("from memory; {source}") } else { source.to_string() }
}

fn bearing_table() -> NamedTable {
    let rows = bearings().iter().map(|row| {
        vec![
            row.designation.clone(),
            row.maker.clone(),
            row.bore.to_string(),
            row.outer.to_string(),
            row.width.to_string(),
            row.width_shielded.to_string(),
            format!("{:.0}", row.dynamic_rating),
            format!("{:.0}", row.static_rating),
            row.f0.map_or("-".to_string(), |f0| {
                format!("{f0:.1}{}", if row.f0_computed { " computed" } else { "" })
            }),
            row.fatigue_limit.map_or("-".to_string(), |limit| format!("{limit:.0}")),
            format!(
                "{:.1}-{:.1} / {:.1}{}",
                row.shoulder_inner_min,
                row.shoulder_inner_max,
                row.shoulder_outer_max,
                if row.shoulders_estimated { " est." } else { "" }
            ),
            format!("{:.1}{}", row.mass * 1e3, if row.mass_estimated { " est." } else { "" }),
            mark(&row.source, row.from_memory),
        ]
    });
    NamedTable {
        name: "bearings",
        about: "Deep groove ball bearings. Where makers differ, the row with the lowest C is taken; name another as 6810@NSK.",
        columns: vec![
            "designation",
            "maker",
            "d mm",
            "D mm",
            "B mm",
            "B shielded",
            "C N",
            "C0 N",
            "f0",
            "Pu N",
            "da / Da mm",
            "mass g",
            "source",
        ],
        rows: rows.collect(),
    }
}

fn screw_table() -> NamedTable {
    let heads = [Head::Cap, Head::Button, Head::Countersunk];
    let rows = heads.iter().flat_map(|&head| {
        Thread::ALL.iter().map(move |&thread| {
            let size = head_dimensions(head, thread);
            let list: Vec<String> = lengths(head, thread).map(|length| length.to_string()).collect();
            vec![
                head.standard().to_string(),
                thread.to_string(),
                size.diameter_max.to_string(),
                size.height.to_string(),
                size.hexagon.to_string(),
                list.join(" "),
                mark("heads: published tables of the standard; lengths: ISO 888", size.from_memory),
            ]
        })
    });
    NamedTable {
        name: "screws",
        about: "Socket screws: largest head, height, hexagon, lengths one can buy.",
        columns: vec!["standard", "thread", "head mm", "height mm", "hexagon mm", "lengths mm", "source"],
        rows: rows.collect(),
    }
}

fn hole_table() -> NamedTable {
    let rows = Thread::ALL.iter().map(|&thread| {
        vec![
            thread.to_string(),
            thread.clearance_hole(HoleSeries::Fine).to_string(),
            thread.clearance_hole(HoleSeries::Medium).to_string(),
            thread.clearance_hole(HoleSeries::Coarse).to_string(),
            format!("{:.2}", thread.stress_area()),
            "ISO 273 as printed by engineeringhardware.com; area by ISO 898-1".to_string(),
        ]
    });
    NamedTable {
        name: "clearance-holes",
        about: "Clearance holes and stress areas; a printed hole gets the printer's allowance on top.",
        columns: vec!["thread", "fine mm", "medium mm", "coarse mm", "stress area mm2", "source"],
        rows: rows.collect(),
    }
}

fn insert_table() -> NamedTable {
    let rows = Thread::ALL.iter().flat_map(|&thread| {
        let both =
            [heat_set_insert(thread, InsertLength::Long), heat_set_insert(thread, InsertLength::Short)];
        let distinct = if both[0] == both[1] { 1 } else { 2 };
        both.into_iter().take(distinct).map(|insert| {
            vec![
                insert.thread.to_string(),
                insert.hole.to_string(),
                insert.outer.to_string(),
                insert.length.to_string(),
                mark(insert.source, insert.from_memory),
            ]
        })
    });
    NamedTable {
        name: "inserts",
        about: "Heat-set inserts. Published rules for the hole contradict each other: a fit coupon decides.",
        columns: vec!["thread", "hole mm", "outside mm", "length mm", "source"],
        rows: rows.collect(),
    }
}

fn material_table() -> NamedTable {
    let rows = materials().iter().map(|row| {
        vec![
            row.name.clone(),
            row.density.to_string(),
            row.strength_in_plane.to_string(),
            row.strength_across.to_string(),
            format!("{:.0}", row.modulus),
            format!("{:.0}", row.service_temperature),
            row.source.clone(),
        ]
    });
    NamedTable {
        name: "materials",
        about: "Print materials; strengths in the layers' plane and across layers.",
        columns: vec!["name", "g/cm3", "in plane MPa", "across MPa", "E MPa", "long-term degC", "source"],
        rows: rows.collect(),
    }
}
