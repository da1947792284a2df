//! What can hurt.

use maud::{Markup, html};

use crate::cautions::CHAPTERS;

pub fn cautions() -> Markup {
    html! {
        dl.cautions { @for (title, cautions) in CHAPTERS { dt { (title) } dd { (cautions.join(" ")) } } }
    }
}
