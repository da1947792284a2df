//! `found.toml`, ready to be filled in: the steps as printed, and a commented line for each note.

use std::fmt::Write;

use super::{Coupon, Kind, values};

/// Kinds that are noted down, in the order of the file: table, key of the size, key of the steps, lines to fill in.
struct Table {
    kind: Kind,
    name: &'static str,
    size: Option<&'static str>,
    steps: Option<&'static str>,
    notes: &'static [&'static str],
}

const TABLES: &[Table] = &[
    Table {
        kind: Kind::Seat,
        name: "seat",
        size: Some("outside"),
        steps: Some("allowances"),
        notes: &[
            "by_hand = 3    # tightest ring that the bearing goes into by hand",
            "loose   = 5    # tightest ring that it falls out of, if any",
        ],
    },
    Table {
        kind: Kind::Post,
        name: "post",
        size: Some("bore"),
        steps: Some("allowances"),
        notes: &[
            "by_hand = 3    # tightest post that the bearing goes onto by hand",
            "loose   = 5    # tightest post on which it rocks, if any",
        ],
    },
    Table {
        kind: Kind::Pin,
        name: "pin",
        size: Some("diameter"),
        steps: Some("allowances"),
        notes: &[
            "press = 3      # tightest hole that the pin can be pressed into and then holds",
            "slip  = 5      # tightest hole that it slides through",
        ],
    },
    Table {
        kind: Kind::Clearance,
        name: "clearance",
        size: None,
        steps: Some("allowances"),
        notes: &["free = 3       # tightest hole that the screw drops through"],
    },
    Table {
        kind: Kind::Insert,
        name: "insert",
        size: Some("hole"),
        steps: Some("growths"),
        notes: &[
            "holds    = 2          # pocket in which the insert sits straight, flush, without a bulge; or",
            "measured = \"3.9 mm\"   # what pocket 1 measures, empty",
        ],
    },
    Table {
        kind: Kind::RingInsert,
        name: "ring_bore",
        size: Some("diameter"),
        steps: Some("allowances"),
        notes: &["by_hand = 2    # tightest ring that the gauge goes into by hand"],
    },
    Table {
        kind: Kind::SunSocket,
        name: "sun_socket",
        size: None,
        steps: Some("allowances"),
        notes: &["light_force = 2    # tightest socket that the sun slides into with light force"],
    },
    Table {
        kind: Kind::GearPair,
        name: "gear_pair",
        size: None,
        steps: Some("growths"),
        notes: &["runs = 3       # tightest mate that runs freely all the way round"],
    },
    Table {
        kind: Kind::Bridge,
        name: "bridge",
        size: None,
        steps: Some("spans"),
        notes: &["clean = \"10 mm\"     # longest bridge without a hanging line"],
    },
    Table {
        kind: Kind::Overhang,
        name: "overhang",
        size: None,
        steps: Some("angles"),
        notes: &["clean = \"45 deg\"    # steepest lean whose underside is clean"],
    },
    Table {
        kind: Kind::Gauge,
        name: "gauge",
        size: Some("drawn"),
        steps: None,
        notes: &[
            "at_top = \"20.1 mm\"   # measured across, a few millimetres up",
            "at_bed = \"20.4 mm\"   # measured across, at the very bottom",
        ],
    },
];

/// The table of a kind in a found file; none for what isn't noted down.
pub fn table_name(kind: Kind) -> Option<&'static str> {
    TABLES.iter().find(|table| table.kind == kind).map(|table| table.name)
}

/// The file for these coupons.
pub fn found_file(design: &str, coupons: &[Coupon]) -> String {
    let mut text = format!(
        "# What was found at the coupons of {design}. Take the # away from the lines you have a finding for and put in what you\n\
         # found; leave the others as they are. Then: hubwright coupons DESIGN --found THIS FILE\n\
         #\n\
         # Step 1 is the tightest. The lists are the steps as printed: they stay, so that the notes keep their meaning.\n"
    );
    for table in TABLES {
        for coupon in coupons.iter().filter(|coupon| coupon.kind == table.kind) {
            // Writing to a String cannot fail.
            let _ = write!(text, "\n[[{}]]    # {}: {}\n", table.name, coupon.name, coupon.title);
            let thread = coupon.name.split_once('-').map_or("", |(_, thread)| thread);
            if matches!(table.kind, Kind::Clearance | Kind::Insert) {
                let _ = writeln!(text, "thread = \"{}\"", thread.to_uppercase());
            }
            if let Some(key) = table.size {
                let _ = writeln!(text, "{key} = \"{}\"", values::millimetres(coupon.size));
            }
            if let Some(key) = table.steps {
                let steps: Vec<String> = coupon
                    .steps
                    .iter()
                    .map(|step| format!("\"{}\"", values::step(coupon.kind, *step)))
                    .collect();
                let _ = writeln!(text, "{key} = [{}]", steps.join(", "));
            }
            for note in table.notes {
                let _ = writeln!(text, "# {note}");
            }
        }
    }
    text
}
