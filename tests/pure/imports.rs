//! Which file of the crate imports which, read off its source by a parser of Rust.
//!
//! A name that a `mod.rs` only passes on counts as an import of the file that has it. Tests inside
//! files are left out: they may look at anything.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
};

use petgraph::{algo::tarjan_scc, graphmap::DiGraphMap};
use syn::visit::{self, Visit};

/// Names from the crate's root, such as `sheet`, `model`, `Line`.
type Names = Vec<String>;

/// The files of the crate by module.
pub(crate) struct Files(BTreeMap<Names, Source>);

/// One file.
struct Source {
    /// Its path below `src`.
    path: String,
    /// Every path into the crate that it names.
    named: BTreeSet<Names>,
    /// What it passes on under a name of its own.
    passed_on: BTreeMap<String, Names>,
}

impl Files {
    /// Reads the library's files; the commands are a crate of their own.
    pub(crate) fn read() -> Self {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut modules = BTreeMap::new();
        find(&root, &root, &mut modules);
        let known: BTreeSet<Names> = modules.keys().cloned().collect();
        let sources = modules.into_iter().map(|(module, path)| {
            let text = fs::read_to_string(root.join(&path)).unwrap();
            let syntax = syn::parse_file(&text).unwrap_or_else(|error| panic!("{path}: {error}"));
            let mut reader = Reader {
                known: &known,
                file: module.clone(),
                at: module.clone(),
                named: BTreeSet::new(),
                passed_on: BTreeMap::new(),
            };
            reader.visit_file(&syntax);
            let Reader { named, passed_on, .. } = reader;
            (module, Source { path, named, passed_on })
        });
        Self(sources.collect())
    }

    /// Returns the paths of every file and of each file that it imports.
    pub(crate) fn imports(&self) -> Vec<(&str, &str)> {
        let mut found = Vec::new();
        for (module, source) in &self.0 {
            let owners: BTreeSet<&Names> =
                source.named.iter().filter_map(|name| self.owner(name, 0)).collect();
            let others = owners.into_iter().filter(|owner| *owner != module);
            found.extend(others.map(|owner| (&*source.path, &*self.0[owner].path)));
        }
        found
    }

    /// Returns the files that lean on each other in a circle, circle by circle.
    pub(crate) fn circles(&self) -> Vec<Vec<&str>> {
        let graph: DiGraphMap<&str, ()> = self.imports().into_iter().collect();
        tarjan_scc(&graph).into_iter().filter(|circle| circle.len() > 1).collect()
    }

    /// Returns the module whose file has what is named.
    fn owner(&self, name: &[String], depth: usize) -> Option<&Names> {
        assert!(depth < 16, "{name:?} is passed on in a circle");
        let length = (0..=name.len()).rev().find(|length| self.0.contains_key(&name[..*length]))?;
        let (module, rest) = name.split_at(length);
        let (own, source) = self.0.get_key_value(module)?;
        let passed_on = rest.first().and_then(|first| source.passed_on.get(first));
        match passed_on {
            Some(to) if to != name => self.owner(&[to, &rest[1..]].concat(), depth + 1),
            _ => Some(own),
        }
    }
}

fn find(root: &Path, folder: &Path, modules: &mut BTreeMap<Names, String>) {
    let mut entries: Vec<PathBuf> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        let below = path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
        if path.is_dir() {
            if below != "command" {
                find(root, &path, modules);
            }
            continue;
        }
        let Some(stem) = below.strip_suffix(".rs") else { continue };
        // Files of tests may look at anything.
        if stem == "main" || stem == "tests" || stem.ends_with("/tests") {
            continue;
        }
        let stem = stem.strip_suffix("/mod").unwrap_or(stem);
        let names = if stem == "lib" { "" } else { stem };
        let names = names.split('/').filter(|name| !name.is_empty()).map(str::to_owned);
        modules.insert(names.collect(), below);
    }
}

/// Gathers what one file names of its own crate.
struct Reader<'k> {
    known: &'k BTreeSet<Names>,
    file: Names,
    /// The module that is being read: that of the file, or one inside it.
    at: Names,
    named: BTreeSet<Names>,
    passed_on: BTreeMap<String, Names>,
}

impl Reader<'_> {
    /// Returns a path from the crate's root; nothing where it leads out of the crate.
    fn absolute(&self, path: &[String]) -> Option<Names> {
        let mut here = self.at.clone();
        let mut rest = path;
        match path.first()?.as_str() {
            "crate" => (here, rest) = (Names::new(), &rest[1..]),
            "self" => rest = &rest[1..],
            "super" => {
                while rest.first().is_some_and(|name| name == "super") {
                    here.pop();
                    rest = &rest[1..];
                }
            }
            child => {
                here.push(child.to_owned());
                if !self.known.contains(&here) {
                    return None;
                }
                rest = &rest[1..];
            }
        }
        here.extend(rest.iter().cloned());
        Some(here)
    }

    fn use_tree(&mut self, tree: &syn::UseTree, before: &mut Names, is_private: bool) {
        match tree {
            syn::UseTree::Path(path) => {
                before.push(path.ident.to_string());
                self.use_tree(&path.tree, before, is_private);
                before.pop();
            }
            syn::UseTree::Name(name) => {
                let ident = name.ident.to_string();
                self.import(before, &ident, &ident, is_private);
            }
            syn::UseTree::Rename(rename) => {
                let (ident, own) = (rename.ident.to_string(), rename.rename.to_string());
                self.import(before, &ident, &own, is_private);
            }
            syn::UseTree::Glob(_) => self.named.extend(self.absolute(before)),
            syn::UseTree::Group(group) => {
                for tree in &group.items {
                    self.use_tree(tree, before, is_private);
                }
            }
        }
    }

    fn import(&mut self, before: &[String], ident: &str, own: &str, is_private: bool) {
        let mut path = before.to_vec();
        if ident != "self" {
            path.push(ident.to_owned());
        }
        let Some(absolute) = self.absolute(&path) else { return };
        let own = if own == "self" { absolute.last().cloned() } else { Some(own.to_owned()) };
        if !is_private && self.at == self.file {
            self.passed_on.extend(own.map(|own| (own, absolute)));
        } else {
            self.named.insert(absolute);
        }
    }
}

impl<'a> Visit<'a> for Reader<'_> {
    fn visit_item_use(&mut self, item: &'a syn::ItemUse) {
        let is_private = matches!(item.vis, syn::Visibility::Inherited);
        self.use_tree(&item.tree, &mut Names::new(), is_private);
    }

    fn visit_item_mod(&mut self, item: &'a syn::ItemMod) {
        let is_test = |attribute: &syn::Attribute| match &attribute.meta {
            syn::Meta::List(list) => list.path.is_ident("cfg") && list.tokens.to_string() == "test",
            _ => false,
        };
        if item.content.is_some() && !item.attrs.iter().any(is_test) {
            self.at.push(item.ident.to_string());
            visit::visit_item_mod(self, item);
            self.at.pop();
        }
    }

    /// A visibility names a module without importing it.
    fn visit_vis_restricted(&mut self, _: &'a syn::VisRestricted) {}

    fn visit_path(&mut self, path: &'a syn::Path) {
        let names: Names = path.segments.iter().map(|it| it.ident.to_string()).collect();
        // A single name is no path into another file.
        if names.len() > 1 {
            self.named.extend(self.absolute(&names));
        }
        visit::visit_path(self, path);
    }

    /// What stands in a macro is not parsed: paths in it are found by their beginning.
    fn visit_macro(&mut self, item: &'a syn::Macro) {
        let text = item.tokens.to_string().replace(' ', "");
        for begin in ["crate::", "super::"] {
            for (at, _) in text.match_indices(begin) {
                let rest = &text[at..];
                let is_path = |c: char| c.is_alphanumeric() || c == '_' || c == ':';
                let path = rest.split(|c| !is_path(c)).next().unwrap_or_default();
                let names: Names = path.split("::").map(str::to_owned).collect();
                self.named.extend(self.absolute(&names));
            }
        }
        visit::visit_macro(self, item);
    }
}
