//! `[bearings]`: output and planet bearings, and rows of one's own.

use crate::design::key::Takes;
use crate::design::section::{choice, section};
use crate::design::value::Choice;
use crate::quantity::Kind;
use crate::tables::{Cleanliness, ClearanceGroup};

/// Open, or with shields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shields {
    Shielded,
    Open,
}

choice!(ClearanceGroup {
    "normal" => ClearanceGroup::Normal,
    "C3" => ClearanceGroup::C3,
    "C4" => ClearanceGroup::C4,
});
choice!(Cleanliness {
    "high" => Cleanliness::High,
    "normal" => Cleanliness::Normal,
    "slight" => Cleanliness::Slight,
    "typical" => Cleanliness::Typical,
});
choice!(Shields { "shielded" => Shields::Shielded, "open" => Shields::Open, });

section! {
    "Deep groove ball bearings, by designation or with rows of your own."
    pub struct BearingsKeys {
        output: OutputBearingKeys = Takes::Section(OutputBearingKeys::SECTION), [required], "{ designation = \"6810\" }",
            "The bearing that carries the output.";
        planet: String = Takes::Text, [optional "The largest of the table that fits the planets."], "688", "Two in each planet.";
        planet_enclosure: Shields = Takes::Choice(<Shields as Choice>::WORDS),
            [default "shielded" "They work beside plastic teeth that shed dust."], "shielded", "Shields of the planet bearings.";
        clearance: ClearanceGroup = Takes::Choice(<ClearanceGroup as Choice>::WORDS), [default "normal" "What shops keep."], "C3",
            "Internal clearance of the output bearing.";
        cleanliness: Cleanliness = Takes::Choice(<Cleanliness as Choice>::WORDS),
            [default "typical" "Open bearings beside plastic gears."], "normal", "How clean the bearings run: high is sealed, normal is shielded.";
        grease_viscosity: f64 = Takes::Quantity { kind: Kind::Viscosity, least: 2.0, most: 2000.0 },
            [default "100 mm2/s" "Common bearing greases (common practice, no source)."], "100 mm2/s", "Of the grease's base oil at 40 degC.";
        custom: Vec<CustomBearingKeys> = Takes::Sections(CustomBearingKeys::SECTION), [default "[]" "Only the table's rows."],
            "[{ designation = \"my-50x65\", bore = \"50 mm\", outer = \"65 mm\", width = \"7 mm\", dynamic_rating = \"6.6 kN\", static_rating = \"6.1 kN\" }]",
            "Rows of your own, as in a maker's catalogue.";
    }
}

section! {
    "The output bearing, or a pair of it." shorthand "designation"
    pub struct OutputBearingKeys {
        designation: String = Takes::Text, [required], "6810", "As in `hubwright tables bearings`, \"6810@NSK\" for one maker, or of a row of your own.";
        count: u32 = Takes::Count { least: 1, most: 2 }, [default "1" "One carries most arms."], "1", "One, or a pair for larger overturning moments.";
        spacing: f64 = Takes::length(0.5, 100.0), [default "6 mm" "Short, and a spacer that wide prints well."], "6 mm", "Between the two of a pair.";
    }
}

section! {
    "A bearing of your own."
    pub struct CustomBearingKeys {
        designation: String = Takes::Text, [required], "my-50x65", "How the design calls it.";
        maker: String = Takes::Text, [default "own row" "Not named."], "a maker", "Who makes it.";
        bore: f64 = Takes::length(1.0, 300.0), [required], "50 mm", "Bore d.";
        outer: f64 = Takes::length(2.0, 400.0), [required], "65 mm", "Outside D.";
        width: f64 = Takes::length(0.5, 100.0), [required], "7 mm", "Width B, open.";
        width_shielded: f64 = Takes::length(0.5, 100.0), [optional "As the open one."], "7 mm", "Width with shields.";
        dynamic_rating: f64 = Takes::Quantity { kind: Kind::Force, least: 1.0, most: 1e6 }, [required], "6.6 kN", "Basic dynamic radial rating C.";
        static_rating: f64 = Takes::Quantity { kind: Kind::Force, least: 1.0, most: 1e6 }, [required], "6.1 kN", "Basic static radial rating C0.";
        f0: f64 = Takes::Number { least: 5.0, most: 20.0 }, [optional "Not printed: the axial factor is not applicable."], "16", "Factor f0.";
        fatigue_limit: f64 = Takes::Quantity { kind: Kind::Force, least: 0.1, most: 1e5 }, [optional "Not printed."], "280 N", "Fatigue load limit Cu.";
        shoulder_inner_min: f64 = Takes::length(1.0, 400.0), [optional "Bore + a quarter of the section (estimate)."], "52 mm", "Least abutment at the inner ring.";
        shoulder_inner_max: f64 = Takes::length(1.0, 400.0), [optional "Bore + a quarter of the section (estimate)."], "55 mm", "Largest abutment at the inner ring.";
        shoulder_outer_max: f64 = Takes::length(1.0, 400.0), [optional "Outside - 0.22 of the section (estimate)."], "63 mm", "Largest bore at the outer ring.";
        mass: f64 = Takes::Quantity { kind: Kind::Mass, least: 1e-4, most: 50.0 }, [optional "Three fifths of a steel ring of its size (estimate)."], "52 g", "Mass.";
    }
}
