//! A file's text, kept so that a message can show the line it talks about.

use std::ops::Range;
use std::sync::Arc;

/// A text and the name it goes by in messages.
#[derive(Debug, PartialEq)]
pub struct SourceFile {
    /// As the user typed it, or relative to what the user typed; "-" is standard input.
    pub name: String,
    pub text: String,
}

/// A stretch of a file, in bytes.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    pub file: Arc<SourceFile>,
    pub span: Range<usize>,
}

impl Place {
    /// A place; the span is trimmed to the text and widened to whole characters.
    pub fn new(file: &Arc<SourceFile>, span: Range<usize>) -> Self {
        let text = &file.text;
        let mut start = span.start.min(text.len());
        let mut end = span.end.clamp(start, text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        while !text.is_char_boundary(end) {
            end += 1;
        }
        Place { file: Arc::clone(file), span: start..end }
    }

    /// The very start of a file: for what is missing from it altogether.
    pub fn start_of(file: &Arc<SourceFile>) -> Self {
        Place::new(file, 0..0)
    }

    /// Line and column of the first character, both from 1; the column counts characters.
    pub fn line_and_column(&self) -> (usize, usize) {
        let before = &self.file.text[..self.span.start];
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }

    /// The text itself.
    pub fn text(&self) -> &str {
        &self.file.text[self.span.clone()]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let file = Arc::new(SourceFile { name: "x".into(), text: "a\nüb = 1\n".into() });
        assert_eq!(Place::new(&file, 0..1).line_and_column(), (1, 1));
        assert_eq!(Place::new(&file, 4..5).line_and_column(), (2, 2));
        assert_eq!(Place::new(&file, 4..5).text(), "b");
    }

    #[test]
    fn spans_beyond_the_text_or_inside_a_character_are_mended() {
        let file = Arc::new(SourceFile { name: "x".into(), text: "ü".into() });
        assert_eq!(Place::new(&file, 1..1).span, 0..2);
        assert_eq!(Place::new(&file, 7..90).span, 2..2);
    }
}
