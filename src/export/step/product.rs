//! A named, coloured part, and the file that holds it.

use super::Label;
use super::entities::{Entities, Frame, Id, List, Number, Text};
use super::solid::solid;
use crate::geometry::{Brep, ShapeError};

/// Where the frame of every product lies.
const HERE: Frame = Frame { origin: [0.0; 3], z: [0.0, 0.0, 1.0], x: [1.0, 0.0, 0.0] };

/// What all products of a file share.
pub(super) struct Context {
    application: Id,
    /// Units and accuracy of coordinates.
    pub geometry: Id,
}

/// A product: how an assembly refers to it, and the representation that holds its shape.
pub(super) struct Product {
    pub definition: Id,
    pub representation: Id,
    pub frame: Id,
}

impl Context {
    pub(super) fn new(entities: &mut Entities) -> Context {
        let application = entities
            .add(format_args!("APPLICATION_CONTEXT('core data for automotive mechanical design processes')"));
        entities.add(format_args!(
            "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,{application})"
        ));
        let length = entities.add(format_args!("(LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.))"));
        let angle = entities.add(format_args!("(NAMED_UNIT(*) PLANE_ANGLE_UNIT() SI_UNIT($,.RADIAN.))"));
        let solid_angle =
            entities.add(format_args!("(NAMED_UNIT(*) SI_UNIT($,.STERADIAN.) SOLID_ANGLE_UNIT())"));
        let accuracy = entities.add(format_args!(
            "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.0E-6),{length},'distance_accuracy_value',\
             'largest gap between edges and surfaces')"
        ));
        let geometry = entities.add(format_args!(
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3) GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({accuracy})) \
             GLOBAL_UNIT_ASSIGNED_CONTEXT(({length},{angle},{solid_angle})) REPRESENTATION_CONTEXT('','3D'))"
        ));
        Context { application, geometry }
    }

    /// A product whose representation, of a `kind`, holds `items`.
    pub(super) fn product(
        &self,
        label: &Label,
        kind: &str,
        items: &[Id],
        entities: &mut Entities,
    ) -> Product {
        let (name, description) = (Text(&label.name), Text(&label.description));
        let application = self.application;
        let context = entities.add(format_args!("PRODUCT_CONTEXT('',{application},'mechanical')"));
        let product = entities.add(format_args!("PRODUCT({name},{name},{description},({context}))"));
        entities.add(format_args!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,({product}))"));
        let formation = entities.add(format_args!("PRODUCT_DEFINITION_FORMATION('','',{product})"));
        let stage = entities
            .add(format_args!("PRODUCT_DEFINITION_CONTEXT('part definition',{application},'design')"));
        let definition = entities.add(format_args!("PRODUCT_DEFINITION('design','',{formation},{stage})"));
        let shape = entities.add(format_args!("PRODUCT_DEFINITION_SHAPE('','',{definition})"));
        let frame = entities.frame(&HERE);
        let all: Vec<Id> = std::iter::once(frame).chain(items.iter().copied()).collect();
        let geometry = self.geometry;
        let representation = entities.add(format_args!("{kind}({name},{},{geometry})", List(&all)));
        entities.add(format_args!("SHAPE_DEFINITION_REPRESENTATION({shape},{representation})"));
        Product { definition, representation, frame }
    }

    /// One solid as a product, in its colour.
    pub(super) fn part(
        &self,
        label: &Label,
        colour: [f64; 3],
        brep: &Brep,
        entities: &mut Entities,
    ) -> Result<Product, ShapeError> {
        let body = solid(brep, entities)?;
        let product = self.product(label, "ADVANCED_BREP_SHAPE_REPRESENTATION", &[body], entities);
        let styled = styled(body, colour, entities);
        let geometry = self.geometry;
        entities.add(format_args!(
            "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',({styled}),{geometry})"
        ));
        Ok(product)
    }
}

/// A body in one colour on all sides.
fn styled(body: Id, colour: [f64; 3], entities: &mut Entities) -> Id {
    let [red, green, blue] = colour.map(Number);
    let colour = entities.add(format_args!("COLOUR_RGB('',{red},{green},{blue})"));
    let filled = entities.add(format_args!("FILL_AREA_STYLE_COLOUR('',{colour})"));
    let area = entities.add(format_args!("FILL_AREA_STYLE('',({filled}))"));
    let fill = entities.add(format_args!("SURFACE_STYLE_FILL_AREA({area})"));
    let side = entities.add(format_args!("SURFACE_SIDE_STYLE('',({fill}))"));
    let usage = entities.add(format_args!("SURFACE_STYLE_USAGE(.BOTH.,{side})"));
    let style = entities.add(format_args!("PRESENTATION_STYLE_ASSIGNMENT(({usage}))"));
    entities.add(format_args!("STYLED_ITEM('',({style}),{body})"))
}

/// The file of one part; colour in red, green, blue, 0 to 1.
pub fn part(label: &Label, colour: [f64; 3], brep: &Brep) -> Result<String, ShapeError> {
    let mut entities = Entities::default();
    Context::new(&mut entities).part(label, colour, brep, &mut entities)?;
    Ok(file(&label.name, &label.description, entities))
}

/// Header and entities. Neither time nor author: the same design gives the same bytes.
pub(super) fn file(name: &str, description: &str, entities: Entities) -> String {
    let program = concat!("hubwright ", env!("CARGO_PKG_VERSION"));
    let mut text = format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({}),'2;1');\n\
         FILE_NAME({},'',(''),(''),'{program}','{program}','');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n",
        Text(description),
        Text(&format!("{name}.step")),
    );
    text.push_str(&entities.into_text());
    text.push_str("ENDSEC;\nEND-ISO-10303-21;\n");
    text
}
