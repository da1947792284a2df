//! The design file: text to spans to typed values to a resolved [`Design`].
//!
//! ```text
//! file --file--> text --document--> tree with places --reader--> keys --rules, bearings--> keys --resolve--> Design
//!                                                       ^
//!                                    keys/ declares them once, by section
//! ```

pub(crate) mod bearings; // designations to rows
mod defaults; // all of them, as a table
pub(crate) mod document; // TOML as a tree that knows its places
mod duty; // torque and speed over time, a file of its own
pub(crate) mod file; // reading, and `from`
pub(crate) mod key; // what a key is
pub(crate) mod keys; // the keys, a file a section
mod load; // start to end
mod measured; // values that a trial measured
mod model; // the resolved design
pub mod motor_constants; // Kv to torque constants, current to torque
pub(crate) mod reader; // sections out of a tree, with all that is wrong
mod records; // bench readings of a motor to its constants
pub(crate) mod resolve; // defaults that depend on other keys
pub(crate) mod rules; // contradictions between keys
mod schema; // JSON Schema of the file
pub(crate) mod section; // the macro that declares a section
mod start; // the file of `start`
pub(crate) mod suggest; // did you mean
pub(crate) mod value; // how a value of each type is read and shown

pub use defaults::defaults;
pub use duty::{DutyFault, DutyFaults, DutyRow, parse as parse_duty};
pub use load::{Loaded, load, load_text};
pub use measured::{MARK as MEASURED, Measured};
pub use model::*;
pub use records::{VoltageReading, kv_from_spinning, line_resistance_by_drop};
pub use schema::schema;
pub(crate) use schema::{schema_of, section_schema};
pub use start::starting_file;
pub use value::PLAIN_NAME;

/// The declaration of a key by its dotted path.
pub(crate) fn declared(path: &str) -> Option<&'static key::Key> {
    use key::Takes;
    let mut section = keys::DesignKeys::SECTION;
    let mut names = path.split('.').peekable();
    loop {
        let name = names.next()?;
        let found = section.keys.iter().find(|key| key.name == name)?;
        if names.peek().is_none() {
            return Some(found);
        }
        section = match found.takes {
            Takes::Section(below) => below,
            Takes::Named { names: known, section } => {
                names.next().filter(|name| known.contains(name))?;
                section
            }
            _ => return None,
        };
    }
}
