//! The sheet: frame after ISO 5457, a title block of our own with the fields of ISO 7200, texts that know their boxes.

use crate::geometry::Point;

use super::canvas::{Canvas, number};

/// Wide lines 0.5, narrow ones 0.25 and 0.18 for hatching (line group of ISO 128-2). Letters' heights after ISO 3098: capitals are
/// about 0.72 of the font's size.
const STYLE: &str = "\
text{font-family:'Liberation Sans',Arial,Helvetica,sans-serif;font-size:3.4px;fill:#000}
.tall{font-size:4.8px}.small{font-size:2.6px}.mid{text-anchor:middle}.end{text-anchor:end}
path,polyline,circle,rect{stroke-linecap:round;stroke-linejoin:round}
.face{fill:#fff;stroke:none}.solid{fill:#000;stroke:none}.tint{fill:#e6e6e6;stroke:none}
.wide{fill:none;stroke:#000;stroke-width:.5px}.medium{fill:none;stroke:#000;stroke-width:.35px}
.narrow{fill:none;stroke:#000;stroke-width:.25px}.hatch{fill:none;stroke:#000;stroke-width:.13px}
.behind{fill:none;stroke:#000;stroke-width:.25px}
.chain{fill:none;stroke:#000;stroke-width:.25px;stroke-dasharray:6 1 .5 1;stroke-linecap:butt}
.dashed{fill:none;stroke:#000;stroke-width:.25px;stroke-dasharray:2.2 .9;stroke-linecap:butt}
.ball{fill:#fff;stroke:#000;stroke-width:.35px}.balloon{fill:#fff;stroke:#000;stroke-width:.25px}
.arrow,.dot{fill:#000;stroke:none}.mask{fill:#fff;stroke:none}
";

/// A3 across \[mm\].
pub const WIDTH: f64 = 420.0;
pub const HEIGHT: f64 = 297.0;
/// Edge for filing, and the other edges (ISO 5457).
const LEFT: f64 = 20.0;
const EDGE: f64 = 10.0;
/// Title block.
const TITLE: Point = Point::new(78.0, 54.0);

/// Height of capitals \[mm\].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Letters {
    Small,
    Normal,
    Tall,
}

impl Letters {
    fn class(self) -> &'static str {
        match self {
            Letters::Small => "small",
            Letters::Normal => "normal",
            Letters::Tall => "tall",
        }
    }

    /// Of the font \[mm\].
    pub fn size(self) -> f64 {
        match self {
            Letters::Small => 2.6,
            Letters::Normal => 3.4,
            Letters::Tall => 4.8,
        }
    }
}

/// Breadth of words, on the safe side: letters of common sans-serif fonts are 0.5 to 0.56 of their size in the mean.
pub fn breadth(words: &str, letters: Letters) -> f64 {
    let wide = |letter: char| match letter {
        'i' | 'l' | 'j' | '.' | ',' | '\'' | '|' | ' ' | 'f' | 't' | 'r' | '(' | ')' | ':' | '-' => 0.34,
        'm' | 'w' | 'M' | 'W' | '\u{d8}' | '@' => 0.86,
        letter if letter.is_ascii_uppercase() => 0.7,
        _ => 0.57,
    };
    words.chars().map(wide).sum::<f64>() * letters.size()
}

/// Where a text's anchor is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// What a title block says.
#[derive(Clone, Debug, Default)]
pub struct Title {
    pub name: String,
    pub of: String,
    pub material: String,
    pub scale: f64,
    /// Three short lines at the most.
    pub notes: Vec<String>,
}

/// A sheet as it grows.
#[derive(Debug, Default)]
pub struct Sheet {
    pub canvas: Canvas,
}

/// Inside of the frame: least and greatest corner.
pub fn frame() -> [Point; 2] {
    [Point::new(LEFT, EDGE), Point::new(WIDTH - EDGE, HEIGHT - EDGE)]
}

/// Upper left corner of the title block.
pub fn title_corner() -> Point {
    frame()[1] - TITLE
}

/// Largest scale of ISO 5455, to the middle ones between whole steps left out, at which a size fits in a room; 1:10 if none does.
pub fn scale(size: Point, room: Point) -> f64 {
    const SCALES: [f64; 7] = [10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1];
    SCALES.into_iter().find(|scale| size.x * scale <= room.x && size.y * scale <= room.y).unwrap_or(0.1)
}

/// As "2:1".
pub fn scale_text(scale: f64) -> String {
    if scale >= 1.0 { format!("{scale}:1") } else { format!("1:{}", (1.0 / scale).round()) }
}

impl Sheet {
    pub fn text(&mut self, at: Point, words: &str, letters: Letters, anchor: Anchor) {
        let class = class(letters, anchor);
        self.canvas.text(&class, at, words);
    }

    pub fn text_upright(&mut self, at: Point, words: &str) {
        self.canvas.text_upright(&class(Letters::Normal, Anchor::Middle), at, words);
    }

    /// Frame, centring marks and title block round what is drawn.
    pub fn finish(mut self, title: &Title) -> String {
        let [low, high] = frame();
        self.canvas.rectangle("wide", low, high);
        let middle = Point::new(WIDTH / 2.0, HEIGHT / 2.0);
        self.canvas.strokes(
            "wide",
            &[
                [Point::new(middle.x, 5.0), Point::new(middle.x, low.y + 5.0)],
                [Point::new(middle.x, HEIGHT - 5.0), Point::new(middle.x, high.y - 5.0)],
                [Point::new(low.x - 5.0, middle.y), Point::new(low.x + 5.0, middle.y)],
                [Point::new(WIDTH - 5.0, middle.y), Point::new(high.x - 5.0, middle.y)],
            ],
        );
        self.title(title);
        let heading = format!("{} of {}", title.name, title.of);
        self.canvas.finish_styled(WIDTH, HEIGHT, &heading, STYLE)
    }

    fn title(&mut self, title: &Title) {
        let corner = title_corner();
        let [_, high] = frame();
        self.canvas.rectangle("face", corner, high);
        self.canvas.rectangle("wide", corner, high);
        let at = |x: f64, y: f64| corner + Point::new(x, y);
        self.canvas.strokes(
            "narrow",
            &[
                [at(0.0, 11.0), at(TITLE.x, 11.0)],
                [at(0.0, 21.0), at(TITLE.x, 21.0)],
                [at(0.0, 31.0), at(TITLE.x, 31.0)],
                [at(56.0, 11.0), at(56.0, 31.0)],
                [at(52.0, 31.0), at(52.0, TITLE.y)],
            ],
        );
        let fields = [
            (2.0, 0.0, "Title", title.name.as_str(), Letters::Tall),
            (2.0, 11.0, "Product", title.of.as_str(), Letters::Normal),
            (58.0, 11.0, "Scale", &scale_text(title.scale), Letters::Normal),
            (2.0, 21.0, "Material", title.material.as_str(), Letters::Normal),
            (58.0, 21.0, "Sheet", "1/1, A3", Letters::Normal),
        ];
        for (x, y, label, words, letters) in fields {
            self.text(at(x, y + 3.2), label, Letters::Small, Anchor::Start);
            let base = if letters == Letters::Tall { 8.9 } else { 8.0 };
            self.text(at(x, y + base), words, letters, Anchor::Start);
        }
        let version = format!("hubwright {}", env!("CARGO_PKG_VERSION"));
        let lines =
            [title.notes.as_slice(), &["Millimetres; as it should come out".to_owned(), version]].concat();
        for (index, line) in lines.iter().enumerate() {
            self.text(at(2.0, 34.8 + 4.0 * index as f64), line, Letters::Small, Anchor::Start);
        }
        self.projection_symbol(at(65.0, 42.5));
    }

    /// First angle (ISO 5456-2): the cone, then to its right its view from the left.
    fn projection_symbol(&mut self, middle: Point) {
        let at = |x: f64, y: f64| middle + Point::new(x, y);
        let cone = [at(-9.0, -2.0), at(-2.0, -4.0), at(-2.0, 4.0), at(-9.0, 2.0), at(-9.0, -2.0)];
        self.canvas.lines("medium", &cone);
        for radius in [2.0, 4.0] {
            self.canvas.circle("medium", at(6.0, 0.0), radius);
        }
        self.canvas.strokes(
            "narrow",
            &[[at(-10.5, 0.0), at(-0.5, 0.0)], [at(1.0, 0.0), at(11.0, 0.0)], [at(6.0, -5.0), at(6.0, 5.0)]],
        );
    }
}

fn class(letters: Letters, anchor: Anchor) -> String {
    match anchor {
        Anchor::Start => letters.class().to_owned(),
        Anchor::Middle => format!("{} mid", letters.class()),
        Anchor::End => format!("{} end", letters.class()),
    }
}

/// A size as a dimension writes it: to a hundredth, without zeros behind.
pub fn size_text(value: f64) -> String {
    number((value * 100.0).round() / 100.0)
}
