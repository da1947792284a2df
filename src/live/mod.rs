//! The live page: a design looked at and changed in a browser on the same machine.
//!
//! ```text
//! file --watch--> Session (text, version, draft, undo) --maker--> geometry first, then fine geometry and figures
//!                    ^  edits                                        |
//!                 server <------------- page <----- events ----------+
//! ```

mod edit; // a value written into the text of a design, the rest kept
mod fields; // the keys the page offers
mod figures; // torque, mass, life and checks as the page shows them
mod maker; // geometry at once, then what takes longer
mod server; // loopback HTTP and who may ask
mod session; // the design as it stands, shared by all browsers
mod watch; // changes of the files on the disk

pub use server::{Started, router, start};
pub use session::Session;
