//! The keys of `found.toml`: a list of tables a kind of coupon.

use crate::design::key::Takes;
use crate::design::section::section;
use crate::quantity::Kind as Unit;
use crate::tables::Thread;

/// Steps in a found file: allowances and growths.
const fn allowances(count: usize) -> Takes {
    Takes::Quantities { count, kind: Unit::Length, least: -2.0, most: 2.5 }
}

const fn step(most: u32) -> Takes {
    Takes::Count { least: 1, most }
}

/// Sizes of what goes in.
const SIZE: Takes = Takes::length(0.5, 1000.0);

section! {
    "What was found at a design's coupons. A table for each; what wasn't tried is left out."
    pub struct FoundKeys {
        seat: Vec<SeatFound> = Takes::Sections(SeatFound::SECTION), [default "[]" "Not tried."], "", "Seats of bearings.";
        post: Vec<PostFound> = Takes::Sections(PostFound::SECTION), [default "[]" "Not tried."], "", "Posts in bearings.";
        pin: Vec<PinFound> = Takes::Sections(PinFound::SECTION), [default "[]" "Not tried."], "", "Holes of pins.";
        clearance: Vec<ClearanceFound> = Takes::Sections(ClearanceFound::SECTION), [default "[]" "Not tried."], "", "Holes of screws.";
        insert: Vec<InsertFound> = Takes::Sections(InsertFound::SECTION), [default "[]" "Not tried."], "", "Pockets of inserts.";
        ring_bore: Vec<RingBoreFound> = Takes::Sections(RingBoreFound::SECTION), [default "[]" "Not tried."], "", "Bores of the ring insert.";
        sun_socket: Vec<SunSocketFound> = Takes::Sections(SunSocketFound::SECTION), [default "[]" "Not tried."], "", "Sockets of the sun.";
        gear_pair: Vec<GearPairFound> = Takes::Sections(GearPairFound::SECTION), [default "[]" "Not tried."], "", "Mates of the gear pair.";
        bridge: Vec<BridgeFound> = Takes::Sections(BridgeFound::SECTION), [default "[]" "Not tried."], "", "Bridges.";
        overhang: Vec<OverhangFound> = Takes::Sections(OverhangFound::SECTION), [default "[]" "Not tried."], "", "Leaning walls.";
        gauge: Vec<GaugeFound> = Takes::Sections(GaugeFound::SECTION), [default "[]" "Not tried."], "", "The post that is measured.";
    }
}

section! {
    "Rings that a bearing goes into."
    pub struct SeatFound {
        outside: f64 = SIZE, [required], "65 mm", "The bearing's outside diameter.";
        allowances: [f64; 6] = allowances(6), [required], "[\"0 mm\", \"0.05 mm\", \"0.1 mm\", \"0.15 mm\", \"0.2 mm\", \"0.25 mm\"]", "Of steps 1 to 6, as printed: leave them.";
        by_hand: u32 = step(6), [optional "Not tried."], "3", "Tightest step that it goes into by hand.";
        loose: u32 = step(6), [optional "None was loose."], "5", "Tightest step that it falls out of.";
    }
}

section! {
    "Posts that go into a bearing's bore."
    pub struct PostFound {
        bore: f64 = SIZE, [required], "50 mm", "The bearing's bore.";
        allowances: [f64; 6] = allowances(6), [required], "[\"0.05 mm\", \"0 mm\", \"-0.05 mm\", \"-0.1 mm\", \"-0.15 mm\", \"-0.2 mm\"]", "Of steps 1 to 6, as printed: leave them.";
        by_hand: u32 = step(6), [optional "Not tried."], "3", "Tightest step that the bearing goes onto by hand.";
        loose: u32 = step(6), [optional "None was loose."], "5", "Tightest step on which the bearing rocks.";
    }
}

section! {
    "Holes of dowel pins."
    pub struct PinFound {
        diameter: f64 = SIZE, [required], "8 mm", "The pin's diameter.";
        allowances: [f64; 8] = allowances(8), [required], "[\"-0.05 mm\", \"0 mm\", \"0.05 mm\", \"0.1 mm\", \"0.15 mm\", \"0.2 mm\", \"0.25 mm\", \"0.3 mm\"]", "Of holes 1 to 8, as printed: leave them.";
        press: u32 = step(8), [optional "Not tried."], "3", "Tightest hole that it can be pressed into and then holds.";
        slip: u32 = step(8), [optional "Not tried."], "5", "Tightest hole that it slides through.";
    }
}

section! {
    "Clearance holes."
    pub struct ClearanceFound {
        thread: Thread = Takes::Thread, [required], "M3", "The screw.";
        allowances: [f64; 5] = allowances(5), [required], "[\"0 mm\", \"0.1 mm\", \"0.2 mm\", \"0.3 mm\", \"0.4 mm\"]", "Of holes 1 to 5, as printed: leave them.";
        free: u32 = step(5), [optional "Not tried."], "3", "Tightest hole that the screw drops through.";
    }
}

section! {
    "Pockets of heat-set inserts."
    pub struct InsertFound {
        thread: Thread = Takes::Thread, [required], "M3", "The insert's thread.";
        hole: f64 = SIZE, [required], "4 mm", "The pocket that is wanted, as in `hubwright tables inserts`: leave it.";
        growths: [f64; 4] = allowances(4), [required], "[\"0.1 mm\", \"0.2 mm\", \"0.3 mm\", \"0.4 mm\"]", "Added to it at pockets 1 to 4, as printed: leave them.";
        holds: u32 = step(4), [optional "Not tried."], "2", "Pocket in which the insert sits straight, flush and without a bulge.";
        measured: f64 = SIZE, [optional "Not measured."], "3.9 mm", "In place of that: what pocket 1 measures, empty.";
    }
}

section! {
    "Bores of the ring insert."
    pub struct RingBoreFound {
        diameter: f64 = SIZE, [required], "90 mm", "The ring's outside.";
        allowances: [f64; 3] = allowances(3), [required], "[\"0.15 mm\", \"0.25 mm\", \"0.35 mm\"]", "Of rings 1 to 3, as printed: leave them.";
        by_hand: u32 = step(3), [optional "Not tried."], "2", "Tightest ring that the gauge goes into by hand.";
    }
}

section! {
    "Toothed sockets of the sun."
    pub struct SunSocketFound {
        allowances: [f64; 4] = allowances(4), [required], "[\"0.05 mm\", \"0.1 mm\", \"0.15 mm\", \"0.2 mm\"]", "Of sockets 1 to 4, as printed: leave them.";
        light_force: u32 = step(4), [optional "Not tried."], "2", "Tightest socket that the sun slides into with light force.";
    }
}

section! {
    "Mates of the gear pair."
    pub struct GearPairFound {
        growths: [f64; 5] = allowances(5), [required], "[\"-0.025 mm\", \"0 mm\", \"0.025 mm\", \"0.05 mm\", \"0.075 mm\"]", "Of mates 1 to 5, as printed: leave them.";
        runs: u32 = step(5), [optional "Not tried."], "3", "Tightest mate that runs freely all the way round.";
    }
}

section! {
    "Bridges."
    pub struct BridgeFound {
        spans: [f64; 4] = Takes::Quantities { count: 4, kind: Unit::Length, least: 0.0, most: 200.0 }, [required], "[\"4 mm\", \"6 mm\", \"8 mm\", \"10 mm\"]", "Of bridges 1 to 4, as printed: leave them.";
        clean: f64 = Takes::length(0.0, 200.0), [optional "Not looked at."], "10 mm", "Longest bridge without a hanging line.";
    }
}

section! {
    "Leaning walls."
    pub struct OverhangFound {
        angles: [f64; 4] = Takes::Quantities { count: 4, kind: Unit::Angle, least: 0.0, most: std::f64::consts::FRAC_PI_2 }, [required], "[\"32 deg\", \"36 deg\", \"41 deg\", \"45 deg\"]", "Of walls 1 to 4, as printed: leave them.";
        clean: f64 = Takes::Quantity { kind: Unit::Angle, least: 0.0, most: std::f64::consts::FRAC_PI_2 }, [optional "Not looked at."], "45 deg", "Steepest lean whose underside is clean.";
    }
}

section! {
    "The post that is measured."
    pub struct GaugeFound {
        drawn: f64 = SIZE, [required], "20 mm", "Its diameter as drawn: leave it.";
        at_top: f64 = SIZE, [optional "Not measured."], "20.1 mm", "Measured across, a few millimetres up.";
        at_bed: f64 = SIZE, [optional "Not measured."], "20.4 mm", "Measured across, at the very bottom.";
    }
}
