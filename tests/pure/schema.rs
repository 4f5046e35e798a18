//! Books held against the schema that `rulebook schema` prints.
//!
//! The check below knows the keywords that the schema uses, after JSON Schema 2020-12, and refuses
//! any other, so that the schema cannot say more than is checked.

use std::fs;

use serde_json::{Map, Value, json};
use stillcall::rulebook::{Diagnostic, blank, read_beside, schema, shipped, shipped_text};

use crate::books::{
    P, Q, R,
    ask::{but, kinds},
};

/// Returns where the value breaks the schema, first of all; nothing where it does not.
pub(crate) fn breaks(schema: &Value, value: &Value, place: &str) -> Option<String> {
    let rules = schema.as_object().unwrap();
    rules.iter().find_map(|(keyword, rule)| breaks_one((keyword, rule), rules, value, place))
}

fn breaks_one(
    (keyword, rule): (&str, &Value),
    rules: &Map<String, Value>,
    value: &Value,
    place: &str,
) -> Option<String> {
    let inside =
        |schema: &Value, key: &str, value: &Value| breaks(schema, value, &format!("{place}/{key}"));
    let known = rules.get("properties").and_then(Value::as_object);
    match keyword {
        "$schema" | "title" | "description" => None,
        "type" => {
            let wanted = rule.as_array().map_or(std::slice::from_ref(rule), Vec::as_slice);
            let is = |word: &Value| is_of_type(value, word.as_str().unwrap());
            (!wanted.iter().any(is)).then(|| format!("{place} is not of the type {rule}"))
        }
        "enum" => {
            let listed = rule.as_array().unwrap().contains(value);
            (!listed).then(|| format!("{place} is none of {rule}"))
        }
        "minimum" => {
            let small = value.as_f64().is_some_and(|number| number < rule.as_f64().unwrap());
            small.then(|| format!("{place} is below {rule}"))
        }
        "anyOf" => {
            let fits =
                rule.as_array().unwrap().iter().any(|one| breaks(one, value, place).is_none());
            (!fits).then(|| format!("{place} fits none of several"))
        }
        "items" => {
            let mut items = value.as_array().into_iter().flatten().enumerate();
            items.find_map(|(at, item)| inside(rule, &at.to_string(), item))
        }
        "properties" => {
            let mut own = value.as_object().into_iter().flatten();
            own.find_map(|(key, value)| inside(rule.get(key)?, key, value))
        }
        "required" => {
            let missing =
                |key: &&Value| value.is_object() && value.get(key.as_str().unwrap()).is_none();
            let missing = rule.as_array().unwrap().iter().find(missing);
            missing.map(|key| format!("{place} has no {key}"))
        }
        "additionalProperties" => {
            let own = value.as_object().into_iter().flatten();
            let mut more =
                own.filter(|(key, _)| known.is_none_or(|known| !known.contains_key(*key)));
            match rule {
                Value::Bool(allowed) => more
                    .next()
                    .filter(|_| !allowed)
                    .map(|(key, _)| format!("{place} may not have {key}")),
                schema => more.find_map(|(key, value)| inside(schema, key, value)),
            }
        }
        other => panic!("the check does not know the keyword {other}"),
    }
}

fn is_of_type(value: &Value, word: &str) -> bool {
    match word {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "boolean" => value.is_boolean(),
        "number" => value.is_number(),
        "integer" => value.as_f64().is_some_and(|number| number.fract() == 0.0),
        other => panic!("the check does not know the type {other}"),
    }
}

/// Returns a book's text as an editor holds it against a schema: a date is a text there.
pub(crate) fn as_json(text: &str) -> Value {
    fn json(value: toml::Value) -> Value {
        match value {
            toml::Value::Datetime(date) => date.to_string().into(),
            toml::Value::Array(items) => items.into_iter().map(json).collect(),
            toml::Value::Table(table) => {
                Value::Object(table.into_iter().map(|(key, value)| (key, json(value))).collect())
            }
            plain => serde_json::to_value(plain).unwrap(),
        }
    }
    json(toml::Value::Table(toml::from_str(text).unwrap()))
}

/// Returns the texts of a folder of examples, each with its name.
fn examples(folder: &str) -> Vec<(String, String)> {
    let files = fs::read_dir(kinds(folder)).unwrap().flatten().map(|entry| entry.path());
    files.map(|path| (path.display().to_string(), fs::read_to_string(&path).unwrap())).collect()
}

#[test]
fn every_book_that_reads_fits_the_schema() {
    let own = |name: &str, text: &str| (name.to_owned(), text.to_owned());
    let mut books = vec![own("blank", blank()), own("P", P), own("Q", Q), own("R", R)];
    books.extend(shipped().into_iter().map(|name| own(name, shipped_text(name).unwrap())));
    books.push(own("base", &fs::read_to_string(kinds("base.toml")).unwrap()));
    books.extend(examples("valid"));
    books.extend(examples("warned"));
    assert!(books.len() > 60, "{}", books.len());
    let schema = schema();
    for (name, text) in books {
        assert_eq!(breaks(&schema, &as_json(&text), ""), None, "{name}");
    }
}

#[test]
fn what_the_reader_does_not_know_the_schema_does_not_either() {
    let place = kinds("").join("x.toml");
    let found = |text: &str| read_beside(text, place.to_str().unwrap()).err().unwrap_or_default();
    // Names of other tables are not in the schema, so that an unknown tag or element may pass, and
    // so may a key that only its neighbours make needed.
    let unknown = |error: &Diagnostic| {
        let words = ["unknown key", "unknown word", "unknown table"];
        words.iter().any(|said| error.message.starts_with(said))
            || error.remedy.starts_with("add it:")
    };
    let schema = schema();
    let mut refused = 0;
    for (name, text) in examples("invalid") {
        if found(&text).iter().any(unknown) && toml::from_str::<toml::Table>(&text).is_ok() {
            refused += 1;
            assert!(breaks(&schema, &as_json(&text), "").is_some(), "{name}");
        }
    }
    assert!(refused >= 10, "only {refused} examples were of use");
}

#[test]
fn a_misspelt_key_in_any_table_fails() {
    let schema = schema();
    let whole = as_json(shipped_text("saltmarsh").unwrap());
    for table in schema["properties"].as_object().unwrap().keys() {
        let mut book = whole.clone();
        let place = &mut book[table.as_str()];
        let row = if place.is_array() { &mut place[0] } else { place };
        row["lable"] = "x".into();
        let said = breaks(&schema, &book, "").unwrap_or_default();
        assert!(
            said.contains(&format!("/{table}")) && said.ends_with("may not have lable"),
            "{said}"
        );
    }
    let mut book = whole;
    book["bonsu"] = json!([]);
    assert_eq!(breaks(&schema, &book, ""), Some(" may not have bonsu".to_owned()));
}

#[test]
fn what_the_reader_takes_in_another_form_the_schema_takes_too() {
    // One for a list of one, a number by its name or by division, a page or an edition bare.
    let text = "[book]\nid = \"t\"\ntitle = \"T\"\nedition = 2026\nlike = \"base.toml\"\n\
                valid_from = \"2026-01-01\"\n\n\
                [[division]]\nid = \"low\"\nname = \"Low\"\nnumbers = { step = 0.2 }\n\n\
                [[division]]\nid = \"high\"\nname = \"High\"\nlike = \"low\"\n\n\
                [[fault]]\nid = \"bend\"\nlabel = \"Bend\"\nchoice = 0.1\nmeans = \"small\"\nwhere = 4\n\n\
                [[fault]]\nid = \"step\"\nlabel = \"Step\"\namount = \"step\"\ngroup = \"landing\"\n\n\
                [[value_parts]]\nevents = \"bars\"\n\
                need = { class = \"a\", count = { low = 1, high = 2 }, price = 0.1 }\n\n\
                [[element]]\nid = \"half-on\"\nname = \"Half on\"\nevent = \"vault\"\n\
                vault = { value = 9.4, before = 180, after = [0, 10] }\n";
    let place = kinds("").join("t.toml");
    let read = read_beside(text, place.to_str().unwrap());
    assert!(read.is_ok(), "{read:?}");
    assert_eq!(breaks(&schema(), &as_json(text), ""), None);
    for (right, wrong) in [
        ("choice = 0.1", "choice = \"small\""),
        ("need = { class", "need = { klass"),
        ("before = 180", "before = -180"),
        ("means = \"small\"", "means = true"),
    ] {
        let text = but(text, right, wrong);
        assert!(read_beside(&text, place.to_str().unwrap()).is_err(), "{wrong}");
        assert!(breaks(&schema(), &as_json(&text), "").is_some(), "{wrong}");
    }
}

#[test]
fn the_check_itself_refuses_what_json_schema_refuses() {
    // Cases after the text of JSON Schema 2020-12, sections 10.2, 10.3, 6.1, 6.2.
    for (schema, good, bad) in [
        (json!({"type": ["string", "number"]}), json!(1.5), json!(true)),
        (json!({"type": "integer", "minimum": 0}), json!(3.0), json!(-1)),
        (json!({"type": "integer"}), json!(3), json!(3.5)),
        (json!({"enum": ["a", "b"]}), json!("a"), json!("c")),
        (json!({"anyOf": [{"type": "string"}, {"type": "array"}]}), json!([1]), json!(1)),
        (json!({"items": {"type": "string"}}), json!(["a"]), json!(["a", 1])),
        (json!({"required": ["a"]}), json!({"a": 1}), json!({"b": 1})),
        (json!({"properties": {"a": {"type": "string"}}}), json!({"b": 1}), json!({"a": 1})),
        (
            json!({"properties": {"a": {}}, "additionalProperties": false}),
            json!({"a": 1}),
            json!({"a": 1, "b": 1}),
        ),
        (json!({"additionalProperties": {"type": "number"}}), json!({"b": 1}), json!({"b": "1"})),
    ] {
        assert_eq!(breaks(&schema, &good, ""), None, "{schema}");
        assert!(breaks(&schema, &bad, "").is_some(), "{schema}");
    }
}
