//! Tooth geometry of the planetary stage: sun, planets and ring, helical or straight.
//!
//! Conventions follow ISO 21771:2007 with one exception, stated here once: a ring's profile shift counts **outwards
//! positive**, like that of an external gear (ISO 21771 gives a ring negative teeth and the other sign). So a mesh without
//! extended centre distance has x1 + x2 = 0 between sun and planet, and x2 - x1 = 0 between planet and ring.
//!
//! Lengths mm, angles rad. Helix angles are positive for a right hand: seen from +z, the section turns
//! counter-clockwise as z grows. Diameters, thicknesses and outlines are those of the transverse section.

mod assembly; // tooth and planet counts that go together
mod fault; // what can be wrong with a stage, with the numbers that would do
mod fillet; // the rack's trochoid at the root of an external gear
mod gear; // one gear: circles, thickness, flank
mod involute; // the involute function and its inverse
mod limits; // inputs a stage can be computed from at all
mod pair; // two gears: centre distance, path of contact, interferences
mod phase; // how the gears of a stage are turned so that they mesh
mod play; // least and most backlash: printer, tolerances, centre distance, heat
mod profile; // the outline as lines and arcs
mod rack; // basic rack, and the tooth system it makes
mod ring_fillet; // the printed ring's root: an arc clear of the planets
mod shifts; // profile shifts that give both meshes one centre distance
mod sizing; // allowances, tips and fillets of the three gears
mod span; // measuring: span, pins, chord
mod stage; // the planetary stage

pub use assembly::PlanetSpacing;
pub use fault::{Member, StageFault};
pub use fillet::{CriticalSection, FilletPoint, Trochoid};
pub use gear::{Gear, GearKind, GearSpec, TipRelief};
pub use involute::{involute, involute_inverse};
pub use pair::{
    InternalInterferences, Margin, Mesh, MeshKind, Pair, circumferential_play, contact_ratio_of_tips,
};
pub use phase::PlanetPhase;
pub use play::{
    Cause, Growth, MeshPlay, PlayInput, RadialShift, ShiftCause, StagePlay, carrier_play, growth_change,
    linear_change, normal_play, play_at,
};
pub use profile::ProfileFault;
pub use rack::{Rack, ToothSystem};
pub use ring_fillet::RingFillet;
pub use span::{Chord, Span, chord, over_pins, usual_pin};
pub use stage::{LEAST_PLANET_GAP, Stage, StageInput};
