//! The program's own files about findings, which the library does not show.

#[path = "../../src/cli/github.rs"]
pub mod github;
#[path = "../../src/cli/json.rs"]
pub mod json;
#[path = "../../src/cli/out.rs"]
pub mod out;
#[path = "../../src/cli/snippet.rs"]
pub mod snippet;
