//! Head, contents and the chapters in order.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::base64::data_address;
use super::picture::{Shown, Side, picture};
use super::text::words;
use super::{
    Drawing, assembling, cautions, checking, glance, parts_list, performance, printing, sheets, trying, view,
};
use crate::pipeline::{Made, Solids};
use crate::scene::Thing;
use crate::web::{VIEWER, frame};

/// Nothing from anywhere: what runs and what is shown stands in the page itself.
pub(super) const BOOK_STYLE: &str = include_str!("book.css");
const BOOK_SCRIPT: &str = include_str!("book.js");
/// Points of the cover's picture.
const COVER: [usize; 2] = [1000, 1000];

pub fn page(made: &Made, solids: &Solids, drawings: &[Drawing], changed: Option<Markup>) -> Markup {
    let design = &made.product.actuator.design;
    let (sides, view) = rayon::join(|| chapters(made, solids, drawings), || view::view(made, solids));
    let (before, after) = sides;
    let changed = changed.map(|content| ("changed", "What changed", content));
    let chapters: Vec<frame::Chapter> =
        before.into_iter().chain(changed).chain([("look", "Look at it", view)]).chain(after).collect();
    html! {
        (DOCTYPE)
        html lang="en" {
            (frame::head(&format!("Build book: {}", design.name), frame::WITH_SCRIPTS, &[BOOK_STYLE]))
            body {
                a.skip href="#contents" { "To the contents" }
                header.cover {
                    div {
                        p.kind { "Build book" }
                        h1 { (design.name) }
                        p { (design.about) }
                    }
                    (cover(solids))
                }
                (frame::chapters(&chapters))
                (frame::foot())
                script { (PreEscaped(VIEWER)) }
                script { (PreEscaped(BOOK_SCRIPT)) }
            }
        }
    }
}

/// Those before the 3D view, and those after it.
fn chapters(
    made: &Made,
    solids: &Solids,
    drawings: &[Drawing],
) -> (Vec<frame::Chapter>, Vec<frame::Chapter>) {
    let product = &made.product;
    let before =
        vec![("glance", "At a glance", glance::glance(made)), ("cautions", "Cautions", cautions::cautions())];
    let (prints, steps) =
        rayon::join(|| printing::printing(product, solids), || assembling::assembling(product, solids));
    let mut after = vec![
        ("prints", "Printed parts", prints),
        ("materials", "Bill of materials", parts_list::parts_list(&product.bom)),
        ("assembly", "Putting it together", steps),
    ];
    if !drawings.is_empty() {
        after.push(("drawings", "Drawings", shown(drawings)));
    }
    after.extend([
        ("gears", "Gear sheets", sheets::gears(&product.actuator)),
        ("performance", "Torque, speed and heat", performance::performance(product)),
        ("drive", "Drive set-up", sheets::drive(product)),
        ("bench", "Test plan", trying::trying(product)),
        ("checks", "Checks", checking::checking(made)),
    ]);
    (before, after)
}

fn shown(drawings: &[Drawing]) -> Markup {
    html! {
        @for drawing in drawings {
            figure.drawing {
                img src=(data_address("image/svg+xml", drawing.svg.as_bytes())) alt=(drawing.title.replace('`', ""));
                figcaption { (words(drawing.title)) }
            }
        }
    }
}

/// Everything where it belongs.
fn cover(solids: &Solids) -> Markup {
    let bodies: Vec<Shown> = solids.scene.iter().flat_map(copies).collect();
    html! {
        @if let Some(png) = picture(&bodies, Side::Front, COVER) {
            img src=(data_address("image/png", &png)) width=(COVER[0] / 2) height=(COVER[1] / 2) alt="The actuator put together, output up";
        }
    }
}

/// All copies of a thing at their places.
pub fn copies(thing: &Thing) -> impl Iterator<Item = Shown<'_>> {
    thing.places.iter().map(move |place| Shown { thing, place: *place, lift: 0.0, pale: false })
}
