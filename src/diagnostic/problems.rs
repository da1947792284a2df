//! Collects everything that is wrong with an input, so that it can be told at once.

use super::{Diagnostic, Severity};

/// What a stage has found so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Problems {
    list: Vec<Diagnostic>,
}

impl Problems {
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.list.push(diagnostic);
    }

    /// Unless the same was said already.
    pub fn push_once(&mut self, diagnostic: Diagnostic) {
        if !self.list.contains(&diagnostic) {
            self.push(diagnostic);
        }
    }

    /// Whether anything found stops the work.
    pub fn has_errors(&self) -> bool {
        self.list.iter().any(|diagnostic| diagnostic.severity == Severity::Error)
    }

    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    pub fn iter(&self) -> std::slice::Iter<'_, Diagnostic> {
        self.list.iter()
    }

    /// Sorts by file, then by place; what has no place comes first. The design file comes before the files it takes
    /// values from, since it was read first.
    pub fn sort(&mut self) {
        let mut files: Vec<String> = Vec::new();
        for place in self.list.iter().filter_map(|diagnostic| diagnostic.place.as_ref()) {
            if !files.contains(&place.file.name) {
                files.push(place.file.name.clone());
            }
        }
        self.list.sort_by_key(|diagnostic| {
            diagnostic.place.as_ref().map(|place| {
                let file = files.iter().position(|name| *name == place.file.name);
                (file, place.span.start, place.span.end)
            })
        });
    }
}

impl From<Diagnostic> for Problems {
    fn from(diagnostic: Diagnostic) -> Self {
        Problems { list: vec![diagnostic] }
    }
}

impl Extend<Diagnostic> for Problems {
    fn extend<T: IntoIterator<Item = Diagnostic>>(&mut self, diagnostics: T) {
        self.list.extend(diagnostics);
    }
}

impl IntoIterator for Problems {
    type Item = Diagnostic;
    type IntoIter = std::vec::IntoIter<Diagnostic>;

    fn into_iter(self) -> Self::IntoIter {
        self.list.into_iter()
    }
}
