//! Diagnostics as text for people and as JSON for machines.

use std::io::IsTerminal;
use std::ops::Range;

use annotate_snippets::{Annotation, AnnotationKind, Element, Level, Message, Renderer, Snippet};
use serde_json::{Value, json};

use super::{Diagnostic, Place, Problems, Severity};

/// Longest source line shown; anything longer is no line a person wrote.
const LONGEST_LINE: usize = 400;

/// Whether messages on standard error may be coloured: a terminal, and the user hasn't said no
/// (<https://no-color.org>: any non-empty value of NO_COLOR).
pub fn colour_wanted() -> bool {
    let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    !refused && std::io::stderr().is_terminal()
}

/// All problems as text, each with the source line it talks about, and a closing count.
pub fn render(problems: &Problems, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut text = String::new();
    for diagnostic in problems.iter() {
        text.push_str(&render_one(diagnostic, &renderer));
        text.push_str("\n\n");
    }
    text.push_str(&closing_line(problems));
    text
}

fn render_one(diagnostic: &Diagnostic, renderer: &Renderer) -> String {
    let level = match diagnostic.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = level.primary_title(printable(&diagnostic.message)).id(diagnostic.code.name());
    let found = printable(&diagnostic.found);
    let mut elements: Vec<Element<'_>> = Vec::new();
    match &diagnostic.place {
        Some(place) => elements.push(snippet(place, &found).into()),
        None if !found.is_empty() => elements.push(named("found", &found).into()),
        None => {}
    }
    for (name, said) in [("expected", &diagnostic.expected), ("example", &diagnostic.example)] {
        if !said.is_empty() {
            elements.push(named(name, &printable(said)).into());
        }
    }
    if !diagnostic.hint.is_empty() {
        elements.push(Level::HELP.message(printable(&diagnostic.hint)).into());
    }
    renderer.render(&[title.elements(elements)])
}

/// "expected: ..." under the source line.
fn named(name: &'static str, said: &str) -> Message<'static> {
    Level::NOTE.with_name(name).message(said.to_string())
}

/// The source line of a place, with the place marked.
fn snippet(place: &Place, found: &str) -> Snippet<'static, Annotation<'static>> {
    let (line, range) = marked_line(place);
    let (line_number, _) = place.line_and_column();
    let mark = AnnotationKind::Primary.span(range);
    let mark = if found.is_empty() { mark } else { mark.label(format!("found {found}")) };
    Snippet::source(line).line_start(line_number).path(place.file.name.clone()).annotation(mark)
}

/// The line a place starts in, made printable, and the marked range inside it. A place of several lines is marked in
/// its first one.
fn marked_line(place: &Place) -> (String, Range<usize>) {
    let text = &place.file.text;
    let Range { start, end } = place.span;
    let line_start = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
    let line_end = text[start..].find('\n').map_or(text.len(), |newline| start + newline);
    let end = end.min(line_end);
    let before = printable(&text[line_start..start]);
    let marked = printable(&text[start..end]);
    let after = printable(&text[end..line_end]);
    if before.len() + marked.len() + after.len() > LONGEST_LINE {
        let shown: String = marked.chars().take(LONGEST_LINE / 4).collect();
        let range = 4..4 + shown.len();
        return (format!("... {shown} ..."), range);
    }
    let range = before.len()..before.len() + marked.len();
    (format!("{before}{marked}{after}"), range)
}

/// Control characters would disturb the terminal, and tabs the marks under the line.
fn printable(text: &str) -> String {
    let shown = |character: char| match character {
        '\t' => ' ',
        '\n' => '\n',
        _ if character.is_control() => '\u{fffd}',
        _ => character,
    };
    text.chars().filter(|character| *character != '\r').map(shown).collect()
}

fn closing_line(problems: &Problems) -> String {
    let count = |severity| problems.iter().filter(|diagnostic| diagnostic.severity == severity).count();
    let counted = |number: usize, noun: &str| match number {
        0 => None,
        1 => Some(format!("1 {noun}")),
        _ => Some(format!("{number} {noun}s")),
    };
    let parts: Vec<String> =
        [(Severity::Error, "error"), (Severity::Warning, "warning"), (Severity::Note, "note")]
            .into_iter()
            .filter_map(|(severity, noun)| counted(count(severity), noun))
            .collect();
    if parts.is_empty() { String::new() } else { format!("{}\n", parts.join(", ")) }
}

/// All problems as a JSON array; keys that have nothing to say are null.
pub fn to_json(problems: &Problems) -> Value {
    Value::Array(problems.iter().map(one_to_json).collect())
}

fn one_to_json(diagnostic: &Diagnostic) -> Value {
    let said = |text: &str| if text.is_empty() { Value::Null } else { Value::String(text.into()) };
    let place = diagnostic.place.as_ref();
    let position = place.map(Place::line_and_column);
    json!({
        "severity": diagnostic.severity.as_str(),
        "code": diagnostic.code.name(),
        "message": diagnostic.message,
        "file": place.map(|place| place.file.name.as_str()),
        "line": position.map(|(line, _)| line),
        "column": position.map(|(_, column)| column),
        "key": said(&diagnostic.key),
        "found": said(&diagnostic.found),
        "expected": said(&diagnostic.expected),
        "example": said(&diagnostic.example),
        "hint": said(&diagnostic.hint),
    })
}
