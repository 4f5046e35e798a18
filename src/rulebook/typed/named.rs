//! What a row names.

use std::collections::{BTreeMap, BTreeSet};

use crate::rulebook::{
    kinds::element::Element,
    model::book::TABLES,
    rows::{Field, Kind, Row, Space, Value, Walked},
};

/// The names that a row gives or is called by, by what they name.
#[derive(Debug, Default)]
pub(crate) struct Named(BTreeMap<Space, BTreeSet<String>>);

impl Named {
    /// Returns the names of one row, and those of the rules that it names or takes together by a group:
    /// through them it takes effect.
    pub(super) fn of(walked: &Walked, (table, row): (&str, &Row)) -> Self {
        let mut named = Self::default();
        named.add_table(table, row);
        let mut through = Self::default();
        for (other, rows) in &walked.tables {
            for rule in rows.iter().filter(|it| named.has_rule(it.word("id"), &it.texts("group"))) {
                through.add_table(other, rule);
            }
        }
        for (space, names) in through.0 {
            // Of other rules' groups it says nothing.
            if space != Space::Group {
                named.0.entry(space).or_default().extend(names);
            }
        }
        named
    }

    /// Returns whether an element of this id is named.
    pub(crate) fn has_element(&self, id: &str) -> bool {
        self.has(Space::Element, id)
    }

    /// Returns whether the element is named, by its id, a tag or a class.
    pub(crate) fn is_of(&self, element: &Element) -> bool {
        self.has_element(&element.id)
            || element.tags.iter().any(|tag| self.has(Space::Tag, tag))
            || element.classes().any(|class| self.has(Space::Class, class))
    }

    /// Returns whether a rule is named, by its id or a group.
    pub(crate) fn has_rule(&self, id: &str, groups: &[String]) -> bool {
        let of = [Space::Rule, Space::Angle, Space::Requirement];
        of.iter().any(|space| self.has(*space, id))
            || groups.iter().any(|group| self.has(Space::Group, group))
    }

    /// Returns whether a group is named.
    pub(crate) fn has_group(&self) -> bool {
        self.0.get(&Space::Group).is_some_and(|names| !names.is_empty())
    }

    fn has(&self, space: Space, name: &str) -> bool {
        self.0.get(&space).is_some_and(|names| names.contains(name))
    }

    fn add_table(&mut self, table: &str, row: &Row) {
        let spec = TABLES.iter().find(|spec| spec.key == table);
        self.add(spec.map_or(&[][..], |spec| spec.fields), row);
    }

    fn add(&mut self, fields: &[Field], row: &Row) {
        for (key, cell) in row.cells() {
            let Some(field) = fields.iter().find(|field| field.key == key) else { continue };
            match (field.kind, &cell.value) {
                (Kind::Table(fields), Value::Row(row)) => self.add(fields, row),
                (Kind::Tables(fields), Value::Rows(rows)) => {
                    for row in rows {
                        self.add(fields, row);
                    }
                }
                (
                    Kind::Names(space)
                    | Kind::NameByDivision(space)
                    | Kind::NamesSome(space)
                    | Kind::Defines(space),
                    Value::Text(name),
                ) => self.put(space, name),
                // Of its own tags only rules speak.
                (
                    Kind::NamesSome(space) | Kind::DefinesSome(space @ Space::Group),
                    Value::Texts(names),
                ) => {
                    for name in names {
                        self.put(space, name);
                    }
                }
                _ => {}
            }
        }
    }

    fn put(&mut self, space: Space, name: &str) {
        self.0.entry(space).or_default().insert(name.to_owned());
    }
}
