//! What is said about a design, written only when it is read.

use std::fmt;
use std::sync::Arc;

use serde::{Serialize, Serializer};

/// A sentence or two, written when they are read: a search judges thousands of designs and reads few of them.
#[derive(Clone)]
pub struct Words(Told);

#[derive(Clone)]
enum Told {
    Always(&'static str),
    Later(Arc<dyn Fn() -> String + Send + Sync>),
}

impl Words {
    pub const NONE: Words = Words(Told::Always(""));
}

impl fmt::Display for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0 {
            Told::Always(text) => f.write_str(text),
            Told::Later(write) => f.write_str(&write()),
        }
    }
}

impl Serialize for Words {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl PartialEq for Words {
    fn eq(&self, other: &Words) -> bool {
        self.to_string() == other.to_string()
    }
}

impl fmt::Debug for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?}", self.to_string())
    }
}

impl From<&'static str> for Words {
    fn from(text: &'static str) -> Words {
        Words(Told::Always(text))
    }
}

impl From<String> for Words {
    fn from(text: String) -> Words {
        (move || text.clone()).into()
    }
}

impl<F: Fn() -> String + Send + Sync + 'static> From<F> for Words {
    fn from(write: F) -> Words {
        Words(Told::Later(Arc::new(write)))
    }
}
