//! The commented design file that `start` writes: every key, in the order of declaration.

use std::fmt::Write;

use super::key::{Key, Presence, Section, Takes};
use super::keys::{ALL_PARTS, DesignKeys};
use super::value::is_plain_name;

/// Optional keys that a beginner wants to set: written with their examples rather than commented out.
const SPOKEN: [&str; 7] = [
    "about",
    "requirement.peak_torque",
    "load.weight",
    "bearings.planet",
    "motor.name",
    "motor.kv",
    "motor.phase_resistance",
];
/// Column in which comments begin where the value leaves room.
const COMMENT_COLUMN: usize = 46;

/// The text of a new design file; none if the name isn't plain.
pub fn starting_file(name: &str) -> Option<String> {
    is_plain_name(name).then(|| {
        let mut writer = Writer { text: String::new() };
        writer.design(name);
        writer.text
    })
}

struct Writer {
    text: String,
}

impl Writer {
    fn line(&mut self, line: &str) {
        // Writing to a String cannot fail.
        let _ = writeln!(self.text, "{}", line.trim_end());
    }

    fn design(&mut self, name: &str) {
        self.line("# A robot joint. Quantities are texts with their unit (\"86 mm\", \"3.4 in\", \"16 N m\", \"10 lbf\"),");
        self.line("# counts and ratios bare numbers. Lines that begin with # are not read: they show what else can be");
        self.line("# set, with the value it has now or an example.");
        self.line("#");
        self.line(&format!("#   hubwright make {name}.toml"));
        self.line("");
        let (values, sections): (Vec<&Key>, Vec<&Key>) =
            DesignKeys::SECTION.keys.iter().partition(|key| key.takes.is_text());
        for key in values {
            let value = if key.name == "name" { name } else { "A joint of mine" };
            self.line(&format!("{} = {}", key.name, key.takes.toml(value)));
        }
        for key in sections {
            self.section_of(key, key.name);
        }
    }

    /// A section with the sections inside it.
    fn section_of(&mut self, key: &Key, path: &str) {
        match &key.takes {
            Takes::Section(section) => {
                let silent = matches!(key.presence, Presence::Optional { .. });
                self.heading(key, path, silent, ["[", "]"]);
                self.keys(section, path, silent);
            }
            Takes::Sections(section) => {
                self.heading(key, path, true, ["[[", "]]"]);
                self.keys(section, path, true);
            }
            Takes::Named { names, section } => {
                let is_parts = names.contains(&ALL_PARTS);
                let shown = if is_parts { ALL_PARTS } else { names.first().copied().unwrap_or_default() };
                self.heading(key, &format!("{path}.{shown}"), !is_parts, ["[", "]"]);
                self.comment(&format!("Names: {}.", names.join(", ")));
                self.keys(section, path, true);
            }
            _ => {}
        }
    }

    fn heading(&mut self, key: &Key, path: &str, silent: bool, [open, close]: [&str; 2]) {
        let mark = if silent { "# " } else { "" };
        self.line("");
        let header = format!("{mark}{open}{path}{close}");
        self.line(&format!("{header:<COMMENT_COLUMN$} # {}", key.about));
        if let Presence::Optional { without } = key.presence {
            self.comment(&format!("Left out: {without}"));
        }
    }

    fn comment(&mut self, text: &str) {
        const WIDTH: usize = 100;
        let mut line = String::from("#");
        for word in text.split(' ') {
            if line.len() + word.len() + 1 > WIDTH {
                self.line(&line);
                line = String::from("#");
            }
            line.push(' ');
            line.push_str(word);
        }
        self.line(&line);
    }

    /// The plain keys first, then the sections inside, as TOML wants it.
    fn keys(&mut self, section: &Section, path: &str, silent: bool) {
        // A list that has defaults reads best in one line, like any value.
        let is_table = |key: &&Key| match key.takes {
            Takes::Section(_) | Takes::Named { .. } => true,
            Takes::Sections(_) => matches!(key.presence, Presence::Default { value: "[]", .. }),
            _ => false,
        };
        for key in section.keys.iter().filter(|key| !is_table(key)) {
            self.key(key, &format!("{path}.{}", key.name), silent);
        }
        for key in section.keys.iter().filter(is_table) {
            let path = format!("{path}.{}", key.name);
            if silent {
                self.inline(key);
            } else {
                self.section_of(key, &path);
            }
        }
    }

    fn key(&mut self, key: &Key, path: &str, silent: bool) {
        let spoken = SPOKEN.contains(&path);
        let (value, active, more) = match key.presence {
            Presence::Required => (key.example, true, String::new()),
            Presence::Optional { without } => (key.example, spoken, format!(" Left out: {without}")),
            Presence::Default { value, reason } => (value, spoken, format!(" {reason}")),
        };
        let mark = if active && !silent { "" } else { "# " };
        let assignment = format!("{mark}{} = {}", key.name, key.takes.toml(value));
        self.line(&format!("{assignment:<COMMENT_COLUMN$} # {}{more}", key.about));
    }

    /// A section inside one that is commented out.
    fn inline(&mut self, key: &Key) {
        self.line(&format!("# {} = {}", key.name, key.takes.toml(key.example)));
    }
}
