//! Test prints for the fits, the gear clearance and the limits of form of one design on its printer.
//!
//! ```text
//! Actuator --all--> Coupons --> STL, coupons.md, found.toml     found.toml --findings--> Found --profile--> printer file
//! ```
//!
//! Only what the design uses is printed: the bearings, pins, screws and inserts in it, at its module. Steps go from the
//! tightest, 1, to the loosest, around the profile's present value.

mod bridge; // bridges and leaning walls
mod coupon; // Coupon: pieces, marks, steps, places on the bed
pub mod findings; // found.toml, read and held against itself
mod found_keys; // the keys of found.toml
mod gauge; // a post to measure
mod gear_pair; // a gear and mates with ever thinner teeth
mod hole_plate; // bars of holes: pins, screws, inserts
mod known; // which coupon a table of found.toml means
mod marks; // numbers made of strokes
mod plan; // which coupons, of which sizes, in which steps
pub mod profile; // findings into a printer profile
mod ranges; // allowances by diameter, with what was found put in
mod ring_ladder; // seats and posts
pub mod sheet; // coupons.md
mod sun_socket; // toothed sockets
pub mod template; // found.toml, ready to be filled in
pub mod values; // how steps and sizes are written

pub use coupon::{Coupon, CouponError, CouponFault, Kind, Piece, Place};
pub use gauge::DIAMETER as GAUGE_DIAMETER;
pub use gear_pair::GearPair;
pub use marks::{DEPTH_IN_LAYERS as DIGIT_DEPTH_IN_LAYERS, Digit};

use rayon::prelude::*;

use crate::layout::Actuator;

/// All coupons of an actuator. Every one that fails is reported.
pub fn all(actuator: &Actuator) -> Result<Vec<Coupon>, Vec<CouponError>> {
    let made: Vec<Result<Coupon, CouponError>> = plan::plans(actuator)
        .into_par_iter()
        .map(|plan| {
            let name = plan.name.clone();
            plan.made(actuator).map_err(|fault| CouponError { coupon: name, source: fault.into() })
        })
        .collect();
    let (good, bad): (Vec<_>, Vec<_>) = made.into_iter().partition(Result::is_ok);
    if bad.is_empty() {
        Ok(good.into_iter().filter_map(Result::ok).collect())
    } else {
        Err(bad.into_iter().filter_map(Result::err).collect())
    }
}
