//! Every kind of fault, each with a name that stays and one line of explanation.

/// Declares the codes once: variant, name, description.
macro_rules! codes {
    ($($variant:ident $name:literal $description:literal;)*) => {
        /// The kind of a fault.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code {
            $(#[doc = $description] $variant,)*
        }

        impl Code {
            pub const ALL: &'static [Code] = &[$(Code::$variant,)*];

            /// The name in messages and in JSON: stays the same from version to version.
            pub fn name(self) -> &'static str {
                match self { $(Code::$variant => $name,)* }
            }

            /// What the code means, in one line.
            pub fn description(self) -> &'static str {
                match self { $(Code::$variant => $description,)* }
            }
        }
    };
}

codes! {
    // The file as a whole.
    FileMissing "file-missing" "There is no file of this name.";
    FileUnreadable "file-unreadable" "The file is there, but cannot be read: a folder, or no permission.";
    FileTooLarge "file-too-large" "No design file is this large.";
    FileNotText "file-not-text" "The file is not UTF-8 text.";
    FileEmpty "file-empty" "The file says nothing.";
    Syntax "syntax" "The text is not TOML.";

    // Keys and values.
    UnknownKey "unknown-key" "The key is not one the design file knows.";
    MissingKey "missing-key" "A key without a default is not there.";
    WrongType "wrong-type" "The value is of another type than the key takes.";
    NoUnit "no-unit" "A dimensional value without its unit.";
    UnknownUnit "unknown-unit" "The unit is not known.";
    WrongUnit "wrong-unit" "The unit measures something else.";
    NotANumber "not-a-number" "The text does not start with a number.";
    NotFinite "not-finite" "The value is not a finite number.";
    OutOfRange "out-of-range" "The value is outside the range that makes sense.";
    NotAChoice "not-a-choice" "The value is not one of the choices.";

    // Several keys together, and the tables.
    Conflict "conflict" "Two values contradict each other.";
    UnknownBearing "unknown-bearing" "The designation is neither in the bearing table nor among the design's own rows.";
    UnknownMaterial "unknown-material" "The material is not in the material table.";
    WrongDuty "wrong-duty" "A line of the duty's file can't be used.";
    WrongLog "wrong-log" "A line of the bench log can't be used.";

    // `from`.
    FromRefused "from-refused" "`from` may only name a file beside or below the design, or in a `designs` folder above it.";
    FromCycle "from-cycle" "Files take values from each other in a circle.";

    // A design on another motor.
    CarriedOver "carried-over" "A value was chosen or measured for the motor that the design had before.";

    // Later stages.
    CannotBuild "cannot-build" "The design is well written, but no actuator can be built from it.";

    // Outputs.
    CannotWrite "cannot-write" "An output could not be written.";
}

#[cfg(test)]
mod tests {
    use super::Code;

    #[test]
    fn every_code_has_its_own_name_and_a_sentence() {
        for code in Code::ALL {
            let name = code.name();
            assert!(name.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{name}");
            assert_eq!(Code::ALL.iter().filter(|other| other.name() == name).count(), 1, "{name} twice");
            let description = code.description();
            assert!(description.ends_with('.') && description.len() > 15, "{name}: {description}");
        }
    }
}
