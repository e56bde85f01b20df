//! The program's own files about findings, which the library does not show; `crate::cli` to them.

#[path = "../../src/cli/report/github.rs"]
pub mod github;
#[path = "../../src/cli/report/json.rs"]
pub mod json;
#[path = "../../src/cli/out.rs"]
pub mod out;
#[path = "../../src/cli/report/snippet.rs"]
pub mod snippet;
