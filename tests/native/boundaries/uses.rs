//! Which file of `src/` uses which: by its `use` lines and by the paths in its code, through what
//! other files hand on. Read from the source, because a package cannot ask its compiler.

use std::collections::{BTreeMap, BTreeSet};

type Path = Vec<String>;

/// The files that each file uses.
pub type Graph = BTreeMap<String, BTreeSet<String>>;

/// A file: the path of its module, what it uses, and the code around that.
struct File {
    module: Path,
    uses: Vec<Use>,
    code: String,
}

/// One name that a `use` brings.
struct Use {
    /// The name that it has here.
    name: String,
    /// Its path from the crate on.
    path: Path,
    /// Whether the file hands it on and need not use it itself.
    is_public: bool,
}

/// The graph of files that are given by their paths in `src/` and their code.
pub fn graph(files: &[(String, String)]) -> Graph {
    let modules: BTreeMap<Path, &str> = files
        .iter()
        .map(|(path, _)| (module(path), path.as_str()))
        .collect();
    let files: BTreeMap<&str, File> = files
        .iter()
        .map(|(path, code)| (path.as_str(), read(path, code, &modules)))
        .collect();
    let mut graph = Graph::new();
    for (&path, file) in &files {
        let mut used = BTreeSet::new();
        let mut add = |name: &Path| {
            if let Some(found) = resolve(name, &files, &modules, 0) {
                used.insert(found.to_owned());
            }
        };
        for one in file.uses.iter().filter(|one| !one.is_public) {
            add(&one.path);
            if modules.contains_key(&one.path) {
                for inner in paths(&file.code, &format!("{}::", one.name)) {
                    let inner = inner.into_iter().skip(1);
                    add(&one.path.iter().cloned().chain(inner).collect());
                }
            }
        }
        for start in ["crate::", "super::", "self::"] {
            for inner in paths(&file.code, start) {
                add(&absolute(&inner, &file.module, &modules).unwrap_or_default());
            }
        }
        used.remove(path);
        graph.insert(path.to_owned(), used);
    }
    graph
}

/// Groups of files that use each other in a circle, sorted.
pub fn circles(graph: &Graph) -> Vec<Vec<String>> {
    let reach = |from: &str| {
        let mut seen: BTreeSet<&str> = BTreeSet::new();
        let mut waiting = vec![from];
        while let Some(at) = waiting.pop() {
            for next in graph.get(at).into_iter().flatten() {
                if seen.insert(next) {
                    waiting.push(next);
                }
            }
        }
        seen
    };
    let reached: BTreeMap<&str, _> = graph.keys().map(|at| (at.as_str(), reach(at))).collect();
    let mut circles = BTreeSet::new();
    for (at, all) in &reached {
        let mut circle: Vec<String> = all
            .iter()
            .filter(|other| reached[*other].contains(at))
            .map(|other| (*other).to_owned())
            .collect();
        circle.sort();
        if !circle.is_empty() {
            circles.insert(circle);
        }
    }
    circles.into_iter().collect()
}

/// `lesson/rules/mod.rs` is `lesson::rules`, and `lesson/tree.rs` is `lesson::tree`.
fn module(path: &str) -> Path {
    let mut parts: Path = path
        .trim_end_matches(".rs")
        .split('/')
        .map(str::to_owned)
        .collect();
    parts.pop_if(|last| matches!(last.as_str(), "mod" | "lib"));
    parts
}

fn read(path: &str, code: &str, modules: &BTreeMap<Path, &str>) -> File {
    let module = module(path);
    let (mut uses, mut rest) = (Vec::new(), String::new());
    let mut lines = code.lines();
    while let Some(line) = lines.next() {
        let start = line.trim_start();
        let found = start.split_once("use ").filter(|(before, _)| {
            before.is_empty() || before.starts_with("pub") && before.ends_with(' ')
        });
        let Some((before, first)) = found else {
            rest += line;
            rest.push('\n');
            continue;
        };
        let mut tree = first.to_owned();
        while !tree.contains(';') {
            tree += lines.next().expect("the end of a `use`").trim();
        }
        for one in expand(tree.trim_end_matches(';')) {
            let (written, name) = match one.split_once(" as ") {
                Some((path, name)) => (path, Some(name.to_owned())),
                None => (one.as_str(), None),
            };
            let parts: Path = written.split("::").map(str::to_owned).collect();
            if let Some(path) = absolute(&parts, &module, modules) {
                uses.push(Use {
                    name: name.or_else(|| parts.last().cloned()).unwrap_or_default(),
                    path,
                    is_public: !before.is_empty(),
                });
            }
        }
    }
    File {
        module,
        uses,
        code: rest,
    }
}

/// `a::{b, c::{d, e}}` is `a::b`, `a::c::d` and `a::c::e`.
fn expand(tree: &str) -> Vec<String> {
    let Some((before, inner)) = tree.split_once('{') else {
        return vec![tree.trim().to_owned()];
    };
    let inner = inner.rsplit_once('}').expect("a closed list").0;
    let (mut list, mut part, mut depth) = (Vec::new(), String::new(), 0);
    for sign in inner.chars().chain([',']) {
        depth += i32::from(sign == '{') - i32::from(sign == '}');
        if sign == ',' && depth == 0 {
            if !part.trim().is_empty() {
                let inner = expand(part.trim());
                list.extend(inner.iter().map(|one| format!("{}{one}", before.trim())));
            }
            part.clear();
        } else {
            part.push(sign);
        }
    }
    list
}

/// A path from the crate on; none for one of another crate.
fn absolute(path: &Path, module: &Path, modules: &BTreeMap<Path, &str>) -> Option<Path> {
    let (first, mut rest) = path.split_first()?;
    let mut base = module.clone();
    match first.as_str() {
        "crate" => base.clear(),
        "self" => {}
        "super" => {
            base.pop();
            while let Some(("super", more)) = rest.split_first().map(|it| (it.0.as_str(), it.1)) {
                base.pop();
                rest = more;
            }
        }
        child => {
            base.push(child.to_owned());
            return modules
                .contains_key(&base)
                .then(|| [base, rest.to_vec()].concat());
        }
    }
    Some([base, rest.to_vec()].concat())
}

/// The file in which a path ends, through what files hand on; none if it names a module alone.
fn resolve<'a>(
    path: &Path,
    files: &BTreeMap<&'a str, File>,
    modules: &BTreeMap<Path, &'a str>,
    depth: usize,
) -> Option<&'a str> {
    let length = (0..=path.len())
        .rev()
        .find(|&length| modules.contains_key(&path[..length]))?;
    let file = modules[&path[..length]];
    let name = path.get(length)?;
    let mut uses = files[file].uses.iter();
    match uses.find(|one| one.name == *name && one.path != *path) {
        // No path is handed on through as many files.
        Some(one) if depth < 9 => {
            let further = [one.path.clone(), path[length + 1..].to_vec()].concat();
            resolve(&further, files, modules, depth + 1)
        }
        _ => Some(file),
    }
}

/// The paths in code that begin so.
fn paths(code: &str, start: &str) -> Vec<Path> {
    let is_name = |sign: char| sign.is_alphanumeric() || sign == '_';
    let mut list = Vec::new();
    for (at, _) in code.match_indices(start) {
        let before = code[..at].chars().next_back();
        if before.is_some_and(|sign| is_name(sign) || sign == ':') {
            continue;
        }
        let word = &code[at..];
        let end = word.find(|sign: char| !is_name(sign) && sign != ':');
        let word = word[..end.unwrap_or(word.len())].trim_end_matches(':');
        list.push(word.split("::").map(str::to_owned).collect());
    }
    list
}

/// The graph of a few files, each with its path and its code.
fn graph_of(files: &[(&str, &str)]) -> Graph {
    let own = |(path, code): &(&str, &str)| ((*path).to_owned(), (*code).to_owned());
    graph(&files.iter().map(own).collect::<Vec<_>>())
}

#[test]
fn a_use_leads_through_what_is_handed_on_to_the_file_that_has_it() {
    let graph = graph_of(&[
        ("lib.rs", ""),
        ("a/mod.rs", "mod b;\npub use self::b::{B, C as D};\n"),
        ("a/b.rs", "pub struct B;\n"),
        ("c.rs", "use crate::a::{\n    B,\n    D,\n};\n"),
        ("d.rs", "fn f() { crate::a::b::g(); }\n"),
        ("e.rs", "use crate::a;\nfn f() { a::D::new(); }\n"),
        ("f.rs", "use std::fmt;\nuse crate::a;\n"),
    ]);
    let b = BTreeSet::from(["a/b.rs".to_owned()]);
    for file in ["c.rs", "d.rs", "e.rs"] {
        assert_eq!(graph[file], b, "{file}");
    }
    assert!(graph["a/mod.rs"].is_empty() && graph["f.rs"].is_empty());
}

#[test]
fn a_circle_is_found_however_long_it_is() {
    let graph = graph_of(&[
        ("a/mod.rs", "use self::b::B;\nstruct A;\n"),
        ("a/b.rs", "use super::c;\nfn f() { c::f() }\n"),
        ("a/c.rs", "fn f(_: super::A) {}\n"),
        ("a/d.rs", "use super::A;\n"),
    ]);
    assert_eq!(circles(&graph), [["a/b.rs", "a/c.rs", "a/mod.rs"]]);
}
