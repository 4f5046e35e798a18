//! Every kind of rule as a small book that is right, and one that is wrong; and books that are
//! legal and hardly meant. What is said of the latter two stands in `kinds/said`.

use std::{collections::BTreeSet, fs};

use stillcall::rulebook::{ReadBook, read_beside, render};

use crate::books::ask::kinds;

/// Returns the examples of a folder by name, each with its text.
fn examples(name: &str) -> Vec<(String, String)> {
    let files = fs::read_dir(kinds(name)).unwrap().flatten().map(|entry| entry.path());
    let mut examples: Vec<(String, String)> = files
        .map(|path| {
            let stem = path.file_stem().unwrap().to_str().unwrap().to_owned();
            (stem, fs::read_to_string(path).unwrap())
        })
        .collect();
    examples.sort();
    examples
}

/// Reads an example, which is like `base.toml` beside the folders.
fn read_example(text: &str, name: &str) -> ReadBook {
    let path = kinds("").join(format!("{name}.toml"));
    read_beside(text, path.to_str().unwrap())
}

/// Holds what is said of an example against what is kept of it.
fn says(name: &str, said: &str) {
    insta::with_settings!({
        snapshot_path => "kinds/said", prepend_module_to_snapshot => false, omit_expression => true,
    }, {
        insta::assert_snapshot!(name, said);
    });
}

#[test]
fn an_example_of_every_kind_reads_without_a_word() {
    for (name, text) in examples("valid") {
        match read_example(&text, &name) {
            Ok((_, warnings)) => {
                assert!(warnings.is_empty(), "{}", render(&warnings, &text, &name));
            }
            Err(errors) => panic!("{}", render(&errors, &text, &name)),
        }
    }
}

#[test]
fn what_is_wrong_about_every_kind_is_said_in_its_place() {
    for (name, text) in examples("invalid") {
        let errors = read_example(&text, &name).expect_err(&name);
        assert!(errors.iter().all(|error| !error.remedy.is_empty()), "{name}: no remedy");
        says(&name, &render(&errors, &text, &format!("{name}.toml")));
    }
}

#[test]
fn what_is_legal_and_hardly_meant_is_said_in_its_place() {
    for (name, text) in examples("warned") {
        let (_, warnings) = read_example(&text, &name).expect(&name);
        assert!(!warnings.is_empty(), "{name}: nothing is said");
        assert!(warnings.iter().all(|warning| !warning.remedy.is_empty()), "{name}: no remedy");
        says(&name, &render(&warnings, &text, &format!("{name}.toml")));
    }
}

#[test]
fn the_guide_leads_to_both_examples_of_every_kind() {
    let guide = include_str!("../../docs/rulebook-guide.md");
    let names = |folder| examples(folder).into_iter().map(|(name, _)| name);
    let valid: BTreeSet<String> = names("valid").collect();
    assert_eq!(valid, names("invalid").collect());
    for name in valid {
        assert!(guide.contains(&format!("`{name}`")), "the guide does not name {name}");
    }
}
