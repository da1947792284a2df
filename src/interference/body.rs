//! Every body of the actuator where it stands: printed ones as drawn, and bought ones.

use rayon::prelude::*;

use super::Unmet;
use crate::bom::Kind;
use crate::bought::{self, Bought};
use crate::design::{Joint, PartName};
use crate::geometry::{Bounds, Loop, Pick, Point, Region, Section, ShapeError, Slab, SlabLoop, Stack, Wall};
use crate::layout::Actuator;
use crate::parts::{self, Motion, Part, Place};

/// What a body is, as far as its neighbours care.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    Printed(PartName),
    Screw(Joint),
    Insert(Joint),
    Stator,
    Rotor,
    Magnet,
    Board,
    Pin,
    OutputInnerRing,
    OutputOuterRing,
    PlanetInnerRing,
    PlanetOuterRing,
    Bush,
}

/// One body at one place.
#[derive(Clone, Debug)]
pub struct Body {
    /// As in the assembly's tree; copies share it.
    pub name: String,
    pub copy: usize,
    pub role: Role,
    pub motion: Motion,
    /// Which planet's pin it stands on; none for the rest.
    pub pin: Option<usize>,
    pub place: Place,
    pub stack: Stack,
    pub layers: Vec<Layer>,
    pub bounds: Bounds,
}

/// One slab, placed.
#[derive(Clone, Debug)]
pub struct Layer {
    pub z: [f64; 2],
    pub bounds: Bounds,
    /// Sections at its lower and upper end; one for straight walls.
    low: Section,
    high: Option<Section>,
    /// All that it covers at any height; none for straight walls and for teeth.
    silhouette: Option<Section>,
    /// Of each loop, over the whole height.
    loops: Vec<Extent>,
    /// Distances of the material from the axis, over the whole height.
    radius: [f64; 2],
    /// Turn of its twisted walls \[rad/mm\].
    pub twist: Option<f64>,
}

/// Box and radii from the axis that a loop keeps within, and whether it goes straight up.
#[derive(Clone, Copy, Debug)]
struct Extent {
    bounds: Bounds,
    radius: [f64; 2],
    /// Centre and radius of the circle that teeth off the axis keep out of.
    root: Option<(Point, f64)>,
    straight: bool,
}

impl Layer {
    pub fn straight(&self) -> bool {
        self.high.is_none()
    }

    /// All walls within reach of the other layer go straight up.
    pub fn straight_near(&self, other: &Layer, reach: f64) -> bool {
        self.straight() || self.loops.iter().all(|one| one.straight || !other.reaches(one, reach))
    }

    /// Whether a loop is near this layer: not so when it runs, with all it encloses, where this layer has nothing.
    fn reaches(&self, other: &Extent, reach: f64) -> bool {
        let [least, most] = self.radius;
        other.bounds.gap_to(self.bounds) <= reach
            && other.radius[1] >= least - reach
            && other.radius[0] <= most + reach
            && !other.root.is_some_and(|(centre, radius)| self.keeps_within(centre, radius - reach))
    }

    /// Whether all of it surely lies in a circle.
    fn keeps_within(&self, centre: Point, radius: f64) -> bool {
        [&self.low, self.high()]
            .into_iter()
            .all(|section| section.hull().is_some_and(|(own, reach)| own.distance(centre) + reach <= radius))
    }

    /// Distances of the material from the axis, over the whole height; of teeth off the axis, of the circle they turn in.
    pub fn radius(&self) -> [f64; 2] {
        self.radius
    }

    /// Of each loop's boundary.
    pub fn loop_radii(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        self.loops.iter().map(|one| one.radius)
    }

    /// Whether the two are farther apart than `reach` by their radii from the axis alone.
    pub fn is_clear_of(&self, other: &Layer, reach: f64) -> bool {
        self.radius[1] + reach < other.radius[0] || other.radius[1] + reach < self.radius[0]
    }

    /// As [`Section::nested`], at all heights.
    pub fn nested(&self, other: &Layer, width: f64) -> bool {
        self.radius[1] - width <= other.radius[0] || other.radius[1] - width <= self.radius[0]
    }

    pub fn low(&self) -> &Section {
        &self.low
    }

    /// All that it covers at any height; none for teeth.
    pub fn silhouette(&self) -> Option<&Section> {
        if self.straight() { Some(&self.low) } else { self.silhouette.as_ref() }
    }

    pub fn high(&self) -> &Section {
        self.high.as_ref().unwrap_or(&self.low)
    }
}

impl Body {
    fn of(
        (name, role, motion): (&str, Role, Motion),
        (copy, place): (usize, Place),
        on_pin: bool,
        stack: &Stack,
    ) -> Result<Body, ShapeError> {
        let centre = Point::polar(place.distance, place.angle);
        let placed = |region: Region| {
            let turned = if place.turn == 0.0 { region } else { region.rotated(place.turn) };
            Section::of(if place.distance == 0.0 { turned } else { turned.translated(centre) })
        };
        let mut layers = Vec::with_capacity(stack.slabs.len());
        for slab in &stack.slabs {
            let straight = slab.loops.iter().all(|one| one.wall == Wall::Straight);
            let low = placed(slab.region_at(slab.z[0])?);
            let high = if straight { None } else { Some(placed(slab.region_at(slab.z[1])?)) };
            let twist = slab.loops.iter().find_map(|one| match one.wall {
                Wall::Twisted { per_mm } => Some(per_mm),
                _ => None,
            });
            let mut bounds = high.as_ref().map_or(low.bounds, |high| low.bounds.merged(high.bounds));
            if twist.is_some() {
                // Between its ends a tip may stand farther out: the circle round all.
                let reach = greatest_reach(slab);
                let corner = Point::new(reach, reach);
                bounds = bounds.merged(Bounds::of(centre - corner, centre + corner));
            }
            let loops = extents(slab, centre, [&low, high.as_ref().unwrap_or(&low)], bounds);
            let most = loops.iter().map(|one| one.radius[1]).fold(0.0, f64::max);
            let ends = low.least_radius().min(high.as_ref().map_or(f64::INFINITY, Section::least_radius));
            let least = match twist {
                Some(_) if place.distance > 0.0 => ends.min((place.distance - greatest_reach(slab)).max(0.0)),
                _ => ends,
            };
            let radius = [least, most];
            let silhouette = (high.is_some() && twist.is_none()).then(|| placed(silhouette(slab)));
            layers.push(Layer { z: slab.z, bounds, low, high, silhouette, loops, radius, twist });
        }
        let bounds = layers.iter().fold(Bounds::EMPTY, |sum, layer| sum.merged(layer.bounds));
        Ok(Body {
            name: name.to_string(),
            copy,
            role,
            motion,
            pin: on_pin.then_some(copy),
            place,
            stack: stack.clone(),
            layers,
            bounds,
        })
    }

    pub fn z(&self) -> [f64; 2] {
        self.stack.z_range()
    }

    /// Section of a layer at a height between its ends, without the loops that run where `other` has nothing.
    ///
    /// # Errors
    /// A tapered wall that can't be cut there.
    pub fn section_near(
        &self,
        layer: usize,
        z: f64,
        other: &Layer,
        reach: f64,
    ) -> Result<Section, ShapeError> {
        let (Some(slab), Some(own)) = (self.stack.slabs.get(layer), self.layers.get(layer)) else {
            return Ok(Section::of(Default::default()));
        };
        // A loop that encloses the other must stay, however far out it runs.
        let matters = |extent: &Extent| {
            extent.bounds.gap_to(other.bounds) <= reach && extent.radius[1] >= other.radius[0] - reach
        };
        let near = slab.loops.iter().zip(&own.loops).enumerate().filter(|(_, (_, extent))| matters(extent));
        let picks: Vec<Pick> = near
            .map(|(index, (one, extent))| match one.wall {
                Wall::Straight => Ok(Pick::Own(index)),
                // All round the other, and out of reach at every height: any will do.
                _ if !other.reaches(extent, reach) => Ok(Pick::Own(index)),
                _ => Ok(Pick::Other(self.placed(slab.loop_at(one, z)?))),
            })
            .collect::<Result<_, ShapeError>>()?;
        Ok(own.low.picked(picks.into_iter()))
    }

    /// An outline of its own frame where the body stands.
    fn placed(&self, one: Loop) -> Loop {
        let turned = if self.place.turn == 0.0 { one } else { one.rotated(self.place.turn) };
        if self.place.distance == 0.0 {
            turned
        } else {
            turned.translated(Point::polar(self.place.distance, self.place.angle))
        }
    }

    /// What a meeting is called: the name, with the copy's number where there are several of them to tell apart.
    pub fn label(&self) -> String {
        if self.place.distance > 0.0 { format!("{} {}", self.name, self.copy + 1) } else { self.name.clone() }
    }
}

/// Each outline where it is widest and each hole where it is narrowest: a tapered wall leans one way.
fn silhouette(slab: &Slab) -> Region {
    let covers_more = |one: &SlabLoop| {
        // A hole's area is negative: the narrower one is the greater.
        if one.bottom.signed_area() >= one.top.signed_area() { one.bottom.clone() } else { one.top.clone() }
    };
    Region { loops: slab.loops.iter().map(covers_more).collect() }
}

/// From the slab's own axis.
fn greatest_reach(slab: &Slab) -> f64 {
    slab.loops.iter().map(|one| one.bottom.max_radius(Point::ORIGIN)).fold(0.0, f64::max)
}

/// What each loop of a slab about `centre` keeps within; a twisted one within the whole layer's bounds.
fn extents(slab: &Slab, centre: Point, [low, high]: [&Section; 2], bounds: Bounds) -> Vec<Extent> {
    let distance = centre.norm();
    let placed = low.loop_extents().zip(high.loop_extents());
    slab.loops
        .iter()
        .zip(placed)
        .map(|(one, ((low, inner), (high, outer)))| Extent {
            bounds: if matches!(one.wall, Wall::Twisted { .. }) { bounds } else { low.merged(high) },
            radius: match one.wall {
                // Off the axis, as far as it comes round between the ends.
                Wall::Twisted { .. } if distance > 0.0 => {
                    let reach = one.bottom.max_radius(Point::ORIGIN);
                    [(distance - reach).max(0.0), distance + reach]
                }
                _ => [inner[0].min(outer[0]), inner[1].max(outer[1])],
            },
            root: match one.wall {
                Wall::Twisted { .. } if distance > 0.0 => {
                    Some((centre, one.bottom.min_radius(Point::ORIGIN)))
                }
                _ => None,
            },
            straight: one.wall == Wall::Straight,
        })
        .collect()
}

/// All bodies of an actuator, printed ones as drawn.
///
/// # Errors
/// Bodies that have no shape.
pub fn bodies(actuator: &Actuator) -> Result<Vec<Body>, Unmet> {
    let nominal = actuator.nominal();
    let (printed, bought) = rayon::join(|| parts::all(&nominal), || bought::all(&nominal));
    place_all(&nominal, &printed?, &bought?)
}

/// Given parts and bought bodies at their places.
///
/// # Errors
/// A section that can't be formed.
pub fn place_all(actuator: &Actuator, printed: &[Part], bought: &[Bought]) -> Result<Vec<Body>, Unmet> {
    let made: Vec<Vec<Body>> = printed
        .par_iter()
        .map(|part| {
            let head = (part.name.as_str(), Role::Printed(part.name), part.motion);
            let on_pin = part.on_pin();
            let places = if on_pin {
                planets(actuator, part.motion)
            } else {
                vec![Place { distance: 0.0, angle: 0.0, turn: 0.0 }]
            };
            places
                .into_iter()
                .enumerate()
                .map(|copy| Body::of(head, copy, on_pin, &part.stack))
                .collect::<Result<Vec<Body>, _>>()
        })
        .collect::<Result<_, _>>()?;
    let purchased: Vec<Vec<Body>> = bought
        .par_iter()
        .map(|one| {
            let Some(role) = role(one) else { return Ok(Vec::new()) };
            let on_pin = matches!(
                role,
                Role::Pin
                    | Role::PlanetInnerRing
                    | Role::PlanetOuterRing
                    | Role::Bush
                    | Role::Printed(PartName::Planet)
            );
            let head = (one.name.as_str(), role, one.motion);
            one.places
                .iter()
                .enumerate()
                .map(|(copy, place)| Body::of(head, (copy, *place), on_pin, &one.stack))
                .collect::<Result<Vec<Body>, _>>()
        })
        .collect::<Result<_, ShapeError>>()?;
    Ok(made.into_iter().chain(purchased).flatten().collect())
}

/// Where what stands on the pins is.
fn planets(actuator: &Actuator, motion: Motion) -> Vec<Place> {
    (0..actuator.stage.planets)
        .map(|index| {
            let phase = actuator.stage.planet_phase(index);
            // Only a toothed body cares how it is turned about its own axis.
            let turn = if motion == Motion::Planet { phase.turn } else { 0.0 };
            Place { distance: actuator.stage.centre_distance, angle: phase.position, turn }
        })
        .collect()
}

fn role(bought: &Bought) -> Option<Role> {
    let planet = bought.name.starts_with("planet");
    Some(match (bought.kind, bought.joint, bought.motion) {
        (Kind::Fastener, Some(joint), _) => Role::Screw(joint),
        (Kind::Insert, Some(joint), _) => Role::Insert(joint),
        (Kind::Motor, _, Motion::Fixed) => Role::Stator,
        (Kind::Motor, ..) => Role::Rotor,
        (Kind::Magnet, ..) => Role::Magnet,
        (Kind::Controller, ..) => Role::Board,
        (Kind::Pin, ..) => Role::Pin,
        (Kind::Gear, _, Motion::Planet) => Role::Printed(PartName::Planet),
        (Kind::Gear, ..) => Role::Printed(PartName::Sun),
        (Kind::Bearing, _, Motion::Planet) if bought.name == "planet bush" => Role::Bush,
        (Kind::Bearing, _, Motion::Planet) => Role::PlanetOuterRing,
        (Kind::Bearing, _, Motion::Carrier) if planet => Role::PlanetInnerRing,
        (Kind::Bearing, _, Motion::Carrier) => Role::OutputInnerRing,
        (Kind::Bearing, ..) => Role::OutputOuterRing,
        _ => return None,
    })
}
