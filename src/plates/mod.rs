//! Where the printed parts lie on the printer's bed: plates of one material and layer height, parts by their boxes.

pub mod packing;

use crate::design::PartName;
use crate::parts::MadePart;
use crate::product::Product;

use packing::{Packed, pack};

/// Between two parts, and between a part and the bed's edge: room for a brim and a scraper (common practice, no source)
/// \[mm\].
pub const GAP: f64 = 5.0;

/// What prints in one go.
#[derive(Clone, Debug)]
pub struct Plate {
    pub material: String,
    /// \[mm\]
    pub layer_height: f64,
    pub pieces: Vec<Piece>,
}

/// One print on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    pub part: PartName,
    /// Index of the part in the product.
    pub index: usize,
    /// First copy 0.
    pub copy: u32,
    /// A quarter turn from how the part's file lies.
    pub turned: bool,
    /// What is added to the file's coordinates, after the turn; the bed's corner is the origin.
    pub shift: [f64; 2],
}

/// A part that is larger than the bed.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{} is {:.1} x {:.1} mm and doesn't fit on the bed", part.as_str(), size[0], size[1])]
pub struct TooLarge {
    pub part: PartName,
    pub size: [f64; 2],
}

/// All printed parts on as few plates as the packing finds, materials in the order of their names; and what fits on none.
pub fn plates(product: &Product) -> (Vec<Plate>, Vec<TooLarge>) {
    let design = &product.actuator.design;
    // A gap at every part's far side, and one along the bed's near edges.
    let room = [design.printer.bed[0] - GAP, design.printer.bed[1] - GAP];
    let mut kinds: Vec<(String, f64)> = product.parts.iter().map(|part| kind(product, part)).collect();
    kinds.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    kinds.dedup();

    let mut plates = Vec::new();
    let mut too_large = Vec::new();
    for (material, layer_height) in kinds {
        let alike = product
            .parts
            .iter()
            .enumerate()
            .filter(|(_, part)| kind(product, part) == (material.clone(), layer_height));
        let (fitting, larger): (Vec<_>, Vec<_>) = alike.partition(|(_, part)| fits(part.size, room));
        too_large.extend(
            larger
                .into_iter()
                .map(|(_, part)| TooLarge { part: part.part.name, size: [part.size[0], part.size[1]] }),
        );
        let wanted: Vec<(usize, u32)> = fitting
            .into_iter()
            .flat_map(|(index, part)| (0..part.part.count).map(move |copy| (index, copy)))
            .collect();
        let sizes: Vec<[f64; 2]> = wanted
            .iter()
            .map(|(index, _)| [product.parts[*index].size[0] + GAP, product.parts[*index].size[1] + GAP])
            .collect();
        let packed = pack(&sizes, room);
        let count = packed.iter().map(|place| place.bin + 1).max().unwrap_or(0);
        plates.extend((0..count).map(|bin| Plate {
            material: material.clone(),
            layer_height,
            pieces: pieces(product, &wanted, &packed, bin),
        }));
    }
    (plates, too_large)
}

/// Whether a part with its gap lies in the room, either way round.
fn fits(size: [f64; 3], room: [f64; 2]) -> bool {
    let [a, b] = [size[0] + GAP, size[1] + GAP];
    (a <= room[0] && b <= room[1]) || (b <= room[0] && a <= room[1])
}

fn kind(product: &Product, part: &MadePart) -> (String, f64) {
    let settings = product.actuator.design.settings(part.part.name);
    (settings.material.name, settings.layer_height)
}

fn pieces(product: &Product, wanted: &[(usize, u32)], packed: &[Packed], bin: usize) -> Vec<Piece> {
    wanted
        .iter()
        .zip(packed)
        .filter(|(_, place)| place.bin == bin)
        .map(|((index, copy), place)| {
            let made = &product.parts[*index];
            let bounds = made.printed.bounds();
            // Turned by a quarter, x becomes -y: the box's low corner is then its highest y.
            let low =
                if place.turned { [-bounds.high.y, bounds.low.x] } else { [bounds.low.x, bounds.low.y] };
            Piece {
                part: made.part.name,
                index: *index,
                copy: *copy,
                turned: place.turned,
                shift: [GAP + place.corner[0] - low[0], GAP + place.corner[1] - low[1]],
            }
        })
        .collect()
}
