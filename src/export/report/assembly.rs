//! How it fits: pairs within reach, axial chains, order of assembly, service.

use serde_json::{Value, json};

use super::{maybe, round};
use crate::assembly::Assembly;
use crate::bom::place;
use crate::design::Joint;
use crate::export::assembly_sheet::{Screws, from, joint_of};
use crate::interference::{Meeting, State};
use crate::product::Product;

/// Every pair within reach; null where bodies couldn't be compared.
pub fn interference(product: &Product) -> Value {
    let meeting = |meeting: &Meeting| {
        let (state, depth) = match meeting.state {
            State::Apart => ("apart", None),
            State::Meant(contact) => (contact.as_str(), None),
            State::Touches => ("touches", None),
            State::Overlaps { depth } => ("overlaps", Some(depth)),
        };
        json!({
            "bodies": meeting.bodies,
            "state": state,
            "gap_mm": round(meeting.gap),
            "depth_mm": maybe(depth),
            "shared_mm3": maybe(meeting.volume),
            "at_mm": meeting.at.map(round),
            "turning": meeting.turning,
        })
    };
    product.fit.as_ref().map_or(Value::Null, |fit| {
        json!({
            "pairs": fit.interference.pairs,
            "reach_mm": crate::interference::pair::REACH,
            "meetings": fit.interference.meetings.iter().map(meeting).collect::<Vec<_>>(),
        })
    })
}

/// Every tolerance chain along the axis with its links.
pub fn axial(product: &Product) -> Value {
    let chains = product.axial().named().into_iter().map(|(name, between, chain)| {
        let links = chain.links.iter().map(|link| {
            json!({ "name": link.name, "length_mm": round(link.length), "over_mm": round(link.over), "under_mm": round(link.under) })
        });
        json!({
            "name": name,
            "between": between,
            "nominal_mm": round(chain.nominal),
            "worst_case_mm": chain.worst.map(round),
            "root_sum_square_mm": chain.likely.map(round),
            "links": links.collect::<Vec<_>>(),
        })
    });
    json!({
        "located_by": "output bearing, both ways: lip and keeper outside, step and clamp ring inside",
        "floating": ["planets on their pins", "sun and rotor, by the motor's own bearing"],
        "chains": chains.collect::<Vec<_>>(),
    })
}

/// Numbered steps, sub-assemblies first.
pub fn assembly(product: &Product) -> Value {
    let Ok(fit) = &product.fit else { return Value::Null };
    let mut number = 0;
    let benches = fit.assembly.benches.iter().map(|bench| {
        let steps: Vec<Value> = bench
            .steps
            .iter()
            .map(|step| {
                number += 1;
                json!({
                    "number": number,
                    "name": step.name,
                    "pieces": pieces(&fit.assembly, &step.items),
                    "from": from(step.side),
                    "screws": screws(product, joint_of(&fit.assembly, &step.items)),
                })
            })
            .collect();
        json!({
            "name": bench.name,
            "first": bench.first,
            "steps": steps,
            "stuck": bench.stuck.as_ref().map(|stuck| stuck.unit.clone()),
        })
    });
    Value::Array(benches.collect())
}

/// What comes off to change each thing.
pub fn service(product: &Product) -> Value {
    let Ok(fit) = &product.fit else { return Value::Null };
    let exchanges = fit.assembly.exchanges.iter().map(|exchange| {
        let steps = exchange.steps.iter().flatten().map(|removal| {
            json!({
                "name": removal.name,
                "to": from(removal.side),
                "screws": screws(product, removal.joint),
            })
        });
        json!({
            "change": exchange.target,
            "possible": exchange.steps.is_some(),
            "screws": exchange.joints().map(|(_, count)| count).sum::<usize>(),
            "pieces_off_first": exchange.parts(),
            "steps": steps.collect::<Vec<_>>(),
        })
    });
    Value::Array(exchanges.collect())
}

fn pieces(assembly: &Assembly, items: &[usize]) -> Vec<Value> {
    let piece = |&index: &usize| {
        assembly.items.get(index).map(|item| json!({ "name": item.name, "count": item.count }))
    };
    items.iter().filter_map(piece).collect()
}

fn screws(product: &Product, joint: Option<Joint>) -> Value {
    let Some((joint, screws)) = joint.and_then(|joint| Some((joint, Screws::of(product, joint)?))) else {
        return Value::Null;
    };
    json!({
        "joint": place(joint),
        "size": screws.bolting.thread.to_string(),
        "standard": screws.bolting.head.number(),
        "length_mm": round(screws.bolting.length),
        "quantity": screws.bolting.count,
        "key_mm": maybe(screws.hex),
        "torque_n_m": maybe(screws.torque.map(|torque| torque * 1e-3)),
    })
}
