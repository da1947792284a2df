//! `book.html`: the build book, one page that holds everything and loads nothing. Its figures and sentences come from where report
//! and sheets have theirs.
//!
//! - [`page`]: head, contents, chapters in order
//! - [`glance`], [`printing`], [`parts_list`], [`assembling`], [`sheets`], [`performance`], [`trying`], [`checking`], [`cautions`]: chapters
//! - [`trial_page`]: a trial, as a page of its own in the same style
//! - [`view`]: the 3D view and the bodies it shows
//! - [`picture`]: pictures of bodies; [`plot`]: curves; [`base64`]: bytes as text; [`text`]: words with emphasis

mod assembling;
pub(crate) mod base64;
pub(crate) mod cautions;
mod checking;
mod glance;
mod page;
pub(crate) mod parts_list;
mod performance;
mod picture;
mod plot;
mod printing;
mod sheets;
pub(crate) mod text; // also for other pages
pub mod trial_page;
mod trying;
mod view;

use maud::Markup;

use crate::pipeline::{Made, Solids};

/// A drawing that the book shows, as SVG.
pub struct Drawing<'a> {
    pub title: &'static str,
    pub svg: &'a str,
}

impl<'a> Drawing<'a> {
    pub fn section(svg: &'a str) -> Drawing<'a> {
        Drawing {
            title: "Section; `section.svg` is the same, true to scale; `drawings` has a sheet a part",
            svg,
        }
    }

    pub fn mesh(svg: &'a str) -> Drawing<'a> {
        Drawing { title: "Gear mesh; `mesh.svg` is the same, true to scale", svg }
    }
}

/// The page; `drawings` in their order; `changed`: against an earlier design, if there is one.
pub fn book(made: &Made, solids: &Solids, drawings: &[Drawing], changed: Option<Markup>) -> String {
    page::page(made, solids, drawings, changed).into_string()
}
