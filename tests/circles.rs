//! No file of a crate imports one that imports it, at once or through others.
#![cfg(test)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Circles that stand, by one of their files each, and why; three at most.
const STANDING: [(&str, &str); 0] = [];

#[test]
fn no_two_files_import_each_other() {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder()).unwrap() {
        let source = entry.unwrap().path().join("src");
        if source.is_dir() {
            found.extend(circles(&Files::of(&source)));
        }
    }
    let stands = |circle: &BTreeSet<String>, file: &str| circle.iter().any(|one| one == file);
    let new: Vec<&BTreeSet<String>> = found
        .iter()
        .filter(|circle| !STANDING.iter().any(|(file, _)| stands(circle, file)))
        .collect();
    assert!(new.is_empty(), "these import each other: {new:#?}");
    for (file, _) in STANDING {
        let still = found.iter().any(|circle| stands(circle, file));
        assert!(still, "{file} is in no circle any more");
    }
}

#[test]
fn what_goes_round_is_found() {
    let file = |text: &str| text.to_owned();
    let files = Files {
        texts: BTreeMap::from([
            (vec![], file("mod b;\npub use b::inner::Two;\n")),
            (vec!["a".into()], file("use crate::{\n    Two,\n};\n")),
            (vec!["b".into()], file("mod inner;")),
            (path("b::inner"), file("pub(crate) use super::super::c::C;")),
            (vec!["c".into()], file("fn f() { crate::a::g() }")),
        ]),
        root: "x".into(),
    };
    let round: BTreeSet<String> = ["x::a", "x::b::inner", "x::c"].map(String::from).into();
    assert_eq!(circles(&files), [round]);
}

/// The files of a crate by their modules.
struct Files {
    texts: BTreeMap<Vec<String>, String>,
    /// The crate's name.
    root: String,
}

impl Files {
    fn of(source: &Path) -> Files {
        let mut texts = BTreeMap::new();
        let mut folders = vec![source.to_owned()];
        while let Some(next) = folders.pop() {
            for entry in fs::read_dir(next).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else if path.extension().is_some_and(|end| end == "rs") {
                    let text = fs::read_to_string(&path).unwrap();
                    texts.insert(module(source, &path), without_tests(&text));
                }
            }
        }
        let name = source.parent().and_then(Path::file_name).unwrap();
        Files {
            texts,
            root: name.to_str().unwrap().to_owned(),
        }
    }

    fn name(&self, module: &[String]) -> String {
        [std::slice::from_ref(&self.root), module]
            .concat()
            .join("::")
    }

    /// The file that a path as it stands in a module leads to: through what
    /// modules on its way only hand on.
    fn file(&self, module: &[String], named: &[String]) -> Option<Vec<String>> {
        let mut at = module.to_vec();
        let mut rest = named;
        match rest.first().map(String::as_str)? {
            "crate" => {
                at.clear();
                rest = &rest[1..];
            }
            "self" => rest = &rest[1..],
            "super" => {}
            child => {
                let child = [module, &[child.to_owned()]].concat();
                self.texts.get(&child)?;
            }
        }
        while rest.first().is_some_and(|one| one == "super") {
            at.pop()?;
            rest = &rest[1..];
        }
        while let Some((next, after)) = rest.split_first() {
            let inner = [&at[..], std::slice::from_ref(next)].concat();
            if !self.texts.contains_key(&inner) {
                let handed = uses(&self.texts[&at]).into_iter();
                let mut handed = handed.filter(|one| one.public && one.path.last() == Some(next));
                return match handed.next() {
                    Some(from) => self.file(&at, &from.path),
                    None => Some(at),
                };
            }
            at = inner;
            rest = after;
        }
        Some(at)
    }

    /// The files that each imports. What a module hands on from those within
    /// it, it doesn't import.
    fn imports(&self) -> BTreeMap<&[String], BTreeSet<Vec<String>>> {
        let of = |module: &[String], text: &str| {
            let hands_on = |one: &Use| {
                let within = |file: &Vec<String>| file.starts_with(module);
                one.public && self.file(module, &one.path).as_ref().is_some_and(within)
            };
            let used = uses(text).into_iter().filter(|one| !hands_on(one));
            let named = used.map(|one| one.path).chain(named(text));
            let files = named.filter_map(|path| self.file(module, &path));
            files.filter(|file| file != module).collect()
        };
        let texts = self.texts.iter();
        texts
            .map(|(module, text)| (&module[..], of(module, text)))
            .collect()
    }
}

/// Files that lead to each other, each such set once.
fn circles(files: &Files) -> Vec<BTreeSet<String>> {
    let imports = files.imports();
    let reached = |from: &[String]| {
        let mut seen: BTreeSet<Vec<String>> = BTreeSet::new();
        let mut next: Vec<Vec<String>> = imports[from].iter().cloned().collect();
        while let Some(file) = next.pop() {
            if seen.insert(file.clone()) {
                next.extend(imports[&file[..]].iter().cloned());
            }
        }
        seen
    };
    let all: BTreeMap<&[String], BTreeSet<Vec<String>>> =
        imports.keys().map(|file| (*file, reached(file))).collect();
    let mut circles: BTreeSet<BTreeSet<String>> = BTreeSet::new();
    for (file, reached) in all
        .iter()
        .filter(|(file, reached)| reached.contains(**file))
    {
        let back = reached
            .iter()
            .filter(|other| all[&other[..]].contains(*file));
        circles.insert(back.map(|file| files.name(file)).collect());
    }
    circles.into_iter().collect()
}

/// A path that is imported, or handed on.
struct Use {
    path: Vec<String>,
    public: bool,
}

/// What a file's `use` lines name, one path each.
fn uses(text: &str) -> Vec<Use> {
    let mut uses = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find("use ") {
        let before = rest[..at].rsplit('\n').next().unwrap_or("").trim();
        let after = &rest[at + 4..];
        let opens = before.is_empty() || before.starts_with("pub") && !before.contains("//");
        rest = after;
        if let (true, Some(end)) = (opens, after.find(';')) {
            let mut paths = Vec::new();
            spread("", &without_aliases(&after[..end]), &mut paths);
            let public = !before.is_empty();
            uses.extend(paths.into_iter().map(|path| Use { path, public }));
            rest = &after[end..];
        }
    }
    uses
}

/// A tree of paths without spaces, `a as b` being `a`.
fn without_aliases(tree: &str) -> String {
    let mut words = tree.split_whitespace();
    let mut kept = String::new();
    while let Some(word) = words.next() {
        if word == "as" {
            let alias = words.next().unwrap_or("");
            kept.push_str(
                alias.trim_start_matches(|sign: char| sign.is_alphanumeric() || sign == '_'),
            );
        } else {
            kept.push_str(word);
        }
    }
    kept
}

/// `a::{b, c::d}` is `a::b` and `a::c::d`.
fn spread(before: &str, tree: &str, paths: &mut Vec<Vec<String>>) {
    let Some((head, inner)) = tree.split_once('{') else {
        let whole = path(&format!("{before}{tree}"));
        let ends = |one: &String| one == "self" || one == "*";
        let first = whole.len() > 1 && whole.last().is_some_and(ends);
        paths.push(whole[..whole.len() - usize::from(first)].to_vec());
        return;
    };
    let inner = inner.strip_suffix('}').unwrap_or(inner);
    let (mut depth, mut from) = (0, 0);
    let ends = inner.char_indices().chain([(inner.len(), ',')]);
    for (at, sign) in ends {
        match sign {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                if at > from {
                    spread(&format!("{before}{head}"), &inner[from..at], paths);
                }
                from = at + 1;
            }
            _ => {}
        }
    }
}

/// Paths from the crate's root that stand in a file's code.
fn named(text: &str) -> Vec<Vec<String>> {
    let lines = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    let parts = lines.flat_map(|line| line.split("crate::").skip(1));
    let until = |sign: char| !(sign.is_alphanumeric() || sign == '_' || sign == ':');
    let paths = parts.map(|part| part.split(until).next().unwrap_or(""));
    let whole = paths.filter(|part| !part.is_empty());
    whole
        .map(|part| path(&format!("crate::{}", part.trim_end_matches(':'))))
        .collect()
}

fn path(text: &str) -> Vec<String> {
    text.split("::").map(str::to_owned).collect()
}

/// The module that a file is.
fn module(source: &Path, file: &Path) -> Vec<String> {
    let within: PathBuf = file.strip_prefix(source).unwrap().with_extension("");
    let parts = within.iter().map(|part| part.to_str().unwrap().to_owned());
    let parts: Vec<String> = parts.collect();
    match parts.last().map(String::as_str) {
        Some("lib" | "main") if parts.len() == 1 => Vec::new(),
        Some("mod") => parts[..parts.len() - 1].to_vec(),
        _ => parts,
    }
}

/// A file without the tests at its end.
fn without_tests(text: &str) -> String {
    let end = text.find("#[cfg(test)]\nmod tests").unwrap_or(text.len());
    text[..end].to_owned()
}

fn folder() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}
