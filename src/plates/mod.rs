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
    /// Index of its print: in a product, of its part.
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

/// A printed part and how often it is wanted.
#[derive(Clone, Debug)]
pub struct Print<'a> {
    /// As files and plans call it.
    pub name: String,
    pub made: &'a MadePart,
    pub count: u32,
    pub material: String,
    /// \[mm\]
    pub layer_height: f64,
}

impl Print<'_> {
    fn kind(&self) -> (&str, f64) {
        (&self.material, self.layer_height)
    }
}

/// The printed parts of a product, in their order there.
pub fn prints(product: &Product) -> Vec<Print<'_>> {
    let print = |made| -> Print<'_> {
        let made: &MadePart = made;
        let settings = product.actuator.design.settings(made.part.name);
        Print {
            name: made.part.name.as_str().to_string(),
            made,
            count: made.part.count,
            material: settings.material.name.clone(),
            layer_height: settings.layer_height,
        }
    };
    product.parts.iter().map(print).collect()
}

/// All printed parts of a product; see [`arrange`].
pub fn plates(product: &Product) -> (Vec<Plate>, Vec<TooLarge>) {
    arrange(&prints(product), product.actuator.design.printer.bed)
}

/// Prints on as few plates as the packing finds, materials in the order of their names; and what fits on none.
pub fn arrange(prints: &[Print], bed: [f64; 3]) -> (Vec<Plate>, Vec<TooLarge>) {
    // A gap at every part's far side, and one along the bed's near edges.
    let room = [bed[0] - GAP, bed[1] - GAP];
    let mut kinds: Vec<(&str, f64)> = prints.iter().map(Print::kind).collect();
    kinds.sort_by(|a, b| a.0.cmp(b.0).then(a.1.total_cmp(&b.1)));
    kinds.dedup();

    let mut plates = Vec::new();
    let mut too_large = Vec::new();
    for kind in kinds {
        let alike = prints.iter().enumerate().filter(|(_, print)| print.kind() == kind);
        let (fitting, larger): (Vec<_>, Vec<_>) = alike.partition(|(_, print)| fits(print.made.size, room));
        too_large.extend(larger.into_iter().map(|(_, print)| TooLarge {
            part: print.made.part.name,
            size: [print.made.size[0], print.made.size[1]],
        }));
        let wanted: Vec<Wanted> = fitting
            .into_iter()
            .flat_map(|(index, print)| {
                (0..print.count).map(move |copy| Wanted { index, copy, made: print.made })
            })
            .collect();
        let sizes: Vec<[f64; 2]> =
            wanted.iter().map(|one| [one.made.size[0] + GAP, one.made.size[1] + GAP]).collect();
        let packed = pack(&sizes, room);
        let count = packed.iter().map(|place| place.bin + 1).max().unwrap_or(0);
        plates.extend((0..count).map(|bin| Plate {
            material: kind.0.to_string(),
            layer_height: kind.1,
            pieces: pieces(&wanted, &packed, bin),
        }));
    }
    (plates, too_large)
}

/// One print of a part.
struct Wanted<'a> {
    index: usize,
    copy: u32,
    made: &'a MadePart,
}

/// Whether a part with its gap lies in the room, either way round.
fn fits(size: [f64; 3], room: [f64; 2]) -> bool {
    let [a, b] = [size[0] + GAP, size[1] + GAP];
    (a <= room[0] && b <= room[1]) || (b <= room[0] && a <= room[1])
}

fn pieces(wanted: &[Wanted], packed: &[Packed], bin: usize) -> Vec<Piece> {
    wanted
        .iter()
        .zip(packed)
        .filter(|(_, place)| place.bin == bin)
        .map(|(one, place)| {
            let bounds = one.made.printed.bounds();
            // Turned by a quarter, x becomes -y: the box's low corner is then its highest y.
            let low =
                if place.turned { [-bounds.high.y, bounds.low.x] } else { [bounds.low.x, bounds.low.y] };
            Piece {
                part: one.made.part.name,
                index: one.index,
                copy: one.copy,
                turned: place.turned,
                shift: [GAP + place.corner[0] - low[0], GAP + place.corner[1] - low[1]],
            }
        })
        .collect()
}
