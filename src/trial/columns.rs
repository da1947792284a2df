//! What a log may hold: the kinds of test and the columns, each declared once.

use crate::quantity::Kind;

/// What a row was measured at. Which numbers each kind needs stands in [`TestKind::needs`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TestKind {
    /// Leads open, the rotor turned by a drill.
    Spin,
    /// Direct current through two leads.
    Resistance,
    /// The motor alone, turning freely; the current is the supply's.
    NoLoad,
    /// Output held by lever and scale, current raised and lowered.
    Torque,
    /// The whole joint, turning freely under the drive.
    FreeRun,
    /// Power off, the output turned slowly by lever and scale.
    BackDrive,
    /// Power off, the torque at which the output begins to turn.
    BreakAway,
    /// Rotor, leads open: the torque at which it snaps over.
    Cogging,
    /// Rotor held, the output rocked lightly: its free turn.
    Backlash,
    /// Rotor held, the output twisted both ways.
    Stiffness,
    /// Output held, current on: temperatures over time.
    Heat,
    /// Output free, all of the supply's voltage.
    TopSpeed,
}

/// How a test is written and what it needs.
#[derive(Debug)]
pub struct TestInfo {
    pub kind: TestKind,
    /// In the log's first column.
    pub word: &'static str,
    pub title: &'static str,
    /// One of each list must be there.
    pub needs: &'static [&'static [Column]],
    /// What it identifies.
    pub identifies: &'static str,
}

/// A column of the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Column {
    Time,
    Current,
    Voltage,
    Torque,
    Force,
    Lever,
    Speed,
    RotorSpeed,
    Angle,
    Winding,
    Mount,
    Ambient,
}

/// How a column is written and what it measures.
#[derive(Debug)]
pub struct ColumnInfo {
    pub column: Column,
    pub name: &'static str,
    pub kind: Kind,
    pub about: &'static str,
}

/// How many columns there are.
pub const COLUMNS: usize = COLUMN_TABLE.len();

/// In the order of [`Column`].
pub const COLUMN_TABLE: [ColumnInfo; 12] = [
    column(Column::Time, "time", Kind::Time, "rising within a test; needed by heat"),
    column(
        Column::Current,
        "current",
        Kind::Current,
        "peak of the sine in one phase; of the supply in no-load; direct in resistance",
    ),
    column(
        Column::Voltage,
        "voltage",
        Kind::Voltage,
        "between two leads: peak in spin, direct in resistance; of the supply in top-speed",
    ),
    column(Column::Torque, "torque", Kind::Torque, "at the output; at the rotor in cogging"),
    column(Column::Force, "force", Kind::Weight, "what the scale shows, in place of torque"),
    column(Column::Lever, "lever", Kind::Length, "axis to scale, with force"),
    column(Column::Speed, "speed", Kind::RotationalSpeed, "of the output"),
    column(Column::RotorSpeed, "rotor_speed", Kind::RotationalSpeed, "of the rotor"),
    column(Column::Angle, "angle", Kind::Angle, "of the output"),
    column(Column::Winding, "winding", Kind::Temperature, "of the winding"),
    column(Column::Mount, "mount", Kind::Temperature, "of the plate behind the motor"),
    column(Column::Ambient, "ambient", Kind::Temperature, "of the air around"),
];

const fn column(column: Column, name: &'static str, kind: Kind, about: &'static str) -> ColumnInfo {
    ColumnInfo { column, name, kind, about }
}

/// The column with the kind of test in it.
pub const TEST: &str = "test";
/// A column for the reader's own words.
pub const NOTE: &str = "note";

const PULL: &[Column] = &[Column::Torque, Column::Force];

/// In the order of [`TestKind`], which is the order in which they are told.
pub const TESTS: [TestInfo; 12] = [
    test(
        TestKind::Spin,
        "spin",
        "Voltage between two open leads over rotor speed",
        &[&[Column::RotorSpeed], &[Column::Voltage]],
        "torque constant, Kv",
    ),
    test(
        TestKind::Resistance,
        "resistance",
        "Voltage over direct current through two leads",
        &[&[Column::Current], &[Column::Voltage]],
        "phase resistance at 20 degC",
    ),
    test(
        TestKind::NoLoad,
        "no-load",
        "Supply current of the motor alone over its speed",
        &[&[Column::Current], &[Column::RotorSpeed]],
        "no-load current, the motor's drag",
    ),
    test(
        TestKind::Torque,
        "torque",
        "Torque at the output over current",
        &[&[Column::Current], PULL],
        "torque per ampere at the output, saturation, friction at rest, efficiency (with spin)",
    ),
    test(
        TestKind::FreeRun,
        "free-run",
        "Current of the joint turning freely",
        &[&[Column::Current], &[Column::Speed]],
        "Coulomb and viscous friction at the rotor",
    ),
    test(
        TestKind::BackDrive,
        "back-drive",
        "Torque that turns the output, power off",
        &[PULL],
        "back-drive torque, drag",
    ),
    test(
        TestKind::BreakAway,
        "break-away",
        "Torque at which the output begins to turn, power off",
        &[PULL],
        "static friction",
    ),
    test(TestKind::Cogging, "cogging", "Torque at which the rotor snaps over", &[PULL], "cogging torque"),
    test(
        TestKind::Backlash,
        "backlash",
        "Free turn of the output at several places",
        &[&[Column::Angle]],
        "backlash",
    ),
    test(
        TestKind::Stiffness,
        "stiffness",
        "Turn of the output under torque, rotor held",
        &[PULL, &[Column::Angle]],
        "stiffness, backlash",
    ),
    test(
        TestKind::Heat,
        "heat",
        "Temperatures over time",
        &[&[Column::Time], &[Column::Current], &[Column::Ambient], &[Column::Winding, Column::Mount]],
        "thermal resistances and capacities of winding and mount",
    ),
    test(
        TestKind::TopSpeed,
        "top-speed",
        "Speed of the free output at the supply's voltage",
        &[&[Column::Speed], &[Column::Voltage]],
        "nothing: held against the prediction",
    ),
];

const fn test(
    kind: TestKind,
    word: &'static str,
    title: &'static str,
    needs: &'static [&'static [Column]],
    identifies: &'static str,
) -> TestInfo {
    TestInfo { kind, word, title, needs, identifies }
}

impl Column {
    pub fn info(self) -> &'static ColumnInfo {
        // The table is in the order of the enum (tested), so the index is always inside it.
        &COLUMN_TABLE[self as usize]
    }

    pub fn named(name: &str) -> Option<Column> {
        COLUMN_TABLE.iter().find(|info| info.name == name).map(|info| info.column)
    }
}

impl TestKind {
    pub fn info(self) -> &'static TestInfo {
        // As above.
        &TESTS[self as usize]
    }

    pub fn word(self) -> &'static str {
        self.info().word
    }

    /// Columns of which one each must be filled.
    pub fn needs(self) -> &'static [&'static [Column]] {
        self.info().needs
    }

    pub fn named(word: &str) -> Option<TestKind> {
        TESTS.iter().find(|info| info.word == word).map(|info| info.kind)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_are_in_the_order_of_their_enums() {
        for (index, info) in COLUMN_TABLE.iter().enumerate() {
            assert_eq!(info.column as usize, index);
        }
        for (index, info) in TESTS.iter().enumerate() {
            assert_eq!(info.kind as usize, index);
            assert_eq!(TestKind::named(info.word), Some(info.kind));
        }
    }
}
