//! Declares a section: one list of keys gives the typed struct, the key table, reading and showing.

/// ```text
/// section! {
///     "What the section holds."
///     pub struct MotorKeys {
///         kv: f64 = Takes::Quantity { .. }, [required], "90 rpm/V", "No-load speed per volt.";
///         cost: f64 = Takes::Number { .. }, [optional "the bill of materials leaves it out"], "80", "Price.";
///         saturation: f64 = Takes::Number { .. }, [default "0.15" "Typical."], "0.15", "Torque lost at the limit.";
///     }
/// }
/// ```
macro_rules! section {
    (
        $about:literal $(shorthand $shorthand:literal)?
        pub struct $name:ident {
            $($field:ident: $type:ty = $takes:expr, [$($presence:tt)+], $example:literal, $meaning:literal;)*
        }
    ) => {
        #[doc = $about]
        #[derive(Clone, Debug)]
        pub struct $name {
            $(#[doc = $meaning] pub $field: section!(@field [$($presence)+] $type),)*
        }

        impl $name {
            pub const SECTION: &'static $crate::design::key::Section = &$crate::design::key::Section {
                about: $about,
                keys: &[$($crate::design::key::Key {
                    name: stringify!($field),
                    takes: $takes,
                    presence: section!(@presence [$($presence)+]),
                    example: $example,
                    about: $meaning,
                },)*],
                shorthand: section!(@shorthand $($shorthand)?),
            };

            pub fn from_table(
                table: &$crate::design::document::Table,
                reader: &mut $crate::design::reader::Reader,
            ) -> Self {
                let names: Vec<&str> = Self::SECTION.keys.iter().map(|key| key.name).collect();
                reader.check_names(table, &names);
                let mut keys = Self::SECTION.keys.iter();
                $name {
                    // As many keys as fields, in the same order: both come from one list.
                    $($field: match keys.next() {
                        Some(key) => $crate::design::reader::Field::read(table, key, reader),
                        None => unreachable!(),
                    },)*
                }
            }

            pub fn to_json(&self, shown: &mut $crate::design::reader::Shown) -> serde_json::Value {
                let mut map = serde_json::Map::new();
                let mut keys = Self::SECTION.keys.iter();
                $(if let Some(key) = keys.next()
                    && let Some(value) = $crate::design::reader::Field::show(&self.$field, key, shown)
                {
                    map.insert(key.name.into(), value);
                })*
                serde_json::Value::Object(map)
            }
        }

        impl $crate::design::reader::FromNode for $name {
            fn read(
                node: &$crate::design::document::Node,
                key: &'static $crate::design::key::Key,
                reader: &mut $crate::design::reader::Reader,
            ) -> Option<Self> {
                let table = reader.section_table(node, key, Self::SECTION)?;
                Some(Self::from_table(&table, reader))
            }

            fn any(_: &'static $crate::design::key::Key) -> Self {
                $crate::design::reader::any_section(Self::SECTION, Self::from_table)
            }

            fn show(
                &self,
                _: &'static $crate::design::key::Key,
                shown: &mut $crate::design::reader::Shown,
            ) -> serde_json::Value {
                self.to_json(shown)
            }
        }
    };

    (@field [required] $type:ty) => { $crate::design::reader::Entry<$type> };
    (@field [default $value:literal $reason:literal] $type:ty) => { $crate::design::reader::Entry<$type> };
    (@field [optional $without:literal] $type:ty) => { Option<$crate::design::reader::Entry<$type>> };

    (@presence [required]) => { $crate::design::key::Presence::Required };
    (@presence [default $value:literal $reason:literal]) => {
        $crate::design::key::Presence::Default { value: $value, reason: $reason }
    };
    (@presence [optional $without:literal]) => { $crate::design::key::Presence::Optional { without: $without } };

    (@shorthand) => { None };
    (@shorthand $name:literal) => { Some($name) };
}

/// Declares the words a key chooses from.
macro_rules! choice {
    ($type:ty { $($word:literal => $variant:expr,)+ }) => {
        impl $crate::design::value::Choice for $type {
            const WORDS: &'static [&'static str] = &[$($word,)+];
            fn all() -> Vec<Self> {
                vec![$($variant,)+]
            }
        }
        $crate::design::value::choice_from_node!($type);
    };
}

pub(crate) use {choice, section};
