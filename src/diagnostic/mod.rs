//! What the tool has to say about an input: one type, rendered only at the edge.
//!
//! ```text
//! a stage finds a fault -> Diagnostic { code, place, found, expected, example, hint } -> Problems
//!                                                                                         |
//!                                                          text for people <- render -----+----- json -> for machines
//! ```

mod code; // the kinds of fault, with a line of explanation each
mod problems; // collects all that is wrong with an input
mod render; // text with the source line under it; JSON
mod source; // a file's text: offsets to lines and columns

pub use code::Code;
pub use problems::Problems;
pub use render::{colour_wanted, render, to_json};
pub use source::{Place, SourceFile};

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Nothing can be made from this input.
    Error,
    /// The input works, but probably not as meant.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    pub fn as_str(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// One fault of an input. Texts are plain sentences or fragments without markup; empty means "nothing to say".
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    pub severity: Severity,
    pub code: Code,
    /// What is wrong, in one sentence.
    pub message: String,
    /// Where, when a file and a place in it are known.
    pub place: Option<Place>,
    /// Dotted path of the key ("motor.outer_diameter"); empty for the file as a whole.
    pub key: String,
    pub found: String,
    pub expected: String,
    /// A line that would be right.
    pub example: String,
    pub hint: String,
}

impl Diagnostic {
    pub fn error(code: Code, message: impl Into<String>) -> Self {
        Diagnostic {
            severity: Severity::Error,
            code,
            message: message.into(),
            place: None,
            key: String::new(),
            found: String::new(),
            expected: String::new(),
            example: String::new(),
            hint: String::new(),
        }
    }

    pub fn warning(code: Code, message: impl Into<String>) -> Self {
        Diagnostic { severity: Severity::Warning, ..Diagnostic::error(code, message) }
    }

    pub fn note(code: Code, message: impl Into<String>) -> Self {
        Diagnostic { severity: Severity::Note, ..Diagnostic::error(code, message) }
    }

    pub fn at(mut self, place: Place) -> Self {
        self.place = Some(place);
        self
    }

    pub fn at_maybe(mut self, place: Option<Place>) -> Self {
        self.place = place;
        self
    }

    pub fn key(mut self, key: impl Into<String>) -> Self {
        self.key = key.into();
        self
    }

    pub fn found(mut self, found: impl Into<String>) -> Self {
        self.found = found.into();
        self
    }

    pub fn expected(mut self, expected: impl Into<String>) -> Self {
        self.expected = expected.into();
        self
    }

    pub fn example(mut self, example: impl Into<String>) -> Self {
        self.example = example.into();
        self
    }

    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = hint.into();
        self
    }
}
