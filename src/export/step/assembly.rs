//! All parts in their places, each shape once.

use super::Label;
use super::entities::{Entities, Frame, Id, Text};
use super::product::{Context, Product, file};
use crate::geometry::{Brep, Point, ShapeError};

/// One place of a part: turned about its own axis, then moved out to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    pub name: String,
    pub axis: Point,
    /// \[rad\]
    pub turn: f64,
}

/// A part and every place it has.
#[derive(Clone, Debug)]
pub struct Placed {
    pub label: Label,
    /// Red, green, blue, 0 to 1.
    pub colour: [f64; 3],
    pub boundary: Brep,
    pub placements: Vec<Placement>,
}

/// The file of the whole.
pub fn assembly(label: &Label, parts: &[&Placed]) -> Result<String, ShapeError> {
    let mut entities = Entities::default();
    let context = Context::new(&mut entities);
    let mut products = Vec::with_capacity(parts.len());
    let mut frames = Vec::new();
    for placed in parts {
        products.push(context.part(&placed.label, placed.colour, &placed.boundary, &mut entities)?);
        frames.extend(placed.placements.iter().map(|placement| entities.frame(&placement.frame())));
    }
    let whole = context.product(label, "SHAPE_REPRESENTATION", &frames, &mut entities);
    let places = parts.iter().zip(&products).flat_map(|(placed, product)| {
        placed.placements.iter().map(move |placement| (product, placement.name.as_str()))
    });
    for ((product, name), frame) in places.zip(frames) {
        occurrence(&whole, product, name, frame, &mut entities);
    }
    Ok(file("assembly", &label.description, entities))
}

impl Placement {
    fn frame(&self) -> Frame {
        let x = Point::polar(1.0, self.turn);
        Frame { origin: [self.axis.x, self.axis.y, 0.0], z: [0.0, 0.0, 1.0], x: [x.x, x.y, 0.0] }
    }
}

/// `part` in the whole, its own frame laid on `frame`.
fn occurrence(whole: &Product, part: &Product, name: &str, frame: Id, entities: &mut Entities) {
    let name = Text(name);
    let (above, below) = (whole.definition, part.definition);
    let usage =
        entities.add(format_args!("NEXT_ASSEMBLY_USAGE_OCCURRENCE({name},{name},'',{above},{below},$)"));
    let shape = entities.add(format_args!("PRODUCT_DEFINITION_SHAPE('','',{usage})"));
    let from = part.frame;
    let transformation = entities.add(format_args!("ITEM_DEFINED_TRANSFORMATION('','',{from},{frame})"));
    let (below, above) = (part.representation, whole.representation);
    let relationship = entities.add(format_args!(
        "(REPRESENTATION_RELATIONSHIP('','',{below},{above}) \
         REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION({transformation}) SHAPE_REPRESENTATION_RELATIONSHIP())"
    ));
    entities.add(format_args!("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION({relationship},{shape})"));
}
