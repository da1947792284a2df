//! Links that carry each other, an actuator at the root of each: what the ones farther out ask of one nearer the body.
//!
//! All links lie in one upright plane in the posture of the heaviest hold, each at its own elevation over or under the
//! horizontal. With `m` a mass beyond the joint, `x` its horizontal and `r` its straight distance from the joint's axis:
//!
//! - held, axis level: `T = g sum(m x)`; axis upright: nothing on level ground, `T = g sin(lean) sum(m x)` on ground that
//!   leans, the arm across the slope
//! - swung alone, the joints beyond at rest: `J = sum(m r^2)` for a level axis and `sum(m x^2)` for an upright one, each
//!   link a slender rod about its middle besides; the swing as in [`link`](super::link)
//! - pulled at a far end by `F`, whichever way loads most: `F r`, upright `F x`
//!
//! The peak adds the three. Not covered: joints that swing at once and push each other, an actuator's inertia about its own
//! middle (some percent of what it has about the next joint), links out of the plane.

use super::link::Swing;
use super::{Demand, GRAVITY, Lasting, Link};

/// Which way a joint's axis stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// At right angles to the plane of the links.
    Level,
    /// In that plane: what is on it turns round it.
    Upright,
}

/// A joint of the chain with its link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Member {
    /// The joint that carries it; none: the body does.
    pub on: Option<usize>,
    /// Distance from that joint's axis along its link \[mm\]; none: the link's far end.
    pub at: Option<f64>,
    /// How many the robot has: the carrying joint has its share of them.
    pub count: u32,
    pub axis: Axis,
    /// None: it moves nothing of its own but what it carries.
    pub link: Option<Link>,
    /// Pulls at the link's far end \[N\].
    pub force: f64,
}

/// All that a joint moves, about its axis.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moved {
    /// \[kg\]
    pub mass: f64,
    /// Mass times horizontal distance \[kg m\].
    pub moment: f64,
    /// \[kg m2\]
    pub inertia: f64,
    /// Forces times distance \[N m\].
    pub pull: f64,
    /// Horizontal distance of the farthest thing on it \[mm\].
    pub reach: f64,
}

/// Where something is, seen from the joint \[m\].
#[derive(Clone, Copy)]
struct Spot {
    across: f64,
    up: f64,
}

impl Spot {
    /// A point farther along a link \[mm\].
    fn along(self, link: &Link, distance: f64) -> Spot {
        let distance = distance * 1e-3;
        Spot {
            across: self.across + distance * libm::cos(link.elevation),
            up: self.up + distance * libm::sin(link.elevation),
        }
    }
}

/// Axis and link's far end of each joint in the posture, across and up from where the body carries it \[mm\]. The members
/// carry each other without a circle.
pub fn posture(members: &[Member]) -> Vec<[[f64; 2]; 2]> {
    let root = |joint: usize| {
        let mut spot = Spot { across: 0.0, up: 0.0 };
        let mut at = members.get(joint);
        while let Some(member) = at
            && let Some(carrier) = member.on.and_then(|on| members.get(on))
        {
            if let Some(link) = &carrier.link {
                spot = spot.along(link, member.at.unwrap_or(link.length));
            }
            at = Some(carrier);
        }
        spot
    };
    let place = |spot: Spot| [spot.across * 1e3, spot.up * 1e3];
    (0..members.len())
        .map(|joint| {
            let near = root(joint);
            let far = members[joint].link.as_ref().map_or(near, |link| near.along(link, link.length));
            [place(near), place(far)]
        })
        .collect()
}

impl Moved {
    /// Everything beyond `joint`; `actuators` are the masses of single actuators by joint \[kg\]. The members carry each
    /// other without a circle.
    pub fn by(members: &[Member], joint: usize, actuators: &[f64]) -> Moved {
        let mut moved = Moved::default();
        let Some(own) = members.get(joint) else { return moved };
        moved.add(members, joint, actuators, own.axis, Spot { across: 0.0, up: 0.0 }, 1.0);
        moved
    }

    /// A joint's link and what it carries; `times` as often.
    fn add(
        &mut self,
        members: &[Member],
        joint: usize,
        actuators: &[f64],
        axis: Axis,
        root: Spot,
        times: f64,
    ) {
        let Some(member) = members.get(joint) else { return };
        let mut far = root;
        if let Some(link) = &member.link {
            far = root.along(link, link.length);
            let length = link.length * 1e-3;
            let seen = match axis {
                Axis::Level => length,
                Axis::Upright => length * libm::cos(link.elevation),
            };
            self.inertia += times * link.mass * seen * seen / 12.0;
            self.put(times * link.mass, axis, root.along(link, link.centre));
            self.put(times * link.payload, axis, far);
        }
        self.pull += times * member.force * distance(axis, far);
        for (index, carried) in members.iter().enumerate().filter(|(_, other)| other.on == Some(joint)) {
            let each = times * f64::from(carried.count) / f64::from(member.count.max(1));
            let place = match (carried.at, &member.link) {
                (Some(at), Some(link)) => root.along(link, at),
                _ => far,
            };
            self.put(each * actuators.get(index).copied().unwrap_or(0.0), axis, place);
            self.add(members, index, actuators, axis, place, each);
        }
    }

    fn put(&mut self, mass: f64, axis: Axis, place: Spot) {
        self.mass += mass;
        self.moment += mass * place.across;
        self.inertia += mass * distance(axis, place) * distance(axis, place);
        self.reach = f64::max(self.reach, place.across * 1e3);
    }

    /// What the joint must do, its own link's swing and holding given.
    pub fn demand(&self, axis: Axis, swing: Option<Swing>, held: Lasting, lean: f64) -> Demand {
        let hold = GRAVITY
            * self.moment
            * match axis {
                Axis::Level => 1.0,
                Axis::Upright => libm::sin(lean),
            };
        let peak = swing.map_or(0.0, |swing| swing.peak_torque(self.inertia));
        let mean = swing.map_or(0.0, |swing| swing.mean_torque(self.inertia));
        Demand {
            by: "chain",
            peak_torque: hold + peak + self.pull,
            continuous_torque: (held == Lasting::Hours).then(|| (hold * hold + mean * mean).sqrt()),
            speed: swing.map(|swing| swing.speed()),
        }
    }
}

/// From the axis \[m\].
fn distance(axis: Axis, place: Spot) -> f64 {
    match axis {
        Axis::Level => (place.across * place.across + place.up * place.up).sqrt(),
        Axis::Upright => place.across.abs(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn link(mass: f64, length: f64, payload: f64) -> Link {
        Link {
            mass,
            length,
            centre: length / 2.0,
            payload,
            elevation: 0.0,
            swing: None,
            held: Lasting::Hours,
        }
    }

    fn member(on: Option<usize>, link: Option<Link>) -> Member {
        Member { on, at: None, count: 1, axis: Axis::Level, link, force: 0.0 }
    }

    /// Shoulder with 300 mm and 0.6 kg, on its end an elbow of 0.9 kg with 200 mm, 0.3 kg and 1 kg in the hand.
    fn arm() -> Vec<Member> {
        vec![member(None, Some(link(0.6, 300.0, 0.0))), member(Some(0), Some(link(0.3, 200.0, 1.0)))]
    }

    /// Levers by hand: 0.6 x 0.15 + 0.9 x 0.3 + 0.3 x 0.4 + 1 x 0.5 = 0.98 kg m.
    #[test]
    fn the_outer_actuator_hangs_on_the_inner_joint() {
        let moved = Moved::by(&arm(), 0, &[5.0, 0.9]);
        assert!((moved.moment - 0.98).abs() < 1e-12, "{moved:?}");
        assert!((moved.mass - 2.8).abs() < 1e-12);
        // Its own actuator doesn't; rods about their ends as in any handbook, points by their distance.
        let inertia = 0.6 * 0.09 / 3.0 + 0.9 * 0.09 + 0.3 * (0.04 / 12.0 + 0.16) + 0.25;
        assert!((moved.inertia - inertia).abs() < 1e-12);
        let demand = moved.demand(Axis::Level, None, Lasting::Hours, 0.0);
        assert!((demand.peak_torque - 0.98 * GRAVITY).abs() < 1e-12);
    }

    /// One link alone is what [`Link`] says of it.
    #[test]
    fn one_link_is_a_link() {
        let alone =
            Link { elevation: 0.4, swing: Some(Swing { angle: 1.2, time: 0.6 }), ..link(1.2, 400.0, 0.5) };
        let moved = Moved::by(&[member(None, Some(alone))], 0, &[]);
        let (chain, link) = (moved.demand(Axis::Level, alone.swing, alone.held, 0.0), alone.demand());
        assert!((chain.peak_torque - link.peak_torque).abs() < 1e-9);
        assert!(
            (chain.continuous_torque.expect("hours") - link.continuous_torque.expect("hours")).abs() < 1e-9
        );
        assert_eq!(chain.speed, link.speed);
    }

    /// A forearm that hangs straight down lies below the elbow, not beyond it.
    #[test]
    fn posture_shortens_the_lever() {
        let mut arm = arm();
        arm[1].link = Some(Link { elevation: -std::f64::consts::FRAC_PI_2, ..link(0.3, 200.0, 1.0) });
        let moved = Moved::by(&arm, 0, &[0.0, 0.9]);
        assert!((moved.moment - (0.09 + 0.27 + 1.3 * 0.3)).abs() < 1e-12, "{moved:?}");
        // The hand is at 300 mm across and 200 mm below: 0.13 m2.
        let inertia = 0.6 * 0.09 / 3.0 + 0.9 * 0.09 + 0.3 * (0.04 / 12.0 + 0.1) + 0.13;
        assert!((moved.inertia - inertia).abs() < 1e-12);
    }

    #[test]
    fn posture_adds_up_along_the_chain() {
        let mut arm = arm();
        arm[0].link = Some(Link { elevation: std::f64::consts::FRAC_PI_6, ..link(0.6, 300.0, 0.0) });
        let [near, far] = posture(&arm)[1];
        assert!(
            (near[0] - 300.0 * 0.75_f64.sqrt()).abs() < 1e-9 && (near[1] - 150.0).abs() < 1e-9,
            "{near:?}"
        );
        assert!((far[0] - near[0] - 200.0).abs() < 1e-9 && (far[1] - 150.0).abs() < 1e-9);
    }

    #[test]
    fn an_upright_axis_carries_no_weight_until_it_leans() {
        let mut arm = arm();
        arm[0].axis = Axis::Upright;
        let moved = Moved::by(&arm, 0, &[0.0, 0.9]);
        let on = |lean| moved.demand(Axis::Upright, None, Lasting::Hours, lean).peak_torque;
        assert_eq!(on(0.0), 0.0);
        assert!((on(std::f64::consts::FRAC_PI_6) - 0.5 * 0.98 * GRAVITY).abs() < 1e-12);
    }

    /// Two arms on one body joint weigh twice; a pull of 20 N at 500 mm is 10 N m.
    #[test]
    fn counts_and_forces() {
        let mut arm = arm();
        let once = Moved::by(&arm, 0, &[0.0, 0.9]);
        arm[1].force = 20.0;
        let pulled = Moved::by(&arm, 0, &[0.0, 0.9]);
        assert!((pulled.pull - 10.0).abs() < 1e-12);
        arm[1].count = 2;
        let twice = Moved::by(&arm, 0, &[0.0, 0.9]);
        assert!((twice.moment - once.moment - (0.27 + 0.12 + 0.5)).abs() < 1e-12);
        assert!((twice.pull - 20.0).abs() < 1e-12);
    }
}
