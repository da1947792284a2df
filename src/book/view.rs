//! The 3D view: the bodies as compact binary glTF, deflated, and the places for view and controls.

use maud::{Markup, html};
use miniz_oxide::deflate::compress_to_vec_zlib;

use super::base64::base64;
use crate::export::glb;
use crate::pipeline::{Made, Solids};

/// Of 10.
const EFFORT: u8 = 4;

pub fn view(made: &Made, solids: &Solids) -> Markup {
    let actuator = &made.product.actuator;
    let bodies = compress_to_vec_zlib(&glb::compact(actuator, &solids.scene), EFFORT);
    html! {
        p.on-screen {
            "Drag to turn, roll or pinch to come nearer, drag with the right button or two fingers to move. Click a part to see what it is. By keys, once the \
             picture has the focus: arrows turn, + and - come nearer, 1 to 7 look from a side, E pulls apart, C cuts, space turns the stage, N goes to the next \
             part, H hides it, A shows all."
        }
        div.view.on-screen {
            div #view.view-frame data-label={ "3D view of " (actuator.design.name) } { p #view-message role="status" { "The 3D view needs JavaScript and WebGL." } }
            div #view-controls {}
        }
        p.on-paper { "The 3D view is in the page itself: open it on a screen." }
        // Not run: only read by the page's own script.
        script #bodies type="text/plain" { (base64(&bodies)) }
    }
}
