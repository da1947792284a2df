//! Least and most backlash of a stage's meshes and of its output, from all that departs from the drawing.
//!
//! Every cause departs between two ends. Its effect on a mesh's circumferential play j at the working pitch circle is
//! `dj = -(ds1 + ds2) cos at / cos aw + 2 tan aw dr + dc`: tooth thickness at the reference circles, radial opening of the
//! mesh, growth of tooth and space. The worst case adds every cause at its bad end and then takes the play exactly, from
//! the thicknesses on the new pitch circles; the statistical range is the root sum of squares about the mean of the ends.
//!
//! How a print differs from its drawing:
//! - **fat** flanks (too much plastic, by `f` a flank along its normal) thicken the teeth of every printed gear, by
//!   `2 f / (cos bb cos at)`: sun and planet, planet and ring lose play alike, twice `f` for each printed gear;
//! - **growth** (a scale error, or heat) moves every point away from its gear's axis. With the centre distance unchanged
//!   sun and planet grow towards each other and the mesh closes twice over; planet and ring grow the same way, and their
//!   mesh closes by the planet and opens by the ring. Where everything grows alike the play only scales.
//!
//! Play below zero binds. A shift's direction turns with the carrier: each is taken at the planet where it is worst.
//! Not covered: pitch and profile deviations, bending under load, swelling of nylon.

use super::gear::{Gear, GearKind};
use super::pair::{MeshKind, circumferential_play};
use super::stage::Stage;

/// Relative growth of the four bodies between two ends (cold and hot; smallest and largest print).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Growth {
    pub sun: [f64; 2],
    pub planet: [f64; 2],
    pub ring: [f64; 2],
    /// Sets the centre distance.
    pub carrier: [f64; 2],
}

impl Growth {
    /// From expansions \[1/K\] of sun, planet, ring and carrier, and how much each is warmer \[K\] at the two ends than when
    /// it was put together.
    pub fn of_heat(expansions: [f64; 4], warmer: [[f64; 2]; 4]) -> Growth {
        let grown = |index: usize| warmer[index].map(|kelvin| kelvin * expansions[index]);
        Growth { sun: grown(0), planet: grown(1), ring: grown(2), carrier: grown(3) }
    }
}

/// What moves an axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShiftCause {
    MountRegister,
    HousingRegister,
    SunRunout,
    OutputBearingSeat,
    OutputBearingPlay,
    RingInsertFit,
    RingRunout,
    PinHoles,
    PlanetBearingPlay,
    PlanetRunout,
}

impl ShiftCause {
    pub const fn name(self) -> &'static str {
        match self {
            ShiftCause::MountRegister => "clearance of the stator mount in the base",
            ShiftCause::HousingRegister => "clearance of the housing in the base",
            ShiftCause::SunRunout => "runout of the sun",
            ShiftCause::OutputBearingSeat => "fit of the output bearing",
            ShiftCause::OutputBearingPlay => "clearance of the output bearing",
            ShiftCause::RingInsertFit => "fit of the ring insert",
            ShiftCause::RingRunout => "runout of the ring",
            ShiftCause::PinHoles => "place of the pin holes",
            ShiftCause::PlanetBearingPlay => "clearance of the planet bearings",
            ShiftCause::PlanetRunout => "runout of the planets",
        }
    }

    /// Whether it moves the mesh with the sun, with the ring.
    const fn meshes(self) -> [bool; 2] {
        match self {
            ShiftCause::MountRegister | ShiftCause::HousingRegister | ShiftCause::SunRunout => [true, false],
            ShiftCause::RingInsertFit | ShiftCause::RingRunout => [false, true],
            _ => [true, true],
        }
    }
}

/// A radial shift either way \[mm\]: half of a diametral clearance, half of a runout.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RadialShift {
    pub cause: ShiftCause,
    pub amount: f64,
}

/// All that departs from the drawing; lengths mm, sun, planet, ring in this order, each between two ends.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlayInput<'a> {
    /// How far a flank stands out along its normal, of each gear; 0 for a bought one. One printer: all at the same end.
    pub fat: [[f64; 2]; 3],
    /// Transverse tooth thickness at the reference circle, added, each gear by itself.
    pub thickness: [[f64; 2]; 3],
    pub print_growth: Growth,
    pub heat: Growth,
    pub shifts: &'a [RadialShift],
}

/// Why play departs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// Nothing departs.
    None,
    FatFlanks,
    SunThickness,
    PlanetThickness,
    RingThickness,
    PrintGrowth,
    Heat,
    Shift(ShiftCause),
}

impl Cause {
    pub const fn name(self) -> &'static str {
        match self {
            Cause::None => "nothing",
            Cause::FatFlanks => "flanks printed fat or thin",
            Cause::SunThickness => "tooth thickness of the sun",
            Cause::PlanetThickness => "tooth thickness of the planets",
            Cause::RingThickness => "tooth thickness of the ring",
            Cause::PrintGrowth => "scale of the prints",
            Cause::Heat => "heat",
            Cause::Shift(cause) => cause.name(),
        }
    }
}

/// Play of one mesh, circumferential at the nominal working pitch circle \[mm\]; negative binds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshPlay {
    pub nominal: f64,
    pub least: f64,
    pub most: f64,
    /// Root sum of squares about the mean.
    pub statistical: [f64; 2],
    /// What spreads it most.
    pub largest: Cause,
    /// By so much \[mm\], end to end.
    pub largest_spread: f64,
}

impl MeshPlay {
    pub fn binds(&self) -> bool {
        self.least < 0.0
    }
}

/// Play of the stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StagePlay {
    pub sun_mesh: MeshPlay,
    pub ring_mesh: MeshPlay,
    /// Turn of the carrier, sun and ring held, least and most \[rad\]; the least is 0 where a mesh binds.
    pub output: [f64; 2],
    /// The design's backlash that leaves no mesh below zero, when one binds \[mm\].
    pub backlash_wanted: Option<f64>,
}

impl StagePlay {
    /// None for a mesh that the departures pull apart or push through each other.
    pub fn of(stage: &Stage, input: &PlayInput) -> Option<StagePlay> {
        let at_sun = Place::at_sun(stage);
        let at_ring = Place::at_ring(stage);
        let sun_mesh = at_sun.play(input)?;
        let ring_mesh = at_ring.play(input)?;
        let pitch_radii = [stage.sun_mesh.pitch_diameters[1] / 2.0, stage.ring_mesh.pitch_diameters[0] / 2.0];
        let turn = |plays: [f64; 2]| {
            carrier_play(plays.map(|play| play.max(0.0)), pitch_radii, stage.centre_distance)
        };
        let least = sun_mesh.least.min(ring_mesh.least);
        Some(StagePlay {
            sun_mesh,
            ring_mesh,
            output: [turn([sun_mesh.least, ring_mesh.least]), turn([sun_mesh.most, ring_mesh.most])],
            backlash_wanted: (least < 0.0).then_some(stage.backlash - least),
        })
    }
}

/// Turn of the carrier with sun and ring held \[rad\]: `(js rp2 + jr rp1) / (a (rp1 + rp2))`, plays at the sun and at the
/// ring, the planet's pitch radii rp1 and rp2 in these meshes.
pub fn carrier_play([at_sun, at_ring]: [f64; 2], [rp1, rp2]: [f64; 2], centre_distance: f64) -> f64 {
    (at_sun * rp2 + at_ring * rp1) / (centre_distance * (rp1 + rp2))
}

/// Exact circumferential play at the working pitch circles of `centre_distance`; none where the base circles leave no line
/// of action. A ring is the second gear.
pub fn play_at(gears: [&Gear; 2], centre_distance: f64) -> Option<f64> {
    let [first, second] = gears.map(|gear| 0.5 * gear.base_diameter);
    let bases = match gears[1].kind {
        GearKind::External => second + first,
        GearKind::Internal => second - first,
    };
    let cosine = bases / centre_distance;
    if !(cosine > 0.0 && cosine <= 1.0) {
        return None;
    }
    Some(circumferential_play(gears, gears.map(|gear| gear.base_diameter / cosine)))
}

/// Play along the line of action in the normal section from circumferential play: `jt cos aw cos bb`.
pub fn normal_play(circumferential: f64, working_pressure_angle: f64, base_helix_angle: f64) -> f64 {
    circumferential * libm::cos(working_pressure_angle) * libm::cos(base_helix_angle)
}

/// First-order change of play from thickness added at the reference circles (both gears together) and from a radial
/// opening of the mesh; `angles`: reference and working, transverse.
pub fn linear_change([reference, working]: [f64; 2], thickness: f64, opening: f64) -> f64 {
    -thickness * libm::cos(reference) / libm::cos(working) + 2.0 * libm::tan(working) * opening
}

/// First-order change of play of the stage's meshes, with the sun and with the ring, when sun, planet, ring and carrier
/// grow by these parts.
pub fn growth_change(stage: &Stage, growths: [f64; 4]) -> [f64; 2] {
    [Place::at_sun(stage), Place::at_ring(stage)].map(|place| place.change(&place.grown(growths)))
}

/// One departure, at one end, as a mesh feels it.
#[derive(Clone, Copy, Default)]
struct Departure {
    /// Added at the reference circles.
    thickness: [f64; 2],
    /// Radial opening of the mesh.
    opening: f64,
    /// Space grown less tooth grown, on the pitch circle.
    space: f64,
}

impl Departure {
    fn plus(self, other: Departure) -> Departure {
        Departure {
            thickness: [self.thickness[0] + other.thickness[0], self.thickness[1] + other.thickness[1]],
            opening: self.opening + other.opening,
            space: self.space + other.space,
        }
    }
}

/// Nominal values of one mesh.
struct Place<'a> {
    kind: MeshKind,
    gears: [&'a Gear; 2],
    /// Of the two gears in sun, planet, ring.
    members: [usize; 2],
    centre_distance: f64,
    pitch_radii: [f64; 2],
    /// Of the first gear on its pitch circle.
    tooth: f64,
    nominal: f64,
    /// dj/ds and dj/dr.
    by_thickness: f64,
    by_opening: f64,
    /// Thickness a fat flank adds, per length along its normal.
    by_fat: f64,
}

impl<'a> Place<'a> {
    fn at_sun(stage: &'a Stage) -> Place<'a> {
        let angle = stage.working_pressure_angle_sun;
        Place::new(
            stage,
            MeshKind::External,
            [&stage.sun, &stage.planet],
            [0, 1],
            angle,
            stage.sun_mesh.pitch_diameters,
        )
    }

    fn at_ring(stage: &'a Stage) -> Place<'a> {
        let angle = stage.working_pressure_angle_ring;
        Place::new(
            stage,
            MeshKind::Internal,
            [&stage.planet, &stage.ring],
            [1, 2],
            angle,
            stage.ring_mesh.pitch_diameters,
        )
    }

    fn new(
        stage: &Stage,
        kind: MeshKind,
        gears: [&'a Gear; 2],
        members: [usize; 2],
        angle: f64,
        pitch_diameters: [f64; 2],
    ) -> Place<'a> {
        let reference = stage.transverse_pressure_angle;
        let pitch_radii = pitch_diameters.map(|diameter| 0.5 * diameter);
        Place {
            kind,
            gears,
            members,
            centre_distance: stage.centre_distance,
            pitch_radii,
            tooth: gears[0].thickness_at(pitch_radii[0]),
            nominal: circumferential_play(gears, pitch_diameters),
            by_thickness: linear_change([reference, angle], 1.0, 0.0),
            by_opening: linear_change([reference, angle], 0.0, 1.0),
            by_fat: 2.0 / (libm::cos(stage.base_helix_angle) * libm::cos(reference)),
        }
    }

    fn change(&self, departure: &Departure) -> f64 {
        let [first, second] = departure.thickness;
        (first + second) * self.by_thickness + departure.opening * self.by_opening + departure.space
    }

    fn fat(&self, fat: &[[f64; 2]; 3], end: usize) -> Departure {
        Departure {
            thickness: self.members.map(|member| fat[member][end] * self.by_fat),
            ..Departure::default()
        }
    }

    fn thickened(&self, index: usize, by: f64) -> Departure {
        let mut departure = Departure::default();
        departure.thickness[index] = by;
        departure
    }

    fn grown(&self, growths: [f64; 4]) -> Departure {
        let [first, second] = self.members.map(|member| growths[member]);
        let [first_radius, second_radius] = self.pitch_radii;
        let carried = self.centre_distance * growths[3];
        let opening = match self.kind {
            MeshKind::External => carried - first_radius * first - second_radius * second,
            MeshKind::Internal => second_radius * second - first_radius * first - carried,
        };
        let space = (self.tooth + self.nominal) * second - self.tooth * first;
        Departure { opening, space, ..Departure::default() }
    }

    fn ends_of(&self, growth: &Growth) -> [Departure; 2] {
        [0, 1].map(|end| {
            self.grown([growth.sun[end], growth.planet[end], growth.ring[end], growth.carrier[end]])
        })
    }

    /// Where both ends go one way, the lesser gives way to no departure at all: the play when put together.
    fn with_rest(&self, ends: [Departure; 2]) -> [Departure; 2] {
        let [first, second] = [self.change(&ends[0]), self.change(&ends[1])];
        if first * second <= 0.0 {
            ends
        } else if first.abs() < second.abs() {
            [Departure::default(), ends[1]]
        } else {
            [ends[0], Departure::default()]
        }
    }

    /// Exact play with all departures at once.
    fn exact(&self, departure: &Departure) -> Option<f64> {
        let thicker = |index: usize| {
            let mut gear = *self.gears[index];
            gear.transverse_tooth_thickness += departure.thickness[index];
            gear
        };
        let [first, second] = [thicker(0), thicker(1)];
        let opening = match self.kind {
            MeshKind::External => departure.opening,
            MeshKind::Internal => -departure.opening,
        };
        Some(play_at([&first, &second], self.centre_distance + opening)? + departure.space)
    }

    fn play(&self, input: &PlayInput) -> Option<MeshPlay> {
        let mut sum = Sum::default();
        sum.add(self, Cause::FatFlanks, [0, 1].map(|end| self.fat(&input.fat, end)));
        for (index, member) in self.members.into_iter().enumerate() {
            let cause = [Cause::SunThickness, Cause::PlanetThickness, Cause::RingThickness][member];
            sum.add(self, cause, input.thickness[member].map(|by| self.thickened(index, by)));
        }
        sum.add(self, Cause::PrintGrowth, self.ends_of(&input.print_growth));
        sum.add(self, Cause::Heat, self.with_rest(self.ends_of(&input.heat)));
        let mesh = match self.kind {
            MeshKind::External => 0,
            MeshKind::Internal => 1,
        };
        for shift in input.shifts.iter().filter(|shift| shift.cause.meshes()[mesh]) {
            let ends =
                [-shift.amount, shift.amount].map(|opening| Departure { opening, ..Departure::default() });
            sum.add(self, Cause::Shift(shift.cause), ends);
        }
        let half = sum.squares.sqrt();
        let mean = self.nominal + sum.mean;
        Some(MeshPlay {
            nominal: self.nominal,
            least: self.exact(&sum.closed)?,
            most: self.exact(&sum.open)?,
            statistical: [mean - half, mean + half],
            largest: sum.largest,
            largest_spread: sum.largest_spread,
        })
    }
}

/// Departures added up.
struct Sum {
    closed: Departure,
    open: Departure,
    mean: f64,
    squares: f64,
    largest: Cause,
    largest_spread: f64,
}

impl Default for Sum {
    fn default() -> Sum {
        let (closed, open) = (Departure::default(), Departure::default());
        Sum { closed, open, mean: 0.0, squares: 0.0, largest: Cause::None, largest_spread: 0.0 }
    }
}

impl Sum {
    fn add(&mut self, place: &Place, cause: Cause, ends: [Departure; 2]) {
        let [first, second] = [place.change(&ends[0]), place.change(&ends[1])];
        let (closing, opening) = if first <= second { (ends[0], ends[1]) } else { (ends[1], ends[0]) };
        self.closed = self.closed.plus(closing);
        self.open = self.open.plus(opening);
        let spread = (second - first).abs();
        self.mean += 0.5 * (first + second);
        self.squares += 0.25 * spread * spread;
        if spread > self.largest_spread {
            (self.largest, self.largest_spread) = (cause, spread);
        }
    }
}
