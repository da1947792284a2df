//! What pages are made of: the 3D view and the style that book and live page share. Both are part of the program, since a page
//! loads nothing from anywhere.

pub mod frame; // head and foot of a page

/// The viewer with three.js in it: `Hubwright.viewer(element, options)`, `Hubwright.controls(element, view)`. Made from
/// `viewer/src` by `npm ci && npm run build` in `viewer`.
pub const VIEWER: &str = include_str!("viewer/dist/viewer.js");

/// Style sheet of book and live page.
pub const STYLE: &str = include_str!("style.css");
