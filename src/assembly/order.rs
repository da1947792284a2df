//! The order on the bench: take off what is free until one piece is left, then read it backwards.

use super::item::{Item, Kind};
use super::path::{Obstacles, Side};
use crate::design::{Joint, PartName};

/// One removal, or read backwards one move of the assembly.
#[derive(Clone, Debug)]
pub struct Step {
    /// Indices of the items that move as one.
    pub items: Vec<usize>,
    /// What they are called together.
    pub name: String,
    /// Where they come from, and leave to.
    pub side: Side,
}

/// A unit that nothing lets out.
#[derive(Clone, Debug)]
pub struct Stuck {
    pub unit: String,
    /// The first thing in its way towards the front and the back.
    pub blockers: [String; 2],
}

/// A sub-assembly, in the order in which it is put together.
#[derive(Clone, Debug)]
pub struct Bench {
    pub name: &'static str,
    /// What lies on the bench first.
    pub first: String,
    pub steps: Vec<Step>,
    pub stuck: Option<Stuck>,
}

/// What moves as one, tried in this order.
struct Unit {
    name: &'static str,
    kinds: Vec<Kind>,
}

fn one(kind: Kind) -> Unit {
    Unit { name: "", kinds: vec![kind] }
}

/// Planet with what turns in it.
pub fn planet_set() -> Vec<Kind> {
    vec![
        Kind::Part(PartName::Planet),
        Kind::Part(PartName::PlanetSleeve),
        Kind::BackBearings,
        Kind::FrontBearings,
        Kind::Bushes,
    ]
}

/// Motor on its mount with all that goes in with it.
pub fn motor_unit() -> Vec<Kind> {
    vec![
        Kind::Part(PartName::StatorMount),
        Kind::Part(PartName::MagnetCup),
        Kind::Motor,
        Kind::Magnet,
        Kind::Screws(Joint::MotorToMount),
    ]
}

/// What stays with the motor while it comes out.
pub fn on_rotor() -> Vec<Kind> {
    vec![
        Kind::Part(PartName::RotorAdapter),
        Kind::Part(PartName::Sun),
        Kind::Screws(Joint::AdapterToRotor),
        Kind::Screws(Joint::Sun),
    ]
}

/// Base with board and motor: all that J2 leaves behind.
pub fn base_side() -> Vec<Kind> {
    let mut kinds = vec![
        Kind::Part(PartName::VentedBase),
        Kind::Board,
        Kind::Screws(Joint::Board),
        Kind::Screws(Joint::StatorMount),
    ];
    kinds.extend(motor_unit());
    kinds.extend(on_rotor());
    kinds
}

/// Indices of the items of these kinds.
pub fn of_kinds(items: &[Item], kinds: &[Kind]) -> Vec<usize> {
    (0..items.len())
        .filter(|&index| items.get(index).is_some_and(|item| kinds.contains(&item.kind)))
        .collect()
}

/// All that J2 lets off: everything but the base's side and J2's own screws.
pub fn module(items: &[Item]) -> Vec<usize> {
    let mut stays = base_side();
    stays.push(Kind::Screws(Joint::Service));
    (0..items.len())
        .filter(|&index| items.get(index).is_some_and(|item| !stays.contains(&item.kind)))
        .collect()
}

/// Every bench, sub-assemblies first.
pub fn benches(items: &[Item], obstacles: &Obstacles) -> Vec<Bench> {
    use PartName::{
        BearingKeeper, CarrierBackPlate, InnerSpacer, MagnetCup, OuterSpacer, OutputCarrier, OutputClampRing,
        PlanetWasher, RingInsert, RingInsertBack, RotorAdapter, Sun,
    };
    let carrier = vec![Kind::Part(OutputCarrier), Kind::Pins];
    let motor: Vec<Kind> = motor_unit();
    let with_sun: Vec<Kind> = vec![Kind::Part(Sun)];
    let module_kinds: Vec<Kind> =
        module(items).iter().filter_map(|&index| Some(items.get(index)?.kind)).collect();
    let module_and_sun = module_kinds.iter().copied().chain(with_sun).collect();
    let mut found = vec![
        bench(
            items,
            obstacles,
            "planets",
            &planet_set(),
            &[
                one(Kind::FrontBearings),
                one(Kind::Part(PartName::PlanetSleeve)),
                one(Kind::BackBearings),
                one(Kind::Bushes),
            ],
        ),
        bench(items, obstacles, "carrier", &carrier, &[one(Kind::Pins)]),
        bench(
            items,
            obstacles,
            "motor on its mount",
            &motor,
            &[
                one(Kind::Magnet),
                one(Kind::Part(MagnetCup)),
                one(Kind::Screws(Joint::MotorToMount)),
                one(Kind::Motor),
            ],
        ),
        bench(
            items,
            obstacles,
            "housing module",
            &module_kinds,
            &[
                one(Kind::Screws(Joint::Pillars)),
                one(Kind::Part(CarrierBackPlate)),
                Unit { name: "planets with their bearings", kinds: planet_set() },
                one(Kind::Part(PlanetWasher)),
                one(Kind::Screws(Joint::ClampRing)),
                one(Kind::Part(OutputClampRing)),
                Unit { name: "carrier with its pins", kinds: carrier.clone() },
                one(Kind::Screws(Joint::Keeper)),
                one(Kind::Part(BearingKeeper)),
                one(Kind::OutputBearing(1)),
                one(Kind::Part(InnerSpacer)),
                one(Kind::Part(OuterSpacer)),
                one(Kind::OutputBearing(2)),
                one(Kind::Screws(Joint::RingInsert)),
                one(Kind::Part(RingInsertBack)),
                one(Kind::Part(RingInsert)),
            ],
        ),
    ];
    let everything: Vec<Kind> = items.iter().map(|item| item.kind).collect();
    let rotor_side: Vec<Kind> = motor.iter().copied().chain(on_rotor()).collect();
    found.push(bench(
        items,
        obstacles,
        "actuator",
        &everything,
        &[
            one(Kind::Screws(Joint::Service)),
            Unit { name: "housing module", kinds: module_kinds },
            one(Kind::Screws(Joint::Sun)),
            Unit { name: "housing module with the sun", kinds: module_and_sun },
            one(Kind::Part(Sun)),
            one(Kind::Screws(Joint::AdapterToRotor)),
            one(Kind::Part(RotorAdapter)),
            one(Kind::Screws(Joint::StatorMount)),
            Unit { name: "motor on its mount", kinds: motor },
            Unit { name: "motor on its mount with adapter and sun", kinds: rotor_side },
            one(Kind::Screws(Joint::Board)),
            one(Kind::Board),
        ],
    ));
    found.retain(|bench| !bench.steps.is_empty() || bench.stuck.is_some());
    found
}

/// Takes the items of these kinds apart, the first free unit each time.
fn bench(items: &[Item], obstacles: &Obstacles, name: &'static str, kinds: &[Kind], units: &[Unit]) -> Bench {
    let mut present = of_kinds(items, kinds);
    let mut steps = Vec::new();
    let stuck = loop {
        let candidates: Vec<(&Unit, Vec<usize>)> = units
            .iter()
            .map(|unit| {
                let indices = of_kinds(items, &unit.kinds);
                (unit, indices.into_iter().filter(|index| present.contains(index)).collect::<Vec<_>>())
            })
            .filter(|(_, indices)| !indices.is_empty() && indices.len() < present.len())
            .collect();
        let free = candidates.iter().find_map(|(unit, indices)| {
            let side = [Side::Front, Side::Back]
                .into_iter()
                .find(|&side| obstacles.blocker(indices, &present, side).is_none())?;
            Some((unit, indices.clone(), side))
        });
        match free {
            Some((unit, indices, side)) => {
                present.retain(|index| !indices.contains(index));
                steps.push(Step { name: called(items, unit.name, &indices), items: indices, side });
            }
            None => {
                break candidates.first().map(|(unit, indices)| {
                    let blockers = [Side::Front, Side::Back].map(|side| {
                        let standing = obstacles.blocker(indices, &present, side);
                        standing
                            .and_then(|(_, standing)| items.get(standing))
                            .map_or("", |item| &item.name)
                            .to_string()
                    });
                    Stuck { unit: called(items, unit.name, indices), blockers }
                });
            }
        }
    };
    steps.reverse();
    Bench { name, first: called(items, "", &present), steps, stuck }
}

/// A unit's name, or its items'.
pub fn called(items: &[Item], name: &str, indices: &[usize]) -> String {
    match (name, indices) {
        (name, [_, _, ..]) if !name.is_empty() => name.to_string(),
        _ => indices
            .iter()
            .filter_map(|&index| Some(items.get(index)?.name.as_str()))
            .collect::<Vec<_>>()
            .join(", "),
    }
}
