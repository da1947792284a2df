//! From the text of a design file to a layout, and what is said about a wrong one.

mod diagnostics; // the whole text of every refusal, as a user sees it
mod file; // demos, defaults, `from`, the schema, the file of `start`
mod layout; // every condition of the layout, broken once
mod random; // nothing a file can hold makes the reader panic

#[path = "../support/mod.rs"]
mod support;
