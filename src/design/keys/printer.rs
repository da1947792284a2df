//! `[printer]`: printer, fits and limits of form.

use std::f64::consts::PI;

use crate::design::key::Takes;
use crate::design::section::section;
use crate::quantity::Kind;

/// More than a moulded nylon's: beyond it a per cent was meant.
const SHRINKAGE: Takes = Takes::Number { least: 0.0, most: 0.05 };
/// An allowance: smaller or larger than this no fit of a print is.
const ALLOWANCE: Takes = Takes::length(-1.0, 1.5);

section! {
    "Printer, fits and limits of form. Fits are on the diameter and hold until a printed coupon says better."
    pub struct PrinterKeys {
        name: String = Takes::Text, [default "printer" "Not named."], "bench printer", "As in the report.";
        line_width: f64 = Takes::length(0.1, 2.0), [default "0.4 mm" "The nozzle's own width."], "0.4 mm", "Width of an extruded line.";
        layer_height: f64 = Takes::length(0.04, 0.6), [default "0.2 mm" "Half the nozzle."], "0.2 mm", "Layer height.";
        first_layer_height: f64 = Takes::length(0.04, 0.8), [default "0.2 mm" "As the others."], "0.2 mm", "Height of the first layer.";
        bed: [f64; 3] = Takes::Quantities { count: 3, kind: Kind::Length, least: 50.0, most: 2000.0 },
            [default "[\"220 mm\", \"220 mm\", \"250 mm\"]" "A common size."], "[\"220 mm\", \"220 mm\", \"250 mm\"]", "Length, width and height that print.";
        bearing_seat: Vec<FitRangeKeys> = Takes::Sections(FitRangeKeys::SECTION),
            [default
                "[{ over = \"8 mm\", up_to = \"16 mm\", allowance = \"0.18 mm\" }, { over = \"16 mm\", up_to = \"30 mm\", allowance = \"0.12 mm\" }, { over = \"30 mm\", up_to = \"100 mm\", allowance = \"0.1 mm\" }]"
                "Common practice, no source."],
            "[{ over = \"8 mm\", up_to = \"100 mm\", allowance = \"0.12 mm\" }]", "Seats of bearing outsides, by diameter; the nearest range counts beyond the ends.";
        bearing_post: f64 = ALLOWANCE, [default "-0.05 mm" "Common practice, no source."], "-0.05 mm", "Post in a bearing bore.";
        ring_insert: f64 = ALLOWANCE, [default "0.25 mm" "Common practice, no source."], "0.25 mm", "Ring insert in its bore.";
        sun_socket: f64 = ALLOWANCE, [default "0.1 mm" "Slides on with light force (common practice, no source)."], "0.1 mm", "Toothed socket of the sun, and magnet cup on the shaft.";
        clearance_hole: f64 = ALLOWANCE, [default "0.2 mm" "Common practice, no source."], "0.2 mm", "Added to the clearance hole of ISO 273, medium.";
        pin_press: f64 = ALLOWANCE, [default "0.05 mm" "Reamed for a press fit (from memory)."], "0.05 mm", "Pressed pins.";
        pin_slip: f64 = ALLOWANCE, [default "0.15 mm" "From memory."], "0.15 mm", "Pins that slide in.";
        register: f64 = ALLOWANCE, [default "0.2 mm" "Common practice, no source."], "0.2 mm", "Housing and mount in the base.";
        running_radial: f64 = Takes::length(0.1, 5.0), [default "0.5 mm" "Common practice, no source."], "0.5 mm", "Turning against fixed, along the radius.";
        running_axial: f64 = Takes::length(0.1, 5.0), [default "0.8 mm" "Common practice, no source."], "0.8 mm", "Turning against fixed, along the axis.";
        hole_growth: f64 = Takes::length(0.0, 1.0), [default "0.2 mm" "Holes print 0.1 to 0.4 mm small (common practice, no source)."], "0.2 mm", "Added to upright holes that carry no fit: those of inserts.";
        hole_growth_by_size: Vec<FitRangeKeys> = Takes::Sections(FitRangeKeys::SECTION),
            [default "[]" "hole_growth for all."], "[{ over = \"2 mm\", up_to = \"5 mm\", allowance = \"0.25 mm\" }]",
            "The same by diameter, where it was measured; hole_growth elsewhere.";
        post_growth: f64 = Takes::length(-0.5, 0.5), [default "0 mm" "Not known before posts are printed."], "0.1 mm", "How far upright posts without a fit come out large; taken off them.";
        post_growth_by_size: Vec<FitRangeKeys> = Takes::Sections(FitRangeKeys::SECTION),
            [default "[]" "post_growth for all."], "[{ over = \"2 mm\", up_to = \"8 mm\", allowance = \"0.1 mm\" }]",
            "The same by diameter, where it was measured; post_growth elsewhere.";
        bridge: f64 = Takes::length(0.0, 100.0), [default "10 mm" "Common practice, no source."], "10 mm", "Longest bridge.";
        overhang: f64 = Takes::Quantity { kind: Kind::Angle, least: 0.0, most: PI / 2.0 }, [default "45 deg" "Common practice, no source."], "45 deg", "Steepest overhang, from the vertical.";
        elephant_foot: f64 = Takes::length(0.0, 1.0), [default "0.2 mm" "Common practice, no source: 0.1 to 0.3."], "0.2 mm", "How far the first layers bulge.";
        tooth_growth: f64 = Takes::length(-0.2, 0.3), [default "0 mm" "Not known before a gear pair is printed; the backlash allows for it."], "0.05 mm",
            "How far a printed tooth flank stands out of the drawing, along its normal; taken off printed teeth.";
        bed_chamfer: f64 = Takes::length(0.0, 2.0), [default "0.4 mm" "Hides the elephant foot (common practice, no source)."], "0.4 mm", "Chamfer on edges that lie on the bed.";
        speed: f64 = Takes::Quantity { kind: Kind::HeadSpeed, least: 1.0, most: 1000.0 }, [default "60 mm/s" "Strong parts print slowly (common practice, no source)."], "80 mm/s",
            "Mean speed along walls and infill.";
        flow_limit: f64 = Takes::Quantity { kind: Kind::VolumeFlow, least: 0.5, most: 100.0 }, [default "10 mm3/s" "A common hot end (common practice, no source)."], "12 mm3/s",
            "Most plastic the hot end melts.";
        least_layer_time: f64 = Takes::Quantity { kind: Kind::Time, least: 0.0, most: 120.0 }, [default "8 s" "Small layers must cool (common practice, no source)."], "8 s",
            "A layer isn't printed faster than this.";
        filament_diameter: f64 = Takes::length(1.0, 4.0), [default "1.75 mm" "The common size."], "1.75 mm", "Diameter of the filament.";
        filament_cost: Vec<FilamentCostKeys> = Takes::Sections(FilamentCostKeys::SECTION),
            [default "[]" "Not counted."], "[{ material = \"ASA\", per_kg = 28 }]", "Price of filament by material.";
        currency: String = Takes::Text, [optional "Not named."], "EUR", "Currency of every price in the design.";
        shrinkage: f64 = SHRINKAGE, [default "0" "None beyond the fits."], "0.003", "Share by which prints come out small, in all directions.";
        material_shrinkage: Vec<ShrinkageKeys> = Takes::Sections(ShrinkageKeys::SECTION),
            [default "[]" "shrinkage for all."], "[{ material = \"PA12\", shrinkage = 0.008 }]", "The same by material; shrinkage for the rest.";
    }
}

section! {
    "Shrinkage of one material."
    pub struct ShrinkageKeys {
        material: crate::tables::Material = Takes::Material, [required], "PA12", "As in `hubwright tables materials`.";
        shrinkage: f64 = SHRINKAGE, [required], "0.008", "Share by which its prints come out small.";
    }
}

section! {
    "An allowance for diameters over one size, up to and including another."
    pub struct FitRangeKeys {
        over: f64 = Takes::length(0.0, 1000.0), [required], "8 mm", "Diameters over this.";
        up_to: f64 = Takes::length(0.0, 1000.0), [required], "16 mm", "Up to and including this.";
        allowance: f64 = ALLOWANCE, [required], "0.18 mm", "Added to the diameter.";
    }
}

section! {
    "Price of one material's filament."
    pub struct FilamentCostKeys {
        material: crate::tables::Material = Takes::Material, [required], "ASA", "As in `hubwright tables materials`.";
        per_kg: f64 = Takes::Number { least: 0.0, most: 100_000.0 }, [required], "28", "Price of a kilogram.";
    }
}
