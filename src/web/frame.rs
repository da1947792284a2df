//! What every page that loads nothing has: its head, its contents and chapters, and the line at its foot.

use maud::{Markup, PreEscaped, html};

use super::STYLE;

/// Nothing is loaded and nothing runs.
pub const STILL: &str =
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
/// Nothing is loaded; scripts in the page run.
pub const WITH_SCRIPTS: &str = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// Title, policy, the shared style and then the page's own.
pub fn head(title: &str, policy: &str, styles: &[&str]) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta http-equiv="Content-Security-Policy" content=(policy);
            meta name="viewport" content="width=device-width, initial-scale=1";
            title { (title) }
            // An address of its own, so that no browser goes looking for an icon.
            link rel="icon" href="data:,";
            style { (PreEscaped(STYLE)) @for style in styles { (PreEscaped(style)) } }
        }
    }
}

/// Anchor, title and content.
pub type Chapter = (&'static str, &'static str, Markup);

/// The contents, and what they lead to.
pub fn chapters(chapters: &[Chapter]) -> Markup {
    html! {
        nav #contents aria-label="Contents" {
            ol { @for (id, title, _) in chapters { li { a href={ "#" (id) } { (title) } } } }
        }
        main {
            @for (id, title, content) in chapters {
                section id=(id) aria-labelledby={ (id) "-title" } {
                    h2 id={ (id) "-title" } { (title) }
                    (content)
                }
            }
        }
    }
}

pub fn foot() -> Markup {
    html! {
        footer { p { "Made by hubwright " (env!("CARGO_PKG_VERSION")) ". Estimates, not a certificate." } }
    }
}
