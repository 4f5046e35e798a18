//! The JSON schema of a rule book, made from the same description of keys that reading uses.

use serde_json::{Map, Value, json};

use crate::rulebook::{
    model::book::TABLES,
    rows::{Field, Kind, Many, Need},
};

/// Returns the JSON schema of a rule book, for editors that complete and check TOML by one.
pub fn schema() -> Value {
    let tables = TABLES.iter().map(|table| {
        let inner = fields(table.fields);
        let value = match table.many {
            Many::One => described(inner, table.help),
            Many::Any => described(json!({ "type": "array", "items": inner }), table.help),
        };
        (table.key.to_owned(), value)
    });
    let required: Vec<&str> =
        TABLES.iter().filter(|table| table.many == Many::One).map(|table| table.key).collect();
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Stillcall rule book",
        "type": "object",
        "additionalProperties": false,
        "required": required,
        "properties": tables.collect::<Map<String, Value>>(),
    })
}

fn fields(fields: &[Field]) -> Value {
    let properties: Map<String, Value> = fields
        .iter()
        .map(|field| (field.key.to_owned(), described(kind(field.kind), field.help)))
        .collect();
    let required: Vec<&str> =
        fields.iter().filter(|field| field.need == Need::Required).map(|field| field.key).collect();
    json!({
        "type": "object",
        "additionalProperties": false,
        "required": required,
        "properties": properties,
    })
}

fn described(mut value: Value, help: &str) -> Value {
    value["description"] = help.into();
    value
}

fn kind(kind: Kind) -> Value {
    let one_or_list = |item: Value| json!({ "anyOf": [item, { "type": "array", "items": item }] });
    match kind {
        Kind::Text => json!({ "type": ["string", "number"] }),
        Kind::Date | Kind::Defines(_) | Kind::Names(_) => json!({ "type": "string" }),
        Kind::NameByDivision(_) => json!({
            "anyOf": [
                { "type": "string" },
                { "type": "object", "additionalProperties": { "type": "string" } },
            ]
        }),
        Kind::Flag => json!({ "type": "boolean" }),
        Kind::Points | Kind::Degrees | Kind::Count | Kind::Seconds | Kind::Number => json!({
            "anyOf": [
                { "type": "number" },
                { "type": "string", "description": "Name of a number of the divisions." },
                { "type": "object", "additionalProperties": { "type": "number" } },
            ]
        }),
        Kind::OneOf(words) => json!({ "enum": words }),
        Kind::SomeOf(words) => one_or_list(json!({ "enum": words })),
        Kind::PointsList => one_or_list(json!({ "type": "number" })),
        Kind::Span => one_or_list(json!({ "type": "integer", "minimum": 0 })),
        Kind::Texts | Kind::DefinesSome(_) | Kind::NamesSome(_) => {
            one_or_list(json!({ "type": "string" }))
        }
        Kind::Table(inner) => fields(inner),
        Kind::Tables(inner) => one_or_list(fields(inner)),
        Kind::Numbers => {
            json!({ "type": "object", "additionalProperties": { "type": "number" } })
        }
    }
}
